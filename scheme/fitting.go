package scheme

import (
	"fmt"
	"slices"
	"strconv"

	"farend/parts"
)

// ordered lists the keys of a section in the order of the file.
func ordered[V any](r *reading, section string, m map[string]V) []string {
	ids := IDs(m)
	slices.SortFunc(ids, r.inFile(section))
	return ids
}

func (r *reading) contactors() {
	first := map[string]string{} // cable to the contactor in it
	for _, id := range ordered(r, "contactors", r.Contactors) {
		part[parts.Relay](r, r.Contactors[id].Part, "relay", "contactors", id, "part")
		if r.usable("contactors", id, "in") {
			r.switched(id, r.Contactors[id].In, first)
		}
	}
}

// switched checks the cable that a contactor is in.
func (r *reading) switched(id, cable string, first map[string]string) {
	at := r.value("contactors", id, "in")
	section, known := r.elements[cable]
	other, twice := first[cable]
	cables := func() []string { return IDs(r.Cables) }
	switch {
	case !known && r.lost["cables"], known && section == "":
	case !known:
		r.wrong(at, fmt.Sprintf("there is no cable %q", cable), r.nearOr(cable, cables, "describe it under cables first"))
	case section != "cables":
		r.wrong(at, fmt.Sprintf("%s switches a cable, and %s is %s", id, cable, article(nounOf(section))), r.nearOr(cable, cables, "name the cable that it opens"))
	case twice:
		r.wrong(at, fmt.Sprintf("%s has the contactor %s already, in line %d", cable, other, r.key("contactors", other).Line), "let "+id+" switch another cable, or remove it")
	case r.sound("cables", cable, "pole") && r.Cables[cable].Pole == Return:
		r.wrong(at, cable+" carries only the return; a contactor there would leave the load live when it opens", "put it in a cable with the positive")
	}
	if !twice {
		first[cable] = id
	}
}

func (r *reading) capacitors() {
	for _, id := range IDs(r.Capacitors) {
		c := r.Capacitors[id]
		part[parts.Capacitor](r, c.Part, "capacitor", "capacitors", id, "part")
		r.connect(&c.At, acrossRails, "", "capacitors", id, "at")
		r.Capacitors[id] = c
	}
}

// holdable is the sections whose elements may be in an enclosure.
func holdable() []string { return []string{"supplies", "boards", "junctions", "contactors"} }

func (r *reading) enclosures() {
	first := map[string]string{} // what is held to what holds it
	for _, id := range ordered(r, "enclosures", r.Enclosures) {
		part[parts.Enclosure](r, r.Enclosures[id].Part, "enclosure", "enclosures", id, "part")
		for i, held := range r.Enclosures[id].Holds {
			if path := []string{"enclosures", id, "holds", strconv.Itoa(i)}; r.usable(path...) {
				r.held(id, held, first, path)
			}
		}
	}
}

// held checks one thing that an enclosure holds.
func (r *reading) held(id, held string, first map[string]string, path []string) {
	at := r.value(path...)
	section, known := r.elements[held]
	box, twice := first[held]
	switch {
	case !known && r.anyLost(), known && section == "":
	case !known:
		r.wrong(at, fmt.Sprintf("there is no %s in this scheme", held), r.nearOr(held, r.holdables, "describe it first"))
	case !slices.Contains(holdable(), section):
		r.wrong(at, fmt.Sprintf("%s is %s; an enclosure holds supplies, boards, junctions and contactors", held, article(nounOf(section))), "leave it out")
	case twice && box == id:
		r.wrong(at, fmt.Sprintf("%s stands twice in %s", held, id), "remove one of the two")
	case twice:
		r.wrong(at, fmt.Sprintf("%s is in %s already, given in line %d", held, box, r.key("enclosures", box).Line), "let one of the two enclosures hold it")
	}
	if !twice {
		first[held] = id
	}
}

func (r *reading) holdables() []string {
	var ids []string
	for _, s := range sections() {
		if slices.Contains(holdable(), s.key) {
			ids = append(ids, s.ids(r.Scheme)...)
		}
	}
	return ids
}

// separate checks the runs that are said to be out of reach of each other.
func (r *reading) separate() {
	said := map[[2]string]bool{}
	for i, group := range r.Site.Separate {
		path := []string{"site", "separate", strconv.Itoa(i)}
		if !r.usable(path...) {
			continue
		}
		if len(group) < 2 {
			r.wrong(r.value(path...), "one run alone is separate from nothing", "name two runs or more that are separate from each other, such as [E1, E2]")
		}
		for k, id := range group {
			r.apart(group[:k], id, said, append(slices.Clone(path), strconv.Itoa(k)))
		}
	}
}

// apart checks one run of a group against those before it.
func (r *reading) apart(before []string, id string, said map[[2]string]bool, path []string) {
	at := r.value(path...)
	section, known := r.elements[id]
	runs := func() []string { return IDs(r.Runs) }
	switch {
	case !known && !r.lost["runs"]:
		r.wrong(at, fmt.Sprintf("there is no run %q", id), r.nearOr(id, runs, "describe it under runs first"))
	case known && section != "runs" && section != "":
		r.wrong(at, fmt.Sprintf("%s is %s, not a run", id, article(nounOf(section))), r.nearOr(id, runs, "runs are separate from each other"))
	case slices.Contains(before, id):
		r.wrong(at, id+" stands twice in this group", "remove one of the two")
		return
	}
	for _, other := range before {
		pair := [2]string{min(id, other), max(id, other)}
		if said[pair] {
			r.wrong(at, fmt.Sprintf("%s and %s are said to be separate already", other, id), "remove one of the two groups")
			return
		}
		said[pair] = true
	}
}
