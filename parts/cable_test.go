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
	"farend/unit"
)

// gauge is the wire gauge that a cable's name ends in, "" where it is named by its area.
func gauge(name string) string {
	if m := regexp.MustCompile(`-(\d+)awg$`).FindStringSubmatch(name); m != nil {
		return m[1]
	}
	return ""
}

// family is what a cable is, by its name: flex, stranded, pair, link, data, signal, speaker, alarm or auto.
func family(name string) string {
	word, _, _ := strings.Cut(strings.TrimPrefix(name, "cable/"), "-")
	return word
}

// coreRow is the row of cable_lv.csv on which a cable rests, nil where it is made of cores by the standard or by gauge.
func coreRow(t *testing.T, name string, c *parts.Cable) map[string]string {
	t.Helper()
	rows, area := reference.Rows(t, "cable_lv.csv"), squareMillimetres(c.Area)
	in := func(family, designation string) map[string]string {
		return row(t, rows, "family", family, "designation", designation)
	}
	switch {
	case strings.HasPrefix(name, "cable/data-cat5e"):
		return in("data cable", "Cat 5, 24 AWG, 4 pairs")
	case gauge(name) != "" && family(name) == "speaker":
		return in("speaker pair", gauge(name)+" AWG two-core")
	case gauge(name) != "":
		return nil
	case family(name) == "speaker":
		return in("speaker pair", "2 x "+area+" mm2")
	case family(name) == "signal":
		return in("telephone or signal cable", "J-Y(St)Y 0.8 mm")
	case family(name) == "alarm":
		return in("alarm or data cable", area+" mm2 core")
	case family(name) == "auto":
		return in("automotive FLRY", "FLRY "+area+" mm2")
	case float64(c.Area.Is) < 0.5e-6:
		return in("fine-stranded core, class 5", area+" mm2")
	}
	return nil
}

// IEC 60228:2004 tables 2 and 3: no cable of the class may have more resistance. Loudspeaker pairs by area, and the alarm
// cables of which a sheet prints less, have the limit of class 5 too.
func TestCableResistanceIsThatOfItsClass(t *testing.T) {
	rows, found := reference.Rows(t, "conductor_iec60228.csv"), map[string]int{}
	for name, c := range each[parts.Cable](t, "cable") {
		area := squareMillimetres(c.Area)
		limit := family(name) == "alarm" && (area == "0.5" || area == "1.5")
		if !limit && (c.Class != 2 && c.Class != 5 || float64(c.Area.Is) < 0.5e-6) {
			continue
		}
		class := "2"
		if c.Class != 2 {
			class = "5"
		}
		r := row(t, rows, "conductor_class", class, "area_mm2", area)
		want := reference.Number(t, r, "r20_max_plain_ohm_per_km")
		if got := float64(c.R20.Is) * 1000; !same(got, want) || c.R20.Basis != parts.Standard || r["status"] != "found" {
			t.Errorf("%s has %v Ω/km (%s), want %v Ω/km", name, got, c.R20.Basis, want)
		}
		if printed := coreRow(t, name, c); printed != nil && reference.Number(t, printed, "r20_ohm_per_km") >= want {
			t.Errorf("%s: its sheet has no less, and should stand", name)
		}
		found[family(name)+" "+class]++
	}
	of := func(class string) int { return len(reference.Where(t, rows, "conductor_class", class)) }
	if found["flex 5"] != of("5") || found["stranded 2"] != of("2") || found["link 5"] != of("5") {
		t.Errorf("of %d areas of class 5 and %d of class 2 there are %v", of("5"), of("2"), found)
	}
}

// Resistance by gauge is the larger of the figures found: that of seven strands in the handbook, or where it has none that of
// the solid wire and 4 %, by which strands stand over it elsewhere in the same table. The figures that cables of NFPA 70
// chapter 9 table 8 have at 20 °C, and those of the loudspeaker manual, are lower.
func TestGaugeResistanceIsThatOfStrands(t *testing.T) {
	rows, low := reference.Rows(t, "conductor_awg.csv"), reference.Rows(t, "cable_lv.csv")
	pairs := map[string]bool{}
	for name, c := range each[parts.Cable](t, "cable") {
		number := gauge(name)
		if number == "" {
			continue
		}
		r := row(t, rows, "awg", number)
		got, solid := float64(c.R20.Is)*1000, reference.Number(t, r, "r20_handbook_solid_ohm_per_km")
		want, basis := 1.04*solid, parts.Derived
		if r["r20_handbook_7strand_ohm_per_km"] != "" {
			want, basis = reference.Number(t, r, "r20_handbook_7strand_ohm_per_km"), parts.Handbook
			if over := want / solid; over < 1.029 || over > 1.04 {
				t.Errorf("%s AWG: seven strands stand %v over solid wire", number, over)
			}
		}
		if !same(got, want) || c.R20.Basis != basis {
			t.Errorf("%s has %v Ω/km (%s), want %v (%s)", name, got, c.R20.Basis, want, basis)
		}
		if area := reference.Number(t, r, "area_mm2"); !same(float64(c.Area.Is)*1e6, area) {
			t.Errorf("%s has %v, want %v mm²", name, c.Area.Is, area)
		}
		for _, other := range low {
			if other["awg"] == number && strings.HasPrefix(other["designation"], number+" AWG") && other["r20_ohm_per_km"] != "" && reference.Number(t, other, "r20_ohm_per_km") > got*(1+printed) {
				t.Errorf("%s has %v Ω/km, and %s %s", name, got, other["family"], other["r20_ohm_per_km"])
			}
		}
		if family(name) == "pair" {
			pairs[number] = true
		}
	}
	for n := 10; n <= 24; n++ {
		if !pairs[strconv.Itoa(n)] {
			t.Errorf("there is no pair of %d AWG", n)
		}
	}
}

// What no standard limits comes from a maker's sheet, with the basis of its row. The note of 0.22 mm² alarm cable names a
// second sheet with 92 Ω/km; of 0.44 mm² only the wires are known, twice those of 0.22 mm².
func TestOtherCablesAgreeWithTheirSheet(t *testing.T) {
	fits := map[string]int{}
	for name, c := range each[parts.Cable](t, "cable") {
		r := coreRow(t, name, c)
		if r == nil {
			continue
		}
		fits[r["family"]]++
		if gauge(name) != "" || c.R20.Basis == parts.Standard {
			continue // the tests above have these
		}
		want, _ := strconv.ParseFloat(r["r20_ohm_per_km"], 64)
		switch r["designation"] {
		case "0.22 mm2 core":
			if !strings.Contains(r["note"], "92 ohm/km") {
				t.Error("the second sheet of alarm cable is gone")
			}
			want = 92
		case "0.44 mm2 core":
			want = 92.0 / 2
		}
		if got := float64(c.R20.Is) * 1000; !same(got, want) {
			t.Errorf("%s has %v Ω/km, want %v", name, got, want)
		}
		memory := r["status"] == "memory"
		if memory != (c.R20.Basis == parts.Memory) {
			t.Errorf("%s: resistance is called %s, and its row is %s", name, c.R20.Basis, r["status"])
		}
	}
	rows := reference.Rows(t, "cable_lv.csv")
	for family, except := range map[string]int{"speaker pair": 0, "automotive FLRY": 0, "alarm or data cable": 0, "telephone or signal cable": 0} {
		if want := len(reference.Where(t, rows, "family", family)) - except; fits[family] != want {
			t.Errorf("%d of %d rows of %s are in the catalogue", fits[family], want, family)
		}
	}
	if fits["data cable"] != 2 || fits["fine-stranded core, class 5"] < 4 { // one pair and four; each area below 0.5 mm²
		t.Errorf("the count by family looks broken: %v", fits)
	}
}

// Loudspeaker manual: capacitance and inductance a foot; impedance √(L/C) is printed to whole ohms, and delay √(L·C) is 7.4,
// 4.9, 5.6 and 8.0 ns/m. Category 5: 100 Ω ± 15 %, at most 5.6 nF/100 m; velocity 0.68 c (ITU-T table of wire types) and at most
// 548 ns for a link of 100 m (a text on local-area-network wiring, table 5.1).
func TestLinesAgreeWithTheirSheet(t *testing.T) {
	delay := map[string]float64{"12": 7.4, "14": 4.9, "16": 5.6, "18": 8.0}
	cables := each[parts.Cable](t, "cable")
	for number, want := range delay {
		c := cables["cable/speaker-"+number+"awg"]
		r := coreRow(t, "cable/speaker-"+number+"awg", c)
		farad, henry := float64(c.Capacitance.Is), float64(c.Inductance.Is)
		if !same(farad*1e12, reference.Number(t, r, "capacitance_pf_per_m")) || !same(henry*1e6, reference.Number(t, r, "inductance_uh_per_m")) {
			t.Errorf("%s AWG has %v, %v", number, c.Capacitance.Is, c.Inductance.Is)
		}
		z0 := math.Sqrt(henry / farad)
		if math.Abs(float64(c.Z0.Is)-z0) > 0.005*z0 || math.Abs(z0-reference.Number(t, r, "impedance_ohm")) > 1 {
			t.Errorf("%s AWG has %v, √(L/C) is %.4g Ω, the table has %s", number, c.Z0.Is, z0, r["impedance_ohm"])
		}
		if ns := float64(c.Delay.Is) * 1e9; math.Abs(ns-math.Sqrt(henry*farad)*1e9) > 0.01 || math.Abs(ns-want) > 0.06 {
			t.Errorf("%s AWG takes %v, want %v ns/m", number, c.Delay.Is, want)
		}
	}
	for _, name := range []string{"cable/data-cat5e", "cable/data-cat5e-pair"} {
		c := cables[name]
		if c.Z0.Is != 100 || c.Z0.Spread.High != 0.15 || c.Z0.Spread.Low != -0.15 || !same(float64(c.Capacitance.Is), 56e-12) {
			t.Errorf("%s: %v, %v", name, c.Z0, c.Capacitance.Is)
		}
		if light := 1 / 299792458.0; math.Abs(float64(c.Delay.Is)-light/0.68) > 0.01e-9 || math.Abs(float64(c.Delay.Upper())-5.48e-9) > 0.005e-9 {
			t.Errorf("%s: %v to %v", name, c.Delay.Is, c.Delay.Upper())
		}
	}
}

// Of lighting leads no impedance was found. Theirs is from memory, their spread that of what was found, and delay is Z0·C.
func TestDataLeadsLieWithinWhatWasFound(t *testing.T) {
	ohms, farads, delays := []float64{100}, []float64{56e-12}, []float64{4.9e-9, 5.48e-9}
	for _, c := range each[parts.Cable](t, "cable") {
		if c.Inductance.Given {
			ohms, farads, delays = append(ohms, float64(c.Z0.Is)), append(farads, float64(c.Capacitance.Is)), append(delays, float64(c.Delay.Is))
		}
	}
	for name, c := range each[parts.Cable](t, "cable") {
		if !regexp.MustCompile(`^cable/data-[34]x`).MatchString(name) {
			continue
		}
		for what, v := range map[string]struct {
			low, high float64
			found     []float64
		}{
			"impedance":   {float64(c.Z0.Lower()), float64(c.Z0.Upper()), ohms},
			"capacitance": {float64(c.Capacitance.Lower()), float64(c.Capacitance.Upper()), farads},
			"delay":       {float64(c.Delay.Lower()), float64(c.Delay.Upper()), delays},
		} {
			low, high := slices.Min(v.found), slices.Max(v.found)
			if math.Abs(v.low-low) > 0.01*low || math.Abs(v.high-high) > 0.01*high {
				t.Errorf("%s: %s of %v to %v, found were %v to %v", name, what, v.low, v.high, low, high)
			}
		}
		if !same(float64(c.Delay.Is), float64(c.Z0.Is)*float64(c.Capacitance.Is)) || c.Z0.Basis != parts.Memory {
			t.Errorf("%s: %v, %v and %v", name, c.Z0, c.Capacitance.Is, c.Delay.Is)
		}
	}
}

var (
	dropOf  = regexp.MustCompile(`^([\d.]+) mm2 Cu class 2 ([\d.]+) ohm/km; one way (\d+) m; (\d+) A; load at the end$`)
	reachOf = regexp.MustCompile(`^([\d.]+) mm2 class 2; (\d+) A; allowed drop (\d+) V$`)
)

// An engineering study of conveyor wiring, with class 2 resistances of its own; installers' guides to alarm cable.
func TestWorkedDropsComeOutWithTheCatalogue(t *testing.T) {
	cables, worked := each[parts.Cable](t, "cable"), 0
	core := func(area string) float64 { return float64(cables["cable/stranded-2x"+area].R20.Is) }
	for _, r := range reference.Where(t, reference.Rows(t, "coordination_examples.csv"), "topic", "voltage drop") {
		var got float64
		if m := dropOf.FindStringSubmatch(r["inputs"]); m != nil {
			if !same(core(m[1])*1000, value(m[2])) {
				t.Errorf("%s: %v, the study has %s Ω/km", r["id"], core(m[1]), m[2])
			}
			got = 2 * value(m[3]) * value(m[4]) * core(m[1])
		} else if m := reachOf.FindStringSubmatch(r["inputs"]); m != nil {
			got = value(m[3]) / (2 * value(m[2]) * core(m[1]))
		} else if r["id"] == "VOL26" { // 50 m of alarm cable, 20 mA
			got = 2 * 50 * 0.02 * float64(cables["cable/alarm-4x0.22"].R20.Is)
		} else {
			continue
		}
		worked++
		if want := reference.Number(t, r, "expected"); math.Abs(got-want) > reference.Number(t, r, "tolerance_pct")/100*want {
			t.Errorf("%s: %v, want %v %s", r["id"], got, want, r["unit"])
		}
	}
	if worked != 11 {
		t.Errorf("%d examples were worked", worked)
	}
	// VOL29 takes 8.5 Ω/100 m for 100 m of 0.22 mm², 17.0 Ω; the catalogue has the larger of two sheets.
	if loop := 2 * unit.Ohm(100*cables["cable/alarm-4x0.22"].R20.Is); loop < 17 || loop > 18.5 {
		t.Errorf("100 m of alarm cable have %v", loop)
	}
}
