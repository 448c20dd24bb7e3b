package remedy

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"farend/finding"
	"farend/parts"
	"farend/scheme"
	"farend/study"
)

// solved reads and solves a scheme given as text.
func solved(t *testing.T, text string) *study.Study {
	t.Helper()
	sch, mistakes := scheme.Read("test.scheme.yaml", []byte(text), parts.Catalogue())
	if len(mistakes) > 0 {
		t.Fatal(mistakes)
	}
	s, err := study.New(t.Context(), sch)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// row is one run of 100 pixels at 60 a metre with what else is said of it, and cables that land on it.
func row(run string, cables ...string) string {
	var b strings.Builder
	b.WriteString("farend: 1\nsupplies: {T1: {part: supply/5v-200w}}\nboards: {A1: {part: board/six-way-three-port}}\nruns:\n  E1: {tape: tape/5v-rgb-60, pixels: 100" + run + "}\n" +
		"cables:\n  W1: {part: cable/flex-2x6, length: 1 m, from: T1, to: A1.in}\n")
	for i, c := range cables {
		part := "cable/flex-2x2.5"
		if strings.Contains(c, "pole:") {
			part = "cable/link-1x2.5"
		}
		fmt.Fprintf(&b, "  W%d: {part: %s, length: 2 m, %s}\n", i+2, part, c)
	}
	b.WriteString("states: {full: {}}\n")
	return b.String()
}

func TestAFeedLandsInTheMiddleOrWhereNoCopperIs(t *testing.T) {
	for _, c := range []struct {
		name, text string
		pixel      int
		want       string // "" where there is no place
	}{
		{"fed at the start", row("", "from: A1.1, to: E1@start"), 99, "E1@end"},
		{"fed at the end", row("", "from: A1.1, to: E1@end"), 0, "E1@start"},
		{"fed at both ends", row("", "from: A1.1, to: E1@start", "from: A1.2, to: E1@end"), 48, "E1@px50"},
		{"fed at three marks, low in the second half", row("", "from: A1.1, to: E1@start", "from: A1.2, to: E1@px50", "from: A1.3, to: E1@end"), 70, "E1@px75"},
		{"fed in the middle, low at the start", row("", "from: A1.1, to: E1@px50"), 3, "E1@start"},
		{"a lead that runs the other way", row("", "from: E1@start, to: A1.1"), 99, "E1@end"},
		{"a return alone is no feed", row("", "from: A1.1, to: E1@start", "from: A1.2, to: E1@end, pole: return"), 99, "E1@end"},
		{"cut, and nothing behind", row(", cuts: [{at: px40, pole: plus}]", "from: A1.1, to: E1@start"), 70, "E1@px40"},
		{"cut, and nothing before", row(", cuts: [{at: px40, pole: both}]", "from: A1.1, to: E1@end"), 10, "E1@start"},
		{"cut, and fed at the start, low before the cut", row(", cuts: [{at: px40, pole: plus}]", "from: A1.1, to: E1@start", "from: A1.2, to: E1@end"), 39, "E1@px40-"},
		{"cut, and fed on both sides of it", row(", cuts: [{at: px40, pole: plus}]", "from: A1.1, to: E1@px40-", "from: A1.2, to: E1@px40"), 60, "E1@end"},
		{"nothing lands", row(""), 50, "E1@start"},
		{"no mark is left between", row("", "from: A1.1, to: E1@px50", "from: A1.2, to: E1@px51"), 50, ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := solved(t, c.text)
			g, ok := gapOf(s, "E1", c.pixel)
			got := ""
			if ok {
				got = g.station("E1", 100)
			}
			if got != c.want {
				t.Errorf("it lands at %q, want %q", got, c.want)
			}
		})
	}
}

func TestAFeedOnATapeOfPiecesLandsOnACutMark(t *testing.T) {
	const own = `parts:
  tape/own: {title: cut every seven pixels, volts: 5 V, pixels: 60 /m, cut_every: 7, rail: 100 mΩ/m, channels: {white: {set: 10 mA, lo: 1 V, hi: 2 V, soft: 0.02 V}}, idle: {set: 1 mA, lo: 1 V, hi: 2 V, soft: 0.02 V}, protocol: protocol/single-wire-800k-24}
`
	s := solved(t, strings.Replace(row("", "from: A1.1, to: E1@start", "from: A1.2, to: E1@end"), "tape/5v-rgb-60, pixels: 100", "tape/own, pixels: 63", 1)+own)
	if g, ok := gapOf(s, "E1", 30); !ok || g.mark != 28 { // the middle of nine pieces, the lower of two marks
		t.Errorf("it lands before pixel %d (%v)", g.mark, ok)
	}
}

// The lengths by hand. The board is drawn at (−0.5, 0.7), pixel 144 of 288 on a line of 4.8 m at (2.4, 0): 2.9 m + 0.7 m. Of the feeds
// that are there the one to the start has 1.5 m for 0.5 m + 0.7 m, that to the end 6.4 m for 5.3 m + 0.7 m: 0.4 m more. Undrawn: by
// the first, 1.5 m, and then 2.4 m along the run; through a junction 1.5 m, 0.4 m and 2.4 m. The supply is 0.6 m farther than the board.
func TestLengthsAreThoseByHand(t *testing.T) {
	const undrawn = `farend: 1
supplies: {T1: {part: supply/5v-300w}}
boards: {A1: {part: board/six-way-three-port}}
runs: {E1: {tape: tape/5v-rgb-60, length: 4.8 m}}
cables:
  W1: {part: cable/flex-2x6, length: 0.6 m, from: T1, to: A1.in}
  W2: {part: cable/flex-2x2.5, length: 1.5 m, from: A1.1, to: E1@start}
  W4: {part: cable/flex-2x2.5, length: 6.4 m, from: A1.3, to: E1@end}
states: {full: {}}
`
	spliced := strings.Replace(strings.Replace(undrawn, "to: E1@start}", "to: X1}\n  W5: {part: cable/flex-2x2.5, length: 0.4 m, from: X1, to: E1@start}", 1), "runs:", "junctions: {X1: {part: junction/lever-3}}\nruns:", 1)
	for _, c := range []struct{ name, text, want, label string }{
		{"drawn", undrawn + "drawing: {A1: [-0.5, 0.7], E1: [[0, 0], [4.8, 0]]}\n", "4 m", scheme.DrawnLength},
		{"drawn round a corner", undrawn + "drawing: {A1: [0, 0], E1: [[0, 0], [1, 0], [1, 3.8]]}\n", "4 m", scheme.DrawnLength}, // 1 m + 1.4 m, and 6.4 m for 4.8 m, or 1.5 m for none: 1.6 m more
		{"undrawn", undrawn, "3.9 m", scheme.EstimatedLength},
		{"through a junction", spliced, "4.3 m", scheme.EstimatedLength},
	} {
		values := cableOf(t, Feed(solved(t, c.text), "E1", 144))
		if values["length"] != c.want || values["label"] != c.label {
			t.Errorf("%s: %v, %v", c.name, values["length"], values["label"])
		}
	}
	f, _ := feedFor(solved(t, undrawn), "E1", 144)
	if text, _, ok := f.length("T1"); text != "4.5 m" || !ok {
		t.Errorf("from the supply it is %s", text)
	}
	if text, _, ok := f.length("T2"); ok {
		t.Errorf("from nowhere it is %s", text)
	}
}

func cableOf(t *testing.T, edits []finding.Edit) map[string]any {
	t.Helper()
	for _, e := range edits {
		if values, ok := e.Value.(map[string]any); ok {
			return values
		}
	}
	t.Fatalf("there is no cable in %v", edits)
	return nil
}

func TestAFeedComesFromWhereThereIsRoom(t *testing.T) {
	six := []string{"from: A1.1, to: E1@start", "from: A1.2, to: E1@px20", "from: A1.3, to: E1@px40", "from: A1.4, to: E1@px60", "from: A1.5, to: E1@px80", "from: A1.6, to: E1@end"}
	for _, c := range []struct {
		name, text, from string
		first            string // path of the first edit
	}{
		{"a free way", row("", "from: A1.1, to: E1@start"), "A1.2", "/cables/W3"},
		{"a free way between others", row("", "from: A1.1, to: E1@start", "from: A1.3, to: E1@end"), "A1.2", "/cables/W4"},
		{"a larger board", row("", six...), "A1.7", "/boards/A1/part"},
		{"the supply", strings.ReplaceAll(row("", "from: T1, to: E1@start"), "boards: {A1: {part: board/six-way-three-port}}\n", ""), "T1", "/cables/W3"},
		{"the board that a junction hangs on", strings.Replace(row("", "from: A1.1, to: X1", "from: X1, to: E1@start"), "runs:", "junctions: {X1: {part: junction/lever-3}}\nruns:", 1), "A1.2", "/cables/W4"},
	} {
		t.Run(c.name, func(t *testing.T) {
			text := c.text
			if c.from == "T1" {
				text = strings.ReplaceAll(text, "  W1: {part: cable/flex-2x6, length: 1 m, from: T1, to: A1.in}\n", "")
				c.first = "/cables/W3"
			}
			edits := Feed(solved(t, text), "E1", 10)
			values := cableOf(t, edits)
			if values["from"] != c.from || edits[0].Path != c.first {
				t.Errorf("%v", edits)
			}
			_, fused := values["fuse"]
			if own := slices.ContainsFunc(edits, func(e finding.Edit) bool { return e.Path == "/fuses/"+c.from }); fused == own {
				t.Errorf("it has no fuse, or two: %v", edits)
			}
		})
	}
}

// A supply that is not chosen feeds nothing yet: no feed is taken from it, though another one feeds the run.
func TestNoFeedComesFromASupplyThatIsNotChosen(t *testing.T) {
	text := strings.ReplaceAll(row("", "from: T1, to: E1@start", "from: T2, to: E1@px60"), "supplies: {", "supplies: {T2: {part: choose}, ")
	text = strings.ReplaceAll(text, "boards: {A1: {part: board/six-way-three-port}}\n", "")
	text = strings.ReplaceAll(text, "  W1: {part: cable/flex-2x6, length: 1 m, from: T1, to: A1.in}\n", "")
	s := solved(t, text)
	for _, pixel := range []int{0, 50, 99} {
		for _, e := range Feed(s, "E1", pixel) {
			if values, is := e.Value.(map[string]any); is && values["from"] == "T2" {
				t.Errorf("pixel %d: %v", pixel, e)
			}
		}
	}
	if edits := Feed(s, "E1", 10); cableOf(t, edits)["from"] != "T1" {
		t.Errorf("%v", edits)
	}
	chosen := solved(t, strings.ReplaceAll(text, "choose", "supply/5v-200w"))
	if edits := Feed(chosen, "E1", 99); cableOf(t, edits)["from"] != "T2" {
		t.Errorf("chosen, it feeds no more: %v", edits)
	}
}

func TestANewCableHasANameThatNobodyHas(t *testing.T) {
	name := func(text string) string { return feed{s: solved(t, text)}.name() }
	for text, want := range map[string]string{
		row("", "from: A1.1, to: E1@start"):                                                                              "W3",
		strings.Replace(row("", "from: A1.1, to: E1@start"), "W2:", "W64:", 1):                                           "W65",
		strings.Replace(row("", "from: A1.1, to: E1@start"), "W2:", "feed-7:", 1):                                        "feed-8",
		strings.ReplaceAll(row("", "from: A1.1, to: E1@start"), "E1", "W3"):                                              "W4",
		strings.NewReplacer("W1:", "inlet:", "W2:", "long:").Replace(row("", "from: A1.1, to: E1@start")):                "W1",
		strings.NewReplacer("W1:", "W99999999999999999999:", "W2:", "W05:").Replace(row("", "from: A1.1, to: E1@start")): "W6",
	} {
		if got := name(text); got != want {
			t.Errorf("%s, want %s in\n%s", got, want, text)
		}
	}
}
