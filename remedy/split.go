package remedy

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"farend/finding"
	"farend/parts"
	"farend/scheme"
	"farend/split"
	"farend/study"
	"farend/unit"
)

// Ports is which port would send to which runs, so that all are sent to fast enough.
type Ports struct {
	s        *study.Study
	ports    []string // A1.P1
	runs     []string
	leads    *leads
	problem  split.Problem
	division split.Division
	names    [][]string // of a run and its pieces, in order
}

// Divide divides what hangs on a port, and on those that can share it, over all of these ports (see split.Divide): at a frame rate or faster, if that can be. A
// run may hang on the ports of every board that feeds it or sends to it now; another board would bring its ground along. Where there is but one board
// there is no other. It is not ok where nothing is to be divided, as where a tape is not chosen yet.
func Divide(s *study.Study, port string, rate unit.Hertz) (d Ports, ok bool) {
	d = Ports{s: s, leads: newLeads(s)}
	if !d.gather(port) || !(rate > 0) {
		return d, false
	}
	tape := func(run int) *parts.Tape { return s.Scheme.Tape(d.runs[run]) }
	d.problem = split.Problem{Ports: len(d.ports), Aim: 1 / float64(rate), Frame: func(protocol string, pixels int) float64 {
		p, _ := parts.Get[parts.Protocol](s.Scheme.Library, protocol)
		if t, known := p.Frame(pixels); known {
			return float64(t)
		}
		return math.Inf(1)
	}}
	for i, run := range d.runs {
		is := split.Run{Kind: tape(i).Protocol, Pixels: s.Scheme.Runs[run].Count, CutEvery: tape(i).CutEvery}
		for _, cut := range s.Scheme.Runs[run].Cuts {
			is.Cut = append(is.Cut, cut.At.Mark)
		}
		d.problem.Runs = append(d.problem.Runs, is)
	}
	for _, port := range d.ports {
		var now []int
		for _, run := range d.leads.on[port] {
			now = append(now, slices.Index(d.runs, run))
		}
		d.problem.Now = append(d.problem.Now, now)
	}
	d.problem.Entry = func(port int, to split.Part) float64 {
		if !d.leads.may(d.ports[port], d.runs[to.Run]) {
			return math.Inf(1)
		}
		return d.leads.entry(d.ports[port], d.runs[to.Run], to.From).metres
	}
	near := true // new leads between runs are no longer than a pixel sends
	d.problem.Chain = func(from, to split.Part) float64 {
		long := d.leads.chain(d.runs[from.Run], from.To, d.runs[to.Run], to.From)
		if near && !long.kept && long.metres > float64(s.Reaches(tape(from.Run).Protocol)) {
			return math.Inf(1)
		}
		return long.metres
	}
	if d.division, ok = split.Divide(d.problem); !ok || !d.division.Meets {
		near = false // what misses the frame rate is worse
		d.division, ok = split.Divide(d.problem)
	}
	if ok {
		d.name()
	}
	return d, ok
}

// gather lists the ports that can share what hangs on a port, or what hangs on one of these, and so on; and the runs on them.
func (d *Ports) gather(port string) bool {
	all := d.leads.ports()
	if !slices.Contains(all, port) {
		return false
	}
	in := map[string]bool{port: true}
	for grown := true; grown; {
		grown = false
		for from := range in {
			for _, run := range d.leads.on[from] {
				for _, to := range all {
					if !in[to] && d.leads.may(to, run) {
						in[to], grown = true, true
					}
				}
			}
		}
		for _, from := range all {
			for to := range in {
				if !in[from] && slices.ContainsFunc(d.leads.on[from], func(run string) bool { return d.leads.may(to, run) }) {
					in[from], grown = true, true
				}
			}
		}
	}
	for _, p := range all {
		if in[p] {
			d.ports, d.runs = append(d.ports, p), append(d.runs, d.leads.on[p]...)
		}
	}
	return len(d.runs) > 0
}

// name names the pieces of runs: E1 and what is cut off it, E1b and E1c, by letters that are not taken; by the next number where none is left.
func (d *Ports) name() {
	count := make([]int, len(d.runs))
	for _, list := range d.division.Ports {
		for _, part := range list {
			count[part.Run]++
		}
	}
	taken := d.s.Scheme.Identifiers()
	given := map[string]bool{}
	d.names = make([][]string, len(d.runs))
	for i, run := range d.runs {
		d.names[i] = []string{run}
		letter := 'b'
		for k := 1; k < count[i]; k++ {
			for letter <= 'z' && (taken[run+string(letter)] || given[run+string(letter)]) {
				letter++
			}
			name := run + string(letter)
			if letter > 'z' {
				name = following(d.s, scheme.IDs(d.s.Scheme.Runs), "E", given)
			}
			given[name] = true
			d.names[i] = append(d.names[i], name)
		}
	}
}

// marks are the marks at which a run is cut, in order.
func (d *Ports) marks(run int) (list []int) {
	for _, parts := range d.division.Ports {
		for _, part := range parts {
			if part.Run == run && part.From > 0 {
				list = append(list, part.From)
			}
		}
	}
	slices.Sort(list)
	return list
}

// called is what a part is called.
func (d *Ports) called(part split.Part) string {
	before := 0
	for _, mark := range d.marks(part.Run) {
		if mark <= part.From {
			before++
		}
	}
	return d.names[part.Run][before]
}

// Meets reports whether the frame rate that is asked for is met.
func (d *Ports) Meets() bool { return d.division.Meets }

// Rate is the frame rate of the slowest port.
func (d *Ports) Rate() unit.Hertz { return unit.Hertz(1 / d.division.Frame) }

// Changed reports whether anything is to be changed.
func (d *Ports) Changed() bool { return d.division.Changes > 0 }

// Says is which port would send to what, of those that would send to something else than now.
func (d *Ports) Says() string {
	var cuts, sends []string
	for i, run := range d.runs {
		for k, mark := range d.marks(i) {
			cuts = append(cuts, fmt.Sprintf("cut %s at px%d, from where on it is %s", run, mark, d.names[i][k+1]))
		}
	}
	for port, list := range d.division.Ports {
		if to := d.sends(list); !slices.Equal(to, d.leads.on[d.ports[port]]) {
			sends = append(sends, d.ports[port]+" to "+study.Several(to))
		}
	}
	const most = 4
	if more := len(sends) - most; more > 0 {
		sends = append(sends[:most], fmt.Sprintf("%s more to others", study.Counted(more, "port")))
	}
	said := "let data go from " + strings.Join(sends, ", ") + fmt.Sprintf(": %v at the slowest port", d.Rate())
	if more := len(cuts) - most; more > 0 {
		cuts = append(cuts[:most], fmt.Sprintf("%d more likewise", more))
	}
	return study.Capital(strings.Join(append(cuts, said), "; "))
}

// sends is what a port sends to by its names.
func (d *Ports) sends(list []split.Part) (names []string) {
	for _, part := range list {
		names = append(names, d.called(part))
	}
	return names
}

// Lacks says what there would have to be, where no division meets the frame rate: how many ports more, where whole rows of pixels are all that stands
// against it.
func (d *Ports) Lacks() string {
	pixels, every := map[string]int{}, map[string]int{}
	for _, r := range d.problem.Runs {
		pixels[r.Kind] += r.Pixels
		every[r.Kind] = max(every[r.Kind], r.CutEvery)
	}
	best := fmt.Sprintf("No division over %s makes more than %v", study.Counted(len(d.ports), "port"), d.Rate())
	need, spare := 0, 0
	for kind, all := range pixels {
		protocol, _ := parts.Get[parts.Protocol](d.s.Scheme.Library, kind)
		holds := study.Most(protocol, unit.Hertz(1/d.problem.Aim)) / every[kind] * every[kind]
		if holds <= 0 { // not even the pixels up to the first mark are few enough
			return best
		}
		need += (all + holds - 1) / holds
		spare += all - len(d.ports)*holds
	}
	switch lack := need - len(d.ports); {
	case lack <= 0:
		return best
	case len(pixels) > 1 || spare <= 0:
		return fmt.Sprintf("%s: it takes at least %s more", best, study.Counted(lack, "port"))
	default:
		return fmt.Sprintf("%s: it takes at least %s more, or %s fewer", best, study.Counted(lack, "port"), study.Counted(spare, "pixel"))
	}
}

// Edits are what makes the division: leads begin elsewhere, with another length where that differs; runs are cut in two. A lead to what is cut off a run
// is made like the one to that run. None where nothing changes, and where the frame rate that is asked for is not met.
func (d *Ports) Edits() (edits []finding.Edit) {
	if !d.Meets() || !d.Changed() {
		return nil
	}
	taken := map[string]bool{}
	for i, run := range d.runs {
		if marks := d.marks(i); len(marks) > 0 {
			edits = append(edits, newCutting(d.s, run, marks, d.names[i], taken).edits()...)
		}
	}
	edits = append(edits, d.separate()...)
	edits = append(edits, d.landed()...)
	for port, list := range d.division.Ports {
		for i, part := range list {
			from, long := d.ports[port], length{}
			if i > 0 {
				last := list[i-1]
				from, long = d.called(last), d.leads.chain(d.runs[last.Run], last.To, d.runs[part.Run], part.From)
			} else {
				long = d.leads.entry(from, d.runs[part.Run], part.From)
			}
			edits = append(edits, d.lead(part, from, long, taken)...)
		}
	}
	return edits
}

// lead is the edits of the lead to a part.
func (d *Ports) lead(part split.Part, from string, long length, taken map[string]bool) []finding.Edit {
	id := d.leads.to[d.runs[part.Run]]
	was := d.s.Scheme.Data[id]
	if part.From > 0 {
		return []finding.Edit{d.fresh(part, was, from, long, taken)}
	}
	var edits []finding.Edit
	if was.From.String() != from {
		edits = append(edits, edit(from, "data", id, "from"))
		if was.From.Kind != scheme.PortRef && slices.Contains(d.ports, from) && was.Ground == scheme.OpenGround {
			edits = append(edits, edit(nil, "data", id, "ground")) // it was open between two runs; from a port its ground goes along
		}
		if was.Buffer != nil && !d.feeds(was.Buffer, from) {
			edits = append(edits, edit(nil, "data", id, "buffer"))
		}
	}
	if long.kept {
		return edits
	}
	if _, drawn := d.s.Scheme.Drawing[id]; drawn { // it goes another way now
		edits = append(edits, edit(nil, "drawing", id))
	}
	if _, written := d.s.Scheme.Places[finding.Pointer("data", id, "length")]; !written || math.Abs(float64(*was.Length)-long.metres) > 1e-9 {
		edits = append(edits, edit(metres(unit.Metre(long.metres)), "data", id, "length"))
	}
	if own := was.Label != "" && was.Label != scheme.EstimatedLength && was.Label != scheme.DrawnLength; !own && was.Label != long.label {
		edits = append(edits, edit(long.label, "data", id, "label"))
	}
	return edits
}

// fresh is a lead to what is cut off a run.
func (d *Ports) fresh(part split.Part, like scheme.Lead, from string, long length, taken map[string]bool) finding.Edit {
	values := map[string]any{"part": like.Part, "length": metres(unit.Metre(long.metres)), "from": from, "to": d.called(part), "label": long.label}
	if like.Ground != "" && !(slices.Contains(d.ports, from) && like.From.Kind != scheme.PortRef) {
		values["ground"] = string(like.Ground)
	}
	if like.Suits != "" {
		values["suits"] = string(like.Suits)
	}
	if like.Series > 0 {
		values["series"] = plain(float64(like.Series)) + " Ω"
	}
	if like.Beside != "" {
		values["beside"] = string(like.Beside)
	}
	if like.Buffer != nil && like.Buffer.At == scheme.FromEnd && d.feeds(like.Buffer, from) {
		values["buffer"] = map[string]any{"part": like.Buffer.Part, "at": string(like.Buffer.At)}
	}
	id := following(d.s, scheme.IDs(d.s.Scheme.Data), "D", taken)
	taken[id] = true
	return edit(values, "data", id)
}

// feeds reports whether a buffer of a lead that begins at a place has a supply of its voltage: where it begins at a port that of the board, at a run the rails.
func (d *Ports) feeds(buffer *scheme.LeadBuffer, from string) bool {
	i := slices.IndexFunc(d.names, func(names []string) bool { return slices.Contains(names, from) })
	if buffer.At != scheme.FromEnd || i < 0 {
		return true
	}
	return d.s.Scheme.FeedsBuffer(d.runs[i], buffer.Part)
}

// landed moves what ends beyond a cut to the run that is there now: cables and capacitors.
func (d *Ports) landed() (edits []finding.Edit) {
	moved := func(ref scheme.Ref, keys ...string) {
		i := slices.Index(d.runs, ref.Element)
		if ref.Kind != scheme.StationRef || i < 0 || len(d.names[i]) < 2 {
			return
		}
		if to := d.station(i, ref.Station); to != ref.String() {
			edits = append(edits, edit(to, keys...))
		}
	}
	for _, id := range scheme.IDs(d.s.Scheme.Cables) {
		moved(d.s.Scheme.Cables[id].From, "cables", id, "from")
		moved(d.s.Scheme.Cables[id].To, "cables", id, "to")
	}
	for _, id := range scheme.IDs(d.s.Scheme.Capacitors) {
		moved(d.s.Scheme.Capacitors[id].At, "capacitors", id, "at")
	}
	return edits
}

// station is where a station of a run is once that is cut.
func (d *Ports) station(run int, at scheme.Station) string {
	from, name, end := 0, d.names[run][0], d.problem.Runs[run].Pixels
	for k, mark := range d.marks(run) {
		if at.Mark < mark || at.Mark == mark && at.Before {
			end = mark
			break
		}
		from, name = mark, d.names[run][k+1]
	}
	switch at.Mark {
	case from:
		return name + "@start"
	case end:
		return name + "@end"
	}
	return name + "@" + scheme.Station{Pixel: at.Mark - from, Before: at.Before}.String()
}

// separate says of the pieces of runs that they are out of reach of what the runs are out of reach of.
func (d *Ports) separate() []finding.Edit {
	pieces := func(run string) []string {
		if i := slices.Index(d.runs, run); i >= 0 {
			return d.names[i]
		}
		return []string{run}
	}
	var groups, more []any
	for _, group := range d.s.Scheme.Site.Separate {
		groups = append(groups, anys(group))
		for i, a := range group {
			for _, b := range group[i+1:] {
				for k, one := range pieces(a) {
					for m, other := range pieces(b) {
						if k > 0 || m > 0 {
							more = append(more, []any{one, other})
						}
					}
				}
			}
		}
	}
	if more == nil {
		return nil
	}
	return []finding.Edit{edit(append(groups, more...), "site", "separate")}
}

func anys[T any](list []T) []any {
	values := make([]any, len(list))
	for i, v := range list {
		values[i] = v
	}
	return values
}
