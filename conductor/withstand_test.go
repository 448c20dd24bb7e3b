package conductor_test

import (
	"math"
	"math/rand"
	"testing"

	"farend/conductor"
	"farend/internal/reference"
	"farend/unit"
)

// The factors of IEC 60364-4-43 table 43A for copper in PVC of 70 °C, which are 226·√ln((234.5 + T_f)/(234.5 + T_i)) rounded.
func TestWithstandHasTheFactorsOfTheTable(t *testing.T) {
	rows := reference.Where(t, reference.Rows(t, "adiabatic.csv"), "kind", "k")
	for item, area := range map[string]unit.SquareMetre{"Cu PVC 70 C <=300 mm2": 300e-6, "Cu PVC 70 C >300 mm2": 301e-6} {
		row := reference.Where(t, rows, "item", item)[0]
		k, from, to := reference.Number(t, row, "value"), reference.Number(t, row, "initial_temp_c"), reference.Number(t, row, "final_temp_c")
		limit, ok := conductor.Withstand(70, area)
		if got := math.Sqrt(float64(limit)) / (float64(area) * 1e6); !ok || math.Abs(got-k) > 1e-9 {
			t.Errorf("%s: k = %v, want %v", item, got, k)
		}
		if formula := 226 * math.Sqrt(math.Log((conductor.Absolute+to)/(conductor.Absolute+from))); math.Abs(formula-k) > 0.5 {
			t.Errorf("%s: the formula behind the table gives %v, the row says %v", item, formula, k)
		}
	}
}

// The worked values of the reference: how long a core of so many square millimetres stands so many amperes.
func TestWithstandMeetsWorkedValues(t *testing.T) {
	for _, c := range []struct {
		item string
		area unit.SquareMetre
		amps float64
	}{
		{"t for S=0.5 mm2 I=100 A k=115", 0.5e-6, 100},
		{"t for S=0.75 mm2 I=100 A k=115", 0.75e-6, 100},
		{"t for S=1.5 mm2 I=100 A k=115", 1.5e-6, 100},
		{"t for S=1.5 mm2 I=300 A k=115", 1.5e-6, 300},
		{"t for S=2.5 mm2 I=60 A k=115", 2.5e-6, 60},
	} {
		row := reference.Where(t, reference.Rows(t, "adiabatic.csv"), "item", c.item)[0]
		limit, _ := conductor.Withstand(70, c.area)
		if got, want := float64(limit)/(c.amps*c.amps), reference.Number(t, row, "value"); math.Abs(got-want) > 1e-4*want { // four figures are printed
			t.Errorf("%s: %v s, want %v s", c.item, got, want)
		}
	}
	row := reference.Where(t, reference.Rows(t, "coordination_examples.csv"), "id", "ADI01")[0] // a cable sizing guide
	limit, _ := conductor.Withstand(70, 16e-6)
	if got, want := float64(limit)/(6000*6000), reference.Number(t, row, "expected"); math.Abs(got/want-1) > reference.Number(t, row, "tolerance_pct")/100 {
		t.Errorf("16 mm² stand 6 kA for %v s, want %v s", got, want)
	}
}

// Worked examples of a cable sizing guide and of a textbook: the cross-section that stands a current for a time, and the time that
// copper in XLPE stands one, by its factor from 90 °C to 250 °C.
func TestShortsMeetWorkedExamples(t *testing.T) {
	for _, c := range []struct {
		id   string
		unit float64
		got  func() float64
	}{
		{"ADI02", 1, func() float64 { return float64(conductor.Warms(50e-6, 90, 250)) / (5000 * 5000) }},
		{"ADI05", 1e-6, func() float64 { return areaFor(t, 3000*3000*0.4) }},
		{"ADI06", 1e-6, func() float64 { return areaFor(t, 90*90*0.4) }},
	} {
		row := reference.Where(t, reference.Rows(t, "coordination_examples.csv"), "id", c.id)[0]
		if got, want := c.got()/c.unit, reference.Number(t, row, "expected"); math.Abs(got/want-1) > reference.Number(t, row, "tolerance_pct")/100 {
			t.Errorf("%s: %v, want %v", c.id, got, want)
		}
	}
}

// areaFor is the cross-section that just stands an I²t, found by halves.
func areaFor(t *testing.T, i2t float64) float64 {
	low, high := 0.0, 300e-6
	for range 60 {
		middle := (low + high) / 2
		if limit, ok := conductor.Withstand(70, unit.SquareMetre(middle)); !ok {
			t.Fatal("no factor")
		} else if float64(limit) < i2t {
			low = middle
		} else {
			high = middle
		}
	}
	return high
}

func TestWithstandIsKnownForPVCOf70DegreesAlone(t *testing.T) {
	for _, insulation := range []unit.Celsius{60, 90, 105, 180} {
		if _, ok := conductor.Withstand(insulation, 1e-6); ok {
			t.Errorf("insulation of %v has a factor, though its material is not known", insulation)
		}
	}
}

// Every copper row of IEC 60364-4-43 table 43A and of IEC 60364-5-54 annex A is this formula, whatever the insulation; the tables
// print whole numbers, and the largest difference from them is 0.5.
func TestWarmsIsTheFormulaBehindTheTables(t *testing.T) {
	rows := reference.Where(t, reference.Where(t, reference.Rows(t, "adiabatic.csv"), "kind", "k"), "conductor", "Cu")
	for _, row := range rows {
		from, to := reference.Number(t, row, "initial_temp_c"), reference.Number(t, row, "final_temp_c")
		k := math.Sqrt(float64(conductor.Warms(1e-6, unit.Celsius(from), unit.Celsius(to))))
		if want := reference.Number(t, row, "value"); math.Abs(k-want) > 0.5 {
			t.Errorf("%s: %v °C to %v °C is k = %v, the table prints %v", row["item"], from, to, k, want)
		}
	}
	if len(rows) < 12 {
		t.Errorf("only %d rows", len(rows))
	}
	if conductor.Warms(1e-6, 70, 70) != 0 || conductor.Warms(1e-6, 70, 30) != 0 {
		t.Error("something is warmed without getting warmer")
	}
}

// 2.5 mm² of PVC at 20 A in air of 30 °C. 1.45 times that, 29 A, is borne for an hour and would end at 131 °C. 30 A warm it from 70 °C
// to 131 °C in (226 × 2.5/30)² × ln(365.4/304.5) = 64.7 s at the soonest. From 1.584 times on it has no steady temperature
// below 160 °C: 31.7 A.
func TestACoreBearsAnOverloadForATime(t *testing.T) {
	c := conductor.Core{R20: 0.008, Iz: 20, Ambient: 30, Limit: 70}
	warm, _ := c.Temperature(29)
	by := (conductor.Absolute + float64(warm)) / (conductor.Absolute + 70)
	if math.Abs(float64(warm)-131) > 0.5 {
		t.Errorf("29 A ends at %v, want 131 °C", warm)
	}
	inf := unit.Second(math.Inf(1))
	for _, x := range []struct {
		amps unit.Ampere
		want unit.Second
	}{
		{0, inf}, {20, inf}, {20.1, 3600}, {29, 3600}, {30, unit.Second(math.Pow(226*2.5/30, 2) * math.Log(by))}, {31.6, unit.Second(math.Pow(226*2.5/31.6, 2) * math.Log(by))}, {31.8, 0}, {1000, 0},
	} {
		if got := c.Bears(x.amps, 2.5e-6); got != x.want && math.Abs(float64(got/x.want)-1) > 1e-9 {
			t.Errorf("%v: %v, want %v", x.amps, got, x.want)
		}
	}
	if got := c.Bears(30, 2.5e-6); math.Abs(float64(got)-64.7) > 0.05 {
		t.Errorf("30 A: %v, by hand 64.7 s", got)
	}
}

// A thin core with little to lose: the time of IEC 60364-4-43 holds where it is the longer one, up to 5 s, and below 0.1 s there is none.
func TestAThinCoreBearsWhatItStandsInAShort(t *testing.T) {
	c := conductor.Core{R20: 0.1, Iz: 100, Ambient: 30, Limit: 70} // what no 0.5 mm² carries: to see the rule alone
	for _, x := range []struct {
		area unit.SquareMetre
		want unit.Second
	}{
		{2.5e-6, unit.Second(math.Pow(115*2.5/150, 2))}, {3.3e-6, 5}, {0.4e-6, 0}, // 0.094 s
	} {
		if got := c.Bears(150, x.area); math.Abs(float64(got-x.want)) > 1e-9 {
			t.Errorf("%v mm²: %v, want %v", float64(x.area)*1e6, got, x.want)
		}
	}
}

func TestACoreBearsMoreCurrentForNoLonger(t *testing.T) {
	random := rand.New(rand.NewSource(3))
	for range 2000 {
		c := conductor.Core{R20: 0.01, Iz: unit.Ampere(1 + 40*random.Float64()), Ambient: unit.Celsius(-20 + 80*random.Float64()), Limit: []unit.Celsius{60, 70, 90, 180}[random.Intn(4)]}
		area := unit.SquareMetre((0.2 + 6*random.Float64()) * 1e-6)
		last := unit.Second(math.Inf(1))
		for amps := unit.Ampere(0); amps < 3*c.Iz; amps += c.Iz / 50 {
			got := c.Bears(amps, area)
			if got > last || amps > c.Iz && got > conductor.Conventional {
				t.Fatalf("%+v bears %v for %v, and less for %v", c, amps, got, last)
			}
			last = got
		}
	}
}
