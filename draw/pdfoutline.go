package draw

import (
	"fmt"
	"strings"
)

// An entry is one of the outline, or its root.
type entry struct {
	number                              int // of its object
	level                               int
	page                                int
	parent, previous, next, first, last int // other entries, 0 (the root) where there is none
	below                               int // how many entries lie below it, on all levels
}

// outline writes the table of contents that readers show, all of it open, and returns its root, 0 where it is empty.
func (w *pdf) outline(d Document, numbers []int) int {
	list := entries(d)
	if len(list) == 1 {
		return 0
	}
	for i := range list {
		list[i].number = w.file.reserve()
	}
	for i, e := range list {
		var b strings.Builder
		link := func(name string, to int) {
			if to != 0 {
				fmt.Fprintf(&b, "/%s %d 0 R", name, list[to].number)
			}
		}
		link("First", e.first)
		link("Last", e.last)
		link("Prev", e.previous)
		link("Next", e.next)
		if e.below > 0 {
			fmt.Fprintf(&b, "/Count %d", e.below)
		}
		if i == 0 {
			w.file.object(e.number, "<</Type/Outlines%s>>", b.String())
			continue
		}
		p := d.Pages[e.page]
		w.file.object(e.number, "<</Title %s/Parent %d 0 R/Dest%s%s>>", pdfText(p.Outline), list[e.parent].number, destination(numbers[e.page], p.Scene), b.String())
	}
	return list[0].number
}

// entries are those of a document, after the root.
func entries(d Document) []entry {
	list := []entry{{level: -1}}
	for i, p := range d.Pages {
		if p.Outline == "" {
			continue
		}
		n := len(list)
		e := entry{level: p.Level, page: i}
		for e.parent = n - 1; list[e.parent].level >= p.Level; {
			e.parent = list[e.parent].parent
		}
		above := &list[e.parent]
		if e.previous = above.last; e.previous != 0 {
			list[e.previous].next = n
		} else {
			above.first = n
		}
		above.last = n
		list = append(list, e)
		for up := e.parent; ; up = list[up].parent {
			list[up].below++
			if up == 0 {
				break
			}
		}
	}
	return list
}
