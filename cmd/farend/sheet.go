package main

import (
	"slices"
	"strings"
)

// A sheet is a table with a title. Columns of numbers stand to the right; where a table is wider than the page, its widest
// columns of text are shortened, numbers never.
type sheet struct {
	page  *page
	title string
	names []string
	rows  [][]string
}

// table begins a table.
func (p *page) table(title string, names ...string) *sheet {
	return &sheet{page: p, title: title, names: names}
}

// measures are the headings under which numbers stand, alone or as the last word.
var measures = []string{"V", "A", "W", "m", "mV", "°C", "%", "px", "pixels", "Δu′v′"}

func numeric(name string) bool {
	return slices.Contains(measures, name[strings.LastIndexByte(name, ' ')+1:])
}

func (t *sheet) row(cells ...string) {
	for i := range cells {
		cells[i] = printable(cells[i])
	}
	t.rows = append(t.rows, cells)
}

// print writes the table, or nothing if it has no rows.
func (t *sheet) print() {
	if len(t.rows) == 0 {
		return
	}
	widths, gap := t.layout()
	t.page.line("%s", t.page.styled(t.title, "1"))
	t.page.line("%s", t.set(t.names, widths, gap))
	t.page.line("%s", strings.Repeat("─", total(widths, gap)))
	for _, cells := range t.rows {
		t.page.line("%s", t.set(cells, widths, gap))
	}
	t.page.blank()
}

// shortestCell is the least that a column of text takes on a page that has no room.
const shortestCell = 6

// layout is the width of every column and of the gap between two, so that the table fits the page.
func (t *sheet) layout() (widths []int, gap int) {
	widths = make([]int, len(t.names))
	for _, cells := range append([][]string{t.names}, t.rows...) {
		for i, c := range cells {
			widths[i] = max(widths[i], width(c))
		}
	}
	for gap = 2; gap > 1 && total(widths, gap) > columns; {
		if i := t.widest(widths); i >= 0 {
			widths[i]--
		} else {
			gap--
		}
	}
	return widths, gap
}

func total(widths []int, gap int) int {
	sum := gap * (len(widths) - 1)
	for _, w := range widths {
		sum += w
	}
	return sum
}

// widest is the widest column of text that can be narrowed, −1 if there is none.
func (t *sheet) widest(widths []int) int {
	best := -1
	for i, w := range widths {
		if !numeric(t.names[i]) && w > shortestCell && (best < 0 || w > widths[best]) {
			best = i
		}
	}
	return best
}

// set puts cells into their columns.
func (t *sheet) set(cells []string, widths []int, gap int) string {
	var b strings.Builder
	for i, c := range cells {
		if i > 0 {
			b.WriteString(strings.Repeat(" ", gap))
		}
		c = clip(c, widths[i])
		blanks := strings.Repeat(" ", widths[i]-width(c))
		if numeric(t.names[i]) {
			b.WriteString(blanks + c)
		} else {
			b.WriteString(c + blanks)
		}
	}
	return b.String()
}
