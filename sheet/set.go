// Package sheet says which drawings there are of a studied scheme. Each is a layout.Leaf or several and answers one question; the rooms
// below make them, each one kind or a few that are drawn alike. They judge nothing: what they draw are the numbers that rules judge, with
// what they rest on.
//
// Kinds of lines differ in width or dash, kinds of areas in tint or hatch, and each is named where it is drawn, so that nothing is lost in grey.
//
// A page has no clock: it is the same each time that it is drawn.
package sheet

import (
	"context"
	"slices"

	"farend/finding"
	"farend/layout"
	"farend/scheme"
	"farend/sheet/chart"
	"farend/sheet/drafting"
	"farend/sheet/night"
	"farend/sheet/plan"
	"farend/sheet/profile"
	"farend/sheet/runsheet"
	"farend/sheet/wiring"
	"farend/study"
)

// A Sheet is a drawing of the set of a scheme. It is made when it is asked for, and may take several pages.
type Sheet struct {
	Name  string // that of its first page, such as run-E1
	Kind  Kind
	Of    string // what it is of, such as E1; empty where it is of the whole
	Title string // what it shows, in a few words
	Make  func(context.Context) ([]layout.Leaf, error)
}

// A Kind is what a sheet shows.
type Kind string

const (
	OfPlan        Kind = "plan"
	OfSingleLine  Kind = "single-line"
	OfFace        Kind = "face"
	OfRun         Kind = "run"
	OfProfile     Kind = "profile"
	OfTimeCurrent Kind = "time-current"
	OfPower       Kind = "power"
	OfWave        Kind = "wave"
	OfNight       Kind = "night"
)

// Kinds are all of them, in the order of a set.
func Kinds() []Kind {
	return []Kind{OfPlan, OfSingleLine, OfFace, OfRun, OfProfile, OfNight, OfTimeCurrent, OfPower, OfWave}
}

// name is that of a sheet of one thing.
func (k Kind) name(of string) string {
	if of == "" {
		return string(k)
	}
	return string(k) + "-" + of
}

// Set lists the sheets of a scheme in their order: what there is to draw, and nothing that there is not. Of what a fault may burn with it has the
// worst place that each group of supplies reaches; Place makes that of any other.
func Set(st *study.Study, assessed []study.Assessed, style drafting.Style) []Sheet {
	s := setting{st: st, assessed: assessed, style: style}
	s.diagrams()
	s.runs()
	s.nights()
	s.charts()
	return s.sheets
}

// A setting is a set being listed.
type setting struct {
	st       *study.Study
	assessed []study.Assessed
	style    drafting.Style
	sheets   []Sheet
}

func (s *setting) add(kind Kind, of, title string, make func(context.Context) ([]layout.Leaf, error)) {
	s.sheets = append(s.sheets, Sheet{kind.name(of), kind, of, title, make})
}

// diagrams are what shows the installation as a whole, and its boards.
func (s *setting) diagrams() {
	s.add(OfPlan, "", "where everything goes, to scale", func(context.Context) ([]layout.Leaf, error) { return plan.Pages(s.st, s.style), nil })
	s.add(OfSingleLine, "", "what is joined to what, with every rating and length", func(context.Context) ([]layout.Leaf, error) { return wiring.SingleLine(s.st, s.style), nil })
	for _, id := range scheme.IDs(s.st.Scheme.Boards) {
		s.add(OfFace, id, id+": what is connected where", func(context.Context) ([]layout.Leaf, error) { return wiring.Face(s.st, id, s.style), nil })
	}
}

// nights are views of the states.
func (s *setting) nights() {
	for _, state := range s.st.Scheme.StateNames() {
		if _, ok := night.Seen(s.st, state); !ok {
			continue
		}
		s.add(OfNight, state, "the runs as they look in state "+state, func(context.Context) ([]layout.Leaf, error) {
			leaf, _ := night.Page(s.st, state, s.style)
			return []layout.Leaf{leaf}, nil
		})
	}
}

// runs are the sheet and the profile of each run.
func (s *setting) runs() {
	for _, id := range scheme.IDs(s.st.Scheme.Runs) {
		s.add(OfRun, id, id+": how it is cut, joined and mounted", func(context.Context) ([]layout.Leaf, error) { return runsheet.Pages(s.st, id, s.style), nil })
	}
	for _, id := range scheme.IDs(s.st.Scheme.Runs) {
		s.add(OfProfile, id, id+": voltage, current and light along it", func(context.Context) ([]layout.Leaf, error) { return profile.Pages(s.st, id, s.style), nil })
	}
}

// charts are those of fuses, faults and pulses.
func (s *setting) charts() {
	for _, id := range chart.Charted(s.st) {
		s.add(OfTimeCurrent, id, id+": when its fuse opens", func(context.Context) ([]layout.Leaf, error) {
			return one(chart.TimeCurrent(s.st, id, s.assessed, s.style))
		})
	}
	for _, place := range burning(s.st) {
		s.sheets = append(s.sheets, Place(s.st, place, s.style))
	}
	for _, lead := range scheme.IDs(s.st.Scheme.Data) {
		if e, ok := s.st.Edge(lead); ok && e.Asked() && len(s.st.Waveforms(lead)) > 0 {
			s.add(OfWave, lead, lead+": what becomes of its pulses", func(context.Context) ([]layout.Leaf, error) {
				leaf, _ := chart.Wave(s.st, lead, s.style)
				return []layout.Leaf{leaf}, nil
			})
		}
	}
}

func one(leaf layout.Leaf, err error) ([]layout.Leaf, error) {
	if err != nil {
		return nil, err
	}
	return []layout.Leaf{leaf}, nil
}

// Place is the sheet of what a fault at a place may burn with. Making it fails where no supply reaches the place.
func Place(st *study.Study, place string, style drafting.Style) Sheet {
	return Sheet{OfPower.name(place), OfPower, place, place + ": what a fault may burn with", func(ctx context.Context) ([]layout.Leaf, error) {
		curve, ok, err := st.PowerCurve(ctx, place)
		if err != nil {
			return nil, err
		}
		if !ok {
			return nil, &drafting.Error{Text: "no fault can burn at " + place, Hint: "name a place that a supply reaches, such as the end of a run"}
		}
		return []layout.Leaf{chart.Power(st, curve, style)}, nil
	}}
}

// burning lists of each group of supplies the place at which a fault may burn with most for ever; none where faults were not followed.
func burning(st *study.Study) (places []string) {
	worst := map[string]study.Silent{}
	for _, s := range st.Silent() {
		on := study.Several(st.Network.Homes(s.Fault.At))
		if s.Watts > worst[on].Watts {
			worst[on] = s
		}
	}
	for _, on := range scheme.IDs(worst) {
		places = append(places, worst[on].Fault.At)
	}
	slices.SortFunc(places, finding.Natural)
	return slices.Compact(places)
}
