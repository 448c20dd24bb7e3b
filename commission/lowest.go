package commission

import (
	"cmp"
	"fmt"
	"math"
	"slices"

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
func (m *maker) lowestPlace(in, run string) (at place, volts float64, ok bool) {
	r := m.st.Result(in)
	if r == nil || !r.Found() || m.notChosen(run) != "" || m.s.Tape(run) == nil || len(m.landings[run]) == 0 {
		return place{}, 0, false
	}
	volts = math.Inf(1)
	expected := m.expectedIn(in)
	for _, p := range m.measurable(run) {
		if v := expected(m.station(run, p)); v < volts-1e-6 {
			at, volts = p, v
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
	step = Step{Do: m.fullName(run) + ": volts", Where: "–", State: state, About: []string{run}, Rests: restsVolts}.in("runs", run, "volts")
	lowest, volts, found := m.lowestPlace(in, run)
	if !found {
		return step.without(cmp.Or(m.notChosen(run), unsolved)), true
	}
	at := m.station(run, lowest)
	step.Do, step.Between, step.Where = m.fullName(run)+": lowest volts that a probe reaches", poles(at), spoken(m.mark(run, lowest))
	b := m.bounded(in, voltsAt(at))
	if b.ok && max(math.Abs(b.low), math.Abs(b.high)) <= deadVolts {
		step.Reading, step.Rests, step.Expect = nothing(), restsDead, "dead there: nothing feeds it"
		return step, true
	}
	if why := m.overVolts(at, b.is); why != "" {
		return step.forbidding(why), true
	}
	if step.Reading = b.read(Volts, direct); step.Reading == nil {
		return step.without(unsolved), true
	}
	if own := m.runsIn(in)[run]; own.Fed && float64(own.VoltsLow) < volts {
		step.Expect = fmt.Sprintf("its lowest pixel, %d, has %v", own.LowAt, own.VoltsLow)
	}
	step.Joint = m.jointOf(m.feedOf(run, lowest), in, at, step.Reading)
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

// feedOf is the cable that lands on a run nearest to one of its places, in the same piece of the positive where there is one.
func (m *maker) feedOf(run string, at place) (cable string) {
	here, best := m.along(run, at), math.Inf(1)
	for _, id := range scheme.IDs(m.s.Cables) {
		c := m.s.Cables[id]
		for _, ref := range []scheme.Ref{c.From, c.To} {
			if ref.Kind != scheme.StationRef || ref.Element != run {
				continue
			}
			there := m.along(run, placeOf(ref))
			far := math.Abs(there - here)
			for _, p := range m.pieces(run, scheme.Plus)[1:] {
				if cut := float64(p.from); cut > min(here, there) && cut < max(here, there) {
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

// along is how far along its run a place is, in marks; a little before or after one where there is a cut.
func (m *maker) along(run string, p place) float64 {
	const side = 0.25
	cut := slices.ContainsFunc(m.s.Runs[run].Cuts, func(c scheme.Cut) bool { return c.At.Mark == p.mark })
	switch {
	case p.before:
		return float64(p.mark) - side
	case cut:
		return float64(p.mark) + side
	}
	return float64(p.mark)
}

// lowestTitle is what lowest volts are of.
const lowestTitle = "Lowest volts of each run, of its landings, ends and cut sides"

// lowestSheet is the lowest volts of runs in one state, of the steps that are there.
func (m *maker) lowestSheet(steps []Step) Worksheet {
	w := Worksheet{Name: "runs", Title: lowestTitle, Columns: []Column{words("Run"), words("Called"), words("At"), {Head: "Volts", Means: "the volts", Field: "volts", Kind: Measured, Quiet: true}}}
	for _, s := range steps {
		run := s.Fill.Row
		w.Rows = append(w.Rows, m.row(run, run, run, m.called(run), s.Where))
	}
	return w
}

// lowestOfStates is the lowest volts of runs in some states.
func (m *maker) lowestOfStates(name string, states []lit, lowest map[string][]Step) Worksheet {
	w := Worksheet{Name: name, Title: lowestTitle, Columns: []Column{words("Run"), words("At")}}
	for _, l := range states {
		w.Columns = append(w.Columns, Column{Head: "Volts", Means: "the volts in " + l.name, Over: l.name, Field: l.name, Kind: Measured, Quiet: true})
	}
	for _, run := range scheme.IDs(m.s.Runs) {
		w.Rows = append(w.Rows, m.lowestRows(run, states, lowest)...)
	}
	return w
}

// lowestRows are the rows of a run in some states: one for each place that is lowest in some of them.
func (m *maker) lowestRows(run string, states []lit, lowest map[string][]Step) (rows []Row) {
	for _, l := range states {
		for _, s := range lowest[l.name] {
			name := run + " " + s.Where
			if s.Fill.Row != run || slices.ContainsFunc(rows, func(r Row) bool { return r.Name == name }) {
				continue
			}
			rows = append(rows, m.row(name, run, run, s.Where))
		}
	}
	return rows
}
