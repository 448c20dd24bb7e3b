package network_test

import (
	"math"
	"slices"
	"strings"

	"farend/network"
	"farend/parts"
	"farend/scheme"
)

// enough is the number of schemes that must hold each of features.
const enough = 15

// features are what the random schemes must hold among them: by what their decks say, and by what is read of the points that
// are compared.
var features = map[string]func(question) bool{
	"a supply at a corner of its law":         says("\nBT"),
	"a supply deep in its limit":              says("\n* held by its limit"),
	"copper that hangs on pixels":             says("\n* only pixels hold"),
	"a core in its own heat":                  says("/max(1-"),
	"a fuse in its own heat":                  says("*min(1,"),
	"a joint of unequal rails":                says(" joint\n"),
	"a joint within a stretch":                jointWithin,
	"a junction":                              says(" X1 plus\n"),
	"a connector":                             says(" contact at "),
	"two boards":                              says(" A2 bar plus\n"),
	"three boards":                            says(" A3 bar plus\n"),
	"a bridged pair of boards":                says("\n* B2.plus\n"),
	"a cut positive":                          cut(scheme.Plus),
	"a cut return":                            cut(scheme.Return),
	"a cut of both rails":                     cut(scheme.Both),
	"a chain of runs":                         chained,
	"a ring of runs":                          ringed,
	"a data ground that carries load":         grounded,
	"an open data ground":                     openGround,
	"power over a data lead":                  says(".power\n"),
	"cores in parallel":                       parallel,
	"a peak":                                  func(q question) bool { return q.s.Case.Kind == network.Peak },
	"a peak of six drives and more":           func(q question) bool { return q.s.Case.Kind == network.Peak && drives(q) >= 6 },
	"a peak of more drives than are kept":     func(q question) bool { return q.s.Case.Kind == network.Peak && drives(q) > 16 },
	"unequal supplies on the same copper":     unequalSupplies,
	"an idle supply":                          state("idle", anyPart),
	"a supply holding its current":            state("limit", limit(parts.ConstantCurrent)),
	"a supply that holds above its pulses":    state("limit", limit(parts.Hiccup)),
	"pulses in known times":                   state("pulsing", func(p *parts.Supply) bool { return p.PulseOn.Given }),
	"pulses in times that are not known":      state("pulsing", func(p *parts.Supply) bool { return !p.PulseOn.Given }),
	"a supply folded back":                    state("folded", anyPart),
	"a supply shut down":                      state("off", anyPart),
	"a limit after a boost":                   state("limit", limit(parts.Boost)),
	"another behaviour after a boost":         afterBoost,
	"a supply stuck below where it would run": func(q question) bool { return q.s.Start != nil },
}

// note notes which features a question holds.
func (q question) note(held map[string]bool) {
	for name, in := range features {
		if !held[name] && in(q) {
			held[name] = true
		}
	}
}

// says finds a deck that holds all of some marks.
func says(marks ...string) func(question) bool {
	return func(q question) bool {
		return !slices.ContainsFunc(marks, func(mark string) bool { return !strings.Contains(q.deck, mark) })
	}
}

func anyPart(*parts.Supply) bool { return true }

func limit(kind parts.Limit) func(*parts.Supply) bool {
	return func(p *parts.Supply) bool { return p.Limit == kind }
}

// state finds a supply of some kind in some state.
func state(name string, of func(*parts.Supply) bool) func(question) bool {
	return func(q question) bool {
		for id, t := range q.result.Supplies {
			part, _ := parts.Get[parts.Supply](q.n.Scheme.Library, q.n.Scheme.Supplies[id].Part)
			if t.State == name && of(part) {
				return true
			}
		}
		return false
	}
}

func afterBoost(q question) bool {
	return slices.ContainsFunc([]string{"folded", "off", "pulsing"}, func(name string) bool { return state(name, limit(parts.Boost))(q) })
}

// drives counts the distinct drives of channels whose phases may coincide.
func drives(q question) int {
	seen := map[float64]bool{}
	for id := range q.n.Scheme.Runs {
		shown, _ := q.n.Scheme.Drives(q.s.Case.State, id)
		for _, d := range shown {
			if d > 0 && q.n.Scheme.Tape(id).Phase != "free" {
				seen[d] = true
			}
		}
	}
	return len(seen)
}

func jointWithin(q question) bool {
	for i, c := range q.n.Plan.Shape().Chains {
		if q.s.Point(q.slice).Live(c.APlus) && len(q.s.Values(q.slice).Rails(i).Joints) > 0 {
			return true
		}
	}
	return false
}

// cut finds a live run one of whose rails, or both, are cut.
func cut(pole scheme.Pole) func(question) bool {
	return func(q question) bool {
		for id, run := range q.n.Scheme.Runs {
			if len(run.Cuts) > 0 && run.Cuts[0].Pole == pole && q.result.Runs[id].Live {
				return true
			}
		}
		return false
	}
}

func parallel(q question) bool {
	for id, c := range q.n.Scheme.Cables {
		if c.CoresPerPole > 1 && q.result.Cables[id].Plus.Peak > 0 {
			return true
		}
	}
	return false
}

// links lists the pairs of live runs that a cable of both poles joins.
func links(q question) (pairs [][2]string) {
	for _, c := range q.n.Scheme.Cables {
		a, b := c.From.Element, c.To.Element
		if c.From.Kind == scheme.StationRef && c.To.Kind == scheme.StationRef && c.Pole.Has(scheme.Plus) && c.Pole.Has(scheme.Return) && q.result.Runs[a].Live {
			pairs = append(pairs, [2]string{a, b})
		}
	}
	return pairs
}

func chained(q question) bool { return len(links(q)) > 0 }

// ringed finds a link between runs that other links join already.
func ringed(q question) bool {
	group := map[string]string{}
	of := func(id string) string {
		for group[id] != "" {
			id = group[id]
		}
		return id
	}
	for _, pair := range links(q) {
		a, b := of(pair[0]), of(pair[1])
		if a == b {
			return true
		}
		group[a] = b
	}
	return false
}

// grounded finds a data ground with more than a milliampere in it.
func grounded(q question) bool {
	for _, lead := range q.result.Data {
		if math.Abs(float64(lead.Ground.Mean)) > 1e-3 {
			return true
		}
	}
	return false
}

func openGround(q question) bool {
	for _, d := range q.n.Scheme.Data {
		if d.Ground == scheme.OpenGround && q.result.Runs[d.To.Element].Live {
			return true
		}
	}
	return false
}

// unequalSupplies finds two supplies that are on, at different set points, whose positives copper joins.
func unequalSupplies(q question) bool {
	v, p := q.s.Values(q.slice), q.s.Point(q.slice)
	of := q.n.Plan.Joined(func(i int) bool { return v.Wire(i).Law != nil || v.Wire(i).G > 0 }, nil)
	sources := q.n.Plan.Shape().Sources
	for i, a := range sources {
		for k, b := range sources[:i] {
			if p.Live(a.A) && of[a.A] == of[b.A] && of[a.B] == of[b.B] && v.Source(i).E != v.Source(k).E && !v.Source(i).Off && !v.Source(k).Off {
				return true
			}
		}
	}
	return false
}
