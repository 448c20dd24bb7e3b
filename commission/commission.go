package commission

import (
	"context"
	"fmt"
	"slices"

	"farend/network"
	"farend/scheme"
	"farend/study"
	"farend/unit"
)

// A Procedure is what to do, in order, before and while an installation is first put under voltage.
type Procedure struct {
	Title  string
	Stages []Stage
}

// A Stage is steps that are done in one condition of the installation.
type Stage struct {
	Name   string
	Live   bool     // something is under voltage, on purpose
	Why    string   // in sentences
	Stop   string   // when not to go on
	Notes  []string // whatever else holds for all its steps
	Steps  []Step
	Sheets []Worksheet // in which its steps are filled in; each stands where its first step does
	Signed string      // by whom it is signed, "" where by nobody
	Rests  bool        // what bands rest on stands here
}

// A Step is one thing to do. It is ticked off, or measured where there is a reading.
type Step struct {
	Do      string
	Between [2]string        // the two points of a reading; none, or the first alone, where there are no two
	Where   string           // at which place, or in which range of the meter, in the words of its row; "" where its row has none
	State   string           // in which the installation is
	Reading *Reading         // what is to be expected; nil where nothing is measured, or nobody can say
	Expect  string           // in words, beside the reading or instead of it
	Forbids bool             // what is expected is a reason not to switch on
	Rests   string           // on what the band rests
	Stop    string           // what not to go on after
	Joint   *Joint           // what a bad joint there would do to the reading
	Section unit.SquareMetre // of the cores that it is about, 0 where it is about none
	About   []string         // identifiers of what it is about
	Fill    Fill             // where it is filled in
}

// A maker gathers what the stages are made of.
type maker struct {
	ctx      context.Context
	st       *study.Study
	s        *scheme.Scheme
	n        *network.Network
	joined   *study.Study   // the same with something in the place of all that is still to be chosen, see whole.go
	open     []unchosen     // what that is, of what carries current
	cases    []string       // that are looked at
	base     *study.Study   // a sketch of the same, for what is changed a little
	corners  []*study.Study // of the same scheme, in each of turns
	shared   *sharing
	bad      map[string]*study.Study           // with a bad joint in a cable
	runs     map[string]map[string]network.Run // of cases, where the study does not say
	gaps     []gap
	parted   network.Parted     // what is joined with all gaps open
	landings map[string][]place // of runs, see findLandings
	lit      []lit              // the states, the dimmest first
}

// A Danger is a kind of thing that was found and can hurt or burn, or of which nobody can say yet that it does not, with what it was found of; the same may
// be there more than once.
type Danger struct {
	Name string
	Of   []string
}

// Of is the procedure of a study. Dangers are what was found of it for which it is not to be switched on before they are mended. The error is
// ours or the context's.
func Of(ctx context.Context, st *study.Study, dangers []Danger) (Procedure, error) {
	m, err := gather(ctx, st)
	if err != nil {
		return Procedure{}, fmt.Errorf("commission: %w", err)
	}
	stages, err := m.stages()
	if err != nil {
		return Procedure{}, fmt.Errorf("commission: %w", err)
	}
	if len(dangers) > 0 {
		stages = slices.Insert(stages, 0, forbidden(dangers))
		for i := range stages {
			if stages[i].Live {
				stages[i].Name += onlyThen
			}
		}
	}
	return Procedure{Title: st.Scheme.Title, Stages: stages}, nil
}

// gather finds and solves what the stages are made of.
func gather(ctx context.Context, st *study.Study) (*maker, error) {
	m := &maker{ctx: ctx, st: st, s: st.Scheme, n: st.Network, cases: []string{string(network.Dark)}}
	var err error
	if m.joined, err = joinedWhole(ctx, st); err != nil {
		return nil, err
	}
	m.findOpen()
	m.findGaps()
	m.findLandings()
	m.orderStates()
	for _, l := range m.lit {
		m.cases = append(m.cases, l.in)
	}
	return m, m.vary()
}

// stages are all of them, in the order of work.
func (m *maker) stages() ([]Stage, error) {
	oneByOne, err := m.oneByOne()
	if err != nil {
		return nil, err
	}
	fullDrive, err := m.fullDrive()
	if err != nil {
		return nil, err
	}
	return []Stage{
		m.before(), m.electrician(), m.ends(), m.dead(), m.alone(), oneByOne, m.allDark(), m.states(), fullDrive, m.warm(), m.after(), m.isolate(),
	}, nil
}

// onlyThen stands in the headings of stages under voltage where something forbids to switch on.
const onlyThen = ": only after what forbids it is mended and the report is made anew"

// forbidden is that nothing is to be switched on.
func forbidden(dangers []Danger) Stage {
	count := 0
	for _, d := range dangers {
		count += len(d.Of)
	}
	g := Stage{
		Name: fmt.Sprintf("Not to be switched on: %s", study.Counted(count, "finding")),
		Why:  "As it is designed it can hurt or burn, or nobody can say yet that it does not. Mend these in the scheme, have it judged again, and make the report anew: with it this sheet. Until then it can be read, and tested dead.",
		Stop: "No supply is switched on while one of these stands.",
	}
	for _, d := range dangers {
		var of []string
		for _, id := range d.Of {
			if !slices.Contains(of, id) {
				of = append(of, id)
			}
		}
		g.Steps = append(g.Steps, Step{Do: "Mended: " + d.Name + " (" + study.Listed(of) + ")", State: "on paper"})
	}
	return g
}
