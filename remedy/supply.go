package remedy

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"farend/finding"
	"farend/network"
	"farend/parts"
	"farend/scheme"
	"farend/study"
	"farend/unit"
)

// Supply puts a larger supply of the same voltage in the place of one that is loaded too heavily, or that folds back or shuts down
// and so never starts: the smallest that gives what is drawn at four fifths of its rating, in that air, at the same set point, or at the
// highest that its tapes bear.
func Supply(s *study.Study, supply string) []finding.Edit {
	now, ok := parts.Get[parts.Supply](s.Scheme.Library, s.Scheme.Supplies[supply].Part)
	if !ok {
		return nil
	}
	name := supplyFor(s, supply, s.Scheme.SetPoint(supply), now.Volts.Is, loading(s, supply))
	edits := changed(name, s.Scheme.Supplies[supply].Part, "supplies", supply, "part")
	if larger, ok := parts.Get[parts.Supply](s.Scheme.Library, name); ok {
		return slices.Concat(edits, lowered(s, supply, larger), guarded(s, supply, larger))
	}
	return edits
}

// lowered trims a supply down where at its set point another part, whose own spreads further, may give a tape more than it bears.
func lowered(s *study.Study, supply string, other *parts.Supply) []finding.Edit {
	now := s.Scheme.Supplies[supply].Volts
	if now == nil || *now <= highest(s, supply, other) {
		return nil
	}
	set := math.Floor(float64(highest(s, supply, other))/step+1e-9) * step
	return []finding.Edit{edit(plain(math.Round(set/step)*step)+" V", "supplies", supply, "volts")}
}

// guarded gives every lead of a supply that has no fuse there one where the supply is about to be a larger one, which gives it more than
// it may carry.
func guarded(s *study.Study, supply string, larger *parts.Supply) []finding.Edit {
	var edits []finding.Edit
	for _, id := range s.Network.Landings(supply) {
		c := s.Scheme.Cables[id]
		gives, _ := larger.Most()
		if iz := s.Result(s.Cases()[0].Name).Cables[id].Iz; c.Fuse == "" && c.Pole.Has(scheme.Plus) && c.From.String() == supply && gives > iz {
			edits = append(edits, InlineFuse(s, id)...)
		}
	}
	return edits
}

// supplyFor is the smallest supply that gives a current at a set point, of the form of the one that is there if any of that form does.
func supplyFor(s *study.Study, supply string, set, nominal unit.Volt, amps unit.Ampere) string {
	const loaded = 0.8 // of its rating: above that a supply is tight
	air, was := s.Scheme.Ambient(), s.Scheme.Supplies[supply].Part
	alone := len(s.Network.Partners(supply)) == 0
	return first(fitting(s, "supply", func(name string, p *parts.Supply) bool {
		steady := p.Steady()
		switch {
		case p.Volts.Is != nominal, set != p.Volts.Is && (set < p.VoltsMin.Or(p.Volts).Is || set > p.VoltsMax.Or(p.Volts).Is):
			return false
		case steady == parts.FoldBack || steady == parts.LatchOff, !alone && p.Parallel != "allowed":
			return false
		case p.AmbientMax.Given && air > p.AmbientMax.Is:
			return false
		}
		warm, unknown := study.WarmSupply(name, p, air)
		rated := min(float64(p.Amps.Is), float64(p.Watts.Is)/float64(set))
		limit := float64(p.LimitAt.Low.Is) * min(1, float64(p.Volts.Is)/float64(set))
		return unknown == "" && float64(amps) <= roomy*loaded*warm.Share*rated && float64(amps) < roomy*limit
	}, func(a, b named[parts.Supply]) int {
		return cmp.Or(rank(form(a.name) == form(was), form(b.name) == form(was)), cmp.Compare(a.part.Amps.Is, b.part.Amps.Is))
	}))
}

// form is what a supply's name says after its power: din, plug, class2; nothing of an enclosed one.
func form(name string) string {
	_, rest, _ := strings.Cut(name, "w-")
	return rest
}

// loading is the most that is drawn from a supply; where it has reached its limit in some case, all that hangs on it asks for.
func loading(s *study.Study, supply string) unit.Ampere {
	amps, limited := unit.Ampere(0), false
	for _, c := range s.Cases() {
		r := s.Result(c.Name).Supplies[supply]
		amps = max(amps, r.Amps.Peak)
		limited = limited || r.State != "normal" && r.State != "idle"
	}
	if !limited {
		return amps
	}
	asked := unit.Ampere(0)
	for _, run := range s.Network.RunsOn(supply) {
		asked += asks(s, run)
	}
	return max(amps, asked/unit.Ampere(max(1, len(s.Network.SuppliesOn(supply)))))
}

// asks is what a run draws at its tape's nominal voltage with every channel full on, at the upper end of their spread: more than it
// can be made to draw.
func asks(s *study.Study, run string) unit.Ampere {
	tape := s.Scheme.Tape(run)
	if tape == nil {
		return 0
	}
	sum := 0.0
	for _, c := range tape.Channels {
		amps, _ := network.Channel(c, true).Current(float64(tape.Volts.Is))
		sum += amps
	}
	idle, _ := network.Channel(tape.Idle, true).Current(float64(tape.Volts.Is))
	return unit.Ampere(float64(s.Scheme.Runs[run].Count) * (sum + idle))
}

// step is how finely a set point is trimmed.
const step = 0.05 // V

// trimUp sets the supplies of a run higher by so much, as far as they can be trimmed and every tape on them may get; none where that is
// no step. With it comes how much the least of them gains.
func trimUp(s *study.Study, run string, by unit.Volt) (edits []finding.Edit, gain unit.Volt) {
	gain = unit.Volt(math.Inf(1))
	for _, t := range suppliesOf(s, run) {
		part, ok := parts.Get[parts.Supply](s.Scheme.Library, s.Scheme.Supplies[t].Part)
		if !ok {
			return nil, 0
		}
		now := float64(s.Scheme.SetPoint(t))
		set := math.Ceil((now+float64(by))/step-1e-9) * step
		set = min(set, math.Floor(float64(highest(s, t, part))/step+1e-9)*step)
		if set < now+step/2 {
			return nil, 0
		}
		edits, gain = append(edits, edit(plain(math.Round(set/step)*step)+" V", "supplies", t, "volts")), min(gain, unit.Volt(set-now))
	}
	if edits == nil {
		return nil, 0
	}
	return edits, gain
}

// Even trims a supply that others hold up to the highest set point among them, where it can be trimmed so far.
func Even(s *study.Study, supply string) []finding.Edit {
	part, ok := parts.Get[parts.Supply](s.Scheme.Library, s.Scheme.Supplies[supply].Part)
	if !ok {
		return nil
	}
	top := s.Scheme.SetPoint(supply)
	for _, t := range s.Network.Partners(supply) {
		if _, known := parts.Get[parts.Supply](s.Scheme.Library, s.Scheme.Supplies[t].Part); known {
			top = max(top, s.Scheme.SetPoint(t))
		}
	}
	if top == s.Scheme.SetPoint(supply) || top > highest(s, supply, part) {
		return nil
	}
	return []finding.Edit{edit(plain(float64(top))+" V", "supplies", supply, "volts")}
}

// TrimDown sets the supplies of a run as high as every tape on them may get.
func TrimDown(s *study.Study, run string) []finding.Edit {
	var edits []finding.Edit
	for _, t := range suppliesOf(s, run) {
		if !matches(s, t, run) {
			return Rehang(s, run, t)
		}
		part, ok := parts.Get[parts.Supply](s.Scheme.Library, s.Scheme.Supplies[t].Part)
		if !ok {
			return nil
		}
		set := math.Floor(float64(highest(s, t, part))/step+1e-9) * step
		switch now := float64(s.Scheme.SetPoint(t)); {
		case set >= now:
			continue
		case set < float64(part.VoltsMin.Or(part.Volts).Is):
			return nil
		case math.Abs(set-float64(part.Volts.Is)) < step/2:
			edits = append(edits, edit(nil, "supplies", t, "volts"))
		default:
			edits = append(edits, edit(plain(math.Round(set/step)*step)+" V", "supplies", t, "volts"))
		}
	}
	return edits
}

// highest is the highest set point of a supply at which no tape on it gets more than it may, at the upper end of its spread.
func highest(s *study.Study, supply string, part *parts.Supply) unit.Volt {
	const hair = 0.005 // V: below the very limit
	top := float64(part.VoltsMax.Or(part.Volts).Is)
	for _, run := range s.Network.RunsOn(supply) {
		if tape := s.Scheme.Tape(run); tape != nil && tape.VoltsMax.Given {
			top = min(top, float64(tape.VoltsMax.Is)/(1+part.Volts.Spread.High)-hair)
		}
	}
	return unit.Volt(top)
}

// suppliesOf lists the supplies whose plus reaches a run.
func suppliesOf(s *study.Study, run string) []string {
	fed := map[string]bool{}
	for _, f := range s.Network.Feeds(run) {
		for _, t := range f.Plus {
			fed[t] = true
		}
	}
	return scheme.IDs(fed)
}
