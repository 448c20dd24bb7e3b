package study

import (
	"cmp"
	"fmt"
	"strings"

	"farend/fuse"
	"farend/parts"
	"farend/scheme"
	"farend/unit"
)

// sources lists the supplies, with a part each, that copper joins to the positive of a thing: a supply, board, way, cable, port, junction or run.
func (s *Study) sources(id string) []string {
	if board, socket, is := strings.Cut(id, "."); is && strings.HasPrefix(socket, "P") {
		id = board
	}
	if _, is := s.Scheme.Junctions[id]; is {
		joined := map[string]bool{}
		for _, cable := range s.Network.Landings(id) {
			for _, t := range s.sources(cable) {
				joined[t] = true
			}
		}
		return scheme.IDs(joined)
	}
	if _, is := s.Scheme.Runs[id]; is {
		fed := map[string]bool{}
		for _, f := range s.Network.Feeds(id) {
			for _, t := range f.Plus {
				fed[t] = true
			}
		}
		return scheme.IDs(fed)
	}
	return s.Network.SuppliesOn(id)
}

// Highest is the highest voltage that the supplies on a thing bring to it: a set point at the upper end of its spread; and the supply
// that does. It is not ok where no supply is on it.
func (s *Study) Highest(id string) (volts unit.Volt, from string, ok bool) {
	for _, t := range s.sources(id) {
		part, known := parts.Get[parts.Supply](s.Scheme.Library, s.Scheme.Supplies[t].Part)
		if !known {
			continue
		}
		if u := s.Scheme.SetPoint(t) * unit.Volt(1+part.Volts.Spread.High); !ok || u > volts {
			volts, from, ok = u, t, true
		}
	}
	return volts, from, ok
}

// HighestOf lists the numbers that decide the highest voltage: the set point of the supply, where the scheme does not trim it.
func (s *Study) HighestOf(from string) []Number {
	name := s.Scheme.Supplies[from].Part
	part, _ := parts.Get[parts.Supply](s.Scheme.Library, name)
	return []Number{Stated(name, "volts", part.Volts)}
}

// Highest works out the highest voltage that a supply brings.
func (w *Working) Highest(s *Study, sign, from string) {
	name := s.Scheme.Supplies[from].Part
	part, _ := parts.Get[parts.Supply](s.Scheme.Library, name)
	if trim := s.Scheme.Supplies[from].Volts; trim != nil {
		w.Written("U_s", "set point of "+from, Of(*trim), "supplies."+from+".volts", s.Scheme.Place("supplies", from, "volts"))
	} else {
		w.Stated("U_s", "set point of "+from, Stated(name, "volts", part.Volts))
	}
	w.Taken("k_u", "upper end of its spread", Plain(1+part.Volts.Spread.High), Source{Title: cmp.Or(part.Volts.Source, name), Basis: part.Volts.Basis})
	w.Step("The highest that it brings", sign+" = k_u · U_s")
}

// A Gives is the most that a supply gives into a short: the upper end of its limit, or of a boost where that is more, or what its source
// resistance lets through at the highest set point where that is less.
type Gives struct {
	Supply string
	Amps   unit.Ampere
	Volts  unit.Volt
	Ohmic  bool // it is the source resistance that bounds it
}

// Gives lists what each supply on a thing gives into a short, as far as it is known, and their sum.
func (s *Study) Gives(id string) (each []Gives, sum unit.Ampere) {
	return s.GivenBy(s.sources(id))
}

// GivenBy is Gives of certain supplies.
func (s *Study) GivenBy(supplies []string) (each []Gives, sum unit.Ampere) {
	for _, t := range supplies {
		part, known := parts.Get[parts.Supply](s.Scheme.Library, s.Scheme.Supplies[t].Part)
		if !known {
			continue
		}
		volts, _, _ := s.Highest(t)
		g := Gives{Supply: t, Volts: volts}
		g.Amps, _ = part.Most()
		if r := part.SourceResistance.Is; r > 0 && unit.Ampere(float64(volts)/float64(r)) < g.Amps {
			g.Amps, g.Ohmic = unit.Ampere(float64(volts)/float64(r)), true
		}
		each, sum = append(each, g), sum+g.Amps
	}
	return each, sum
}

// GivesOf lists the numbers that decide what supplies give.
func (s *Study) GivesOf(each []Gives) []Number {
	var numbers []Number
	for _, g := range each {
		name := s.Scheme.Supplies[g.Supply].Part
		part, _ := parts.Get[parts.Supply](s.Scheme.Library, name)
		if g.Ohmic {
			numbers = append(numbers, Stated(name, "volts", part.Volts), Stated(name, "source_resistance", part.SourceResistance))
		} else {
			numbers = append(numbers, MostOf(name, part)...)
		}
	}
	return numbers
}

// MostOf lists the numbers that decide the most that a supply gives by its limit.
func MostOf(name string, part *parts.Supply) []Number {
	if _, boosted := part.Most(); boosted {
		return []Number{Stated(name, "amps", part.Amps), Stated(name, "boost", part.Boost)}
	}
	return []Number{Stated(name, "limit_at.high", part.LimitAt.High)}
}

// Most works out the most that a supply gives by its limit.
func (w *Working) Most(s *Study, sign, supply string) {
	name := s.Scheme.Supplies[supply].Part
	part, _ := parts.Get[parts.Supply](s.Scheme.Library, name)
	if _, boosted := part.Most(); !boosted {
		w.Stated(sign, "most that "+supply+" gives: the upper end of its limit", Stated(name, "limit_at.high", part.LimitAt.High))
		return
	}
	w.Stated("I_r", "rated current of "+supply, Stated(name, "amps", part.Amps))
	w.Stated("k_b", "what it gives at first, over that", Stated(name, "boost", part.Boost))
	w.Step("The most that it gives, above its limit", sign+" = k_b · I_r")
}

// Gives works out what supplies give into a short, and makes their sum known.
func (w *Working) Gives(s *Study, sign string, each []Gives) {
	var signs []string
	for i, g := range each {
		name := s.Scheme.Supplies[g.Supply].Part
		part, _ := parts.Get[parts.Supply](s.Scheme.Library, name)
		one := fmt.Sprintf("I_s%d", i+1)
		if g.Ohmic {
			w.Highest(s, "U", g.Supply)
			w.Stated("R", "source resistance of "+g.Supply, Stated(name, "source_resistance", part.SourceResistance))
			w.Step("What its source resistance lets through", one+" = U/R")
		} else {
			w.Most(s, one, g.Supply)
		}
		signs = append(signs, one)
	}
	w.Step("What they give together", sign+" = "+strings.Join(signs, " + "))
}

// Fusing is the least current at which a fuse surely opens in the end, in the coldest air: the conventional fusing current of the
// standards, I2. It is not ok where its curve does not say.
func (s *Study) Fusing(g Guard) (amps unit.Ampere, ok bool) {
	band, known := s.Band(g, g.Cold)
	amps = band.Threshold()
	return amps, known && amps < unit.Ampere(fuse.Never)
}

// FusingOf lists the numbers that decide at which current a fuse surely opens.
func (s *Study) FusingOf(g Guard) []Number {
	return append([]Number{Stated(g.Part, "rating", g.Fuse.Rating), s.fusing(g)}, s.derated(g)...)
}

// fusing is the multiple at which a fuse surely opens.
func (s *Study) fusing(g Guard) Number {
	curve, _ := parts.Get[parts.Curve](s.Scheme.Library, g.Fuse.Curve)
	for i, gate := range curve.Gates {
		if gate.Max.Given {
			return s.Multiple(g.Fuse.Curve, i)
		}
	}
	return Number{}
}

// Multiple is the multiple of the rating at a gate of a curve of the library.
func (s *Study) Multiple(name string, gate int) Number {
	curve, _ := parts.Get[parts.Curve](s.Scheme.Library, name)
	at := curve.Gates[gate]
	return Number{
		Part: name, Key: fmt.Sprintf("gates.%d.multiple", gate+1), Basis: cmp.Or(at.Basis, curve.Basis, parts.Unstated), Source: cmp.Or(at.Source, curve.Source),
	}.Being(Plain(at.Multiple))
}

// Fusing works out from which current on a fuse surely opens.
func (w *Working) Fusing(s *Study, sign, rating, n string, g Guard) {
	w.Stated(rating, "rating of "+g.Name, Stated(g.Part, "rating", g.Fuse.Rating))
	w.Stated("m_"+n, "multiple of its rating from which on "+g.Name+" surely opens", s.fusing(g))
	w.Cold(s, "k_c"+n, g)
	w.Step("The least at which "+g.Name+" surely opens", sign+" = m_"+n+" · k_c"+n+" · "+rating)
}

// Value is what a number is in SI; 0 where it is no number.
func (n Number) Value() float64 { return n.Is.is }
