package commission_test

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"
	"testing"

	"farend/commission"
	"farend/parts"
	"farend/scheme"
	"farend/unit"
)

// A bad joint in a feed of a run that another feeds too is that of a connector of its ohms: 25 mΩ in each pole. What the other feed takes over is in it.
func TestABadJointInSharedFeeds(t *testing.T) {
	w := example(t, "footbridge-two-feeds")
	s := *w.st.Scheme
	bad := parts.Connector{}
	bad.Resistance = parts.Value[unit.Ohm]{Is: 25e-3, Given: true}
	s.Library = s.Library.With(parts.Set{"connector/bad": &bad})
	s.Cables = maps.Clone(s.Cables)
	c := s.Cables["W2"]
	c.Ends.To = "connector/bad"
	s.Cables["W2"] = c
	st := studied(t, &s)
	want := float64(st.Network.VoltsAt(st.Solution("state/full"), "E1@start") - w.st.Network.VoltsAt(w.st.Solution("state/full"), "E1@start"))
	j := step(t, w.p, "Volts where W2 lands", "lit, full").Joint
	if j == nil || math.Abs(j.Shift-want) > 0.05*math.Abs(want) { // of the longer core that stands for it some is warm
		t.Errorf("%+v, with a connector %v V", j, want)
	}
}

// In every cable of these a bad joint would be seen somewhere; of the longest of the café's it may be, for copper alone can differ by as much.
func TestBadJointsAreSeenSomewhere(t *testing.T) {
	for _, name := range []string{"footbridge", "footbridge-two-feeds", "cafe-canopy"} {
		w := example(t, name)
		seen := map[string]bool{}
		for _, g := range w.p.Stages {
			for _, s := range g.Steps {
				for _, id := range s.About {
					seen[id] = seen[id] || s.Joint != nil && s.Joint.Seen == commission.Seen
				}
			}
		}
		for _, id := range scheme.IDs(w.st.Scheme.Cables) {
			if !seen[id] && name+" "+id != "cafe-canopy W7" {
				t.Errorf("%s: nothing shows a bad joint in %s", name, id)
			}
		}
	}
}

// Of very many feeds bad joints are looked for by milliohms alone, and the sheet says so.
func TestVeryManyFeeds(t *testing.T) {
	var runs, cables strings.Builder
	for k := range 151 {
		fmt.Fprintf(&runs, "  E%d: {tape: tape/own, pixels: 33}\n", k+1)
		fmt.Fprintf(&cables, "  W%d: {part: cable/flex-2x2.5, length: 2 m, from: T1, to: E%d@start, fuse: fuse/own}\n", k+1, k+1)
	}
	text := byHand[:strings.Index(byHand, "boards:")] + "runs:\n" + runs.String() + "cables:\n" + cables.String() + byHand[strings.Index(byHand, "states:"):]
	text = strings.Replace(text, "supply/5v-200w", "supply/5v-300w", 1)
	p := of(t, read(t, text))
	ordered(t, "many", p)
	landing, core := step(t, p, "Volts where W151 lands", "lit, full"), step(t, p, "W151, + core", "lit, full")
	if landing.Joint != nil || core.Joint == nil || core.Joint.Seen != commission.Seen {
		t.Errorf("%+v, %+v", landing.Joint, core.Joint)
	}
	said := false
	for _, g := range p.Stages {
		said = said || slices.ContainsFunc(g.Notes, func(note string) bool { return strings.Contains(note, "more than 150 cables") })
	}
	if !said {
		t.Error("nobody says that joints are not followed")
	}
}
