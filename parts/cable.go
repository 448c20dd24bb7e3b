package parts

import (
	"slices"
	"strconv"

	"farend/internal/document"
	"farend/unit"
)

// A Cable is conductors in one sheath. Iz is for one circuit at 30 °C, by method of installation.
type Cable struct {
	Title       string                     `key:"title,required" like:"own part" doc:"what it is, in a line"`
	Cores       int                        `key:"cores,required" like:"2" doc:"how many cores it has"`
	Area        Value[unit.SquareMetre]    `key:"area,required" doc:"copper of one core"`
	Class       int                        `key:"class" like:"5" doc:"IEC 60228: 1 solid, 2 stranded, 5 flexible, 6 very flexible; 0 where not known"`
	R20         Value[unit.OhmPerMetre]    `key:"r20,required" like:"13.3 Ω/km" doc:"resistance of one core at 20 °C"`
	Insulation  Value[unit.Celsius]        `key:"insulation,required" like:"70 °C" doc:"the highest temperature its insulation stands for good"`
	Suits       Exposure                   `key:"suits" doc:"the wettest place that its sheath is made for"`
	Iz          Ampacity                   `key:"iz" doc:"current-carrying capacity of one circuit at 30 °C, for all methods of installation or for each"`
	Z0          Value[unit.Ohm]            `key:"z0" like:"100 Ω" doc:"characteristic impedance of a pair"`
	Delay       Value[unit.SecondPerMetre] `key:"delay" doc:"how long a signal takes"`
	Capacitance Value[unit.FaradPerMetre]  `key:"capacitance" doc:"of a pair"`
	Inductance  Value[unit.HenryPerMetre]  `key:"inductance" doc:"of a pair"`
	Origin
}

// An Ampacity is a current-carrying capacity by method: IEC 60364-5-52 B2 (conduit), C (surface), E (free).
type Ampacity struct {
	Conduit Value[unit.Ampere] `key:"conduit" like:"15 A" doc:"in conduit on a wall: IEC 60364-5-52 method B2"`
	Surface Value[unit.Ampere] `key:"surface" like:"17 A" doc:"clipped to a wall: method C"`
	Free    Value[unit.Ampere] `key:"free" like:"19 A" doc:"in free air: method E"`
	Origin
}

// ReadNode reads a cable. Its ampacity is for 30 °C, so its insulation must stand more than that.
func (c *Cable) ReadNode(r *document.Reader, n document.Node) {
	type plain Cable
	r.Decode(n, (*plain)(c))
	whole(r, n, "cores", c.Cores, 1)
	positive(r, n, "area", c.Area)
	positive(r, n, "r20", c.R20)
	positive(r, n, "z0", c.Z0)
	positive(r, n, "delay", c.Delay)
	positive(r, n, "capacitance", c.Capacitance)
	positive(r, n, "inductance", c.Inductance)
	if class, ok := n.Get("class"); ok && !slices.Contains([]int{0, 1, 2, 5, 6}, c.Class) {
		r.Mistake(class, "there is no conductor class "+strconv.Itoa(c.Class), "IEC 60228 has 1 solid, 2 stranded, 5 flexible, 6 very flexible")
	}
	if c.Insulation.Given && c.Insulation.Is <= 30 {
		r.Mistake(at(n, "insulation"), "the insulation must stand more than the 30 °C for which ampacity is given, and stands "+c.Insulation.text(), "write for example 70 °C")
	}
}

// ReadNode reads one current for every method ("15 A" or {is: 15 A, …}), or {conduit: …, surface: …, free: …}.
func (a *Ampacity) ReadNode(r *document.Reader, n document.Node) {
	_, one := n.Get("is")
	if one || !n.IsMap() {
		r.Decode(n, &a.Conduit)
		a.Surface, a.Free = a.Conduit, a.Conduit
		positive(r, n, "", a.Conduit)
		return
	}
	type plain Ampacity
	r.Decode(n, (*plain)(a))
	positive(r, n, "conduit", a.Conduit)
	positive(r, n, "surface", a.Surface)
	positive(r, n, "free", a.Free)
}
