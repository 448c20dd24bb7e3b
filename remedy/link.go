package remedy

import (
	"cmp"
	"math"
	"slices"

	"farend/finding"
	"farend/parts"
	"farend/scheme"
	"farend/study"
	"farend/unit"
)

// linked leads the minus of every supply that works with others straight to that of the first, by copper that bears for ever what the supply
// gives at its limit: what metalwork brings to the first goes home by that, and not by the returns of leads and runs. No fuse sees it, for the
// fault is before them all. A link that is there becomes thicker. None where metalwork is not bonded, or where a supply works alone.
func linked(s *study.Study, supply string) []finding.Edit {
	partners := s.Network.Partners(supply)
	if metal := s.Scheme.Site.Metalwork; len(partners) == 0 || metal != "" && metal != "bonded" {
		return nil
	}
	together := append(partners, supply)
	slices.SortFunc(together, finding.Natural)
	var edits []finding.Edit
	names := feed{s: s, taken: map[string]bool{}}
	for _, t := range together[1:] {
		if there := meetsReturn(s, together[0], t); there != "" { // what it leaves to the leads is still too much
			edits = append(edits, Larger(s, there, 0.999)...)
			continue
		}
		long, known := distant(s, together[0], t)
		values := returning(s, t)
		if !known || values == nil {
			return nil
		}
		values["length"], values["label"] = metres(long), scheme.EstimatedLength
		values["from"], values["to"], values["pole"] = together[0], t, string(scheme.Return)
		name := names.name()
		names.taken[name] = true
		edits = append(edits, edit(values, "cables", name))
	}
	return edits
}

// meetsReturn is the cable by which a return leads straight from one supply to another, "" if there is none.
func meetsReturn(s *study.Study, a, b string) string {
	for _, id := range s.Network.Landings(a) {
		if c := s.Scheme.Cables[id]; c.Pole == scheme.Return && far(c, a).String() == b {
			return id
		}
	}
	return ""
}

// returning is the thinnest single core, or pair with its cores in parallel, that bears for ever what a supply gives at most; nil where none does.
func returning(s *study.Study, supply string) map[string]any {
	part, ok := parts.Get[parts.Supply](s.Scheme.Library, s.Scheme.Supplies[supply].Part)
	if !ok {
		return nil
	}
	gives, _ := part.Most()
	for _, kin := range []struct {
		family string
		cores  int
	}{{"cable/link-", 1}, {"cable/flex-", 2}} {
		laid := scheme.Cable{Pole: scheme.Return, CoresPerPole: kin.cores}
		name := first(fitting(s, "cable", func(name string, p *parts.Cable) bool {
			return family(name) == kin.family && p.Cores == kin.cores && gives > 0 && gives <= roomy*carries(s, laid, p)
		}, func(a, b named[parts.Cable]) int { return cmp.Compare(a.part.Area.Is, b.part.Area.Is) }))
		switch {
		case name != "" && kin.cores > 1:
			return map[string]any{"part": name, "cores_per_pole": kin.cores}
		case name != "":
			return map[string]any{"part": name}
		}
	}
	return nil
}

// distant is how long a cable from one supply to another would be: by the drawing along its two directions; else as long as the shortest way by
// cables and along runs.
func distant(s *study.Study, from, to string) (unit.Metre, bool) {
	if a, b := s.Scheme.Drawing[from].Points, s.Scheme.Drawing[to].Points; len(a) == 1 && len(b) == 1 {
		return unit.Metre(math.Abs(a[0][0]-b[0][0]) + math.Abs(a[0][1]-b[0][1])), true
	}
	away := map[string]unit.Metre{from: 0}
	for changed := true; changed; {
		changed = false
		nearer := func(at string, long unit.Metre) {
			if was, known := away[at]; !known || long < was-1e-9 {
				away[at], changed = long, true
			}
		}
		for _, c := range s.Scheme.Cables {
			for i, at := range ends(c) {
				if long, known := away[at.String()]; known && c.Length != nil {
					nearer(ends(c)[1-i].String(), long+*c.Length)
				}
			}
		}
		for run := range s.Scheme.Runs {
			for _, l := range landings(s, run) {
				for _, other := range landings(s, run) {
					if long, known := away[stationOf(s, l, run)]; known {
						nearer(stationOf(s, other, run), long+pitches(s, run, abs(l.mark-other.mark)))
					}
				}
			}
		}
	}
	long, known := away[to]
	return long, known
}

// stationOf is where a landed cable lands, as its end says it.
func stationOf(s *study.Study, l landing, run string) string {
	for _, at := range ends(s.Scheme.Cables[l.cable]) {
		if lands(at, run) && at.Station.Mark == l.mark && at.Station.Before == l.before {
			return at.String()
		}
	}
	return ""
}
