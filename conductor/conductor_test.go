package conductor_test

import (
	"math"
	"testing"

	"farend/conductor"
	"farend/internal/reference"
	"farend/unit"
)

// printed is half a unit of the last place of a table cell printed to the given number of decimals, with a little for
// the binary rounding of a tie.
func printed(decimals int) float64 { return 0.5*math.Pow(10, -float64(decimals)) + 1e-9 }

func TestGaugeFormulaMeetsTheHandbook(t *testing.T) {
	const rho20 = 0.017241e-6 // ohm·m, annealed copper, IEC 60028 and ASTM B3
	// The handbook prints four figures of ohm per 1,000 ft, and rounds its own inputs: 0.06 % is the most it shows.
	const handbook = 6e-4
	for _, row := range reference.Rows(t, "conductor_awg.csv") {
		t.Run(row["awg"]+" AWG", func(t *testing.T) {
			n := int(reference.Number(t, row, "awg"))
			if got, want := float64(unit.DiameterOfGauge(n))*1e3, reference.Number(t, row, "diameter_solid_mm"); math.Abs(got-want) > printed(4) {
				t.Errorf("diameter %.5f mm, want %v", got, want)
			}
			area := float64(unit.AreaOfGauge(n))
			if got, want := area*1e6, reference.Number(t, row, "area_mm2"); math.Abs(got-want) > printed(4) {
				t.Errorf("area %.5f mm², want %v", got, want)
			}
			if row["r20_handbook_solid_ohm_per_kft"] == "" {
				return
			}
			got, want := rho20/area*304.8, reference.Number(t, row, "r20_handbook_solid_ohm_per_kft")
			if math.Abs(got/want-1) > handbook {
				t.Errorf("%.4f ohm/kft at 20 °C, the handbook has %v", got, want)
			}
		})
	}
}

func TestCopperWarmsAsTheTablesSay(t *testing.T) {
	t.Run("handbook at 20 °C to NEC chapter 9 table 8 at 75 °C", func(t *testing.T) {
		// The NEC cell has two decimals and the handbook cell three or fewer; the NEC's own coefficient at 75 °C, 0.00323 /K
		// (memory), has three figures, which leaves R75/R20 open by 0.04 %. 16 and 18 AWG need it, by 0.01 % at most.
		const coefficient = 4e-4
		for _, row := range reference.Rows(t, "conductor_awg.csv") {
			if row["r75_nec8_solid_uncoated_ohm_per_kft"] == "" || row["r20_handbook_solid_ohm_per_kft"] == "" {
				continue
			}
			got := conductor.Factor(75) * reference.Number(t, row, "r20_handbook_solid_ohm_per_kft")
			want := reference.Number(t, row, "r75_nec8_solid_uncoated_ohm_per_kft")
			if math.Abs(got-want) > printed(2)+conductor.Factor(75)*printed(3)+coefficient*want {
				t.Errorf("%s AWG: %.4f ohm/kft at 75 °C, want %v", row["awg"], got, want)
			}
		}
	})
	t.Run("IEC 60228 resistance carried to 70 °C", func(t *testing.T) {
		// The column is derived with 0.00393 /K (IEC 60287-1-1), which is 1/254.5 rounded: at most 0.01 % apart at 70 °C.
		const rounded = 1e-4
		for _, row := range reference.Rows(t, "conductor_iec60228.csv") {
			got := conductor.Factor(70) * reference.Number(t, row, "r20_max_plain_ohm_per_km")
			if want := reference.Number(t, row, "r70_max_plain_ohm_per_km_derived"); math.Abs(got/want-1) > rounded {
				t.Errorf("class %s %s mm²: %.4f ohm/km, want %v", row["conductor_class"], row["area_mm2"], got, want)
			}
		}
	})
	t.Run("IEC 60228 measuring factors", func(t *testing.T) {
		// R20 = Rt·Kt with Kt from IEC 60228, read on a page about copper conductors. It takes 0.004 /K, so it parts from
		// IEC 60287 by up to 0.4 % at 70 °C: a check that the slope is copper's, not of its last figure.
		const otherSlope = 0.004
		for celsius, kt := range map[unit.Celsius]float64{5: 1.064, 10: 1.042, 15: 1.020, 25: 0.980, 30: 0.962, 40: 0.926, 50: 0.893, 60: 0.862, 70: 0.833} {
			if got := conductor.Factor(celsius) * kt; math.Abs(got-1) > otherSlope {
				t.Errorf("at %v: factor × Kt = %.4f, want 1", celsius, got)
			}
		}
	})
	t.Run("colder than any site", func(t *testing.T) {
		if got := conductor.Factor(-300); got <= 0 || got != conductor.Factor(conductor.Coldest) {
			t.Errorf("factor at −300 °C is %v", got)
		}
	})
}
