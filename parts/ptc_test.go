package parts_test

import (
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"farend/internal/reference"
	"farend/parts"
)

// resettable is what the names of the resettable fuses of a series begin with, "" for a series that has none.
func resettable(series string) string {
	return map[string]string{"radial 60 V": "fuse/ptc-", "radial 30 V": "fuse/ptc-30v-", "SMD 2920 33 V, maker A": "fuse/ptc-33v-"}[series]
}

// Data pages of two radial series and a maker's sheet of a flat one. A second sheet of the 30 V 5 A device has 0.05 Ω after a
// trip, more than the first. Of the 60 V series no resistance after a trip is printed: the first trip adds about half.
func TestResettableFusesAgreeWithTheirTable(t *testing.T) {
	rows := reference.Where(t, reference.Rows(t, "ptc_resettable.csv"), "kind", "device")
	fuses, curves := each[parts.Fuse](t, "fuse"), each[parts.Curve](t, "curve")
	second := row(t, rows, "series", "radial 30 V, maker A")
	known := 0
	for _, r := range rows {
		begin := resettable(r["series"])
		if begin == "" {
			if r["series"] != second["series"] {
				t.Errorf("the series %s is not in the catalogue", r["series"])
			}
			continue
		}
		f := fuses[begin+r["hold_current_a"]+"A"]
		if f == nil {
			t.Errorf("%s, %s A is not in the catalogue", r["series"], r["hold_current_a"])
			continue
		}
		known++
		worst := or(cell(r, "r1_max_ohm"), 1.5*cell(r, "r_max_ohm"))
		if r["series"] == "radial 30 V" && r["hold_current_a"] == second["hold_current_a"] {
			worst = max(worst, cell(second, "r1_max_ohm"))
		}
		if worst == 0 { // only the least is printed: three times that new, as of its neighbours
			worst = 1.5 * 3 * cell(r, "r_min_ohm")
			if f.Resistance.Basis != parts.Memory {
				t.Errorf("%s: a resistance that is not printed is called %s", f.Title, f.Resistance.Basis)
			}
		}
		for what, pair := range map[string][2]float64{
			"hold":       {float64(f.Rating.Is), cell(r, "hold_current_a")},
			"least ohms": {float64(f.Resistance.Lower()), cell(r, "r_min_ohm")},
			"most ohms":  {float64(f.Resistance.Upper()), worst},
			"volts":      {float64(f.VoltsMax.Is), cell(r, "v_max_v")},
			"breaking":   {float64(f.Breaking.Is), cell(r, "i_max_a")},
			"tripped":    {float64(f.Tripped.Is), cell(r, "tripped_power_w")},
		} {
			if !same(pair[0], pair[1]) {
				t.Errorf("%s: %s %v, want %v", f.Title, what, pair[0], pair[1])
			}
		}
		trips(t, f, curves[f.Curve], r)
	}
	held := 0
	for name := range fuses {
		if strings.HasPrefix(name, "fuse/ptc-") {
			held++
		}
	}
	if known != held || known != len(rows)-1 {
		t.Errorf("%d resettable fuses, %d of %d rows", held, known, len(rows))
	}
}

// trips compares a resettable fuse's curve with its row: it holds its rating, trips at twice it for sure, and at the test
// current within the time printed.
func trips(t *testing.T, f *parts.Fuse, c *parts.Curve, r map[string]string) {
	t.Helper()
	if len(c.Gates) != 3 {
		t.Fatalf("%s has %d gates", f.Curve, len(c.Gates))
	}
	hold, trip, test := c.Gates[0], c.Gates[1], c.Gates[2]
	if hold.Multiple != 1 || hold.Max.Given || !same(trip.Multiple*float64(f.Rating.Is), cell(r, "trip_current_a")) || trip.Max.Basis != parts.Memory {
		t.Errorf("%s holds %v and trips at %v", f.Curve, hold, trip)
	}
	if !same(test.Multiple*float64(f.Rating.Is), cell(r, "trip_test_current_a")) || !same(float64(test.Max.Is), cell(r, "trip_time_max_s")) || test.Max.Basis != parts.Datasheet {
		t.Errorf("%s trips within %v at %v times its rating, want %s s at %s A", f.Curve, test.Max.Is, test.Multiple, r["trip_time_max_s"], r["trip_test_current_a"])
	}
}

// The worst of five series of two makers: in the cold the highest figure, in the warm the lowest, computed here anew.
func TestResettableFusesDerateAsTheWorstOfTheirSeries(t *testing.T) {
	rows := reference.Where(t, reference.Rows(t, "ptc_resettable.csv"), "kind", "derating")
	own := slices.DeleteFunc(slices.Clone(rows), func(r map[string]string) bool {
		return strings.Contains(r["series"], "envelope") || strings.Contains(r["series"], "optimistic")
	})
	for name, c := range each[parts.Curve](t, "curve") {
		if !strings.HasPrefix(name, "curve/ptc-") {
			continue
		}
		for _, d := range c.Derating {
			at := strconv.Itoa(int(d.At.Is))
			printed := reference.Number(t, row(t, rows, "series", "conservative envelope of the five found series (use this)", "ambient_c", at), "hold_factor")
			factors := []float64{}
			for _, r := range reference.Where(t, own, "ambient_c", at) {
				factors = append(factors, reference.Number(t, r, "hold_factor"))
			}
			want := slices.Min(factors)
			if d.At.Is < 23 {
				want = slices.Max(factors)
			}
			if math.Abs(float64(d.Factor.Is)-want) > 1e-12 || want != printed || d.Factor.Basis != parts.Derived {
				t.Errorf("%s is worth %v at %v, want %v (the table has %v)", name, d.Factor.Is, d.At.Is, want, printed)
			}
		}
		if len(c.Derating) != 9 {
			t.Errorf("%s has %d deratings", name, len(c.Derating))
		}
	}
}
