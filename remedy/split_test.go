package remedy

import (
	"fmt"
	"math"
	"math/rand"
	"strings"
	"testing"

	"farend/finding"
	"farend/internal/schemetest"
	"farend/parts"
	"farend/scheme"
	"farend/study"
	"farend/unit"
)

// ported is a scheme of 5 V tape on two boards that hang on one supply, with what is said of it.
func ported(sections ...string) string {
	return `farend: 1
aims: {frame_rate: 40 Hz}
supplies: {T1: {part: supply/5v-300w}}
boards: {A1: {part: board/four-way-two-port}, A2: {part: board/four-way-two-port}}
` + strings.Join(sections, "\n") + "\nparts: {" + faint + "}\n"
}

// faint is a tape that draws next to nothing, cut every three pixels.
const faint = `tape/faint: {title: invented, volts: 5 V, volts_min: 3 V, volts_max: 5.5 V, pixels: 50 /m, cut_every: 3, rail: 10 mΩ/m, ` +
	`channels: {white: {set: 1 mA, lo: 1 V, hi: 2 V, soft: 0.02 V}}, idle: {set: 0 mA, lo: 1 V, hi: 2 V, soft: 0.02 V}, protocol: protocol/single-wire-800k-24}`

const inlets = `  W1: {part: cable/flex-2x6, length: 1 m, from: T1, to: A1.in}
  W2: {part: cable/flex-2x6, length: 1 m, from: T1, to: A2.in}
`

// applied makes edits, and reads and solves what comes of it.
func applied(t *testing.T, text string, edits []finding.Edit) *study.Study {
	t.Helper()
	sch, now, mistakes := scheme.Apply("test.scheme.yaml", []byte(text), edits, parts.Catalogue())
	if sch == nil || len(mistakes) > 0 {
		t.Fatalf("%v cannot be made: %v\n%s", edits, mistakes, now)
	}
	s, err := study.New(t.Context(), sch)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// hung says what hangs on each port, and how long the leads are.
func hung(s *study.Study) string {
	var list []string
	for _, p := range s.Ports() {
		list = append(list, p.ID+" "+strings.Join(p.Runs, " "))
	}
	for _, id := range scheme.IDs(s.Scheme.Data) {
		list = append(list, fmt.Sprintf("%s %v", id, *s.Scheme.Data[id].Length))
	}
	return strings.Join(list, ", ")
}

func TestWholeRunsGoToOtherPorts(t *testing.T) {
	two := `runs: {E1: {tape: tape/faint, pixels: 600}, E2: {tape: tape/faint, pixels: 450}}
cables:
` + inlets + `  W3: {part: cable/flex-2x1.5, length: 2 m, from: A1.1, to: E1@start}
  W4: {part: cable/flex-2x1.5, length: 3.03 m, from: A1.2, to: E2@px150}
`
	data := `data:
  D1: {part: cable/data-3x0.5, length: 2.5 m, from: A1.P1, to: E1}
  D2: {part: cable/data-3x0.5, length: 1.25 m, from: E1, to: E2}
`
	for _, c := range []struct {
		name, text string
		want, says string
	}{
		// E2 from A1: along W4 and 3 m of run, 6.03 m; data takes 2.5 m, 12 m of E1 and 1.25 m now.
		{"to the port beside, by the way of a feed", ported(two, data), "A1.P1 E1, A1.P2 E2, D1 2.50 m, D2 6.10 m", "Let data go from A1.P1 to E1, A1.P2 to E2: 54.7 Hz at the slowest port"},
		// A1 to E2@start: 4 m across, 1 m up; D1 is as long as drawn.
		{"by the drawing", ported(two, data, "drawing: {A1: [0, 0], E1: [[0, 2.5], [12, 2.5]], E2: [[4, 1], [13, 1]]}"), "A1.P1 E1, A1.P2 E2, D1 2.50 m, D2 5.00 m", ""},
		// the same, and D1 has half a metre more than is drawn
		{"by the drawing, with what other leads have to spare", ported(two, data, "drawing: {A1: [0, 0], E1: [[0, 2], [12, 2]], E2: [[4, 1], [13, 1]]}"), "A1.P1 E1, A1.P2 E2, D1 2.50 m, D2 5.50 m", ""},
		{"a lead that is drawn is drawn no more", ported(two, strings.Replace(data, "length: 1.25 m, ", "", 1), "drawing: {D2: [[0, 0], [1.25, 0]]}"), "A1.P1 E1, A1.P2 E2, D1 2.50 m, D2 6.10 m", ""},
	} {
		s := solved(t, c.text)
		d, ok := Divide(s, "A1.P1", 40)
		if !ok || !d.Meets() {
			t.Fatalf("%s: it does not meet the aim: %+v", c.name, d.division)
		}
		if c.says != "" && d.Says() != c.says {
			t.Errorf("%s: it says %q, want %q", c.name, d.Says(), c.says)
		}
		if got := hung(applied(t, c.text, d.Edits())); got != c.want {
			t.Errorf("%s: it is %s, want %s", c.name, got, c.want)
		}
	}
}

// A port of another board would bring the ground of that board along, unless it feeds the run or sends to it now.
func TestARunStaysWithItsBoards(t *testing.T) {
	text := func(feed string) string {
		return ported(`runs: {E1: {tape: tape/faint, pixels: 600}, E2: {tape: tape/faint, pixels: 420}, E3: {tape: tape/faint, pixels: 600}}
cables:
`+inlets+`  W3: {part: cable/flex-2x1.5, length: 2 m, from: A1.1, to: E1@start}
  W4: {part: cable/flex-2x1.5, length: 3 m, from: `+feed+`, to: E2@start}
  W5: {part: cable/flex-2x1.5, length: 2 m, from: A1.3, to: E3@start}`, `data:
  D1: {part: cable/data-3x0.5, length: 2 m, from: A1.P1, to: E1}
  D2: {part: cable/data-3x0.5, length: 1 m, from: E1, to: E2}
  D3: {part: cable/data-3x0.5, length: 2 m, from: A1.P2, to: E3}`)
	}
	for feed, want := range map[string]string{
		// Its pieces change places: the lead to the second is that of now and 4.2 m of tape; from the end of the first, back along 4.2 m of tape and 3 m of feed, 2 m on.
		"A1.2":   "A1.P1 E1 E2b, A1.P2 E2 E3, D1 2.00 m, D2 3.00 m, D3 9.20 m, D4 5.20 m",
		"A2.2":   "A1.P1 E1, A1.P2 E3, A2.P1 E2, D1 2.00 m, D2 3.00 m, D3 2.00 m",
		"E3@end": "A1.P1",
	} {
		s := solved(t, text(feed))
		d, ok := Divide(s, "A1.P1", 40)
		if got := hung(applied(t, text(feed), d.Edits())); !ok || !strings.HasPrefix(got, want) {
			t.Errorf("E2 hangs on %s: it is %s, want %s", feed, got, want)
		}
	}
}

// A buffer where a lead begins is fed by the board at a port, and by the rails at a run: it goes along to the end of a run only where its tape has its voltage.
func TestABufferGoesAlongWhereItIsFed(t *testing.T) {
	text := ported(`runs: {E1: {tape: tape/faint, pixels: 600}, E2: {tape: tape/faint, pixels: 420}, E3: {tape: tape/faint, pixels: 600}}
cables:
`+inlets+`  W3: {part: cable/flex-2x1.5, length: 2 m, from: A1.1, to: E1@start}
  W4: {part: cable/flex-2x1.5, length: 3 m, from: A1.2, to: E2@start}
  W5: {part: cable/flex-2x1.5, length: 2 m, from: A1.3, to: E3@start}`, `data:
  D1: {part: cable/data-3x0.5, length: 2 m, from: A1.P1, to: E1}
  D2: {part: cable/data-3x0.5, length: 1 m, from: E1, to: E2}
  D3: {part: cable/data-3x0.5, length: 2 m, from: A1.P2, to: E3, buffer: {part: buffer/ahct-5v, at: from}}`)
	for volts, stays := range map[string]bool{"volts: 5 V, volts_min: 3 V, volts_max: 5.5 V": true, "volts: 12 V, volts_min: 3 V, volts_max: 13 V": false} {
		text := strings.Replace(text, "volts: 5 V, volts_min: 3 V, volts_max: 5.5 V", volts, 1)
		d, ok := Divide(solved(t, text), "A1.P1", 40)
		s := applied(t, text, d.Edits())
		if lead := s.Scheme.Data["D3"]; !ok || lead.From.Kind != scheme.RunRef || (lead.Buffer != nil) != stays {
			t.Errorf("%s: D3 begins at %s, with a buffer: %t", volts, lead.From, lead.Buffer != nil)
		}
	}
}

// A lead that carries the supply is copper too: it stays where it begins, or goes to a port of the same board.
func TestALeadWithPowerStays(t *testing.T) {
	text := func(first, second string) string {
		return ported(`runs: {E1: {tape: tape/faint, pixels: 501}, E2: {tape: tape/faint, pixels: 300}, E3: {tape: tape/faint, pixels: 300}}
cables:
`+inlets+`  W3: {part: cable/flex-2x1.5, length: 2 m, from: A1.1, to: E1@start}
  W4: {part: cable/flex-2x1.5, length: 2 m, from: A1.2, to: E3@start}`, `data:
  D1: {part: cable/data-3x0.5, length: 2 m, from: A1.P1, to: E1`+first+`}
  D2: {part: cable/data-3x0.5, length: 1 m, from: E1, to: E2`+second+`}
  D3: {part: cable/data-3x0.5, length: 1 m, from: E2, to: E3}`)
	}
	for _, c := range []struct{ first, second, want string }{
		{"", "", "A1.P1 E1, A1.P2 E2 E3"},
		{"", ", power: yes", "A1.P1 E1 E2, A1.P2 E3"},
		{", power: yes", ", power: yes", "A1.P1 E1 E2, A1.P2 E3"},
	} {
		d, ok := Divide(solved(t, text(c.first, c.second)), "A1.P1", 40)
		got := hung(applied(t, text(c.first, c.second), d.Edits()))
		if !ok || !strings.HasPrefix(got, c.want) {
			t.Errorf("%v: it is %s, want %s", c, got, c.want)
		}
	}
}

// rich is a run with everything that can be said of one, and a chain that goes on from its end.
var rich = ported(`site: {separate: [[E1, E2], [E3, E1]]}
runs:
  E1: {tape: tape/faint, length: 24 m, label: ring, reel: R1, ip: 65, cuts: [{at: px300, pole: plus}, {at: px900, pole: both}], joints: [2 m, 20 m]}
  E2: {tape: tape/faint, pixels: 150}
  E3: {tape: tape/faint, pixels: 90}
cables:
` + inlets + `  W3: {part: cable/flex-2x1.5, length: 2 m, from: A1.1, to: E1@start}
  W4: {part: cable/flex-2x2.5, length: 2 m, from: A1.2, to: E1@px450, suits: damp}
  W5: {part: cable/flex-2x1.5, length: 2 m, from: A1.3, to: E1@18m}
  W6: {part: cable/flex-2x1.5, length: 2 m, from: E1@px900-, to: E2@start}
  W7: {part: cable/flex-2x1.5, length: 2 m, from: E1@end, to: E3@start}
capacitors: {C1: {part: capacitor/1000uF-10V, at: E1@px1050}, C2: {part: capacitor/1000uF-10V, at: E1@px300}}
data:
  D1: {part: cable/data-3x0.5, length: 2.2 m, from: A1.P1, to: E1, buffer: {part: buffer/ahct-5v, at: from}, suits: outdoors}
  D2: {part: cable/data-3x0.5, length: 1.5 m, from: E1, to: E2, ground: open}
  D3: {part: cable/data-3x0.5, length: 0.5 m, from: E2, to: E3}
states:
  full: {}
  part: {level: 30 %, runs: {E1: {level: 12.5 %, colour: white}, E2: {level: 90 %}}}
drawing:
  A1: [0, -1]
  E1: [[0, 0], [10, 0], [10, 10], [14, 10]]
  E2: [[14, 12], [17, 12]]`)

// 1200 + 150 + 90 pixels over two ports, cut every three: 720 each.
func TestARunThatIsCutTakesAllOfItAlong(t *testing.T) {
	s := solved(t, rich)
	d, ok := Divide(s, "A1.P1", 40)
	if !ok || !d.Meets() || d.division.Cuts != 1 || math.Abs(float64(d.Rate())-1/(720*30e-6+280e-6)) > 0.01 {
		t.Fatalf("it is %+v", d.division)
	}
	edits := map[string]any{}
	for _, e := range d.Edits() {
		edits[e.Path] = e.Value
	}
	for path, want := range map[string]any{
		"/runs/E1/pixels": 720, "/runs/E1/length": nil, "/runs/E1/cuts": []any{map[string]any{"at": "px300", "pole": "plus"}}, "/runs/E1/joints": []any{"2 m"},
		"/runs/E1b": map[string]any{"tape": "tape/faint", "pixels": 480, "label": "ring, E1b", "reel": "R1", "ip": "65",
			"cuts": []any{map[string]any{"at": "px180", "pole": "both"}}, "joints": []any{"5.6 m"}},
		"/states/part/runs/E1b": map[string]any{"level": "12.5 %", "colour": "white"},
		"/drawing/E1":           []any{[]any{0.0, 0.0}, []any{10.0, 0.0}, []any{10.0, 4.4}}, "/drawing/E1b": []any{[]any{10.0, 4.4}, []any{10.0, 10.0}, []any{14.0, 10.0}},
		"/cables/W5/to": "E1b@px180", "/cables/W6/from": "E1b@px180-", "/cables/W7/from": "E1b@end", "/capacitors/C1/at": "E1b@px330",
		"/cables/W8":     map[string]any{"part": "cable/flex-2x2.5", "length": "0.1 m", "from": "E1@end", "to": "E1b@start", "suits": "damp", "label": scheme.EstimatedLength},
		"/site/separate": []any{[]any{"E1", "E2"}, []any{"E3", "E1"}, []any{"E1b", "E2"}, []any{"E3", "E1b"}},
		// 10 m across and 5.4 m along from the board, and what D1 has more than drawn: 1.2 m.
		"/data/D4":      map[string]any{"part": "cable/data-3x0.5", "length": "16.6 m", "from": "A1.P2", "to": "E1b", "buffer": map[string]any{"part": "buffer/ahct-5v", "at": "from"}, "suits": "outdoors", "label": scheme.DrawnLength},
		"/data/D2/from": "E1b",
	} {
		got, there := edits[path]
		if fmt.Sprint(got) != fmt.Sprint(want) || !there {
			t.Errorf("%s becomes %v, want %v", path, got, want)
		}
		delete(edits, path)
	}
	if len(edits) > 0 {
		t.Errorf("there is more: %v", edits)
	}
	drawAlike(t, s, applied(t, rich, d.Edits()), 1e-3)
}

// drawAlike holds a scheme to draw, state by state, what another draws, and to light as many pixels.
func drawAlike(t *testing.T, was, is *study.Study, part float64) {
	t.Helper()
	pixels := func(s *study.Study) (n int) {
		for _, run := range s.Scheme.Runs {
			n += run.Count
		}
		return n
	}
	if pixels(was) != pixels(is) {
		t.Errorf("it has %d pixels, and had %d", pixels(is), pixels(was))
	}
	for _, c := range was.Cases() {
		amps := func(s *study.Study) (sum float64) {
			for _, supply := range s.Result(c.Name).Supplies {
				sum += float64(supply.Amps.Mean)
			}
			return sum
		}
		if a, b := amps(was), amps(is); math.Abs(a-b) > part*math.Abs(a)+1e-6 {
			t.Errorf("%s: supplies give %v, and gave %v", c.Name, b, a)
		}
	}
}

// Where poles are cut already nothing joins them; a single core where only one is.
func TestPolesThatWereWholeStayWhole(t *testing.T) {
	text := func(cuts, pole string) string {
		part := "cable/flex-2x2.5"
		if pole != "" {
			part = "cable/link-1x2.5"
		}
		feeds := "  W3: {part: " + part + ", length: 2 m, from: A1.1, to: E1@start" + pole + "}\n"
		if pole != "" {
			feeds += "  W4: {part: " + part + ", length: 2 m, from: A1.1, to: E1@start, pole: return}\n"
		}
		return ported("runs: {E1: {tape: tape/faint, pixels: 1200, cuts: ["+cuts+"]}}\ncables:\n"+inlets+feeds+
			"  W9: {part: cable/flex-2x1.5, length: 2 m, from: A1.2, to: E1@end}", "data: {D1: {part: cable/data-3x0.5, length: 2 m, from: A1.P1, to: E1}}")
	}
	for _, c := range []struct{ cuts, pole, want string }{
		{"", "", "W10 both cable/flex-2x2.5"},
		{"{at: px600, pole: plus}", "", "W10 return cable/flex-2x2.5"},
		{"{at: px600, pole: return}", "", "W10 plus cable/flex-2x2.5"},
		{"{at: px600, pole: both}", "", ""},
		{"", ", pole: plus", "W10 plus cable/link-1x2.5, W11 return cable/link-1x2.5"},
	} {
		s := solved(t, text(c.cuts, c.pole))
		d, ok := Divide(s, "A1.P1", 40)
		if !ok || !d.Meets() {
			t.Fatalf("%v: it does not meet the aim", c)
		}
		is := applied(t, text(c.cuts, c.pole), d.Edits())
		var links []string
		for _, id := range scheme.IDs(is.Scheme.Cables) {
			if cable := is.Scheme.Cables[id]; cable.From.Element == "E1" && cable.To.String() == "E1b@start" {
				pole := cable.Pole
				if pole == "" {
					pole = scheme.Both
				}
				links = append(links, id+" "+string(pole)+" "+cable.Part)
			}
		}
		if got := strings.Join(links, ", "); got != c.want {
			t.Errorf("%v: it is %q, want %q", c, got, c.want)
		}
		drawAlike(t, s, is, 1e-3)
	}
}

// A run that has its length by the drawing alone; a name that is taken; a cut in three, at marks.
func TestARunThatIsOnlyDrawnIsCutInThree(t *testing.T) {
	text := ported("boards: {A1: {part: board/ten-way-six-port}}\nruns: {E1: {tape: tape/faint}, E1b: {tape: tape/faint, pixels: 30}}\ncables:\n"+inlets+`  W3: {part: cable/flex-2x1.5, length: 2 m, from: A1.1, to: E1@start}
  W4: {part: cable/flex-2x1.5, length: 2 m, from: A1.2, to: E1b@start}`, `data:
  D1: {part: cable/data-3x0.5, length: 2 m, from: A1.P1, to: E1}
  D2: {part: cable/data-3x0.5, length: 2 m, from: A1.P3, to: E1b}
drawing: {E1: [[0, 0], [45, 0]]}`)
	text = strings.Replace(text, "boards: {A1: {part: board/four-way-two-port}, A2: {part: board/four-way-two-port}}\n", "", 1)
	text = strings.Replace(text, "  W2: {part: cable/flex-2x6, length: 1 m, from: T1, to: A2.in}\n", "", 1)
	s := solved(t, text)
	d, ok := Divide(s, "A1.P1", 40)
	if !ok || !d.Meets() || d.division.Cuts != 2 {
		t.Fatalf("2250 pixels, 822 on a port: it is %+v", d.division)
	}
	is := applied(t, text, d.Edits())
	drawAlike(t, s, is, 1e-3)
	var runs []string
	for _, id := range scheme.IDs(is.Scheme.Runs) {
		runs = append(runs, fmt.Sprintf("%s %d %v", id, is.Scheme.Runs[id].Count, is.Scheme.Drawing[id].Points))
	}
	if got, want := strings.Join(runs, ", "), "E1 750 [[0 0] [15 0]], E1b 30 [], E1c 750 [[15 0] [30 0]], E1d 750 [[30 0] [45 0]]"; got != want {
		t.Errorf("it is %s, want %s", got, want)
	}
}

func TestWhatIsLackingIsSaid(t *testing.T) {
	text := func(pixels int) string {
		return ported(fmt.Sprintf("runs: {E1: {tape: tape/faint, pixels: %d}}\ncables:\n", pixels) + inlets + `  W3: {part: cable/flex-2x1.5, length: 2 m, from: A1.1, to: E1@start}
data: {D1: {part: cable/data-3x0.5, length: 2 m, from: A1.P1, to: E1}}`)
	}
	for _, c := range []struct {
		pixels int
		rate   unit.Hertz
		want   string
	}{
		// A port sends to 822 pixels, in threes, at 40 Hz: 822 · 30 µs + 280 µs = 24.94 ms. Two make 900 each: 27.28 ms.
		{1800, 40, "No division over 2 ports makes more than 36.7 Hz: it takes at least 1 port more, or 156 pixels fewer"},
		{3000, 40, "No division over 2 ports makes more than 22.1 Hz: it takes at least 2 ports more, or 1356 pixels fewer"},
		{300, 4000, "No division over 2 ports makes more than 209 Hz"},
	} {
		d, ok := Divide(solved(t, text(c.pixels)), "A1.P1", c.rate)
		if !ok || d.Meets() || d.Edits() != nil || d.Lacks() != c.want {
			t.Errorf("%d pixels: it says %q, want %q; edits %v", c.pixels, d.Lacks(), c.want, d.Edits())
		}
	}
}

func TestWhatCannotBeDividedIsLeftAlone(t *testing.T) {
	text := ported("runs: {E1: {tape: tape/faint, pixels: 600}}\ncables:\n" + inlets + `  W3: {part: cable/flex-2x1.5, length: 2 m, from: A1.1, to: E1@start}
data: {D1: {part: cable/data-3x0.5, length: 2 m, from: A1.P1, to: E1}}`)
	s := solved(t, text)
	for _, c := range []struct {
		port string
		rate unit.Hertz
	}{{"A1.P9", 40}, {"", 40}, {"E1", 40}, {"A1.P1", 0}, {"A1.P1", unit.Hertz(math.NaN())}, {"A2.P1", 40}} {
		if d, ok := Divide(s, c.port, c.rate); ok {
			t.Errorf("%v is divided: %+v", c, d.division)
		}
	}
	if d, ok := Divide(s, "A1.P1", 40); !ok || d.Changed() || d.Edits() != nil {
		t.Errorf("one run on a port of its own is divided: %+v", d.division)
	}
}

// lowest is the lowest frame rate of all ports; 0 where one is not known.
func lowestRate(s *study.Study) unit.Hertz {
	least := unit.Hertz(math.Inf(1))
	for _, p := range s.Ports() {
		least = min(least, p.Rate)
	}
	return least
}

// Of random schemes, of chains, trees, rings and several boards: what comes of the edits can be read, has every pixel, asks for the current that it did, and no
// frame is longer. It is asked at rates that whole runs meet, that cuts meet, and that nothing meets.
func TestNoDivisionLowersTheFrameRate(t *testing.T) {
	r := rand.New(rand.NewSource(11))
	whole, cut, none := 0, 0, 0
	for i := range 90 {
		items := schemetest.Random(r)
		items["aims"] = []string{fmt.Sprintf("  frame_rate: %d Hz", 100+r.Intn(1200))}
		text := schemetest.Text(items, schemetest.AsWritten)
		s := quick(t, text)
		for _, p := range s.Ports() {
			d, ok := Divide(s, p.ID, s.Scheme.Aims.FrameRate)
			edits := d.Edits()
			if !ok || edits == nil {
				none++
				continue
			}
			sch, changed, mistakes := scheme.Apply("test.scheme.yaml", []byte(text), edits, parts.Catalogue())
			if len(mistakes) > 0 {
				t.Fatalf("scheme %d: %v cannot be made: %v", i, edits, mistakes)
			}
			is := quick(t, string(changed))
			if len(sch.Runs) != len(s.Scheme.Runs)+d.division.Cuts {
				t.Errorf("scheme %d: %d cuts make %d runs", i, d.division.Cuts, len(sch.Runs))
			}
			if a, b := lowestRate(s), lowestRate(is); b < a {
				t.Errorf("scheme %d: the lowest frame rate is %v, and was %v, with %v", i, b, a, edits)
			}
			for _, q := range is.Ports() {
				if q.ID == p.ID && q.Rate < s.Scheme.Aims.FrameRate {
					t.Errorf("scheme %d: %s makes %v", i, q.ID, q.Rate)
				}
			}
			if d.division.Cuts > 0 {
				cut++
			} else {
				whole++
			}
			if a, b := copper(t, text), copper(t, string(changed)); a != b {
				t.Errorf("scheme %d: pixels hang on %s, and hung on %s\n%s\n%v", i, b, a, text, edits)
			}
		}
	}
	t.Logf("%d divisions are of whole runs, %d of cut ones, %d none", whole, cut, none)
	if whole < 10 || cut < 10 || none < 10 {
		t.Errorf("%d divisions are of whole runs, %d of cut ones, %d none", whole, cut, none)
	}
}

// quick reads and solves a scheme, and follows no fault.
func quick(t testing.TB, text string) *study.Study {
	t.Helper()
	sch, mistakes := scheme.Read("test.scheme.yaml", []byte(text), parts.Catalogue())
	if len(mistakes) > 0 {
		t.Fatal(mistakes)
	}
	s, err := study.New(t.Context(), sch, &study.Options{Striking: study.NotNow})
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// copper says how many pixels of each tape hang on which supplies when no data lead is there.
func copper(t *testing.T, text string) string {
	t.Helper()
	_, bare, mistakes := scheme.Apply("test.scheme.yaml", []byte(text), []finding.Edit{{Path: "/data"}}, parts.Catalogue())
	if len(mistakes) > 0 {
		t.Fatal(mistakes)
	}
	s, pixels := quick(t, string(bare)), map[string]int{}
	for id, run := range s.Scheme.Runs {
		for _, f := range s.Network.Feeds(id) {
			pixels[fmt.Sprint(run.Tape, f.Plus, f.Return)] += f.To - f.From
		}
	}
	return fmt.Sprint(pixels)
}
