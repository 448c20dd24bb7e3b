package network

import (
	"bufio"
	"fmt"
	"io"
	"math"
	"slices"
	"strings"

	"farend/circuit"
	"farend/conductor"
	"farend/fuse"
	"farend/pixel"
)

// Slices is the number of slices of the pulse-width cycle that a solution has: one outside peak cases.
func (s *Solution) Slices() int { return len(s.cycle) }

// Netlist writes one slice of a solved case as a deck for ngspice, from the physics and the parts, every rail piece, core, fuse
// and pixel on its own: nothing of how the kernel eliminates them. Nodes start at their solved values, which only
// saves ngspice from losing its way; the deck has the same solution without.
//
// Supplies on the straight part of their law are E and r in series, deep in their limit a current. Others carry the inverse of the law of circuit.Source,
// V = E − rI − ε·ln(1 − e^(−rI/ε)) + ε·ln(1 − e^(−r(limit − I)/ε)): written directly the law makes ngspice answer nonsense without
// a word. Then, and where copper hangs on pixels alone, copper is written at its solved resistance, so that every node can
// start at its solved value; otherwise in its own law. Pieces without a supply are left out.
func (n *Network) Netlist(w io.Writer, s *Solution, slice int) error {
	return n.netlist(w, s, slice, false)
}

// netlist is Netlist, with copper at its solved resistances in any case where solved is asked for.
func (n *Network) netlist(w io.Writer, s *Solution, slice int, solved bool) error {
	d := &deck{n: n, s: s, slice: slice, point: s.points[slice], values: s.values[slice], w: bufio.NewWriter(w), free: map[int]bool{}}
	d.loose = slices.ContainsFunc(n.allNodes(), d.adrift)
	d.bent = solved || d.loose || slices.ContainsFunc(n.supplies, func(t supplyAt) bool { return d.live(t) && !d.straight(t) })
	d.head()
	d.wires()
	d.sources()
	d.runs()
	d.nodesets()
	d.line(".op")
	d.line(".end")
	return d.w.Flush()
}

// A deck is a netlist being written.
type deck struct {
	n      *Network
	s      *Solution
	slice  int
	point  *circuit.Point
	values *circuit.Values
	w      *bufio.Writer
	free   map[int]bool // nodes at elements known as voltage over current
	loose  bool         // some copper hangs on pixels alone
	bent   bool         // some supply is off the straight part of its law: copper at its solved resistances
}

func (d *deck) line(format string, args ...any) { fmt.Fprintf(d.w, format+"\n", args...) }

// num is a number as SPICE reads it, with every digit it has.
func num[T ~float64](v T) string { return fmt.Sprintf("%.17g", float64(v)) }

// node is the deck's name of a node: 0 for the datum of a piece. Names of schemes may differ in case only, which SPICE does
// not see, so nodes are numbered and named in comments.
func (d *deck) node(k int) string {
	if d.point.Datum(k) {
		return "0"
	}
	return fmt.Sprintf("n%d", k)
}

func (d *deck) head() {
	title := strings.Join(strings.Fields(d.n.Scheme.Title), " ")
	d.line("* %s, case %s, slice %d of %d", title, d.s.Case.Name, d.slice, d.s.Slices())
	d.line("* Written by farend from the scheme's parts; units are volts, amperes and ohms.")
	// abstol: ngspice compares the current of every voltage source with that of the iteration before; between nodes at 5 V
	// joined by 1 mΩ it cannot know one that is nought to better than 10⁻¹² A.
	// vntol: a piece of copper that hangs on pixels alone is held by some 10⁻⁸ S, so rounding leaves its potential open by
	// a fraction of a millivolt; with less than that allowed ngspice never ends. All else is then written linear but for
	// the pixels, and starts at its solution, so that ending early costs nothing.
	vntol := "1e-11"
	if d.loose {
		vntol = "1e-3"
	}
	d.line(".option reltol=1e-10 abstol=1e-11 vntol=%s gmin=1e-15 itl1=500", vntol)
	d.line(".func sg(x,e) {(abs(x)+x)/2+e*ln(1+exp(-abs(x)/e))}")
	d.line("* nodes:")
	for k, name := range d.n.nodeNames {
		if d.point.Live(k) {
			d.line("* %s = %s", d.node(k), name)
		}
	}
}

// adrift reports whether a live node has no copper to any supply that is on: only pixels hold it.
func (d *deck) adrift(k int) bool {
	return d.point.Live(k) && !slices.ContainsFunc(d.n.supplies, func(t supplyAt) bool {
		return d.live(t) && (d.n.joined.of(k) == d.n.joined.of(t.at.plus) || d.n.joined.of(k) == d.n.joined.of(t.at.minus))
	})
}

func (n *Network) allNodes() []int {
	all := make([]int, len(n.nodeNames))
	for k := range all {
		all[k] = k
	}
	return all
}

func (d *deck) wires() {
	for i, pair := range d.n.Plan.Shape().Wires {
		e, v := d.n.elements[i], d.values.Wire(i)
		if !d.point.Live(pair.A) || pair.A == pair.B {
			continue
		}
		a, b := d.node(pair.A), d.node(pair.B)
		d.line("* %s", e.name)
		if v.Law != nil && !d.bent {
			d.free[pair.A], d.free[pair.B] = true, true
		}
		switch {
		case v.Law != nil && d.bent:
			d.line("R%d %s %s %s", i, a, b, num(d.solved(i, v)))
		case v.Law == nil && v.G > 0:
			d.line("R%d %s %s %s", i, a, b, num(1/v.G))
		case v.Law != nil && e.core != nil:
			d.law(i, a, b, coreVolts(*e.core, sensed(i)))
		case v.Law != nil && e.link != nil:
			d.law(i, a, b, linkVolts(*e.link, sensed(i)))
		}
	}
}

// solved is the resistance that a wire with a law has at the solved point.
func (d *deck) solved(i int, w circuit.Wire) float64 {
	pair := d.n.Plan.Shape().Wires[i]
	v, amps, slope := [1]float64{d.point.Across(pair.A, pair.B)}, [1]float64{}, [1]float64{}
	w.Law.Eval(v[:], amps[:], slope[:])
	if amps[0] == 0 {
		return 1 / slope[0]
	}
	return v[0] / amps[0]
}

// law writes an element that is known as voltage over current: a source of 0 V that measures, and one that follows.
func (d *deck) law(i int, a, b, volts string) {
	d.line("VS%d %s s%d 0", i, a, i)
	d.line("B%d s%d %s V=%s", i, i, b, volts)
}

func sensed(i int) string { return fmt.Sprintf("i(VS%d)", i) }

// coreVolts is V = I·Ra/max(1 − b·(I/Iz)², κ): a copper core in its own heat, clamped at the resistance of 160 °C.
func coreVolts(c conductor.Core, amps string) string {
	absolute := conductor.Absolute
	clamped := float64(c.R20) * conductor.Factor(conductor.Clamp)
	if c.Iz <= 0 || c.Ambient >= c.Limit || c.Ambient >= conductor.Clamp {
		return fmt.Sprintf("%s*%s", amps, num(clamped))
	}
	cold := float64(c.R20) * conductor.Factor(c.Ambient)
	b := float64(c.Limit-c.Ambient) / (absolute + float64(c.Limit))
	kappa := (absolute + float64(c.Ambient)) / (absolute + float64(conductor.Clamp))
	return fmt.Sprintf("%s*%s/max(1-%s*%s*%s,%s)", amps, num(cold), num(b/(float64(c.Iz)*float64(c.Iz))), amps, amps, num(kappa))
}

// linkVolts is V = I·(cold + (hot − cold)·min(1, (I/In)²)).
func linkVolts(l fuse.Link, amps string) string {
	cold, hot := float64(l.Cold), max(float64(l.Hot), float64(l.Cold))
	square := float64(l.Rating) * float64(l.Rating)
	return fmt.Sprintf("%s*(%s+%s*min(1,%s*%s/%s))", amps, num(cold), num(hot-cold), amps, amps, num(square))
}

func (d *deck) sources() {
	for _, t := range d.n.supplies {
		if !d.live(t) {
			continue
		}
		src := d.values.Source(t.source)
		r := max(src.R, 1e-5)
		plus, minus := d.node(t.at.plus), d.node(t.at.minus)
		d.line("* %s", t.id)
		if d.straight(t) {
			d.line("VT%d t%d %s %s", t.source, t.source, minus, num(src.E))
			d.line("RT%d t%d %s %s", t.source, t.source, plus, num(r))
			continue
		}
		eps := 0.001 * r * src.Limit
		switch volts := d.point.SourceVolts(t.source); {
		case src.E-r*src.Limit-volts > 40*eps: // e^−40 from its limit
			d.line("IT%d %s %s %s", t.source, minus, plus, num(src.Limit))
			continue
		case volts-src.E > 36*eps:
			d.line("* held above its set voltage by others: delivers nothing")
			continue
		}
		d.free[t.at.plus] = true
		out := fmt.Sprintf("(-i(VT%d))", t.source)
		d.line("VT%d %s t%d 0", t.source, plus, t.source)
		d.line("BT%d t%d %s V=%s-%s*%s-%s*ln(max(1-exp(min(-%s*%s,-1e-300)),1e-300))+%s*ln(max(1-exp(-%s*(%s-%s)),1e-300))",
			t.source, t.source, minus, num(src.E), num(r), out, num(eps), num(r/eps), out, num(eps), num(r/eps), num(src.Limit), out)
	}
}

func (d *deck) live(t supplyAt) bool { return d.point.Live(t.at.plus) }

// straight reports whether the solution leaves a supply on the straight part of its law.
func (d *deck) straight(t supplyAt) bool {
	src := d.values.Source(t.source)
	offset := src.E - max(src.R, 1e-5)*d.point.SourceAmps(t.source) - d.point.SourceVolts(t.source)
	return d.point.Plain(t.source) || math.Abs(offset) < 1e-7
}

func (d *deck) runs() {
	for _, r := range d.n.runs {
		d.line("* run %s", r.id)
		law := d.pixelAmps(d.n.pixelParts(d.s.Case, d.s.cycle[d.slice], r))
		for _, piece := range r.stretches {
			c := d.n.Plan.Shape().Chains[piece.chain]
			if d.point.Live(c.APlus) {
				d.stretch(piece, c, law)
			}
		}
	}
}

// pixelAmps is the current of one pixel over its voltage x, less its value at 0 V.
func (d *deck) pixelAmps(list []pixel.Part) string {
	var terms []string
	for _, p := range list {
		if p.Drive <= 0 {
			continue
		}
		c := p.Channel
		if c.String > 0 {
			terms = append(terms, fmt.Sprintf("%s*(sg(x-%s,%s)-sg(-%s,%s))", num(p.Drive/float64(c.String)), num(c.Lo), num(c.Soft), num(c.Lo), num(c.Soft)))
			continue
		}
		terms = append(terms, fmt.Sprintf("%s*(sg(x-%s,%s)-sg(x-%s,%s)-sg(-%s,%s)+sg(-%s,%s))", num(p.Drive*float64(c.Set)/float64(c.Hi-c.Lo)),
			num(c.Lo), num(c.Soft), num(c.Hi), num(c.Soft), num(c.Lo), num(c.Soft), num(c.Hi), num(c.Soft)))
	}
	return strings.Join(terms, "+")
}

func (d *deck) stretch(piece stretch, c circuit.Chain, law string) {
	rails := d.values.Rails(piece.chain)
	share := rails.Plus / (rails.Plus + rails.Return)
	plus, minus := d.node(c.APlus), d.node(c.AReturn)
	for g := 0; g <= piece.count; g++ {
		nextPlus, nextMinus := d.node(c.BPlus), d.node(c.BReturn)
		if g < piece.count {
			nextPlus, nextMinus = d.pixel(piece.chain, g)
		}
		pitch, joint := 1.0, 0.0
		if g == 0 || g == piece.count {
			pitch = 0.5
		}
		for _, j := range rails.Joints {
			if j.Gap == g {
				joint += j.Loop
			}
		}
		d.line("RP%d_%d %s %s %s", piece.chain, g, plus, nextPlus, num(pitch*rails.Plus+joint*share))
		d.line("RM%d_%d %s %s %s", piece.chain, g, minus, nextMinus, num(pitch*rails.Return+joint*(1-share)))
		if g < piece.count && law != "" {
			d.line("BL%d_%d %s %s I=%s", piece.chain, g, nextPlus, nextMinus, strings.ReplaceAll(law, "x-", "V("+nextPlus+","+nextMinus+")-"))
		}
		plus, minus = nextPlus, nextMinus
	}
}

// pixel names the two nodes of a pixel: its chain and its place in it.
func (d *deck) pixel(chain, i int) (plus, minus string) {
	return fmt.Sprintf("p%d_%d", chain, i), fmt.Sprintf("m%d_%d", chain, i)
}

// nodesets starts nodes at their solved values. Those beside an element known as voltage over current are left free: ngspice
// holds a set node for its first iterations, and between two held nodes such an element has nowhere to go.
func (d *deck) nodesets() {
	for k := range d.n.nodeNames {
		if d.point.Live(k) && !d.point.Datum(k) && !d.free[k] {
			d.line(".nodeset v(%s)=%s", d.node(k), num(d.point.Volts(k)))
		}
	}
	for _, r := range d.n.runs {
		for _, piece := range r.stretches {
			if !d.point.Live(d.n.Plan.Shape().Chains[piece.chain].APlus) {
				continue
			}
			plus, minus := make([]float64, piece.count), make([]float64, piece.count)
			d.point.Rails(piece.chain, plus, minus)
			for i := range piece.count {
				p, m := d.pixel(piece.chain, i)
				d.line(".nodeset v(%s)=%s v(%s)=%s", p, num(plus[i]), m, num(minus[i]))
			}
		}
	}
}
