package network_test

import (
	"slices"
	"strings"
	"testing"

	"farend/circuit"
	"farend/network"
)

func solvedDark(t *testing.T, n *network.Network, c network.Case) *network.Solution {
	t.Helper()
	s := n.Solve(t.Context(), circuit.NewWorker(), c)
	if !s.Found() {
		t.Fatalf("%+v: no operating point", c)
	}
	return s
}

// By hand, on the ring of ways_test.go: the main fuse hangs on T1 alone, each way on the main fuse, W7 on T2. Where the main fuse is no break it need
// not be closed. Through the run that two ways share, each could be reached by the other too; the shorter way counts.
func TestUpstream(t *testing.T) {
	n := laid(t, ring)
	all := []string{"W1.fuse", "A1.1.fuse", "A1.2.fuse", "A1.3.fuse", "A1.4.fuse", "A1.5.fuse", "W7.fuse"}
	for _, x := range []struct {
		out, closed string
		breaks      []string
		ok          bool
	}{
		{"W1.fuse", "", all, true},
		{"A1.1.fuse", "W1.fuse", all, true},
		{"A1.5.fuse", "W1.fuse", all, true},
		{"W7.fuse", "", all, true},
		{"A1.1.fuse", "", nil, true},
		{"W2.plus", "W1.fuse A1.1.fuse", all, true},
		{"T1", "", all, false}, // a supply opens no wire
		{"nothing", "", all, false},
	} {
		closed, ok := n.Upstream(x.out, x.breaks)
		if got := strings.Join(closed, " "); got != x.closed || ok != x.ok {
			t.Errorf("%s: %q, %v; should be %q, %v", x.out, got, ok, x.closed, x.ok)
		}
	}
}

// With the breaks upstream closed and all others open, a fuse has volts before it; with any of those open too it has none.
func TestUpstreamIsWhatFeeds(t *testing.T) {
	n := laid(t, ring)
	all := []string{"W1.fuse", "A1.1.fuse", "A1.2.fuse", "A1.3.fuse", "A1.4.fuse", "A1.5.fuse", "W7.fuse"}
	dark, _ := n.CaseNamed(string(network.Dark))
	for _, out := range all {
		closed, _ := n.Upstream(out, all)
		open := slices.DeleteFunc(slices.Clone(all), func(name string) bool { return name == out || slices.Contains(closed, name) })
		if s := solvedDark(t, n, dark.Past(open...)); n.Carrying(s, out) < 1e-3 && out != "W1.fuse" {
			t.Errorf("%s carries nothing though %v are closed", out, closed)
		}
		for _, name := range closed {
			if s := solvedDark(t, n, dark.Past(append(open, name)...)); n.Carrying(s, out) > 1e-6 {
				t.Errorf("%s carries something though %s is open", out, name)
			}
		}
	}
}
