package parts

import (
	"strconv"

	"farend/internal/document"
	"farend/unit"
)

// A Fuse is a fuse link, with its holder where it is an inline one. The rating of a resettable one is what it holds at
// the temperature of its test; the upper end of the spread of its resistance is that after it has tripped once.
type Fuse struct {
	Title         string                         `key:"title,required" like:"own part" doc:"what it is, in a line"`
	Rating        Value[unit.Ampere]             `key:"rating,required" doc:"rated current"`
	Resistance    Value[unit.Ohm]                `key:"resistance,required" like:"18 mΩ" doc:"cold"`
	ResistanceHot Value[unit.Ohm]                `key:"resistance_hot" like:"26 mΩ" doc:"at rated current"`
	Curve         string                         `key:"curve" part:"curve" like:"curve/iso8820-blade" doc:"its time-current gates"`
	Melting       Value[unit.AmpereSquareSecond] `key:"melting" doc:"let-through that melts the element; clearing takes more"`
	Tripped       Value[unit.Watt]               `key:"tripped" like:"1 W" doc:"what a resettable one turns to heat once it has tripped"`
	VoltsMax      Value[unit.Volt]               `key:"volts_max" like:"32 V" doc:"the highest voltage that it breaks"`
	Breaking      Value[unit.Ampere]             `key:"breaking" like:"1 kA" doc:"the largest current that it breaks"`
	Holder        Holder                         `key:"holder" doc:"the form of holder that it goes into"`
	Seat          string                         `key:"seat" part:"connector" like:"connector/holder-inline-blade" doc:"the connector that an inline fuse brings along as its holder"`
	Colour        string                         `key:"colour" like:"brown" doc:"of its body"`
	Origin
}

// Holder is the form of a fuse and of the place it goes into.
type Holder string

func (Holder) Words() []string {
	return []string{"blade", "mini", "maxi", "cartridge", "inline", "soldered"}
}

// A Curve is the time-current gates of a fuse family, and how its ratings change with the temperature of the air.
type Curve struct {
	Title    string   `key:"title,required" like:"own part" doc:"what it is, in a line"`
	Gates    []Gate   `key:"gates,required" least:"1" doc:"within which time it opens at which current, the lowest current first"`
	Derating []Derate `key:"derating" doc:"what share of its rating it carries at which temperature, the coldest first"`
	Origin
}

// A Derate is a fuse's rating in air of that temperature over its rating on paper. Where several figures were found it is
// the highest in the cold, in which a fuse opens late, and the lowest in the warm, in which it holds least.
type Derate struct {
	At     Value[unit.Celsius] `key:"at,required" doc:"temperature of the air around it"`
	Factor Value[unit.Ratio]   `key:"factor,required" doc:"share of the rating that it then carries"`
	Origin
}

// A Gate is the time within which a fuse opens at a multiple of its rating. A gate without a maximum guarantees only that
// the fuse holds for the minimum.
type Gate struct {
	Multiple float64            `key:"multiple,required" like:"2" doc:"current over rating"`
	Min      Value[unit.Second] `key:"min" doc:"it holds at least so long"`
	Max      Value[unit.Second] `key:"max" doc:"it has opened after so long; left out where it may hold for ever"`
	Origin
}

// ReadNode reads a fuse.
func (f *Fuse) ReadNode(r *document.Reader, n document.Node) {
	type plain Fuse
	r.Decode(n, (*plain)(f))
	positive(r, n, "rating", f.Rating)
	notNegative(r, n, "resistance", f.Resistance)
	ordered(r, n, "resistance", f.Resistance, "resistance_hot", f.ResistanceHot, false)
	positive(r, n, "melting", f.Melting)
	notNegative(r, n, "tripped", f.Tripped)
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
	derating, _ := n.Get("derating")
	for i := 1; i < len(c.Derating); i++ {
		c.derate(r, derating, i)
	}
}

// derate makes a mistake of a temperature that is not above the one before it, and of a rating that rises with it.
func (c *Curve) derate(r *document.Reader, derating document.Node, i int) {
	colder, d := c.Derating[i-1], c.Derating[i]
	switch {
	case !colder.At.Given || !d.At.Given || !colder.Factor.Given || !d.Factor.Given: // it has its mistake already
	case d.At.Is <= colder.At.Is:
		r.Mistake(derating, "derating "+strconv.Itoa(i+1)+" must be for warmer air than the one before it", "put the coldest first")
	case d.Factor.Is > colder.Factor.Is:
		r.Mistake(derating, "derating "+strconv.Itoa(i+1)+" is a higher rating than one in colder air", "a fuse carries less in warmer air")
	}
}

func (c *Curve) gate(r *document.Reader, gates document.Node, i int, g Gate) {
	name := "gate " + strconv.Itoa(i+1)
	if i > 0 && g.Multiple <= c.Gates[i-1].Multiple {
		r.Mistake(gates, name+" must have a higher multiple than the one before it", "put the lowest multiple first")
	}
	if !g.Min.Given && !g.Max.Given {
		r.Mistake(gates, name+" needs a \"min\" or a \"max\"", "write for example max: 5 s")
	}
	for _, earlier := range c.Gates[:i] {
		if earlier.Min.Given && g.Min.Given && g.Min.Is > earlier.Min.Is || earlier.Max.Given && g.Max.Given && g.Max.Is > earlier.Max.Is {
			r.Mistake(gates, name+" is slower than one at a lower multiple", "a fuse opens sooner at more current")
			return
		}
	}
}

// ReadNode reads a gate.
func (g *Gate) ReadNode(r *document.Reader, n document.Node) {
	type plain Gate
	r.Decode(n, (*plain)(g))
	if _, ok := n.Get("multiple"); ok && g.Multiple <= 0 {
		r.Mistake(at(n, "multiple"), "\"multiple\" must be more than 0", "write current over rating, such as 2")
	}
	notNegative(r, n, "min", g.Min)
	positive(r, n, "max", g.Max)
	ordered(r, n, "min", g.Min, "max", g.Max, false)
}

// ReadNode reads a rating in air of one temperature.
func (d *Derate) ReadNode(r *document.Reader, n document.Node) {
	type plain Derate
	r.Decode(n, (*plain)(d))
	positive(r, n, "factor", d.Factor)
}
