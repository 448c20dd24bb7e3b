package circuit_test

import (
	"math"
	"testing"

	"farend/circuit"
)

// lit is a white 5 V pixel: three channels and the idle current.
var lit = white{{0.012, 1.787, 2.426, 0.108}, {0.012, 2.675, 3.449, 0.112}, {0.012, 2.775, 3.548, 0.112}, {0.0006, 1, 2, 0.1}}

type white []knee

func (w white) Eval(v, amps, slope []float64) {
	for i, u := range v {
		amps[i], slope[i] = 0, 0
		for _, k := range w {
			a, s := k.at(u)
			amps[i] += a
			slope[i] += s
		}
	}
}

// TestTableKeepsItsError compares a table of 2,048 cells with the sharpest law the catalogue has (5 V, knees of 90 mV)
// between the cells: 1 nA a load is what the tables are allowed, a thousandth of it is what they need.
func TestTableKeepsItsError(t *testing.T) {
	table := circuit.Tabulate(lit, 0, 6, 2048)
	worst, worstSlope := 0.0, 0.0
	for i := range 100003 {
		v := []float64{6 * float64(i) / 100003}
		var a, s, b, g [1]float64
		lit.Eval(v, a[:], s[:])
		table.Eval(v, b[:], g[:])
		worst = max(worst, math.Abs(a[0]-b[0]))
		worstSlope = max(worstSlope, math.Abs(s[0]-g[0]))
		if g[0] < 0 {
			t.Fatalf("the table falls at %g V", v[0])
		}
	}
	if worst > 1e-11 || worstSlope > 1e-7 {
		t.Errorf("error %g A, %g S", worst, worstSlope)
	}
	t.Logf("largest error %g A, %g S", worst, worstSlope)
}

func TestTableIsPassiveAndFallsBackOutside(t *testing.T) {
	for _, span := range [][2]float64{{0, 6}, {-1, 6}, {-0.37, 5.1}} {
		table := circuit.Tabulate(lit, span[0], span[1], 1000)
		var a, s, b, g [5]float64
		v := []float64{0, -3, 7, 1e6, math.Nextafter(6, 0)}
		table.Eval(v, a[:], s[:])
		lit.Eval(v, b[:], g[:])
		if a[0] != 0 {
			t.Errorf("%v: %g A at 0 V", span, a[0])
		}
		for i := 1; i < 4; i++ {
			if math.Abs(a[i]-b[i]) > 1e-15 || math.Abs(s[i]-g[i]) > 1e-15 {
				t.Errorf("%v: at %g V the table says %g, the law %g", span, v[i], a[i], b[i])
			}
		}
	}
}

// Below −5 V this law draws what it draws there, to less than rounding, and is not worked out any more; one that goes on falling is.
func TestTableKnowsWhereItsLawIsLevel(t *testing.T) {
	asked := 0
	counted := counting{lit, &asked}
	table := circuit.Tabulate(counted, -5, 5, 1000)
	var a, s, b, g [4]float64
	v := []float64{-5.1, -50, -9.9e3, -2e4}
	asked = 0
	table.Eval(v, a[:], s[:])
	if asked != 1 {
		t.Errorf("the law was asked for %d voltages, want the one beyond 10 kV", asked)
	}
	lit.Eval(v, b[:], g[:])
	for i := range v {
		if math.Abs(a[i]-b[i]) > 1e-15 || math.Abs(s[i]-g[i]) > 1e-15 {
			t.Errorf("at %g V the table says %g, the law %g", v[i], a[i], b[i])
		}
	}
	leak := circuit.Tabulate(ohms(50), -5, 5, 1000)
	if leak.Eval(v, a[:], s[:]); a[1] != -1 || s[1] != 0.02 {
		t.Errorf("50 Ω carry %g A at −50 V", a[1])
	}
}

// counting counts the voltages that a law is asked for.
type counting struct {
	white
	asked *int
}

func (c counting) Eval(v, amps, slope []float64) {
	*c.asked += len(v)
	c.white.Eval(v, amps, slope)
}

// ohms is a resistor.
type ohms float64

func (r ohms) Eval(v, amps, slope []float64) {
	for i, u := range v {
		amps[i], slope[i] = u/float64(r), 1/float64(r)
	}
}
