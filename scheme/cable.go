package scheme

import (
	"fmt"
	"slices"

	"farend/finding"
	"farend/internal/document"
	"farend/parts"
	"farend/unit"
)

const tooLongCable = "Farend reads cables of up to 10 km; is the unit right?"

func (r *reading) cables() {
	for _, id := range IDs(r.Cables) {
		r.cable(id)
	}
}

func (r *reading) cable(id string) {
	c := r.Cables[id]
	p := part[parts.Cable](r, c.Part, "cable", "cables", id, "part")
	c.Length = r.cableLength(c.Length, "cables", id)
	from := r.connect(&c.From, powerEnd, id+"@from", "cables", id, "from")
	to := r.connect(&c.To, powerEnd, id+"@to", "cables", id, "to")
	part[parts.Connector](r, c.Ends.From, "connector", "cables", id, "ends", "from")
	part[parts.Connector](r, c.Ends.To, "connector", "cables", id, "ends", "to")
	if from && to && c.From.Same(c.To) {
		r.wrong(r.value("cables", id, "to"), fmt.Sprintf("%s runs from %s to the same place", id, c.From), "land its two ends on different places, or remove it")
	}
	r.cores(id, c, p)
	r.inline(id, c)
	if c.Ambient != nil {
		r.air(*c.Ambient, "ambient", "cables", id, "ambient")
	}
	if r.usable("cables", id, "bundle") && c.Bundle < 1 {
		r.wrong(r.value("cables", id, "bundle"), fmt.Sprintf("bundle cannot be %d: the cable itself counts", c.Bundle), "write how many loaded circuits lie together, 1 or more")
	}
	r.Cables[id] = c
}

// connect resolves the place at path, which something refers to, with a note where a station moved. The note is about a place
// on it, where there is a name for that.
func (r *reading) connect(ref *Ref, use use, place string, path ...string) bool {
	if !r.usable(path...) {
		return false
	}
	at, was, id := r.value(path...), ref.Station, path[1]
	if !r.resolve(ref, use, id, at) {
		return false
	}
	if ref.Kind == StationRef {
		if text, changed := r.moved(was, ref.Station, ref.Element); changed {
			r.note("scheme/rounded", id, place, at, text, finding.Edit{Path: document.Pointer(path...), Value: ref.String()})
		}
	}
	return true
}

// cableLength is the length given, or the one drawn.
func (r *reading) cableLength(length *unit.Metre, path ...string) *unit.Metre {
	switch {
	case r.usable(path[0], path[1], "length"):
		r.length(*length, path[1], tooLongCable, path[0], path[1], "length")
	case r.lacks(path, "length"):
		return r.drawn(path, "length", "write length: 2.5 m, or draw it as a line under drawing")
	}
	return length
}

// cores checks that the cable has the cores that its poles use.
func (r *reading) cores(id string, c Cable, p *parts.Cable) {
	if r.usable("cables", id, "cores_per_pole") && (c.CoresPerPole < 1 || c.CoresPerPole > 100) {
		r.wrong(r.value("cables", id, "cores_per_pole"), fmt.Sprintf("cores_per_pole cannot be %d", c.CoresPerPole), "write how many cores each pole has, 1 or more")
		return
	}
	if p == nil || !r.sound("cables", id, "cores_per_pole") || !r.sound("cables", id, "pole") {
		return
	}
	poles, perPole := c.Poles(), c.PerPole()
	if perPole <= p.Cores/poles {
		return
	}
	at, hint := r.value("cables", id, "cores_per_pole"), fmt.Sprintf("write cores_per_pole: %d or less", p.Cores/poles)
	if p.Cores/poles < 1 {
		hint = "choose a cable with a core for each pole, or say which pole it carries: pole: plus"
	}
	if !r.given("cables", id, "cores_per_pole") {
		at = r.value("cables", id, "part")
	}
	r.wrong(at, fmt.Sprintf("%s needs %s, %d for each of %s; %s has %d", id, plural(poles*perPole, "core"), perPole, plural(poles, "pole"), c.Part, p.Cores), hint)
}

// inline checks the fuse in a cable.
func (r *reading) inline(id string, c Cable) {
	if fuse := part[parts.Fuse](r, c.Fuse, "fuse", "cables", id, "fuse"); fuse != nil {
		r.unheld(id, c, fuse)
	}
	if r.usable("cables", id, "fuse_at") && r.lacks([]string{"cables", id}, "fuse") {
		r.wrong(r.key("cables", id, "fuse_at"), "fuse_at says where a fuse is, and "+id+" has none", "write fuse: too, or remove fuse_at")
	}
	if r.usable("cables", id, "fuse") && r.sound("cables", id, "pole") && c.Pole == Return {
		r.wrong(r.value("cables", id, "fuse"), id+" carries only the return; a fuse there would leave the load live when it opens", "put the fuse in the positive")
	}
}

// unheld notes a fuse link in a cable with no word of what holds it there: neither does it bring its holder along nor does the
// cable end in a connector.
func (r *reading) unheld(id string, c Cable, fuse *parts.Fuse) {
	links := []parts.Holder{"blade", "mini", "maxi", "cartridge"}
	if fuse.Seat != "" || !slices.Contains(links, fuse.Holder) || c.Ends != (Ends{}) {
		return
	}
	text := fmt.Sprintf("%s is %s link, and nothing says what holds it in %s: its holder is not judged", c.Fuse, article(string(fuse.Holder)), id)
	var edits []finding.Edit
	if inline, ok := r.inlineLike(fuse); ok {
		text += "; " + inline + " brings one along"
		edits = append(edits, finding.Edit{Path: document.Pointer("cables", id, "fuse"), Value: inline})
	}
	r.note("scheme/fuse-holder", id, id+".fuse", r.value("cables", id, "fuse"), text, edits...)
}

// inlineLike is the fuse with a holder of its own that has the same rating and opens by the same curve.
func (r *reading) inlineLike(fuse *parts.Fuse) (string, bool) {
	for _, name := range r.Library.Names("fuse") {
		other, _ := parts.Get[parts.Fuse](r.Library, name)
		if other != nil && other.Holder == "inline" && other.Rating.Is == fuse.Rating.Is && other.Curve == fuse.Curve {
			return name, true
		}
	}
	return "", false
}

func (r *reading) fuses() {
	for _, key := range IDs(r.Fuses) {
		fuse := part[parts.Fuse](r, r.Fuses[key], "fuse", "fuses", key)
		at := r.key("fuses", key)
		var ref Ref
		if err := ref.UnmarshalText([]byte(key)); err != nil {
			r.wrong(at, fmt.Sprintf("%q is not a way of a board", key), "write a way such as A1.1")
			continue
		}
		if !r.resolve(&ref, fuseSeat, key, at) || fuse == nil {
			continue
		}
		if board := r.board(ref.Element); board != nil {
			r.holder(key, fuse.Holder, board.Ways[ref.Socket].Holder)
		}
	}
}

func (r *reading) holder(way string, fuse, seat parts.Holder) {
	if fuse != "" && seat != "" && fuse != seat {
		r.wrong(r.value("fuses", way), fmt.Sprintf("%s is %s fuse; the holder of %s is for %s fuses", r.Fuses[way], article(string(fuse)), way, seat), "choose "+article(string(seat))+" fuse")
	}
}
