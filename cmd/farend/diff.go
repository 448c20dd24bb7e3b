package main

import (
	"slices"
	"strings"
)

// A changedLine is a line of a text that is gone (old) or new, with its number in the text that has it.
type changedLine struct {
	number int
	old    bool
	text   string
}

// changedLines lists the lines that differ between two texts, the fewest that there can be: of all ways from one text to the other, by
// taking lines out and putting lines in, the shortest (E. W. Myers, “An O(ND) difference algorithm and its variations”, Algorithmica 1,
// 1986, pages 251 to 266). What edits change is little, so that is quick in however long a text.
func changedLines(before, after []byte) []changedLine {
	a, b := lines(before), lines(after)
	ends := farthest(a, b)
	var changed []changedLine
	x, y := len(a), len(b)
	for d := len(ends) - 1; d > 0; d-- {
		k := x - y
		was := ends[d-1]
		down := k == -d || k != d && was[k-1] < was[k+1] // the last step put a line in
		if down {
			k++
		} else {
			k--
		}
		x = was[k]
		y = x - k
		if down {
			changed = append(changed, changedLine{y + 1, false, b[y]})
		} else {
			changed = append(changed, changedLine{x + 1, true, a[x]})
		}
	}
	slices.Reverse(changed)
	return changed
}

// farthest is how far into a text one gets with d lines taken out or put in, for each d up to the number that makes it the other text, and
// for each diagonal: lines gone of the first less lines gone of the second.
func farthest(a, b []string) []map[int]int {
	var ends []map[int]int
	was := map[int]int{1: 0}
	for d := 0; ; d++ {
		now := map[int]int{}
		for k := -d; k <= d; k += 2 {
			x := was[k-1] + 1
			if k == -d || k != d && was[k-1] < was[k+1] {
				x = was[k+1]
			}
			y := x - k
			for x < len(a) && y < len(b) && a[x] == b[y] {
				x, y = x+1, y+1
			}
			now[k] = x
			if x >= len(a) && y >= len(b) {
				return append(ends, now)
			}
		}
		ends, was = append(ends, now), now
	}
}

// lines are the lines of a text without what ends them.
func lines(text []byte) []string {
	if len(text) == 0 {
		return nil
	}
	all := strings.Split(strings.TrimSuffix(string(text), "\n"), "\n")
	for i := range all {
		all[i] = strings.TrimSuffix(all[i], "\r")
	}
	return all
}
