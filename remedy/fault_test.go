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
	"farend/unit"
)

// harmOf is what the worst fault does to a conductor.
func harmOf(t *testing.T, s *study.Study, bearer string) study.Harm {
	t.Helper()
	struck := s.Struck()
	if struck == nil {
		t.Fatal("no fault was followed")
	}
	for i, b := range struck.Bearers {
		if b.Name == bearer {
			return struck.Harm(i)
		}
	}
	t.Fatalf("there is no conductor %s", bearer)
	return study.Harm{}
}

// made is the study of a scheme with edits made to it.
func made(t *testing.T, text string, edits []finding.Edit) *study.Study {
	t.Helper()
	if edits == nil {
		t.Fatal("there is no edit")
	}
	sch, _, mistakes := scheme.Apply("test.scheme.yaml", []byte(text), edits, parts.Catalogue())
	if sch == nil || len(mistakes) > 0 {
		t.Fatalf("%v cannot be made: %v", edits, mistakes)
	}
	s, err := study.New(t.Context(), sch)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// mended reports how a conductor fares before and after the edits for it.
func mended(t *testing.T, text, bearer string) (edits []finding.Edit, before, after study.Harm) {
	t.Helper()
	s := solved(t, text)
	before = harmOf(t, s, bearer)
	if before.Verdict.Grade < finding.Fails {
		t.Fatalf("%s is well before: %+v", bearer, before.Verdict)
	}
	edits = Harmed(s, before)
	return edits, before, harmOf(t, made(t, text, edits), bearer)
}

func valueAt(edits []finding.Edit, path string) (any, bool) {
	i := slices.IndexFunc(edits, func(e finding.Edit) bool { return e.Path == path })
	if i < 0 {
		return nil, false
	}
	return edits[i].Value, true
}

// guardedRow is row with fuses, in air of 30 °C, with metalwork left out so that shorts are between the poles alone.
func guardedRow(pixels int, run, fuses string, cables ...string) string {
	text := strings.Replace(row(run, cables...), "pixels: 100", fmt.Sprintf("pixels: %d", pixels), 1)
	text = strings.Replace(text, "from: T1, to: A1.in}", "from: T1, to: A1.in, fuse: fuse/inline-30A}", 1)
	return text + "fuses: {" + fuses + "}\nsite: {metalwork: none, ambient: 30 °C, coldest: 0 °C}\n"
}

// 100 pixels between feeds at both ends are cut at the mark in the middle. A cut that is there stays.
func TestAPositiveIsCutMidwayBetweenFeeds(t *testing.T) {
	for _, c := range []struct {
		name, text string
		want       []string // marks of all cuts then; none where nothing is cut
	}{
		{"two feeds", guardedRow(100, "", "A1.1: fuse/blade-5A, A1.2: fuse/blade-5A", "from: A1.1, to: E1@start", "from: A1.2, to: E1@end"), []string{"px50"}},
		{"three feeds", guardedRow(100, "", "A1.1: fuse/blade-5A, A1.2: fuse/blade-5A, A1.3: fuse/blade-5A", "from: A1.1, to: E1@start", "from: A1.2, to: E1@px40", "from: A1.3, to: E1@end"), []string{"px20", "px70"}},
		{"a cut that is there", guardedRow(100, ", cuts: [{at: px20, pole: both}]", "A1.1: fuse/blade-5A, A1.2: fuse/blade-5A, A1.3: fuse/blade-5A", "from: A1.1, to: E1@start", "from: A1.2, to: E1@px40", "from: A1.3, to: E1@end"), []string{"px20", "px70"}},
		{"feeds of one way", guardedRow(100, "", "A1.1: fuse/blade-5A", "from: A1.1, to: E1@start", "from: A1.1, to: E1@end"), nil},
		{"one feed", guardedRow(100, "", "A1.1: fuse/blade-5A", "from: A1.1, to: E1@start"), nil},
		{"cut already", guardedRow(100, ", cuts: [{at: px50, pole: plus}]", "A1.1: fuse/blade-5A, A1.2: fuse/blade-5A", "from: A1.1, to: E1@start", "from: A1.2, to: E1@end"), nil},
		{"no mark between", guardedRow(100, "", "A1.1: fuse/blade-5A, A1.2: fuse/blade-5A", "from: A1.1, to: E1@px50", "from: A1.2, to: E1@px51"), nil},
	} {
		t.Run(c.name, func(t *testing.T) {
			edits := CutApart(solved(t, c.text), "E1")
			list, _ := valueAt(edits, "/runs/E1/cuts")
			var at []string
			if cuts, is := list.([]any); is {
				for _, cut := range cuts {
					at = append(at, fmt.Sprint(cut.(map[string]any)["at"]))
				}
			}
			if !slices.Equal(at, c.want) {
				t.Errorf("it is cut at %v, want %v", at, c.want)
			}
		})
	}
}

// The tape draws 3 × 12 mA + 0.6 mA a pixel in white. By hand: of 60 pixels each half draws 30 × 36.6 mA = 1.098 A, and a fuse of 2 A bears
// 0.95 × 0.75 × 2 A = 1.43 A in air of 20 °C, a little less in air of 30 °C; one of 1 A does not bear it.
func TestFusesFitThePiecesThatACutMakes(t *testing.T) {
	text := guardedRow(60, "", "A1.1: fuse/blade-7.5A, A1.2: fuse/blade-7.5A", "from: A1.1, to: E1@start", "from: A1.2, to: E1@end")
	s := solved(t, text)
	if half := lit(s, "E1") / 2; half < 1.097 || half > 1.099 {
		t.Fatalf("a half draws %v", half)
	}
	edits := CutApart(s, "E1")
	for _, way := range []string{"A1.1", "A1.2"} {
		if link, _ := valueAt(edits, "/fuses/"+way); link != "fuse/blade-2A" {
			t.Errorf("%s gets %v: %v", way, link, edits)
		}
	}
}

// Rails that several feeds share, and rails behind a fuse that is larger than its load asks for, are well after one go.
func TestRailsInDangerAreMended(t *testing.T) {
	for _, c := range []struct{ name, text, path string }{
		{"feeds share a piece", guardedRow(60, "", "A1.1: fuse/blade-7.5A, A1.2: fuse/blade-7.5A", "from: A1.1, to: E1@start", "from: A1.2, to: E1@end"), "/runs/E1/cuts"},
		{"a fuse larger than its load", guardedRow(40, "", "A1.1: fuse/blade-10A", "from: A1.1, to: E1@start"), "/fuses/A1.1"},
		{"more than one fuse may carry", guardedRow(200, "", "A1.1: fuse/blade-10A", "from: A1.1, to: E1@start"), "/runs/E1/cuts"},
	} {
		t.Run(c.name, func(t *testing.T) {
			edits, before, after := mended(t, c.text, "E1")
			if _, there := valueAt(edits, c.path); !there {
				t.Errorf("%s is not changed: %v", c.path, edits)
			}
			if after.Verdict.Grade > finding.Note {
				t.Errorf("%v: %+v, and then %+v", edits, before.Verdict, after.Verdict)
			}
		})
	}
}

// Each piece that a run is divided into draws what a fuse carries that suits it, and has one feed, at its middle where that is new.
func TestARunIsFedInSoManyPlacesThatSmallFusesDo(t *testing.T) {
	text := guardedRow(200, "", "A1.1: fuse/blade-10A", "from: A1.1, to: E1@start")
	s := solved(t, text)
	longest := suitedPixels(s, "E1")
	now := made(t, text, Spread(s, "E1"))
	landed := landings(now, "E1")
	pieces := stretches(now, "E1", now.Scheme.Runs["E1"].Cuts, landed)
	if longest <= 0 || longest >= 200 || len(pieces) != (200+longest-1)/longest || len(landed) != len(pieces) {
		t.Fatalf("%d feeds of %d pieces of at most %d pixels", len(landed), len(pieces), longest)
	}
	for i, p := range pieces {
		middle := (p.low + p.high) / 2
		if p.high-p.low > longest+1 || len(p.feeds) != 1 || i > 0 && abs(p.feeds[0].mark-middle) > 1 {
			t.Errorf("%+v of at most %d pixels", p, longest)
		}
	}
	if again := Spread(now, "E1"); again != nil {
		t.Errorf("a second time: %v", again)
	}
}

// A feed from a junction whose fuse is that of others, too, gets a fuse of its own where it begins.
func TestAFeedFromAJunctionGetsItsOwnFuse(t *testing.T) {
	text := strings.Replace(guardedRow(100, ", cuts: [{at: px50, pole: plus}]", "A1.1: fuse/blade-10A", "from: A1.1, to: X1", "from: X1, to: E1@start", "from: X1, to: E1@end"), "runs:", "junctions: {X1: {part: junction/lever-3}}\nruns:", 1)
	edits, before, after := mended(t, text, "E1")
	for _, cable := range []string{"W3", "W4"} {
		if link, _ := valueAt(edits, "/cables/"+cable+"/fuse"); !strings.HasPrefix(fmt.Sprint(link), "fuse/inline-") {
			t.Errorf("%s gets %v", cable, link)
		}
	}
	if after.Verdict.Grade > before.Verdict.Grade || after.Verdict.Grade == before.Verdict.Grade && after.Verdict.Value >= before.Verdict.Value {
		t.Errorf("%+v, and then %+v", before.Verdict, after.Verdict)
	}
}

// A core behind a fuse that is larger than its load asks for is mended by a smaller one; where none is, by thicker copper.
func TestACoreInDangerGetsASmallerFuseOrThickerCopper(t *testing.T) {
	large := strings.Replace(guardedRow(40, "", "A1.1: fuse/blade-15A", "from: A1.1, to: E1@start"), "W2: {part: cable/flex-2x2.5", "W2: {part: cable/flex-2x0.5", 1)
	if edits, before, after := mended(t, large, "W2.plus"); after.Verdict.Grade > finding.Note {
		t.Errorf("%v: %+v, and then %+v", edits, before.Verdict, after.Verdict)
	} else if _, there := valueAt(edits, "/fuses/A1.1"); !there {
		t.Errorf("its fuse stays: %v", edits)
	}
	thin := strings.Replace(guardedRow(200, "", "A1.1: fuse/blade-10A", "from: A1.1, to: E1@start"), "W2: {part: cable/flex-2x2.5", "W2: {part: cable/flex-2x0.5", 1)
	s := solved(t, thin)
	h := harmOf(t, s, "W2.plus")
	if edits := stouter(s, h, []string{"A1.1.fuse"}); h.Verdict.Grade < finding.Fails {
		t.Fatalf("W2 is well: %+v", h.Verdict)
	} else if _, there := valueAt(edits, "/cables/W2/part"); !there {
		t.Errorf("it is no thicker: %v", edits)
	} else if after := harmOf(t, made(t, thin, edits), "W2.plus"); after.Verdict.Grade > finding.Note {
		t.Errorf("%v: %+v, and then %+v", edits, h.Verdict, after.Verdict)
	}
}

// What hangs on a supply without any fuse gets one where it begins.
func TestALeadWithoutAFuseGetsOneAtItsSource(t *testing.T) {
	text := "farend: 1\nsupplies: {T1: {part: supply/5v-200w}}\nruns: {E1: {tape: tape/5v-rgb-60, pixels: 40}}\ncables: {W1: {part: cable/flex-2x1.5, length: 1 m, from: T1, to: E1@start}}\nstates: {full: {}}\nsite: {metalwork: none, ambient: 30 °C, coldest: 0 °C}\n"
	edits, before, after := mended(t, text, "E1")
	if link, there := valueAt(edits, "/cables/W1/fuse"); !there || len(edits) != 1 {
		t.Errorf("it gets %v: %v", link, edits)
	}
	if after.Verdict.Grade > finding.Note {
		t.Errorf("%+v, and then %+v", before.Verdict, after.Verdict)
	}
}

// farOf is the far-end short of a fuse, with the least at which that surely opens.
func farOf(t *testing.T, s *study.Study, at string) (study.Guard, study.FarShort, []finding.Edit) {
	t.Helper()
	g, _ := s.Guard(at + ".fuse")
	far, ok := s.Struck().Far(at)
	least, opens := s.Fusing(g)
	if !ok || !opens {
		t.Fatalf("%s has no far end", at)
	}
	return g, far, FarShort(s, g, far, least)
}

// A long thin lead keeps a fuse shut: a smaller one opens where it carries the load; else the lead becomes thicker, as its resistance asks.
func TestAFarEndThatAFuseDoesNotSeeIsMended(t *testing.T) {
	long := func(pixels int, link string) string {
		text := guardedRow(pixels, "", "A1.1: "+link, "from: A1.1, to: E1@start")
		return strings.Replace(text, "W2: {part: cable/flex-2x2.5, length: 2 m", "W2: {part: cable/flex-2x1.5, length: 24 m", 1)
	}
	for _, c := range []struct {
		pixels     int
		link, path string
	}{{20, "fuse/blade-10A", "/fuses/A1.1"}, {300, "fuse/blade-5A", "/cables/W2/part"}} {
		text := long(c.pixels, c.link)
		s := solved(t, text)
		g, far, edits := farOf(t, s, "A1.1")
		if least, _ := s.Fusing(g); far.Amps >= least {
			t.Fatalf("%d pixels: %v opens it", c.pixels, far.Amps)
		}
		if _, there := valueAt(edits, c.path); !there {
			t.Fatalf("%d pixels: %v", c.pixels, edits)
		}
		now := made(t, text, edits)
		g, far, _ = farOf(t, now, "A1.1")
		if least, _ := now.Fusing(g); far.Amps < least {
			t.Errorf("%d pixels: after %v it draws %v, and opens from %v on", c.pixels, edits, far.Amps, least)
		}
	}
}

// A ground core that chains two runs, both of which have their return by power copper, is opened; one that comes from a board is not.
func TestOnlyTheGroundOfAChainedLeadIsOpened(t *testing.T) {
	text := strings.Replace(guardedRow(40, "", "A1.1: fuse/blade-5A, A1.2: fuse/blade-5A", "from: A1.1, to: E1@start", "from: A1.2, to: E2@start"), "\ncables:", "\n  E2: {tape: tape/5v-rgb-60, pixels: 40}\ncables:", 1) +
		"data:\n  D1: {part: cable/data-3x0.5, length: 2 m, from: A1.P1, to: E1}\n  D2: {part: cable/data-3x0.5, length: 1 m, from: E1, to: E2}\n"
	s := solved(t, text)
	for lead, want := range map[string]bool{"D1": false, "D2": true} {
		edits := openGround(s, &study.Bearer{Name: lead + ".ground", Owner: lead, Kind: study.OfCore})
		if (edits != nil) != want {
			t.Errorf("%s: %v", lead, edits)
		}
	}
}

// A feed that may land the wrong way round is checked, not exchanged.
func TestWhatTakesASecondMistakeHasNoEdit(t *testing.T) {
	s := solved(t, guardedRow(60, "", "A1.1: fuse/blade-7.5A, A1.2: fuse/blade-7.5A", "from: A1.1, to: E1@start", "from: A1.2, to: E1@end"))
	h := harmOf(t, s, "E1")
	h.Remote = true
	if edits := Harmed(s, h); edits != nil {
		t.Errorf("%v", edits)
	}
	if edits := Harmed(s, study.Harm{}); edits != nil {
		t.Errorf("of nothing: %v", edits)
	}
}

// A way that has no fuse gets one, whatever its lead is made of; and with it those that feed the same run.
func TestAWayWithoutAFuseGetsOne(t *testing.T) {
	text := guardedRow(60, ", cuts: [{at: px30, pole: plus}]", "", "from: A1.1, to: E1@start", "from: A1.2, to: E1@end")
	for bearer, want := range map[string][]string{"E1": {"/fuses/A1.1", "/fuses/A1.2"}, "A1.1.plus": {"/fuses/A1.1", "/fuses/A1.2"}, "W2.plus": {"/fuses/A1.1", "/fuses/A1.2"}} {
		edits, before, after := mended(t, text, bearer)
		for _, path := range want {
			if _, there := valueAt(edits, path); !there {
				t.Errorf("%s: %s is not fitted: %v", bearer, path, edits)
			}
		}
		if after.Verdict.Grade > finding.Note {
			t.Errorf("%s: %+v, and then %+v", bearer, before.Verdict, after.Verdict)
		}
	}
}

// Where spare cores of a data lead carry the supply past all fuses no fuse mends a run: they no longer do. A run that they alone feed keeps them.
func TestSpareCoresThatPassTheFusesAreTakenOff(t *testing.T) {
	lead := "data: {D1: {part: cable/data-3x0.5, length: 2 m, from: A1.P1, to: E1, power: yes}}\n"
	text := guardedRow(40, "", "A1.1: fuse/blade-3A", "from: A1.1, to: E1@start") + lead
	edits, before, after := mended(t, text, "E1")
	if value, there := valueAt(edits, "/data/D1/power"); !there || value != nil {
		t.Errorf("%v", edits)
	}
	if after.Verdict.Grade > finding.Note {
		t.Errorf("%+v, and then %+v", before.Verdict, after.Verdict)
	}
	alone := solved(t, guardedRow(40, "", "")+lead)
	if edits := unpowered(alone, "E1"); edits != nil {
		t.Errorf("it goes dark: %v", edits)
	}
}

// The weakest contactor with a coil of the same voltage that carries a current takes the place of one that does not; a junction likewise.
func TestContactsThatAFuseOverloadsGetStronger(t *testing.T) {
	text := strings.Replace(guardedRow(40, "", "A1.1: fuse/blade-5A", "from: A1.1, to: X1", "from: X1, to: E1@start"), "runs:", "junctions: {X1: {part: junction/lever-small-3}}\ncontactors: {Q1: {part: PART, in: W1}}\nruns:", 1)
	var s *study.Study
	for _, c := range []struct {
		was  string
		need unit.Ampere
		want any
	}{
		{"relay/load-16A-12V", 25, "relay/plug-in-30A"},
		{"relay/load-16A-12V", 31, nil},
		{"relay/load-16A", 25, "relay/solid-state-40A"},
		{"relay/load-16A", 41, "relay/contactor-50A"},
		{"relay/load-16A", 101, nil},
	} {
		s = solved(t, strings.Replace(text, "PART", c.was, 1))
		if value, _ := valueAt(heavier(s, "Q1", c.need), "/contactors/Q1/part"); value != c.want {
			t.Errorf("%s becomes %v for %v, want %v", c.was, value, c.need, c.want)
		}
	}
	small, _ := parts.Get[parts.Junction](s.Scheme.Library, "junction/lever-small-3")
	value, there := valueAt(firmer(s, "X1", small.Amps.Lower()+0.1), "/junctions/X1/part")
	if now, _ := parts.Get[parts.Junction](s.Scheme.Library, fmt.Sprint(value)); !there || now.Amps.Lower() <= small.Amps.Lower() {
		t.Errorf("X1 becomes %v", value)
	}
	if edits := firmer(s, "X1", 0); edits != nil {
		t.Errorf("it would be weaker: %v", edits)
	}
}

// What ends is better than what lasts, whatever their margins; of one kind the margin decides.
func TestWhatEndsIsBetterThanWhatLasts(t *testing.T) {
	of := func(in string, margin float64) finding.Finding {
		return finding.Finding{ID: "r:A", Rule: "r", Grade: finding.Danger, Unit: in, Margin: &margin}
	}
	for _, c := range []struct {
		was, is finding.Finding
		want    bool
	}{
		{of("A", -0.5), of("1", -0.9), true},
		{of("1", -0.9), of("A", -0.5), false},
		{of("A", -0.5), of("A", -0.4), true},
		{of("1", -0.5), of("1", -0.6), false},
	} {
		if better(c.was, c.is) != c.want {
			t.Errorf("%s %v, then %s %v: %v", c.was.Unit, *c.was.Margin, c.is.Unit, *c.is.Margin, !c.want)
		}
	}
}
