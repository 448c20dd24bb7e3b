package scheme

import (
	"cmp"
	"slices"
	"strings"
)

// IDs lists the keys of a map in natural order: numbers in them count by value, so that W2 comes before W10.
func IDs[V any](m map[string]V) []string {
	ids := make([]string, 0, len(m))
	for id := range m {
		ids = append(ids, id)
	}
	slices.SortFunc(ids, natural)
	return ids
}

// natural compares names; only equal names compare as equal.
func natural(a, b string) int {
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
