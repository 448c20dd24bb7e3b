package supply_test

import (
	"math"
	"math/big"
	"math/rand"
	"testing"

	"farend/supply"
)

// source is a random supply, sizes as in the trade.
type source struct{ e, r, limit float64 }

func sources(n int) []source {
	random := rand.New(rand.NewSource(3))
	all := make([]source, n)
	for i := range all {
		all[i] = source{3 + 45*random.Float64(), math.Pow(10, -4+3*random.Float64()), 1 + 100*random.Float64()}
	}
	return all
}

func TestCurrentMeetsItsClosedLimits(t *testing.T) {
	for _, s := range sources(200) {
		drop := s.r * s.limit
		soft := 0.001 * drop
		for name, c := range map[string]struct{ v, want float64 }{
			"far in the limit":        {s.e - 3*drop, s.limit},
			"at the set point":        {s.e, 0.001 * s.limit * math.Ln2}, // ε·ln 2/r
			"mid of the straight":     {s.e - drop/2, s.limit / 2},
			"a quarter down":          {s.e - drop/4, s.limit / 4},
			"at the corner of limit":  {s.e - drop, s.limit * (1 - 0.001*math.Ln2)},
			"40 widths above":         {s.e + 40*soft, 0},
			"far above the set point": {s.e + 1e6, 0},
			"far below nought":        {-1e6, s.limit},
		} {
			// e − v is rounded to an ulp of e; over r that is the most these may differ, apart from a few ulp of limit.
			near := 1e-15*(math.Abs(c.v)+s.e)/s.r + 1e-12*s.limit
			if got, _ := supply.Current(s.e, c.v, s.r, s.limit); math.Abs(got-c.want) > near {
				t.Errorf("%+v, %s: %v A, want %v A", s, name, got, c.want)
			}
		}
		// Bolted short at the terminals: the limit, as long as the straight part ends above 0 V.
		if got, slope := supply.Current(s.e, 0, s.r, s.limit); drop < 0.9*s.e && (math.Abs(got/s.limit-1) > 1e-12 || slope > 0) {
			t.Errorf("%+v shorted: %v A, slope %v", s, got, slope)
		}
	}
}

// The definition as it is written, in 400-bit arithmetic: math/big has no exponential, so e^x is summed as a series.
func TestCurrentMeetsTheDefinitionInLongArithmetic(t *testing.T) {
	for _, s := range sources(6) {
		drop := s.r * s.limit
		for _, f := range []float64{-0.02, -0.004, -0.001, 0, 0.0005, 0.003, 0.2, 0.7, 0.998, 1, 1.003, 1.01} {
			v := s.e - f*drop
			want := definition(s.e-v, s.r, s.limit)
			got, _ := supply.Current(s.e, v, s.r, s.limit)
			// Two roundings of x/ε, at most 1000, turn up as 1e-13 of the current.
			if math.Abs(got-want) > 1e-12*math.Abs(want)+1e-18*s.limit {
				t.Errorf("%+v at E − %v drops: %.17g A, want %.17g A", s, f, got, want)
			}
		}
	}
}

func definition(x, r, limit float64) float64 {
	const bits = 400
	number := func(v float64) *big.Float { return new(big.Float).SetPrec(bits).SetFloat64(v) }
	soft := 0.001 * (r * limit)
	sigma := func(x *big.Float) *big.Float {
		q := new(big.Float).SetPrec(bits).Quo(x, number(soft))
		return q.Mul(logOf(q.Add(number(1), expOf(q, bits)), bits), number(soft))
	}
	low := new(big.Float).SetPrec(bits).Sub(number(x), number(r*limit))
	difference := new(big.Float).SetPrec(bits).Sub(sigma(number(x)), sigma(low))
	got, _ := difference.Quo(difference, number(r)).Float64()
	return got
}

// expOf is e^x: halved until small, summed, squared back.
func expOf(x *big.Float, bits uint) *big.Float {
	const halvings = 20
	small := new(big.Float).SetPrec(bits).SetMantExp(x, -halvings)
	sum, term := big.NewFloat(1).SetPrec(bits), big.NewFloat(1).SetPrec(bits)
	for n := 1; n < 120; n++ {
		term.Mul(term, small)
		term.Quo(term, big.NewFloat(float64(n)).SetPrec(bits))
		sum.Add(sum, term)
	}
	for range halvings {
		sum.Mul(sum, sum)
	}
	return sum
}

// logOf is ln y by Newton on e^w = y, from the double's logarithm; y may be far beyond a double's range.
func logOf(y *big.Float, bits uint) *big.Float {
	mantissa := new(big.Float)
	exponent := y.MantExp(mantissa)
	m, _ := mantissa.Float64()
	w := big.NewFloat(math.Log(m) + float64(exponent)*math.Ln2).SetPrec(bits)
	for range 6 {
		e := expOf(w, bits)
		step := new(big.Float).SetPrec(bits).Quo(new(big.Float).SetPrec(bits).Sub(y, e), e)
		w.Add(w, step)
	}
	return w
}

func TestCurrentIsMonotoneBoundedAndFinite(t *testing.T) {
	for _, s := range sources(100) {
		drop := s.r * s.limit
		last := math.Inf(1)
		for f := -1.5; f < 2.5; f += 0.0007 {
			v := s.e - drop + f*drop
			got, slope := supply.Current(s.e, v, s.r, s.limit)
			// Rounding of e − v may lift a step of the flat parts by an ulp.
			if got > last+1e-15*(s.e/s.r+s.limit) || got < 0 || got > s.limit*(1+exact) || slope > 0 || slope < -1/s.r*(1+exact) {
				t.Fatalf("%+v at %v V: %v A after %v A, slope %v", s, v, got, last, slope)
			}
			last = got
		}
	}
	for _, s := range []source{{5, 1e-3, 84}, {5, 0, 84}, {5, -1, 84}, {0, 1e-3, 84}, {5, 1e-3, 0}, {5, 1e-3, -4}, {5, 1e-3, 1e-9}, {5, 1e3, 1e9}} {
		for _, v := range []float64{-1e6, -1, 0, 4.9, 5, 5.1, 1e6} {
			got, slope := supply.Current(s.e, v, s.r, s.limit)
			if math.IsNaN(got) || math.IsInf(got, 0) || math.IsNaN(slope) || math.IsInf(slope, 0) || got < 0 || slope > 0 {
				t.Errorf("%+v at %v V: %v A, slope %v", s, v, got, slope)
			}
		}
	}
}

func TestCurrentSlopeIsTheDerivative(t *testing.T) {
	for _, s := range sources(50) {
		drop := s.r * s.limit
		// In steps of h widths ε a central difference errs by h²/24 of the slope's own curvature scale, and by the
		// rounding of e − v: together below 1e-5 of the largest slope 1/r.
		step := 1e-3 * 0.001 * drop
		near := (1e-6 + 1e-15*(s.e+drop)/step) / s.r
		for f := -0.01; f < 1.02; f += 0.00037 {
			v := s.e - f*drop
			low, _ := supply.Current(s.e, v-step, s.r, s.limit)
			high, _ := supply.Current(s.e, v+step, s.r, s.limit)
			_, got := supply.Current(s.e, v, s.r, s.limit)
			if want := (high - low) / ((v + step) - (v - step)); math.Abs(got-want) > near {
				t.Fatalf("%+v at %v V: slope %v, difference %v", s, v, got, want)
			}
		}
	}
}

func TestSourceResistanceIsAtLeastThatOfAJoint(t *testing.T) {
	got, _ := supply.Current(5, 5-4e-4, 0, 80) // straight part of 80 A × 10 µΩ = 0.8 mV, halfway down
	if math.Abs(got-40) > 1e-9 {
		t.Errorf("%v A, want 40 A over 10 µΩ", got)
	}
}
