package study_test

import (
	"math"
	"math/rand"
	"slices"
	"strings"
	"testing"

	"farend/fuse"
	"farend/network"
	"farend/study"
	"farend/unit"
)

// flexes are the pairs of the catalogue from the thinnest to the thickest.
var flexes = []string{"cable/flex-2x0.75", "cable/flex-2x1", "cable/flex-2x1.5", "cable/flex-2x2.5", "cable/flex-2x4", "cable/flex-2x6", "cable/flex-2x10"}

// On a stiff radial feed a thicker cable brings more current through every fuse on the way, and no fuse takes longer with more: nothing ends
// later. Random leads at random lengths, bolted and pinched, at both ends of the run.
func TestAThickerCableNeverLengthensClearingOfAStiffRadialFeed(t *testing.T) {
	if testing.Short() {
		t.Skip("it proves numbers, without the race detector")
	}
	r := rand.New(rand.NewSource(5))
	shorter, ended := 0, 0
	for range 25 {
		metres := 1 + 20*r.Float64()
		f := network.Fault{Kind: network.PolesMeet, At: []string{"E1@start", "E1@end", "W2@to"}[r.Intn(3)]}
		if r.Intn(2) == 0 {
			f.Ohms = study.Pinched
		}
		before := map[string]study.Strike{}
		for _, cable := range flexes {
			_, all := strikes(t, lead(cable, metres, stiff), f)
			for name, k := range all {
				if !k.Found || len(k.Held) > 0 {
					t.Fatalf("%s, %.1f m of %s, %s: %+v", f.At, metres, cable, name, k)
				}
				was, any := before[name]
				if any && (k.Slow > was.Slow || k.Fast > was.Fast*(1+1e-9) || k.Amps < was.Amps) {
					t.Errorf("%s over %v, %.1f m of %s, %s: %v, ends within %v and not before %v; with the thinner one %v, %v and %v",
						f.At, f.Ohms, metres, cable, name, k.Amps, k.Slow, k.Fast, was.Amps, was.Slow, was.Fast)
				}
				if any && k.Slow < was.Slow {
					shorter++
				}
				if k.Slow < fuse.Never {
					ended++
				}
				before[name] = k
			}
		}
	}
	if shorter < 20 || ended < 100 {
		t.Errorf("only %d became shorter, %d ended at all", shorter, ended)
	}
}

const stiff = "limit: constant-current, limit_at: {low: 5 kA, high: 6 kA}"

// Where several feed a place, a supply at its limit shares it among them, and a thicker cable takes current away from the fuse of the other. By
// hand, with 44 A and the short at the end that both feed: W2 is 3 m of 1.5 mm² (2 × 3 × 13.3 mΩ) behind a blade of 20 A (3.4 mΩ), 83 mΩ; W3 3 m of
// 2.5 mm² (2 × 3 × 7.98 mΩ) behind one of 10 A (7.7 mΩ), 56 mΩ. W3 carries 26 A, 2.6 times its blade, which has opened within 5 s; W2 then carries 44 A, 2.2
// times the other, 5 s more. With 10 mm² (1.91 mΩ/m) W2 is 15 mΩ and carries 35 A, 1.7 times its blade: up to 50 s, for the 9 A of W3 open
// nothing; then W3 carries 44 A, and its blade opens within 0.5 s.
func TestAThickerCableMayLengthenClearingWhereSeveralFeedAPlace(t *testing.T) {
	meshed := func(cable string) unit.Second {
		text := lead(cable, 3, "limit: constant-current, limit_at: {low: 44 A, high: 46 A}")
		text = strings.Replace(text, "fuses: {A1.1: fuse/blade-10A}", "  W3: {part: cable/flex-2x2.5, length: 3 m, from: A1.2, to: E1@start}\nfuses: {A1.1: fuse/blade-20A, A1.2: fuse/blade-10A}", 1)
		_, all := strikes(t, text, network.Fault{Kind: network.PolesMeet, At: "E1@start"})
		k := all["dark opens"]
		return k.Slow
	}
	thin, thick := meshed("cable/flex-2x1.5"), meshed("cable/flex-2x10")
	if thin != 10 || thick != 50.5 {
		t.Errorf("with the thin cable it ends within %v, with the thick one within %v, want 10 s and 50.5 s", thin, thick)
	}
}

// blades are those of the catalogue from the smallest to the largest that a way takes, and inlines those in a lead.
var (
	blades  = []string{"1A", "2A", "3A", "5A", "7.5A", "10A", "15A", "20A", "25A", "30A"}
	inlines = []string{"2A", "3A", "5A", "7.5A", "10A", "15A", "20A", "25A", "30A"}
)

// On a stiff radial feed a larger fuse lets a fault behind it have more for ever, and one before it never less. Random leads at random lengths; at the
// fuse, along the way and at both ends of the run.
func TestALargerFuseNeverLowersTheSilentPowerOfAStiffRadialFeed(t *testing.T) {
	if testing.Short() {
		t.Skip("it proves numbers, without the race detector")
	}
	r := rand.New(rand.NewSource(6))
	more := 0
	for range 12 {
		text := lead(flexes[r.Intn(len(flexes))], 1+20*r.Float64(), stiff)
		for _, fuses := range []struct {
			was, as string
			sizes   []string
		}{{"fuse/blade-10A", "fuse/blade-", blades}, {"fuse/inline-maxi-30A", "fuse/inline-", inlines}} {
			before := map[string]study.Silent{}
			for _, size := range fuses.sizes {
				s := studied(t, strings.Replace(text, fuses.was, fuses.as+size, 1))
				list, err := s.Silences(t.Context(), nil)
				if err != nil || len(list) < 4 {
					t.Fatal(list, err)
				}
				for _, p := range list {
					was, any := before[p.Fault.At]
					if p.NotSure || any && p.Watts < was.Watts*(1-1e-4) {
						t.Errorf("%s with %s%s: %v, limited by %s; with the smaller one %v, by %s", p.Fault.At, fuses.as, size, p.Watts, p.LimitedBy(), was.Watts, was.LimitedBy())
					}
					if any && p.Watts > was.Watts*1.01 {
						more++
					}
					before[p.Fault.At] = p
				}
			}
		}
	}
	if more < 200 {
		t.Errorf("only %d became more", more)
	}
}

// Where several supplies meet, a fuse that opens may take away a load that was drawn past the place, and leave more room for the fault. By hand: T1
// with 5.5 V feeds E1 over the 9.7 mΩ of a blade of 10 A and 2 × 1 m of 7.98 mΩ/m; T2 with 4.8 V feeds E2, which draws 3 A in the dark; W2, 12 m of 26 mΩ/m
// in the plus with a blade of 55.5 mΩ, joins the two. Bolted at E1, T2 sends 12.6 A by W2, 6 times its blade of 2 A, which may open before the other has; then
// the fault has all 13.5 A at which W1's blade surely opens: 5.5 V − 13.5 A × 25.8 mΩ = 5.15 V, 69.6 W. A blade of 15 A there holds 13 A and opens never;
// while W1 carries 13.5 A, (5.15 V − 4.79 V)/0.33 Ω = 1.1 A of it go on to E2, and 12.4 A are left, 63.9 W.
func TestALargerFuseMayLowerTheSilentPowerWhereSuppliesMeet(t *testing.T) {
	awake := strings.Replace(strings.Replace(strings.Split(even, "\n")[1], "tape/even", "tape/awake", 1), "idle: {set: 0 mA", "idle: {set: 10 mA", 1)
	silent := func(link string) study.Silent {
		s := studied(t, `site: {coldest: 20 °C, conductors: 20 °C, metalwork: isolated}
supplies: {T1: {part: supply/own}, T2: {part: supply/low}}
runs: {E1: {tape: tape/even, pixels: 10}, E2: {tape: tape/awake, pixels: 300}}
cables:
  W1: {part: cable/flex-2x2.5, length: 1 m, from: T1, to: E1@start, fuse: fuse/inline-10A}
  W2: {part: cable/link-1x0.75, length: 12 m, from: E1@start, to: E2@start, pole: plus, fuse: fuse/inline-`+link+`}
  W3: {part: cable/flex-2x6, length: 1 m, from: T2, to: E2@start}
  W4: {part: cable/link-1x6, length: 1 m, from: E1@start, to: E2@start, pole: return}
states: {full: {}}
parts:`+even+awake+`
  supply/own: {title: own, basis: measured, source: invented, volts: 5.5 V, amps: 100 A, watts: 550 W, source_resistance: 0.1 mΩ, `+stiff+`}
  supply/low: {title: low, basis: measured, source: invented, volts: 4.8 V, amps: 100 A, watts: 480 W, source_resistance: 0.1 mΩ, `+stiff+`}
`)
		p, ok, err := s.SilentAt(t.Context(), "E1@start")
		if err != nil || !ok {
			t.Fatal(ok, err)
		}
		return p
	}
	small, large := silent("2A"), silent("15A")
	if math.Abs(float64(small.Watts)-69.6) > 0.2 || !slices.Equal(small.Opened, []string{"W2.fuse"}) || small.Guard != "W1.fuse" {
		t.Errorf("with the small blade %v past %v, limited by %s, want 69.6 W past W2.fuse", small.Watts, small.Opened, small.LimitedBy())
	}
	if math.Abs(float64(large.Watts)-63.9) > 0.2 || len(large.Opened) > 0 || large.Guard != "W1.fuse" {
		t.Errorf("with the large blade %v past %v, limited by %s, want 63.9 W past none", large.Watts, large.Opened, large.LimitedBy())
	}
}
