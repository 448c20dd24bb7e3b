package finding

import (
	"cmp"
	"slices"
	"strings"
)

// Sort orders findings worst first, within a grade causes first, then by identifier: the order in which people read them.
func Sort(findings []Finding) {
	slices.SortStableFunc(findings, func(a, b Finding) int {
		return cmp.Or(-cmp.Compare(a.Grade, b.Grade), cmp.Compare(a.Rank, b.Rank), cmp.Compare(a.Rule, b.Rule), Natural(a.Subject, b.Subject), Natural(a.Case, b.Case))
	})
}

// Natural compares names as people sort them: numbers in them count by value, so that W2 comes before W10. Only equal
// names compare as equal.
func Natural(a, b string) int {
	x, y := a, b
	for x != "" && y != "" {
		m, n := digits(x), digits(y)
		var order int
		if m > 0 && n > 0 {
			order = byValue(x[:m], y[:n])
		} else {
			m, n = 1, 1
			order = cmp.Compare(x[0], y[0])
		}
		if order != 0 {
			return order
		}
		x, y = x[m:], y[n:]
	}
	return cmp.Or(cmp.Compare(len(x), len(y)), cmp.Compare(a, b))
}

// digits is how many digits the text begins with.
func digits(text string) int {
	n := 0
	for n < len(text) && '0' <= text[n] && text[n] <= '9' {
		n++
	}
	return n
}

func byValue(a, b string) int {
	a, b = strings.TrimLeft(a, "0"), strings.TrimLeft(b, "0")
	return cmp.Or(cmp.Compare(len(a), len(b)), cmp.Compare(a, b))
}
