package commission

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"farend/network"
	"farend/scheme"
)

// The lowest volts of runs in a case, of all places that a probe reaches.

// lowestOfAll is lowest of every run that has a feed.
func (m *maker) lowestOfAll(in, state string) (steps []Step) {
	for _, run := range scheme.IDs(m.s.Runs) {
		if step, ok := m.lowest(in, run, state); ok {
			steps = append(steps, step)
		}
	}
	return steps
}

// lowestPlace is where a run is lowest of all places that a probe reaches; it is not ok where nobody can say.
func (m *maker) lowestPlace(in, run string) (at string, volts float64, ok bool) {
	r := m.st.Result(in)
	if r == nil || !r.Found() || m.notChosen(run) != "" || m.s.Tape(run) == nil || len(m.landings[run]) == 0 {
		return "", 0, false
	}
	volts = math.Inf(1)
	for _, station := range m.measurable(run) {
		if v := float64(m.n.VoltsAt(m.st.Solution(in), station)); v < volts-1e-6 {
			at, volts = station, v
		}
	}
	return at, volts, true
}

// lowest is the volts of a run where they are lowest of all places that a probe reaches.
func (m *maker) lowest(in, run, state string) (step Step, ok bool) {
	r := m.st.Result(in)
	if r == nil || m.s.Tape(run) == nil || len(m.landings[run]) == 0 {
		return Step{}, false
	}
	step = Step{State: state, About: []string{run}, Rests: restsVolts}.in("runs", run, "volts")
	at, least, found := m.lowestPlace(in, run)
	if !found {
		step.Do, step.Expect, step.Rests = m.labelled(run)+": volts", unsolved, ""
		if why := m.notChosen(run); why != "" {
			step.Expect = why
		}
		return step, true
	}
	step.Do, step.Between = fmt.Sprintf("%s: lowest volts that a probe reaches", m.labelled(run)), poles(at)
	b := m.bounded(in, voltsAt(at))
	if step.Reading = b.read(Volts, direct); b.ok && max(math.Abs(b.low), math.Abs(b.high)) <= deadVolts {
		step.Reading, step.Rests, step.Expect = nothing(), restsDead, "dead there: nothing feeds it"
		return step, true
	}
	if why := m.overVolts(at, b.is); why != "" {
		step.Reading, step.Rests, step.Expect = nil, "", why
		return step, true
	}
	if own := m.runsIn(in)[run]; own.Fed && float64(own.VoltsLow) < least {
		step.Expect = fmt.Sprintf("its lowest pixel, %d, has %v", own.LowAt, own.VoltsLow)
	}
	if step.Reading == nil {
		step.Expect, step.Rests = unsolved, ""
		return step, true
	}
	step.Joint = m.jointOf(m.feedOf(run, at), in, at, step.Reading)
	return step, true
}

// runsIn is what is so within runs in a case; of sketches it is read when it is first asked for.
func (m *maker) runsIn(in string) map[string]network.Run {
	if of := m.st.Result(in).Runs; len(of) > 0 {
		return of
	}
	if m.runs[in] == nil {
		m.runs = map[string]map[string]network.Run{in: m.n.ReadRuns(m.st.Solution(in), nil, nil)}
	}
	return m.runs[in]
}

// feedOf is the cable that lands on a run nearest to one of its stations, in the same piece of the positive where there is one.
func (m *maker) feedOf(run, station string) (cable string) {
	at, best := m.markOf(run, station), math.Inf(1)
	for _, id := range scheme.IDs(m.s.Cables) {
		c := m.s.Cables[id]
		for _, ref := range []scheme.Ref{c.From, c.To} {
			if ref.Kind != scheme.StationRef || ref.Element != run {
				continue
			}
			there := m.markOf(run, ref.String())
			far := math.Abs(there - at)
			for _, p := range m.pieces(run, scheme.Plus)[1:] {
				if cut := float64(p.from); cut > min(at, there) && cut < max(at, there) {
					far += float64(m.s.Runs[run].Count) // beyond a cut
				}
			}
			if far < best {
				cable, best = id, far
			}
		}
	}
	return cable
}

// markOf is the mark of a station by its name, a little before or after it where there is a cut.
func (m *maker) markOf(run, station string) float64 {
	const side = 0.25
	switch _, name, _ := strings.Cut(station, "@"); name {
	case "start":
		return 0
	case "end":
		return float64(m.s.Runs[run].Count)
	default:
		mark, _ := strconv.Atoi(strings.Trim(name, "px-"))
		switch {
		case strings.HasSuffix(name, "-"):
			return float64(mark) - side
		case slices.ContainsFunc(m.s.Runs[run].Cuts, func(c scheme.Cut) bool { return c.At.Mark == mark }):
			return float64(mark) + side
		}
		return float64(mark)
	}
}

// lowestSheet is the lowest volts of runs in one state, of the steps that are there.
func (m *maker) lowestSheet(steps []Step) Worksheet {
	w := Worksheet{Name: "runs", Title: "Lowest volts of each run, of its landings, ends and cut sides", Columns: []Column{words("Run"), words("Called"), words("At"), {Head: "Volts", Means: "the volts", Field: "volts", Kind: Measured, Quiet: true}}}
	for _, s := range steps {
		run := s.About[0]
		w.Rows = append(w.Rows, m.row(run, run, run, m.label(run), afterAt(place(s))))
	}
	return w
}

// place is where the volts of a step are read.
func place(s Step) string {
	if s.Between[0] == "" {
		return "–"
	}
	return strings.TrimSuffix(strings.TrimSuffix(s.Between[0], " +"), ",")
}

// lowestRows are the rows of a run in some states: one for each place that is lowest in some of them.
func (m *maker) lowestRows(run string, states []lit, lowest map[string][]Step) (rows []Row) {
	for _, l := range states {
		for _, s := range lowest[l.name] {
			at := place(s)
			if s.About[0] != run || slices.ContainsFunc(rows, func(r Row) bool { return r.Name == run+" "+at }) {
				continue
			}
			rows = append(rows, m.row(run+" "+at, run, run, afterAt(at)))
		}
	}
	return rows
}
