package study_test

import (
	"math/rand"
	"strings"
	"testing"

	"farend/fuse"
	"farend/network"
	"farend/study"
	"farend/unit"
)

// flexes are the pairs of the catalogue from the thinnest to the thickest.
var flexes = []string{"cable/flex-2x0.75", "cable/flex-2x1", "cable/flex-2x1.5", "cable/flex-2x2.5", "cable/flex-2x4", "cable/flex-2x6", "cable/flex-2x10"}

// On a stiff radial feed a thicker cable brings more current through every fuse on the way, and no fuse takes longer with more: nothing ends
// later. Random leads at random lengths, bolted and pinched, at both ends of the run.
func TestAThickerCableNeverLengthensClearingOfAStiffRadialFeed(t *testing.T) {
	if testing.Short() {
		t.Skip("it proves numbers, without the race detector")
	}
	r := rand.New(rand.NewSource(5))
	shorter, ended := 0, 0
	for range 25 {
		metres := 1 + 20*r.Float64()
		f := network.Fault{Kind: network.PolesMeet, At: []string{"E1@start", "E1@end", "W2@to"}[r.Intn(3)]}
		if r.Intn(2) == 0 {
			f.Ohms = study.Pinched
		}
		before := map[string]study.Strike{}
		for _, cable := range flexes {
			_, all := strikes(t, lead(cable, metres, stiff), f)
			for name, k := range all {
				if !k.Found || len(k.Held) > 0 {
					t.Fatalf("%s, %.1f m of %s, %s: %+v", f.At, metres, cable, name, k)
				}
				was, any := before[name]
				if any && (k.Slow > was.Slow || k.Fast > was.Fast*(1+1e-9) || k.Amps < was.Amps) {
					t.Errorf("%s over %v, %.1f m of %s, %s: %v, ends within %v and not before %v; with the thinner one %v, %v and %v",
						f.At, f.Ohms, metres, cable, name, k.Amps, k.Slow, k.Fast, was.Amps, was.Slow, was.Fast)
				}
				if any && k.Slow < was.Slow {
					shorter++
				}
				if k.Slow < fuse.Never {
					ended++
				}
				before[name] = k
			}
		}
	}
	if shorter < 20 || ended < 100 {
		t.Errorf("only %d became shorter, %d ended at all", shorter, ended)
	}
}

const stiff = "limit: constant-current, limit_at: {low: 5 kA, high: 6 kA}"

// Where several feed a place, a supply at its limit shares it among them, and a thicker cable takes current away from the fuse of the other. By
// hand, with 44 A and the short at the end that both feed: W2 is 3 m of 1.5 mm² (2 × 3 × 13.3 mΩ) behind a blade of 20 A (3.4 mΩ), 83 mΩ; W3 3 m of
// 2.5 mm² (2 × 3 × 7.98 mΩ) behind one of 10 A (7.7 mΩ), 56 mΩ. W3 carries 26 A, 2.6 times its blade, which has opened within 5 s; W2 then carries 44 A, 2.2
// times the other, 5 s more. With 10 mm² (1.91 mΩ/m) W2 is 15 mΩ and carries 35 A, 1.7 times its blade: up to 50 s, for the 9 A of W3 open
// nothing; then W3 carries 44 A, and its blade opens within 0.5 s.
func TestAThickerCableMayLengthenClearingWhereSeveralFeedAPlace(t *testing.T) {
	meshed := func(cable string) unit.Second {
		text := lead(cable, 3, "limit: constant-current, limit_at: {low: 44 A, high: 46 A}")
		text = strings.Replace(text, "fuses: {A1.1: fuse/blade-10A}", "  W3: {part: cable/flex-2x2.5, length: 3 m, from: A1.2, to: E1@start}\nfuses: {A1.1: fuse/blade-20A, A1.2: fuse/blade-10A}", 1)
		_, all := strikes(t, text, network.Fault{Kind: network.PolesMeet, At: "E1@start"})
		k := all["dark opens"]
		return k.Slow
	}
	thin, thick := meshed("cable/flex-2x1.5"), meshed("cable/flex-2x10")
	if thin != 10 || thick != 50.5 {
		t.Errorf("with the thin cable it ends within %v, with the thick one within %v, want 10 s and 50.5 s", thin, thick)
	}
}
