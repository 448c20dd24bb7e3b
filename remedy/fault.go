package remedy

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"farend/conductor"
	"farend/finding"
	"farend/network"
	"farend/parts"
	"farend/scheme"
	"farend/study"
	"farend/unit"
)

// Harmed mends what the worst fault does to a conductor: by fuses where there are none; else, where feeds share a piece of tape in it, by cutting the
// positive between them, with fuses to match; else by the smallest fuses that carry their load in the places of those that let it through; else by
// one more feed with a piece to itself, thicker cores, or a part that the fuse suits. Supplies are linked where metalwork sends what one gives home
// past the other. A feed that lands the wrong way round is not mended by a part.
func Harmed(s *study.Study, h study.Harm) []finding.Edit {
	if h.Bearer == nil || h.Remote {
		return nil
	}
	edits := merged(byCopper(s, h), homeByMetal(s, h.Bearer.Owner))
	if h.Bearer.Kind == study.OfRails && edits != nil || strings.Contains(h.Bearer.Name, ".return") {
		return separated(edits, unchained(s, runsOf(s, h)))
	}
	return edits
}

// unchained gives a return to runs that have none but a data ground, and opens the grounds of those leads that chain runs which a fault makes carry
// nearly what they bear, or more: by them the return of one run brings home what another draws.
func unchained(s *study.Study, runs []string) []finding.Edit {
	t := s.Struck()
	var edits []finding.Edit
	for _, run := range runs {
		for _, f := range s.Network.Feeds(run) {
			if f.DataOnly {
				edits = merged(edits, Return(s, run, f.From))
			}
		}
	}
	for _, id := range scheme.IDs(s.Scheme.Data) {
		d := s.Scheme.Data[id]
		if !slices.Contains(runs, d.To.Element) && !slices.Contains(runs, d.From.Element) {
			continue
		}
		for _, i := range t.Of(id) {
			if h := t.Harm(i); !h.Remote && h.Verdict.Grade > finding.Note {
				edits = merged(edits, openGround(s, h.Bearer))
			}
		}
	}
	return edits
}

// byCopper is Harmed without what goes home by metalwork.
func byCopper(s *study.Study, h study.Harm) []finding.Edit {
	if d, lead := s.Scheme.Data[h.Bearer.Owner]; lead {
		return spared(s, h.Bearer, d.To.Element)
	}
	if atSupply(s, h) { // no fuse of what hangs on it sees that; what hangs on others feeds it by theirs
		return fusedAtSource(s, h.Bearer.Owner)
	}
	for _, way := range []func(*study.Study, study.Harm) []finding.Edit{fusedItself, bypassed, fusedInlet, paralleled, fusedBoard, fusedBefore, pieced} {
		if edits := way(s, h); edits != nil {
			return edits
		}
	}
	return fitted(s, h)
}

// fusedItself fits a lead that begins at a supply with a fuse there, and with it the leads of what works with that supply.
func fusedItself(s *study.Study, h study.Harm) []finding.Edit {
	c, cable := s.Scheme.Cables[h.Bearer.Owner]
	if !cable || c.From.Kind != scheme.SupplyRef || c.Fuse != "" || !c.Pole.Has(scheme.Plus) {
		return nil
	}
	if edits := InlineFuse(s, h.Bearer.Owner); edits != nil {
		return merged(edits, fusedAtSource(s, h.Bearer.Owner))
	}
	return nil
}

// bypassed takes the supply out of the spare cores of data leads, by which it feeds runs past every fuse; on rails that are then cut into pieces.
func bypassed(s *study.Study, h study.Harm) []finding.Edit {
	for _, run := range runsOf(s, h) {
		edits := unpowered(s, run)
		switch {
		case edits != nil && h.Bearer.Kind == study.OfRails:
			return separated(edits, pieced(s, h))
		case edits != nil:
			return edits
		}
	}
	return nil
}

// fusedBefore fits the leads of those supplies that feed a conductor without a fuse with one; one that does not carry its load only where that is
// the lesser evil.
func fusedBefore(s *study.Study, h study.Harm) []finding.Edit {
	things := []string{h.Bearer.Owner}
	if _, cable := s.Scheme.Cables[h.Bearer.Owner]; cable { // its return brings home what feeds the runs, by whatever that is sent
		things = append(things, runsOf(s, h)...)
	}
	for _, thing := range things {
		if edits := fusedAtSource(s, thing); edits != nil && (h.Verdict.Grade == finding.Danger || holding(s, edits)) {
			return edits
		}
	}
	return nil
}

// fusedInlet fits what leads to an inlet with fuses that carry the load; else its ways are fitted first.
func fusedInlet(s *study.Study, h study.Harm) []finding.Edit {
	if !strings.HasSuffix(h.Bearer.Owner, ".in") {
		return nil
	}
	if edits := fusedAtSource(s, h.Bearer.Owner); holding(s, edits) {
		return edits
	}
	return nil
}

// paralleled parts supplies that work together against what their parts say, once the lead of each has a fuse, and fits ways that have none; not for
// what one fuse lets through.
func paralleled(s *study.Study, h study.Harm) []finding.Edit {
	owner := h.Bearer.Owner
	if h.Guard != nil || fusedAtSource(s, owner) != nil {
		return nil
	}
	supplies := append(s.Network.SuppliesOn(owner), s.Network.SuppliesOf(owner)...)
	for _, cable := range s.Network.Landings(owner) { // of a junction
		supplies = append(supplies, s.Network.SuppliesOn(cable)...)
	}
	edits := asunder(s, supplies)
	if edits == nil {
		return nil
	}
	edits = separated(edits, fusedWays(s, owner))
	if h.Bearer.Kind == study.OfRails {
		edits = separated(edits, pieced(s, h))
	}
	return edits
}

// fusedBoard fits the ways without a fuse that have to do with a conductor.
func fusedBoard(s *study.Study, h study.Harm) []finding.Edit { return fusedWays(s, h.Bearer.Owner) }

// asunder takes the first of some supplies that works in parallel with others, and is not to, out of that: each opens the fuses of its own, and is
// no more kept on by the other.
func asunder(s *study.Study, supplies []string) []finding.Edit {
	for _, t := range supplies {
		part, ok := parts.Get[parts.Supply](s.Scheme.Library, s.Scheme.Supplies[t].Part)
		if ok && part.Parallel == "forbidden" && len(s.Network.Partners(t)) > 0 {
			if edits := Part(s, t); edits != nil {
				return edits
			}
		}
	}
	return nil
}

// separated is edits with those of others after them that touch none of their places.
func separated(edits, more []finding.Edit) []finding.Edit {
	for _, e := range more {
		if !slices.ContainsFunc(edits, func(d finding.Edit) bool { return touches(d.Path, e.Path) }) {
			edits = append(edits, e)
		}
	}
	return edits
}

// pieced gives feeds that share a piece of tape, or a fuse before it, one to themselves.
func pieced(s *study.Study, h study.Harm) []finding.Edit {
	if b := h.Bearer; b.Kind == study.OfRails {
		if edits := branching(s, b.Name); edits != nil {
			return separated(edits, asunder(s, s.Network.SuppliesOf(b.Name)))
		}
		if edits := Spread(s, b.Name); edits != nil {
			return edits
		}
	}
	for _, run := range runsOf(s, h) {
		if edits := CutApart(s, run); edits != nil {
			return edits
		}
	}
	return nil
}

// fitted fits fuses and conductor to each other: by smaller fuses, else by copper or parts that these suit.
func fitted(s *study.Study, h study.Harm) []finding.Edit {
	b, letting := h.Bearer, letThrough(s, h)
	less := smaller(s, letting)
	if less == nil && h.Strike != nil {
		less = smaller(s, openingIn(h.Strike))
	}
	if less == nil {
		less = telling(s, letting)
	}
	_, cable := s.Scheme.Cables[b.Owner]
	_, junction := s.Scheme.Junctions[b.Owner]
	need := suiting(s, letting, less...)
	switch {
	case less != nil && (b.Kind != study.OfContact || need <= b.Limit):
		return less
	case b.Kind == study.OfRails:
		return another(s, b.Name)
	case b.Kind == study.OfCore && cable:
		if edits := branch(s, b.Owner, 0); edits != nil {
			return edits
		}
		return stouter(s, h, letting)
	case junction:
		return merged(less, firmer(s, b.Owner, need))
	case cable:
		return merged(less, sturdier(s, b.Owner, need))
	case s.Scheme.Contactors[b.Owner].Part != "":
		return merged(less, heavier(s, b.Owner, need))
	case less != nil:
		return less
	}
	for _, run := range runsOf(s, h) {
		if edits := Spread(s, run); edits != nil {
			return edits
		}
	}
	return nil
}

// homeByMetal links supplies in the return, where that of a thing brings home for them what metalwork takes from one to the other.
func homeByMetal(s *study.Study, owner string) []finding.Edit {
	t := s.Struck()
	if t == nil || len(s.Scheme.Supplies) < 2 {
		return nil
	}
	var edits []finding.Edit
	for i := range t.Faults {
		f := &t.Faults[i]
		if _, supply := s.Scheme.Supplies[f.Fault.At]; !supply || f.Fault.Kind != network.ToMetal || len(s.Network.Partners(f.Fault.At)) == 0 {
			continue
		}
		for _, h := range t.Harmed(f) {
			if h.Bearer.Owner == owner && h.Verdict.Grade > finding.Note && !strings.Contains(h.Bearer.Name, ".plus") {
				edits = merged(edits, linked(s, f.Fault.At))
			}
		}
	}
	return edits
}

// branching gives those feeds of a run that come from a junction, and share the fuse before it with others, a fuse of their own.
func branching(s *study.Study, run string) []finding.Edit {
	var edits []finding.Edit
	for _, p := range stretches(s, run, s.Scheme.Runs[run].Cuts, landings(s, run)) {
		for _, l := range p.feeds {
			edits = merged(edits, branch(s, l.cable, drawn(s, run, p)/unit.Ampere(len(p.feeds))))
		}
	}
	return edits
}

// branch fits a cable that leads from a junction, and has no fuse, with the smallest that carries its load where it begins; none where no other
// cable leads on from the junction, or that would be no smaller than what is before it.
func branch(s *study.Study, cable string, load unit.Ampere) []finding.Edit {
	c := s.Scheme.Cables[cable]
	if c.From.Kind != scheme.JunctionRef || c.Fuse != "" || !c.Pole.Has(scheme.Plus) || len(s.Network.Landings(c.From.String())) < 3 {
		return nil
	}
	p := inlineSeat(s, cable)
	p.load = max(p.load, load)
	name := p.smallest(s)
	behind := s.Network.Behind(cable, "from").Fuses
	for _, before := range behind {
		if g, ok := s.Guard(before); !ok || g.Part == "" || !larger(s, g.Part, name) {
			return nil
		}
	}
	if len(behind) == 0 {
		return nil
	}
	return changed(name, "", "cables", cable, "fuse")
}

// firmer puts a junction that carries a current in the place of one that carries less.
func firmer(s *study.Study, junction string, amps unit.Ampere) []finding.Edit {
	was := s.Scheme.Junctions[junction].Part
	name := junctionFor(s, junction, junctionNeeds{amps: amps / roomy})
	now, ok := parts.Get[parts.Junction](s.Scheme.Library, was)
	if other, there := parts.Get[parts.Junction](s.Scheme.Library, name); !ok || !there || other.Amps.Lower() <= now.Amps.Lower() {
		return nil
	}
	return changed(name, was, "junctions", junction, "part")
}

// atSupply reports whether a fault is at the terminals of a supply, or where a lead without a fuse begins there.
func atSupply(s *study.Study, h study.Harm) bool {
	if h.Strike == nil {
		return false
	}
	at := h.Strike.Case.Fault.At
	if id, from := strings.CutSuffix(at, "@from"); from && s.Scheme.Cables[id].Fuse == "" && s.Scheme.Cables[id].From.Kind == scheme.SupplyRef {
		return true
	}
	_, is := s.Scheme.Supplies[at]
	return is
}

// unpowered takes the supply out of the spare cores of the data leads that lead to a run which cables feed, too: by them current gets there past
// every fuse.
func unpowered(s *study.Study, run string) []finding.Edit {
	var edits []finding.Edit
	for _, id := range scheme.IDs(s.Scheme.Data) {
		d := s.Scheme.Data[id]
		fed := slices.ContainsFunc(landings(s, run), func(l landing) bool { return feeds(s, l) })
		if d.Power && d.From.Kind == scheme.PortRef && d.To.Element == run && fed {
			edits = append(edits, edit(nil, "data", id, "power"))
		}
	}
	return edits
}

// fusedWays fits those ways that have no fuse, and lead to a thing or hang on an inlet, with the smallest that carries their load; with the largest that protects
// where none does.
func fusedWays(s *study.Study, owner string) []finding.Edit {
	ways := map[string]bool{owner: true}
	if board, inlet := strings.CutSuffix(owner, ".in"); inlet {
		if part, is := s.Scheme.BoardPart(board); is {
			for socket := range part.Ways {
				ways[board+"."+socket] = true
			}
		}
	}
	for _, at := range ends(s.Scheme.Cables[owner]) {
		ways[at.String()] = true
	}
	things := []string{owner}
	if _, way := s.Scheme.WayPart(owner); way { // tape brings what other feeds of its runs let through
		things = append(things, fedBy(s, owner)...)
	}
	for _, at := range ends(s.Scheme.Cables[owner]) {
		things = append(things, at.Element)
	}
	for _, run := range things {
		for _, l := range landings(s, run) {
			ways[beginning(s, l.near).String()] = true
		}
	}
	var edits []finding.Edit
	for _, way := range scheme.IDs(ways) {
		if p, is := waySeat(s, way); is && p.like == "" && len(s.Network.Landings(way)) > 0 {
			edits = append(edits, changed(cmp.Or(p.smallest(s), p.largest(s)), "", "fuses", way)...)
		}
	}
	return edits
}

// sturdier puts connectors that carry a current in the place of those at the ends of a cable that carry less, and take its cores.
func sturdier(s *study.Study, cable string, need unit.Ampere) []finding.Edit {
	c := s.Scheme.Cables[cable]
	part, known := parts.Get[parts.Cable](s.Scheme.Library, c.Part)
	if !known {
		return nil
	}
	top, area := volts(s, cable), part.Area.Is
	whole := area * unit.SquareMetre(c.PerPole())
	var edits []finding.Edit
	for _, e := range connectors(c) {
		now, chosen := parts.Get[parts.Connector](s.Scheme.Library, e.part)
		if !chosen || now.Amps.Lower() >= need {
			continue
		}
		edits = append(edits, changed(first(fitting(s, "connector", func(name string, p *parts.Connector) bool {
			kin := Alike(name, e.part) || family(name) == "connector/screw-"
			return kin && p.Amps.Lower() >= need && p.AreaMax.Given && whole <= p.AreaMax.Is && (!p.AreaMin.Given || area >= p.AreaMin.Is) && (!p.VoltsMax.Given || top <= p.VoltsMax.Is)
		}, func(a, b named[parts.Connector]) int {
			return cmp.Or(rank(Alike(a.name, e.part), Alike(b.name, e.part)), cmp.Compare(a.part.Amps.Is, b.part.Amps.Is))
		})), e.part, "cables", cable, "ends", e.side)...)
	}
	return edits
}

// heavier puts the weakest contactor that carries a current, and breaks the voltage on its cable, in the place of one: with a coil of the same
// voltage.
func heavier(s *study.Study, id string, need unit.Ampere) []finding.Edit {
	was := s.Scheme.Contactors[id].Part
	now, ok := parts.Get[parts.Relay](s.Scheme.Library, was)
	top := volts(s, s.Scheme.Contactors[id].In)
	if !ok {
		return nil
	}
	return changed(first(fitting(s, "relay", func(_ string, p *parts.Relay) bool {
		return p.Amps.Lower() >= need && p.CoilVolts.Is == now.CoilVolts.Is && p.VoltsMax.Given && top <= p.VoltsMax.Is
	}, func(a, b named[parts.Relay]) int { return cmp.Compare(a.part.Amps.Is, b.part.Amps.Is) })), was, "contactors", id, "part")
}

// fusedAtSource fits the leads of those supplies that feed a thing without any fuse with the smallest that carries their load, where they begin.
func fusedAtSource(s *study.Study, owner string) []finding.Edit {
	bare := slices.Clone(s.Network.Fed(owner).Bare)
	if _, cable := s.Scheme.Cables[owner]; cable {
		bare = append(bare, s.Network.Behind(owner, "from").Bare...)
		bare = append(bare, s.Network.Behind(owner, "to").Bare...)
	}
	var edits []finding.Edit
	for _, supply := range bare {
		for _, id := range s.Network.Landings(supply) {
			if c := s.Scheme.Cables[id]; c.Fuse == "" && c.From.String() == supply && c.Pole.Has(scheme.Plus) {
				edits = merged(edits, InlineFuse(s, id))
			}
		}
	}
	return edits
}

// holding reports whether the inline fuses of some edits carry their load; one that does not may be the lesser evil beside what burns.
func holding(s *study.Study, edits []finding.Edit) bool {
	for _, id := range scheme.IDs(s.Scheme.Cables) {
		for _, e := range edits {
			name, _ := e.Value.(string)
			link, is := parts.Get[parts.Fuse](s.Scheme.Library, name)
			if !is || e.Path != finding.Pointer("cables", id, "fuse") {
				continue
			}
			p := inlineSeat(s, id)
			warm, known := s.Warm(link, p.air)
			if !known || float64(p.load) > study.Continuous*warm.Share*float64(link.Rating.Is) {
				return false
			}
		}
	}
	return true
}

// runsOf are the runs whose feeds may bring a fault to a conductor: it is one of them, leads to them, or the fault is on one.
func runsOf(s *study.Study, h study.Harm) []string {
	runs := map[string]bool{}
	if _, is := s.Scheme.Runs[h.Bearer.Owner]; is {
		return []string{h.Bearer.Owner}
	}
	for _, run := range fedBy(s, h.Bearer.Owner) {
		runs[run] = true
	}
	for _, at := range ends(s.Scheme.Cables[h.Bearer.Owner]) {
		if at.Kind == scheme.StationRef {
			runs[at.Element] = true
		}
	}
	if h.Strike != nil {
		if run, _, landed := strings.Cut(h.Strike.Case.Fault.At, "@"); landed {
			if _, is := s.Scheme.Runs[run]; is {
				runs[run] = true
			}
		}
	}
	return scheme.IDs(runs)
}

// telling puts inline fuses that say when they open in the places of some that do not.
func telling(s *study.Study, names []string) []finding.Edit {
	var edits []finding.Edit
	for _, name := range names {
		cable := strings.TrimSuffix(name, ".fuse")
		if c, inline := s.Scheme.Cables[cable]; inline && c.Fuse != "" && !tells(s, c.Fuse) {
			edits = merged(edits, InlineFuse(s, cable))
		}
	}
	return edits
}

// openingIn are the fuses that open in a strike, if each takes as long as it may.
func openingIn(k *study.Strike) []string {
	names := map[string]bool{}
	for _, p := range k.Phases {
		for _, name := range p.Opens {
			names[name] = true
		}
	}
	return scheme.IDs(names)
}

// letThrough are the fuses that let a harm through: the one that does so by itself, those that a conductor has to itself, or those that open in
// the strike, with those that are next to the conductor.
func letThrough(s *study.Study, h study.Harm) []string {
	names := map[string]bool{}
	for _, g := range h.Bearer.Guards {
		names[g.Name] = true
	}
	if h.Guard != nil {
		return []string{h.Guard.Name}
	}
	if len(names) > 0 {
		return scheme.IDs(names)
	}
	for _, end := range []scheme.End{"from", "to"} {
		if _, cable := s.Scheme.Cables[h.Bearer.Owner]; cable {
			for _, name := range s.Network.Behind(h.Bearer.Owner, end).Fuses {
				names[name] = true
			}
		}
	}
	for _, name := range s.Network.Fed(h.Bearer.Owner).Fuses {
		names[name] = true
	}
	if h.Strike != nil {
		for _, name := range openingIn(h.Strike) {
			names[name] = true
		}
	}
	return scheme.IDs(names)
}

// suiting is what a conductor has to carry for some fuses together to suit it (IEC 60364-4-43, 433.1), as some edits make them.
func suiting(s *study.Study, names []string, edits ...finding.Edit) unit.Ampere {
	rated, opens := unit.Ampere(0), unit.Ampere(0)
	for _, name := range names {
		p, keys, ok := seatOf(s, name)
		part := p.like
		for _, e := range edits {
			if link, is := e.Value.(string); ok && is && e.Path == finding.Pointer(keys...) {
				part = link
			}
		}
		link, known := parts.Get[parts.Fuse](s.Scheme.Library, part)
		if !ok || !known {
			return unit.Ampere(math.Inf(1))
		}
		rated, opens = rated+link.Rating.Is, opens+p.opens(s, link)
	}
	return max(rated, opens/conductor.Bearable)
}

// stouter puts thicker cores into the place of those of a cable: such as suit the fuses that feed it, and as bear the heat of the fault.
func stouter(s *study.Study, h study.Harm, names []string) []finding.Edit {
	id := h.Bearer.Owner
	need := suiting(s, names)
	if h.Verdict.Lasting {
		need = max(need, unit.Ampere(h.Verdict.Value)/conductor.Bearable)
	}
	c := s.Scheme.Cables[id]
	part, ok := parts.Get[parts.Cable](s.Scheme.Library, c.Part)
	if !ok {
		return nil
	}
	area := part.Area.Is
	if !h.Verdict.Lasting && h.Verdict.Value > study.Worn {
		area *= unit.SquareMetre(math.Sqrt(h.Verdict.Value / study.Worn)) // k²S²
	}
	if need > h.Bearer.Limit {
		area = part.Area.Is
	}
	return replaced(s, id, first(sizes(s, c.Part, func(p *parts.Cable) bool { return p.Area.Is >= area && carries(s, c, p) >= min(need, thickest(s, c)) })))
}

// thickest is what the thickest of a cable's family may carry.
func thickest(s *study.Study, c scheme.Cable) unit.Ampere {
	most := unit.Ampere(0)
	for _, p := range sizes(s, c.Part, func(*parts.Cable) bool { return true }) {
		most = max(most, carries(s, c, p.part))
	}
	return most
}

// another is one more feed for the longest piece of a run, with a piece and a fuse to itself; none where the fuses could not be any smaller for
// it, or where it would lose more than is allowed.
func another(s *study.Study, run string) []finding.Edit {
	pieces := stretches(s, run, s.Scheme.Runs[run].Cuts, landings(s, run))
	longest := stretch{}
	for _, p := range pieces {
		if p.high-p.low > longest.high-longest.low {
			longest = p
		}
	}
	if len(longest.feeds) == 0 {
		return nil
	}
	at := longest.feeds[0].mark
	pixel := longest.low
	if longest.high-at >= at-longest.low {
		pixel = longest.high - 1
	}
	f, ok := feedFor(s, run, pixel)
	if !ok {
		return nil
	}
	f.strict = true
	edits := apart(s, run, f.from(f.fromWay, f.fromLargerBoard, f.fromSupply, f.fromJunction), f)
	for _, name := range behindOf(s, longest.feeds[0]) {
		_, keys, ok := seatOf(s, name)
		if ok && slices.ContainsFunc(edits, func(e finding.Edit) bool { return e.Path == finding.Pointer(keys...) }) {
			return edits
		}
	}
	return nil
}

// spared mends what a fault does to a data lead: the supply is taken out of its spare cores, a ground that chains runs is opened, a run that has
// no other return gets one, and what feeds the run without a fuse gets one; else its fuses become smaller, or its feeds thicker.
func spared(s *study.Study, b *study.Bearer, run string) []finding.Edit {
	if edits := unpowered(s, run); edits != nil {
		return edits
	}
	if edits := openGround(s, b); edits != nil {
		return edits
	}
	if edits := asunder(s, s.Network.SuppliesOf(run)); edits != nil {
		return edits
	}
	for _, f := range s.Network.Feeds(run) {
		if f.DataOnly {
			return Return(s, run, f.From)
		}
	}
	if edits := fusedWays(s, run); edits != nil {
		return edits
	}
	if edits := fusedAtSource(s, run); edits != nil {
		return edits
	}
	if edits := smaller(s, s.Network.Fed(run).Fuses); edits != nil {
		return edits
	}
	return Ground(s, b.Owner, float64(b.Limit/max(b.Limit, s.Struck().Carries(b))))
}

// openGround opens the ground of a lead that chains one run to the next, where both have their return by power copper: the data keeps its
// reference by that.
func openGround(s *study.Study, b *study.Bearer) []finding.Edit {
	d := s.Scheme.Data[b.Owner]
	if d.From.Kind == scheme.PortRef || d.Ground == scheme.OpenGround || !strings.HasSuffix(b.Name, ".ground") {
		return nil
	}
	alone := func(f network.Feed) bool { return f.DataOnly || !f.Closed() }
	if slices.ContainsFunc(s.Network.Feeds(d.From.Element), alone) || slices.ContainsFunc(s.Network.Feeds(d.To.Element), alone) {
		return nil
	}
	return []finding.Edit{edit(string(scheme.OpenGround), "data", b.Owner, "ground")}
}

// FarShort mends a short at the far end that a fuse does not see, or that goes on from elsewhere: by a cut between feeds; by the smallest fuse
// that carries the load, if that opens; by the thinnest lead of the family with which enough flows, by its resistance, for the fuse to open.
func FarShort(s *study.Study, g study.Guard, far study.FarShort, least unit.Ampere) []finding.Edit {
	if far.Amps >= least { // it opens, but what goes on comes from elsewhere, or too late
		for _, run := range fedBy(s, g.At) {
			if edits := CutApart(s, run); edits != nil {
				return edits
			}
		}
		return sooner(s, g, far)
	}
	p, keys, ok := seatOf(s, g.Name)
	if !ok {
		return nil
	}
	if kin := p.kin(s); len(kin) > 0 && larger(s, p.like, kin[0].name) && float64(p.opens(s, kin[0].part)) < roomy*float64(far.Amps) {
		return changed(kin[0].name, p.like, keys...)
	}
	return reaching(s, g, far, least)
}

// sooner ends a short at the far end of a fuse, that it sees, sooner: by smaller fuses in its place and in those of all that feed the place beside
// it, since one that is smaller than the others opens before them and leaves the short to them; by a link in the place of a fuse that resets
// itself; by smaller fuses in the places of others that open in it. Where no supply keeps what flows from being more, by thicker leads.
func sooner(s *study.Study, g study.Guard, far study.FarShort) []finding.Edit {
	beside := []string{g.Name}
	for _, near := range far.Strike.Near {
		if near.Guard != g.Name {
			beside = append(beside, near.Guard)
		}
	}
	if edits := smaller(s, beside); edits != nil {
		return edits
	}
	if g.Fuse.Tripped.Given {
		if edits := Links(s, []string{g.Name}); edits != nil {
			return edits
		}
	}
	if edits := smaller(s, openingIn(far.Strike)); edits != nil || len(far.Strike.Held) > 0 {
		return edits
	}
	return stretched(s, g, 0.999)
}

// reaching puts the thinnest cable of its family with which the fuse opens in a short at its end in the place of the longest lead behind the
// fuse: what flows goes by the resistance of all that is in its way, of which the lead has the share by which it is reckoned.
func reaching(s *study.Study, g study.Guard, far study.FarShort, least unit.Ampere) []finding.Edit {
	_, lead := longestBehind(s, g)
	if lead == 0 {
		return nil
	}
	// The whole way has U/I_k; a lead of share r of its resistance leaves 1 − r of it as it is.
	top := volts(s, g.At)
	whole := float64(top) / float64(far.Amps)
	warm := min(whole, hottest*float64(lead))
	wanted := float64(top) / (float64(least) / roomy)
	share := (wanted - (whole - warm)) / warm
	if share <= 0 {
		return nil
	}
	return stretched(s, g, share)
}

// hottest is what copper of 160 °C has of its resistance at 20 °C: 0.393 % more for each kelvin (IEC 60028).
const hottest = 1.55

// stretched puts the thinnest cable of its family that has at most a share of the resistance in the place of the longest lead behind a fuse.
func stretched(s *study.Study, g study.Guard, share float64) []finding.Edit {
	id, lead := longestBehind(s, g)
	if lead == 0 {
		return nil
	}
	return Larger(s, id, share)
}

// longestBehind is the lead behind a fuse whose loop has most resistance, at 20 °C.
func longestBehind(s *study.Study, g study.Guard) (cable string, loop unit.Ohm) {
	behind := protected(s, g.At)
	if _, own := s.Scheme.Cables[g.At]; own {
		behind = []string{g.At}
	}
	for _, id := range behind {
		c := s.Scheme.Cables[id]
		part, ok := parts.Get[parts.Cable](s.Scheme.Library, c.Part)
		if !ok || c.Length == nil {
			continue
		}
		cores := c.PerPole()
		if lead := unit.Ohm(2 * float64(part.R20.Is) * float64(*c.Length) / float64(max(cores, 1))); lead > loop {
			cable, loop = id, lead
		}
	}
	return cable, loop
}

// Discriminating puts the smallest fuse that carries its load in the place of one nearer to a fault, where one above it has surely opened before.
func Discriminating(s *study.Study, g study.Guard, c study.Crossing) []finding.Edit {
	if !c.Sure() {
		return nil
	}
	return smaller(s, []string{g.Name})
}
