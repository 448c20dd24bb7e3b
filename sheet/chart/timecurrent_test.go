package chart_test

import (
	"bytes"
	"encoding/xml"
	"errors"
	"farend/draw"
	"farend/finding"
	"farend/fuse"
	"farend/internal/pagetest"
	"farend/internal/schemetest"
	"farend/internal/sheettest"
	"farend/network"
	"farend/parts"
	"farend/scheme"
	"farend/sheet/chart"
	"farend/sheet/drafting"
	"farend/study"
	"farend/unit"
	"fmt"
	"math"
	"math/rand"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

const altered = "../../examples/library-atrium-altered.scheme.yaml"

// The head of a page says what the page shows; of what lies beyond it, by what that is fed.
func TestHeadOfTimeCurrentSaysWhatIsBeyond(t *testing.T) {
	st := schemetest.Unstruck(t, altered)
	rule := study.Rule{Name: "protection/coordination", Title: "Fuse and cable", Safety: true}
	beyond := []study.Assessed{{Rule: &rule, Subject: "W31", Assessment: study.Assessment{Grade: finding.Danger}}}
	leaf, err := chart.TimeCurrent(st, "W10", beyond, sheettest.A4)
	if want := "[D] Danger: Fuse and cable, W31, not shown here: fed by W10 and W30 together"; err != nil || leaf.Verdict != want {
		t.Errorf("it says %q, not %q (%v)", leaf.Verdict, want, err)
	}
	both := append(beyond, study.Assessed{Rule: &rule, Subject: "W14", Assessment: study.Assessment{Grade: finding.Danger}})
	leaf, err = chart.TimeCurrent(st, "W10", both, sheettest.A4)
	if want := "[D] Danger: Fuse and cable, W14"; err != nil || leaf.Verdict != want {
		t.Errorf("it says %q, not %q (%v)", leaf.Verdict, want, err)
	}
}

// fused lists what a picture can be drawn of.
func fused(st *study.Study) []string {
	var ids []string
	for _, way := range st.Network.Ways() {
		if st.Scheme.Fuses[way] != "" {
			ids = append(ids, way)
		}
	}
	for _, id := range scheme.IDs(st.Scheme.Cables) {
		if st.Scheme.Cables[id].Fuse != "" {
			ids = append(ids, id)
		}
	}
	return ids
}

func drawn(t *testing.T, st *study.Study, id string) draw.Scene {
	t.Helper()
	leaf, err := chart.TimeCurrent(st, id, st.Assess(nil), sheettest.A4)
	if err != nil {
		t.Fatalf("%s: %v", id, err)
	}
	return sheettest.Bound(st, leaf)
}

// complaints is what is wrong with the looks of a page, lines of flags that go through words above the plot too.
func complaints(s draw.Scene) []string {
	list := pagetest.Complaints(&s)
	above := 0.0 // where the plot begins
	var upright []draw.Path
	for _, l := range s.Layers {
		if l.Name == "axes" {
			above = l.Paths[0].Steps[0].To.Y
		}
		for _, p := range l.Paths {
			if l.Name == "labels" && len(p.Steps) == 2 && p.Steps[0].To.X == p.Steps[1].To.X {
				upright = append(upright, p)
			}
		}
	}
	for _, l := range s.Layers {
		for _, text := range l.Texts {
			for _, p := range upright {
				box, x, top := text.Box(), p.Steps[0].To.X, p.Steps[1].To.Y
				if box.Max.Y < above && x > box.Min.X && x < box.Max.X && top < box.Max.Y {
					list = append(list, fmt.Sprintf("a line goes through %q", text.Words))
				}
			}
		}
	}
	return list
}

// Every fuse of every example, and of an installation of odd ones, has a page on which no text covers another; it is well-formed, and
// the same when it is drawn again.
func TestPagesOfEverySchemeAreClean(t *testing.T) {
	pages := 0
	for _, path := range append(schemetest.Paths(t, "../../examples/*.scheme.yaml"), schemetest.Paths(t, "testdata/*.scheme.yaml")...) {
		st, again := schemetest.Study(t, path), schemetest.Changed(t, path)
		for _, id := range fused(st) {
			if st.Scheme.Fuses[id] == "fuse/bare" {
				continue
			}
			pages++
			scene := drawn(t, st, id)
			for _, complaint := range complaints(scene) {
				t.Errorf("%s, %s: %s", filepath.Base(path), id, complaint)
			}
			second := drawn(t, again, id)
			one, err := draw.SVG(&scene)
			two, _ := draw.SVG(&second)
			if err != nil || !bytes.Equal(one, two) {
				t.Errorf("%s, %s: drawn twice it differs (%v)", filepath.Base(path), id, err)
			}
			if pages%5 == 0 { // a process each takes its time
				pagetest.Lint(t, one)
			}
		}
	}
	if pages < 60 {
		t.Errorf("only %d pages", pages)
	}
}

// bench is an installation with one fuse, that of its only feed.
func bench(t *testing.T, part, more string) *study.Study {
	t.Helper()
	st, mistakes := benched(t, part, more)
	if mistakes != nil {
		t.Fatal(mistakes)
	}
	return st
}

func benched(t *testing.T, part, more string) (*study.Study, error) {
	t.Helper()
	text := fmt.Sprintf(`farend: 1
site: {ambient: 35 °C, coldest: -10 °C}
supplies: {T1: {part: supply/5v-300w}}
runs: {E1: {tape: tape/5v-rgb-60, length: 1 m}}
cables: {W1: {part: cable/flex-2x2.5, length: 1 m, from: T1, to: E1@start, fuse: %s}}
states: {full: {}}
%s`, part, more)
	s, mistakes := scheme.Read("bench", []byte(text), parts.Catalogue())
	if len(mistakes) > 0 {
		return nil, mistakes
	}
	st, err := study.New(t.Context(), s)
	if err != nil {
		t.Fatal(err)
	}
	return st, nil
}

// paper reads places of a page back as amperes and seconds, from the numbers at the axes of its SVG.
type paper struct {
	t     *testing.T
	page  page
	x, y  [2]float64 // of 1 A and 1 s, and of a decade
	lines map[string][]path
}

type page struct {
	Groups []struct {
		ID    string `xml:"id,attr"`
		Paths []path `xml:"path"`
		Texts []struct {
			X     float64 `xml:"x,attr"`
			Y     float64 `xml:"y,attr"`
			Size  float64 `xml:"font-size,attr"`
			Words string  `xml:",chardata"`
		} `xml:"text"`
	} `xml:"g"`
}

type path struct {
	D      string `xml:"d,attr"`
	Fill   string `xml:"fill,attr"`
	Stroke string `xml:"stroke,attr"`
	Width  string `xml:"stroke-width,attr"`
	Dash   string `xml:"stroke-dasharray,attr"`
}

func newPaper(t *testing.T, scene draw.Scene) *paper {
	t.Helper()
	const s = "\u202f"
	p := &paper{t: t, lines: map[string][]path{}}
	p.read(t, scene, "1"+s+"A", "10"+s+"A", "1"+s+"s", "10"+s+"s")
	return p
}

// read reads a page whose axes have two numbers each, a decade apart.
func (p *paper) read(t *testing.T, scene draw.Scene, x1, x10, y1, y10 string) {
	t.Helper()
	text, err := draw.SVG(&scene)
	if err != nil {
		t.Fatal(err)
	}
	if err := xml.Unmarshal(text, &p.page); err != nil {
		t.Fatal(err)
	}
	at := map[string][2]float64{}
	for _, g := range p.page.Groups {
		p.lines[g.ID] = g.Paths
		if g.ID == "axes" {
			for _, text := range g.Texts {
				at[text.Words] = [2]float64{text.X, text.Y - 1} // numbers of times stand 1 mm below their line
			}
		}
	}
	p.x = [2]float64{at[x1][0], at[x10][0] - at[x1][0]}
	p.y = [2]float64{at[y1][1], at[y1][1] - at[y10][1]}
	if p.x[1] < 10 || p.y[1] < 10 {
		t.Fatalf("decades of %v and %v mm", p.x[1], p.y[1])
	}
}

// points is the places of a path of straight lines, as amperes and seconds.
func (p *paper) points(d string) [][2]float64 {
	var list [][2]float64
	for _, place := range strings.FieldsFunc(d, func(r rune) bool { return r == 'M' || r == 'L' || r == 'Z' }) {
		x, y, _ := strings.Cut(place, " ")
		list = append(list, [2]float64{math.Pow(10, (number(p.t, x)-p.x[0])/p.x[1]), math.Pow(10, (p.y[0]-number(p.t, y))/p.y[1])})
	}
	return list
}

func number(t *testing.T, text string) float64 {
	v, err := strconv.ParseFloat(text, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// line is the only line of a layer with that colour, width and dash.
func (p *paper) line(layer, stroke, width, dash string) [][2]float64 {
	p.t.Helper()
	var found [][2]float64
	for _, l := range p.lines[layer] {
		if l.Fill == "none" && l.Stroke == stroke && l.Width == width && l.Dash == dash {
			if found != nil {
				p.t.Fatalf("there are two lines %s %s %s in %s", stroke, width, dash, layer)
			}
			found = p.points(l.D)
		}
	}
	return found
}

const (
	ink, copper, graphite = "#1B2530", "#A4572A", "#66707A"

	// read is how well a place to the micrometre gives a number back, over decades of 20 mm and more: 0.001/20·ln 10.
	read = 2e-4
)

func near(a, b float64) bool { return math.Abs(a/b-1) < read }

// What the SVG of the footbridge shows, read back from it: the gates of a blade fuse of 7.5 A (ISO 8820-3), of which 95 % count in
// air of 35 °C (34 of 40 A at 65 °C: sheet of a maxi fuse; a third of the way there from 20 °C) and 104 % at −10 °C (half of the way to 108 % at −40 °C, derived in the catalogue); what 2.5 mm² stand
// (k = 115, IEC 60364-4-43: 82,656 A²s); the loads that were solved; and what the cable may carry.
func TestFootbridgeReadBackFromItsSVG(t *testing.T) {
	st := schemetest.Study(t, "testdata/footbridge.scheme.yaml")
	p := newPaper(t, drawn(t, st, "A1.2"))

	slow := p.line("lines", ink, "0.5", "")
	cold := 7.5 * 1.04
	want := [][2]float64{{1.35 * cold, 1e4}, {1.35 * cold, 1800}, {1.6 * cold, 1800}, {1.6 * cold, 50}, {2 * cold, 50}, {2 * cold, 5}, {3.5 * cold, 5}, {3.5 * cold, 0.5}, {6 * cold, 0.5}, {6 * cold, 0.15}, {1000, 0.15}}
	same(t, "slow edge", slow, want)
	fast := p.line("lines", ink, "0.25", "")
	hot := 7.5 * 0.95
	want = [][2]float64{{1.1 * hot, 1e4}, {1.1 * hot, 0.75}, {1.35 * hot, 0.75}, {1.35 * hot, 0.25}, {1.6 * hot, 0.25}, {1.6 * hot, 0.15}, {2 * hot, 0.15}, {2 * hot, 0.04}, {3.5 * hot, 0.04}, {3.5 * hot, 0.02}, {6 * hot, 0.02}, {6 * hot, 0.001}}
	same(t, "fast edge", fast, want)
	same(t, "k²S²", p.line("lines", graphite, "0.5", "5 1 0.8 1"), [][2]float64{{115 * 2.5 / math.Sqrt(5), 5}, {115 * 2.5 / math.Sqrt(0.1), 0.1}})

	heaviest := 0.0
	for _, c := range st.Cases() {
		if c.Kind == network.State || c.Kind == network.Peak {
			heaviest = max(heaviest, float64(st.Result(c.Name).Ways["A1.2"].Amps.RMS))
		}
	}
	iz := float64(st.Result("cap-failed").Cables["W3"].Iz)
	for name, c := range map[string]struct {
		amps                float64
		stroke, width, dash string
	}{
		"load":      {heaviest, copper, "0.5", ""},
		"failed":    {float64(st.Result("cap-failed").Ways["A1.2"].Amps.RMS), copper, "0.5", "3 1.2"},
		"Iz":        {iz, graphite, "0.25", "7 1.2"},
		"1.45 · Iz": {1.45 * iz, graphite, "0.25", "1.2 1.2"},
	} {
		line := p.line("labels", c.stroke, c.width, c.dash)
		if len(line) != 2 || !near(line[0][0], c.amps) || !near(line[1][0], c.amps) || !near(line[0][1], 1e-3) || line[1][1] < 1e4 {
			t.Errorf("%s is drawn from %v, want it upright at %v A", name, line, c.amps)
		}
	}
	for _, g := range p.page.Groups {
		for _, text := range g.Texts {
			if text.Size < 7*25.4/72-1e-3 {
				t.Errorf("%q is %v mm high, 7 pt are %v", text.Words, text.Size, 7*25.4/72)
			}
		}
	}
}

func same(t *testing.T, name string, got, want [][2]float64) {
	t.Helper()
	if len(got) != len(want) {
		t.Fatalf("%s turns at %v, want %v", name, got, want)
	}
	for i := range want {
		if !near(got[i][0], want[i][0]) || !near(got[i][1], want[i][1]) {
			t.Errorf("%s turns at %v, want %v", name, got[i], want[i])
		}
	}
}

// For every fuse of the catalogue: the page is clean, no place above and right of the slow edge is one at which the fuse may not have
// opened, none below and left of the fast edge one at which it may have, and the estimate is the band's.
func TestEdgesOfEveryFuseAreThoseOfItsBand(t *testing.T) {
	library := parts.Catalogue()
	r := rand.New(rand.NewSource(1))
	for _, name := range library.Names("fuse") {
		part, _ := parts.Get[parts.Fuse](library, name)
		curve, ok := network.Curve(library, part)
		if !ok {
			continue
		}
		scene := drawn(t, bench(t, name, ""), "W1")
		for _, complaint := range complaints(scene) {
			t.Errorf("%s: %s", name, complaint)
		}
		p := newPaper(t, scene)
		slow, fast := curve.Band(part.Rating.Is, -10), curve.Band(part.Rating.Is, 35)
		opened, holds := p.line("lines", ink, "0.5", ""), p.line("lines", ink, "0.25", "")
		for range 200 {
			amps := unit.Ampere(math.Exp(math.Log(0.2) + r.Float64()*math.Log(2000)))
			if beside(curve.Gates, amps, slow.Rating, fast.Rating) {
				continue
			}
			if got, want := height(opened, float64(amps), 1e4), float64(slow.Opens(amps)); !near(got, min(max(want, 1e-3), 1e4)) {
				t.Fatalf("%s: at %v the slow edge is drawn at %v s, the fuse opens within %v s", name, amps, got, want)
			}
			if got, want := height(holds, float64(amps), 1e-3), float64(fast.Holds(amps)); !near(got, min(max(want, 1e-3), 1e4)) {
				t.Fatalf("%s: at %v the fast edge is drawn at %v s, the fuse holds %v s", name, amps, got, want)
			}
		}
		for _, l := range p.lines["lines"] {
			if l.Width != "0.13" || l.Dash == "" {
				continue
			}
			ends := p.points(l.D)
			amps, seconds := math.Sqrt(ends[0][0]*ends[1][0]), math.Sqrt(ends[0][1]*ends[1][1])
			_, slowest := slow.Estimated(unit.Ampere(amps))
			fastest, _ := fast.Estimated(unit.Ampere(amps))
			if math.Abs(seconds/float64(slowest)-1) > 5e-3 && math.Abs(seconds/float64(fastest)-1) > 5e-3 { // a steep line turns a micrometre into more
				t.Errorf("%s: at %v A a line of the estimate is at %v s; the band has %v and %v", name, amps, seconds, fastest, slowest)
			}
		}
	}
}

// beside reports whether a current is so near to a gate that reading cannot tell the side.
func beside(gates []fuse.Gate, amps unit.Ampere, ratings ...unit.Ampere) bool {
	for _, g := range gates {
		for _, rating := range ratings {
			if math.Abs(float64(amps/(rating*unit.Ampere(g.Multiple)))-1) < 1e-3 {
				return true
			}
		}
	}
	return false
}

// height is where stairs are at a current; otherwise where they have ended, and the upper edge before they begin.
func height(stairs [][2]float64, amps, otherwise float64) float64 {
	if len(stairs) == 0 {
		return otherwise
	}
	if amps < stairs[0][0] {
		return 1e4
	}
	for i := 0; i+1 < len(stairs); i++ {
		if a, b := stairs[i], stairs[i+1]; near(a[1], b[1]) && amps >= a[0] && amps <= b[0] {
			return a[1]
		}
	}
	return 1e-3
}

// The page of a way of the footbridge, as text. A change here is a change of what people see.
func TestFootbridgePageIsAsBefore(t *testing.T) {
	sheettest.Golden(t, "testdata/footbridge.A1.2.scene.txt", drawn(t, schemetest.Study(t, "testdata/footbridge.scheme.yaml"), "A1.2"))
}

// words is every text of a page in one.
func words(s draw.Scene) string {
	var b strings.Builder
	for _, l := range s.Layers {
		for _, text := range l.Texts {
			b.WriteString(text.Words + "\n")
		}
	}
	return strings.ReplaceAll(b.String(), "\u202f", " ")
}

// The cables behind a fuse: through junctions and bridged ways, as far as the tape, and not behind another fuse. Listed against its
// current a cable is followed all the same.
func TestCablesBehindAFuse(t *testing.T) {
	st := schemetest.Study(t, "testdata/odd.scheme.yaml")
	for id, want := range map[string]string{
		"A1.1": "W4, 1.5 mm²; W5, 1 mm²; W6 begins with its own fuse",
		"A1.2": "W7, 1.5 mm²; W8, 1 mm²", // A2.1 is bridged
		"A1.3": "W9, 1.5 mm²",
		"A1.4": "W12",
		"W1":   "W1, 35 mm²; W2 and W3 begin with their own fuses",
		"W3":   "W3, 6 mm²",
	} {
		if got := words(drawn(t, st, id)); !strings.Contains(got, "Cables behind it\n"+want+"\n") {
			t.Errorf("%s: the cables are not %q in\n%s", id, want, got)
		}
	}
}

// The head of a page has the verdict of the table of protection, that of the cables behind the fuse too, and who says it.
func TestTheHeadSaysTheVerdict(t *testing.T) {
	st := schemetest.Study(t, "testdata/odd.scheme.yaml")
	rule := &study.Rule{Name: "protection/own", Title: "Fuse and cable", Safety: true}
	for want, all := range map[string][]study.Assessed{
		"Pass\n":                            nil,
		"[D] Danger: Fuse and cable, W5\n":  {{Rule: rule, Subject: "W4", Assessment: study.Assessment{Grade: finding.Fails}}, {Rule: rule, Subject: "W5", Assessment: study.Assessment{Grade: finding.Danger}}},
		"[T] Tight: Fuse and cable, A1.1\n": {{Rule: rule, Subject: "A1.1", Assessment: study.Assessment{Grade: finding.Tight}}, {Rule: rule, Subject: "W6", Assessment: study.Assessment{Grade: finding.Danger}}},
	} {
		leaf, err := chart.TimeCurrent(st, "A1.1", all, sheettest.A4)
		if err != nil {
			t.Fatal(err)
		}
		if got := words(sheettest.Bound(st, leaf)); !strings.Contains(got, "\n"+want) {
			t.Errorf("%q is not in\n%s", want, got)
		}
	}
}

// Whatever a curve of one's own says, the page is clean and can be written.
func TestPagesOfAnyCurveAreClean(t *testing.T) {
	r := rand.New(rand.NewSource(1))
	for range 60 {
		rating := math.Pow(10, 24*r.Float64()-15)
		if r.Intn(3) > 0 {
			rating = math.Pow(10, 4*r.Float64()-1)
		}
		var gates, derating []string
		multiple, longest := 0.1+r.Float64(), [2]float64{1e6 * r.Float64(), 1e6 * r.Float64()}
		for range 1 + r.Intn(6) {
			gate := fmt.Sprintf("multiple: %g", multiple)
			if longest[1] = max(longest[1], longest[0]); r.Intn(3) > 0 {
				gate += fmt.Sprintf(", min: %g s", longest[0])
			}
			if r.Intn(3) > 0 || !strings.Contains(gate, "min") {
				gate += fmt.Sprintf(", max: %g s", longest[1])
			}
			gates = append(gates, "{"+gate+"}")
			multiple *= 1.001 + math.Pow(10, 3*r.Float64()-2)
			if r.Intn(20) == 0 {
				multiple *= 1e300
			}
			longest[0], longest[1] = longest[0]*math.Pow(r.Float64(), 3), longest[1]*math.Pow(r.Float64(), 3)+1e-9
		}
		if math.IsInf(multiple, 1) {
			continue
		}
		if r.Intn(2) == 0 {
			derating = append(derating, fmt.Sprintf("{at: 0 °C, factor: %g %%}, {at: 50 °C, factor: %g %%}", 100+100*r.Float64(), 1+99*r.Float64()))
		}
		text := fmt.Sprintf(`parts:
  fuse/mine: {title: Mine, rating: %g A, resistance: 10 mΩ, curve: curve/mine}
  curve/mine: {title: Mine, gates: [%s], derating: [%s]}
`, rating, strings.Join(gates, ", "), strings.Join(derating, ", "))
		st, mistakes := benched(t, "fuse/mine", text)
		if mistakes != nil {
			t.Fatalf("%v in\n%s", mistakes, text)
		}
		scene := drawn(t, st, "W1")
		if _, err := draw.SVG(&scene); err != nil {
			t.Errorf("%v of\n%s", err, text)
		}
		for _, complaint := range complaints(scene) {
			t.Errorf("%s of\n%s", complaint, text)
		}
	}
}

// What cannot be drawn is said, with the reason.
func TestPagesSayWhatTheyLeaveOut(t *testing.T) {
	st := schemetest.Study(t, "testdata/odd.scheme.yaml")
	for id, want := range map[string]string{
		"A1.3": "k²S² is not drawn for W9 (105 °C): k = 115 is for PVC of 70 °C.",
		"A1.4": "Not chosen yet, so not drawn: W12.",
		"W10":  "The load is less than 1 mA, and not drawn.",
		"W11":  "Air this warm is beyond what its curve speaks of: it then holds less than drawn.",
		"W3":   "Its curve does not say what air does to its rating.",
	} {
		got := words(drawn(t, st, id))
		if !strings.Contains(strings.ReplaceAll(got, "\n", " "), want) {
			t.Errorf("%s does not say %q:\n%s", id, want, got)
		}
	}
	for id, want := range map[string]string{
		"W10": "Its gates do not say that it ever opens, so it has no slow edge.",
		"W11": "Its gates do not say that it holds at all, so it has no fast edge.",
	} {
		if got := strings.ReplaceAll(words(drawn(t, st, id)), "\n", " "); !strings.Contains(got, want) {
			t.Errorf("%s does not say %q", id, want)
		}
	}
	if got := words(drawn(t, st, "A1.1")); !strings.Contains(got, "Known least: gate 1 of curve/iso8820-blade (memory).") {
		t.Errorf("a page rests on memory and does not say so:\n%s", got)
	}
}

func TestNothingIsDrawnOfWhatHasNoCurve(t *testing.T) {
	st := schemetest.Study(t, "testdata/odd.scheme.yaml")
	open := bench(t, "choose", "")
	none := bench(t, "fuse/inline-5A", "junctions: {X1: {part: junction/lever-3}}\n")
	for _, c := range []struct {
		st             *study.Study
		id, text, hint string
	}{
		{st, "A9.1", `there is no way or cable "A9.1"`, "fuses are in A1.1, A1.2, A1.3, A1.4, A2.2, W1, W2, "},
		{st, "", `there is no way or cable ""`, "fuses are in "},
		{st, "A2.1", "A2.1 has no fuse, so there is nothing to draw of it", "fuses are in "},
		{st, "W4", "W4 has no fuse, so there is nothing to draw of it", "fuses are in "},
		{st, "A2.2", "fuse/bare has no curve, so nothing says when it opens", "give the part the curve of its family, such as curve: curve/iso8820-blade"},
		{open, "W1", "the fuse of W1 is not chosen yet", "farend parts fuse lists fuses"},
		{none, "X1", `there is no way or cable "X1"`, "fuses are in W1"},
	} {
		leaf, err := chart.TimeCurrent(c.st, c.id, nil, sheettest.A4)
		var why *drafting.Error
		if !errors.As(err, &why) || why.Error() != c.text || !strings.HasPrefix(why.Hint, c.hint) || leaf.Layers != nil {
			t.Errorf("%q: %v", c.id, err)
		}
	}
}

// Kinds of lines differ in more than their colour.
func TestKindsOfLinesDifferInGrey(t *testing.T) {
	seen := map[string]int{}
	for _, l := range drawn(t, schemetest.Study(t, "testdata/footbridge.scheme.yaml"), "A1.2").Layers {
		if l.Name != "key" {
			continue
		}
		for i, p := range l.Paths {
			if p.Pen.Width == 0 || p.Fill != draw.None {
				continue
			}
			dotted := i+1 < len(l.Paths) && l.Paths[i+1].Pen.Width == 0
			seen[fmt.Sprint(p.Pen.Width, p.Pen.Dash, dotted, len(p.Steps) > 2)]++
		}
	}
	for kind, n := range seen {
		if n > 1 {
			t.Errorf("%d kinds of lines look like %s in grey", n, kind)
		}
	}
	if len(seen) < 11 {
		t.Errorf("only %d kinds of lines", len(seen))
	}
}

// Four flags, and six, find rows and sides in which nothing goes through words, wherever their lines are and whatever they are called.
func TestFlagsArePlantedClear(t *testing.T) {
	r := rand.New(rand.NewSource(1))
	for i := range 300 {
		flags := 4 + i%2*2
		xs, names := make([]float64, flags), make([]string, flags)
		for i := range xs {
			xs[i] = 30 + 164*r.Float64()
			if r.Intn(4) == 0 && i > 0 {
				xs[i] = xs[i-1] + r.Float64()
			}
			names[i] = strings.Repeat("n", 4+r.Intn(24))
		}
		slices.Sort(xs)
		bad, rows := chart.Planted(xs, names, 12, 198)
		slices.Sort(rows)
		if bad > 0 || !slices.Equal(rows, []int{0, 1, 2, 3, 4, 5}[:flags]) {
			t.Fatalf("%v %v: %d faults, rows %v", xs, names, bad, rows)
		}
	}
}
