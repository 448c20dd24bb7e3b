package commission_test

import (
	"math"
	"strings"
	"testing"
)

// Full drive is tried only where every number allows it. By hand: 60 pixels take 12.5 mA each, and the band is 25 % of 12 mA and 50 % of 0.5 mA.
func TestFullDrive(t *testing.T) {
	without := of(t, read(t, byHand))
	if s := step(t, without, "Leave it out", "full on"); !strings.Contains(s.Do, "rails of E1 may carry is not known") {
		t.Error(s.Do)
	}
	known := strings.Replace(byHand, "rail: 100 mΩ/m", "rail: 100 mΩ/m\n    rail_amps: 3 A\n    rail_rise: 10 K", 1)
	s := step(t, of(t, read(t, known)), "T1: amperes", "full on")
	if r := s.Reading; r == nil || math.Abs(r.Is-0.75) > 1e-4 || math.Abs(r.Low-(60*9.25e-3*0.975-0.05)) > 1e-4 || math.Abs(r.High-(60*15.75e-3*1.025+0.05)) > 1e-4 {
		t.Errorf("full drive: %+v", s)
	}
	// With the cap failed up to 60 × (1.25 × 12 mA + 1.5 × 0.5 mA) flow, through contacts that are for less.
	weak := strings.Replace(known, "length: 2 m, from: A1.1", "length: 2 m, ends: {from: connector/own}, from: X1", 1)
	weak = strings.Replace(weak, "fuses: {", "  W3: {part: cable/flex-2x2.5, length: 1 m, from: A1.1, to: X1}\njunctions: {X1: {part: junction/own}}\ncontactors: {Q1: {part: relay/own, in: W1}}\nfuses: {", 1)
	weak += "  connector/own: {title: own, amps: 700 mA, resistance: 2 mΩ}\n  junction/own: {title: own, amps: 600 mA, resistance: 1 mΩ, ways: 3}\n  relay/own: {title: own, amps: 500 mA}\n"
	out := step(t, of(t, read(t, weak)), "Leave it out", "full on")
	for _, want := range []string{"The connector connector/own of W2 would carry 945 mA, and is for 700 mA.", "A contact of X1 would carry 945 mA, and is for 600 mA.", "The contact of Q1 would carry 945 mA, and is for 500 mA."} {
		if !strings.Contains(out.Do, want) {
			t.Errorf("%q does not say %q", out.Do, want)
		}
	}
	small := strings.Replace(known, "rating: 5 A", "rating: 500 mA", 1)
	if s := step(t, of(t, read(t, small)), "Leave it out", "full on"); !strings.Contains(s.Do, "fuse of A1.1 would carry") {
		t.Error(s.Do)
	}
}

// Whatever carries the current decides, each by itself and for the reason that is said. By hand 60 × (1.25 × 12 mA + 1.5 × 0.5 mA) = 945 mA flow with
// the cap failed: what is for 950 mA bears them, what is for 940 mA does not.
func TestWhatForbidsFullDrive(t *testing.T) {
	const parts = `  board/own: {title: own, inlet: {amps: inlet, resistance: 0.8 mΩ}, ways: {1: {amps: way, resistance: 1.5 mΩ, holder: blade}}}
  fuse/held: {title: own, rating: link, resistance: 10 mΩ, holder: inline, seat: connector/seat}
  connector/seat: {title: own, amps: seat, resistance: 2 mΩ}
  connector/plug: {title: own, amps: plug, resistance: 2 mΩ}
  cable/own: {title: own, cores: 2, area: 2.5 mm², class: 5, r20: 7.98 Ω/km, insulation: 70 °C, iz: core}
`
	text := strings.NewReplacer("board/four-way-two-port", "board/own", "{part: cable/flex-2x4, length: 1 m, ", "{part: cable/own, length: 1 m, fuse: fuse/held, ends: {from: connector/plug}, ",
		"rating: 5 A", "rating: fuse", "rail: 100 mΩ/m", "rail: 100 mΩ/m\n    rail_amps: rail\n    rail_rise: 10 K").Replace(byHand) + parts
	for rated, says := range map[string]string{
		"inlet": "The inlet of A1 would carry 945 mA, and is for 940 mA.",
		"way":   "A1.1 would carry 945 mA, and is for 940 mA.",
		"fuse":  "The fuse of A1.1 would carry 945 mA, and is for 940 mA.",
		"link":  "The fuse of W1 would carry 945 mA, and is for 940 mA.",
		"seat":  "The fuse holder of W1 would carry 945 mA, and is for 940 mA.",
		"plug":  "The connector connector/plug of W1 would carry 945 mA, and is for 940 mA.",
		"core":  "W1 would carry 945 mA, and may carry 940 mA.",
		"rail":  "The rails of E1 would carry 945 mA, and may carry 940 mA at the lower end of the spread.",
		"none":  "Cap off, every channel of every run full on, a minute by the clock; one person at the switch",
	} {
		own := text
		for _, name := range []string{"inlet", "way", "fuse", "link", "seat", "plug", "core", "rail"} {
			amps := "950 mA"
			if name == rated {
				amps = "940 mA"
			}
			own = strings.NewReplacer("amps: "+name, "amps: "+amps, "rating: "+name, "rating: "+amps, "iz: "+name, "iz: "+amps).Replace(own)
		}
		if rated != "none" {
			says = "Leave it out. " + says
		}
		if s := step(t, of(t, read(t, own)), "", "full on"); s.Do != says {
			t.Errorf("%s: %q", rated, s.Do)
		}
	}
}

// Things of which the same is to be said are named in one sentence, and none is left out: three runs alike, the fuses and plugs of two too small for their
// 945 mA, and the fuse of the third too small by less.
func TestWhatForbidsFullDriveIsSaidOnce(t *testing.T) {
	const run, cable = "{tape: tape/own, pixels: 60}", "{part: cable/flex-2x2.5, length: 2 m, from: "
	text := strings.NewReplacer("E1: "+run, "E1: "+run+", E2: "+run+", E3: "+run, "rating: 5 A", "rating: 500 mA", "rail: 100 mΩ/m", "rail: 100 mΩ/m\n    rail_amps: 800 mA\n    rail_rise: 10 K",
		"from: A1.1, to: E1@start", "from: A1.1, to: E1@start, ends: {from: connector/own}",
		"fuses: {", "  W3: "+cable+"A1.2, to: E2@start, ends: {from: connector/own, to: connector/own}}\n  W4: "+cable+"A1.3, to: E3@start}\nfuses: {A1.2: fuse/own, A1.3: fuse/more, ").Replace(byHand) +
		"  connector/own: {title: own, amps: 500 mA, resistance: 2 mΩ}\n  fuse/more: {title: own, rating: 600 mA, resistance: 10 mΩ}\n"
	want := "Leave it out. The fuses of A1.1, A1.2 would carry 945 mA each, and are for 500 mA. The fuse of A1.3 would carry 945 mA, and is for 600 mA. " +
		"The connectors connector/own of W2, W3 would carry 945 mA each, and are for 500 mA. The rails of E1, E2, E3 would carry 945 mA each, and may carry 800 mA at the lower end of the spread."
	if s := step(t, of(t, read(t, text)), "", "full on"); s.Do != want {
		t.Error(s.Do)
	}
}

// A supply that comes to its limit forbids full drive too, and so does what is not known or not there.
func TestFullDriveBeyondWhatIsKnown(t *testing.T) {
	limited := strings.Replace(byHand, "supply/5v-200w", "supply/own", 1) + "  supply/own: {title: own, volts: 5 V, amps: 500 mA, watts: 2.5 W, source_resistance: 5 mΩ, limit: constant-current, limit_at: {low: 600 mA, high: 700 mA}}\n"
	for text, want := range map[string]string{
		limited: "Leave it out. T1 would reach the limit.",
		strings.Replace(byHand, "board/four-way-two-port", "choose", 1): "Leave it out. A1 is not chosen.",
		odd["a supply"]: "Leave it out. There is nothing to drive.",
	} {
		if s := step(t, of(t, read(t, text)), "", "full on"); s.Do != want {
			t.Errorf("%q, should be %q", s.Do, want)
		}
	}
}

// Where full drive is left out the heading says so, and the step what would not bear it: alike what is alike, each by itself what is not.
func TestFullDriveThatIsLeftOut(t *testing.T) {
	for name, want := range map[string]string{
		"footbridge":     "The fuse of W1 would carry 31.6 A, and holds 28.5 A in the hottest air.",
		"library-atrium": "The fuses of W30, W40, W50, W60 would carry 11.7 A each, and hold 9.67 A in the hottest air. The fuses of A1.1, A1.2, A1.4, A1.5 would carry 2.44 A each, and hold 1.93 A in the hottest air. The fuses of A1.3, A1.6 would carry 2.43 A each, and hold 1.93 A in the hottest air. ",
	} {
		for _, g := range example(t, name).p.Stages {
			if strings.HasPrefix(g.Name, "Full drive") && (g.Name != "Full drive: not done here" || !strings.Contains(g.Steps[0].Do, want)) {
				t.Errorf("%s: %+v", name, g)
			}
		}
	}
}

// Where full drive is left out the cap is still seen to act, by what the same installation gave in its fullest state. By hand 60 pixels of 12 mA and 0.5 mA
// each: at 50 % they take 6.5 mA, at a cap of 80 % 10.1 mA, which is 1.55 times as much, and 12.5 mA where the cap does not act, 1.92 times as much.
func TestTheCapIsSeenToAct(t *testing.T) {
	capped := strings.Replace(byHand, "states:", "aims: {cap: 80 %}\nstates:", 1)
	capped = strings.Replace(capped, "states: {full: {level: 100 %", "states: {full: {level: 50 %", 1)
	s := step(t, of(t, read(t, capped)), "The cap of 80 %", "with the cap")
	if s.Expect != "about 1.55 times the amperes of full where it acts, 1.92 times where it does not" {
		t.Error(s.Expect)
	}
	for _, g := range of(t, read(t, strings.Replace(capped, "rating: 5 A", "rating: 500 mA", 1))).Stages {
		if strings.HasPrefix(g.Name, "Full drive") && (g.Live || len(g.Steps) != 1) {
			t.Errorf("a fuse that does not bear it: %+v", g)
		}
	}
}
