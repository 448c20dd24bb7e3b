package network_test

import (
	"testing"

	"farend/fuse"
	"farend/network"
	"farend/parts"
	"farend/unit"
)

// A regular blade fuse of 7.5 A: at 1.35 times its rating, 10.125 A, it has opened within 1,800 s (ISO 8820-3, the most careful
// edition), at twice its rating, 15 A, it holds 0.15 s and has opened within 5 s; up to 1.1 times, 8.25 A, it holds for ever. At
// 65 °C it has 85 % of its rating (34 of 40 A: sheet of a maxi fuse).
func TestCurveIsThatOfThePart(t *testing.T) {
	library := parts.Catalogue()
	part, _ := parts.Get[parts.Fuse](library, "fuse/blade-7.5A")
	curve, ok := network.Curve(library, part)
	if !ok {
		t.Fatal("a blade fuse has no curve")
	}
	band := curve.Band(part.Rating.Is, 20)
	if opens, holds := band.Opens(15), band.Holds(15); opens != 5 || holds != 0.15 {
		t.Errorf("15 A: holds %v and opens within %v, want 0.15 s and 5 s", holds, opens)
	}
	if got := band.Opens(10.125); got != 1800 {
		t.Errorf("10.125 A: opens within %v, want 1800 s", got)
	}
	if band.Carries() != 8.25 || band.Lasting(9) != fuse.MayOpen {
		t.Errorf("it carries %v and at 9 A it is %v, want 8.25 A and MayOpen", band.Carries(), band.Lasting(9))
	}
	if warm := curve.Band(part.Rating.Is, 65).Rating; warm != 0.85*7.5 {
		t.Errorf("in air of 65 °C its rating is %v, want 6.375 A", warm)
	}
}

// Nothing that a part states is lost on the way, for any fuse of the catalogue.
func TestCurveLosesNothing(t *testing.T) {
	library := parts.Catalogue()
	seen := 0
	for _, name := range library.Names("fuse") {
		part, _ := parts.Get[parts.Fuse](library, name)
		stated, known := parts.Get[parts.Curve](library, part.Curve)
		curve, ok := network.Curve(library, part)
		if ok != known {
			t.Errorf("%s: a curve is %v, its part names one: %v", name, ok, known)
		}
		if !known {
			continue
		}
		seen++
		if len(curve.Gates) != len(stated.Gates) || len(curve.Derating) != len(stated.Derating) {
			t.Fatalf("%s: %d gates and %d deratings of %d and %d", name, len(curve.Gates), len(curve.Derating), len(stated.Gates), len(stated.Derating))
		}
		for i, g := range stated.Gates {
			if got := curve.Gates[i]; got.Multiple != g.Multiple || (got.Holds > 0) != (g.Min.Is > 0) || got.Holds != g.Min.Is || (got.Opens > 0) != g.Max.Given || got.Opens != g.Max.Is {
				t.Errorf("%s gate %d: %+v", name, i+1, got)
			}
		}
		for i, d := range stated.Derating {
			if got := curve.Derating[i]; got.At != d.At.Is || unit.Ratio(got.Factor) != d.Factor.Is {
				t.Errorf("%s derating %d: %+v", name, i+1, got)
			}
		}
	}
	if seen < 20 {
		t.Errorf("only %d fuses have a curve", seen)
	}
	if _, ok := network.Curve(library, &parts.Fuse{}); ok {
		t.Error("a fuse without a curve has one")
	}
}
