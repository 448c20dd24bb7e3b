package conductor_test

import (
	"math"
	"math/rand"
	"testing"

	"farend/conductor"
	"farend/unit"
)

// law is what the network asks of an element.
type law interface {
	Eval(v, amps, slope []float64)
}

var _ law = conductor.Core{}

// exact is the tolerance, relative, where two closed forms of the same law are compared: a few roundings.
const exact = 1e-12

func at(l law, v float64) (amps, slope float64) {
	i, g := []float64{0}, []float64{0}
	l.Eval([]float64{v}, i, g)
	return i[0], g[0]
}

// pvc is 1.5 mm² PVC in conduit, two loaded conductors: 17.5 A at 30 °C (IEC 60364-5-52 table B.52.2, B1), class 5 at
// 13.3 Ω/km (IEC 60228 table 3), 100 m of it.
var pvc = conductor.Core{R20: 1.33, Iz: 17.5, Ambient: 30, Limit: 70}

func TestCoreTemperature(t *testing.T) {
	for name, c := range map[string]struct {
		core conductor.Core
		rms  unit.Ampere
		want float64 // °C
		near float64
	}{
		"no current, no warming":   {pvc, 0, 30, 1e-9},
		"rated current, its limit": {pvc, 17.5, 70, 1e-9},
		// By hand: b·x = 40/304.5 × 2.1025 = 0.27619; (30 + 234.5 × 0.27619)/(1 − 0.27619) = 94.77/0.72381.
		"1.45 times rated current":                  {pvc, 1.45 * 17.5, 130.9, 0.05},
		"rated current in its own ambient":          {conductor.Core{R20: 1, Iz: 12, Ambient: 45, Limit: 70}, 12, 70, 1e-9},
		"rated current, cross-linked":               {conductor.Core{R20: 1, Iz: 23, Ambient: 30, Limit: 90}, 23, 90, 1e-9},
		"negative current warms as a positive does": {pvc, -17.5, 70, 1e-9},
	} {
		t.Run(name, func(t *testing.T) {
			got, clamped := c.core.Temperature(c.rms)
			if clamped || math.Abs(float64(got)-c.want) > c.near {
				t.Errorf("%.3f °C (clamped %v), want %v °C", float64(got), clamped, c.want)
			}
		})
	}
}

// The balance itself: heat I²R(T) over its value at Iz equals the rise over the rise at Iz. Solved here by bisection,
// which knows nothing of the closed form.
func TestCoreTemperatureBalancesHeat(t *testing.T) {
	random := rand.New(rand.NewSource(4))
	for range 200 {
		c := conductor.Core{R20: 1, Iz: unit.Ampere(1 + 30*random.Float64()), Ambient: unit.Celsius(-20 + 70*random.Float64()), Limit: unit.Celsius(60 + 40*random.Float64())}
		rms := c.Iz * unit.Ampere(1.5*random.Float64())
		x := float64(rms / c.Iz)
		low, high := float64(c.Ambient), 159.9
		excess := func(T float64) float64 {
			return x*x*(234.5+T)/(234.5+float64(c.Limit)) - (T-float64(c.Ambient))/float64(c.Limit-c.Ambient)
		}
		got, clamped := c.Temperature(rms)
		if excess(high) > 0 {
			if !clamped && got < 159.9 {
				t.Errorf("%+v at %v: %v, but the heat still wins at 159.9 °C", c, rms, got)
			}
			continue
		}
		for range 80 {
			if middle := (low + high) / 2; excess(middle) > 0 {
				low = middle
			} else {
				high = middle
			}
		}
		if clamped || math.Abs(float64(got)-low) > 1e-6 {
			t.Errorf("%+v at %v: %.6f °C, the balance is at %.6f °C", c, rms, float64(got), low)
		}
	}
}

// Tables use T = Ta + 40 K·(I/Iz)², which takes the resistance at the limit for any current: 10 A in 1.5 mm² of 17.5 A
// at 30 °C gives 43.1 °C (derived from the ampacity tables). Below Iz the copper is colder than that and heats less, so
// the true temperature is lower; above Iz it is higher, and the simple formula errs on the wrong side.
func TestCoreAgainstTheSimpleFormula(t *testing.T) {
	simple := func(x float64) float64 { return 30 + 40*x*x }
	if got := simple(10 / 17.5); math.Abs(got-43.1) > 0.05 {
		t.Fatalf("the simple formula gives %.2f °C, the published example 43.1 °C", got)
	}
	got, _ := pvc.Temperature(10)
	if math.Abs(float64(got)-41.85) > 0.01 { // (30 + 10.058)/(1 − 0.042893)
		t.Errorf("10 A: %.3f °C, want 41.85 °C", float64(got))
	}
	for x := 0.05; x < 1.6; x += 0.05 {
		ours, _ := pvc.Temperature(unit.Ampere(17.5 * x))
		if difference := float64(ours) - simple(x); difference*(x-1) < -1e-9 {
			t.Errorf("at %.2f of Iz ours is %.2f °C, the simple formula %.2f °C", x, float64(ours), simple(x))
		}
	}
}

func TestCoreStopsAtTheClamp(t *testing.T) {
	// b·x = 1 is at x = √(304.5/40) = 2.759 times Iz: no steady state beyond, and the clamp well before.
	for name, c := range map[string]struct {
		core conductor.Core
		rms  unit.Ampere
	}{
		"no steady state, 2.76 times rated":  {pvc, 2.76 * 17.5},
		"160 °C passed, 1.6 times rated":     {pvc, 1.6 * 17.5},
		"a fault":                            {pvc, 1e9},
		"no rated current":                   {conductor.Core{R20: 1, Ambient: 30, Limit: 70}, 0},
		"ambient above the limit":            {conductor.Core{R20: 1, Iz: 10, Ambient: 75, Limit: 70}, 1},
		"ambient above the clamp":            {conductor.Core{R20: 1, Iz: 10, Ambient: 165, Limit: 180}, 1},
		"rated current that is not a number": {conductor.Core{R20: 1, Iz: unit.Ampere(math.NaN()), Ambient: 30, Limit: 70}, 1},
	} {
		t.Run(name, func(t *testing.T) {
			got, clamped := c.core.Temperature(c.rms)
			if got != conductor.Clamp || !clamped {
				t.Errorf("%v, clamped %v", got, clamped)
			}
			if r, want := float64(c.core.Resistance(c.rms)), float64(c.core.R20)*394.5/254.5; math.Abs(r/want-1) > exact {
				t.Errorf("%v Ω, want %v Ω, the value at 160 °C", r, want)
			}
		})
	}
}

func TestCoreEvalAgreesWithItsResistance(t *testing.T) {
	for _, c := range cores(300) {
		random := rand.New(rand.NewSource(int64(c.R20 * 1e6)))
		for range 20 {
			rms := unit.Ampere(40 * random.Float64() * random.Float64())
			v := float64(rms) * float64(c.Resistance(rms))
			if got, _ := at(c, v); math.Abs(got-float64(rms)) > exact*float64(rms) {
				t.Errorf("%+v: %v A × R gives back %v A", c, float64(rms), got)
			}
		}
	}
}

func TestCoreIsPassiveMonotoneAndOdd(t *testing.T) {
	for _, c := range cores(100) {
		var v []float64
		for u := 1e-6; u < 2e6; u *= 1.3 {
			v = append(v, u)
		}
		amps, slope := make([]float64, len(v)), make([]float64, len(v))
		c.Eval(v, amps, slope)
		last := 0.0
		for i, u := range v {
			if !(amps[i] > last) || !(slope[i] > 0) || math.IsInf(amps[i], 0) || math.IsInf(slope[i], 0) {
				t.Fatalf("%+v at %v V: %v A after %v A, slope %v", c, u, amps[i], last, slope[i])
			}
			last = amps[i]
			if mirror, g := at(c, -u); mirror != -amps[i] || g != slope[i] {
				t.Fatalf("%+v at −%v V: %v A, slope %v", c, u, mirror, g)
			}
		}
		if amps, slope := at(c, 0); amps != 0 || !(slope > 0) {
			t.Errorf("%+v at 0 V: %v A, slope %v", c, amps, slope)
		}
	}
}

func TestCoreSlopeIsTheDerivative(t *testing.T) {
	// A central difference over a relative step h is good to h² and to the rounding 1e-16/h: 1e-9 for h = 1e-5 with a margin.
	const step, near = 1e-5, 1e-8
	for _, c := range cores(100) {
		for u := 1e-3; u < 1e3; u *= 1.7 {
			low, g0 := at(c, u*(1-step))
			high, g1 := at(c, u*(1+step))
			_, got := at(c, u)
			if math.Abs(g0/g1-1) > 0.01 {
				continue // the step at the clamp lies between
			}
			if want := (high - low) / (2 * step * u); math.Abs(got/want-1) > near {
				t.Errorf("%+v at %v V: slope %v, difference %v", c, u, got, want)
			}
		}
	}
}

func TestCoreIsFiniteEverywhere(t *testing.T) {
	for name, c := range map[string]conductor.Core{
		"a usual core":         pvc,
		"a tiny rated current": {R20: 1, Iz: 1e-200, Ambient: 30, Limit: 70},
		"a huge rated current": {R20: 1, Iz: 1e200, Ambient: 30, Limit: 70},
		"no rated current":     {R20: 1, Ambient: 30, Limit: 70},
		"a hair under limit":   {R20: 1, Iz: 1, Ambient: 70 - 1e-12, Limit: 70},
		"ambient below copper": {R20: 1, Iz: 1, Ambient: -400, Limit: 70},
	} {
		t.Run(name, func(t *testing.T) {
			for _, u := range []float64{0, 1e-300, 1e-9, 1, 1e6, -1e6, 1e12} {
				amps, slope := at(c, u)
				if math.IsNaN(amps) || math.IsInf(amps, 0) || math.IsNaN(slope) || math.IsInf(slope, 0) || slope < 0 {
					t.Errorf("at %v V: %v A, slope %v", u, amps, slope)
				}
			}
		})
	}
}

func TestCoreEvalDoesNotAllocate(t *testing.T) {
	var l law = pvc
	v, amps, slope := []float64{1, 2, 3}, make([]float64, 3), make([]float64, 3)
	if n := testing.AllocsPerRun(100, func() { l.Eval(v, amps, slope) }); n != 0 {
		t.Errorf("%v allocations a call", n)
	}
}

// cores is so many random cores, the same every time; one in ten has no steady state at all.
func cores(n int) []conductor.Core {
	random := rand.New(rand.NewSource(1))
	all := make([]conductor.Core, n)
	for i := range all {
		all[i] = conductor.Core{
			R20:     unit.Ohm(math.Pow(10, -4+5*random.Float64())),
			Iz:      unit.Ampere(0.5 + 40*random.Float64()),
			Ambient: unit.Celsius(-20 + 85*random.Float64()),
			Limit:   unit.Celsius(70 + 20*random.Float64()),
		}
		if i%10 == 9 {
			all[i].Iz = 0
		}
	}
	return all
}
