package parts_test

import (
	"math"
	"strconv"
	"testing"

	"farend/internal/reference"
	"farend/parts"
	"farend/unit"
)

// printed is the relative difference that the rounding of a printed number and of a catalogue entry to four figures leaves.
const printed = 5e-4

func same(got, want float64) bool { return math.Abs(got-want) <= printed*math.Abs(want) }

// each gives every catalogue part of one kind by its name.
func each[T any](t *testing.T, kind string) map[string]*T {
	t.Helper()
	library, all := parts.Catalogue(), map[string]*T{}
	for _, name := range library.Names(kind) {
		part, ok := parts.Get[T](library, name)
		if !ok {
			t.Fatalf("%s cannot be read: %v", name, parts.Mistakes(name))
		}
		all[name] = part
	}
	if len(all) == 0 {
		t.Fatalf("there is no %s", kind)
	}
	return all
}

// row is the one row whose cells are as given.
func row(t *testing.T, rows []map[string]string, cells ...string) map[string]string {
	t.Helper()
	for i := 0; i < len(cells); i += 2 {
		rows = reference.Where(t, rows, cells[i], cells[i+1])
	}
	if len(rows) != 1 {
		t.Fatalf("%d rows have %v", len(rows), cells)
	}
	return rows[0]
}

func plain(v float64) string { return strconv.FormatFloat(v, 'g', 6, 64) }

func squareMillimetres(a parts.Value[unit.SquareMetre]) string { return plain(float64(a.Is) * 1e6) }
