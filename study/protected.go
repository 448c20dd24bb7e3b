package study

import (
	"slices"
	"strings"

	"farend/finding"
	"farend/network"
	"farend/parts"
	"farend/scheme"
	"farend/unit"
)

// A Protected is a line of the protection table: a way that is fused or on which a cable lands, or a cable with a fuse of its own.
type Protected struct {
	ID     string
	Fuse   string        // its part; "choose" where it is still open, "" where there is none
	Rating *unit.Ampere  // of the fuse; nil where there is none yet
	Load   unit.Ampere   // largest heating current of a state or its peak
	In     network.Case  // the case of it
	Failed unit.Ampere   // heating current with the cap failed
	Cables []string      // what the fuse has to protect: cables up to the next fuse on the way that their current comes from
	Thin   string        // of them the one that may carry least; "" where that is known of none
	Iz     *unit.Ampere  // what that may carry where it lies, each pole; nil likewise
	Far    *FarShort     // the short at the far end; nil where nothing ends behind the fuse, or faults were not followed
	Grade  finding.Grade // the worst that the rules of safety, and those about fuses, say of the way or cable and of what its fuse has to protect
}

// Protection is the protection table of the assessments of a study.
func (s *Study) Protection(all []Assessed) []Protected {
	behind, worst := s.behind(), worstOf(all)
	var list []Protected
	for _, id := range s.Network.Ways() {
		fuse, fused := s.Scheme.Fuses[id]
		landed := s.Network.Landings(id)
		if !fused && len(landed) == 0 {
			continue
		}
		cables := behind[id+".fuse"]
		if !fused {
			cables = landed
		}
		list = append(list, s.protected(id, fuse, cables, func(r *network.Result) unit.Ampere { return r.Ways[id].Amps.RMS }, worst))
	}
	for _, id := range scheme.IDs(s.Scheme.Cables) {
		if fuse := s.Scheme.Cables[id].Fuse; fuse != "" {
			list = append(list, s.protected(id, fuse, behind[id+".fuse"], func(r *network.Result) unit.Ampere { return r.Cables[id].Plus.RMS }, worst))
		}
	}
	return list
}

func (s *Study) protected(id, fuse string, cables []string, amps func(*network.Result) unit.Ampere, worst map[string]finding.Grade) Protected {
	p := Protected{ID: id, Fuse: fuse, Cables: cables, Grade: worst[id]}
	if s.struck != nil {
		if far, ok := s.struck.Far(id); ok {
			p.Far = &far
		}
	}
	if part, ok := parts.Get[parts.Fuse](s.Scheme.Library, fuse); ok {
		p.Rating = &part.Rating.Is
	}
	for _, c := range s.Cases() {
		carried := amps(s.Result(c.Name))
		switch {
		case c.Kind == network.CapFailed:
			p.Failed = carried
		case c.Kind != network.Dark && (p.In.Name == "" || carried > p.Load*(1+rounding)): // the mean rather than a peak alike
			p.Load, p.In = carried, c
		}
	}
	for _, cable := range cables {
		p.Grade = max(p.Grade, worst[cable])
		if iz, known := s.iz(cable); known && (p.Iz == nil || iz < *p.Iz) {
			p.Thin, p.Iz = cable, &iz
		}
	}
	return p
}

// iz is what each pole of a cable may carry where it lies, if its part says.
func (s *Study) iz(cable string) (unit.Ampere, bool) {
	c := s.Scheme.Cables[cable]
	part, ok := parts.Get[parts.Cable](s.Scheme.Library, c.Part)
	if !ok {
		return 0, false
	}
	_, method, _, _ := c.Env(s.Scheme)
	return s.Result(string(network.CapFailed)).Cables[cable].Iz, network.Ampacity(part, method).Given
}

// behind lists, by the name of each fuse, the cables that it has to protect: those at an end of which it feeds the cable, or a fault in
// it, before any other fuse does, and its own.
func (s *Study) behind() map[string][]string {
	behind := map[string][]string{}
	for _, id := range scheme.IDs(s.Scheme.Cables) {
		for _, f := range s.Feedings(id) {
			for _, fuse := range f.Fuses {
				if !slices.Contains(behind[fuse], id) {
					behind[fuse] = append(behind[fuse], id)
				}
			}
		}
	}
	return behind
}

// worstOf is by subject the worst grade that a rule of safety, or one about fuses, gives.
func worstOf(all []Assessed) map[string]finding.Grade {
	worst := map[string]finding.Grade{}
	for _, a := range all {
		if a.Rule.Safety || strings.Contains(a.Rule.Name, "fuse") {
			worst[a.Subject] = max(worst[a.Subject], a.Grade)
		}
	}
	return worst
}
