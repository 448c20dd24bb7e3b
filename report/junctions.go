package report

import (
	"fmt"
	"math"
	"strings"

	"farend/layout"
	"farend/network"
	"farend/parts"
	"farend/scheme"
	"farend/sheet/drafting"
	"farend/study"
	"farend/unit"
)

// junctions is the schedule of junctions, splice by splice, with how many of each part there are.
func (b *book) junctions() []layout.Block {
	s := b.Study.Scheme
	t := layout.Table{Above: 1, Columns: []layout.Column{
		{Head: "splice"}, {Head: "part", Share: 1}, {Head: "joins", Share: 2}, {Head: "cores", Number: true}, {Head: "places", Number: true},
		{Head: "heaviest core", Number: true}, {Head: "in state"}, {Head: "rated", Number: true}, {Head: "in", Spare: true}, {Head: "label", Share: 1, Spare: true},
	}}
	count, open := map[string]int{}, []string(nil)
	for _, id := range scheme.IDs(s.Junctions) {
		j := s.Junctions[id]
		part, chosen := parts.Get[parts.Junction](s.Library, j.Part)
		open = append(open, b.waits(id)...)
		for i, splice := range spliced(s, id) {
			row := layout.Plain(splice.Name, kind(j.Part), or(joined(s, splice)), whole(splice.Cores), none, none, none, none, or(boxed(s, id)), j.Label)
			if i == 0 {
				row[0].Anchor = "junction:" + id
			}
			if chosen {
				row[4].Words, row[7].Words = whole(part.Ways), layout.Nominal(part.Amps.Is)
			}
			if in, most := b.heaviestCore(splice); len(b.waits(id)) == 0 && most > 0 {
				row[5].Words, row[6].Words = amps(most), condition(in)
			}
			t.Rows = append(t.Rows, row)
			if splice.Cores > 0 {
				count[kind(j.Part)]++
			}
		}
	}
	words := "A junction joins the cores of one pole, and keeps the other apart: each row is a splice of its own, in which each core has a place for itself."
	if wanted := counted(count); wanted != "" {
		words += " In all: " + wanted + "."
	}
	blocks := []layout.Block{heading("Junctions"), t, remark(words + " Heaviest core: the largest heating current that one core brings. Rated: one contact.")}
	return append(blocks, b.unsaid(open)...)
}

// spliced are the splices of a junction; of one that nothing lands on a row that says so.
func spliced(s *scheme.Scheme, id string) []drafting.Splice {
	if list := drafting.Splices(s, id); list != nil {
		return list
	}
	return []drafting.Splice{{Name: id}}
}

// joined is what lands on a splice: cables in order, those of several cores a pole with how many.
func joined(s *scheme.Scheme, splice drafting.Splice) string {
	var list []string
	for _, id := range splice.Cables {
		words := drafting.PoleWords(splice.Pole) + " of " + id
		if cores := s.Cables[id].CoresPerPole; cores > 1 {
			words = fmt.Sprintf("%s, %d cores", words, cores)
		}
		list = append(list, words)
	}
	return strings.Join(list, "; ")
}

// heaviestCore is the lighting case in which one core that lands on a splice carries most.
func (b *book) heaviestCore(splice drafting.Splice) (network.Case, unit.Ampere) {
	c, most := b.Study.Heaviest(func(r *network.Result) (most float64) {
		for _, id := range splice.Cables {
			pole := r.Cables[id].Plus.RMS
			if splice.Pole == scheme.Return {
				pole = r.Cables[id].Return.RMS
			}
			most = math.Max(most, float64(pole)/float64(b.Study.Scheme.Cables[id].PerPole()))
		}
		return most
	})
	return c, unit.Ampere(most)
}

// counted is how many there are of each part, in order.
func counted(count map[string]int) string {
	var list []string
	for _, name := range scheme.IDs(count) {
		if name == notChosen {
			list = append(list, fmt.Sprintf("%d %s", count[name], name))
			continue
		}
		list = append(list, fmt.Sprintf("%d\u202f×\u202f%s", count[name], name))
	}
	return study.Several(list)
}
