package parts_test

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"farend/internal/reference"
	"farend/parts"
	"farend/unit"
)

// No sheet of a relay was read, so every number says that it is from memory. A contact that would lose more than 10 W at its rating,
// or a coil that would take more than 50 W, is not remembered but mistyped (common practice, no source).
func TestRelaysAreFromMemoryAndPlausible(t *testing.T) {
	for name, k := range each[parts.Relay](t, "relay") {
		for _, f := range parts.Facts(k) {
			if f.Basis != string(parts.Memory) {
				t.Errorf("%s %s is called %s", name, f.Key, f.Basis)
			}
		}
		if loss := float64(k.Amps.Is * k.Amps.Is * unit.Ampere(k.Resistance.Is)); loss > 10 || k.Resistance.Is <= 0 {
			t.Errorf("%s loses %v W in its contacts", name, loss)
		}
		if k.CoilWatts.Is <= 0 || k.CoilWatts.Is > 50 || k.Inrush.Given && k.Inrush.Is < k.Amps.Is {
			t.Errorf("%s: coil of %v, makes %v and carries %v", name, k.CoilWatts.Is, k.Inrush.Is, k.Amps.Is)
		}
		if !strings.Contains(name, strings.ReplaceAll(unit.Number(float64(k.Amps.Is), 3), ".0", "")+"A") {
			t.Errorf("%s carries %v", name, k.Amps.Is)
		}
	}
}

var lossFactor = regexp.MustCompile(`loss factor of ([0-9.]+) at 120 Hz`)

// The series resistance is tan δ / (2π·f·C), by the definition of the loss factor; the loss factor itself is from memory.
func TestCapacitorsHaveTheResistanceOfTheirLossFactor(t *testing.T) {
	for name, c := range each[parts.Capacitor](t, "capacitor") {
		m := lossFactor.FindStringSubmatch(c.Resistance.Source)
		if m == nil || c.Resistance.Basis != parts.Memory || c.Ripple.Basis != parts.Memory {
			t.Fatalf("%s: %s (%s)", name, c.Resistance.Source, c.Resistance.Basis)
		}
		tan, _ := strconv.ParseFloat(m[1], 64)
		if want := tan / (2 * math.Pi * 120 * float64(c.Capacitance.Is)); math.Abs(float64(c.Resistance.Is)-want) > 5e-3*want {
			t.Errorf("%s has %v in series, want %v Ω", name, c.Resistance.Is, want)
		}
		if want := fmt.Sprintf("capacitor/%.0fuF-%.0fV", float64(c.Capacitance.Is)*1e6, float64(c.VoltsMax.Is)); name != want {
			t.Errorf("%s is a %s", name, want)
		}
		if c.Capacitance.Spread != (parts.Spread{Low: -0.2, High: 0.2}) || c.Capacitance.Basis != parts.Practice {
			t.Errorf("%s is good to %v (%s)", name, c.Capacitance.Spread, c.Capacitance.Basis)
		}
	}
}

// Thresholds, supply and times as the sheets have them; what was not read is from memory and says so.
func TestBuffersAgreeWithTheirSheets(t *testing.T) {
	rows := reference.Rows(t, "buffers.csv")
	for name, b := range each[parts.Buffer](t, "buffer") {
		r := row(t, rows, "part", b.Chips[0].Part)
		if low, high := float64(b.Volts.Lower()), float64(b.Volts.Upper()); !same(low, cell(r, "vcc_min_v")) || !same(high, cell(r, "vcc_max_v")) {
			t.Errorf("%s lives on %v to %v V", name, low, high)
		}
		if unit.Must[unit.Volt](b.Logic.High) != unit.Volt(cell(r, "vih_min_v")) || unit.Must[unit.Volt](b.Logic.Low) != unit.Volt(cell(r, "vil_max_v")) || b.Logic.Supply != "5 V" {
			t.Errorf("%s takes %s and %s at %s", name, b.Logic.High, b.Logic.Low, b.Logic.Supply)
		}
		if b.High.Basis != parts.Memory || b.Low.Basis != parts.Memory || b.Driver.Basis != parts.Memory {
			t.Errorf("%s: levels and driver were not read, and are called %s, %s, %s", name, b.High.Basis, b.Low.Basis, b.Driver.Basis)
		}
		timed(t, name+" rise", r, "edge", b.Rise)
		timed(t, name+" delay", r, "tpd", b.Delay)
	}
}

// timed compares a time with the usual and the longest of a sheet; a sheet that prints only the longest has no usual one.
func timed(t *testing.T, what string, r map[string]string, of string, v parts.Value[unit.Second]) {
	usual, longest := cell(r, of+"_typ_ns")*1e-9, cell(r, of+"_max_ns")*1e-9
	if longest == 0 {
		if v.Basis != parts.Memory {
			t.Errorf("%s was not read, and is called %s", what, v.Basis)
		}
		return
	}
	if !same(float64(v.Is), or(usual, longest)) || !same(float64(v.Upper()), longest) || v.Basis != parts.Datasheet {
		t.Errorf("%s is %v, at most %v (%s); want %v to %v s", what, v.Is, v.Upper(), v.Basis, usual, longest)
	}
}

// 3.3 V logic drives every buffer, which is what one is for (VIH of TTL, 2.0 V), and a buffer matched to a pair has its wave
// impedance in all: 100 Ω of a twisted pair.
func TestBuffersTakeLogicAndMatchPairs(t *testing.T) {
	for name, b := range each[parts.Buffer](t, "buffer") {
		if unit.Must[unit.Volt](b.Logic.High) > 3.3*0.9 {
			t.Errorf("%s asks %s of 3.3 V logic", name, b.Logic.High)
		}
		if strings.HasSuffix(name, "-75r") && b.Driver.Is+b.Series.Is != 100 {
			t.Errorf("%s has %v and %v", name, b.Driver.Is, b.Series.Is)
		}
	}
}
