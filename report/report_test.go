package report_test

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"reflect"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"

	"farend/addressing"
	"farend/draw"
	"farend/finding"
	"farend/internal/pagetest"
	"farend/internal/schemetest"
	"farend/layout"
	"farend/network"
	"farend/parts"
	"farend/report"
	"farend/rulebook"
	"farend/scheme"
	"farend/sheet/drafting"
	"farend/study"
	"farend/unit"
)

var (
	a4     = drafting.Style{Drawings: layout.A3, Texts: layout.A4}
	letter = drafting.Style{Drawings: layout.Tabloid, Texts: layout.Letter, Gauges: true}
)

// reports are the examples, each studied once. Faults of the altered atrium are not followed, for that takes many seconds.
var reports = map[string]func() report.Report{}

func init() {
	for _, name := range []string{"cafe-canopy", "cafe-canopy-hasty", "footbridge", "footbridge-two-feeds", "library-atrium", "library-atrium-altered"} {
		reports[name] = sync.OnceValue(func() report.Report {
			source, err := os.ReadFile("../examples/" + name + ".scheme.yaml")
			if err != nil {
				panic(err)
			}
			r, err := made(name+".scheme.yaml", string(source), name == "library-atrium-altered")
			if err != nil {
				panic(err)
			}
			return r
		})
	}
}

// made is the report on the text of a scheme.
func made(file, text string, quick bool) (report.Report, error) {
	s, mistakes := scheme.Read(file, []byte(text), parts.Catalogue())
	if len(mistakes) > 0 {
		return report.Report{}, mistakes
	}
	options := &study.Options{}
	if quick {
		options.Striking = study.NotNow
	}
	st, err := study.New(context(), s, options)
	if err != nil {
		return report.Report{}, err
	}
	assessed := st.Assess(rulebook.All())
	return report.Report{Study: st, Assessed: assessed, Findings: st.Findings(assessed), Source: []byte(text), Version: "0.0.0"}, nil
}

// of is the report on a text.
func of(t *testing.T, text string) report.Report {
	t.Helper()
	r, err := made("odd.scheme.yaml", text, false)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// each runs a test on the examples.
func each(t *testing.T, test func(t *testing.T, r report.Report)) {
	names := schemetest.Paths(t, "../examples/*.scheme.yaml")
	if len(names) != len(reports) {
		t.Fatalf("there are %d examples, tested are %d", len(names), len(reports))
	}
	for _, path := range names {
		name := strings.TrimSuffix(filepath.Base(path), ".scheme.yaml")
		t.Run(name, func(t *testing.T) { test(t, reports[name]()) })
	}
}

// bound are the pages of a report.
func bound(r report.Report, style drafting.Style) []draw.Page {
	return drafting.Binding(r.Study.Scheme).Bind(r.Pages(style))
}

// sound reports what is wrong with the pages of a report: with their looks, words that were cut, links that lead nowhere, files that
// cannot be written.
func sound(t *testing.T, r report.Report, style drafting.Style) []draw.Page {
	t.Helper()
	pages := bound(r, style)
	names := map[string]bool{}
	for _, p := range pages {
		if names[p.Name] {
			t.Errorf("two pages are called %s", p.Name)
		}
		names[p.Name] = true
	}
	for i, p := range pages {
		for _, complaint := range pagetest.Complaints(p.Scene) {
			t.Errorf("%s %s: %s", style.Texts.Name, p.Name, complaint)
		}
		if text := strings.Join(texts(p), " "); strings.Contains(text, "…") {
			t.Errorf("%s %s: words were cut: %q", style.Texts.Name, p.Name, text)
		}
		if n := tallestHead(p); n > 3 {
			t.Errorf("%s %s: a head of %d lines", style.Texts.Name, p.Name, n)
		}
		for _, text := range texts(p) {
			if wrong := ofOne.FindString(strings.ReplaceAll(text, layout.Thin, " ")); wrong != "" {
				t.Errorf("%s says %q in %q", p.Name, wrong, text)
			}
		}
		for _, link := range p.Scene.Links {
			if !names[link.To] {
				t.Errorf("%s: a link leads to %s", p.Name, link.To)
			}
		}
		if p.Scene.Title == "" || p.Scene.Desc == "" {
			t.Errorf("%s: no title, or nothing for those who do not see it", p.Name)
		}
		if i%9 == 0 {
			if _, err := draw.SVG(p.Scene); err != nil {
				t.Errorf("%s: %v", p.Name, err)
			}
		}
	}
	return pages
}

// ofOne finds one thing in the plural, and the name of a part that became the beginning of a sentence.
var ofOne = regexp.MustCompile(`(^|[ (])1 (pixel|part|run|cable|comparison|number|case|finding|danger|note|data lead|board|fuse|universe)s\b|\b(Tape|Cable|Supply|Board|Fuse)/`)

// tallestHead is how many lines the tallest head of the tables of a page has.
func tallestHead(p draw.Page) (most int) {
	lines := map[float64][]float64{} // by where they begin or end
	for _, l := range p.Scene.Layers {
		for _, text := range l.Texts {
			if l.Name == "text" && text.Size == draw.Smallest && text.Tone == draw.Graphite {
				lines[text.At.X] = append(lines[text.At.X], text.At.Y)
			}
		}
	}
	for _, at := range lines {
		slices.Sort(at)
		n := 1
		for i := range at {
			if n++; i == 0 || at[i]-at[i-1] > layout.Pitch(draw.Smallest)+1e-6 {
				n = 1
			}
			most = max(most, n)
		}
	}
	return most
}

// texts are the words of a page outside heading and title block.
func texts(p draw.Page) (list []string) {
	for _, l := range p.Scene.Layers {
		if l.Name == "text" {
			for _, text := range l.Texts {
				list = append(list, text.Words)
			}
		}
	}
	return list
}

// said is all words of some pages, with common spaces.
func said(pages []draw.Page) string {
	var all []string
	for _, p := range pages {
		all = append(all, texts(p)...)
	}
	return strings.ReplaceAll(" "+strings.Join(all, " ")+" ", layout.Thin, " ")
}

// rows are the lines of the tables of the pages of a name, each the cells of one baseline: numbers together with their units.
func rows(pages []draw.Page, name string) (list [][]string) {
	for _, p := range pages {
		if p.Name != name && !strings.HasPrefix(p.Name, name+".") {
			continue
		}
		lines := map[float64][]draw.Text{}
		var heights []float64
		for _, l := range p.Scene.Layers {
			if l.Name != "text" {
				continue
			}
			for _, text := range l.Texts {
				if lines[text.At.Y] == nil {
					heights = append(heights, text.At.Y)
				}
				lines[text.At.Y] = append(lines[text.At.Y], text)
			}
		}
		slices.Sort(heights)
		for _, y := range heights {
			var cells []string
			for _, text := range lines[y] {
				if n := len(cells); n > 0 && text.Anchor == draw.Start && !strings.ContainsAny(text.Words, "0123456789") && slices.Contains([]string{"A", "V", "W", "m", "mV", "ms", "°C", "%", "Hz", "mA", "s"}, text.Words) {
					cells[n-1] += " " + text.Words
					continue
				}
				cells = append(cells, strings.ReplaceAll(text.Words, layout.Thin, " "))
			}
			list = append(list, cells)
		}
	}
	return list
}

// row is the nth line of tables that begins with a word.
func row(t *testing.T, list [][]string, first string, n int) []string {
	t.Helper()
	return list[place(t, list, first, n)]
}

// place is which line that is.
func place(t *testing.T, list [][]string, first string, n int) int {
	t.Helper()
	for i, cells := range list {
		if cells[0] == first {
			if n == 0 {
				return i
			}
			n--
		}
	}
	t.Fatalf("no line begins with %q", first)
	return 0
}

// reads reports an error where a number of a page is not that of the study, to the half of its last figure.
func reads[T ~float64](t *testing.T, what, cell, name string, want T) {
	t.Helper()
	number, found, _ := strings.Cut(cell, " ")
	got, err := strconv.ParseFloat(strings.Replace(number, "−", "-", 1), 64)
	if err != nil || found != name || math.Abs(got-float64(want)) > 0.006*math.Abs(float64(want)) {
		t.Errorf("%s reads %q, the study has %v %s", what, cell, want, name)
	}
}

func TestPagesOfAllExamplesAreSound(t *testing.T) {
	each(t, func(t *testing.T, r report.Report) {
		pages := sound(t, r, a4)
		sound(t, r, letter)
		text := said(pages)
		s := r.Study.Scheme
		for _, list := range [][]string{scheme.IDs(s.Supplies), scheme.IDs(s.Boards), scheme.IDs(s.Runs), scheme.IDs(s.Cables), scheme.IDs(s.Data), scheme.IDs(s.Fuses), scheme.IDs(s.Enclosures)} {
			for _, id := range list {
				if !strings.Contains(text, " "+id+" ") {
					t.Errorf("%s stands nowhere", id)
				}
			}
		}
		for _, id := range scheme.IDs(s.Cables) {
			if label := report.Label(id, s.Cables[id].From, s.Cables[id].To); !strings.Contains(text, label) {
				t.Errorf("no label says %q", label)
			}
		}
		for _, f := range r.Findings {
			if f.Grade > finding.Note && !strings.Contains(strings.ReplaceAll(text, " ", ""), strings.ReplaceAll(report.Entitled(f), " ", "")) {
				t.Errorf("%s is not told", f.ID)
			}
		}
	})
}

func TestTheSameReportIsMadeTwice(t *testing.T) {
	for _, name := range []string{"cafe-canopy-hasty", "library-atrium"} {
		r := reports[name]()
		if !reflect.DeepEqual(r.Pages(a4), r.Pages(a4)) {
			t.Errorf("%s: made twice it differs", name)
		}
	}
}

// The numbers of the schedules are those that were solved.
func TestSchedulesReadAsTheStudySays(t *testing.T) {
	each(t, func(t *testing.T, r report.Report) {
		pages := bound(r, a4)
		cablesRead(t, r.Study, rows(pages, "cables"))
		fusesRead(t, r, rows(pages, "fuses"), rows(pages, "protection"))
		suppliesRead(t, r.Study, rows(pages, "supplies"))
		runsRead(t, r.Study, rows(pages, "runs"))
		dataRead(t, r.Study, rows(pages, "data"))
	})
}

func cablesRead(t *testing.T, st *study.Study, lines [][]string) {
	s, failed := st.Scheme, st.Result(string(network.CapFailed))
	for _, id := range scheme.IDs(s.Cables) {
		laid, carries := row(t, lines, id, 0), row(t, lines, id, 1)
		if laid[1] != s.Cables[id].From.String() || laid[2] != s.Cables[id].To.String() {
			t.Errorf("%s lies from %q to %q", id, laid[1], laid[2])
		}
		part, _ := parts.Get[parts.Cable](s.Library, s.Cables[id].Part)
		if want := strings.ReplaceAll("× "+a4.Section(part.Area.Is), layout.Thin, " "); !strings.Contains(laid[4], want) {
			t.Errorf("%s has %q, want %q", id, laid[4], want)
		}
		reads(t, id+" length", laid[5], "m", *s.Cables[id].Length)
		most := unit.Ampere(0)
		for _, c := range st.Cases() {
			if c.Kind == network.State || c.Kind == network.Peak {
				at := st.Result(c.Name).Cables[id]
				most = max(most, at.Plus.RMS, at.Return.RMS)
			}
		}
		at := failed.Cables[id]
		reads(t, id+" load", carries[1], "A", most)
		reads(t, id+" cap failed", carries[3], "A", max(at.Plus.RMS, at.Return.RMS))
		reads(t, id+" Iz", carries[4], "A", at.Iz)
		reads(t, id+" used", carries[5], "%", 100*float64(most/at.Iz))
	}
}

func fusesRead(t *testing.T, r report.Report, lines, table [][]string) {
	for _, w := range r.Study.Protection(r.Assessed) {
		line := row(t, table, w.ID, 0)
		reads(t, w.ID+" load", line[3], "A", w.Load)
		reads(t, w.ID+" cap failed", line[5], "A", w.Failed)
		if w.Iz != nil {
			reads(t, w.ID+" Iz", line[7], "A", *w.Iz)
		}
		if w.Rating == nil {
			continue
		}
		reads(t, w.ID+" rating", line[2], "A", *w.Rating)
		line = row(t, lines, w.ID, 0)
		part, _ := parts.Get[parts.Fuse](r.Study.Scheme.Library, w.Fuse)
		if line[1] != strings.TrimPrefix(w.Fuse, "fuse/") || part.Colour != "" && line[3] != part.Colour {
			t.Errorf("%s has %q, %q", w.ID, line[1], line[3])
		}
		reads(t, w.ID+" share", line[5], "%", 100*float64(w.Load / *w.Rating))
		if !strings.HasPrefix(line[7], "Carries "+strings.TrimSpace(line[4])) {
			t.Errorf("%s: its reason begins %q", w.ID, line[7])
		}
		for _, a := range r.Assessed {
			if a.Subject == w.ID && strings.HasSuffix(a.Rule.Name, "fuse-load") && a.Limit != nil {
				reads(t, w.ID+" may carry", line[6], "A", *a.Limit)
			}
		}
	}
}

// What a fuse in the ground of a port may carry is what the rule holds it to.
func TestGroundFusesAreHeldAsTheRuleHoldsThem(t *testing.T) {
	r := reports["cafe-canopy-hasty"]()
	line := row(t, rows(bound(r, a4), "fuses"), "A1.P1.ground", 0)
	held := false
	for _, a := range r.Assessed {
		if a.Rule.Name == "board/port-ground" && a.Limit != nil {
			number, _, _ := strings.Cut(line[6], " ")
			got, err := strconv.ParseFloat(number, 64)
			held = held || err == nil && math.Abs(got-*a.Limit) < 0.006**a.Limit
		}
	}
	if !held {
		t.Errorf("%q is no limit of board/port-ground", line[6])
	}
}

func suppliesRead(t *testing.T, st *study.Study, lines [][]string) {
	for _, id := range scheme.IDs(st.Scheme.Supplies) {
		reads(t, id+" set point", row(t, lines, id, 0)[2], "V", st.Scheme.SetPoint(id))
		begins := place(t, lines, id, 1)
		for i, c := range st.Cases() {
			cells := lines[begins+i]
			cells = cells[len(cells)-7:]
			gives := st.Result(c.Name).Supplies[id]
			all := unit.Watt(0)
			for _, other := range st.Result(c.Name).Supplies {
				all += other.Watts
			}
			what := id + " in " + c.Name
			reads(t, what, cells[0], "A", gives.Amps.Mean)
			reads(t, what, cells[1], "A", gives.Amps.Peak)
			reads(t, what, cells[2], "%", 100*float64(gives.Amps.Peak/gives.Rated))
			reads(t, what, cells[3], "W", gives.Watts)
			reads(t, what, cells[4], "%", 100*float64(gives.Watts/all))
			reads(t, what, cells[5], "V", gives.VoltsLow)
		}
	}
}

func runsRead(t *testing.T, st *study.Study, lines [][]string) {
	for _, id := range scheme.IDs(st.Scheme.Runs) {
		run := st.Scheme.Runs[id]
		if laid := row(t, lines, id, 0); !slices.Contains(laid, fmt.Sprint(run.Count)) || !slices.Contains(laid, run.Label) {
			t.Errorf("%s is %q", id, laid)
		}
		lowest, most := unit.Volt(math.Inf(1)), unit.Ampere(0)
		for _, c := range st.Cases() {
			if c.Kind == network.State || c.Kind == network.Peak {
				at := st.Result(c.Name).Runs[id]
				lowest, most = min(lowest, at.VoltsLow), max(most, at.Amps.Peak)
			}
		}
		shows := row(t, lines, id, 1)
		reads(t, id+" highest", shows[1], "A", most)
		reads(t, id+" cap failed", shows[2], "A", st.Result(string(network.CapFailed)).Runs[id].Amps.Peak)
		reads(t, id+" lowest", shows[3], "V", lowest)
	}
}

func dataRead(t *testing.T, st *study.Study, lines [][]string) {
	plan, err := addressing.New(st.Scheme, 1)
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range st.Ports() {
		cells := row(t, lines, p.ID, 0)
		if cells[1] != strings.Join(p.Runs, " → ") || cells[2] != p.Lead || !slices.Contains(cells, fmt.Sprint(p.Pixels)) {
			t.Errorf("%s sends %q", p.ID, cells)
		}
		reads(t, p.ID+" frame", cells[6], "ms", 1000*p.Frame)
		reads(t, p.ID+" rate", cells[7], "Hz", p.Rate)
	}
	for _, u := range plan.Universes {
		want := []string{fmt.Sprint(u.Number), u.Port, fmt.Sprint(u.Slots), fmt.Sprintf("%s@px%d", u.From.Run, u.From.Pixel), fmt.Sprintf("%s@px%d", u.To.Run, u.To.Pixel), u.Group}
		if !slices.ContainsFunc(lines, func(l []string) bool { return slices.Equal(l, want) }) {
			t.Errorf("no line says %q", want)
		}
	}
}

// Every link of the cover stands beside the number of the sheet that it leads to, and every entry of the outline has one.
func TestContentsKnowTheirSheets(t *testing.T) {
	each(t, func(t *testing.T, r report.Report) {
		pages := bound(r, letter)
		sheetOf, linked := map[string]string{}, map[string]bool{}
		for i, p := range pages {
			sheetOf[p.Name] = fmt.Sprint(i + 1)
		}
		for _, p := range pages {
			if p.Name != "cover" && !strings.HasPrefix(p.Name, "cover.") {
				continue
			}
			for _, link := range p.Scene.Links {
				for _, l := range p.Scene.Layers {
					for _, text := range l.Texts {
						if _, err := strconv.Atoi(text.Words); err == nil && link.Box.Grow(0.5).Holds(text.Box()) {
							linked[link.To] = true
							if text.Words != sheetOf[link.To] {
								t.Errorf("%s is said to be on sheet %s, and is on %s", link.To, text.Words, sheetOf[link.To])
							}
						}
					}
				}
			}
		}
		for _, p := range pages[1:] {
			if p.Outline != "" && !linked[p.Name] {
				t.Errorf("%s is not in the contents", p.Name)
			}
		}
	})
}

// Of commissioning all stages are in the contents and the outline, or none: a list with gaps misleads.
func TestStagesAreListedAllOrNone(t *testing.T) {
	sheet := func(name, outline string, level int, more ...draw.Entry) layout.Leaf {
		return layout.Leaf{Name: name, Outline: outline, Level: level, More: more, Title: name, Desc: name, Paper: layout.A4}
	}
	stage := func(name string) draw.Entry { return draw.Entry{Title: name, Level: 1} }
	r := of(t, "farend: 1\n")
	for _, c := range []struct {
		steps []layout.Leaf
		want  string
	}{
		{[]layout.Leaf{sheet("steps", "Commissioning", 0), sheet("steps.2", "1 Dead", 1), sheet("steps.3", "4 Lit", 1)}, "Commissioning"},
		{[]layout.Leaf{sheet("steps", "Commissioning", 0, stage("0 Before"), stage("1 Dead")), sheet("steps.2", "", 0, stage("2 Alone"), stage("3 Lit"))}, "Commissioning 0 Before 1 Dead 2 Alone 3 Lit"},
	} {
		r.Steps = c.steps
		pages := sound(t, r, a4)
		listed, text := "", said(pages[:1])
		for _, p := range pages {
			if strings.HasPrefix(p.Name, "steps") {
				for _, e := range p.Entries() {
					listed += " " + e.Title
				}
			}
		}
		if listed != " "+c.want {
			t.Errorf("the outline has %q, want %q", listed, c.want)
		}
		for _, e := range []string{"Commissioning", "0 Before", "1 Dead", "2 Alone", "3 Lit", "4 Lit"} {
			if strings.Contains(text, " "+e+" ") != strings.Contains(c.want, e) {
				t.Errorf("of %q the contents have or lack %q: %s", c.want, e, text)
			}
		}
		if again := r.Steps[len(r.Steps)-1].Outline; again != c.steps[len(c.steps)-1].Outline {
			t.Error("the leaves of others were changed")
		}
	}
}

// Labels are there for all that steps of commissioning ask them for, and one that warns of a lead that carries the supply.
func TestEverythingHasALabel(t *testing.T) {
	r := reports["library-atrium-altered"]()
	var list []draw.Page
	for _, p := range bound(r, a4) {
		if p.Name == "labels" || strings.HasPrefix(p.Name, "labels.") {
			list = append(list, p)
		}
	}
	text, s := said(list), r.Study.Scheme
	for _, ids := range [][]string{scheme.IDs(s.Supplies), scheme.IDs(s.Boards), scheme.IDs(s.Enclosures), scheme.IDs(s.Cables), scheme.IDs(s.Data)} {
		for _, id := range ids {
			if !strings.Contains(text, " "+id+" · ") {
				t.Errorf("%s has no label", id)
			}
		}
	}
	for _, g := range r.Study.Guards() {
		place := strings.TrimSuffix(strings.TrimSuffix(g.Name, ".fuse"), " fuse")
		want := fmt.Sprintf(" %s · fuse %s", place, strings.ReplaceAll(layout.Nominal(g.Fuse.Rating.Is), layout.Thin, " "))
		if g.Fuse.Colour != "" {
			want += ", " + g.Fuse.Colour
		}
		if !strings.Contains(text, want) {
			t.Errorf("no label says %q", want)
		}
	}
	for _, want := range []string{" T1 · 24.5 V · feeds A1.in by W1, X4 by W60 ", " A2.4 · no fuse · W14 ", "→ E9 · carries the supply past the fuses "} {
		if !strings.Contains(text, want) {
			t.Errorf("no label says %q: %s", want, text)
		}
	}
	if lead := row(t, rows(bound(r, a4), "data"), "D9", 0); !slices.Contains(lead, "carries the supply past the fuses") {
		t.Errorf("the table of leads says %q", lead)
	}
}

// A wire gauge is explained on each page that has some; lengths of a column have as many decimals as they need.
func TestGaugesAreExplained(t *testing.T) {
	r := reports["library-atrium"]()
	for _, p := range bound(r, letter) {
		text, explained := "", false
		for _, l := range p.Scene.Layers {
			for _, words := range l.Texts {
				if l.Name == "block" {
					explained = explained || strings.Contains(words.Words, "AWG: the thinnest gauge")
				} else {
					text += words.Words
				}
			}
		}
		if strings.Contains(text, layout.Thin+"AWG") && !explained {
			t.Errorf("%s has gauges and does not say what they are", p.Name)
		}
	}
	lines := rows(bound(r, a4), "cables")
	for id, want := range map[string]string{"W2": "4.0 m", "W3": "9.3 m", "W10": "0.6 m"} {
		if got := row(t, lines, id, 0)[5]; got != want {
			t.Errorf("%s is %s long, want %s", id, got, want)
		}
	}
}

// What others draw is in the set, in the contents, and found by the links of what is said of it.
func TestDrawingsAreLedTo(t *testing.T) {
	r := reports["cafe-canopy-hasty"]()
	leaf := func(name string) layout.Leaf {
		return layout.Leaf{Name: name, Outline: name, Level: 1, Title: name, Desc: name, Paper: layout.A3.Turned()}
	}
	r.Drawings, r.Charts, r.Steps = []layout.Leaf{leaf("run-E1"), leaf("face-A1")}, []layout.Leaf{leaf("time-current-A1.1")}, []layout.Leaf{leaf("steps")}
	led := map[string]bool{}
	for _, p := range sound(t, r, a4) {
		for _, link := range p.Scene.Links {
			led[p.Name[:4]+">"+link.To] = true
		}
	}
	for _, want := range []string{"cove>run-E1", "cove>face-A1", "cove>time-current-A1.1", "cove>steps", "find>run-E1", "find>face-A1", "runs>run-E1", "fuse>face-A1", "cabl>run-E1"} {
		if !led[want] {
			t.Errorf("no link %s among %v", want, slices.Sorted(keysOf(led)))
		}
	}
}

// Computations on paper are those of the traces: every formula and every sum of the worst findings stands there.
func TestComputationsAreTold(t *testing.T) {
	r := reports["cafe-canopy-hasty"]()
	all := strings.NewReplacer(" ", "", layout.Thin, "", "_", "").Replace(said(bound(r, a4)))
	steps := 0
	for _, a := range r.Assessed {
		for _, f := range r.Findings {
			if f.Grade <= finding.Note || f.Rule != a.Rule.Name || f.Subject != a.Subject || f.Value != a.Value || f.Value == nil {
				continue
			}
			for _, step := range a.Trace().Steps {
				steps++
				for _, words := range []string{step.Formula, report.Once(step.Sum)} {
					if words = strings.NewReplacer(" ", "", "_", "").Replace(words); !strings.Contains(all, words) {
						t.Errorf("%s: %q is not told", f.ID, words)
					}
				}
			}
		}
	}
	if steps < 40 {
		t.Errorf("only %d steps", steps)
	}
}

// Every finding that a rule made has its computation beside it, of the case in which it was found.
func TestEveryFindingIsToldWithItsOwnComputation(t *testing.T) {
	for _, name := range []string{"cafe-canopy-hasty", "footbridge-two-feeds"} {
		r := reports[name]()
		for _, f := range r.Findings {
			if !strings.HasPrefix(f.Rule, "scheme/") && !report.Told(r, f) {
				t.Errorf("%s: %s has no assessment", name, f.ID)
			}
		}
	}
}

// Hundreds of findings are all listed, the worst with how they come about.
func TestManyFindingsAreAllListed(t *testing.T) {
	r := reports["footbridge-two-feeds"]()
	one := r.Findings[0]
	for i := range 300 {
		f := one
		f.ID = fmt.Sprintf("protection/other:W%d", i+900)
		f.Subject = fmt.Sprintf("W%d", i+900)
		r.Findings = append(r.Findings, f)
	}
	text := said(sound(t, r, a4))
	for i := range 300 {
		if !strings.Contains(text, fmt.Sprintf("protection/other:W%d", i+900)) {
			t.Errorf("finding %d is not listed", i)
		}
	}
	if !strings.Contains(text, "in short") {
		t.Error("nothing says that the others are told in short")
	}
}

// A danger forbids whatever its rule; what fails or is unknown only where the rule guards against harm.
func TestWhatForbidsToSwitchOn(t *testing.T) {
	for _, c := range []struct {
		grade  finding.Grade
		safety bool
		want   bool
	}{
		{finding.Danger, true, true}, {finding.Danger, false, true}, {finding.Fails, true, true}, {finding.Fails, false, false},
		{finding.Unknown, true, true}, {finding.Unknown, false, false}, {finding.Tight, true, false}, {finding.Note, true, false},
	} {
		if f := (finding.Finding{Grade: c.grade, Safety: c.safety}); report.Forbids(f) != c.want {
			t.Errorf("%s, safety %v: %v", c.grade, c.safety, !c.want)
		}
	}
}

// Every page of a scheme that can hurt says so; one on which nothing is worse than tight bears no mark.
func TestTheMarkIsOfTheWorstGrade(t *testing.T) {
	of := func(grade finding.Grade, safety bool) finding.Finding {
		return finding.Finding{Grade: grade, Safety: safety}
	}
	for _, c := range []struct {
		list   []finding.Finding
		letter string
		words  string
	}{
		{nil, "", ""},
		{[]finding.Finding{of(finding.Tight, true), of(finding.Unknown, false)}, "", ""},
		{[]finding.Finding{of(finding.Unknown, true), of(finding.Note, false)}, "?", "1 unknown: not all of its safety is judged"},
		{[]finding.Finding{of(finding.Fails, false), of(finding.Unknown, true), of(finding.Fails, false)}, "F", "2 failing: will not do as it is"},
		{[]finding.Finding{of(finding.Fails, false), of(finding.Danger, true)}, "D", "1 danger: not to be built or switched on as it is"},
	} {
		mark := report.Mark(c.list)
		if mark == nil {
			if c.letter != "" {
				t.Errorf("%v: no mark", c.list)
			}
			continue
		}
		if mark.Badge.Letter != c.letter || mark.Words != c.words {
			t.Errorf("%v: %q %q", c.list, mark.Badge.Letter, mark.Words)
		}
	}
}

// The cover's highest current is that of the moment at which all pixels switch on together, and a cable's volts lost are the most of any state,
// also where another case heats it more.
func TestTheWorstOfAllCasesIsTold(t *testing.T) {
	for name, of := range reports {
		r := of()
		var state network.Case
		watts := math.Inf(-1)
		for _, c := range r.Study.Cases() {
			sum := 0.0
			for _, s := range r.Study.Result(c.Name).Supplies {
				sum += float64(s.Watts)
			}
			if c.Kind == network.State && sum > watts {
				state, watts = c, sum
			}
		}
		most, ids := unit.Ampere(0), scheme.IDs(r.Study.Scheme.Supplies)
		if len(ids) != 1 || state.Name == "" {
			continue
		}
		for _, c := range r.Study.Cases() {
			if c.State == state.State && (c.Kind == network.State || c.Kind == network.Peak) {
				most = max(most, r.Study.Result(c.Name).Supplies[ids[0]].Amps.Peak)
			}
		}
		pages := bound(r, a4)
		line := row(t, rows(pages, "cover"), "the heaviest state", 0)
		reads(t, name+" highest", line[4], "A", most)
		for _, id := range scheme.IDs(r.Study.Scheme.Cables) {
			lost := 0.0
			for _, c := range r.Study.Cases() {
				if c.Kind == network.State || c.Kind == network.Peak {
					lost = max(lost, math.Abs(1000*float64(r.Study.Result(c.Name).Cables[id].Drop)))
				}
			}
			for _, cell := range row(t, rows(pages, "cables"), id, 1) {
				if number, ok := strings.CutSuffix(cell, " mV"); ok {
					if got, err := strconv.ParseFloat(number, 64); err != nil || math.Abs(got-lost) > 0.006*lost+0.06 {
						t.Errorf("%s: %s loses %q, want %.1f mV", name, id, cell, lost)
					}
				}
			}
		}
	}
}
