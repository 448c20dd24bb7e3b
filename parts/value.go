package parts

import (
	"math"
	"strings"

	"farend/internal/document"
	"farend/unit"
)

// A Basis says how a number is known. Better bases come first in Bases.
type Basis string

const (
	Standard  Basis = "standard"  // a published standard
	Datasheet Basis = "datasheet" // the maker's sheet of a named component
	Handbook  Basis = "handbook"  // a handbook or reference table
	Measured  Basis = "measured"  // a published or own measurement
	Derived   Basis = "derived"   // computed from numbers the source names; as good as the weakest of them
	Practice  Basis = "practice"  // common practice, no source
	Memory    Basis = "memory"    // from memory, no source read
	Invented  Basis = "invented"  // belongs to a made-up demonstration part
	Unstated  Basis = "unstated"  // a user's own number without a basis
)

// Bases lists every basis, the most trustworthy first.
func Bases() []Basis {
	return []Basis{Standard, Datasheet, Handbook, Measured, Derived, Practice, Memory, Invented, Unstated}
}

// Words lists the bases a file may name.
func (Basis) Words() []string {
	var words []string
	for _, b := range Bases() {
		words = append(words, string(b))
	}
	return words
}

// Weaker is the less trustworthy of two bases; the empty basis is the most trustworthy.
func Weaker(a, b Basis) Basis {
	rank := func(x Basis) int {
		for i, known := range Bases() {
			if x == known {
				return i
			}
		}
		return -1
	}
	if rank(b) > rank(a) {
		return b
	}
	return a
}

// A Spread is how far a number varies from part to part, as fractions of it: a half-width of −0.3 and +0.9 means
// from 70 % to 190 %. It is uniform, or normal with two standard deviations at the half-width.
type Spread struct {
	Low, High float64
	Normal    bool
}

// A Value is a number of the catalogue with its basis and source. Given is false where the part does not state it.
type Value[T unit.Quantity] struct {
	Is     T
	Basis  Basis
	Source string
	Spread Spread
	Given  bool
}

// Lower is the lowest value of the spread.
func (v Value[T]) Lower() T { return T(float64(v.Is) * (1 + v.Spread.Low)) }

// Upper is the highest value of the spread.
func (v Value[T]) Upper() T { return T(float64(v.Is) * (1 + v.Spread.High)) }

// Or is v, or other where v is not given.
func (v Value[T]) Or(other Value[T]) Value[T] {
	if v.Given {
		return v
	}
	return other
}

// full is the long form of a value.
type full[T unit.Quantity] struct {
	Is     T      `key:"is,required" doc:"the number"`
	Basis  Basis  `key:"basis" doc:"how it is known; that of the map around it where not given"`
	Source string `key:"source" like:"datasheet of 2019-06" doc:"where it is from; that of the map around it where not given"`
	Spread Spread `key:"spread" doc:"how far it varies from part to part"`
}

// largest and smallest bound the size of a number in SI, nought apart: far outside anything that can be bought, near enough for
// arithmetic.
const (
	largest  = 1e9
	smallest = 1e-15
)

// ReadNode reads "100 mΩ/m" or {is: 100 mΩ/m, basis: measured, source: "…", spread: {low: -30 %, high: 90 %}}. Basis and
// source that are not given here are those of the nearest enclosing map that has them.
func (v *Value[T]) ReadNode(r *document.Reader, n document.Node) {
	unread := T(math.NaN()) // no text reads as this, so it is still there after a mistake
	f := full[T]{Is: unread}
	if n.IsMap() {
		r.Decode(n, &f)
	} else {
		r.Decode(n, any(&f.Is))
	}
	if f.Is != f.Is {
		return
	}
	if size := math.Abs(float64(f.Is)); size > largest || size > 0 && size < smallest {
		r.Mistake(at(n, "is"), f.Is.Dimension().Format(float64(f.Is), 3)+" is no "+f.Is.Dimension().Name+" of a real part", "is the unit right?")
		return
	}
	*v = Value[T]{Is: f.Is, Basis: Basis(n.Inherited("basis")), Source: strings.TrimSpace(n.Inherited("source")), Spread: f.Spread, Given: true}
	if v.Basis == "" {
		v.Basis = Unstated
	}
}

// amount is the number in SI, and whether there is one.
func (v Value[T]) amount() (float64, bool) { return float64(v.Is), v.Given }

// text is the number as people read it.
func (v Value[T]) text() string { return v.Is.Dimension().Format(float64(v.Is), 3) }

// example is such a number as a hint shows it.
func (v Value[T]) example() string { return v.Is.Dimension().Example }

// ReadNode reads "10 %" (both ways) or {low: -30 %, high: 90 %, shape: normal}.
func (s *Spread) ReadNode(r *document.Reader, n document.Node) {
	if !n.IsMap() {
		var both unit.Ratio
		r.Decode(n, &both)
		s.Low, s.High = -float64(both), float64(both)
	} else {
		var w wide
		r.Decode(n, &w)
		*s = Spread{float64(w.Low), float64(w.High), w.Shape == "normal"}
	}
	if s.Low > 0 || s.High < 0 || s.Low <= -1 {
		r.Mistake(n, "a spread goes from a negative low (above −100 %) to a positive high", "write {low: -10 %, high: 20 %}")
		*s = Spread{}
	}
}

// wide is the long form of a spread.
type wide struct {
	Low   unit.Ratio `key:"low,required" like:"-30 %" doc:"below the number"`
	High  unit.Ratio `key:"high,required" like:"90 %" doc:"above the number"`
	Shape shape      `key:"shape" doc:"of the distribution: uniform, or normal with two standard deviations at the half-width"`
}

type shape string

func (shape) Words() []string { return []string{"uniform", "normal"} }

// A Band is a pair of limits between which a property lies: {low: 66 A, high: 84 A}.
type Band[T unit.Quantity] struct {
	Low  Value[T] `key:"low,required" doc:"the lower end"`
	High Value[T] `key:"high,required" doc:"the upper end"`
	Origin
}

// Origin is the basis and source that a map states for all below it.
type Origin struct {
	Basis  Basis  `key:"basis" doc:"how the numbers below are known"`
	Source string `key:"source" like:"datasheet of 2019-06" doc:"where they are from"`
}
