package parts_test

import (
	"math"
	"regexp"
	"strings"
	"testing"

	"farend/internal/reference"
	"farend/parts"
)

// cartridgeCurves gives the sheet, form and band of ratings of IEC 60127-2 on which a curve rests.
func cartridgeCurves() map[string][]string {
	return map[string][]string{
		"curve/iec60127-f-glass":          {"2", "glass L", "0.4", "6.3"},
		"curve/iec60127-f-glass-8-10":     {"2", "glass L", "8", "10"},
		"curve/iec60127-t-glass":          {"3", "glass L", "0.125", "6.3"},
		"curve/iec60127-t-glass-8-20":     {"3", "glass L", "8", "20"},
		"curve/iec60127-f-ceramic":        {"1", "ceramic H", "0.05", "3.15"},
		"curve/iec60127-f-ceramic-4-6.3":  {"1", "ceramic H", "4", "6.3"},
		"curve/iec60127-t-ceramic-1-3.15": {"5", "ceramic H", "1", "3.15"},
		"curve/iec60127-t-ceramic-4-6.3":  {"5", "ceramic H", "4", "6.3"},
		"curve/iec60127-t-ceramic-8-10":   {"5", "ceramic H", "8", "10"},
	}
}

// IEC 60127-2 standard sheets 1, 2, 3 and 5. Of three sheets of time-lag ceramic fuses from 4 to 6.3 A one says 10 ms at ten
// times the rating, two 20 ms: the shortest stands. Bands below 0.125 A have no fuse in the catalogue, so they have no curve.
func TestCartridgeGatesAreThoseOfTheirSheet(t *testing.T) {
	curves, rows := each[parts.Curve](t, "curve"), reference.Where(t, reference.Rows(t, "fuse_iec60127.csv"), "kind", "gate")
	used := 0
	for name, band := range cartridgeCurves() {
		gates := rows
		for i, column := range []string{"sheet", "body", "rating_min_a", "rating_max_a"} {
			gates = reference.Where(t, gates, column, band[i])
		}
		if len(gates) != len(curves[name].Gates) {
			t.Errorf("%s has %d gates, its sheet %d", name, len(curves[name].Gates), len(gates))
		}
		for _, r := range gates {
			used++
			g := gateAt(t, curves[name], r["multiple_of_rating"])
			least := r["t_min_s"]
			if strings.Contains(r["note"], "one says 10 ms") && r["multiple_of_rating"] == "10" {
				least = "0.01"
			}
			if plainOrNone(float64(g.Min.Is), g.Min.Given) != least || plainOrNone(float64(g.Max.Is), g.Max.Given) != r["t_max_s"] {
				t.Errorf("%s at %v: %v to %v, want %s s to %s s", name, g.Multiple, g.Min.Is, g.Max.Is, least, r["t_max_s"])
			}
			for _, v := range []parts.Basis{g.Min.Basis, g.Max.Basis} {
				if v != "" && (v == parts.Memory) != (r["status"] == "memory") {
					t.Errorf("%s at %v: %s, and its row is %s", name, g.Multiple, v, r["status"])
				}
			}
		}
	}
	tiny := len(reference.Where(t, rows, "rating_max_a", "0.1"))
	if used+tiny != len(rows) {
		t.Errorf("%d of %d gates are in the catalogue, and %d are of ratings below 0.125 A", used, len(rows), tiny)
	}
}

// plainOrNone is a number as a table prints it, nothing where there is none.
func plainOrNone(v float64, given bool) string {
	if !given {
		return ""
	}
	return plain(v)
}

// IEC 60127-2 sheets as two makers' series print them, each row, and no fuse without one. Breaking capacity: 35 A or ten
// times the rating for glass, 1,500 A for ceramic, at 250 V AC; the sheets define no rating for DC.
func TestCartridgesAgreeWithTheirSheet(t *testing.T) {
	rows := reference.Rows(t, "fuse_iec60127.csv")
	given := func(kind, sheet string) map[string]float64 {
		list := map[string]float64{}
		for _, r := range reference.Where(t, reference.Where(t, rows, "kind", kind), "sheet", sheet) {
			list[r["rating_min_a"]] = reference.Number(t, r, "value")
		}
		return list
	}
	quick, slow, melting := given("cold_resistance", "2"), given("cold_resistance", "3"), given("melting_i2t", "3")
	if low := row(t, rows, "kind", "scalar", "sheet", "breaking_capacity_L")["value"]; !strings.HasPrefix(low, "35 A or 10 x In, whichever is greater") {
		t.Errorf("the low breaking capacity is now %s", low)
	}
	high := reference.Number(t, row(t, rows, "kind", "scalar", "sheet", "breaking_capacity_H"), "value")
	form, seen := regexp.MustCompile(`^fuse/cartridge-([ft])-([0-9.]+)A(-high)?$`), map[string]int{}
	for name, f := range each[parts.Fuse](t, "fuse") {
		m := form.FindStringSubmatch(name)
		if (m != nil) != (f.Holder == "cartridge") {
			t.Errorf("%s goes into a %s", name, f.Holder)
		}
		if m == nil {
			continue
		}
		seen[m[1]+m[3]]++
		own, ok := quick[m[2]], quick[m[2]] > 0
		if m[1] == "t" && slow[m[2]] > 0 {
			own = slow[m[2]]
		} else if m[1] == "t" {
			ok = false // 8 and 10 A have those of the quick link
		}
		read := ok && m[3] == ""
		if m[1] == "t" && m[3] == "" {
			read = slow[m[2]] > 0
		}
		if !same(float64(f.Resistance.Is), own) || (f.Resistance.Basis == parts.Memory) == read {
			t.Errorf("%s has %v (%s), want %v Ω", name, f.Resistance.Is, f.Resistance.Basis, own)
		}
		if want := melting[m[2]]; m[1] == "t" && m[3] == "" && float64(f.Melting.Is) != want || (m[1] == "f" || m[3] != "") && f.Melting.Given {
			t.Errorf("%s melts at %v, want %v A²s", name, f.Melting.Is, want)
		}
		breaking := max(35, 10*float64(f.Rating.Is))
		if m[3] != "" {
			breaking = high
		}
		if math.Abs(float64(f.Breaking.Is)-breaking) > 1e-9 || f.VoltsMax.Basis != parts.Practice || f.VoltsMax.Is > 250 || f.ResistanceHot.Given {
			t.Errorf("%s breaks %v, for %v (%s)", name, f.Breaking.Is, f.VoltsMax.Is, f.VoltsMax.Basis)
		}
	}
	if seen["f"] != len(quick) || seen["t"] != len(slow)+2 || seen["f-high"] != len(quick)-2 || seen["t-high"] != 11 { // without 8 and 10 A; 1 to 10 A
		t.Errorf("there are %v, of %d quick and %d slow ratings", seen, len(quick), len(slow))
	}
}
