package commission

import (
	"math"

	"farend/network"
	"farend/parts"
	"farend/scheme"
	"farend/study"
	"farend/unit"
)

// What a bad joint does to readings: of a feed it is solved, in the scheme with that feed so much longer.

// A Joint is what a bad joint does to a reading.
type Joint struct {
	Ohms  unit.Ohm // of the joint
	Shift float64  // of the reading, in its unit, as it is expected
	Blur  float64  // how much less of that a meter may show
	Seen  Seeing
}

// A Seeing says whether a reading gives a bad joint away.
type Seeing string

const (
	Seen   Seeing = "would be seen"     // wherever in its band a sound installation is
	Maybe  Seeing = "may be seen"       // in the installation as it is expected, and not in every sound one
	Unseen Seeing = "would not be seen" // even in the installation as it is expected
)

// badJoint is a joint that one should find: a dry solder joint or a screw that was never driven home (common practice, no source).
const badJoint unit.Ohm = 0.05

// joint is what a bad joint does that shifts what a meter reads by so much, in either direction.
func (r *Reading) joint(by accuracy, shift float64) *Joint {
	from := r.Low
	if shift < 0 {
		from = r.High
	}
	blur := by.error(from+shift) - by.error(from)
	if shift < 0 {
		blur = -blur
	}
	return r.blurred(shift, blur)
}

// blurred is what a bad joint does of whose shift the meter may show less.
func (r *Reading) blurred(shift, blur float64) *Joint {
	j := &Joint{Ohms: badJoint, Shift: shift, Blur: blur, Seen: Unseen}
	room := r.Is - r.Low
	if shift > 0 {
		room = r.High - r.Is
	}
	switch size := math.Abs(shift) - blur; {
	case size > r.High-r.Low:
		j.Seen = Seen
	case size > room:
		j.Seen = Maybe
	}
	return j
}

// mostSpoilt is of how many cables a bad joint in each is followed through the whole installation: the work grows with their square.
const mostSpoilt = 150

// jointOf is what a bad joint in a feed does to the volts of a place in a case; nil where nobody can say.
func (m *maker) jointOf(cable, in, place string, r *Reading) *Joint {
	bad := m.bad[cable]
	if bad == nil {
		return nil
	}
	solved := bad.Result(in)
	if solved == nil || !solved.Found() {
		return nil
	}
	return r.joint(direct, float64(bad.Network.VoltsAt(bad.Solution(in), place))-r.Is)
}

// spoil sketches the scheme with a bad joint in each feed, in the cases in which it is asked for.
func (m *maker) spoil() error {
	m.bad = map[string]*study.Study{}
	if len(m.s.Cables) > mostSpoilt {
		return nil
	}
	asked := m.askedOfJoints()
	var ids []string
	var schemes []*scheme.Scheme
	for _, id := range scheme.IDs(asked) {
		c := m.s.Cables[id]
		if part, ok := parts.Get[parts.Cable](m.s.Library, c.Part); ok && part.R20.Is > 0 && c.Length != nil {
			ids, schemes = append(ids, id), append(schemes, m.spoilt(id, part))
		}
	}
	sketches, err := m.base.Sketches(m.ctx, schemes, func(i int, c network.Case) bool { return asked[ids[i]][c.Name] })
	for i, st := range sketches {
		m.bad[ids[i]] = st
	}
	return err
}

// askedOfJoints are, by cable, the cases in which it is asked what a bad joint in it does: where a run is lowest, and in the fullest state where it lands.
func (m *maker) askedOfJoints() map[string]map[string]bool {
	asked := map[string]map[string]bool{}
	ask := func(cable, in string) {
		if asked[cable] == nil {
			asked[cable] = map[string]bool{}
		}
		asked[cable][in] = true
	}
	for _, in := range m.cases {
		for _, run := range scheme.IDs(m.s.Runs) {
			if at, _, ok := m.lowestPlace(in, run); ok {
				ask(m.feedOf(run, at), in)
			}
		}
	}
	if full, ok := m.fullest(); ok {
		for _, id := range scheme.IDs(m.s.Cables) {
			if _, lands := m.stationOf(id); lands {
				ask(id, full.in)
			}
		}
	}
	return asked
}

// spoilt is the scheme with a bad joint in a cable: so much longer that both its poles together have its resistance more. Of cold copper; in
// warm copper the joint counts for up to a tenth more.
func (m *maker) spoilt(id string, part *parts.Cable) *scheme.Scheme {
	c := m.s.Cables[id]
	perPole := c.PerPole()
	more := float64(badJoint) / (float64(c.Poles()) * float64(part.R20.Is)) * float64(perPole)
	return m.lengthened(id, func(length float64) float64 { return length + more })
}
