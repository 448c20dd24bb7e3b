package circuit

import (
	"math"
	"slices"
	"sync"
)

// A Table is a law looked up instead of computed: a cubic through value and slope at both ends of each of many equal cells
// (Hermite), and the law itself outside. For a law with fourth derivative f⁗ its error is at most h⁴·max|f⁗|/384 in a cell
// of width h.
type Table struct {
	law     Law
	inverse float64 // cells per volt
	below   float64 // cells below 0 V: a whole number where 0 V is inside
	count   float64
	cells   []cell
	bends   []float64 // per cell, see bendsOf
	level   bool      // below the table, as far as deep, the law is one current
	lowest  float64   // which that is, amperes
}

// cell is a cubic in the place x within the cell, 0 to 1.
type cell struct{ c0, c1, c2, c3 float64 }

// Tabulate makes a table of so many cells from low to high volts. If low is not above 0 and high not below it, 0 V falls
// on the edge of a cell, so that the table is as passive as the law.
func Tabulate(law Law, low, high float64, cells int) *Table {
	h := (high - low) / float64(cells)
	below := -low / h
	if low <= 0 && high >= 0 {
		below = math.Round(below)
	}
	v, f, s := make([]float64, cells+1), make([]float64, cells+1), make([]float64, cells+1)
	for i := range v {
		v[i] = h * (float64(i) - below)
	}
	law.Eval(v, f, s)
	t := &Table{law: law, inverse: 1 / h, below: below, count: float64(cells), cells: make([]cell, cells)}
	for i := range t.cells {
		rise, a, b := f[i+1]-f[i], h*s[i], h*s[i+1]
		t.cells[i] = cell{f[i], a, 3*rise - 2*a - b, a + b - 2*rise}
	}
	t.bends = t.bendsOf()
	t.lowest, t.level = levelBelow(law, v[0])
	return t
}

// Tables makes tables once: whoever asks for one of a law that has been tabulated over the same cells gets the same. It may be asked by
// several at a time. The zero Tables has none.
type Tables struct {
	mutex sync.Mutex
	made  []span
}

// span is a table with what it was made over.
type span struct {
	table     *Table
	low, high float64
	cells     int
}

// Of is what Tabulate makes.
func (t *Tables) Of(law Law, low, high float64, cells int) *Table {
	t.mutex.Lock()
	defer t.mutex.Unlock()
	for _, m := range t.made {
		if m.low == low && m.high == high && m.cells == cells && alike(m.table.law, law) {
			return m.table
		}
	}
	table := Tabulate(law, low, high, cells)
	t.made = append(t.made, span{table, low, high, cells})
	return table
}

// deep is how far below the table its law is looked at, in volts.
const deep = -1e4

// levelBelow is the current of a law from a voltage down to deep, if it is level there: a law that never falls is, where both ends of
// that are alike.
func levelBelow(law Law, low float64) (amps float64, ok bool) {
	const alike = 1e-15
	if low <= deep {
		return 0, false
	}
	var at, slope [2]float64
	law.Eval([]float64{low, deep}, at[:], slope[:])
	return at[0], at[0]-at[1] <= alike
}

// Same reports whether other is a table of the same law over the same cells.
func (t *Table) Same(other any) bool {
	u, ok := other.(*Table)
	return ok && (t == u || t.inverse == u.inverse && t.below == u.below && t.count == u.count && alike(t.law, u.law))
}

// bendsOf gives every cell the largest second derivative of the cubics within straight of any voltage in it, A/V².
func (t *Table) bendsOf() []float64 {
	own, all := make([]float64, len(t.cells)), make([]float64, len(t.cells))
	for i, c := range t.cells { // it is a straight line within a cell
		own[i] = 2 * max(abs(c.c2), abs(c.c2+3*c.c3)) * t.inverse * t.inverse
	}
	reach := int(math.Ceil(straight * t.inverse))
	for i := range all {
		all[i] = slices.Max(own[max(0, i-reach):min(len(own), i+reach+1)])
	}
	return all
}

// bend is the largest second derivative of the law as it is looked up within straight of a voltage, A/V². It is not known where the table
// ends there; nil knows none.
func (t *Table) bend(volts float64) (bend float64, known bool) {
	if t == nil {
		return 0, false
	}
	at, by := volts*t.inverse+t.below, straight*t.inverse
	switch {
	case at >= by && at < t.count-by:
		return t.bends[int(at)], true
	case at < -by && t.level && volts-straight > deep:
		return 0, true
	}
	return 0, false
}

// Eval looks up every voltage.
func (t *Table) Eval(v, amps, slope []float64) {
	amps, slope = amps[:len(v)], slope[:len(v)]
	cells, inverse, below, count := t.cells, t.inverse, t.below, t.count
	for i, u := range v {
		at := u*inverse + below
		if !(at >= 0 && at < count) {
			if at < 0 && t.level && u > deep {
				amps[i], slope[i] = t.lowest, 0
				continue
			}
			t.law.Eval(v[i:i+1], amps[i:i+1], slope[i:i+1])
			continue
		}
		k := int(at)
		x := at - float64(k)
		c := &cells[k]
		c1, c2, c3 := c.c1, c.c2, c.c3
		amps[i] = c.c0 + x*(c1+x*(c2+x*c3))
		slope[i] = (c1 + x*(2*c2+3*x*c3)) * inverse
	}
}
