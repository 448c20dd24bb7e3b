package draw

import (
	"fmt"
	"strings"
)

// A node is an entry of the outline, or its root.
type node struct {
	Entry
	number                              int // of its object
	page                                int
	parent, previous, next, first, last int // other nodes, 0 (the root) where there is none
	below                               int // how many lie below it, on all levels
}

// outline writes the table of contents that readers show, all of it open, and returns its root, 0 where it is empty.
func (w *pdf) outline(d Document, numbers []int) int {
	list := nodes(d)
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
		w.file.object(e.number, "<</Title %s/Parent %d 0 R/Dest%s%s>>", pdfText(e.Title), list[e.parent].number, destination(numbers[e.page], d.Pages[e.page].Scene), b.String())
	}
	return list[0].number
}

// nodes are the entries of a document, after the root.
func nodes(d Document) []node {
	list := []node{{Entry: Entry{Level: -1}}}
	for i, p := range d.Pages {
		for _, e := range p.Entries() {
			list = hung(list, node{Entry: e, page: i})
		}
	}
	return list
}

// hung is a list with one more node, below the last that is of a higher level.
func hung(list []node, e node) []node {
	n := len(list)
	for e.parent = n - 1; list[e.parent].Level >= e.Level; {
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
			return list
		}
	}
}
