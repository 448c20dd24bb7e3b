package scheme_test

import (
	"testing"

	"farend/finding"
	"farend/scheme"
)

func TestChangesAreToldInWords(t *testing.T) {
	source := []byte(`farend: 1
aims: {cap: 80 %}
supplies: {T1: {part: supply/5v-200w, volts: 5.2 V}}
runs: {E1: {tape: tape/5v-rgb-60, length: 4 m}}
cables:
  W1: {part: cable/flex-2x4, length: 1 m, from: T1, to: A1.in, fuse: "fuse/inline-20A"}
  W3: {part: cable/flex-2x1.5, length: 1 m, from: A1.2, to: E1@start, pole: plus}
fuses: {A1.2: fuse/blade-15A}
data: {D1: {part: cable/data-3x0.5, length: 1 m, from: A1.P1, to: E1, power: yes}}
`)
	feed := func(more map[string]any) map[string]any {
		values := map[string]any{"part": "cable/flex-2x2.5", "length": "4.2 m", "from": "A1.4", "to": "E1@px153"}
		for k, v := range more {
			values[k] = v
		}
		return values
	}
	for _, c := range []struct {
		path  string
		value any
		want  string
	}{
		{"/fuses/A1.2", "fuse/blade-7.5A", "fuse A1.2: fuse/blade-7.5A instead of fuse/blade-15A"},
		{"/fuses/A1.4", "fuse/blade-7.5A", "fuse A1.4: fuse/blade-7.5A"},
		{"/fuses/A1.2", nil, "fuse A1.2: none instead of fuse/blade-15A"},
		{"/cables/W1/fuse", "fuse/inline-30A", "fuse W1: fuse/inline-30A instead of fuse/inline-20A"},
		{"/cables/W1/fuse_at", nil, "W1: its fuse at T1, not at A1.in"},
		{"/cables/W1/fuse_at", "to", "W1: its fuse at A1.in, not at T1"},
		{"/cables/W3/fuse_at", "to", "W3: its fuse at E1@start"},
		{"/cables/W3/fuse", "fuse/inline-10A", "fuse W3: fuse/inline-10A"},
		{"/cables/W3/part", "cable/flex-2x2.5", "W3: cable/flex-2x2.5 instead of cable/flex-2x1.5"},
		{"/cables/W3/length", "2 m", "W3: length 2 m instead of 1 m"},
		{"/cables/W3/pole", nil, "W3: both poles instead of the plus alone"},
		{"/cables/W3/ends/to", "connector/screw-7.62mm", "W3: ends to connector/screw-7.62mm"},
		{"/cables/W3", nil, "W3 is taken out"},
		{"/cables/W8", feed(nil), "a new cable W8 from A1.4 to E1@px153, 4.2 m, cable/flex-2x2.5"},
		{"/cables/W8", feed(map[string]any{"label": scheme.EstimatedLength}), "a new cable W8 from A1.4 to E1@px153, 4.2 m (estimated), cable/flex-2x2.5"},
		{"/cables/W8", feed(map[string]any{"label": scheme.DrawnLength}), "a new cable W8 from A1.4 to E1@px153, 4.2 m (from the drawing), cable/flex-2x2.5"},
		{"/cables/W8", feed(map[string]any{"fuse": "fuse/inline-5A", "pole": "plus"}), "a new cable W8 from A1.4 to E1@px153, 4.2 m, cable/flex-2x2.5, plus only, with fuse/inline-5A where it begins"},
		{"/runs/E2", map[string]any{"tape": "tape/5v-rgb-60", "pixels": 90}, "a new run E2: 90 pixels of tape/5v-rgb-60"},
		{"/data/D2", map[string]any{"part": "cable/data-3x0.5", "length": "2 m", "from": "A1.P2", "to": "E2", "label": scheme.EstimatedLength}, "a new data lead D2 from A1.P2 to E2, 2 m (estimated), cable/data-3x0.5"},
		{"/junctions/X1", map[string]any{"part": "junction/lever-5"}, "a new junction X1: junction/lever-5"},
		{"/runs/E1/tape", "tape/5v-rgbw-60", "E1: tape/5v-rgbw-60 instead of tape/5v-rgb-60"},
		{"/runs/E1/cuts/-", map[string]any{"at": "px50", "pole": "plus"}, "E1: a cut of the plus at px50"},
		{"/supplies/T1/volts", "5.1 V", "T1: volts 5.1 V instead of 5.2 V"},
		{"/supplies/T1/volts", nil, "T1: without volts 5.2 V"},
		{"/data/D1/power", nil, "D1: power no instead of yes"},
		{"/data/D1/power", false, "D1: power no instead of yes"},
		{"/data/D1/ground", nil, "D1: nothing to remove"},
		{"/aims/cap", "60 %", "aims: cap 60 % instead of 80 %"},
		{"/parts/tape~1mine/rail", "90 mΩ/m", "parts: tape/mine rail 90 mΩ/m"},
		{"/title", "x", "title: x"},
	} {
		if got := scheme.Changes(source, []finding.Edit{{Path: c.path, Value: c.value}}); len(got) != 1 || got[0] != c.want {
			t.Errorf("%s to %v is told as %q, want %q", c.path, c.value, got, c.want)
		}
	}
}
