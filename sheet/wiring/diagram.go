// Package wiring draws what is joined to what: the single-line diagram of all, and the face of each board with everything that is connected
// at it.
//
// Symbols are after IEC 60617 (symbol.go). In the diagram things stand in columns by how many cables they are from a supply (net.go). Each cable
// gets a row of its own that nothing to the right of its beginning shares (diagramplan.go, diagramrun.go), so that it can be drawn on as far as
// it goes; it turns once at most, in a channel without words.
package wiring

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"farend/draw"
	"farend/layout"
	"farend/scheme"
	"farend/sheet/drafting"
	"farend/study"
)

// SingleLine draws what feeds what: from the mains through supplies, fuses, contactors, boards and junctions to stations of runs, one line for
// both poles. What stands on it needs no solution but the currents of cables, which are left out where nothing is solved.
//
// Things stand in columns by how many cables they are from a supply, runs in the last, and in the order in which current meets them; a
// sheet takes as many groups of a supply as it can hold, one that is too large goes over several, and references lead from one to the
// other.
func SingleLine(st *study.Study, style drafting.Style) []layout.Leaf {
	d := newDiagrammed(st, style)
	field := style.Drawings.Turned().Field()
	var spreads []*spread
	for _, portions := range d.divided(field) {
		spreads = append(spreads, newSpread(d, field, portions))
	}
	name := func(i int) string {
		return layout.Nth("single-line", i+1)
	}
	on := map[slot]string{} // the sheet that has an end of a cable
	for i, s := range spreads {
		for _, b := range s.blocks {
			for _, t := range b.slots {
				if t.cable != "" {
					on[t.slot] = name(i)
				}
			}
		}
	}
	var leaves []layout.Leaf
	for i, s := range spreads {
		leaf := layout.Leaf{
			Name: name(i), Title: "What feeds what, and through which fuses", Verdict: d.contents(s), Under: partOf(i, len(spreads)),
			Desc: d.told(s), Paper: style.Drawings.Turned(), Cells: d.counted(), Notes: d.noted(),
		}
		if i == 0 {
			leaf.Outline = "Single-line diagram"
		}
		leaf.Layers, leaf.Links = s.draw(on)
		leaves = append(leaves, leaf)
	}
	return leaves
}

func partOf(i, of int) string {
	if of == 1 {
		return ""
	}
	return fmt.Sprintf("Part %d of %d", i+1, of)
}

// contents says what a sheet has.
func (d *diagrammed) contents(s *spread) string {
	if len(s.blocks) == 0 {
		return "Nothing is listed that could be drawn"
	}
	named := map[scheme.Kind][]string{}
	for _, b := range s.blocks {
		named[b.kind] = append(named[b.kind], b.id)
	}
	var phrases []string
	for _, k := range []struct {
		kind scheme.Kind
		word string
	}{{scheme.SupplyRef, "supplies"}, {scheme.InletRef, "boards"}, {scheme.JunctionRef, "junctions"}, {scheme.RunRef, "runs"}} {
		if list := named[k.kind]; len(list) > 0 {
			word := k.word
			if len(list) == 1 {
				word = map[string]string{"supplies": "supply", "boards": "board", "junctions": "junction", "runs": "run"}[word]
			}
			phrases = append(phrases, word+" "+drafting.Some(slices.Compact(list)))
		}
	}
	text := strings.Join(phrases, "; ")
	return strings.ToUpper(text[:1]) + text[1:]
}

// told is a sheet in sentences.
func (d *diagrammed) told(s *spread) string {
	say := []string{"A single-line diagram: " + d.contents(s) + "."}
	for _, l := range s.leads {
		c := d.s.Cables[l.id]
		say = append(say, l.id+" leads from "+c.From.String()+" to "+c.To.String()+".")
	}
	return strings.Join(say, " ")
}

func (d *diagrammed) counted() []layout.Cell {
	return []layout.Cell{
		{Caption: "Supplies", Says: strconv.Itoa(len(d.s.Supplies)), Share: 20},
		{Caption: "Boards", Says: strconv.Itoa(len(d.s.Boards)), Share: 20},
		{Caption: "Runs", Says: strconv.Itoa(len(d.s.Runs)), Share: 20},
		{Caption: "Cables", Says: strconv.Itoa(len(d.s.Cables)), Share: 20},
		{Caption: "Data leads", Says: strconv.Itoa(len(d.s.Data)), Share: 22},
		{Caption: "Scale", Says: "none", Share: 20},
	}
}

func (d *diagrammed) noted() string {
	text := "Over each cable: cores and section, length, and its current (rms, heavier pole) in the heaviest lighting state. Way, inlet, connector: rated current."
	if len(d.st.Cases()) == 0 {
		text = "Nothing was solved, so no currents are shown."
	}
	return text + " Designations after IEC 81346-2, symbols after IEC 60617 (shapes from memory). Mains: by a licensed electrician, to the code of the place."
}

// A bundle is a thing with the runs that it is the first to lead to, which stand on one sheet with it where they can.
type bundle struct {
	portion
	runs []hanging
}

// A hanging run, and by which slot of its bundle it is reached.
type hanging struct {
	slot int
	id   string
}

// upTo are the portions of a bundle's slots before one, with their runs; rest is what is left of it.
func (d *diagrammed) upTo(b bundle, to int) (portions []portion, rest bundle) {
	portions = []portion{{b.id, b.from, to}}
	rest = bundle{portion: portion{b.id, to, b.to}}
	for _, r := range b.runs {
		if r.slot < to || to == b.to {
			portions = append(portions, portion{r.id, 0, len(d.slots[r.id])})
		} else {
			rest.runs = append(rest.runs, r)
		}
	}
	return portions, rest
}

// divided deals what is to be drawn to sheets: as many groups on one as it holds; of a group that needs more than one, each takes what of it
// still fits, in order.
func (d *diagrammed) divided(field draw.Box) (sheets [][]portion) {
	fits := func(portions []portion) bool { return newSpread(d, field, portions).fits }
	var sheet []portion
	for _, group := range d.groups() {
		whole := slices.Clone(sheet)
		for _, b := range group {
			all, _ := d.upTo(b, b.to)
			whole = append(whole, all...)
		}
		if fits(whole) {
			sheet = whole
			continue
		}
		if sheet != nil {
			sheets, sheet = append(sheets, sheet), nil
		}
		for len(group) > 0 {
			if sheet != nil {
				sheets, sheet = append(sheets, sheet), nil
			}
			sheet, group = d.filled(group, fits)
		}
	}
	if sheet != nil || sheets == nil {
		sheets = append(sheets, sheet)
	}
	return sheets
}

// filled is a sheet of what fits of some bundles, and what is left of them. One that is too large for any sheet is parted.
func (d *diagrammed) filled(bundles []bundle, fits func([]portion) bool) (sheet []portion, left []bundle) {
	for _, b := range bundles {
		all, _ := d.upTo(b, b.to)
		more := slices.Concat(sheet, all)
		if fits(more) {
			sheet = more
			continue
		}
		if !fits(all) {
			for to := b.to - 1; to > b.from; to-- {
				some, rest := d.upTo(b, to)
				if more := slices.Concat(sheet, some); fits(more) {
					sheet, b = more, rest
					break
				}
			}
		}
		left = append(left, b)
	}
	if sheet == nil {
		return d.alone(left, fits)
	}
	return sheet, left
}

// alone is a sheet of as many slots of the first bundle as fit, where not even one fits with its runs: they go by themselves.
func (d *diagrammed) alone(bundles []bundle, fits func([]portion) bool) (sheet []portion, left []bundle) {
	b := bundles[0]
	to := b.to
	for to > b.from+1 && !fits([]portion{{b.id, b.from, to}}) {
		to--
	}
	if to < b.to {
		left = append(left, bundle{portion: portion{b.id, to, b.to}})
	}
	for _, r := range b.runs {
		left = append(left, bundle{portion: portion{r.id, 0, len(d.slots[r.id])}})
	}
	return []portion{{b.id, b.from, to}}, append(left, bundles[1:]...)
}

// groups are what hangs together behind each supply, in the order in which current meets it; last what hangs on none.
func (d *diagrammed) groups() (groups [][]bundle) {
	seen := map[string]bool{}
	var group []bundle
	var runs func(b *bundle, at int, id string)
	runs = func(b *bundle, at int, id string) {
		if seen[id] {
			return
		}
		seen[id] = true
		b.runs = append(b.runs, hanging{at, id})
		for _, s := range d.slots[id] {
			if far := elementOf(d.other(s).place); d.rank[far] == lastRank {
				runs(b, at, far)
			}
		}
	}
	var visit func(id string)
	visit = func(id string) {
		if seen[id] {
			return
		}
		seen[id] = true
		b := bundle{portion: portion{id, 0, len(d.slots[id])}}
		var onward []string
		for i, s := range d.slots[id] {
			if s.cable == "" {
				continue
			}
			switch far := elementOf(d.other(s).place); d.rank[far] {
			case lastRank:
				runs(&b, i, far)
			case d.rank[id] + 1:
				onward = append(onward, far)
			}
		}
		group = append(group, b)
		for _, far := range onward {
			visit(far)
		}
	}
	for _, list := range [][]string{scheme.IDs(d.s.Supplies), scheme.IDs(d.s.Boards), scheme.IDs(d.s.Junctions), scheme.IDs(d.s.Runs)} {
		for _, id := range list {
			visit(id)
			if group != nil {
				groups, group = append(groups, group), nil
			}
		}
	}
	return groups
}
