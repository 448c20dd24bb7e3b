package parts

import (
	"cmp"
	"strconv"
	"strings"

	"farend/internal/document"
	"farend/unit"
)

// An amount is a Value of any quantity.
type amount interface {
	amount() (si float64, given bool)
	text() string
	example() string
}

// at is the node under key, or n itself where key is "" or is not there.
func at(n document.Node, key string) document.Node {
	if value, ok := n.Get(key); ok {
		return value
	}
	return n
}

func label(key string) string {
	if key == "" {
		return "it"
	}
	return strconv.Quote(key)
}

// positive makes a mistake of a number that is not above 0.
func positive(r *document.Reader, n document.Node, key string, v amount) {
	if si, given := v.amount(); given && si <= 0 {
		r.Mistake(at(n, key), label(key)+" must be more than 0, not "+v.text(), "write for example "+v.example())
	}
}

// notNegative makes a mistake of a number below 0.
func notNegative(r *document.Reader, n document.Node, key string, v amount) {
	if si, given := v.amount(); given && si < 0 {
		r.Mistake(at(n, key), label(key)+" cannot be less than 0, and is "+v.text(), "write for example "+v.example())
	}
}

// ordered makes a mistake of a pair in which the first is above the second, or equal to it where strict.
func ordered(r *document.Reader, n document.Node, lowKey string, low amount, highKey string, high amount, strict bool) {
	a, givenA := low.amount()
	b, givenB := high.amount()
	switch {
	case !givenA || !givenB || a < b || a == b && !strict:
	case strict:
		r.Mistake(at(n, lowKey), label(lowKey)+" ("+low.text()+") must be below "+label(highKey)+" ("+high.text()+")", "are the two exchanged, or a unit wrong?")
	default:
		r.Mistake(at(n, lowKey), label(lowKey)+" ("+low.text()+") cannot be above "+label(highKey)+" ("+high.text()+")", "are the two exchanged, or a unit wrong?")
	}
}

// whole makes a mistake of a count under the least one. An absent required count has its mistake already.
func whole(r *document.Reader, n document.Node, key string, count, least int) {
	if value, ok := n.Get(key); ok && count < least {
		if _, err := strconv.Atoi(value.Text()); err == nil {
			r.Mistake(value, label(key)+" must be at least "+strconv.Itoa(least)+", not "+strconv.Itoa(count), "write "+strconv.Itoa(least)+" or more")
		}
	}
}

// quantity makes a mistake of a text that is no positive T.
func quantity[T unit.Quantity](r *document.Reader, n document.Node, key, text, hint string) {
	value, given := n.Get(key)
	if !given || !value.IsScalar() {
		return
	}
	v, err := unit.Parse[T](text)
	if err == nil && v > 0 {
		return
	}
	var zero T
	r.Mistake(value, strconv.Quote(text)+" is not a "+zero.Dimension().Name+" above 0", cmp.Or(hint, "write for example "+zero.Dimension().Example))
}

// ReadNode reads a band.
func (b *Band[T]) ReadNode(r *document.Reader, n document.Node) {
	type plain Band[T]
	r.Decode(n, (*plain)(b))
	positive(r, n, "low", b.Low)
	ordered(r, n, "low", b.Low, "high", b.High, false)
}

// ReadNode reads a board. Its ways are named by digits and its ports are not, so that A1.2 and A1.P2 cannot be confused.
func (b *Board) ReadNode(r *document.Reader, n document.Node) {
	type plain Board
	r.Decode(n, (*plain)(b))
	positive(r, n, "volts_max", b.VoltsMax)
	if ways, ok := n.Get("ways"); ok && ways.IsMap() {
		r.Pairs(ways, func(name string, keyNode, _ document.Node) {
			if strings.Trim(name, "0123456789") != "" || name == "" {
				r.Mistake(keyNode, "way "+strconv.Quote(name)+" must be named by digits", "write 1, 2, 3 and so on")
			}
		})
		if len(b.Ways) == 0 {
			r.Mistake(ways, "a board needs at least one way", "write for example 1: {amps: 10 A, resistance: 2 mΩ}")
		}
	}
	if ports, ok := n.Get("ports"); ok && ports.IsMap() {
		r.Pairs(ports, func(name string, keyNode, _ document.Node) {
			if !portName(name) {
				r.Mistake(keyNode, "port "+strconv.Quote(name)+" needs a name of letters and digits that begins with a letter, other than in", "write P1, P2, P3 and so on")
			}
		})
	}
}

func portName(name string) bool {
	letter := func(c rune) bool { return c >= 'A' && c <= 'Z' || c >= 'a' && c <= 'z' }
	ok := func(c rune) bool { return letter(c) || c >= '0' && c <= '9' || c == '-' || c == '_' }
	return name != "" && name != "in" && letter(rune(name[0])) && !strings.ContainsFunc(name, func(c rune) bool { return !ok(c) })
}

// ReadNode reads an inlet.
func (i *Inlet) ReadNode(r *document.Reader, n document.Node) {
	type plain Inlet
	r.Decode(n, (*plain)(i))
	positive(r, n, "amps", i.Amps)
	notNegative(r, n, "resistance", i.Resistance)
}

// ReadNode reads a way.
func (w *Way) ReadNode(r *document.Reader, n document.Node) {
	type plain Way
	r.Decode(n, (*plain)(w))
	positive(r, n, "amps", w.Amps)
	notNegative(r, n, "resistance", w.Resistance)
}

// ReadNode reads a port.
func (p *Port) ReadNode(r *document.Reader, n document.Node) {
	type plain Port
	r.Decode(n, (*plain)(p))
	ordered(r, n, "low", p.Low, "high", p.High, true)
	notNegative(r, n, "driver", p.Driver)
	notNegative(r, n, "series", p.Series)
	notNegative(r, n, "rise", p.Rise)
	notNegative(r, n, "ground", p.Ground)
	positive(r, n, "ground_amps", p.GroundAmps)
}

// check makes a mistake of a contact that cannot be.
func (c *Contact) check(r *document.Reader, n document.Node) {
	positive(r, n, "amps", c.Amps)
	notNegative(r, n, "resistance", c.Resistance)
	positive(r, n, "volts_max", c.VoltsMax)
	positive(r, n, "area_min", c.AreaMin)
	positive(r, n, "area_max", c.AreaMax)
	ordered(r, n, "area_min", c.AreaMin, "area_max", c.AreaMax, false)
	positive(r, n, "torque", c.Torque)
}

// ReadNode reads a connector.
func (c *Connector) ReadNode(r *document.Reader, n document.Node) {
	type plain Connector
	r.Decode(n, (*plain)(c))
	c.check(r, n)
}

// ReadNode reads a junction.
func (j *Junction) ReadNode(r *document.Reader, n document.Node) {
	type plain Junction
	r.Decode(n, (*plain)(j))
	whole(r, n, "ways", j.Ways, 2)
	j.check(r, n)
}

// ReadNode reads an enclosure.
func (e *Enclosure) ReadNode(r *document.Reader, n document.Node) {
	type plain Enclosure
	r.Decode(n, (*plain)(e))
	positive(r, n, "width", e.Width)
	positive(r, n, "height", e.Height)
	positive(r, n, "depth", e.Depth)
	positive(r, n, "sheds", e.Sheds)
	degree(r, n, e.IP)
}

// degree checks the degree of protection of a part.
func degree(r *document.Reader, n document.Node, ip string) {
	if at, ok := n.Get("ip"); ok && !IsDegree(ip) {
		r.Mistake(at, strconv.Quote(ip)+" is no degree of protection", DegreeHint)
	}
}

// ReadNode reads a relay.
func (k *Relay) ReadNode(r *document.Reader, n document.Node) {
	type plain Relay
	r.Decode(n, (*plain)(k))
	positive(r, n, "amps", k.Amps)
	positive(r, n, "volts_max", k.VoltsMax)
	positive(r, n, "inrush", k.Inrush)
	notNegative(r, n, "resistance", k.Resistance)
	positive(r, n, "coil_volts", k.CoilVolts)
	notNegative(r, n, "coil_watts", k.CoilWatts)
}

// ReadNode reads a capacitor.
func (c *Capacitor) ReadNode(r *document.Reader, n document.Node) {
	type plain Capacitor
	r.Decode(n, (*plain)(c))
	positive(r, n, "capacitance", c.Capacitance)
	positive(r, n, "volts_max", c.VoltsMax)
	notNegative(r, n, "resistance", c.Resistance)
	positive(r, n, "ripple", c.Ripple)
}

// ReadNode reads a buffer.
func (b *Buffer) ReadNode(r *document.Reader, n document.Node) {
	type plain Buffer
	r.Decode(n, (*plain)(b))
	positive(r, n, "volts", b.Volts)
	ordered(r, n, "low", b.Low, "high", b.High, true)
	notNegative(r, n, "low", b.Low)
	notNegative(r, n, "driver", b.Driver)
	notNegative(r, n, "series", b.Series)
	notNegative(r, n, "rise", b.Rise)
	notNegative(r, n, "delay", b.Delay)
}
