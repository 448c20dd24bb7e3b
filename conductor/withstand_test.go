package conductor_test

import (
	"math"
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

func TestWithstandIsKnownForPVCOf70DegreesAlone(t *testing.T) {
	for _, insulation := range []unit.Celsius{60, 90, 105, 180} {
		if _, ok := conductor.Withstand(insulation, 1e-6); ok {
			t.Errorf("insulation of %v has a factor, though its material is not known", insulation)
		}
	}
}
