package chart

import (
	"fmt"
	"slices"
	"strings"

	"farend/conductor"
	"farend/finding"
	"farend/fuse"
	"farend/network"
	"farend/parts"
	"farend/scheme"
	"farend/sheet/drafting"
	"farend/study"
	"farend/unit"
)

// A guarded is a fuse with what it carries and what it has to protect.
type guarded struct {
	study.Guard
	curve    *parts.Curve
	fast     fuse.Band // in the warmest air
	slow     fuse.Band // in the coldest
	derated  bool      // its curve speaks of both
	branches []branch
	apart    []string // cables that land there and begin with a fuse of their own
	verdict  finding.Grade
	says     string // the title of the rule that says the worst; empty where nothing is worse than a note
	load     load   // of the heaviest state
	failed   load   // with the cap failed
	shorts   *shorts
}

// A branch is a cable that the fuse has to protect.
type branch struct {
	id     string
	cable  scheme.Cable
	part   *parts.Cable // nil where it is not chosen
	iz     unit.Ampere  // of a pole
	rating parts.Value[unit.Ampere]
	air    unit.Celsius
	method scheme.Method
	bundle int
}

// A load is a heating current in a case; it is not found where the case has no operating point.
type load struct {
	amps  unit.Ampere
	in    network.Case
	found bool
}

// guarding gathers the fuse of a way or cable.
func guarding(st *study.Study, id string) (*guarded, error) {
	cable, inline := st.Scheme.Cables[id]
	if !inline && !slices.Contains(st.Network.Ways(), id) {
		return nil, &drafting.Error{Text: fmt.Sprintf("there is no way or cable %q", id), Hint: fused(st)}
	}
	at, fitted := st.Guard(id + ".fuse")
	curve, err := curveOf(st, at, fitted)
	if err != nil {
		return nil, err
	}
	g := &guarded{Guard: at, curve: curve}
	law, _ := network.Curve(st.Scheme.Library, g.Fuse)
	_, warm := law.Factor(g.Warm)
	_, cold := law.Factor(g.Cold)
	g.derated = warm && cold
	g.fast, g.slow = law.Band(g.Fuse.Rating.Is, g.Warm), law.Band(g.Fuse.Rating.Is, g.Cold)
	places := []string{id}
	if inline {
		places = downstream(st, id, cable)
	}
	behind, apart := st.Network.Onward(places, id)
	if inline {
		behind = append(behind, id)
		slices.SortFunc(behind, finding.Natural)
	}
	g.apart = apart
	for _, id := range behind {
		g.branches = append(g.branches, newBranch(st, id))
	}
	g.load, g.failed = heaviest(st, g.Guard)
	g.shorts = struck(st, id)
	return g, nil
}

// curveOf is the curve of a fuse, or what is missing.
func curveOf(st *study.Study, g study.Guard, fitted bool) (*parts.Curve, error) {
	switch {
	case !fitted:
		return nil, &drafting.Error{Text: g.At + " has no fuse, so there is nothing to draw of it", Hint: fused(st)}
	case g.Fuse == nil:
		return nil, &drafting.Error{Text: "the fuse of " + g.At + " is not chosen yet", Hint: "farend parts fuse lists fuses"}
	}
	curve, ok := parts.Get[parts.Curve](st.Scheme.Library, g.Fuse.Curve)
	if !ok {
		return nil, &drafting.Error{Text: g.Part + " has no curve, so nothing says when it opens", Hint: "give the part the curve of its family, such as curve: curve/iso8820-blade"}
	}
	return curve, nil
}

// fused says where fuses are of which there is a picture.
func fused(st *study.Study) string {
	var places []string
	for _, g := range st.Guards() {
		if place, ok := strings.CutSuffix(g.Name, ".fuse"); ok {
			places = append(places, place)
		}
	}
	if len(places) == 0 {
		return "no way and no cable of this scheme has a fuse yet"
	}
	return "fuses are in " + strings.Join(places, ", ")
}

// downstream is the end of a cable to which its load current flows.
func downstream(st *study.Study, id string, c scheme.Cable) []string {
	to := c.To
	if r := st.Result(string(network.CapFailed)); r != nil && r.Cables[id].Plus.Mean < 0 {
		to = c.From
	}
	return st.Network.PlacesOn(to)
}

// judge takes the verdict of the protection table, and which rule says it.
func (g *guarded) judge(st *study.Study, all []study.Assessed) {
	for _, row := range st.Protection(all) {
		if row.ID != g.At {
			continue
		}
		g.verdict = row.Grade
		for _, a := range all {
			if a.Grade != row.Grade || row.Grade <= finding.Note || a.Subject != row.ID && !slices.Contains(row.Cables, a.Subject) {
				continue
			}
			if g.shows(a.Subject) {
				g.says = fmt.Sprintf("%s, %s", a.Rule.Title, a.Subject)
				return
			}
			if g.says == "" { // what the page shows is said before this
				g.says = fmt.Sprintf("%s, %s%s", a.Rule.Title, a.Subject, g.beyond(st, a.Subject))
			}
		}
	}
}

// shows reports whether the page shows a thing: the fuse itself, or a cable that it has to protect.
func (g *guarded) shows(id string) bool {
	return id == g.At || slices.ContainsFunc(g.branches, func(b branch) bool { return b.id == id })
}

// beyond says of a cable that the page does not show what feeds it.
func (g *guarded) beyond(st *study.Study, id string) string {
	for _, end := range []scheme.End{scheme.FromEnd, scheme.ToEnd} {
		behind := st.Network.Behind(id, end)
		if !slices.Contains(behind.Fuses, g.Name) {
			continue
		}
		var feeds []string
		for _, name := range append(slices.Clone(behind.Fuses), behind.Bare...) {
			feeds = append(feeds, strings.TrimSuffix(name, ".fuse"))
		}
		slices.SortFunc(feeds, finding.Natural)
		if len(feeds) > 1 {
			return ", not shown here: fed by " + study.Several(feeds) + " together"
		}
	}
	return ", beyond what is shown here"
}

func newBranch(st *study.Study, id string) branch {
	b := branch{id: id, cable: st.Scheme.Cables[id]}
	b.part, _ = parts.Get[parts.Cable](st.Scheme.Library, b.cable.Part)
	b.air, b.method, b.bundle, _ = b.cable.Env(st.Scheme)
	if b.part == nil {
		return b
	}
	b.rating = network.Ampacity(b.part, b.method)
	if r := st.Result(string(network.CapFailed)); r != nil {
		b.iz = r.Cables[id].Iz
	}
	return b
}

// heaviest is the load of the heaviest state, or its peak, and that with the cap failed.
func heaviest(st *study.Study, g study.Guard) (lit, failed load) {
	for _, c := range st.Cases() {
		r := st.Result(c.Name)
		if r == nil || !r.Found() {
			continue
		}
		switch l := (load{st.CarriedBy(g, c).RMS, c, true}); {
		case c.Kind == network.CapFailed:
			failed = l
		case (c.Kind == network.State || c.Kind == network.Peak) && (!lit.found || l.amps > lit.amps*(1+1e-6)): // the mean rather than a peak alike
			lit = l
		}
	}
	return lit, failed
}

// thinnest is the cable that may carry least, and whether there is one whose limit is known.
func (g *guarded) thinnest() (branch, bool) {
	return least(g.branches, func(b branch) (float64, bool) { return float64(b.iz), b.iz > 0 })
}

// weakest is the cable that stands the least I²t in a short, and how much; of cores in parallel one alone, as if the fault were in
// it.
func (g *guarded) weakest() (b branch, stands unit.AmpereSquareSecond, ok bool) {
	b, ok = least(g.branches, func(b branch) (float64, bool) {
		if b.part == nil {
			return 0, false
		}
		i2t, known := conductor.Withstand(b.part.Insulation.Is, b.part.Area.Is)
		return float64(i2t), known
	})
	if ok {
		stands, _ = conductor.Withstand(b.part.Insulation.Is, b.part.Area.Is)
	}
	return b, stands, ok
}

func least(all []branch, of func(branch) (float64, bool)) (best branch, ok bool) {
	lowest := 0.0
	for _, b := range all {
		if v, known := of(b); known && (!ok || v < lowest) {
			best, lowest, ok = b, v, true
		}
	}
	return best, ok
}

// Charted lists the ways and cables whose fuse has a picture: it is there, chosen, and its family says when it opens.
func Charted(st *study.Study) (ids []string) {
	for _, id := range slices.Concat(st.Network.Ways(), scheme.IDs(st.Scheme.Cables)) {
		at, fitted := st.Guard(id + ".fuse")
		if _, err := curveOf(st, at, fitted); err == nil {
			ids = append(ids, id)
		}
	}
	return ids
}
