package wiring

import (
	"math"
	"slices"

	"farend/layout"
	"farend/scheme"
	"farend/study"
)

// runWordsAt is from the bar of a run to its words, beside its stations.
const runWordsAt = 25

// runHead is from the top of a run to its first mark, and runNeed what it takes at the least.
func (s *spread) runHead(b *block) float64 {
	if s.beside(b) {
		return 2.2
	}
	return layout.Pitch(small.Size)*float64(1+len(b.words)+len(b.data)) + 3
}

// beside reports whether the words of a run stand beside its marks: not where cables leave to the right.
func (s *spread) beside(b *block) bool {
	return !slices.ContainsFunc(b.slots, func(t *terminal) bool { return !t.left })
}

// offset is the least distance from the first mark of a run to another.
func (s *spread) offset(b *block, at int) (sum float64) {
	for i, m := range s.marksOn(b)[:at+1] {
		if i > 0 {
			sum += markGap
		}
		for k, t := range m.terminals {
			before, after := s.aside(t, k > 0)
			sum += before
			if i < at {
				sum += after
			}
		}
	}
	return sum
}

// aside is the room that a cable takes at the bar of a run, over its row and under it, besides that of a mark.
func (s *spread) aside(t *terminal, again bool) (before, after float64) {
	if !t.left { // it goes on to the right, with its words over it
		before = 2.2
		if t.lead.a == t {
			before, after = max(t.lead.up-lineTop, before), max(t.lead.down-1.1, 0)
		}
		if again {
			before += markGap
		}
		return before, after
	}
	if again {
		return 2.2, 0
	}
	return 0, 0
}

func (s *spread) runNeed(b *block) float64 {
	marks := s.runHead(b) + s.offset(b, len(s.marksOn(b))-1) + 2
	if s.beside(b) {
		return max(marks, layout.Pitch(small.Size)*float64(1+len(b.words)+len(b.data))+1)
	}
	return marks
}

// marksOn makes the marks of a run that belong to the part of it on this sheet: where its cables land, and what is on the tape from there to
// where the first cable of the next part lands; of the first part also what is before its first cable.
func (s *spread) marksOn(b *block) []*mark {
	if b.marks != nil {
		return b.marks
	}
	mine := map[string]bool{}
	for _, t := range b.slots {
		mine[t.place] = true
	}
	all, behind := s.slots[b.id], 0 // behind is the last slot so far
	for _, m := range s.items[b.id] {
		landed := false
		for i, sl := range all {
			if m.kind == plainMark && sl.place == m.place {
				landed, behind = true, i
			}
		}
		within := behind >= b.part.from && (behind < b.part.to || b.part.to == len(all))
		if landed && mine[m.place] || !landed && within {
			b.marks = append(b.marks, &mark{marked: m})
		}
	}
	b.marks = fewer(b.marks)
	for _, t := range b.slots {
		for _, m := range b.marks {
			if m.kind == plainMark && m.place == t.place {
				m.terminals = append(m.terminals, t)
			}
		}
	}
	return b.marks
}

// fewer leaves marks out that nothing lands on, where a run has more than a bar can show, and counts them.
func fewer(marks []*mark) (list []*mark) {
	const most = 12
	kept, left := 0, map[markKind]int{}
	for _, m := range marks {
		if m.kind != plainMark {
			if kept++; kept > most {
				left[m.kind]++
				continue
			}
		}
		list = append(list, m)
	}
	if cuts, capacitors := left[cutMark], left[capacitorMark]; cuts+capacitors > 0 {
		words := study.Counted(cuts+capacitors, "more mark")
		if capacitors == 0 {
			words = study.Counted(cuts, "more cut")
		}
		list = append(list, &mark{marked: marked{words: words, mark: marks[len(marks)-1].mark, kind: moreMark}})
	}
	return list
}

// atRun is the row at which a cable may come to a run, so low that what is above on the runs has room.
func (s *spread) atRun(b *block, t *terminal, y float64) float64 {
	at := slices.IndexFunc(s.marksOn(b), func(m *mark) bool { return m.place == t.place && m.kind == plainMark })
	if !slices.Contains(s.nexts, b) {
		s.nexts = append(s.nexts, b)
		before := s.runHead(b) + s.offset(b, at)
		y = max(y, s.runs+before)
		b.top = y - before
		s.runs = b.top + s.runNeed(b) + 1.6
	} else if s.lastRun == b && at > s.lastAt {
		y = max(y, s.lastRow+s.offset(b, at)-s.offset(b, s.lastAt))
	}
	s.runs = max(s.runs, y+s.offset(b, len(b.marks)-1)-s.offset(b, at)+3.6)
	s.lastRun, s.lastRow, s.lastAt = b, y, at
	return y
}

// placeRuns gives runs their height, each mark at the row of its cable where that keeps the order of the tape and leaves room for the next.
func (s *spread) placeRuns() {
	cursor := s.field.Min.Y
	for i, b := range s.nexts {
		limit := math.Inf(1)
		for _, later := range s.nexts[i+1:] {
			if later.top > 0 {
				limit = min(limit, later.top)
			}
		}
		b.top = max(b.top, cursor)
		for s.placeRun(b, limit); ; s.placeRun(b, limit) {
			in := s.inTheWay(b)
			if in == nil {
				break
			}
			b.top = in.y + referenceHigh + 0.4
		}
		cursor = b.bottom + 1.6
	}
	if cursor-1.6 > s.field.Max.Y {
		s.fits = false
	}
}

// referenceHigh is how far the words of a reference reach from its row.
const referenceHigh = 3.2

// inTheWay is a reference that stands where a run would.
func (s *spread) inTheWay(b *block) *terminal {
	for _, r := range s.references() {
		t := r.slots[0]
		if r.column == b.column && t.begun && t.y+referenceHigh > b.top && t.y-referenceHigh < b.bottom {
			return t
		}
	}
	return nil
}

func (s *spread) placeRun(b *block, limit float64) {
	y := b.top + s.runHead(b)
	for n, m := range s.marksOn(b) {
		if n > 0 {
			y += markGap
		}
		m.y = y
		for k, t := range m.terminals {
			before, after := s.aside(t, k > 0)
			y = s.settle(t, y+before, limit)
			if k == 0 {
				m.y = y
			}
			y += after
		}
	}
	s.tighten(b)
	b.row = b.top
	b.bottom = y + 2
	if s.beside(b) {
		b.bottom = max(b.bottom, b.top+layout.Pitch(small.Size)*float64(1+len(b.words)+len(b.data))+1)
	}
	b.placed = true
}

// tighten brings the words of a run and the marks at its beginning down to the first cable that lands on it.
func (s *spread) tighten(b *block) {
	first := slices.IndexFunc(b.marks, func(m *mark) bool { return len(m.terminals) > 0 })
	if first < 0 {
		return
	}
	before, _ := s.aside(b.marks[first].terminals[0], false)
	at := b.marks[first].y - before
	for i := first - 1; i >= 0; i-- {
		at -= markGap
		b.marks[i].y = max(b.marks[i].y, at)
	}
	b.top = max(b.top, at-s.runHead(b))
}

// settle puts the end of a cable on the bar of its run, not above y.
func (s *spread) settle(t *terminal, y, limit float64) float64 {
	l := t.lead
	switch own := l.a.y; {
	case !t.left:
		if l.b.of.id == "" {
			l.b.y = y
		}
	case own >= y && own+2 <= limit:
		y = own
	default:
		y = s.clear(y, l)
	}
	t.y, t.begun = y, true
	return y
}

// clear is the first height from y down that no other row comes near.
func (s *spread) clear(y float64, but *lead) float64 {
	const apart = 0.9
	for moved := true; moved; {
		moved = false
		for _, l := range s.leads {
			for _, t := range []*terminal{l.a, l.b} {
				if l != but && t.of.kind != scheme.RunRef && !(t == l.b && t.left) && math.Abs(t.y-y) < apart-1e-9 {
					y, moved = t.y+apart, true
				}
			}
		}
	}
	return y
}
