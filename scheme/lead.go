package scheme

import (
	"cmp"
	"fmt"
	"slices"

	"farend/finding"
	"farend/parts"
)

// leads checks the data leads one by one, then that data has one way into every run.
func (r *reading) leads() {
	sound := map[string]Lead{}
	for _, id := range IDs(r.Data) {
		if lead, ok := r.lead(id); ok {
			sound[id] = lead
		}
	}
	order := IDs(sound)
	slices.SortFunc(order, r.inFile("data"))
	r.once(order, sound, "from")
	r.once(order, sound, "to")
	r.rings(order, sound)
}

// inFile puts what a section lists in the order of the file.
func (r *reading) inFile(section string) func(a, b string) int {
	return func(a, b string) int {
		return cmp.Or(comparePlaces(r.key(section, a), r.key(section, b)), finding.Natural(a, b))
	}
}

func (r *reading) lead(id string) (Lead, bool) {
	l := r.Data[id]
	p := part[parts.Cable](r, l.Part, "cable", "data", id, "part")
	l.Length = r.cableLength(l.Length, "data", id)
	from := r.connect(&l.From, dataFrom, id+"@from", "data", id, "from")
	to := r.connect(&l.To, dataTo, id+"@to", "data", id, "to")
	if l.Buffer != nil {
		part[parts.Buffer](r, l.Buffer.Part, "buffer", "data", id, "buffer", "part")
	}
	if r.usable("data", id, "series") && !(l.Series >= 1 && l.Series <= 100e3) {
		r.wrong(r.value("data", id, "series"), fmt.Sprintf("a resistor of %v in a data lead either does nothing or lets nothing through", l.Series), "write a resistance from 1 Ω to 100 kΩ, such as 33 Ω")
	}
	if p != nil && r.sound("data", id, "power") && r.sound("data", id, "ground") {
		r.leadCores(id, l, p.Cores)
	}
	r.Data[id] = l
	return l, from && to
}

// leadCores checks that there is a core for data, one for ground, and one for power where it has some.
func (r *reading) leadCores(id string, l Lead, cores int) {
	switch {
	case l.Power && cores < 3:
		r.wrong(r.value("data", id, "power"), fmt.Sprintf("%s carries power, but %s has %s: data and ground take two", id, l.Part, plural(cores, "core")), "remove power: true, or choose a cable with three cores")
	case cores < 2 && l.Ground != OpenGround:
		r.wrong(r.value("data", id, "part"), fmt.Sprintf("%s has %s; %s needs one for data and one for ground", l.Part, plural(cores, "core"), id), "choose a cable with two cores")
	}
}

// once checks that no two leads begin, or end, at the same place.
func (r *reading) once(order []string, leads map[string]Lead, side string) {
	first := map[string]string{}
	for _, id := range order {
		ref, verb := leads[id].From, "feeds"
		if side == "to" {
			ref, verb = leads[id].To, "is fed by"
		}
		other, twice := first[ref.String()]
		if !twice {
			first[ref.String()] = id
			continue
		}
		text := fmt.Sprintf("the %s %s %s %s already, in line %d", ref.Kind, ref, verb, other, r.key("data", other).Line)
		hint := "give each run one lead that brings it data"
		if side == "from" {
			hint = "let " + id + " begin at another port, or at the last run of the chain"
		}
		r.wrong(r.value("data", id, side), text, hint)
	}
}

// rings finds runs that pass data round in a circle, so that none of it comes from a port.
func (r *reading) rings(order []string, leads map[string]Lead) {
	into := map[string]string{} // run to the lead that feeds it
	for _, id := range order {
		if _, fed := into[leads[id].To.Element]; !fed {
			into[leads[id].To.Element] = id
		}
	}
	done := map[string]bool{}
	for _, id := range order {
		if ring := follow(id, leads, into, done); ring != nil {
			slices.SortFunc(ring, r.inFile("data"))
			last := ring[len(ring)-1]
			text := last + " leads from a run back to itself"
			if len(ring) > 1 {
				text = fmt.Sprintf("%s closes a ring: %s lead data round in a circle, and no port feeds it", last, list(ring, "and", 8))
			}
			r.wrong(r.value("data", last, "from"), text, "begin one of them at a port")
		}
	}
}

// follow goes from a lead to the one that feeds its run, and so on, and answers with the leads of a ring that has not
// been met before.
func follow(id string, leads map[string]Lead, into map[string]string, done map[string]bool) []string {
	var path []string
	for !done[id] {
		done[id] = true
		path = append(path, id)
		from := leads[id].From
		next, fed := into[from.Element]
		if from.Kind != RunRef || !fed {
			return nil
		}
		id = next
	}
	if at := slices.Index(path, id); at >= 0 {
		return slices.Clone(path[at:])
	}
	return nil
}
