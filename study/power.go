package study

import (
	"cmp"
	"context"
	"math"
	"slices"

	"farend/circuit"
	"farend/network"
	"farend/unit"
)

// A PowerCurve is what a fault at a place burns with over its resistance, in the case in which its silent power is largest: stage by stage, as
// fuses open one after the other.
type PowerCurve struct {
	Silent
	Stages []PowerStage
}

// A PowerStage is the time in which some fuses are open and no more.
type PowerStage struct {
	Opened []string
	Spots  []PowerSpot // by falling resistance, the edge among them
	Guard  string      // the fuse that surely opens within an Hour with any smaller resistance than the last that lasts, "" where none does
}

// A PowerSpot is what one resistance makes. It lasts where no fuse surely opens within an Hour.
type PowerSpot struct {
	Ohms  unit.Ohm
	Watts unit.Watt
	Amps  unit.Ampere
	Lasts bool
}

// decades from the worst resistance up and down, and spots in each of them, that a PowerCurve has.
const (
	decadesEach = 2.5
	spotsEach   = 16
)

// PowerCurve follows the silent power of a place past the fuses that open on the way to its worst, and past those that open next as the resistance
// falls. It is not ok where nothing may make heat there.
func (s *Study) PowerCurve(ctx context.Context, place string) (c PowerCurve, ok bool, err error) {
	worst, ok, err := s.SilentAt(ctx, place)
	if err != nil || !ok || worst.NotSure || worst.Watts == 0 {
		return PowerCurve{}, false, err
	}
	k := s.strikerIn([]network.Case{worst.Case.Sound().Taken(network.Through)})
	if err := k.settle(ctx); err != nil {
		return PowerCurve{}, false, err
	}
	fault := worst.Fault
	fault.Ohms = 0
	a, err := k.aim(fault)
	if err != nil {
		return PowerCurve{}, false, err
	}
	q := &quiet{walk: k.walk(ctx, circuit.NewWorker(), a, 0), tried: map[string]laid{}}
	c.Silent = worst
	var o opened
	var names []string
	for next := worst.Opened; len(c.Stages) <= len(q.guards) && !q.parted(o) && ctx.Err() == nil; {
		stage, guard := q.stage(o, worst.Fault.Ohms)
		stage.Opened = slices.Clone(names)
		if len(next) > 0 {
			guard, next = q.guardAt[next[0]], next[1:]
		}
		c.Stages = append(c.Stages, stage)
		if guard < 0 {
			break
		}
		o, names = o.with([]int{guard}, len(q.guards)), append(names, q.guards[guard].Name)
	}
	return c, len(c.Stages) > 0, ctx.Err()
}

// stage is the power over resistances about one, with some fuses open; and the fuse that surely opens with smaller ones, −1 where none does.
func (q *quiet) stage(o opened, about unit.Ohm) (s PowerStage, guard int) {
	guard = -1
	spot := func(t laid) {
		if !t.lost {
			s.Spots = append(s.Spots, PowerSpot{t.ohms, unit.Watt(t.watts), t.amps, t.ratio < 1})
		}
	}
	edge := unit.Ohm(0)
	if bolted := q.lay(o, 0); bolted.ratio >= 1 {
		at := q.edge(o, bolted)
		guard, edge = bolted.guard, at.ohms
		if at.ratio < 1 {
			guard = at.guard
			spot(at)
			spot(q.lay(o, at.ohms*(1-2*edged)))
		}
		s.Guard = q.guards[guard].Name
	}
	for i := range int(2*decadesEach*spotsEach) + 1 {
		ohms := about * unit.Ohm(math.Pow(10, decadesEach-float64(i)/spotsEach))
		if math.Abs(float64(ohms/edge)-1) > 1e-3 {
			spot(q.lay(o, ohms))
		}
	}
	slices.SortStableFunc(s.Spots, func(a, b PowerSpot) int { return cmp.Compare(b.Ohms, a.Ohms) })
	return s, guard
}
