package line_test

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"farend/internal/reference"
	"farend/line"
)

// number reads the number at the head of a text such as "25 ohm" or "3.5 us".
func number(t *testing.T, text string) float64 {
	t.Helper()
	head, _, _ := strings.Cut(text, " ")
	x, err := strconv.ParseFloat(head, 64)
	if err != nil {
		t.Fatalf("%q begins with no number", text)
	}
	return x
}

// Worked examples of textbooks and manuals, as they stand in line_examples.csv with their sources: the voltage at an end, or in the middle, between two
// arrivals.
func TestPublishedReflections(t *testing.T) {
	rows, tried := reference.Rows(t, "line_examples.csv"), 0
	for _, row := range rows {
		id, load := row["id"], row["load"]
		var delay float64
		if id == "hp_guide_coefficients" || id == "an807_launch" { // formulas, below
			continue
		}
		c := line.Circuit{}
		switch scale := row["one_way_delay_T"]; {
		case strings.HasSuffix(scale, " ns"):
			delay = 1e-9 * number(t, scale)
		case strings.HasSuffix(scale, " us"), strings.Contains(scale, "us to the fault"):
			delay = 1e-6 * number(t, scale)
		default:
			delay = 10e-9
		}
		c.Z0, c.Delay = 50, delay
		if row["Z0_ohm"] != "Z0" {
			c.Z0 = number(t, row["Z0_ohm"])
		}
		c.Sender.Ohms = c.Z0
		if row["Rs_ohm"] != "= Z0" {
			c.Sender.Ohms = number(t, row["Rs_ohm"])
		}
		tau := 0.0
		switch {
		case load == "short":
			c.Receiver.Ohms = 1e-9
		case load == "open":
		case strings.HasSuffix(load, "ohm"):
			c.Receiver.Ohms = number(t, load)
		case strings.HasPrefix(load, "= Z0, with a shunt fault"):
			c.Receiver.Ohms = c.Z0 / 3 // Z0/2 across Z0, where the line goes on
		case strings.Contains(load, "pF"):
			c.Receiver.Farads = 1e-12 * number(t, load)
			tau = c.Z0 * c.Receiver.Farads
			c.Delay = 4 * tau
			delay = c.Delay
		default:
			t.Fatalf("%s: load %q", id, load)
		}
		at := 0.0
		switch when := row["time"]; {
		case when == "T":
			at = delay
		case strings.HasPrefix(when, "T + "):
			times := 1.0
			if fields := strings.Fields(when); len(fields) == 4 {
				times = number(t, fields[2])
			}
			at = delay + times*tau
		case strings.HasSuffix(when, "T"):
			at = delay * number(t, strings.TrimSuffix(when, "T"))
		case strings.HasSuffix(when, " ns"):
			at = 1e-9 * number(t, when)
		case strings.HasSuffix(when, "us") && !strings.Contains(when, "to") && !strings.HasPrefix(when, "after"):
			at = 1e-6 * number(t, when)
		case when == "0 to 12 us":
			at = 6e-6
		case when == "after 12 us":
			at = 13e-6
		case when == "0":
		default:
			t.Fatalf("%s: time %q", id, when)
		}
		step := delay / 400
		if tau > 0 {
			step = tau / 2000
		} else {
			at += 0.05 * delay // between arrivals
		}
		volts := number(t, row["Vs_V"])
		w := c.Run(0, []line.Edge{{At: 0, Volts: volts}}, at+2*step, step)
		k := int(math.Round(at / w.Step))
		got := 0.0
		switch node := row["node"]; {
		case strings.HasPrefix(node, "source end"):
			got = w.Near[k]
		case node == "middle of the line": // what runs right and what runs left, half a delay after either end
			half := int(math.Round(delay / 2 / w.Step))
			got = (w.Near[k-half] + c.Z0*w.NearAmps[k-half] + w.Far[k-half] + c.Z0*w.FarAmps[k-half]) / 2
		default:
			got = w.Far[k]
		}
		tolerance := number(t, row["tolerance_V"])
		if want := number(t, row["expected_V"]); math.Abs(got-want) > tolerance {
			t.Errorf("%s, %s at %s: %.5f V, want %.5f V within %g V (%s)", id, row["node"], row["time"], got, want, tolerance, row["source"])
		}
		tried++
	}
	if tried < 45 {
		t.Errorf("only %d of %d examples were tried", tried, len(rows))
	}
}

// The reflection coefficients of the TDR guide, and the launched step of the application note, from what a step does: 5 Ω drive 50 Ω that end in 65 Ω.
func TestReflectionsAreThoseOfTheFormula(t *testing.T) {
	rows := reference.Where(t, reference.Rows(t, "line_examples.csv"), "id", "hp_guide_coefficients")
	c := line.Circuit{Line: line.Line{Z0: 50, Delay: 10e-9}, Sender: line.Sender{Ohms: 5}, Receiver: line.Receiver{Ohms: 65}}
	w := c.Run(0, []line.Edge{{At: 0, Volts: 1}}, 35e-9, 1e-10)
	at := func(list []float64, ns float64) float64 { return list[int(math.Round(ns*1e-9/w.Step))] }
	launched := at(w.Near, 1)
	if want := 50.0 / 55; math.Abs(launched-want) > 1e-9 {
		t.Errorf("%v is launched, want %v", launched, want)
	}
	atLoad := at(w.Far, 15)/launched - 1
	atSource := (at(w.Near, 25)-launched)/(launched*atLoad) - 1
	for i, got := range []float64{atLoad, atSource} {
		if want := number(t, rows[i]["expected_V"]); math.Abs(got-want) > number(t, rows[i]["tolerance_V"]) {
			t.Errorf("%s: %.4f, want %g", rows[i]["node"], got, want)
		}
	}
}

// A line at rest stays there, whatever hangs on it; and after a step it comes to rest where a divider says.
func TestALineComesToRestWhereADividerSays(t *testing.T) {
	c := line.Circuit{
		Line: line.Line{Z0: 100, Delay: 20e-9, Ohms: 4}, Sender: line.Sender{Ohms: 72, Rise: 5e-9},
		Receiver: line.Receiver{Farads: 15e-12, Ohms: 1e3, Clamps: []line.Clamp{{Volts: 4, Ohms: 20}, {Volts: -0.3, Ohms: 20, Below: true}}},
	}
	still := c.Run(3, nil, 1e-6, 1e-10)
	for _, list := range [][]float64{still.Near, still.Far} {
		if low, high := line.Extremes(list, still.Step, 0, 1e-6); high-low > 1e-12 {
			t.Errorf("at rest it is between %v and %v", low, high)
		}
	}
	if want := 3 * 1000.0 / 1076; math.Abs(still.Far[0]-want) > 1e-12 {
		t.Errorf("it rests at %v, want %v", still.Far[0], want)
	}
	w := c.Run(3, []line.Edge{{At: 10e-9, Volts: 5}}, 4e-6, 1e-10)
	last := len(w.Far) - 1
	want := (5.0/76 + 4.0/20) / (1.0/76 + 1.0/1000 + 1.0/20) // the upper clamp conducts
	if math.Abs(w.Far[last]-want) > 1e-9 || math.Abs(w.Near[last]-(5-72*w.NearAmps[last])) > 1e-9 || math.Abs(w.NearAmps[last]+w.FarAmps[last]) > 1e-9 {
		t.Errorf("it comes to %v, want %v; %v A go in and %v A come out", w.Far[last], want, w.NearAmps[last], -w.FarAmps[last])
	}
	if w.Far[last] != w.Far[last-1] && math.Abs(w.Far[last]-w.Far[last-1]) > 1e-12 {
		t.Error("it has not come to rest")
	}
}

// The voltage at an open end after each round trip is 2·V₁ and what comes back of it, V·(1 − (Γ)ⁿ) in closed form (a geometric series).
func TestBouncesAreAGeometricSeries(t *testing.T) {
	for _, rs := range []float64{5, 20, 100, 220, 470} {
		c := line.Circuit{Line: line.Line{Z0: 100, Delay: 10e-9}, Sender: line.Sender{Ohms: rs}}
		w := c.Run(0, []line.Edge{{At: 0, Volts: 5}}, 500e-9, 1e-10)
		gamma := (rs - 100) / (rs + 100)
		for n := 1; n < 20; n++ {
			got := w.Far[int(math.Round((float64(2*n-1)+0.5)*10e-9/w.Step))]
			if want := 5 * (1 - math.Pow(gamma, float64(n))); math.Abs(got-want) > 1e-9 {
				t.Errorf("%g Ω, arrival %d: %v, want %v", rs, n, got, want)
			}
		}
	}
}

// What is crossed, and when.
func TestCrossingsAndExtremes(t *testing.T) {
	volts := []float64{0, 0, 2, 4, 3, 1, 1, 5}
	for _, c := range []struct {
		threshold float64
		upwards   bool
		after, at float64
		ok        bool
	}{
		{1, true, 0, 1.5, true}, {3, true, 2.6, 6.5, true}, {3.5, false, 0, 3.5, true}, {1, false, 0, 5, true}, {6, true, 0, 0, false}, {-1, false, 0, 0, false}, {1, true, 1.6, 0, false},
	} {
		if at, ok := line.Cross(volts, 1, c.threshold, c.upwards, c.after); ok != c.ok || math.Abs(at-c.at) > 1e-12 {
			t.Errorf("%+v: at %v, %v", c, at, ok)
		}
	}
	if low, high := line.Extremes(volts, 1, 2, 6); low != 1 || high != 4 {
		t.Errorf("between %v and %v", low, high)
	}
	if low, high := line.Extremes(volts, 1, 100, 200); low != 5 || high != 5 {
		t.Errorf("past the end between %v and %v", low, high)
	}
}
