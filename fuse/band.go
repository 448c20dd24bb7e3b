package fuse

import (
	"math"
	"slices"

	"farend/unit"
)

// A Gate is one row of the time-current table of a standard or a sheet: at Multiple times its rating a fuse holds for Holds at
// least and has opened within Opens. Holds is 0 where nothing is said of it, and so is Opens: the fuse may then hold for ever.
type Gate struct {
	Multiple float64
	Holds    unit.Second
	Opens    unit.Second
}

// A Derate is the share of its rating that a fuse has in air of a temperature.
type Derate struct {
	At     unit.Celsius
	Factor float64
}

// A Curve is the gates of a fuse family by rising multiple, and its derating from cold to warm air. Times fall as multiples rise.
type Curve struct {
	Gates    []Gate
	Derating []Derate
}

// Factor is the share of its rating that a fuse has in air of that temperature: on straight lines between the rows of the
// derating, and that of the nearest row beyond them. It is 1 where the curve has no derating; stated is false there, beyond the
// warmest row, where the fuse holds less than the factor says, and below the coldest, where it opens later.
func (c *Curve) Factor(air unit.Celsius) (factor float64, stated bool) {
	rows := c.Derating
	if len(rows) == 0 {
		return 1, false
	}
	k, _ := slices.BinarySearchFunc(rows, air, func(d Derate, air unit.Celsius) int {
		switch {
		case d.At < air:
			return -1
		case d.At > air:
			return 1
		}
		return 0
	})
	switch {
	case k == 0:
		return rows[0].Factor, air == rows[0].At
	case k == len(rows):
		return rows[k-1].Factor, false
	}
	a, b := rows[k-1], rows[k]
	share := float64((air - a.At) / (b.At - a.At))
	return a.Factor + share*(b.Factor-a.Factor), true
}

// A Band says when a fuse of a rating opens in air of a temperature: not before its fast edge, and not after its slow one. Only
// the gates are guaranteed, so both edges are staircases; between two gates a fuse opens somewhere between them.
type Band struct {
	Rating unit.Ampere // in that air
	gates  []Gate
}

// Band is the band of a fuse of the rating in that air.
func (c *Curve) Band(rating unit.Ampere, air unit.Celsius) Band {
	factor, _ := c.Factor(air)
	return Band{rating * unit.Ampere(factor), c.Gates}
}

// Never is the time of what does not happen.
var Never = unit.Second(math.Inf(1))

// Opens is the slow edge: the time after which the fuse has surely opened, cold at the start. At a current between two gates it
// is that of the lower one, for a larger current opens a fuse no later; below the first gate with a limit it is Never.
func (b Band) Opens(amps unit.Ampere) unit.Second {
	t := Never
	for _, g := range b.gates {
		if g.Opens > 0 && amps >= b.amps(g) {
			t = min(t, g.Opens)
		}
	}
	return t
}

// Melts bounds the time for what a current warms until the fuse has opened: what a fuse lets through, as I²t, is no more at a larger
// current, for less of the heat has time to leave it. So at no current is it more than at a gate below: of that its multiple, squared, times its time. It is
// never longer than Opens.
//
// That I²t never rises with the current follows from the balance of heat of the element, C·dT/dt = I²·R(T) − loss(T); that the arc adds next to
// nothing is taken for extra-low voltage (common practice, no source). Above the last gate of a curve, and between two gates, no standard
// states it.
func (b Band) Melts(amps unit.Ampere) unit.Second {
	t := Never
	for _, g := range b.gates {
		if at := b.amps(g); g.Opens > 0 && amps >= at {
			t = min(t, g.Opens*unit.Second(at*at/(amps*amps)))
		}
	}
	return t
}

// Below lists the currents just below those from which the fuse opens sooner: between two of them it takes no longer at a larger one.
func (b Band) Below() []unit.Ampere {
	const under = 1 - 1e-9
	var list []unit.Ampere
	for _, g := range b.gates {
		if g.Opens > 0 {
			list = append(list, under*b.amps(g))
		}
	}
	return list
}

// Holds is the fast edge: the time for which the fuse surely holds, cold at the start. At a current between two gates it is that
// of the higher one; beyond the last gate that says how long a fuse holds it is 0. Up to the largest current that it carries it is
// Never that it opens.
func (b Band) Holds(amps unit.Ampere) unit.Second {
	if amps <= b.Carries() {
		return Never
	}
	t := unit.Second(0)
	for _, g := range b.gates {
		if g.Holds > 0 && amps <= b.amps(g) {
			t = max(t, g.Holds)
		}
	}
	return t
}

// amps is the current of a gate; a multiple that was rounded counts as the gate itself.
func (b Band) amps(g Gate) unit.Ampere { return unit.Ampere(g.Multiple) * b.Rating }

// A Certainty is what is known of a current that lasts.
type Certainty int

const (
	HoldsForEver Certainty = iota
	MayOpen                // between the last gate at which it holds and the first at which it opens: it may do either
	SurelyOpens
)

// Lasting is what the fuse does with a current that lasts for ever.
func (b Band) Lasting(amps unit.Ampere) Certainty {
	switch {
	case b.Opens(amps) < Never:
		return SurelyOpens
	case b.Holds(amps) == Never:
		return HoldsForEver
	}
	return MayOpen
}

// Threshold is the least current at which the fuse surely opens, without end where no gate says that it does. It is the
// conventional fusing current of the standards, I2.
func (b Band) Threshold() unit.Ampere { return b.OpensBy(Never) }

// OpensBy is the least current at which the fuse has surely opened within a time, without end where no gate says that it has.
func (b Band) OpensBy(t unit.Second) unit.Ampere {
	for _, g := range b.gates {
		if g.Opens > 0 && g.Opens <= t {
			return b.amps(g)
		}
	}
	return unit.Ampere(math.Inf(1))
}

// Carries is the largest current that the fuse is taken to hold for ever, 0 where no gate says so: that of the last gate which says
// only that it holds. Standards test it for an hour (IEC 60127-2 at 1.5 times the rating) or a hundred (ISO 8820-3 at 1.1), and call
// it the conventional non-fusing current.
func (b Band) Carries() unit.Ampere {
	most := unit.Ampere(0)
	for _, g := range b.gates {
		if g.Opens > 0 {
			break
		}
		most = b.amps(g)
	}
	return most
}

// Warm is the share of its cold time for which a fuse holds that carries a load already. The element has taken up part of the
// heat that melts it: 1 − (load/most)², with the largest current it holds for ever. An estimate from the law of its heat, which
// rises with the square of the current; no sheet states it.
func (b Band) Warm(load unit.Ampere) float64 {
	most := b.Carries()
	if most <= 0 {
		most = b.Rating
	}
	if most <= 0 {
		return 0
	}
	x := float64(load / most)
	return max(0, 1-x*x)
}

// Estimated is where the middle of the band's edges is taken to be between gates: on straight lines over the logarithms of
// current and time, and beyond the last gate where I²t stays what it is there. It is an estimate, for pictures and for an idea of
// the time; no verdict may rest on it. Where an edge has no gates on one side, or beyond them only one at which the fuse holds for
// ever, it is as guaranteed: 0 or Never.
func (b Band) Estimated(amps unit.Ampere) (fast, slow unit.Second) {
	fast = b.along(amps, func(g Gate) unit.Second { return g.Holds }, b.Holds(amps))
	slow = b.along(amps, func(g Gate) unit.Second { return g.Opens }, b.Opens(amps))
	return fast, slow
}

func (b Band) along(amps unit.Ampere, edge func(Gate) unit.Second, otherwise unit.Second) unit.Second {
	var below, above *Gate
	for i := range b.gates {
		g := &b.gates[i]
		if edge(*g) <= 0 {
			continue
		}
		if b.amps(*g) <= amps {
			below = g
		} else if above == nil {
			above = g
		}
	}
	switch {
	case below == nil, above == nil && b.amps(*below) <= b.Carries():
		return otherwise
	case above == nil: // the same heat melts the element, however fast it comes
		ratio := float64(b.amps(*below) / amps)
		return edge(*below) * unit.Second(ratio*ratio)
	}
	share := math.Log(float64(amps/b.amps(*below))) / math.Log(above.Multiple/below.Multiple)
	return unit.Second(math.Exp((1-share)*math.Log(float64(edge(*below))) + share*math.Log(float64(edge(*above)))))
}
