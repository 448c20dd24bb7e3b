package remedy

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"farend/finding"
	"farend/internal/schemetest"
	"farend/network"
	"farend/parts"
	"farend/study"
	"farend/unit"
)

// IEC 60364-4-43 (2008), 433.1: Ib ≤ In ≤ Iz and I2 ≤ 1.45·Iz; a link is loaded to 75 % of its rating (fuse application guide). No
// fuse of the catalogue that does all that is smaller than the one taken, and where none is taken none does.
func TestTheSmallestFuseThatDoesIsTaken(t *testing.T) {
	s := schemetest.Study(t, "../examples/footbridge.scheme.yaml")
	holders := []parts.Holder{"blade", "mini", "maxi", "cartridge", "inline"}
	rapid.Check(t, func(r *rapid.T) {
		p := seat{
			holder: rapid.SampledFrom(holders).Draw(r, "holder"), load: unit.Ampere(rapid.Float64Range(0, 40).Draw(r, "load")), iz: unit.Ampere(rapid.Float64Range(1, 60).Draw(r, "iz")),
			most: unit.Ampere(rapid.Float64Range(1, 60).Draw(r, "most")), volts: unit.Volt(rapid.Float64Range(5, 60).Draw(r, "volts")), short: unit.Ampere(rapid.Float64Range(5, 2000).Draw(r, "short")),
			air: unit.Celsius(rapid.Float64Range(-10, 60).Draw(r, "air")),
		}
		name := p.smallest(s)
		best := unit.Ampere(math.Inf(1))
		for _, other := range s.Scheme.Library.Names("fuse") {
			f, _ := parts.Get[parts.Fuse](s.Scheme.Library, other)
			if does(s, p, f) {
				best = min(best, f.Rating.Is)
			}
		}
		f, taken := parts.Get[parts.Fuse](s.Scheme.Library, name)
		switch {
		case !taken && !math.IsInf(float64(best), 1):
			r.Fatalf("none is taken; one of %v would do for %+v", best, p)
		case taken && (!does(s, p, f) || f.Rating.Is != best):
			r.Fatalf("%s is taken, one of %v would do for %+v", name, best, p)
		}
	})
}

// does asks the same in the words of the sources.
func does(s *study.Study, p seat, f *parts.Fuse) bool {
	curve, known := network.Curve(s.Scheme.Library, f)
	if f.Holder != p.holder || !known {
		return false
	}
	left, stated := curve.Factor(p.air)
	if len(curve.Derating) > 0 && !stated {
		return false
	}
	carries := 0.75 * 0.95 * min(1, left) * float64(f.Rating.Is)
	i2 := curve.Band(f.Rating.Is, min(p.air, s.Scheme.Coldest())).Threshold()
	return float64(p.load) <= carries && f.Rating.Is <= p.iz && f.Rating.Is <= p.most && i2 <= 1.45*p.iz && f.VoltsMax.Is >= p.volts && f.Breaking.Is >= p.short
}

// By hand: 2 × 2.5 mm² becomes 2 × 4 mm² where that carries it: 27 A in air of 30 °C (its part states that), and √((70 − 35)/(70 − 30)) = 0.935
// of that in air of 35 °C (IEC 60364-5-52 table B.52.14), 25.26 A; else 2 × 6 mm².
func TestTheThinnestCableThatSufficesIsTaken(t *testing.T) {
	s := solved(t, row("", "from: A1.1, to: E1@start")+"site: {ambient: 35 °C}\n")
	for need, want := range map[unit.Ampere]string{1: "cable/flex-2x4", 25.2: "cable/flex-2x4", 25.3: "cable/flex-2x6", 1000: ""} {
		got := ""
		if edits := Thicker(s, "W2", need); len(edits) == 1 {
			got, _ = edits[0].Value.(string)
		}
		if got != want {
			t.Errorf("%v wants %q, and %q is taken", need, want, got)
		}
	}
}

func TestAThickerCableBringsWhatItFits(t *testing.T) {
	for _, c := range []struct {
		junction string
		need     unit.Ampere
		want     []finding.Edit
	}{
		{"junction/lever-3", 21, []finding.Edit{{Path: "/cables/W2/part", Value: "cable/flex-2x4"}}},
		{"junction/lever-small-3", 21, []finding.Edit{{Path: "/cables/W2/part", Value: "cable/flex-2x4"}, {Path: "/junctions/X1/part", Value: "junction/lever-3"}}},
		{"junction/lever-3", 30, nil}, // 6 mm² and two more cores fit no junction of the catalogue
	} {
		s := solved(t, `farend: 1
supplies: {T1: {part: supply/5v-200w}}
junctions: {X1: {part: `+c.junction+`}}
runs: {E1: {tape: tape/5v-rgb-60, pixels: 30}, E2: {tape: tape/5v-rgb-60, pixels: 30}}
cables:
  W2: {part: cable/flex-2x2.5, length: 1 m, from: T1, to: X1}
  W3: {part: cable/flex-2x2.5, length: 1 m, from: X1, to: E1@start}
  W4: {part: cable/flex-2x2.5, length: 1 m, from: X1, to: E2@start}
`)
		got := Thicker(s, "W2", c.need)
		if len(got) != len(c.want) {
			t.Errorf("%s, %v: %v", c.junction, c.need, got)
			continue
		}
		for i := range got {
			if got[i] != c.want[i] {
				t.Errorf("%s, %v: %v", c.junction, c.need, got)
			}
		}
	}
}

// A family is parts that differ in size.
func TestFamiliesDifferInSize(t *testing.T) {
	for a, b := range map[string]string{
		"cable/flex-2x1.5": "cable/flex-2x10", "cable/pair-16awg": "cable/pair-10awg", "fuse/inline-maxi-30A": "fuse/inline-maxi-40A", "junction/lever-3": "junction/lever-5", "connector/screw-4mm2": "connector/screw-7.62mm",
	} {
		if family(a) != family(b) {
			t.Errorf("%s and %s are no family", a, b)
		}
	}
	for a, b := range map[string]string{"cable/flex-2x1.5": "cable/stranded-2x1.5", "fuse/inline-30A": "fuse/inline-maxi-30A", "junction/lever-3": "junction/lever-small-3", "cable/mine": "cable/other"} {
		if family(a) == family(b) {
			t.Errorf("%s and %s are a family", a, b)
		}
	}
}
