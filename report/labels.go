package report

import (
	"fmt"
	"slices"
	"strings"

	"farend/layout"
	"farend/parts"
	"farend/scheme"
	"farend/sheet/drafting"
)

// labels are what is printed and put on things: on both ends of each cable and lead, and once on each supply, board, box, way and fuse.
func (b *book) labels() []layout.Leaf {
	ends, things, fuses := b.endLabels(), b.thingLabels(), b.fuseLabels()
	if len(ends)+len(things)+len(fuses) == 0 {
		return nil
	}
	var flow layout.Flow
	if len(ends) > 0 {
		flow.Add(heading("On both ends of each cable and data lead"), doubled("print twice", ends))
	}
	if len(things) > 0 {
		flow.Add(heading("On supplies, boards, splices, buffers and boxes"), doubled("print once", things))
	}
	if len(fuses) > 0 {
		flow.Add(heading("At ways and fuses"), intro("A fuse beside its rating and the colour of its body, so that the right one comes back after it has opened."), doubled("print once", fuses))
	}
	return b.bind(&flow, layout.Leaf{
		Name: "labels", Outline: "Labels", Title: "What stands on cables, supplies, boards and fuses?", Under: "those of cables twice, once for each end",
		Desc:  "Labels to print: two for every cable and data lead, with between what it lies; one for every supply, board, splice, buffer, box, way and fuse.",
		Notes: "A way is named by its board and socket, a place on a run by the pixel behind the cut mark, counted from data-in: E1@px144 lies just before pixel 144.",
	})
}

// A label is what is printed, and what people call the thing.
type label [2]string

// doubled is a table of labels, two side by side.
func doubled(head string, list []label) layout.Table {
	columns := []layout.Column{{Head: head, Share: 2}, {Head: "called", Share: 1, Spare: true}}
	t := layout.Table{Above: 1, Columns: append(columns, columns...)}
	half := (len(list) + 1) / 2
	for i := range half {
		var row []layout.Said
		for k := i; k < len(list); k += half {
			row = append(row, layout.Said{Words: list[k][0], Bold: true}, layout.Said{Words: list[k][1]})
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

// endLabels are those of cables and data leads.
func (b *book) endLabels() (list []label) {
	s := b.Study.Scheme
	for _, id := range scheme.IDs(s.Cables) {
		list = append(list, label{Label(id, s.Cables[id].From, s.Cables[id].To), s.Cables[id].Label})
	}
	for _, id := range scheme.IDs(s.Data) {
		l := s.Data[id]
		list = append(list, label{parted(Label(id, l.From, l.To), power(l)), l.Label})
	}
	return list
}

// thingLabels are those of supplies, each with its volts and what it feeds, of boards, of junctions in each pole with what they join, of buffers with the
// volts that they are made for, and of boxes.
func (b *book) thingLabels() (list []label) {
	s := b.Study.Scheme
	for _, id := range scheme.IDs(s.Supplies) {
		set := notChosen
		if _, ok := parts.Get[parts.Supply](s.Library, s.Supplies[id].Part); ok {
			set = layout.Nominal(s.SetPoint(id))
		}
		list = append(list, label{parted(id, set, behind("feeds ", b.fedBy(id))), s.Supplies[id].Label})
	}
	for _, id := range scheme.IDs(s.Boards) {
		list = append(list, label{parted(id, behind("fed by ", strings.Join(b.Study.Network.Landings(id+".in"), ", ")), behind("at ", string(s.Boards[id].Address))), s.Boards[id].Label})
	}
	for _, id := range scheme.IDs(s.Junctions) {
		for _, splice := range drafting.Splices(s, id) {
			list = append(list, label{parted(splice.Name, "joins "+drafting.PoleWords(splice.Pole)+" of "+strings.Join(splice.Cables, ", ")), s.Junctions[id].Label})
		}
	}
	for _, id := range scheme.IDs(s.Data) {
		l := s.Data[id]
		if l.Buffer == nil {
			continue
		}
		made := notChosen
		if part, ok := parts.Get[parts.Buffer](s.Library, l.Buffer.Part); ok {
			made = "for " + layout.Nominal(part.Volts.Is)
		}
		list = append(list, label{parted(id+".buffer", made, "at "+l.End(l.Buffer.At).String()), l.Label})
	}
	for _, id := range scheme.IDs(s.Enclosures) {
		list = append(list, label{parted(id, behind("holds ", strings.Join(s.Enclosures[id].Holds, ", "))), s.Enclosures[id].Label})
	}
	return list
}

// fuseLabels are those of ways, of cables with a fuse of their own, and of ports with one in their ground.
func (b *book) fuseLabels() (list []label) {
	s := b.Study.Scheme
	var fused []string
	for _, g := range b.Study.Guards() {
		words := "fuse " + notChosen
		if g.Fuse != nil {
			words = strings.Join(slices.DeleteFunc([]string{"fuse " + layout.Nominal(g.Fuse.Rating.Is), g.Fuse.Colour}, func(text string) bool { return text == "" }), ", ")
		}
		on := strings.Join(b.Study.Network.Landings(g.At), ", ")
		list = append(list, label{parted(guarded(g.Name), words, on), s.Cables[g.At].Label})
		fused = append(fused, g.At)
	}
	for _, w := range b.protection {
		if _, cable := s.Cables[w.ID]; !cable && !slices.Contains(fused, w.ID) {
			list = append(list, label{parted(w.ID, "no fuse", strings.Join(b.Study.Network.Landings(w.ID), ", ")), ""})
		}
	}
	return list
}

// parted are the parts of a label that there are, with dots between them.
func parted(parts ...string) string {
	return strings.Join(slices.DeleteFunc(parts, func(text string) bool { return text == "" }), " · ")
}

// behind is a text with a word before it; nothing where there is no text.
func behind(word, text string) string {
	if text == "" {
		return ""
	}
	return word + text
}

// Label is what stands on both ends of a cable or lead.
func Label(id string, from, to scheme.Ref) string {
	return fmt.Sprintf("%s · %s → %s", id, from, to)
}

// power says of a data lead with a core that carries the supply what that does; nothing of any other.
func power(l scheme.Lead) string {
	if !l.Power {
		return ""
	}
	return "carries the supply past the fuses"
}
