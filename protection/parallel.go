package protection

import (
	"fmt"
	"strings"

	"farend/finding"
	"farend/parts"
	"farend/remedy"
	"farend/study"
)

var parallelSupplies = study.Rule{
	Name: "protection/parallel-supplies", Title: "Supplies in parallel", Scope: study.Supplies, Safety: true,
	Doc: study.Doc{
		What:    "Supplies whose plus and whose minus are joined by copper work in parallel; each one's maker must allow that.",
		Why:     "Without sharing, the one with the higher set point carries all that it can, gets hot and ages; the other may be fed backwards, which the solved network leaves out. A fault then has the current of both.",
		Formula: []string{"N_p = 0, or parallel = allowed"},
		Symbols: []study.Symbol{
			{Sign: "N_p", Unit: "1", Means: "other supplies with both poles on the same copper"},
			{Sign: "parallel", Unit: "1", Means: "what the part says: allowed or forbidden"},
		},
		Sources: []study.Source{
			{Title: "the sheet of the supply", Basis: parts.Datasheet, Says: "whether it may work in parallel, and how it shares"},
			{Title: "common practice, no source", Basis: parts.Practice, Says: "enclosed supplies without a parallel mode are not joined"},
		},
		Limits: []string{
			"It sees copper, fuses and ground cores of data leads. A diode or relay between two supplies is not in a scheme.",
			"It asks for leave, not for sharing: how evenly supplies share is in the solved currents only as far as their set points and source resistances are known.",
		},
		Grades: []study.Graded{
			{Grade: finding.Fails, When: "its part forbids it"},
			{Grade: finding.Unknown, When: "its part does not say"},
		},
		Example: study.Example{
			Given: []string{
				"Two supplies of 5 V feed one run from both ends, each through 1 m of 2 × 2.5 mm². One is set 0.1 V higher, which is 2 %.",
				"The higher has a source resistance of 1.67 mΩ.",
			},
			Sums:  []string{"1.67 mΩ + 2 × 7.98 mΩ = 17.6 mΩ", "0.1 V/17.6 mΩ = 5.7 A"},
			Grade: finding.Fails,
			Says:  "Up to 5.7 A the higher one carries all and the other nothing; its part forbids that.",
		},
	},
	Judge: func(s *study.Study, id string) []study.Assessment {
		others := s.Network.Partners(id)
		name := s.Scheme.Supplies[id].Part
		part, ok := parts.Get[parts.Supply](s.Scheme.Library, name)
		joined := func(w *study.Working) {
			w.Counted("N_p", "other supplies with both poles on the same copper: "+study.Listed(others), len(others))
			if part != nil && part.Parallel != "" {
				w.Fact(finding.Pass, fmt.Sprintf("%s says of working in parallel: %s.", name, part.Parallel))
			}
			if part == nil || part.Parallel != "allowed" {
				w.When(finding.Fails, "N_p > 0")
			}
		}
		switch {
		case len(others) == 0 || !ok || part.Parallel == "allowed": // a supply without a part is in no network
			return []study.Assessment{study.Assessment{Grade: finding.Pass}.Worked(joined)}
		case part.Parallel == "":
			return study.Unknown(fmt.Sprintf("%s works in parallel with %s, and %s does not say whether that is allowed.", id, strings.Join(others, ", "), name), "Give the part parallel: allowed or forbidden from its maker's sheet.")
		}
		a := study.Assessment{Grade: finding.Fails, Source: part.Source, Basis: part.Basis}
		return []study.Assessment{a.On(func() []study.Number { return []study.Number{study.Said(name, "parallel", part.Origin)} }).Say(
			fmt.Sprintf("%s works in parallel with %s, and its part does not allow that.", id, strings.Join(others, ", ")),
			"Cut the positive rail between their feeds, or use one larger supply.").Worked(joined).Fixed(func() []finding.Edit { return remedy.Part(s, id) })}
	},
}

// backSource is the source of what is asked of supplies that others feed.
var backSource = study.Source{Title: "common practice, no source", Basis: parts.Practice, Says: "supplies with bleeders, synchronous rectifiers or overvoltage protection do take current back"}

var idleSupply = study.Rule{
	Name: "protection/idle-supply", Title: "Idle supply", Scope: study.Supplies, Safety: false,
	Doc: study.Doc{
		What:    "A supply that delivers nothing while others hold its terminals up, above its set point or though it has shut down: it is noted.",
		Why:     "The solved network lets no current back into a supply. One with a bleeder, a synchronous rectifier or overvoltage protection may take some all the same: it then loads the others, gets hot or shuts down.",
		Formula: []string{"I_s = 0 where U > U_s"},
		Symbols: []study.Symbol{
			{Sign: "I_s", Unit: "A", Means: "current out of its plus terminal"},
			{Sign: "U", Unit: "V", Means: "voltage across its terminals"},
			{Sign: "U_s", Unit: "V", Means: "its set point"},
		},
		Sources: []study.Source{backSource},
		Limits: []string{
			"It says that current back is left out, not how much there would be: no part states that.",
			"It names the first case in which the supply is idle, not all of them.",
		},
		Grades: []study.Graded{{Grade: finding.Note, When: "others hold its terminals above its set point in some case, or up though it has shut down"}},
		Example: study.Example{
			Given: []string{"Two supplies feed one run from both ends; one is set to 10.2 V, the other to 10 V. In the dark next to nothing is drawn."},
			Sums:  []string{"10.2 V > 10 V"},
			Grade: finding.Note,
			Says:  "The lower one delivers nothing, and 0.2 V stand against it.",
		},
	},
	Judge: func(s *study.Study, id string) []study.Assessment {
		for _, c := range s.Cases() {
			r, solved := s.Result(c.Name).Supplies[id]
			why := "others hold its terminals at %v, above its set point"
			switch {
			case solved && r.State == "idle":
			case solved && r.State == "off" && r.Volts > 0:
				why = "it has shut down, and others hold its terminals at %v"
			default:
				continue
			}
			a := study.Assessment{Case: c.Name, Grade: finding.Note, Basis: backSource.Basis, Source: backSource.String()}
			return []study.Assessment{a.On(func() []study.Number { return []study.Number{study.Taken("current back into a supply", backSource)} }).Say(
				fmt.Sprintf("%s delivers nothing in %s: "+why+". That no current flows back into it is optimistic for a supply with a bleeder, a synchronous rectifier or overvoltage protection.", id, study.CaseWords(c), r.Volts),
				"Trim supplies that work in parallel to the same voltage, as far as their makers allow them in parallel.").Fixed(func() []finding.Edit { return remedy.Even(s, id) }).Worked(func(w *study.Working) {
				w.Solved("U", "voltage across its terminals", study.Of(r.Volts), c)
				if r.State == "off" {
					w.Fact(finding.Pass, "It has shut down.")
					w.When(finding.Note, "U > 0 V")
					return
				}
				setPoint(w, s, c, id)
				w.When(finding.Note, "U > U_s")
			})}
		}
		return study.Passes("In no case do others hold its terminals above its set point, or up though it has shut down.")
	},
}
