package remedy

import (
	"fmt"
	"os"
	"strings"
	"testing"

	"farend/finding"
)

// sharing is two supplies that share, each of at most 36 A, on both ends of 300 pixels at 50 a metre: 6 m.
func sharing(t *testing.T, more string) string {
	t.Helper()
	text, err := os.ReadFile("testdata/held-up.scheme.yaml")
	if err != nil {
		t.Fatal(err)
	}
	return strings.Replace(string(text), "site: {exposure: dry}", "site: {exposure: dry"+more+"}", 1)
}

// A short from the plus of T2 to metalwork, before its fuse, is brought to the minus of T1 and goes home by W1, the run and W2, whose cores may
// carry 20 A. A link from minus to minus that may carry 36 A alone needs 36 A/0.95 = 37.9 A: single cores of 6 mm² may carry 38 A in conduit (IEC
// 60364-5-52:2009 table B.52.2, method B2) and those of 4 mm² 30 A. Along the leads and the run it is 1 m + 6 m + 1 m. By hand: 8 m of 3.3 mΩ/m
// are 26.4 mΩ, beside 2 × 7.98 mΩ and 6 m of 1 mΩ/m, 22 mΩ: 36 A × 26.4/48.4 = 19.6 A stay in the leads, a little more with rails at the lower end of
// their spread and the link warm, which is a little too much; with 10 mm², 15.3 mΩ, 14.8 A.
func TestSuppliesThatShareAreLinkedWhereMetalworkWouldJoinThem(t *testing.T) {
	text := sharing(t, "")
	edits, before, after := mended(t, text, "W1.return")
	if before.Verdict.Grade != finding.Danger || after.Verdict.Grade == finding.Danger || !after.Verdict.Lasting || after.Verdict.Value > 21 {
		t.Errorf("after %v the return still takes harm: %+v", edits, after.Verdict)
	}
	link, _ := valueAt(edits, "/cables/W3")
	want := map[string]any{"part": "cable/link-1x6", "length": "8 m", "label": "length estimated; measure it", "from": "T1", "to": "T2", "pole": "return"}
	if fmt.Sprint(link) != fmt.Sprint(want) {
		t.Errorf("the link is %v, want %v", link, want)
	}
	again := made(t, text, edits)
	thicker := linked(again, "T2")
	if part, _ := valueAt(thicker, "/cables/W3/part"); part != "cable/link-1x10" {
		t.Errorf("linked once, the link becomes %v", part)
	}
	if end := harmOf(t, made(t, text, append(edits, thicker...)), "W1.return"); end.Verdict.Grade > finding.Note {
		t.Errorf("after %v the return still takes harm: %+v", thicker, end.Verdict)
	}
	if other := linked(solved(t, sharing(t, ", metalwork: none")), "T2"); other != nil {
		t.Errorf("without metalwork they are linked: %v", other)
	}
	if alone := linked(solved(t, row("", "from: A1.1, to: E1@start")), "T1"); alone != nil {
		t.Errorf("a supply alone is linked: %v", alone)
	}
}

// Where both supplies are drawn the link is as long as the drawing says, along its two directions: 3 m + 4 m.
func TestALinkIsAsLongAsTheDrawingSays(t *testing.T) {
	text := sharing(t, "") + "drawing: {T1: [[1, 1]], T2: [[4, 5]]}\n"
	if long, known := distant(solved(t, text), "T1", "T2"); !known || long != 7 {
		t.Errorf("it is %v, %v, want 7 m", long, known)
	}
}

// A cartridge or a fuse of no kin gives way to a smaller blade; one that does not say when it opens to one that does.
func TestASmallerFuseMayBeOfAnotherKind(t *testing.T) {
	const own = "parts:\n  fuse/dumb: {title: says nothing, basis: measured, source: invented, rating: 10 A, resistance: 5 mΩ, holder: inline}\n" +
		"  fuse/glass: {title: glass, basis: measured, source: invented, rating: 10 A, resistance: 5 mΩ, curve: curve/iec60127-f-glass, volts_max: 60 V, breaking: 35 A, holder: inline}\n"
	for was, want := range map[string]string{"fuse/dumb": "fuse/inline-5A", "fuse/glass": "fuse/inline-5A", "fuse/inline-10A": "fuse/inline-5A", "fuse/inline-5A": ""} {
		s := solved(t, guardedRow(80, "", "", "from: T1, to: E1@start, fuse: "+was)+own)
		got, _ := valueAt(smaller(s, []string{"W2.fuse"}), "/cables/W2/fuse")
		if got == nil {
			got = ""
		}
		if got != want {
			t.Errorf("%s becomes %v, want %q: it carries %v", was, got, want, inlineSeat(s, "W2").load)
		}
	}
}

// A return of 2.5 mm² that is the only one: if it came loose, what the run draws would go home by the data ground of 0.5 mm². That is opened where
// it is more than the core may carry, 3 A; 30 pixels at 0.6 mA and 3 × 12 mA draw 1.1 A, 200 draw 7.3 A.
func TestADataGroundIsOpenedWhereTheOnlyReturnMayComeLoose(t *testing.T) {
	for pixels, want := range map[int]any{30: nil, 200: "open"} {
		text := strings.Replace(row("", "from: A1.1, to: E1@start, pole: plus"), "pixels: 100", fmt.Sprintf("pixels: %d", pixels), 1)
		s := solved(t, text+"data: {D1: {part: cable/data-3x0.5, length: 2 m, from: A1.P1, to: E1}}\n")
		if got, _ := valueAt(Return(s, "E1", 0), "/data/D1/ground"); got != want {
			t.Errorf("of %d pixels it becomes %v, want %v", pixels, got, want)
		}
	}
}

// In a short at the far end of W1 a supply gives 66 A: 2.2 times the 30 A of its fuse, which opens within 50 s from twice its rating on; of the
// maxi of 35 A that is 1.89 times, for which it may take half an hour.
func TestALargerFuseMayNotEndShortsLate(t *testing.T) {
	text := row("", "from: A1.1, to: E1@start")
	text = strings.Replace(strings.Replace(text, "from: T1, to: A1.in}", "from: T1, to: A1.in, fuse: fuse/inline-30A}", 1), "supply/5v-200w", "supply/5v-300w", 1)
	s := solved(t, text+"site: {coldest: 20 °C, ambient: 20 °C}\n")
	for link, want := range map[string]bool{"fuse/inline-maxi-35A": true, "fuse/inline-25A": false} {
		if got := late(s, "W1", []finding.Edit{edit(link, "cables", "W1", "fuse")}); got != want {
			t.Errorf("%s opens late: %v", link, got)
		}
	}
}

// A fuse that resets itself opens within the hour at most; a link in its place within a second.
func TestAResettingFuseGivesWayToALink(t *testing.T) {
	s := solved(t, guardedRow(60, "", "", "from: T1, to: E1@start, fuse: fuse/ptc-5A"))
	g, _ := s.Guard("W2.fuse")
	far, ok := s.Struck().Far("W2")
	if !ok || g.Fuse == nil {
		t.Fatal("there is no short at the end of W2")
	}
	link, _ := valueAt(sooner(s, g, far), "/cables/W2/fuse")
	if name, _ := link.(string); !strings.HasPrefix(name, "fuse/inline-") {
		t.Errorf("it becomes %v", link)
	}
}
