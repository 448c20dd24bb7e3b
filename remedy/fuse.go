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

// A seat is where a fuse goes, and what is asked of the fuse.
type seat struct {
	holder parts.Holder // the form that fits; blade where nothing is said
	like   string       // the fuse that is there: of two that do, one of its family
	load   unit.Ampere  // what it must hold for good
	iz     unit.Ampere  // what the thinnest conductor behind it may carry
	most   unit.Ampere  // the highest rating that the place is made for
	volts  unit.Volt
	short  unit.Ampere
	air    unit.Celsius
	clamp  unit.Ampere // what its holder must carry, where it brings one along
}

// largest is the fuse with the highest rating that does all that is asked but carry the load.
func (p seat) largest(s *study.Study) string {
	p.load = 0
	return p.highest(s)
}

// highest is the fuse with the highest rating that does all that is asked. "" if none does.
func (p seat) highest(s *study.Study) string {
	return first(fitting(s, "fuse", func(_ string, f *parts.Fuse) bool { return p.takes(s, f) }, func(a, b named[parts.Fuse]) int {
		return cmp.Compare(b.part.Rating.Is, a.part.Rating.Is)
	}))
}

// smallest is the fuse with the lowest rating that does all that is asked: it carries the load at 75 % of its rating in that air
// with something to spare; it is rated no higher than the conductor carries and opens at 1.45 times that (IEC 60364-4-43, 433.1);
// it breaks the voltage and the current of a short. "" if none does.
func (p seat) smallest(s *study.Study) string {
	return first(fitting(s, "fuse", func(_ string, f *parts.Fuse) bool { return p.takes(s, f) }, func(a, b named[parts.Fuse]) int {
		return cmp.Or(cmp.Compare(a.part.Rating.Is, b.part.Rating.Is), rank(family(a.name) == family(p.like), family(b.name) == family(p.like)),
			cmp.Compare(a.part.Breaking.Is, b.part.Breaking.Is))
	}))
}

func (p seat) takes(s *study.Study, f *parts.Fuse) bool {
	warm, known := s.Warm(f, p.air)
	rating := f.Rating.Is
	switch {
	case f.Holder != cmp.Or(p.holder, "blade"):
		return false
	case !known || float64(p.load) > roomy*study.Continuous*warm.Share*float64(rating):
		return false
	case rating > min(p.iz, p.most) || p.opens(s, f) > conductor.Bearable*p.iz:
		return false
	case f.VoltsMax.Given && f.VoltsMax.Is < p.volts, f.Breaking.Given && f.Breaking.Is < p.short:
		return false
	}
	holder, brought := parts.Get[parts.Connector](s.Scheme.Library, f.Seat)
	return !brought || float64(p.clamp) <= roomy*float64(holder.Amps.Is)
}

// opens is the current at which a fuse surely opens in the end, in the coldest air, where its curve says so; else its rating.
func (p seat) opens(s *study.Study, f *parts.Fuse) unit.Ampere {
	curve, ok := network.Curve(s.Scheme.Library, f)
	if !ok {
		return f.Rating.Is
	}
	return curve.Band(f.Rating.Is, min(p.air, s.Scheme.Coldest())).Threshold()
}

// waySeat is the holder of a way with what its fuse is asked for.
func waySeat(s *study.Study, way string) (seat, bool) {
	part, ok := s.Scheme.WayPart(way)
	if !ok {
		return seat{}, false
	}
	return seat{
		holder: part.Holder, like: s.Scheme.Fuses[way], air: s.Scheme.Ambient(), most: part.Amps.Is, volts: volts(s, way), short: short(s, way),
		load: lasting(s, func(r *network.Result) unit.Ampere { return r.Ways[way].Amps.RMS }), iz: thinnest(s, bearing(s, way, way+".fuse")),
	}, true
}

// inlineSeat is the place of an inline fuse in a cable, likewise.
func inlineSeat(s *study.Study, cable string) seat {
	c := s.Scheme.Cables[cable]
	air, _, _, _ := c.Env(s.Scheme)
	beyond := c.To
	if c.FuseAt == "to" {
		beyond = c.From
	}
	of := func(r *network.Result) unit.Ampere { return r.Cables[cable].Plus.RMS }
	p := seat{
		holder: "inline", like: c.Fuse, air: air, most: unit.Ampere(math.Inf(1)), volts: volts(s, cable), short: short(s, cable),
		load: lasting(s, of), clamp: most(s, of), iz: thinnest(s, append(bearing(s, beyond.String(), cable+".fuse"), cable)),
	}
	if limited(s, cable) { // what is drawn is then not what is asked for
		asked := unit.Ampere(0)
		for _, run := range fedBy(s, beyond.String()) {
			asked += lit(s, run)
		}
		p.load = max(p.load, asked)
	}
	return p
}

// limited reports whether a supply on a cable has reached its limit in a case that lasts.
func limited(s *study.Study, cable string) bool {
	return slices.ContainsFunc(s.Cases(), func(c network.Case) bool {
		return c.Kind != network.CapFailed && slices.ContainsFunc(s.Network.SuppliesOn(cable), func(t string) bool {
			state := s.Result(c.Name).Supplies[t].State
			return state != "normal" && state != "idle"
		})
	})
}

// protected lists the cables that hang on a place with no fuse between: those that its fuse is there for. An inlet ends them, since
// every way beyond it has a fuse of its own.
func protected(s *study.Study, place string) []string {
	var list []string
	seen, cables := map[string]bool{place: true}, map[string]bool{}
	for queue := []string{place}; len(queue) > 0; queue = queue[1:] {
		for _, id := range s.Network.Landings(queue[0]) {
			c := s.Scheme.Cables[id]
			near := c.From.String() == queue[0]
			if cables[id] || c.Fuse != "" && near == (c.FuseAt != "to") || !c.Pole.Has(scheme.Plus) {
				continue
			}
			cables[id] = true
			list = append(list, id)
			if on := far(c, queue[0]); c.Fuse == "" && on.Kind == scheme.JunctionRef && !seen[on.String()] {
				seen[on.String()] = true
				queue = append(queue, on.String())
			}
		}
	}
	return list
}

// bearing lists the cables that bear what a fuse at a place lets through: those that hang on the place, and the links of the return alone
// that bring it home.
func bearing(s *study.Study, place, fuse string) []string {
	list := protected(s, place)
	for _, id := range scheme.IDs(s.Scheme.Cables) {
		if s.Scheme.Cables[id].Pole == scheme.Return && through(s, id, fuse) {
			list = append(list, id)
		}
	}
	return list
}

// thinnest is what the weakest of some cables may carry, each pole; without end where there is none.
func thinnest(s *study.Study, cables []string) unit.Ampere {
	least := unit.Ampere(math.Inf(1))
	for _, id := range cables {
		if iz := s.Result(s.Cases()[0].Name).Cables[id].Iz; iz > 0 {
			least = min(least, iz)
		}
	}
	return least
}

// WayFuse fits a way that has none with the smallest fuse that carries its load and protects what hangs on it. Where the load asks for
// more than the thinnest cable behind it carries, that cable becomes thicker; where it asks for more than the way is made for, the
// largest fuse that protects is fitted all the same: it may tire, and that is said then, but nothing burns.
func WayFuse(s *study.Study, way string) []finding.Edit {
	p, ok := waySeat(s, way)
	if !ok {
		return nil
	}
	if edits := p.fit(s, bearing(s, way, way+".fuse"), "fuses", way); edits != nil {
		return edits
	}
	return changed(p.largest(s), p.like, "fuses", way)
}

// WayLoad relieves the fuse of a way that carries more than it bears for good: by a larger one where way and cables allow it, with
// stronger contacts where those rely on the one that is there; else by one more feed of what it feeds; else by a larger one and
// thicker cables; else as a way that carries too much.
func WayLoad(s *study.Study, way string) []finding.Edit {
	p, ok := waySeat(s, way)
	if !ok {
		return nil
	}
	if edits := returned(s, way); edits != nil {
		return edits
	}
	more, ok := relieve(s, way+".fuse")
	if name := p.smallest(s); ok && larger(s, name, p.like) {
		return merged(changed(name, p.like, "fuses", way), more)
	}
	if !ok {
		return moved(s, way)
	}
	if edits := shared(s, way); edits != nil {
		return edits
	}
	if edits := p.fit(s, bearing(s, way, way+".fuse"), "fuses", way); more == nil && edits != nil {
		return edits
	}
	return Way(s, way)
}

// larger reports whether one fuse is rated higher than another, or there is no other.
func larger(s *study.Study, name, than string) bool {
	a, ok := parts.Get[parts.Fuse](s.Scheme.Library, name)
	b, there := parts.Get[parts.Fuse](s.Scheme.Library, than)
	return ok && (!there || a.Rating.Is > b.Rating.Is)
}

// merged is edits with others after them, without those of a place that they change already.
func merged(edits, more []finding.Edit) []finding.Edit {
	for _, e := range more {
		if !slices.ContainsFunc(edits, func(d finding.Edit) bool { return d.Path == e.Path }) {
			edits = append(edits, e)
		}
	}
	return edits
}

// InlineFuse fits a cable with the smallest inline fuse that carries its load and protects it, and the cable with thicker cores where
// they must be; and stronger what relies on the fuse that is there. A cable that has none, and carries more than any does, gets the
// largest that protects it: it may tire, and that is said then, but nothing burns.
func InlineFuse(s *study.Study, cable string) []finding.Edit {
	c := s.Scheme.Cables[cable]
	var more []finding.Edit
	if c.Fuse != "" { // else nothing relies on it
		var ok bool
		if more, ok = relieve(s, cable+".fuse"); !ok {
			return nil
		}
	}
	beyond := c.To
	if c.FuseAt == "to" {
		beyond = c.From
	}
	p := inlineSeat(s, cable)
	edits := p.fit(s, append(bearing(s, beyond.String(), cable+".fuse"), cable), "cables", cable, "fuse")
	if edits == nil && c.Fuse == "" {
		edits = changed(p.largest(s), "", "cables", cable, "fuse")
	}
	switch {
	case edits == nil || late(s, cable, edits):
		return nil
	case c.Fuse == "" && c.From.Kind != scheme.SupplyRef: // beside a supply that is not to be there, no fuse surely opens
		return separated(merged(edits, slowed(s, cable)), asunder(s, s.Network.SuppliesOn(cable)))
	case c.Fuse == "":
		more = slowed(s, cable)
	}
	return merged(edits, more)
}

// late reports whether edits put a fuse into a cable that would open later than Patience in a short at its far end, which the one that is there ends
// sooner.
func late(s *study.Study, cable string, edits []finding.Edit) bool {
	t := s.Struck()
	now, fused := s.Guard(cable + ".fuse")
	if t == nil || !fused {
		return false
	}
	far, is := t.Far(cable)
	was, known := s.Band(now, now.Cold)
	if !is || !known || was.Opens(far.Amps) > study.Patience {
		return false
	}
	for _, e := range edits {
		name, _ := e.Value.(string)
		link, ok := parts.Get[parts.Fuse](s.Scheme.Library, name)
		if !ok || e.Path != finding.Pointer("cables", cable, "fuse") {
			continue
		}
		curve, ok := network.Curve(s.Scheme.Library, link)
		return ok && curve.Band(link.Rating.Is, now.Cold).Opens(far.Amps) > study.Patience
	}
	return false
}

// slowed opens the grounds of those leads behind a cable that chain runs and that a fault already makes carry nearly what they bear: a fuse in the
// cable adds its resistance, less flows in that fault, and those behind take longer to end it.
func slowed(s *study.Study, cable string) []finding.Edit {
	t := s.Struck()
	if t == nil {
		return nil
	}
	var edits []finding.Edit
	for _, id := range scheme.IDs(s.Scheme.Data) {
		for _, i := range t.Of(id) {
			on := slices.ContainsFunc(s.Network.SuppliesOf(s.Scheme.Data[id].To.Element), func(supply string) bool { return slices.Contains(s.Network.SuppliesOn(cable), supply) })
			if h := t.Harm(i); on && !h.Remote && h.Verdict.Grade > finding.Note {
				edits = merged(edits, openGround(s, h.Bearer))
			}
		}
	}
	return edits
}

// Outgoing fits a cable with the largest fuse of at most some rating that carries its load and protects it: it loses least.
func Outgoing(s *study.Study, cable string, most unit.Ampere) []finding.Edit {
	p := inlineSeat(s, cable)
	p.most = most
	return changed(p.highest(s), p.like, "cables", cable, "fuse")
}

// Links puts links, which stay open, in the place of the fuses of cables that reset themselves. Those of ways are soldered to their board.
func Links(s *study.Study, fuses []string) []finding.Edit {
	var edits []finding.Edit
	for _, name := range fuses {
		cable := strings.TrimSuffix(name, ".fuse")
		if _, is := s.Scheme.Cables[cable]; !is {
			return nil
		}
		link := InlineFuse(s, cable)
		if link == nil {
			return nil
		}
		edits = merged(edits, link)
	}
	return edits
}

// fit puts the smallest fuse that does into its place; behind are the cables that it protects.
func (p seat) fit(s *study.Study, behind []string, keys ...string) []finding.Edit {
	if name := p.smallest(s); name != "" {
		return changed(name, p.like, keys...)
	}
	p.iz = unit.Ampere(math.Inf(1)) // what the place itself allows, whatever hangs on it
	name := p.smallest(s)
	part, ok := parts.Get[parts.Fuse](s.Scheme.Library, name)
	if !ok {
		return nil
	}
	edits := changed(name, p.like, keys...)
	need := max(part.Rating.Is, p.opens(s, part)/conductor.Bearable)
	for _, id := range behind {
		if at := s.Result(s.Cases()[0].Name).Cables[id].Iz; at <= 0 || at >= need {
			continue
		}
		thicker := Thicker(s, id, need)
		if thicker == nil {
			return p.branched(s, name, need, behind, keys...)
		}
		edits = merged(edits, thicker)
	}
	return edits
}

// branched puts a fuse into its place, and into each cable behind it that it does not protect a smaller one where that cable begins.
func (p seat) branched(s *study.Study, name string, need unit.Ampere, behind []string, keys ...string) []finding.Edit {
	edits := changed(name, p.like, keys...)
	for _, id := range behind {
		if at := s.Result(s.Cases()[0].Name).Cables[id].Iz; at <= 0 || at >= need {
			continue
		}
		c, own := s.Scheme.Cables[id], inlineSeat(s, id)
		link := own.smallest(s)
		if own := finding.Pointer(keys...); link == "" || c.Fuse != "" || c.From.Kind != scheme.JunctionRef || own == finding.Pointer("cables", id, "fuse") {
			return nil
		}
		edits = append(edits, edit(link, "cables", id, "fuse"))
	}
	return edits
}

// changed is the edit that puts one part in the place of another; none where they are the same, or there is none.
func changed(name, was string, keys ...string) []finding.Edit {
	if name == "" || name == was {
		return nil
	}
	return []finding.Edit{edit(name, keys...)}
}
