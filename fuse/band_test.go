package fuse_test

import (
	"math"
	"math/rand"
	"strings"
	"testing"

	"farend/fuse"
	"farend/internal/reference"
	"farend/unit"
)

// gatesOf is the gates of the rows of a table, with one gate for all rows of one multiple.
func gatesOf(t *testing.T, rows []map[string]string) []fuse.Gate {
	t.Helper()
	var gates []fuse.Gate
	for _, r := range rows {
		g := fuse.Gate{Multiple: reference.Number(t, r, "multiple_of_rating")}
		if r["t_min_s"] != "" {
			g.Holds = unit.Second(reference.Number(t, r, "t_min_s"))
		}
		if r["t_max_s"] != "" {
			g.Opens = unit.Second(reference.Number(t, r, "t_max_s"))
		}
		gates = append(gates, g)
	}
	if len(gates) < 3 {
		t.Fatalf("only %d gates", len(gates))
	}
	return gates
}

// tables are the gates of every family of ISO 8820-3 and IEC 60127-2 in the reference data.
func tables(t *testing.T) map[string][]fuse.Gate {
	t.Helper()
	families := map[string][]map[string]string{}
	for _, r := range reference.Where(t, reference.Rows(t, "fuse_blade_iso8820.csv"), "kind", "gate") {
		name := "ISO 8820-3 " + r["series"]
		families[name] = append(families[name], r)
	}
	for _, r := range reference.Where(t, reference.Rows(t, "fuse_iec60127.csv"), "kind", "gate") {
		name := strings.Join([]string{"IEC 60127-2 sheet", r["sheet"], r["body"], r["rating_min_a"], r["rating_max_a"]}, " ")
		families[name] = append(families[name], r)
	}
	gates := map[string][]fuse.Gate{}
	for name, rows := range families {
		gates[name] = gatesOf(t, rows)
	}
	return gates
}

// Row by row: at each gate the edges are what the standard prints; a hair below a gate nothing of it is guaranteed yet, and a
// hair above nothing of it any more.
func TestEdgesAreTheGatesOfTheStandards(t *testing.T) {
	for name, gates := range tables(t) {
		c := fuse.Curve{Gates: gates}
		b := c.Band(10, 25)
		opens, lastHold := false, 0.0
		for i, g := range gates {
			at := unit.Ampere(10 * g.Multiple)
			opens = opens || g.Opens > 0
			if g.Opens > 0 {
				if got := b.Opens(at); got != g.Opens {
					t.Errorf("%s at %v: opens within %v, the gate says %v", name, g.Multiple, got, g.Opens)
				}
				if got := b.Opens(at * (1 - 1e-9)); got <= g.Opens {
					t.Errorf("%s just below %v: opens within %v already", name, g.Multiple, got)
				}
			}
			if g.Holds > 0 && opens {
				if got := b.Holds(at); got != g.Holds {
					t.Errorf("%s at %v: holds %v, the gate says %v", name, g.Multiple, got, g.Holds)
				}
				if got := b.Holds(at * (1 + 1e-9)); got >= g.Holds && i+1 < len(gates) {
					t.Errorf("%s just above %v: holds %v still", name, g.Multiple, got)
				}
			}
			if !opens {
				lastHold = g.Multiple
			}
		}
		if got := float64(b.Carries()) / 10; math.Abs(got-lastHold) > 1e-12 {
			t.Errorf("%s carries %v times its rating, want %v", name, got, lastHold)
		}
	}
}

// A blade of 10 A, worked by hand from the gates of ISO 8820-3 (1,800 s at 1.35: the most careful edition).
func TestABladeOfTenAmperes(t *testing.T) {
	b := (&fuse.Curve{Gates: []fuse.Gate{{1.1, 360000, 0}, {1.35, 0.75, 1800}, {1.6, 0.25, 50}, {2, 0.15, 5}, {3.5, 0.04, 0.5}, {6, 0.02, 0.15}}}).Band(10, 25)
	never := fuse.Never
	for _, c := range []struct {
		amps         unit.Ampere
		holds, opens unit.Second
		lasting      fuse.Certainty
	}{
		{0, never, never, fuse.HoldsForEver},
		{7.5, never, never, fuse.HoldsForEver},
		{11, never, never, fuse.HoldsForEver},
		{12, 0.75, never, fuse.MayOpen},
		{13.5, 0.75, 1800, fuse.SurelyOpens},
		{15, 0.25, 1800, fuse.SurelyOpens},
		{16, 0.25, 50, fuse.SurelyOpens},
		{19.9, 0.15, 50, fuse.SurelyOpens},
		{20, 0.15, 5, fuse.SurelyOpens},
		{34, 0.04, 5, fuse.SurelyOpens},
		{35, 0.04, 0.5, fuse.SurelyOpens},
		{60, 0.02, 0.15, fuse.SurelyOpens},
		{61, 0, 0.15, fuse.SurelyOpens},
		{1000, 0, 0.15, fuse.SurelyOpens},
	} {
		if b.Holds(c.amps) != c.holds || b.Opens(c.amps) != c.opens || b.Lasting(c.amps) != c.lasting {
			t.Errorf("%v: holds %v, opens %v, %v; want %v, %v, %v", c.amps, b.Holds(c.amps), b.Opens(c.amps), b.Lasting(c.amps), c.holds, c.opens, c.lasting)
		}
	}
	if b.Threshold() != 13.5 || b.Carries() != 11 {
		t.Errorf("threshold %v, carries %v", b.Threshold(), b.Carries())
	}
}

// The rating of a maxi fuse of 40 A in warm air, from its sheet (reference rows ambient_factor_*).
func TestDeratingIsThatOfTheSheet(t *testing.T) {
	var c fuse.Curve
	rows := reference.Where(t, reference.Rows(t, "fuse_blade_iso8820.csv"), "kind", "scalar")
	for _, at := range []unit.Celsius{20, 65, 85, 110, 125} {
		r := reference.Where(t, rows, "series", "ambient_factor_"+strings.TrimSuffix(strings.Fields(at.String())[0], ".0")+"c")
		c.Derating = append(c.Derating, fuse.Derate{At: at, Factor: reference.Number(t, r[0], "value")})
	}
	c.Gates = []fuse.Gate{{1, 360000, 0}, {1.35, 60, 1800}}
	for at, amps := range map[unit.Celsius]unit.Ampere{-10: 40, 20: 40, 65: 34, 85: 30, 110: 25, 125: 22, 75: 32} {
		if got := c.Band(40, at).Rating; math.Abs(float64(got-amps)) > 1e-9 {
			t.Errorf("at %v: %v, want %v", at, got, amps)
		}
	}
	if _, stated := c.Factor(126); stated {
		t.Error("beyond the warmest row the sheet is silent")
	}
	if _, stated := c.Factor(19); stated {
		t.Error("below the coldest row it is silent too")
	}
	if factor, stated := (&fuse.Curve{}).Factor(60); factor != 1 || stated {
		t.Errorf("without derating: %v, %v", factor, stated)
	}
}

// Properties that every band must have: a larger current is held no longer and opens no later; what surely holds cannot have
// opened; warmer air never makes a fuse slower; a load never makes it hold longer.
func TestBandsAreMonotone(t *testing.T) {
	r := rand.New(rand.NewSource(1))
	for name, gates := range tables(t) {
		c := fuse.Curve{Gates: gates, Derating: []fuse.Derate{{-40, 1.2}, {20, 1}, {85, 0.7}}}
		for range 500 {
			rating := unit.Ampere(math.Exp(r.Float64()*6 - 2))
			air := unit.Celsius(-50 + 150*r.Float64())
			b, warmer := c.Band(rating, air), c.Band(rating, air+unit.Celsius(30*r.Float64()))
			x := rating * unit.Ampere(12*r.Float64())
			y := x * unit.Ampere(1+r.Float64())
			if b.Opens(y) > b.Opens(x) || b.Holds(y) > b.Holds(x) {
				t.Fatalf("%s: %v opens within %v and holds %v, %v within %v and %v", name, x, b.Opens(x), b.Holds(x), y, b.Opens(y), b.Holds(y))
			}
			if b.Opens(x) < b.Holds(x) {
				t.Fatalf("%s: %v holds %v and has opened after %v", name, x, b.Holds(x), b.Opens(x))
			}
			if warmer.Opens(x) > b.Opens(x) || warmer.Holds(x) > b.Holds(x) {
				t.Fatalf("%s: warm air makes %v slower", name, x)
			}
			fast, slow := b.Estimated(x)
			if fast < b.Holds(x) && b.Holds(x) < fuse.Never && x <= b.Threshold() || slow > b.Opens(x) {
				t.Fatalf("%s: %v is estimated at %v to %v, guaranteed are %v to %v", name, x, fast, slow, b.Holds(x), b.Opens(x))
			}
			if fast > slow {
				t.Fatalf("%s: %v is estimated to hold %v and to have opened after %v", name, x, fast, slow)
			}
			if w := b.Warm(x); w < 0 || w > 1 || b.Warm(y) > w {
				t.Fatalf("%s: a load of %v leaves %v", name, x, w)
			}
		}
	}
}

// Between gates the estimate is a straight line over logarithms: halfway between 2 and 3.5 times a blade's rating its slow edge is
// the geometric mean of 5 s and 0.5 s. Beyond the last gate I²t stays: at twice 6 times, a quarter of 0.15 s.
func TestEstimatesAreStraightOverLogarithms(t *testing.T) {
	b := (&fuse.Curve{Gates: []fuse.Gate{{1.35, 0.75, 1800}, {2, 0.15, 5}, {3.5, 0.04, 0.5}, {6, 0.02, 0.15}}}).Band(1, 25)
	if _, slow := b.Estimated(unit.Ampere(math.Sqrt(2 * 3.5))); math.Abs(float64(slow)-math.Sqrt(2.5)) > 1e-12 {
		t.Errorf("halfway: %v", slow)
	}
	if fast, slow := b.Estimated(12); math.Abs(float64(slow)-0.0375) > 1e-12 || math.Abs(float64(fast)-0.005) > 1e-12 {
		t.Errorf("beyond: %v, %v", fast, slow)
	}
	if _, slow := b.Estimated(1); slow != fuse.Never {
		t.Errorf("below every gate: %v", slow)
	}
	// A resettable fuse of which only a hold current, a trip current and one test current are known: 100 h at what it holds say
	// nothing of how long it holds more.
	ptc := (&fuse.Curve{Gates: []fuse.Gate{{1, 360000, 0}, {2, 0, 3600}, {5, 0, 4}}}).Band(1, 23)
	if fast, slow := ptc.Estimated(3); fast != 0 || slow <= 4 || slow >= 3600 {
		t.Errorf("beyond what it holds: %v to %v", fast, slow)
	}
}

func TestAFuseWithoutGatesGuaranteesNothing(t *testing.T) {
	b := (&fuse.Curve{}).Band(10, 25)
	if b.Opens(1e6) != fuse.Never || b.Holds(0.1) != 0 || b.Lasting(1) != fuse.MayOpen || !math.IsInf(float64(b.Threshold()), 1) || b.Carries() != 0 {
		t.Errorf("%v, %v, %v", b.Opens(1e6), b.Holds(0.1), b.Lasting(1))
	}
}
