package conductor_test

import (
	"math"
	"strings"
	"testing"

	"farend/conductor"
	"farend/internal/reference"
	"farend/unit"
)

func TestAmbientFactorsMeetTheStandards(t *testing.T) {
	rows := reference.Where(t, reference.Rows(t, "ampacity.csv"), "kind", "ambient_factor")
	for _, row := range reference.Where(t, rows, "table", "IEC B.52.14", "NEC 310.15(B)(1)(1)") {
		limit := unit.Celsius(reference.Number(t, row, "conductor_limit_c"))
		ambient := unit.Celsius(reference.Number(t, row, "ambient_to_c"))
		t.Run(row["table"]+", "+row["method_or_column"]+" in "+ambient.String(), func(t *testing.T) {
			got, want := float64(conductor.Ampacity(1, limit, ambient, 1)), reference.Number(t, row, "value")
			switch at20 := float64(conductor.Ampacity(1, limit, conductor.Mild, 1)); {
			case ambient < conductor.Mild && (got != at20 || got >= want):
				t.Errorf("factor %.4f in colder air than %v, want less than the table's %v", got, conductor.Mild, want)
			case ambient >= conductor.Mild && math.Abs(got-want) > printed(2):
				t.Errorf("factor %.4f, want %v", got, want)
			}
		})
	}
}

// A fuse may let 1.45 times the ampacity last for an hour: in no air may that take a core to where nothing is followed any more.
func TestWhatIsBearableIsBelowTheClamp(t *testing.T) {
	for air := unit.Celsius(-60); air < 60; air++ {
		core := conductor.Core{R20: 0.01, Iz: conductor.Ampacity(20, 70, air, 1), Ambient: max(air, conductor.Mild), Limit: 70}
		if warm, clamped := core.Temperature(conductor.Bearable * core.Iz); clamped {
			t.Errorf("in air of %v the core gets %v", air, warm)
		}
	}
}

func TestGroupingMeetsTheStandard(t *testing.T) {
	rows := reference.Where(t, reference.Rows(t, "ampacity.csv"), "table", "IEC B.52.17 item 1")
	if len(rows) != 12 {
		t.Fatalf("table B.52.17 item 1 has %d rows, want 12", len(rows))
	}
	for _, row := range rows {
		n, want := int(reference.Number(t, row, "circuits_or_conductors")), reference.Number(t, row, "value")
		if got := conductor.Grouping(n); got != want {
			t.Errorf("%d circuits: %v, want %v", n, got, want)
		}
	}
	for name, c := range map[string]struct {
		circuits int
		want     float64
	}{
		"none":                 {0, 1},
		"ten, taken as twelve": {10, 0.45},
		"13, taken as 16":      {13, 0.41},
		"17, taken as 20":      {17, 0.38},
		"25, past the table":   {25, 0.2}, // 1/√25: the heat of one cable
	} {
		t.Run(name, func(t *testing.T) {
			if got := conductor.Grouping(c.circuits); math.Abs(got-c.want) > 1e-12 {
				t.Errorf("got %v, want %v", got, c.want)
			}
		})
	}
	for n := 1; n < 200; n++ {
		if conductor.Grouping(n+1) > conductor.Grouping(n) {
			t.Errorf("%d circuits may carry more each than %d", n+1, n)
		}
		// The table never asks less than the heat of one cable does of all of them.
		if got := conductor.Grouping(n); got < 1/math.Sqrt(float64(n))-1e-12 {
			t.Errorf("%d circuits: %v is below 1/√n", n, got)
		}
	}
}

func TestWorkedAmpacityExamples(t *testing.T) {
	for id, got := range map[string]unit.Ampere{
		"AMP01": conductor.Ampacity(17.5, 70, 40, 1), // 1.5 mm², B1, in 40 °C
		"AMP02": conductor.Ampacity(8.5, 70, 30, 2),  // 0.5 mm², two cables grouped
	} {
		row := reference.Where(t, reference.Rows(t, "coordination_examples.csv"), "id", id)[0]
		if !strings.EqualFold(row["unit"], "A") {
			t.Fatalf("%s is in %s", id, row["unit"])
		}
		want, tolerance := reference.Number(t, row, "expected"), reference.Number(t, row, "tolerance_pct")/100
		if math.Abs(float64(got)/want-1) > tolerance {
			t.Errorf("%s: %v, want %v A", id, got, want)
		}
	}
}

func TestNoAmpacityWithoutRoomToWarm(t *testing.T) {
	for name, got := range map[string]unit.Ampere{
		"ambient at the limit":     conductor.Ampacity(20, 70, 70, 1),
		"ambient above the limit":  conductor.Ampacity(20, 70, 85, 1),
		"limit at the table's air": conductor.Ampacity(20, 30, 10, 1),
	} {
		if got != 0 {
			t.Errorf("%s: %v", name, got)
		}
	}
}
