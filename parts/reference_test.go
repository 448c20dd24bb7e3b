package parts_test

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
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

// blade gives the regular blade fuses, without those in an inline holder, by their rating in amperes.
func blade(t *testing.T) map[string]*parts.Fuse {
	links := map[string]*parts.Fuse{}
	for name, f := range each[parts.Fuse](t, "fuse") {
		if strings.HasPrefix(name, "fuse/blade-") {
			links[plain(float64(f.Rating.Is))] = f
			if name != "fuse/blade-"+plain(float64(f.Rating.Is))+"A" {
				t.Errorf("%s is rated for %v", name, f.Rating.Is)
			}
		}
	}
	return links
}

// ISO 8820-3:2015 for ratings, voltage and breaking capacity; the datasheet and the workshop measurements of the table for
// resistance, with the basis that each has there.
func TestBladeFusesAgreeWithTheirTable(t *testing.T) {
	rows := reference.Rows(t, "fuse_blade_iso8820.csv")
	ratings := strings.Split(row(t, rows, "kind", "standard_ratings", "series", "C regular")["value"], "|")
	regular := reference.Where(t, rows, "series", "C regular")
	for rating, f := range blade(t) {
		if !slices.Contains(ratings, rating) {
			t.Errorf("%s A is no standard rating of %v", rating, ratings)
		}
		typical := row(t, regular, "kind", "cold_resistance_typ", "rating_a", rating)
		drop := row(t, regular, "kind", "voltage_drop_typ", "rating_a", rating)
		cold := float64(f.Resistance.Is) * 1000
		low, high := reference.Number(t, typical, "value"), reference.Number(t, typical, "value")
		found := []string{typical["status"]}
		for _, r := range regular {
			if r["kind"] == "cold_resistance" && r["rating_a"] == rating {
				low, high = min(low, reference.Number(t, r, "value")), max(high, reference.Number(t, r, "value_max"))
				found = append(found, r["status"])
			}
		}
		if cold < low*(1-printed) || cold > high*(1+printed) || cold < reference.Number(t, typical, "value")*(1-printed) {
			t.Errorf("%s A has %v mΩ cold; the figures found are %v to %v mΩ", rating, cold, low, high)
		}
		if !slices.Contains(found, "found") && f.Resistance.Basis != parts.Memory {
			t.Errorf("%s A: cold resistance is from memory, and called %s", rating, f.Resistance.Basis)
		}
		if want := reference.Number(t, drop, "value") / float64(f.Rating.Is); !same(float64(f.ResistanceHot.Is)*1000, want) {
			t.Errorf("%s A has %v hot, want drop over rating %v mΩ", rating, f.ResistanceHot.Is, want)
		}
		if want := map[string]parts.Basis{"found": parts.Derived, "memory": parts.Memory}[drop["status"]]; f.ResistanceHot.Basis != want {
			t.Errorf("%s A: hot resistance is %s, want %s", rating, f.ResistanceHot.Basis, want)
		}
		volts, breaking := row(t, rows, "kind", "scalar", "series", "rated_voltage"), row(t, rows, "kind", "scalar", "series", "breaking_capacity")
		if float64(f.VoltsMax.Is) != reference.Number(t, volts, "value") || float64(f.Breaking.Is) != reference.Number(t, breaking, "value") || f.Curve != "curve/iso8820-blade" || f.Rating.Is > 30 {
			t.Errorf("%s A: %v, %v, %s", rating, f.VoltsMax.Is, f.Breaking.Is, f.Curve)
		}
	}
}

// The contact of a holder, 1 to 3 mΩ, is from memory in the table too.
func TestInlineFusesAreALinkAndAHolder(t *testing.T) {
	const contact = 2e-3
	links := blade(t)
	for name, f := range each[parts.Fuse](t, "fuse") {
		if !strings.HasPrefix(name, "fuse/inline-") {
			continue
		}
		link := links[plain(float64(f.Rating.Is))]
		if link == nil || !same(float64(f.Resistance.Is), float64(link.Resistance.Is)+contact) || !same(float64(f.ResistanceHot.Is), float64(link.ResistanceHot.Is)+contact) ||
			f.Resistance.Basis != parts.Memory || f.ResistanceHot.Basis != parts.Memory || f.Curve != link.Curve || f.VoltsMax.Is != link.VoltsMax.Is || f.Breaking.Is != link.Breaking.Is {
			t.Errorf("%s is not its link and 2 mΩ: %v, %v", name, f.Resistance.Is, f.ResistanceHot.Is)
		}
	}
}

// ISO 8820-3:2015 operating times; where editions differ the catalogue has the more careful one, which the notes of the
// table name: 1,800 s at 1.35, 0.04 s at least at 3.5, 0.15 s at 6.
func TestBladeGatesAreTheCarefulOnesOfTheStandard(t *testing.T) {
	rows := reference.Rows(t, "fuse_blade_iso8820.csv")
	for _, c := range []struct{ curve, series string }{{"curve/iso8820-blade", "C regular and F mini"}, {"curve/iso8820-blade-35-40", "C regular 35 A and 40 A"}} {
		curve := each[parts.Curve](t, "curve")[c.curve]
		multiples := 0
		for _, g := range curve.Gates {
			for _, r := range reference.Where(t, reference.Where(t, rows, "series", c.series), "multiple_of_rating", fmt.Sprintf("%.1f", g.Multiple), plain(g.Multiple)) {
				multiples++
				if r["t_min_s"] != "" && (!g.Min.Given || float64(g.Min.Is) > reference.Number(t, r, "t_min_s")) {
					t.Errorf("%s holds %v at %v, want no more than %s s", c.curve, g.Min.Is, g.Multiple, r["t_min_s"])
				}
				if r["t_max_s"] != "" && (!g.Max.Given || float64(g.Max.Is) < reference.Number(t, r, "t_max_s")) {
					t.Errorf("%s opens within %v at %v, want no less than %s s", c.curve, g.Max.Is, g.Multiple, r["t_max_s"])
				}
				if r["t_min_s"] == "" && r["kind"] == "gate" && r["t_max_s"] == "" || r["t_max_s"] == "" && r["kind"] == "gate" && g.Max.Given {
					t.Errorf("%s says more at %v than the table", c.curve, g.Multiple)
				}
				if r["status"] == "memory" && g.Min.Basis != parts.Memory {
					t.Errorf("%s at %v: a time from memory is called %s", c.curve, g.Multiple, g.Min.Basis)
				}
			}
		}
		if multiples < len(curve.Gates) {
			t.Errorf("%s: only %d of %d gates were found", c.curve, multiples, len(curve.Gates))
		}
	}
	want := map[float64][2]float64{1.10: {360000, 0}, 1.35: {0.75, 1800}, 1.60: {0.25, 50}, 2.00: {0.15, 5}, 3.50: {0.04, 0.5}, 6.00: {0.02, 0.15}}
	for _, g := range each[parts.Curve](t, "curve")["curve/iso8820-blade"].Gates {
		if w := want[g.Multiple]; float64(g.Min.Is) != w[0] || float64(g.Max.Is) != w[1] {
			t.Errorf("at %v it takes %v to %v, want %v s to %v s", g.Multiple, g.Min.Is, g.Max.Is, w[0], w[1])
		}
	}
}

// Data page of a radial 60 V series.
func TestResettableFuseAgreesWithItsTable(t *testing.T) {
	r := row(t, reference.Rows(t, "ptc_resettable.csv"), "kind", "device", "series", "radial 60 V", "hold_current_a", "0.75")
	f := each[parts.Fuse](t, "fuse")["fuse/ptc-0.75A"]
	curve := each[parts.Curve](t, "curve")[f.Curve]
	last := curve.Gates[len(curve.Gates)-1]
	for what, pair := range map[string][2]float64{
		"hold":            {float64(f.Rating.Is), reference.Number(t, r, "hold_current_a")},
		"least ohms":      {float64(f.Resistance.Lower()), reference.Number(t, r, "r_min_ohm")},
		"most ohms":       {float64(f.Resistance.Upper()), reference.Number(t, r, "r_max_ohm")},
		"volts":           {float64(f.VoltsMax.Is), reference.Number(t, r, "v_max_v")},
		"breaking":        {float64(f.Breaking.Is), reference.Number(t, r, "i_max_a")},
		"current of test": {last.Multiple * float64(f.Rating.Is), reference.Number(t, r, "trip_test_current_a")},
		"time to trip":    {float64(last.Max.Is), reference.Number(t, r, "trip_time_max_s")},
	} {
		if !same(pair[0], pair[1]) {
			t.Errorf("%s: %v, want %v", what, pair[0], pair[1])
		}
	}
}

// perCent and millivolts are a load regulation in per cent of the voltage and in volts; decimal is any number.
var (
	perCent    = regexp.MustCompile(`^([0-9.]+) %$`)
	millivolts = regexp.MustCompile(`^[0-9.]+ mV`)
	decimal    = regexp.MustCompile(`[0-9.]+`)
)

var (
	// "constant current above 13 V, hiccup below: 2-5 s on, 7 s off, 1 s retry"
	pulseType = regexp.MustCompile(`^constant current above ([0-9.]+) V, hiccup below: .*, ([0-9.]+) s off, ([0-9.]+) s retry$`)
	// "25 typ for 1 s in hiccup, 8.1 rms"
	pulseAmps = regexp.MustCompile(`([0-9.]+) typ for ([0-9.]+) s in hiccup, ([0-9.]+) rms`)
)

// pulsesAsItsSheetSays compares times and voltage, and the heating current of the pulses, I·√(on/(on + off)), with the sheet's
// own figure: ours may be above it, by a tenth at most, never below.
func pulsesAsItsSheetSays(t *testing.T, name string, s *parts.Supply, r map[string]string) {
	t.Helper()
	number := func(text string) float64 { v, _ := strconv.ParseFloat(text, 64); return v }
	kind, amps := pulseType.FindStringSubmatch(r["overload_type"]), pulseAmps.FindStringSubmatch(r["short_circuit_a"])
	if kind == nil || amps == nil || s.Limit != parts.Hiccup {
		t.Fatalf("%s: limit %s, the table says %s, %s", name, s.Limit, r["overload_type"], r["short_circuit_a"])
	}
	on, off := float64(s.PulseOn.Is), float64(s.PulseOff.Is)
	for what, pair := range map[string][2]float64{
		"holds the current above": {float64(s.PulseBelow.Is), number(kind[1])},
		"time off":                {off, number(kind[2])},
		"time of a retry":         {on, number(kind[3])},
		"time on":                 {on, number(amps[2])},
	} {
		if !same(pair[0], pair[1]) {
			t.Errorf("%s: %s %v, want %v", name, what, pair[0], pair[1])
		}
	}
	if rms, want := number(amps[1])*math.Sqrt(on/(on+off)), number(amps[3]); rms < want || rms > 1.1*want {
		t.Errorf("%s: pulses of %s A heat as %.3g A, the sheet says %v A", name, amps[1], rms, want)
	}
}

func TestSuppliesAgreeWithTheirClass(t *testing.T) {
	rows := reference.Rows(t, "supplies.csv")
	classes := map[string]string{
		"supply/5v-200w": "enclosed 5 V 200 W", "supply/5v-300w": "enclosed 5 V 300 W", "supply/12v-150w": "enclosed 12 V 150 W",
		"supply/12v-350w": "enclosed 12 V 350 W", "supply/24v-240w-din": "DIN rail 24 V 240 W, economy",
		"supply/24v-480w-din": "DIN rail 24 V 480 W",
	}
	for name, s := range each[parts.Supply](t, "supply") {
		r := row(t, rows, "class", classes[name])
		memory := func(cell string) bool {
			return r["status"] == "memory" || slices.Contains(strings.Split(r["memory_fields"], ";"), cell) || r[cell] == ""
		}
		amps := reference.Number(t, r, "out_a")
		check := func(what string, got, want float64, basis parts.Basis, cell string) {
			if r[cell] != "" && !same(got, want) {
				t.Errorf("%s: %s is %v, want %v", name, what, got, want)
			}
			if memory(cell) && basis != parts.Memory {
				t.Errorf("%s: %s is from memory, and called %s", name, what, basis)
			}
		}
		cell := func(name string) float64 { v, _ := strconv.ParseFloat(decimal.FindString(r[name]), 64); return v } // the first of several
		check("voltage", float64(s.Volts.Is), cell("out_v"), s.Volts.Basis, "out_v")
		check("current", float64(s.Amps.Is), cell("out_a"), s.Amps.Basis, "out_a")
		check("power", float64(s.Watts.Is), cell("out_w"), s.Watts.Basis, "out_w")
		check("lowest trim", float64(s.VoltsMin.Is), cell("adj_min_v"), s.VoltsMin.Basis, "adj_min_v")
		check("highest trim", float64(s.VoltsMax.Is), cell("adj_max_v"), s.VoltsMax.Basis, "adj_max_v")
		check("limit from", float64(s.LimitAt.Low.Is), amps*cell("overload_min_pct")/100, s.LimitAt.Low.Basis, "overload_min_pct")
		check("limit to", float64(s.LimitAt.High.Is), amps*cell("overload_max_pct")/100, s.LimitAt.High.Basis, "overload_max_pct")
		check("efficiency", float64(s.Efficiency.Is), cell("eff_full_pct")/100, s.Efficiency.Basis, "eff_full_pct")
		check("no load", float64(s.NoLoad.Is), cell("no_load_w"), s.NoLoad.Basis, "no_load_w")
		if m := perCent.FindStringSubmatch(r["load_reg"]); m != nil {
			share, _ := strconv.ParseFloat(m[1], 64)
			check("source resistance", float64(s.SourceResistance.Is), share/100*float64(s.Volts.Is)/amps, s.SourceResistance.Basis, "load_reg")
		} else if millivolts.MatchString(r["load_reg"]) { // of several models the softest
			largest := 0.0
			for _, text := range decimal.FindAllString(r["load_reg"], -1) {
				v, _ := strconv.ParseFloat(text, 64)
				largest = max(largest, v)
			}
			check("source resistance", float64(s.SourceResistance.Is), largest/1000/amps, s.SourceResistance.Basis, "load_reg")
		} else if s.SourceResistance.Basis != parts.Memory {
			t.Errorf("%s: no load regulation was read, and the source resistance is called %s", name, s.SourceResistance.Basis)
		}
		if s.PulseBelow.Given {
			pulsesAsItsSheetSays(t, name, s, r)
		} else if !strings.HasPrefix(strings.ReplaceAll(r["overload_type"], " ", "-"), string(s.Limit)) {
			t.Errorf("%s: limit %s, the table says %s", name, s.Limit, r["overload_type"])
		}
		if s.Parallel != "forbidden" { // no sheet of these classes was read that allows it
			t.Errorf("%s may be paralleled", name)
		}
	}
}
