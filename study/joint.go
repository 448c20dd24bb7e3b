package study

import (
	"context"
	"math"

	"farend/circuit"
	"farend/network"
	"farend/unit"
)

// A Joint is a contact, a soldered joint or the copper of a board, with the power that it may make when it gets bad. No fuse sees it: it carries no
// more than the load draws.
type Joint struct {
	At    string
	Case  network.Case // the state or peak in which it carries most
	Amps  unit.Ampere  // heating current
	Watts unit.Watt    // where 1 V is lost in it

	Unnoticed Loose // the most that it makes while every light is as it should
}

// A Loose is a contact that has got bad.
type Loose struct {
	Case  network.Case
	Ohms  unit.Ohm // besides what it had
	Volts unit.Volt
	Watts unit.Watt
	Ever  bool // even with more nobody notices
	Known bool // it was solved
}

// Noticed is the voltage that somebody surely notices.
const Noticed unit.Volt = 1

// Bad is what Joints lists, where faults were followed however long it took; nil elsewhere.
func (s *Study) Bad() []Joint { return s.joints }

// Joints lists, in the order of the network, what every contact may make that gets bad: at 1 V, and the most over all resistances with which no run leaves
// the aims for evenness and colour, or the voltage that its tape needs, that it kept before. The latter in the mean of each state.
func (s *Study) Joints(ctx context.Context, progress func(done, total int)) ([]Joint, error) {
	contacts, names := s.Network.Contacts(), s.Network.Conductors()
	heating := map[string][]unit.Ampere{}
	for _, c := range s.cases {
		if c.Kind == network.State || c.Kind == network.Peak {
			if solution := s.solutions[c.Name]; solution.Found() {
				heating[c.Name] = s.Network.Heating(solution)
			}
		}
	}
	list := make([]Joint, len(contacts))
	count := counter(len(contacts), progress)
	parallel(len(contacts), func(w *circuit.Worker, i int) {
		if ctx.Err() != nil {
			return
		}
		j := Joint{At: names[contacts[i]].Name}
		for _, c := range s.cases {
			if amps := heating[c.Name]; amps != nil && amps[contacts[i]] > max(j.Amps, leak) {
				j.Case, j.Amps = c, amps[contacts[i]]
			}
		}
		j.Watts = unit.Watt(float64(j.Amps) * float64(Noticed))
		for _, c := range s.cases {
			if c.Kind == network.State && heating[c.Name] != nil && heating[c.Name][contacts[i]] > leak {
				j.Unnoticed.take(s.unnoticed(ctx, w, c, contacts[i]))
			}
		}
		list[i] = j
		count()
	})
	return list, ctx.Err()
}

func (l *Loose) take(other Loose) {
	known := l.Known || other.Known
	if other.Watts > l.Watts {
		*l = other
	}
	l.Known = known
}

// unnoticed finds the most that a contact makes in a state while nobody notices: with the resistance that makes most, or, where that is noticed, with the
// largest that is not. The power has one peak over the resistance, see quiet.most.
func (s *Study) unnoticed(ctx context.Context, w *circuit.Worker, c network.Case, contact int) Loose {
	sound, before := s.solutions[c.Name], s.Result(c.Name).Runs
	seen := Loose{Case: c, Known: true}
	lay := func(ohms float64) (now Loose, solution *network.Solution) {
		solution, ok := s.Network.Loose(ctx, w, sound, contact, unit.Ohm(ohms))
		if !ok {
			seen.Known = false
			return Loose{}, nil
		}
		amps := solution.In(contact)
		return Loose{Case: c, Ohms: unit.Ohm(ohms), Volts: unit.Volt(float64(amps) * ohms), Watts: unit.Watt(float64(amps*amps) * ohms), Known: true}, solution
	}
	try := func(ohms float64) (now Loose, hidden bool) {
		now, solution := lay(ohms)
		return now, solution == nil || !s.noticed(before, s.Network.ReadRuns(solution, sound, before))
	}
	const step, near = 2, 0.02
	low := 0.0
	for ohms := 0.01 / float64(sound.In(contact)); seen.Known && ctx.Err() == nil; ohms *= step { // from 10 mV on
		now, hidden := try(ohms)
		switch {
		case !hidden:
			for high := ohms; high > low*(1+near) && high > ohms*near && seen.Known && ctx.Err() == nil; {
				middle := (low + high) / 2
				if now, hidden := try(middle); hidden && now.Known {
					low, seen = middle, now
				} else {
					high = middle
				}
			}
			return seen
		case now.Watts < seen.Watts: // it makes less again, and nobody has noticed
			best := loudest(ohms/step/step, ohms, near, func(ohms float64) float64 { now, _ := lay(ohms); return float64(now.Watts) })
			now, _ = lay(best)
			now.Ever = true
			return now
		}
		low, seen = ohms, now
	}
	return seen
}

// loudest is where a power that has one peak over a resistance is largest, between two resistances, as near as a share of it: by golden section on a
// logarithmic scale (Kiefer, Proc. AMS 4, 1953).
func loudest(low, high, near float64, power func(ohms float64) float64) float64 {
	golden := (math.Sqrt(5) - 1) / 2
	a, b := math.Log(low), math.Log(high)
	x, y := b-golden*(b-a), a+golden*(b-a)
	left, right := power(math.Exp(x)), power(math.Exp(y))
	for b-a > near {
		if left > right {
			b, y, right = y, x, left
			x = b - golden*(b-a)
			left = power(math.Exp(x))
		} else {
			a, x, left = x, y, right
			y = a + golden*(b-a)
			right = power(math.Exp(y))
		}
	}
	return math.Exp((a + b) / 2)
}

// noticed reports whether some run has left what it kept before: the aims for evenness and colour, and the voltage that its tape needs.
func (s *Study) noticed(before, now map[string]network.Run) bool {
	even, shift := s.Scheme.EvennessAim(), s.Scheme.ColourShiftAim()
	for id, was := range before {
		is := now[id]
		switch tape := s.Scheme.Tape(id); {
		case was.Live && !is.Live, was.Evenness != nil && is.Evenness == nil:
			return true
		case was.Evenness != nil && *was.Evenness >= even && *is.Evenness < even:
			return true
		case was.ColourShift != nil && *was.ColourShift <= shift && (is.ColourShift == nil || *is.ColourShift > shift):
			return true
		case tape != nil && tape.VoltsMin.Given && was.VoltsLow >= tape.VoltsMin.Is && is.VoltsLow < tape.VoltsMin.Is:
			return true
		}
	}
	return false
}
