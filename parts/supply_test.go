package parts_test

import (
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"farend/internal/reference"
	"farend/parts"
)

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
