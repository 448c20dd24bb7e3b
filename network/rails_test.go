package network_test

import (
	"math"
	"testing"

	"farend/network"
)

// What flows in rails keeps Kirchhoff's first law: from one piece to the next the positive gains what feeds bring, and the return what
// they take home; nothing goes past a cut or an end; and the largest is the one that is told of the run.
func TestRailsKeepTheirBalance(t *testing.T) {
	n := layOut(t, readFile(t, "../examples/footbridge.scheme.yaml"))
	for _, c := range n.States() {
		s := solved(t, n, c)
		r := n.Read(s)
		for _, run := range []string{"E1", "E2"} {
			brought := map[int]network.Cable{}
			for id, cable := range n.Scheme.Cables {
				if cable.To.Element == run {
					brought[cable.To.Station.Mark] = r.Cables[id]
				}
			}
			cut := map[int]bool{}
			for _, c := range n.Scheme.Runs[run].Cuts {
				cut[c.At.Mark] = true
			}
			peak, plus, back := 0.0, 0.0, 0.0
			rails := n.Rails(s, run)
			if len(rails) != 10 {
				t.Fatalf("%d pieces", len(rails))
			}
			for _, piece := range rails {
				feed := brought[piece.From]
				if cut[piece.From] && (math.Abs(plus) > 1e-6 || math.Abs(piece.Plus[0]) > 1e-6) {
					t.Errorf("%s, %s: %v A reach the cut at %d, and %v A leave it", c.Name, run, plus, piece.From, piece.Plus[0])
				}
				if got := piece.Plus[0] - plus; math.Abs(got-float64(feed.Plus.Mean)) > 1e-6 {
					t.Errorf("%s, %s at %d: the positive gains %v A, the feed brings %v", c.Name, run, piece.From, got, feed.Plus.Mean)
				}
				if got := piece.Return[0] - back; math.Abs(got-float64(feed.Return.Mean)) > 2e-6 && piece.From > 0 {
					t.Errorf("%s, %s at %d: the return gains %v A, the feed takes %v", c.Name, run, piece.From, got, feed.Return.Mean)
				}
				for k := range piece.Plus {
					peak = max(peak, math.Abs(piece.PlusPeak[k]), math.Abs(piece.ReturnPeak[k]))
				}
				last := len(piece.Plus) - 1
				plus, back = piece.Plus[last], piece.Return[last]
			}
			if math.Abs(plus) > 1e-6 || math.Abs(back) > 1e-6 {
				t.Errorf("%s, %s: %v A and %v A flow past its end", c.Name, run, plus, back)
			}
			if told := float64(r.Runs[run].RailAmps); math.Abs(peak-told) > 1e-9 {
				t.Errorf("%s, %s: the largest is %v A, told is %v A", c.Name, run, peak, told)
			}
		}
	}
	if n.Rails(solved(t, n, n.States()[0]), "E9") != nil {
		t.Error("rails of no run")
	}
}
