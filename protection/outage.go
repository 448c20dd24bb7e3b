package protection

import (
	"fmt"
	"slices"
	"strings"

	"farend/finding"
	"farend/network"
	"farend/parts"
	"farend/remedy"
	"farend/scheme"
	"farend/study"
)

// outageRules are those that read the outages of a study.
func outageRules() []study.Rule {
	return []study.Rule{returnLost, conductorLost, backFeed}
}

// outageLimits are where all that is judged of outages ends.
var outageLimits = []string{
	"One thing is out at a time: a fuse, a core, a cable, a pole of an inlet or way, a supply or a board. Two that go one after the other, unseen, are not followed.",
	"In the dark and with the cap failed, with the least and with the most that may flow, and in every state as it is (docs/outages.md). Between these something may last longer, where several fuses share a load; where a conductor has a fuse to itself, what that lets through just below each of its gates counts too.",
	"A core that hangs by a few strands is no outage: how warm the break itself gets is not judged.",
}

// returnSource says why a lost return is to be reckoned with.
var returnSource = study.Source{Title: "common practice, no source", Basis: parts.Practice, Says: "a terminal that comes loose is the commonest fault of a lighting installation, and a return that does is seen by no fuse"}

var returnLost = study.Rule{
	Name: "protection/lost-return", Title: "Return that is lost", Scope: study.Leads, Safety: true, Reads: study.AsTimes,
	Doc: study.Doc{
		What: "The ground core of a data lead, and the ground of the port that it comes from, with one thing out at a time, in every order in which fuses may then open, against what they bear.",
		Why:  "When a return comes loose, its load finds home through the ground of the data. Every light still works, no fuse of the positive sees it, and a core and a port made for signals glow.",
		Formula: []string{
			"I_l ≤ I_b where it goes on",
			"Q = I_1² · t_1/K_s + … ≤ 1 until it has ended",
		},
		Symbols: shortHeat.Doc.Symbols,
		Sources: slices.Concat([]study.Source{returnSource}, shortHeat.Doc.Sources),
		Limits: append([]string{
			"What the ground carries while all is sound is judged by board/port-ground, a run that has no return but the ground by protection/data-return.",
			"Where the port or the cable does not say what it may carry, board/port-ground asks for it.",
		}, outageLimits...),
		Grades: []study.Graded{
			{Grade: finding.Danger, When: "I_l is above I_b, or Q above 1; of a contact without a fuse to itself above 1.2 times its rating, of a core that no fuse suits above 1.45 times what it may carry"},
			{Grade: finding.Fails, When: "a contact without such a fuse carries up to 1.2 times its rating for longer than 60 s, or a core that no fuse suits up to 1.45 times what it may carry for ever"},
			{Grade: finding.Tight, When: "Q is above 0.8"},
		},
		Example: study.Example{
			Given: []string{
				"Two runs of 600 pixels of 10 mA have a return each, and a data lead of 0.5 mm² from one to the next, whose core may carry 3 A, alone in conduit in air of 30 °C. The return of the first comes loose.",
			},
			Sums: []string{
				"600 × 10 mA = 6 A",
				"3 A × √((70 °C − 30 °C)/(70 °C − 30 °C)) = 3 A",
				"6 A/3 A = 2",
			},
			Value: "6 A", Limit: "3 A", Grade: finding.Danger,
			Says: "The core carries all that the first run draws, twice what it may, and no fuse sees more than before.",
		},
	},
	Judge: func(s *study.Study, id string) []study.Assessment {
		if s.Lost() == nil {
			return nil // protection/faults says so
		}
		if s.Scheme.Data[id].Ground == scheme.OpenGround {
			return study.Passes("The ground of " + id + " is open: nothing comes home by it.")
		}
		found := harmedByLoss(s, id, true, func(study.Harm) string { return returnRemedy(s, id) }, func(study.Harm) []finding.Edit { return remedy.Homeless(s, id) })
		if found == nil {
			return study.Passes("Nothing says what the ground of " + id + " may carry; board/port-ground asks for it.")
		}
		return found
	},
}

// grounding reports whether a conductor is the ground of a data lead, or of the port that it comes from.
func grounding(s *study.Study, b *study.Bearer) bool {
	_, lead := s.Scheme.Data[b.Owner]
	return lead && !strings.HasSuffix(b.Name, ".power")
}

// lighting adds whether anybody would see it.
func lighting(a study.Assessment, t *study.Lost, h study.Harm) study.Assessment {
	if a.Grade == finding.Pass || h.Strike == nil {
		return a
	}
	o, ok := t.Without(h.Strike.Case.Out)
	if !ok {
		return a
	}
	for i := range o.Courses {
		if c := &o.Courses[i]; c.Case == h.Strike.Case && c.Case.Kind == network.CapFailed {
			if dark, _, _ := c.Fades(); len(dark) > 0 {
				a.Text += fmt.Sprintf(" There %s then goes dark, in part or as a whole.", study.Several(dark))
			}
		}
	}
	switch {
	case len(o.Dark)+len(o.Off)+len(o.Dim) == 0:
		a.Text += " In every state all lights work as before."
	case len(o.Dark) == 0:
		var how []string
		if len(o.Off) > 0 {
			how = append(how, fmt.Sprintf("in %s some are off colour", study.Several(faded(o.Off))))
		}
		if len(o.Dim) > 0 {
			how = append(how, fmt.Sprintf("in %s some are dim", study.Several(faded(o.Dim))))
		}
		a.Text += fmt.Sprintf(" In every state all lights are lit, though %s.", strings.Join(how, ", and "))
	}
	return a
}

func faded(runs []study.Faded) (names []string) {
	for _, f := range runs {
		names = append(names, f.Run)
	}
	return names
}

// returnRemedy says what would do.
func returnRemedy(s *study.Study, lead string) string {
	if s.Scheme.Data[lead].From.Kind == scheme.PortRef {
		return "Give the run a second return, use a small fuse in the ground of the port (ground_fuse), or leave the ground open (ground: open) where the run has its return by power copper."
	}
	return "Leave the ground open between the runs (ground: open), where both have their return by power copper, or give the runs a second return."
}

var conductorLost = study.Rule{
	Name: "protection/lost-conductor", Title: "Conductor beside one that is lost", Scope: study.Copper, Safety: true, Reads: study.AsTimes,
	Doc: study.Doc{
		What: "Every conductor of a thing that carries more with one thing out, one at a time, in every order in which fuses may then open, against what it bears.",
		Why:  "What shares a load carries all of it when one of them is lost. Of a feed the fuse of the other sees that; of a return nobody does, and no light goes out.",
		Formula: []string{
			"I_l ≤ I_b where it goes on",
			"Q = I_1² · t_1/K_s + … ≤ 1 until it has ended",
		},
		Symbols: shortHeat.Doc.Symbols,
		Sources: slices.Concat([]study.Source{returnSource}, shortHeat.Doc.Sources),
		Limits: append([]string{
			"The grounds of data leads and ports are judged by protection/lost-return.",
		}, outageLimits...),
		Grades: shortHeat.Doc.Grades[:3],
		Example: study.Example{
			Given: []string{
				"A run of 680 pixels of 10 mA is fed at both ends, over ways of 5 A that are fused with 5 A and share its load alike. One of the returns comes loose.",
			},
			Sums: []string{
				"680 × 10 mA/2 = 3.4 A",
				"680 × 10 mA = 6.8 A",
				"1.2 × 5 A = 6 A",
				"6.8 A > 6 A",
			},
			Value: "6.8 A", Limit: "5 A", Grade: finding.Danger,
			Says: "Both fuses carry 3.4 A as before, while the return terminal of the other way carries 6.8 A for ever.",
		},
	},
	Judge: func(s *study.Study, id string) []study.Assessment {
		return harmedByLoss(s, id, false, shareRemedy, func(h study.Harm) []finding.Edit { return remedy.Lost(s, h) })
	},
}

// harmedByLoss are the assessments of what outages do to the conductors of a thing, of grounds of data or of all else, with what would do; none where outages
// were not followed, which protection/faults says.
func harmedByLoss(s *study.Study, id string, grounds bool, would func(study.Harm) string, fix func(study.Harm) []finding.Edit) (found []study.Assessment) {
	t := s.Lost()
	if t == nil {
		return nil
	}
	for _, i := range t.Of(id) {
		if grounding(s, &t.Bearers[i]) == grounds {
			h := t.Harm(i)
			found = append(found, lighting(harmed(s, t, h, would(h), func() []finding.Edit { return fix(h) }), t, h))
		}
	}
	return found
}

// shareRemedy says what would do.
func shareRemedy(h study.Harm) string {
	switch {
	case h.Bearer.Kind == study.OfRails:
		return "Use smaller fuses in its feeds, cut the positive between them, or feed it more richly, so that what is left carries it."
	case strings.Contains(h.Bearer.Name, ".return"):
		return "Use returns and terminals each of which carries what comes home when another is lost, or cut the return between the feeds too."
	}
	return "Use a smaller fuse before it, or parts each of which carries the load when another is lost."
}

var backFeed = study.Rule{
	Name: "protection/back-feed", Title: "Live behind its own fuse", Scope: study.Fuses, Safety: true,
	Doc: study.Doc{
		What:    "The copper behind the fuse of a way or cable against being fed by that fuse alone.",
		Why:     "Whoever draws one fuse and works on what hangs behind it finds it live, and a slip of the tool makes a short that the fuse in his hand does not end.",
		Formula: []string{"N_f = 0"},
		Symbols: []study.Symbol{{Sign: "N_f", Unit: "1", Means: "other fuses, and supplies without one, by which a supply feeds what is behind the fuse, by copper or along tape"}},
		Sources: []study.Source{nothingNeeded("that copper which hangs together has one potential")},
		Limits: []string{
			"It asks where the positive of some supply leads, whether anything is switched on or not. Fuses that are not chosen yet count as closed.",
			"Pixels that tie one piece to the next and capacitors that are still charged are not seen.",
			"Of fuses that feed one and the same piece the first tells it for all.",
		},
		Grades: []study.Graded{{Grade: finding.Note, When: "something else feeds it; all that does has to be drawn together to isolate it"}},
		Example: study.Example{
			Given: []string{"A run is fed at both ends, over ways A2.1 and A2.2, and its positive is not cut between them."},
			Sums:  []string{"2 − 1 = 1"},
			Grade: finding.Note,
			Says:  "With the fuse of A2.1 drawn, the run, its leads and the terminals of both ways are as live as before.",
		},
	},
	Judge: func(s *study.Study, id string) []study.Assessment {
		name := id + ".fuse"
		if _, fused := s.Guard(name); !fused {
			return nil // the ground of a port
		}
		fed := s.BackFed(name)
		if toldBefore(s, name, fed) {
			return nil
		}
		others := slices.Concat(fed.Fuses, fed.Bare)
		var a study.Assessment
		if len(others) > 0 {
			a.Grade = finding.Note
			a = a.Say(isolating(name, fed), "Draw all of them before anybody works on it, and say so beside them; or cut the positive between the feeds.")
		}
		return []study.Assessment{a.Worked(func(w *study.Working) {
			w.Counted("N_f", "others that feed what is behind "+name+": "+study.Listed(others), len(others))
			w.When(finding.Note, "N_f > 0")
		})}
	},
}

// isolating says what feeds the copper behind a fuse besides, and what isolates it.
func isolating(name string, fed network.Behind) string {
	verb := "feed"
	if len(fed.Fuses)+len(fed.Bare) == 1 {
		verb = "feeds"
	}
	what := fmt.Sprintf("What is behind %s stays live when that is out: %s %s it too.", name, study.Several(slices.Concat(fed.Fuses, fed.Bare)), verb)
	switch draw := study.Several(append([]string{name}, fed.Fuses...)); {
	case len(fed.Bare) == 0:
		return what + fmt.Sprintf(" To isolate it draw %s together.", draw)
	case len(fed.Fuses) == 0:
		return what + fmt.Sprintf(" To isolate it switch %s off.", study.Several(fed.Bare))
	default:
		return what + fmt.Sprintf(" To isolate it draw %s together, and switch %s off.", draw, study.Several(fed.Bare))
	}
}

// toldBefore reports whether another fuse, which stands before this one, tells of the same piece.
func toldBefore(s *study.Study, name string, fed network.Behind) bool {
	all := func(name string, fed network.Behind) []string {
		list := slices.Concat([]string{name}, fed.Fuses, fed.Bare)
		slices.SortFunc(list, finding.Natural)
		return list
	}
	mine := all(name, fed)
	return len(mine) > 1 && slices.ContainsFunc(fed.Fuses, func(other string) bool {
		return finding.Natural(other, name) < 0 && slices.Equal(mine, all(other, s.BackFed(other)))
	})
}
