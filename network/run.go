package network

import (
	"fmt"
	"math"
	"slices"

	"farend/circuit"
	"farend/parts"
	"farend/scheme"
	"farend/unit"
)

// addRuns lays out every run: stations where copper lands, where a rail is cut and at both ends; chains between them.
func (b *builder) addRuns() {
	s := b.n.Scheme
	landed := b.landed()
	for _, id := range scheme.IDs(s.Runs) {
		tape := s.Tape(id)
		if tape == nil || s.Runs[id].Count < 1 {
			continue
		}
		b.addRun(id, s.Runs[id], tape, landed[id])
	}
}

// landed lists the marks of every run at which a cable lands.
func (b *builder) landed() map[string][]int {
	marks := map[string][]int{}
	for _, c := range b.n.Scheme.Cables {
		for _, ref := range []scheme.Ref{c.From, c.To} {
			if ref.Kind == scheme.StationRef {
				marks[ref.Element] = append(marks[ref.Element], ref.Station.Mark)
			}
		}
	}
	return marks
}

// sides are the terminals of a mark: before it (towards data-in) and after it. They are the same nodes where nothing
// parts the rails.
type sides struct{ before, after terminal }

func (b *builder) addRun(id string, run scheme.Run, tape *parts.Tape, landed []int) {
	joints := JointPlaces(run, tape)
	marks := append(slices.Clone(landed), 0, run.Count)
	cut := map[int]scheme.Pole{}
	for _, c := range run.Cuts {
		marks = append(marks, c.At.Mark)
		cut[c.At.Mark] = c.Pole
	}
	jointed := map[int]int{} // joints that need a station, by mark
	if unequal(tape) {
		for _, x := range joints {
			m := int(math.Round(x)) // a joint at a pixel comes after it, as in jointsIn
			jointed[m]++
			marks = append(marks, m)
		}
	}
	slices.Sort(marks)
	marks = slices.Compact(marks)
	at := make([]sides, len(marks))
	for i, m := range marks {
		at[i] = b.mark(id, m, run.Count, cut[m], jointed[m], tape)
	}
	r := runAt{id: id, tape: tape, count: run.Count}
	for i := range marks[1:] {
		r.stretches = append(r.stretches, stretch{chain: len(b.shape.Chains), first: marks[i], count: marks[i+1] - marks[i]})
		a, z := at[i].after, at[i+1].before
		b.shape.Chains = append(b.shape.Chains, circuit.Chain{APlus: a.plus, AReturn: a.minus, BPlus: z.plus, BReturn: z.minus, Loads: marks[i+1] - marks[i]})
	}
	b.n.runs = append(b.n.runs, r)
}

// unequal reports whether the rails of a tape differ, typically or at the lower end of their spreads. Then joints, which are
// the same in both, do not keep the ratio of the rails and become stations.
func unequal(tape *parts.Tape) bool {
	back := tape.RailReturn.Or(tape.Rail)
	return back.Is != tape.Rail.Is || back.Lower() != tape.Rail.Lower()
}

// mark makes the nodes of one mark and names them so that references find them. What lands at a mark with joints lands
// after them; at the data-in end, before them.
func (b *builder) mark(id string, m, count int, cut scheme.Pole, joints int, tape *parts.Tape) sides {
	name := stationName(id, m, count)
	landing := b.terminal(name)
	joint := element{name: name + " joint", ohms: unit.Ohm(joints) * tape.Joint.Is}
	if joints > 0 {
		joint.joint = tape.Joint
		joint.joint.Is *= unit.Ohm(joints)
	}
	inner := terminal{
		b.side(name+"- plus", landing.plus, cut != "" && cut.Has(scheme.Plus), joint),
		b.side(name+"- return", landing.minus, cut != "" && cut.Has(scheme.Return), joint),
	}
	if m == 0 {
		return sides{landing, inner}
	}
	b.terminals[name+"-"] = inner
	return sides{inner, landing}
}

// side is the node of one rail on the other side of a cut or of joints; the landing itself where there are none.
func (b *builder) side(name string, landing int, cut bool, joint element) int {
	if !cut && joint.ohms <= 0 {
		return landing
	}
	node := b.node(name)
	if !cut {
		b.wire(node, landing, joint)
	}
	return node
}

// stationName is the one name of a mark: the ends by their words, the others by the pixel after them.
func stationName(run string, mark, count int) string {
	switch mark {
	case 0:
		return run + "@start"
	case count:
		return run + "@end"
	}
	return fmt.Sprintf("%s@px%d", run, mark)
}

// JointPlaces are the factory and soldered joints of a run, in pitches from data-in. Factory joints count from data-in
// and there is none at the run's end.
func JointPlaces(run scheme.Run, tape *parts.Tape) []float64 {
	if !tape.Joint.Given || tape.Joint.Is <= 0 {
		return nil
	}
	density := float64(tape.Pixels.Is)
	var places []float64
	if every := float64(tape.JointEvery.Is) * density; tape.JointEvery.Given && every > 0 {
		for k := 1; float64(k)*every < float64(run.Count)-1e-6; k++ {
			places = append(places, float64(k)*every)
		}
	}
	for _, x := range run.Joints {
		places = append(places, float64(x)*density)
	}
	slices.Sort(places)
	return places
}

// jointsIn are the joints of one stretch as the circuit wants them. Gap g of a run is the copper between pixels g − 1 and g;
// a joint exactly at a station belongs to the stretch before it.
func jointsIn(places []float64, s stretch, loop float64) []circuit.Joint {
	var joints []circuit.Joint
	for _, x := range places {
		if x <= float64(s.first)-1e-9 || s.first > 0 && x <= float64(s.first)+1e-9 || x > float64(s.first+s.count)+1e-9 {
			continue
		}
		gap := min(max(int(math.Floor(x-float64(s.first)+0.5)), 0), s.count)
		joints = append(joints, circuit.Joint{Gap: gap, Loop: loop})
	}
	return joints
}
