package fuse_test

import (
	"math"
	"math/rand"
	"testing"

	"farend/fuse"
	"farend/internal/reference"
	"farend/unit"
)

// law is what the network asks of an element.
type law interface {
	Eval(v, amps, slope []float64)
}

var _ law = fuse.Link{}

// exact is the tolerance, relative, where two closed forms of the same law are compared: a few roundings.
const exact = 1e-12

func at(l law, v float64) (amps, slope float64) {
	i, g := []float64{0}, []float64{0}
	l.Eval([]float64{v}, i, g)
	return i[0], g[0]
}

// A published way to find a current is the voltage across a fuse that carries it: the two examples with a 10 A mini
// blade fuse of 7.70 mΩ. Its drop at 10 A is 109 mV, so it is 10.9 mΩ hot (regular 10 A fuse, the same cold value).
func TestLinkMeetsPublishedDropExamples(t *testing.T) {
	link := fuse.Link{Rating: 10, Cold: 7.70e-3, Hot: 10.9e-3}
	for id, volts := range map[string]float64{"FUS01": 2.4e-3, "FUS02": 0.77e-3} {
		row := reference.Where(t, reference.Rows(t, "coordination_examples.csv"), "id", id)[0]
		want, tolerance := reference.Number(t, row, "expected"), reference.Number(t, row, "tolerance_pct")/100
		if got, _ := at(link, volts); math.Abs(got/want-1) > tolerance {
			t.Errorf("%s: %.4f A, want %v A", id, got, want)
		}
	}
}

func TestLinkMeetsPublishedResistanceAndDrop(t *testing.T) {
	rows := reference.Where(t, reference.Rows(t, "fuse_blade_iso8820.csv"), "series", "C regular")
	drops := map[string]map[string]string{}
	for _, row := range reference.Where(t, rows, "kind", "voltage_drop_typ") {
		drops[row["rating_a"]] = row
	}
	for _, row := range reference.Where(t, rows, "kind", "cold_resistance_typ") {
		drop, ok := drops[row["rating_a"]]
		if !ok {
			t.Fatalf("%s A has a cold resistance and no drop", row["rating_a"])
		}
		t.Run(row["rating_a"]+" A, "+row["status"], func(t *testing.T) {
			rating := reference.Number(t, row, "rating_a")
			cold, volts := reference.Number(t, row, "value")/1e3, reference.Number(t, drop, "value")/1e3
			link := fuse.Link{Rating: unit.Ampere(rating), Cold: unit.Ohm(cold), Hot: unit.Ohm(volts / rating)}
			if got, _ := at(link, volts); math.Abs(got/rating-1) > exact {
				t.Errorf("the published drop of %v V gives %v A, want the rating", volts, got)
			}
			if _, slope := at(link, 0); math.Abs(slope*cold-1) > exact {
				t.Errorf("cold slope is 1/%v Ω, want 1/%v Ω", 1/slope, cold)
			}
			// Anywhere between, the drop lies between the cold resistance's and the hot one's, and nearer the cold one's
			// at half the rating: a quarter of the heat.
			half := rating / 2
			if got, want := half*float64(link.Resistance(unit.Ampere(half))), half*(cold+(volts/rating-cold)/4); math.Abs(got/want-1) > exact {
				t.Errorf("drop at half the rating %v V, want %v V", got, want)
			}
			// "About 1.4 times cold R" (the note of every row), as far as one figure says: the hot end is from the datasheet.
			if ratio := volts / rating / cold; ratio < 1.2 || ratio > 1.75 {
				t.Errorf("hot over cold is %.2f: this pair of rows does not belong to one fuse", ratio)
			}
		})
	}
}

func TestLinkResistance(t *testing.T) {
	five := fuse.Link{Rating: 5, Cold: 18e-3, Hot: 26e-3}
	for name, c := range map[string]struct {
		link fuse.Link
		rms  unit.Ampere
		want float64 // ohm
	}{
		"no current":            {five, 0, 18e-3},
		"half the rating":       {five, 2.5, 20e-3},
		"the rating":            {five, 5, 26e-3},
		"beyond the rating":     {five, 50, 26e-3},
		"the other way":         {five, -5, 26e-3},
		"hot below cold":        {fuse.Link{Rating: 5, Cold: 18e-3, Hot: 7e-3}, 5, 18e-3},
		"no hot value":          {fuse.Link{Rating: 5, Cold: 18e-3}, 5, 18e-3},
		"no resistance at all":  {fuse.Link{Rating: 5}, 5, 10e-6},
		"no rating, no current": {fuse.Link{Cold: 18e-3, Hot: 26e-3}, 0, 26e-3},
	} {
		t.Run(name, func(t *testing.T) {
			if got := float64(c.link.Resistance(c.rms)); math.Abs(got/c.want-1) > exact {
				t.Errorf("%v Ω, want %v Ω", got, c.want)
			}
		})
	}
}

func TestLinkEvalAgreesWithItsResistance(t *testing.T) {
	random := rand.New(rand.NewSource(2))
	for _, l := range links(300) {
		for range 20 {
			amps := float64(l.Rating) * 3 * random.Float64() * random.Float64()
			v := amps * float64(l.Resistance(unit.Ampere(amps)))
			if got, _ := at(l, v); math.Abs(got-amps) > exact*amps {
				t.Errorf("%+v: %v A × R gives back %v A", l, amps, got)
			}
		}
	}
}

func TestLinkIsPassiveMonotoneOddAndFinite(t *testing.T) {
	odd := []fuse.Link{{}, {Rating: 1e-200, Cold: 1e-3, Hot: 2e-3}, {Rating: 1e200, Cold: 1e-3, Hot: 2e-3}, {Rating: 5, Cold: 1e-3, Hot: 1e-3 + 1e-18}, {Rating: 5, Hot: 1}}
	for _, l := range append(links(100), odd...) {
		if amps, slope := at(l, 0); amps != 0 || !(slope > 0) {
			t.Errorf("%+v at 0 V: %v A, slope %v", l, amps, slope)
		}
		last := 0.0
		for u := 1e-9; u < 2e6; u *= 1.3 {
			amps, slope := at(l, u)
			if !(amps > last) || !(slope > 0) || math.IsInf(amps, 0) || math.IsInf(slope, 0) {
				t.Fatalf("%+v at %v V: %v A after %v A, slope %v", l, u, amps, last, slope)
			}
			last = amps
			if mirror, g := at(l, -u); mirror != -amps || g != slope {
				t.Fatalf("%+v at −%v V: %v A, slope %v", l, u, mirror, g)
			}
		}
	}
}

func TestLinkSlopeIsTheDerivative(t *testing.T) {
	// A central difference over a relative step h is good to h² and to the rounding 1e-16/h: 1e-9 for h = 1e-5 with a margin.
	const step, near = 1e-5, 1e-8
	for _, l := range links(100) {
		for u := 1e-5; u < 10; u *= 1.3 {
			low, g0 := at(l, u*(1-step))
			high, g1 := at(l, u*(1+step))
			_, got := at(l, u)
			if math.Abs(g0/g1-1) > 0.001 {
				continue // the step at rated current lies between
			}
			if want := (high - low) / (2 * step * u); math.Abs(got/want-1) > near {
				t.Errorf("%+v at %v V: slope %v, difference %v", l, u, got, want)
			}
		}
	}
}

func TestLinkEvalDoesNotAllocate(t *testing.T) {
	var l law = fuse.Link{Rating: 5, Cold: 18e-3, Hot: 26e-3}
	v, amps, slope := []float64{1e-3, 0.1, 3}, make([]float64, 3), make([]float64, 3)
	if n := testing.AllocsPerRun(100, func() { l.Eval(v, amps, slope) }); n != 0 {
		t.Errorf("%v allocations a call", n)
	}
}

// links is so many random links, the same every time; one in ten does not warm.
func links(n int) []fuse.Link {
	random := rand.New(rand.NewSource(1))
	all := make([]fuse.Link, n)
	for i := range all {
		cold := math.Pow(10, -3+2*random.Float64())
		all[i] = fuse.Link{Rating: unit.Ampere(1 + 40*random.Float64()), Cold: unit.Ohm(cold), Hot: unit.Ohm(cold * (1 + random.Float64()))}
		if i%10 == 9 {
			all[i].Hot = all[i].Cold
		}
	}
	return all
}
