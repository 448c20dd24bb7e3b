package scheme

import (
	"slices"

	"farend/finding"
)

// unjudged notes what is read, checked and carried, and what no rule looks at yet: silence would look like a pass. There is one
// note for each kind of thing, about the first of it; whoever adds the rule takes its line out.
func (r *reading) unjudged() {
	r.notJudged("contactors", IDs(r.Contactors), "no rule judges ", " in full yet: neither the inrush that its contacts make, nor their resistance, which is not in the solved network")
	r.notJudged("capacitors", IDs(r.Capacitors), "no rule judges ", " in full yet: not what ripple warms them")
	r.notJudged("enclosures", IDs(r.Enclosures), "how warm it gets inside ", " is not worked out yet, so ambient must be that of the air in the box")
	if kinds, first := r.unused(); len(kinds) > 0 {
		r.note("scheme/not-judged", kinds[0], "", r.key(first...), "nothing is computed yet from "+list(kinds, "and", 8))
	}
	r.notJudged("runs", r.apartRuns(), "no rule judges yet which rails are within reach of each other; ", " are taken down as separate")
}

func (r *reading) notJudged(section string, ids []string, before, after string) {
	if len(ids) > 0 {
		r.note("scheme/not-judged", ids[0], "", r.key(section, ids[0]), before+list(ids, "and", 8)+after)
	}
}

// apartRuns lists the runs that are said to be separate from others.
func (r *reading) apartRuns() []string {
	var ids []string
	for _, group := range r.Site.Separate {
		ids = append(ids, group...)
	}
	slices.SortFunc(ids, finding.Natural)
	return slices.Compact(ids)
}

// unused lists the keys that are taken down and from which nothing is computed yet, with the path of the first.
func (r *reading) unused() (kinds, first []string) {
	for _, k := range []struct {
		path  []string
		there bool
	}{
		{[]string{"site", "mains"}, r.Site.Mains != 0},
		{[]string{"site", "tariff"}, r.Site.Tariff.Currency != ""},
		{[]string{"duty"}, len(r.Duty) > 0},
	} {
		if !k.there {
			continue
		}
		if kinds == nil {
			first = k.path
		}
		kinds = append(kinds, k.path[len(k.path)-1])
	}
	return kinds, first
}
