package report

import (
	"cmp"
	"fmt"
	"strconv"
	"strings"

	"farend/draw"
	"farend/finding"
	"farend/layout"
	"farend/network"
	"farend/parts"
	"farend/scheme"
	"farend/sheet/drafting"
	"farend/study"
	"farend/unit"
)

// cover is the first page: what it is, where, how much of it, what was found, what to beware of, and where all the rest stands. How
// many pages it takes does not hang on the numbers of the sheets, so that they are known once it has been laid out without.
func (b *book) cover(rest []layout.Leaf) []layout.Leaf {
	draft := b.covered(rest, func(string) int { return 0 })
	place := map[string]int{}
	for i, l := range rest {
		place[l.Name] = len(draft) + i + 1
	}
	return b.covered(rest, func(name string) int { return place[name] })
}

func (b *book) covered(rest []layout.Leaf, sheetOf func(name string) int) []layout.Leaf {
	s := b.Study.Scheme
	title := drafting.Binding(s).Scheme
	var flow layout.Flow
	if wide := b.style.Texts.Field().Width(); layout.Wide(draw.Text{Face: draw.SemiBold, Size: 16}, title) > wide {
		flow.Add(layout.Para{Words: title, Size: 12, Face: draw.SemiBold})
	}
	flow.Add(b.front()...)
	flow.Add(b.worstFirst(sheetOf)...)
	flow.Add(heading("Beware"))
	for _, text := range b.cautions() {
		flow.Add(layout.Para{Words: layout.Sentence(text), Mark: none, Indent: 4, Above: 1})
	}
	flow.Add(contents(rest, sheetOf)...)
	flow.Add(told(b.extent()))
	return b.bind(&flow, layout.Leaf{
		Name: "cover", Outline: "Cover", Title: title, Verdict: "Report", Under: issued(s),
		Desc:  fmt.Sprintf("Cover of the report on %s. %s", title, Verdict(b.Study, b.Assessed, b.Findings)),
		Notes: "Currents, voltages and light are computed from the scheme and the parts that it names; what was built may differ. Measure before it is handed over.",
	})
}

// issued is the last revision in words.
func issued(s *scheme.Scheme) string {
	if n := len(s.Revisions); n > 0 {
		return fmt.Sprintf("revision %s of %s", s.Revisions[n-1].Name, s.Revisions[n-1].Date)
	}
	return "no revision is written down"
}

// front is the verdict and the facts, with the code beside them.
func (b *book) front() []layout.Block {
	const side = 40
	text := Passport(b.Study.Scheme)
	square := layout.Figure{Height: side, Draw: func(on *layout.Drawn, at draw.Point, width float64) {
		box := draw.Box{Min: at, Max: draw.Point{X: at.X + side, Y: at.Y + side}}
		path, err := code(text, box)
		if err != nil { // no text of this length is too long for a code
			return
		}
		on.Layer.Paths = append(on.Layer.Paths, path)
	}}
	caption := layout.Para{Words: "Title, revision and SHA-256 of the scheme, to hold against the file.", Size: draw.Smallest, Tone: draw.Graphite, Indent: 3}
	return []layout.Block{
		layout.Side{Gap: 6, Above: 2, Columns: []layout.SideColumn{
			{Blocks: append([]layout.Block{
				layout.Para{Words: layout.Sentence(Verdict(b.Study, b.Assessed, b.Findings)), Face: draw.SemiBold},
				b.tally(2),
			}, append(b.facts(), b.loads())...)},
			{Width: side, Blocks: []layout.Block{square, caption}},
		}},
	}
}

// facts are what there is, in numbers.
func (b *book) facts() []layout.Block {
	s := b.Study.Scheme
	pixels, tape, copper := 0, unit.Metre(0), unit.Metre(0)
	for _, run := range s.Runs {
		pixels += run.Count
	}
	for _, id := range scheme.IDs(s.Runs) {
		if l := s.Runs[id].Length; l != nil {
			tape += *l
		}
	}
	for _, id := range scheme.IDs(s.Cables) {
		if l := s.Cables[id].Length; l != nil {
			copper += *l
		}
	}
	site := []string{"air up to " + layout.Nominal(s.Ambient()) + ", down to " + layout.Nominal(s.Coldest())}
	site = append(site, cmp.Or(string(s.Site.Exposure), "exposure not said"))
	site = append(site, "metalwork "+cmp.Or(string(s.Site.Metalwork), "not said, taken as bonded"))
	rows := [][2]string{
		{"What", fmt.Sprintf("%s with %s on %s of tape", study.Counted(len(s.Runs), "run"), study.Counted(pixels, "pixel"), layout.Nominal(tape))},
		{"Fed by", fmt.Sprintf("%s over %s", supplied(len(s.Supplies)), study.Counted(len(s.Boards), "board"))},
		{"By", fmt.Sprintf("%s, %s together, and %s", study.Counted(len(s.Cables), "cable"), layout.Nominal(copper), study.Counted(len(s.Data), "data lead"))},
		{"Where", strings.Join(site, "; ")},
	}
	if open := b.Study.Open(); len(open) > 0 {
		rows = append(rows, [2]string{"Open", fmt.Sprintf("%s still to be chosen", study.Counted(len(open), "part"))})
	}
	var blocks []layout.Block
	for i, row := range rows {
		above := 0.8
		if i == 0 {
			above = 3
		}
		blocks = append(blocks, layout.Para{Mark: row[0], Words: layout.Sentence(row[1]), Indent: 16, Above: above})
	}
	return blocks
}

func supplied(n int) string {
	if n == 1 {
		return "1 supply"
	}
	return fmt.Sprintf("%d supplies", n)
}

// loads is the table of volts, amperes and watts: in the heaviest state, at its peak, with the cap failed, and in the dark. Supplies that are set
// alike are added up.
func (b *book) loads() layout.Table {
	t := layout.Table{Above: 4, Columns: []layout.Column{{Head: "all supplies together", Share: 1}, {Head: "in state"}, {Head: "set to", Number: true}, {Head: "current", Number: true}, {Head: "at its highest", Number: true}, {Head: "power", Number: true}}}
	s := b.Study.Scheme
	var sets, open []string
	of := map[string][]string{}
	for _, id := range scheme.IDs(s.Supplies) {
		if _, chosen := parts.Get[parts.Supply](s.Library, s.Supplies[id].Part); !chosen {
			open = append(open, id)
			continue
		}
		set := layout.Nominal(s.SetPoint(id))
		if of[set] == nil {
			sets = append(sets, set)
		}
		of[set] = append(of[set], id)
	}
	heaviest, _ := b.Study.Heaviest(func(r *network.Result) float64 {
		sum := 0.0
		for _, id := range scheme.IDs(r.Supplies) {
			sum += float64(r.Supplies[id].Watts)
		}
		return sum
	})
	for _, c := range b.Study.Cases() {
		words := map[network.Kind]string{network.CapFailed: "full drive, should the cap fail, upper end of spreads", network.Dark: "energised, nothing lit"}[c.Kind]
		if c.Name == heaviest.Name {
			words = "the heaviest state"
		}
		if words == "" {
			continue
		}
		r := b.Study.Result(c.Name)
		for k, set := range sets {
			if k > 0 {
				words = ""
			}
			var mean, peak unit.Ampere
			var power unit.Watt
			for _, id := range of[set] {
				mean, power = mean+r.Supplies[id].Amps.Mean, power+r.Supplies[id].Watts
				peak += max(r.Supplies[id].Amps.Peak, together(b.Study, c).Supplies[id].Amps.Peak)
			}
			t.Rows = append(t.Rows, layout.Plain(words, condition(c), set, amps(mean), amps(peak), watts(power)))
		}
	}
	if len(open) > 0 {
		t.Rows = append(t.Rows, layout.Plain(study.Several(open)+", "+notChosen, none, none, none, none, none))
	}
	return t
}

// together is a state with all pixels switching on at once, the moment at which most flows; of every other case that case.
func together(st *study.Study, c network.Case) *network.Result {
	if r := st.Result(string(network.Peak) + "/" + c.State); c.Kind == network.State && r != nil {
		return r
	}
	return st.Result(c.Name)
}

// worstFirst lists the findings that are worse than a note, the worst first.
func (b *book) worstFirst(sheetOf func(string) int) []layout.Block {
	const most = 6
	var list []finding.Finding
	for _, f := range b.Findings {
		if f.Grade > finding.Note {
			list = append(list, f)
		}
	}
	if len(list) == 0 {
		return nil
	}
	t := layout.Table{Above: 1, Columns: []layout.Column{{Head: "grade"}, {Head: "subject"}, {Head: "what was found", Share: 1}, {Head: "sheet", Number: true}}}
	for _, f := range list[:min(len(list), most)] {
		leaf := b.at["finding:"+f.ID]
		cells := []layout.Said{graded(f.Grade), {Words: cmp.Or(f.Subject, "scheme")}, {Words: layout.Sentence(b.short(f))}, {Words: strconv.Itoa(sheetOf(leaf))}}
		for i := range cells {
			cells[i].To = []string{leaf}
		}
		t.Rows = append(t.Rows, cells)
	}
	blocks := []layout.Block{heading("Worst first"), t}
	if more := len(list) - most; more > 0 {
		blocks = append(blocks, remark(fmt.Sprintf("%d more under Findings.", more)))
	}
	return blocks
}

// short is a finding in a line: its rule, and what is compared with what or its first sentence.
func (b *book) short(f finding.Finding) string {
	a, ok := b.behind(f)
	if !ok {
		return f.Text
	}
	if text := Compared(*a.Rule, f.Value, f.Limit, f.Unit); text != "" {
		return a.Rule.Title + ": " + text
	}
	first, _, cut := strings.Cut(f.Text, ". ")
	if cut {
		first += "."
	}
	return a.Rule.Title + ": " + first
}

// extent says which sheets the report has, and which there are besides.
func (b *book) extent() string {
	has := []string{"the schedules"}
	if len(b.Drawings) > 0 {
		has = []string{"the drawings to build by (plan, single-line diagram, faces of boards, sheets of runs)", "the schedules"}
	}
	if len(b.Steps) > 0 {
		has = append(has, "the sheets of commissioning")
	}
	text := "This report has " + study.Several(has)
	if len(b.Charts) == 0 {
		text += "; profiles along runs, pictures by night, and charts of fuses, of the power of faults and of pulses are drawn by farend draw only"
	}
	return text + "."
}

// contents lists what has an entry, in three columns, with the number of its sheet.
func contents(rest []layout.Leaf, sheetOf func(string) int) []layout.Block {
	var entries [][]layout.Said
	for _, l := range rest {
		to := []string{l.Name}
		for _, e := range l.Entries() {
			entries = append(entries, []layout.Said{{Words: e.Title, Bold: e.Level == 0, To: to}, {Words: strconv.Itoa(sheetOf(l.Name)), To: to}})
		}
	}
	if len(entries) == 0 {
		return nil
	}
	const columns = 3
	t := layout.Table{Above: 1, Together: true}
	for range columns {
		t.Columns = append(t.Columns, layout.Column{Head: "page", Share: 1}, layout.Column{Head: "sheet", Number: true})
	}
	rows := (len(entries) + columns - 1) / columns
	for i := range rows {
		var row []layout.Said
		for k := i; k < len(entries); k += rows {
			row = append(row, entries[k]...)
		}
		t.Rows = append(t.Rows, row)
	}
	return []layout.Block{heading("Contents"), t}
}
