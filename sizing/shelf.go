package sizing

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"farend/parts"
	"farend/unit"
)

// A shelf is what a draft is made of: the parts of the library that fit the tape, each kind from small to large.
type shelf struct {
	cables   []named[parts.Cable]  // two flexible cores
	blades   []named[parts.Fuse]   // for ways
	inlines  []named[parts.Fuse]   // for feeders
	supplies []named[parts.Supply] // of the tape's voltage
	boards   []named[parts.Board]  // with blade fuses
	lead     string                // the data cable
	protocol *parts.Protocol       // of the tape; nil where it is not known
	library  *parts.Library        // where it is from
}

// A named part goes by its name.
type named[T any] struct {
	name string
	part *T
}

// these are the parts of a kind for which fits, from small to large.
func these[T any](library *parts.Library, kind string, fits func(name string, part *T) bool, size func(*T) float64) []named[T] {
	var all []named[T]
	for _, name := range library.Names(kind) {
		if part, ok := parts.Get[T](library, name); ok && fits(name, part) {
			all = append(all, named[T]{name, part})
		}
	}
	slices.SortStableFunc(all, func(a, b named[T]) int { return cmp.Compare(size(a.part), size(b.part)) })
	return all
}

// setPoint is what a supply is set to for a tape: its nominal voltage lifted by a share, as far as the supply can be trimmed and
// the tape may get at the upper end of the supply's spread, which may be less than nominal.
func setPoint(p *parts.Supply, tape *parts.Tape, lift float64) unit.Volt {
	volts := float64(p.Volts.Is) * (1 + lift)
	if lift > 0 {
		volts = min(volts, float64(p.VoltsMax.Or(p.Volts).Is))
	}
	if tape.VoltsMax.Given {
		volts = min(volts, float64(tape.VoltsMax.Is)/(1+p.Volts.Spread.High)-0.005)
	}
	if lift == 0 && volts == float64(p.Volts.Is) {
		return p.Volts.Is
	}
	return unit.Volt(math.Floor(volts*20) / 20) // in steps of 50 mV, as a trimmer is set
}

// fill gathers the parts; the error says what the library lacks.
func (s *shelf) fill(library *parts.Library, tape *parts.Tape) error {
	s.library = library
	const thinnest = 1.5e-6 // m²: IEC 60364-7-715 wants 1.5 mm² of copper, and less only for short flexible leads
	s.cables = these(library, "cable", func(name string, c *parts.Cable) bool {
		return strings.HasPrefix(name, "cable/flex-2x") && c.Class == 5 && float64(c.Area.Is) > thinnest-1e-9 && float64(c.Area.Is) < 17e-6 && c.Iz.Conduit.Given
	}, func(c *parts.Cable) float64 { return float64(c.Area.Is) })
	fuse := func(prefix string) []named[parts.Fuse] {
		return these(library, "fuse", func(name string, f *parts.Fuse) bool {
			return strings.HasPrefix(name, prefix) && (!f.VoltsMax.Given || f.VoltsMax.Is >= tape.Volts.Is)
		}, func(f *parts.Fuse) float64 { return float64(f.Rating.Is) })
	}
	s.blades, s.inlines = fuse("fuse/blade-"), fuse("fuse/inline-")
	s.supplies = these(library, "supply", func(_ string, p *parts.Supply) bool {
		return p.Volts.Is == tape.Volts.Is && p.Steady() != parts.LatchOff && p.Steady() != parts.FoldBack && setPoint(p, tape, 0) >= p.VoltsMin.Or(p.Volts).Is
	}, func(p *parts.Supply) float64 { return float64(p.Amps.Is) })
	s.boards = these(library, "board", func(_ string, b *parts.Board) bool {
		for _, w := range b.Ways {
			if w.Holder != "blade" {
				return false
			}
		}
		return len(b.Ports) > 0 && (!b.VoltsMax.Given || b.VoltsMax.Is >= tape.Volts.Is)
	}, func(b *parts.Board) float64 { return float64(len(b.Ways)) + float64(len(b.Ports))/100 })
	s.protocol, _ = parts.Get[parts.Protocol](library, tape.Protocol)
	cores := 3 // data, ground and one to spare
	if s.protocol != nil && s.protocol.Clocked {
		cores = 4
	}
	leads := these(library, "cable", func(name string, c *parts.Cable) bool {
		return strings.HasPrefix(name, "cable/data-") && c.Cores >= cores
	},
		func(c *parts.Cable) float64 { return float64(c.Cores) + float64(c.Area.Is)*1e6/100 })
	for what, n := range map[string]int{"supply of " + tape.Volts.Is.String(): len(s.supplies), "cable": len(s.cables), "fuse for ways": len(s.blades), "inline fuse": len(s.inlines), "board": len(s.boards), "data cable": len(leads)} {
		if n == 0 {
			return &Cannot{"the catalogue has no " + what + " that a draft can use", "choose another tape, or describe the scheme by hand: farend help scheme"}
		}
	}
	s.lead = leads[0].name
	return nil
}
