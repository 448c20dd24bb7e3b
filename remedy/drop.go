package remedy

import (
	"math"
	"slices"

	"farend/conductor"
	"farend/finding"
	"farend/network"
	"farend/parts"
	"farend/scheme"
	"farend/study"
	"farend/unit"
)

// Lossless makes a feed lose so much less between its supply and its run in a case, by thicker cables, or where nothing takes their cores by
// one more feed of its run. What is lost for another reason is mended there: no circuit reaches the run, or its return is a data ground.
func Lossless(s *study.Study, feed string, c network.Case, less unit.Volt) []finding.Edit {
	run := ""
	for _, at := range ends(s.Scheme.Cables[feed]) {
		if at.Kind == scheme.StationRef {
			run = at.Element
		}
	}
	for _, f := range s.Network.Feeds(run) {
		switch {
		case !f.Closed():
			return Unfed(s, run, f)
		case f.DataOnly:
			return Return(s, run, f.From)
		}
	}
	if edits := thickened(s, feed, c, less); edits != nil {
		return edits
	}
	if f, ok := feedFor(s, run, lowest(s, run)); ok && f.draws() {
		return f.from(f.fromWay, f.fromLargerBoard, f.fromSupply)
	}
	return nil
}

// thickened thickens a feed, the cables that lead to it and those that bring its current home, until it loses so much less: each time the cable that saves most for its
// copper. The other feeds of the run that are of the same cable become what it becomes, or they would carry less of it than now. There
// is no edit where no cable of their families suffices.
func thickened(s *study.Study, feed string, c network.Case, less unit.Volt) []finding.Edit {
	const spare = 0.02 // with thicker cables a little more flows
	need := float64(less) * (1 + spare)
	var lanes []*lane
	for _, id := range onWay(s, feed, c, "") {
		if l := laneOf(s, id, c); l != nil {
			lanes = append(lanes, l)
		}
	}
	for need > 0 {
		best := &lane{}
		for _, l := range lanes {
			if l.worth() > best.worth() {
				best = l
			}
		}
		if best.worth() <= 0 {
			return nil
		}
		need -= best.saving()
		best.take()
	}
	for _, l := range lanes {
		if l.taken == "" || l.cable != feed {
			continue
		}
		for _, other := range beside(s, feed) {
			if replaced(s, other, l.taken) != nil {
				lanes = append(lanes, &lane{cable: other, taken: l.taken})
			}
		}
	}
	var edits []finding.Edit
	for _, l := range lanes {
		if l.taken != "" {
			changes := replaced(s, l.cable, l.taken)
			if changes == nil { // nothing takes its cores
				return nil
			}
			edits = append(edits, changes...)
		}
	}
	return edits
}

// beside lists the other feeds of a feed's run that are of the same cable.
func beside(s *study.Study, feed string) []string {
	var list []string
	for _, at := range ends(s.Scheme.Cables[feed]) {
		if at.Kind != scheme.StationRef {
			continue
		}
		for _, l := range landings(s, at.Element) {
			if l.cable != feed && s.Scheme.Cables[l.cable].Part == s.Scheme.Cables[feed].Part {
				list = append(list, l.cable)
			}
		}
	}
	return list
}

// A lane is a cable on the way to a feed, with what its cores lose and the thicker ones that it might be made of.
type lane struct {
	cable  string
	length float64
	lost   float64 // volts, with cores as they are now
	now    *parts.Cable
	taken  string // what it becomes
	larger []named[parts.Cable]
}

func laneOf(s *study.Study, id string, c network.Case) *lane {
	cable, at := s.Scheme.Cables[id], s.Result(c.Name).Cables[id]
	now, ok := parts.Get[parts.Cable](s.Scheme.Library, cable.Part)
	if !ok || cable.Length == nil {
		return nil
	}
	amps := math.Abs(float64(at.Plus.Mean)) + math.Abs(float64(at.Return.Mean))
	ohms := float64(now.R20.Is) * float64(*cable.Length) / float64(cable.PerPole()) * conductor.Factor(at.Celsius)
	larger := sizes(s, cable.Part, func(p *parts.Cable) bool { return p.R20.Is < now.R20.Is })
	larger = slices.DeleteFunc(larger, func(p named[parts.Cable]) bool { return replaced(s, id, p.name) == nil }) // nothing takes its cores
	return &lane{cable: id, length: float64(*cable.Length), lost: amps * ohms, now: now, larger: larger}
}

// saving is what the next size saves, in volts.
func (l *lane) saving() float64 {
	if len(l.larger) == 0 {
		return 0
	}
	return l.lost * (1 - float64(l.larger[0].part.R20.Is/l.now.R20.Is))
}

// worth is that for its copper.
func (l *lane) worth() float64 {
	if len(l.larger) == 0 {
		return 0
	}
	return l.saving() / (l.length * float64(l.larger[0].part.Area.Is-l.now.Area.Is))
}

// take makes it of the next size.
func (l *lane) take() {
	l.lost -= l.saving()
	l.taken, l.now, l.larger = l.larger[0].name, l.larger[0].part, l.larger[1:]
}

// Loser is the cable that loses most in a case of those through which the current of a feed comes from a supply and goes home to it, and
// what it loses, over both of its poles.
func Loser(s *study.Study, feed string, c network.Case, supply string) (cable string, volts unit.Volt) {
	lost := func(id string) unit.Volt {
		drop := s.Result(c.Name).Cables[id].Drop
		return max(drop, -drop)
	}
	cable = feed
	for _, id := range onWay(s, feed, c, supply) {
		if lost(id) > lost(cable) {
			cable = id
		}
	}
	return cable, lost(cable)
}

// onWay lists the cables that lead to a feed from a supply, or from any where none is named, the feed, and those that bring its current home.
func onWay(s *study.Study, feed string, c network.Case, supply string) []string {
	var list []string
	for _, landed := range append([]string{feed}, homes(s, feed)...) {
		for _, id := range append(upstream(s, landed, c, supply), landed) {
			if !slices.Contains(list, id) {
				list = append(list, id)
			}
		}
	}
	return list
}

// homes lists the cables that bring home what a feed of the plus alone sends: those with a return that land nearest to it on its run.
func homes(s *study.Study, feed string) []string {
	at, lands := landedAt(s.Scheme.Cables[feed])
	if !lands || s.Scheme.Cables[feed].Pole.Has(scheme.Return) {
		return nil
	}
	var list []string
	least := math.MaxInt
	for _, id := range scheme.IDs(s.Scheme.Cables) {
		other, lands := landedAt(s.Scheme.Cables[id])
		if !lands || other.Element != at.Element || !s.Scheme.Cables[id].Pole.Has(scheme.Return) {
			continue
		}
		switch away := abs(other.Station.Mark - at.Station.Mark); {
		case away < least:
			list, least = []string{id}, away
		case away == least:
			list = append(list, id)
		}
	}
	return list
}

// landedAt is where a cable lands on a run.
func landedAt(c scheme.Cable) (at scheme.Ref, lands bool) {
	for _, end := range ends(c) {
		if end.Kind == scheme.StationRef {
			return end, true
		}
	}
	return scheme.Ref{}, false
}

// upstream lists the cables through which the current of a cable comes from a supply, or from any where none is named, and goes home there.
func upstream(s *study.Study, cable string, c network.Case, supply string) []string {
	var list []string
	seen := map[string]bool{cable: true}
	var back func(place scheme.Ref) bool // whether it leads to the supply
	back = func(place scheme.Ref) bool {
		name := place.String()
		switch place.Kind {
		case scheme.SupplyRef:
			return supply == "" || place.Element == supply
		case scheme.WayRef:
			name = place.Element + ".in"
		case scheme.InletRef, scheme.JunctionRef:
		default:
			return false
		}
		reached := false
		for _, id := range s.Network.Landings(name) {
			lead, at := s.Scheme.Cables[id], s.Result(c.Name).Cables[id]
			into, from := at.Plus.Mean+at.Return.Mean, lead.From // a return that leads away counts as current that comes
			if from.String() == name {
				into, from = -into, lead.To
			}
			if into <= 0 || seen[id] {
				reached = reached || into > 0 && slices.Contains(list, id)
				continue
			}
			seen[id] = true
			if back(from) {
				list, reached = append(list, id), true
			}
		}
		return reached
	}
	for _, end := range ends(s.Scheme.Cables[cable]) {
		back(end)
	}
	return list
}
