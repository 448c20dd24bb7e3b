package layout_test

import (
	"strings"
	"testing"

	"farend/draw"
	"farend/layout"
)

func TestWordsAreCutToTheirField(t *testing.T) {
	like := draw.Text{Size: 8}
	long := "one two\u202fthree four Donaudampfschifffahrtselektrizitätenhauptbetriebswerkbauunterbeamtengesellschaft five"
	for _, line := range layout.Wrap(like, long, 30) {
		like.Words = line
		if like.Width() > 30 {
			t.Errorf("%q is %v mm long", line, like.Width())
		}
	}
	if lines := layout.Wrap(like, "one two\u202fthree", 12); len(lines) != 2 || lines[1] != "two\u202fthree" {
		t.Errorf("broken at a thin space: %q", lines)
	}
	if got := layout.Wrap(like, "  ", 10); got != nil {
		t.Errorf("nothing has lines: %q", got)
	}
	for name, cut := range map[string]func(draw.Text, string, float64) string{"fit": layout.Fit, "clip": layout.Clip} {
		if got := cut(like, "short", 50); got != "short" {
			t.Errorf("%s: %q", name, got)
		}
		for _, width := range []float64{20, 5, 1, 0} {
			like.Words = cut(like, long, width)
			if like.Width() > max(width, 2.4) || !strings.Contains(like.Words, "…") && width > 3 { // an ellipsis alone is 2.3 mm
				t.Errorf("%s to %v mm: %q, %v mm", name, width, like.Words, like.Width())
			}
		}
	}
}

// Where there is no room at all words are broken letter by letter, and it ends.
func TestWordsWithoutRoomEnd(t *testing.T) {
	for _, width := range []float64{0, -5, 0.1} {
		if got := strings.Join(layout.Lines(draw.Text{Size: 8}, "ab cd", width), ""); got != "abcd" {
			t.Errorf("%v mm: %q", width, got)
		}
	}
}
