package parts_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"farend/internal/reference"
	"farend/parts"
)

// ISO 8820-3:2015 operating times and datasheets of three series; where editions differ the catalogue has the more careful
// one, which the notes of the table name: 1,800 s at 1.35, 0.04 s at least at 3.5, 0.15 s at 6. That type F has the times of
// type C is from memory, except where a sheet of the mini prints them.
func TestBladeGatesAreTheCarefulOnesOfTheStandard(t *testing.T) {
	curves, rows := each[parts.Curve](t, "curve"), reference.Rows(t, "fuse_blade_iso8820.csv")
	for curve, series := range map[string][]string{
		"curve/iso8820-blade":       {"C regular and F mini"},
		"curve/iso8820-blade-35-40": {"C regular 35 A and 40 A"},
		"curve/iso8820-mini":        {"C regular and F mini", "F mini"},
		"curve/iso8820-maxi":        {"E maxi (high current)"},
	} {
		seen := map[string]bool{}
		for _, r := range reference.Where(t, rows, "series", series...) {
			if !strings.HasPrefix(r["kind"], "gate") {
				continue
			}
			g := gateAt(t, curves[curve], r["multiple_of_rating"])
			seen[r["multiple_of_rating"]] = true
			if r["t_min_s"] != "" && (!g.Min.Given || float64(g.Min.Is) > reference.Number(t, r, "t_min_s")) {
				t.Errorf("%s holds %v at %v, want no more than %s s", curve, g.Min.Is, g.Multiple, r["t_min_s"])
			}
			if r["t_max_s"] != "" && (!g.Max.Given || float64(g.Max.Is) < reference.Number(t, r, "t_max_s")) {
				t.Errorf("%s opens within %v at %v, want no less than %s s", curve, g.Max.Is, g.Multiple, r["t_max_s"])
			}
			if r["status"] == "memory" && g.Min.Basis != parts.Memory {
				t.Errorf("%s at %v: a time from memory is called %s", curve, g.Multiple, g.Min.Basis)
			}
		}
		for _, g := range curves[curve].Gates {
			if !seen[fmt.Sprintf("%.1f", g.Multiple)] && !seen[plain(g.Multiple)] {
				t.Errorf("%s has a gate at %v, and the table none", curve, g.Multiple)
			}
			if curve == "curve/iso8820-mini" && g.Min.Given && g.Min.Basis != parts.Memory {
				t.Errorf("%s at %v: only maxima of the mini were read", curve, g.Multiple)
			}
		}
	}
	want := map[float64][2]float64{1.10: {360000, 0}, 1.35: {0.75, 1800}, 1.60: {0.25, 50}, 2.00: {0.15, 5}, 3.50: {0.04, 0.5}, 6.00: {0.02, 0.15}}
	for _, name := range []string{"curve/iso8820-blade", "curve/iso8820-mini"} {
		for _, g := range curves[name].Gates {
			w := want[g.Multiple]
			if name == "curve/iso8820-mini" && g.Multiple == 6 {
				w[1] = 0.1
			}
			if float64(g.Min.Is) != w[0] || float64(g.Max.Is) != w[1] {
				t.Errorf("%s at %v takes %v to %v, want %v s to %v s", name, g.Multiple, g.Min.Is, g.Max.Is, w[0], w[1])
			}
		}
	}
}

// gateAt is a curve's gate at a multiple as a table prints it.
func gateAt(t *testing.T, c *parts.Curve, multiple string) parts.Gate {
	t.Helper()
	for _, g := range c.Gates {
		if g.Multiple == value(multiple) {
			return g
		}
	}
	t.Errorf("%s has no gate at %s", c.Title, multiple)
	return parts.Gate{}
}

// The datasheet of the 40 A maxi derates it from 20 to 125 °C. No sheet of regular fuses was read, and the mini's own figures
// are kinder, so all three have the maxi's.
func TestBladeDeratingIsTheCarefulOne(t *testing.T) {
	curves := each[parts.Curve](t, "curve")
	for name, basis := range map[string]parts.Basis{"curve/iso8820-blade": parts.Memory, "curve/iso8820-blade-35-40": parts.Memory, "curve/iso8820-mini": parts.Derived, "curve/iso8820-maxi": parts.Datasheet} {
		list := curves[name].Derating
		// "40 A from -40 to 20 C" is what it may be loaded with. An element of zinc, which melts at 420 °C (419.5 °C, handbooks), needs more in
		// the cold: heat goes with the square of the current, and with how far it has to be warmed.
		if melts := math.Sqrt((420. + 40) / (420 - 20)); float64(list[0].Factor.Is) < melts || float64(list[0].Factor.Is) > 1.01*melts || list[0].At.Is != -40 {
			t.Errorf("%s begins with %v at %v", name, list[0].Factor.Is, list[0].At.Is)
		}
		for _, d := range list[1:] {
			want := scalar(t, "ambient_factor_"+plain(float64(d.At.Is))+"c")
			if math.Abs(float64(d.Factor.Is)-want) > 1e-12 || d.Factor.Basis != basis {
				t.Errorf("%s is worth %v (%s) at %v, want %v (%s)", name, d.Factor.Is, d.Factor.Basis, d.At.Is, want, basis)
			}
		}
		if len(list) != 6 {
			t.Errorf("%s has %d deratings", name, len(list))
		}
	}
	if scalar(t, "ambient_factor_mini_76c") < scalar(t, "ambient_factor_65c") || scalar(t, "ambient_factor_mini_85c") < scalar(t, "ambient_factor_85c") {
		t.Error("the mini's own figures are lower than the maxi's, and should stand")
	}
}

// A fuse's rating lies in the band of its curve, and no curve is without a fuse.
func TestEveryFuseHasACurveForItsRating(t *testing.T) {
	used, bands := map[string]bool{}, cartridgeCurves()
	for name, f := range each[parts.Fuse](t, "fuse") {
		used[f.Curve] = true
		if band := bands[f.Curve]; band != nil && (float64(f.Rating.Is) < value(band[2]) || float64(f.Rating.Is) > value(band[3])) {
			t.Errorf("%s: its curve is for %s to %s A", name, band[2], band[3])
		}
		if f.Curve == "" || f.Holder == "" {
			t.Errorf("%s has curve %q and holder %q", name, f.Curve, f.Holder)
		}
	}
	for name := range each[parts.Curve](t, "curve") {
		if !used[name] {
			t.Errorf("no fuse has %s", name)
		}
	}
}

// A band needs both ends: the highest multiple that a fuse holds for sure comes before the lowest at which it opens for sure.
func TestCurvesHoldBeforeTheyOpen(t *testing.T) {
	for name, c := range each[parts.Curve](t, "curve") {
		holds, opens := 0.0, math.Inf(1)
		for _, g := range c.Gates {
			if g.Max.Given {
				opens = min(opens, g.Multiple)
			} else {
				holds = max(holds, g.Multiple)
			}
		}
		if holds == 0 || math.IsInf(opens, 1) || holds >= opens {
			t.Errorf("%s holds up to %v and opens from %v", name, holds, opens)
		}
	}
}

// FUS04 and FUS06: where a current lies between the gates of ISO 8820-3, and what then is sure.
func TestWorkedCurrentsFallBetweenTheirGates(t *testing.T) {
	rows, curves := reference.Rows(t, "coordination_examples.csv"), each[parts.Curve](t, "curve")
	blade, maxi := links(t, "fuse/blade-")["10"], links(t, "fuse/maxi-")["40"]
	between := row(t, rows, "id", "FUS04") // a 10 A regular fuse, 18.9 A
	if m := 18.9 / float64(blade.Rating.Is); !same(m, reference.Number(t, between, "expected")) {
		t.Errorf("FUS04: %v times its rating, want %s", m, between["expected"])
	}
	low, high := gateAt(t, curves[blade.Curve], "1.6"), gateAt(t, curves[blade.Curve], "2.0")
	if note := fmt.Sprintf("so expect %v-%v s", plain(float64(high.Min.Is)), plain(float64(low.Max.Is))); !strings.Contains(between["note"], note) {
		t.Errorf("FUS04: %q is not in %q", note, between["note"])
	}
	twice := row(t, rows, "id", "FUS06") // a 40 A maxi at 200 %
	if amps := 2 * float64(maxi.Rating.Is); amps != reference.Number(t, twice, "expected") {
		t.Errorf("FUS06: %v A, want %s A", amps, twice["expected"])
	}
	g := gateAt(t, curves[maxi.Curve], "2")
	if note := fmt.Sprintf("opens within %v-%v s", plain(float64(g.Min.Is)), plain(float64(g.Max.Is))); !strings.Contains(twice["note"], note) {
		t.Errorf("FUS06: %q is not in %q", note, twice["note"])
	}
}
