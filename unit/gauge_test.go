package unit_test

import (
	"fmt"
	"testing"

	"farend/unit"
)

// Areas of ASTM B258 in mm² (from its table, as printed in handbooks; from memory): 30 AWG 0.0509, 24 0.205, 18 0.823, 16 1.31, 14 2.08, 12 3.31, 10 5.26, 8 8.37,
// 6 13.3, 4 21.2, 3 26.7, 2 33.6, 1 42.4, 0 53.5.
func TestGauges(t *testing.T) {
	for _, c := range []struct {
		area unit.SquareMetre // mm²
		want string
	}{
		{0.0509, "30 AWG"}, {0.205, "24 AWG"}, {0.823, "18 AWG"}, {1.31, "16 AWG"}, {2.08, "14 AWG"}, {3.31, "12 AWG"}, {5.26, "10 AWG"}, {8.37, "8 AWG"},
		{13.3, "6 AWG"}, {21.2, "4 AWG"}, {26.7, "3 AWG"}, {33.6, "2 AWG"}, {42.4, "1 AWG"}, {53.5, "0 AWG"},
		{0.22, "22 AWG"}, {0.5, "20 AWG"}, {0.75, "18 AWG"}, {1, "16 AWG"}, {1.5, "14 AWG"}, {2.5, "12 AWG"}, {4, "10 AWG"}, {6, "8 AWG"}, {10, "6 AWG"}, {16, "4 AWG"},
		{25, "3 AWG"}, {35, "1 AWG"}, {67.4, ""}, {0, ""}, {-1, ""}, {0.001, "40 AWG"},
	} {
		if got := (c.area * 1e-6).Gauge(); got != c.want {
			t.Errorf("%v mm²: %q, want %q", float64(c.area), got, c.want)
		}
		if n, ok := (c.area * 1e-6).GaugeNumber(); ok != (c.want != "") || ok && fmt.Sprintf("%d AWG", n) != c.want {
			t.Errorf("%v mm²: %d, %v, want %q", float64(c.area), n, ok, c.want)
		}
	}
}
