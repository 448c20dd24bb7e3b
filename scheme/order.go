package scheme

import (
	"slices"

	"farend/finding"
)

// IDs lists the keys of a map in natural order: numbers in them count by value, so that W2 comes before W10.
func IDs[V any](m map[string]V) []string {
	ids := make([]string, 0, len(m))
	for id := range m {
		ids = append(ids, id)
	}
	slices.SortFunc(ids, finding.Natural)
	return ids
}
