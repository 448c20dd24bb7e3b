package commission

import (
	"fmt"

	"farend/scheme"
	"farend/unit"
)

// What the eye is asked of runs that are lit.

// eye is what the eye is asked.
func (m *maker) eye(l lit, run string) Step {
	step := Step{Do: m.fullName(run) + ": by eye, alike from end to end and past each cut, none flickers", State: l.state(), About: []string{run}}
	r := m.st.Result(l.in)
	switch {
	case m.notChosen(run) != "":
		step.Expect = m.notChosen(run)
	case r == nil || !r.Found():
		step.Expect = unsolved
	case r.Runs[run].Evenness == nil:
		step.Expect = "dark, or no light is known of its tape"
	default:
		own := r.Runs[run]
		step.Expect = fmt.Sprintf("dimmest %v of the brightest", unit.Ratio(*own.Evenness))
		if worse, ok := m.worseInThePeak(l, run); ok {
			step.Expect += fmt.Sprintf(", down to %v where all pixels of the run pulse at once", worse)
		}
		switch {
		case own.ColourShift == nil:
		case *own.ColourShift < 1e-4:
			step.Expect += ", all of one colour"
		default:
			step.Expect += fmt.Sprintf(", colours apart by Δu′v′ %.4f", *own.ColourShift)
		}
	}
	return step
}

// worseInThePeak is how even a run is where all pulses of its pixels fall together; not ok where it is then less even than on the mean by no more than
// a hundredth, which nobody sees.
func (m *maker) worseInThePeak(l lit, run string) (unit.Ratio, bool) {
	mean, peak := m.st.Result(l.in), m.st.Result("peak/"+l.name)
	if mean == nil || peak == nil || !peak.Found() || mean.Runs[run].Evenness == nil || peak.Runs[run].Evenness == nil {
		return 0, false
	}
	worse := *peak.Runs[run].Evenness
	return unit.Ratio(worse), worse < *mean.Runs[run].Evenness-0.01
}

// evenness is what is computed of the light of a run in a state.
func (m *maker) evenness(l lit, run string) string {
	r := m.st.Result(l.in)
	switch {
	case m.notChosen(run) != "", r == nil || !r.Found():
		return "not known"
	case r.Runs[run].Evenness == nil:
		return "–"
	}
	text := unit.Ratio(*r.Runs[run].Evenness).String()
	if worse, ok := m.worseInThePeak(l, run); ok {
		text += ", in the peak " + worse.String()
	}
	if shift := r.Runs[run].ColourShift; shift != nil && *shift >= 1e-4 {
		text += fmt.Sprintf(", Δu′v′ %.4f", *shift)
	}
	return text
}

// eyeSheet is what the eye is asked in some states.
func (m *maker) eyeSheet(name string, states []lit) Worksheet {
	w := Worksheet{Name: name, Title: "By eye: alike from end to end and past each cut, none flickers", Notes: []string{"Dimmest is the dimmest pixel over the brightest, as computed, of the mean; in the peak, where that is worse, while the pulses of all pixels of a run fall together. Colours apart are Δu′v′."}, Columns: []Column{words("Run"), words("Called")}}
	for _, l := range states {
		w.Columns = append(w.Columns, Column{Head: "Dimmest", Over: l.name}, Column{Head: "Seen", Over: l.name, Field: l.name, Kind: Ticked, Quiet: true})
	}
	for _, run := range scheme.IDs(m.s.Runs) {
		said := []string{run, m.called(run)}
		for _, l := range states {
			said = append(said, m.evenness(l, run))
		}
		w.Rows = append(w.Rows, m.row(run, run, said...))
	}
	return w
}
