package study_test

import (
	"fmt"
	"math"
	"math/rand"
	"slices"
	"testing"

	"farend/study"
	"farend/unit"
)

// levelled is a run of 1 A behind a return of some resistance, with a data lead whose ground is open, and something in the lead.
func levelled(t *testing.T, ohms float64, logic, lead string) *study.Study {
	t.Helper()
	return joinedBy(t, ohms, logic, "length: 1 m, ground: open"+lead)
}

// joinedBy is that with all that is said of the lead.
func joinedBy(t *testing.T, ohms float64, logic, lead string) *study.Study {
	t.Helper()
	return studied(t, fmt.Sprintf(`site: {coldest: 20 °C, conductors: 20 °C, metalwork: isolated}
supplies: {T1: {part: supply/ideal}}
boards: {A1: {part: board/sends}}
runs: {E1: {tape: tape/sure, pixels: 100}}
cables:
  W1: {part: cable/back, length: 1 m, from: T1, to: A1.in, fuse: fuse/inline-2A}
  W2: {part: cable/back, length: 1 m, from: T1, to: E1@start}
data: {D1: {part: cable/data-3x0.5, from: A1.P1, to: E1, %s}}
states: {full: {}}
parts:
  supply/ideal: {title: ideal, basis: measured, source: invented, volts: 12 V, amps: 20 A, watts: 240 W, source_resistance: 0.001 mΩ, limit: constant-current, limit_at: {low: 25 A, high: 30 A}}
  cable/back: {title: back, basis: measured, source: invented, cores: 2, area: 1 mm², class: 5, r20: %g Ω/km, insulation: 70 °C, iz: 3 A}
  buffer/twelve: {title: twelve, basis: measured, source: invented, volts: {is: 12 V, spread: 10 %%}, logic: {supply: 5 V, high: 2 V, low: 0.8 V}, high: 10.7 V, low: 0.1 V, driver: 25 Ω, rise: 5 ns}
  board/sends: {title: sends, basis: measured, source: invented, inlet: {amps: 40 A, resistance: 0.1 mΩ}, ways: {1: {amps: 20 A, resistance: 0.1 mΩ}}, ports: {P1: {high: 4.6 V, low: 0.2 V, ground: 5 mΩ}}}
  tape/sure: {title: sure, basis: measured, source: invented, volts: 12 V, volts_min: 3 V, volts_max: 13 V, pixels: 50 /m, cut_every: 1, rail: 0.001 mΩ/m, rail_amps: 30 A, phase: free, channels: {white: {set: 10 mA, lo: 1 V, hi: 2 V, soft: 0.02 V}}, idle: {set: 0 mA, lo: 1 V, hi: 2 V, soft: 0.02 V}, logic: {%s}, protocol: protocol/single-wire-800k-24}
`, lead, 1000*ohms, logic))
}

// By hand: 1 A over 0.3 Ω lifts the ground by 0.3 V. Of 4.6 V 4.3 V are left, 0.8 V over 3.5 V; a low level is at −0.1 V, 1.6 V under 1.5 V and 0.2 V over what
// the input may be driven to; and 4.3 V are 1.2 V under 5.5 V. With chips on their rails of 12 V − 0.6 V the thresholds are 70 % and 30 % of 11.4 V.
func TestMarginsByHand(t *testing.T) {
	for _, c := range []struct {
		logic, lead            string
		high, low, over, under float64
		many                   int
	}{
		{"supply: 5 V, high: 70 %, low: 30 %, over: 0.5 V, under: 0.3 V", "", 0.8, 1.6, 1.2, 0.2, 1},
		{"supply: rail, high: 70 %, low: 30 %, over: 0.5 V, under: 0.3 V", "", 4.3 - 0.7*11.4, 0.3*11.4 + 0.1, 7.6, 0.2, 1},
		{"supply: 5 V, high: 2.7 V, low: 0.7 V, over: 0.5 V, under: 0.3 V", "", 1.6, 0.8, 1.2, 0.2, 1},
		// The buffer beside the pixel reads what the port sends, 2.0 V and 0.8 V; what it sends is above the pixel's own ground: 0.1 V less than the 11.4 V of its
		// rails, for its sheet has 10.7 V at 10.8 V, and at most all of them. One beside the port sends 4.4 V and 0.1 V, at most the 5 V that it is made for.
		{"supply: rail, high: 70 %, low: 30 %, over: 0.5 V, under: 0.3 V", ", buffer: {part: buffer/twelve, at: to}", 11.3 - 0.7*11.4, 0.3*11.4 - 0.1, 0.5, 0.4, 2},
		{"supply: 5 V, high: 70 %, low: 30 %, over: 0.5 V, under: 0.3 V", ", buffer: {part: buffer/ahct-5v, at: from}", 0.6, 0.6, 0.8, 0.1, 2},
	} {
		list := levelled(t, 0.3, c.logic, c.lead).LeadMargins("D1")
		if len(list) != c.many {
			t.Fatalf("%s %s: %d links", c.logic, c.lead, len(list))
		}
		m := list[len(list)-1]
		least := func(of func(study.Margins) *study.Margin) float64 { // over both links of a buffer
			v := math.Inf(1)
			for _, m := range list {
				if at := of(m); at != nil {
					v = min(v, float64(at.Volts))
				}
			}
			return v
		}
		got := [4]float64{least(func(m study.Margins) *study.Margin { return m.High }), least(func(m study.Margins) *study.Margin { return m.Low }), float64(m.Over.Volts), float64(m.Under.Volts)}
		want := [4]float64{c.high, c.low, c.over, c.under}
		if c.many == 2 { // the buffer's own input: port to buffer
			shift := 0.0
			if c.lead == ", buffer: {part: buffer/twelve, at: to}" {
				shift = 0.3
			}
			want[0], want[1] = min(c.high, 4.6-shift-2.0), min(c.low, 0.8-(0.2-shift))
		}
		for i := range got {
			if math.Abs(got[i]-want[i]) > 1e-3 {
				t.Errorf("%s %s: margins %.4v, want %.4v", c.logic, c.lead, got, want)
				break
			}
		}
	}
}

// By hand: each run draws 1 A. Its feed has 0.3 Ω in each core at E1, which has 11.4 V then and whose ground stands 0.3 V up, and 0.1 Ω at E2, which has
// 11.8 V and stands 0.1 V up: 0.2 V below the ground of the sender. A buffer where the lead begins stands on the rails of E1, which are all that is there. It
// reads the last pixel, 11.4 V and 0 V, without a shift, and sends 11.3 V to 11.4 V and 0.1 V, which E2 sees 0.2 V higher.
func TestABufferWhereARunSendsFollowsTheRailsOfThatRun(t *testing.T) {
	s := studied(t, `site: {coldest: 20 °C, conductors: 20 °C, metalwork: isolated}
supplies: {T1: {part: supply/ideal}}
runs: {E1: {tape: tape/sure, pixels: 100}, E2: {tape: tape/sure, pixels: 100}}
cables:
  W1: {part: cable/back, length: 3 m, from: T1, to: E1@start}
  W2: {part: cable/back, length: 1 m, from: T1, to: E2@start}
data: {D1: {part: cable/data-3x0.5, from: E1, to: E2, length: 1 m, ground: open, buffer: {part: buffer/twelve, at: from}}}
states: {full: {}}
parts:
  supply/ideal: {title: ideal, basis: measured, source: invented, volts: 12 V, amps: 20 A, watts: 240 W, source_resistance: 0.001 mΩ, limit: constant-current, limit_at: {low: 25 A, high: 30 A}}
  cable/back: {title: back, basis: measured, source: invented, cores: 2, area: 1 mm², class: 5, r20: 100 Ω/km, insulation: 70 °C, iz: 3 A}
  buffer/twelve: {title: twelve, basis: measured, source: invented, volts: {is: 12 V, spread: 10 %}, logic: {supply: rail, high: 50 %, low: 0.8 V}, high: 10.7 V, low: 0.1 V, driver: 25 Ω, series: 75 Ω, rise: 5 ns}
  tape/sure: {title: sure, basis: measured, source: invented, volts: 12 V, volts_min: 3 V, volts_max: 13 V, pixels: 50 /m, cut_every: 1, rail: 0.001 mΩ/m, rail_amps: 30 A, phase: free, channels: {white: {set: 10 mA, lo: 1 V, hi: 2 V, soft: 0.02 V}}, idle: {set: 0 mA, lo: 1 V, hi: 2 V, soft: 0.02 V}, logic: {supply: rail, high: 70 %, low: 30 %, over: 0.5 V, under: 0.3 V}, protocol: protocol/single-wire-800k-24}
`)
	list := s.LeadMargins("D1")
	if len(list) != 2 || list[0].Buffer != study.ToBuffer || list[1].Buffer != study.FromBuffer || list[1].Rail == nil || list[0].Rail != nil {
		t.Fatalf("links %+v", list)
	}
	in, out := list[0], list[1]
	for _, c := range []struct {
		what string
		got  unit.Volt
		want float64
	}{
		{"high into the buffer", in.High.Volts, 11.4 - 0.5*11.4}, {"low into the buffer", in.Low.Volts, 0.8},
		{"its rails", out.Rail.Volts, 11.4},
		{"high", out.High.Volts, 11.3 + 0.2 - 0.7*11.8}, {"low", out.Low.Volts, 0.3*11.8 - (0.1 + 0.2)},
		{"over", out.Over.Volts, 11.8 + 0.5 - (11.4 + 0.2)}, {"under", out.Under.Volts, 0.1 + 0.2 + 0.3},
	} {
		if math.Abs(float64(c.got)-c.want) > 1e-3 {
			t.Errorf("%s: %v, want %.4g V", c.what, c.got, c.want)
		}
	}
	strong := 0
	for _, w := range s.Waveforms("D1") { // driver and resistor match the lead to a sixth: what arrives is nearly what is sent
		if w.Clamped || !w.Strong {
			continue
		}
		strong++
		if most := slices.Max(w.Wave.Far); most < 11.6*0.9 || most > 11.6*1.1 {
			t.Errorf("%v arrive at most, and 11.6 V are sent", unit.Volt(most))
		}
	}
	if strong == 0 {
		t.Error("no wave is followed")
	}
}

// A return of more resistance never leaves more to a high level, nor to undershoot.
func TestALongerReturnNeverImprovesTheLevelOfData(t *testing.T) {
	if testing.Short() {
		t.Skip("it proves numbers, without the race detector")
	}
	r := rand.New(rand.NewSource(3))
	for range 10 {
		high, under := unit.Volt(math.Inf(1)), unit.Volt(math.Inf(1))
		ohms := 0.01 + 0.05*r.Float64()
		for range 5 {
			m := levelled(t, ohms, "supply: 5 V, high: 70 %, low: 30 %, over: 0.5 V, under: 0.3 V", "").LeadMargins("D1")[0]
			if m.High.Volts > high || m.Under.Volts > under {
				t.Errorf("over %v Ω: %v and %v left, over less %v and %v", ohms, m.High.Volts, m.Under.Volts, high, under)
			}
			high, under = m.High.Volts, m.Under.Volts
			ohms *= 1 + r.Float64()
		}
	}
}

// A longer data lead has more resistance in its ground core, so more of the current goes home by the power return and lifts the ground of the run: the high
// level never gets better for it, whatever the two resistances are.
func TestALongerLeadNeverImprovesTheLevelOfData(t *testing.T) {
	if testing.Short() {
		t.Skip("it proves numbers, without the race detector")
	}
	r := rand.New(rand.NewSource(11))
	for range 12 {
		ohms := 0.02 * math.Pow(30, r.Float64())
		last, lead := math.Inf(1), 0.2+r.Float64()
		for range 5 {
			s := joinedBy(t, ohms, "supply: 5 V, high: 70 %, low: 30 %, over: 0.5 V, under: 0.5 V", fmt.Sprintf("length: %.3f m", lead))
			high := float64(s.LeadMargins("D1")[0].High.Volts)
			if high > last+1e-9 {
				t.Errorf("return %.3f Ω, lead %.2f m: a high level has %.6f V to spare, %.6f V with a shorter one", ohms, lead, high, last)
			}
			last, lead = high, lead*2
		}
		if free := 4.6 - ohms - 3.5; last < free-1e-3 {
			t.Errorf("return %.3f Ω: %.4f V to spare, and %.4f V with an open ground", ohms, last, free)
		}
	}
}
