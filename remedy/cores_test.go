package remedy

import (
	"fmt"
	"strings"
	"testing"
)

// The next lead of a family with cores enough is the one with the fewest; one that is thinner would carry less of what comes home by it.
func TestALeadGetsAsManyCoresAsItNeeds(t *testing.T) {
	for _, c := range []struct {
		part  string
		cores int
		want  string
	}{
		{"cable/data-3x0.5", 4, "cable/data-4x0.5"},
		{"cable/data-3x0.34", 4, "cable/data-4x0.34"},
		{"cable/data-3x0.75", 4, "cable/data-4x0.75"},
		{"cable/data-cat5e-pair", 3, "cable/data-cat5e"},
		{"cable/data-3x0.5", 9, ""},
	} {
		s := solved(t, strings.ReplaceAll(`farend: 1
supplies: {T1: {part: supply/5v-200w}}
boards: {A1: {part: board/four-way-two-port}}
runs: {E1: {tape: tape/5v-rgb-60-backup, pixels: 10}}
cables: {W1: {part: cable/flex-2x4, length: 1 m, from: T1, to: A1.in, fuse: fuse/inline-15A}}
data: {D1: {part: PART, length: 1 m, from: A1.P1, to: E1}}
states: {full: {}}
`, "PART", c.part))
		got := ""
		for _, e := range MoreCores(s, "D1", c.cores) {
			got += fmt.Sprint(e.Path, " ", e.Value)
		}
		want := c.want
		if want != "" {
			want = "/data/D1/part " + want
		}
		if got != want {
			t.Errorf("%d cores in the place of %s: %q, want %q", c.cores, c.part, got, want)
		}
	}
}
