package protection

import (
	"fmt"
	"strings"

	"farend/finding"
	"farend/parts"
	"farend/scheme"
	"farend/study"
)

// weatherSource is what is asked of things in the wet.
var weatherSource = study.Source{Title: "common practice, no source", Basis: parts.Practice,
	Says: "tape in a damp place keeps out drops (a second digit of 1, better 2), outdoors spray and splashes (3, better 4), under water what its maker agrees to (8; 7 is tested for half an hour); cables with a common sheath stand a damp place; supplies, boards, splices and contactors stand in boxes"}

var weather = study.Rule{
	Name: "protection/weather", Title: "Made for the wet", Scope: study.Whole, Safety: true,
	Doc: study.Doc{
		What: "Where the site is not said to be dry, everything that is not in a box against being made for it: sheaths of cables and data leads (suits), tape as installed (ip); and supplies, boards, junctions and contactors against standing in an enclosure of the scheme.",
		Why:  "Water on tape eats its copper and lets currents creep between the poles; sheaths for indoors go brittle in the sun and let water in; water in a supply meets the mains.",
		Formula: []string{
			"N_n = 0 and N_h = 0",
			"N_q = 0",
		},
		Symbols: []study.Symbol{
			{Sign: "N_n", Unit: "1", Means: "things that are made for less, or keep out less than the least"},
			{Sign: "N_h", Unit: "1", Means: "runs that keep out the least, and less than they should"},
			{Sign: "N_q", Unit: "1", Means: "things of which nobody says how wet they may get, or that stand in no box"},
		},
		Sources: []study.Source{
			weatherSource,
			{Title: "IEC 60529", Clause: "tables of the first and the second digit", Basis: parts.Standard, Says: "1: drops; 2: drops at 15°; 3: spray to 60°; 4: splashing; 7: immersion to 1 m; 8: beyond 1 m", Read: "pages that were not named"},
			{Title: "IEC 60364-5-51", Clause: "table 51A, AD", Basis: parts.Memory, Says: "drops ask 1 or 2, spray 3, splashes 4, immersion 7, submersion 8"},
			{Title: "EN 50565-2", Basis: parts.Memory, Says: "cords with an ordinary PVC sheath are for indoors; heavy rubber (H07RN-F) is for outdoors and for water"},
		},
		Limits: []string{
			"It believes what the scheme says. Whether a tape kept its degree of protection where it was cut and soldered, only a look tells.",
			"A cable between two things in one box is in the box. Conduit counts for nothing: it fills.",
			"Connectors, and solder joints of tape, are not judged.",
			"Boxes themselves are judged by board/enclosure-degree.",
		},
		Grades: []study.Graded{
			{Grade: finding.Fails, When: "something is made for less"},
			{Grade: finding.Unknown, When: "of something nobody says, or it stands in no enclosure of the scheme; or the scheme does not say how wet the site is, and not everything is made to be under water"},
			{Grade: finding.Tight, When: "a run keeps out the least, and less than it should"},
		},
		Example: study.Example{
			Given: []string{"Outdoors a cable is made for damp places, another says nothing, and a run has IP20."},
			Sums:  []string{"1 + 1 = 2", "2 > 0"},
			Grade: finding.Fails,
			Says:  "The cable and the run are not made for it; of the other cable its maker's sheet tells.",
		},
	},
	Judge: func(s *study.Study, _ string) []study.Assessment {
		place, wettest := s.Scheme.Site.Exposure, exposedOf(s, parts.Immersed)
		switch {
		case place == parts.Dry:
			return study.Passes("The site is dry.")
		case place == "" && wettest.grade() == finding.Pass:
			return study.Passes("Everything is made for any place.")
		case place == "":
			return study.Unknown("The scheme does not say how wet the site is, so it is not known whether tape, cables and what stands in no box are made for it.", "Write exposure under site.")
		}
		e := exposedOf(s, place)
		a := study.Assessment{Basis: weatherSource.Basis, Source: weatherSource.String(), Grade: e.grade()}
		return []study.Assessment{a.On(func() []study.Number { return []study.Number{study.Taken("what is made for the wet", weatherSource)} }).
			Say(e.text(place), "Use parts that are made for it, write what their sheets say (suits, ip), and put supplies, boards and splices in enclosures.").
			Worked(func(w *study.Working) {
				w.Counted("N_n", "made for less: "+study.Several(e.unfit), len(e.unfit))
				w.Counted("N_q", "of which nobody says, or in no box: "+study.Several(append(append([]string{}, e.unsaid...), e.unboxed...)), len(e.unsaid)+len(e.unboxed))
				w.Counted("N_h", "hardly made for it: "+study.Several(e.hardly), len(e.hardly))
				w.When(finding.Fails, "N_n > 0")
				w.When(finding.Unknown, "N_q > 0")
				w.When(finding.Tight, "N_h > 0")
			})}
	},
}

// exposed is what of a scheme is in the wet.
type exposed struct {
	unfit   []string // made for less, with what they are made for
	hardly  []string
	unsaid  []string
	unboxed []string
}

func exposedOf(s *study.Study, place parts.Exposure) exposed {
	var e exposed
	boxes := boxesOf(s)
	for _, ids := range [][]string{scheme.IDs(s.Scheme.Supplies), scheme.IDs(s.Scheme.Boards), scheme.IDs(s.Scheme.Junctions), scheme.IDs(s.Scheme.Contactors)} {
		for _, id := range ids {
			if boxes[id] == "" {
				e.unboxed = append(e.unboxed, id)
			}
		}
	}
	for _, id := range scheme.IDs(s.Scheme.Cables) {
		c := s.Scheme.Cables[id]
		if box := boxes[c.From.Element]; box == "" || box != boxes[c.To.Element] {
			e.cable(s, id, place)
		}
	}
	for _, id := range scheme.IDs(s.Scheme.Data) {
		e.cable(s, id, place)
	}
	for _, id := range scheme.IDs(s.Scheme.Runs) {
		e.run(s.Scheme.RunIP(id), id, place.Wetness())
	}
	return e
}

// boxesOf is the enclosure that holds each thing.
func boxesOf(s *study.Study) map[string]string {
	boxes := map[string]string{}
	for _, box := range scheme.IDs(s.Scheme.Enclosures) {
		for _, held := range s.Scheme.Enclosures[box].Holds {
			boxes[held] = box
		}
	}
	return boxes
}

// cable adds a cable or data lead. One that says nothing stands a damp place.
func (e *exposed) cable(s *study.Study, id string, place parts.Exposure) {
	switch made := s.Scheme.Suits(id); {
	case made.Stands(place) || made == "" && place == parts.Damp:
	case made == "":
		e.unsaid = append(e.unsaid, id)
	default:
		e.unfit = append(e.unfit, fmt.Sprintf("%s (for %s)", id, made))
	}
}

// run adds a run by its degree of protection.
func (e *exposed) run(ip, id string, need parts.Wetness) {
	_, water, said := parts.Degree(ip)
	switch {
	case !said:
		e.unsaid = append(e.unsaid, id)
	case parts.KeepsOut(water, need.Wanted):
	case parts.KeepsOut(water, need.Least):
		e.hardly = append(e.hardly, fmt.Sprintf("%s (IP%s)", id, ip))
	default:
		e.unfit = append(e.unfit, fmt.Sprintf("%s (IP%s)", id, ip))
	}
}

func (e *exposed) grade() finding.Grade {
	switch {
	case len(e.unfit) > 0:
		return finding.Fails
	case len(e.unsaid)+len(e.unboxed) > 0:
		return finding.Unknown
	case len(e.hardly) > 0:
		return finding.Tight
	}
	return finding.Pass
}

// text says what is in the wet, worst first.
func (e *exposed) text(place parts.Exposure) string {
	var said []string
	add := func(ids []string, text string) {
		if len(ids) > 0 {
			said = append(said, fmt.Sprintf(text, study.Several(ids)))
		}
	}
	add(e.unfit, "not made for it: %s")
	add(e.unsaid, "nobody says whether these are made for it: %s")
	add(e.unboxed, "in no enclosure of the scheme: %s")
	add(e.hardly, "hardly made for it: %s")
	return fmt.Sprintf("The site is %s. %s.", place, study.Capital(strings.Join(said, "; ")))
}
