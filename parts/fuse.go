package parts

import (
	"strconv"

	"farend/internal/document"
	"farend/unit"
)

// A Fuse is a fuse link, with its holder where it is an inline one.
type Fuse struct {
	Title         string             `key:"title,required"`
	Rating        Value[unit.Ampere] `key:"rating,required"`
	Resistance    Value[unit.Ohm]    `key:"resistance,required"` // cold
	ResistanceHot Value[unit.Ohm]    `key:"resistance_hot"`      // at rated current
	Curve         string             `key:"curve"`
	VoltsMax      Value[unit.Volt]   `key:"volts_max"`
	Breaking      Value[unit.Ampere] `key:"breaking"`
	Holder        Holder             `key:"holder"`
	Seat          string             `key:"seat"` // the connector that an inline fuse brings along as its holder
	Origin
}

// Holder is the form of a fuse and of the place it goes into.
type Holder string

func (Holder) Words() []string { return []string{"blade", "cartridge", "inline", "soldered"} }

// A Curve is the time-current gates of a fuse family.
type Curve struct {
	Title string `key:"title,required"`
	Gates []Gate `key:"gates,required"`
	Origin
}

// A Gate is the time within which a fuse opens at a multiple of its rating. A gate without a maximum guarantees only that
// the fuse holds for the minimum.
type Gate struct {
	Multiple float64            `key:"multiple,required"`
	Min      Value[unit.Second] `key:"min"`
	Max      Value[unit.Second] `key:"max"`
	Origin
}

// ReadNode reads a fuse.
func (f *Fuse) ReadNode(r *document.Reader, n document.Node) {
	type plain Fuse
	r.Decode(n, (*plain)(f))
	positive(r, n, "rating", f.Rating)
	notNegative(r, n, "resistance", f.Resistance)
	ordered(r, n, "resistance", f.Resistance, "resistance_hot", f.ResistanceHot, false)
	positive(r, n, "volts_max", f.VoltsMax)
	positive(r, n, "breaking", f.Breaking)
}

// ReadNode reads a curve: gates in rising order of their multiple, and times that do not rise with it.
func (c *Curve) ReadNode(r *document.Reader, n document.Node) {
	type plain Curve
	r.Decode(n, (*plain)(c))
	gates, ok := n.Get("gates")
	if ok && gates.IsList() && len(c.Gates) == 0 {
		r.Mistake(gates, "a curve needs at least one gate", "write for example [{multiple: 1.35, max: 1800 s}]")
	}
	for i, g := range c.Gates {
		c.gate(r, gates, i, g)
	}
}

func (c *Curve) gate(r *document.Reader, gates document.Node, i int, g Gate) {
	name := "gate " + strconv.Itoa(i+1)
	if i > 0 && g.Multiple <= c.Gates[i-1].Multiple {
		r.Mistake(gates, name+" must have a higher multiple than the one before it", "")
	}
	if !g.Min.Given && !g.Max.Given {
		r.Mistake(gates, name+" needs a \"min\" or a \"max\"", "")
	}
	for _, earlier := range c.Gates[:i] {
		if earlier.Min.Given && g.Min.Given && g.Min.Is > earlier.Min.Is || earlier.Max.Given && g.Max.Given && g.Max.Is > earlier.Max.Is {
			r.Mistake(gates, name+" is slower than one at a lower multiple", "")
			return
		}
	}
}

// ReadNode reads a gate.
func (g *Gate) ReadNode(r *document.Reader, n document.Node) {
	type plain Gate
	r.Decode(n, (*plain)(g))
	if _, ok := n.Get("multiple"); ok && g.Multiple <= 0 {
		r.Mistake(at(n, "multiple"), "\"multiple\" must be more than 0", "")
	}
	notNegative(r, n, "min", g.Min)
	positive(r, n, "max", g.Max)
	ordered(r, n, "min", g.Min, "max", g.Max, false)
}
