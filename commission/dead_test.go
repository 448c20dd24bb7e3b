package commission_test

import (
	"fmt"
	"math"
	"strings"
	"testing"
)

// A contact of which nobody says how far it varies may be as good as none, or twice as poor. By hand: two cores of 2 m, at least of 2.5 mm² of copper (1/58 Ω·mm²/m), each with 2 mΩ of a connector in it.
func TestAContactWithoutASpread(t *testing.T) {
	text := strings.Replace(byHand, "length: 2 m, from", "length: 2 m, ends: {from: connector/own}, from", 1) + "  connector/own: {title: own, amps: 20 A, resistance: 2 mΩ}\n"
	loop := step(t, of(t, read(t, text)), "W2: + to +", "all fuses out").Reading
	low, high := 4/58./2.5*0.97*234.5/254.5+2*2e-5, 4*7.98e-3*1.03*264.5/254.5+2*4e-3
	if math.Abs(loop.Is-(4*7.98e-3+4e-3)) > 1e-9 || math.Abs(loop.Low-(low*0.94-2e-4)) > 1e-9 || math.Abs(loop.High-(high*1.06+2e-4)) > 1e-9 {
		t.Errorf("%+v", loop)
	}
}

// A cut whose sides meet outside of the tape is not open however well it was made: two cables on one junction, on one way, a bridge of the positive. A fuse
// in one of them, out as all are, keeps the sides apart. What a meter charges is then all that is joined: 60 pixels of 1 µF.
func TestACutThatIsJoinedOutsideOfTheTape(t *testing.T) {
	head, tail, _ := strings.Cut(strings.Replace(byHand, "pixels: 60}", "pixels: 60, cuts: [{at: px30, pole: plus}]}", 1), "fuses: {")
	tail = "fuses: {" + strings.Replace(tail, "cut_every: 1", "cut_every: 1\n    capacitance: 1 uF", 1)
	cable := "  %s: {part: cable/flex-2x2.5, length: 1 m, from: %s, to: %s}\n"
	for _, c := range []struct{ name, more, junctions, expect, charges string }{
		{"apart", fmt.Sprintf(cable, "W3", "A1.2", "E1@px30"), "", "open; through chips it may read anything above", "30.0 µF of tape charges"},
		{"one way", fmt.Sprintf(cable, "W3", "A1.1", "E1@px30"), "", "joined by W2, W3: it reads as copper. With one of them off its terminal at least 100 Ω", "60.0 µF of tape (with 1 piece joined to it) charges"},
		{"junction", fmt.Sprintf(cable, "W3", "A1.2", "X1") + fmt.Sprintf(cable, "W4", "X1", "E1@px30-") + fmt.Sprintf(cable, "W5", "X1", "E1@px30"), "junctions: {X1: {part: junction/lever-5}}\n", "joined by W4, W5 (X1): it reads", "60.0 µF"},
		{"bridge", "  W3: {part: cable/flex-2x2.5, length: 0.1 m, from: E1@px30-, to: E1@px30, pole: plus}\n", "", "joined by W3: it reads", "60.0 µF"},
		{"fused bridge", "  W3: {part: cable/flex-2x2.5, length: 0.1 m, from: E1@px30-, to: E1@px30, pole: plus, fuse: fuse/own}\n", "", "open; through chips", "30.0 µF of tape charges"},
	} {
		p := of(t, read(t, head+c.more+c.junctions+tail))
		cut := step(t, p, "Positive cut at E1@px30", "")
		if !strings.HasPrefix(cut.Expect, c.expect) || (cut.Reading == nil) != strings.HasPrefix(c.expect, "joined") {
			t.Errorf("%s: %q, %+v", c.name, cut.Expect, cut.Reading)
		}
		if short := step(t, p, "E1, piece 1", ""); !strings.Contains(short.Expect, c.charges) {
			t.Errorf("%s: %q", c.name, short.Expect)
		}
	}
}

// A resistor in a data lead is within 5 % of what is stated: 330 Ω and 1 m of 0.5 mm² (39 Ω/km, IEC 60228 class 5), read with 1 % and three digits of 0.1 Ω.
func TestAResistorInADataLead(t *testing.T) {
	text := strings.Replace(byHand, "fuses: {", "data: {D1: {part: cable/data-3x0.5, length: 1 m, series: 330 ohm, from: A1.P1, to: E1}}\nfuses: {", 1)
	core := step(t, of(t, read(t, text)), "D1: data core through", "")
	low, high := 330*0.95+0.039*0.97*234.5/254.5, 330*1.05+0.039*1.03*264.5/254.5
	if r := core.Reading; r == nil || math.Abs(r.Is-330.039) > 1e-3 || math.Abs(r.Low-(low*0.99-0.3)) > 1e-2 || math.Abs(r.High-(high*1.01+0.3)) > 1e-2 {
		t.Errorf("%+v", r)
	}
	if !strings.Contains(core.Rests, "a resistor in the lead ±5 % (common practice, no source)") {
		t.Error(core.Rests)
	}
}

// Thin cores are let lose more in a terminal: 3.2 mV at a tenth of 17.5 A for two of 1.5 mm², 0.91 mΩ for one (IEC 60947-7-1).
func TestTheTerminalOfAThinnerCore(t *testing.T) {
	loop := step(t, of(t, read(t, strings.Replace(byHand, "flex-2x2.5", "flex-2x1.5", 1))), "W2: + to +", "all fuses out").Reading
	high := 4*13.3e-3*1.03*264.5/254.5 + 2*0.914286e-3 // 13.3 Ω/km: IEC 60228 class 5
	if math.Abs(loop.High-(high*1.06+2e-4)) > 1e-8 {
		t.Errorf("%+v", loop)
	}
}

// A core that is measured from behind its fuse holder is measured without the contact before it, and the other core with its own.
func TestTheContactBeforeAFuseHolderStaysOut(t *testing.T) {
	for end, contacts := range map[string]float64{"from": 2e-3, "to": 4e-3} {
		text := strings.Replace(byHand, "length: 2 m, from", "length: 2 m, fuse: fuse/own, fuse_at: "+end+", ends: {from: connector/own}, from", 1) + "  connector/own: {title: own, amps: 20 A, resistance: 2 mΩ}\n"
		if loop := step(t, of(t, read(t, text)), "W2: + to +", "all fuses out").Reading; math.Abs(loop.Is-(4*7.98e-3+contacts)) > 1e-9 {
			t.Errorf("fuse at %s: %+v", end, loop)
		}
	}
}

// The ground of a lead is read from its plug: by hand the core alone, 3.2 m of 39 Ω/km (IEC 60228 class 5, 0.5 mm²), without what is in the port.
func TestTheGroundOfAPluggedOffLead(t *testing.T) {
	s := step(t, example(t, "footbridge").p, "D1: ground core through", "unplugged")
	if s.Reading == nil || math.Abs(s.Reading.Is-3.2*0.039) > 1e-6 || s.Between != [2]string{"plug of D1, ground", "far end of D1, ground"} {
		t.Errorf("%+v, %+v", s, s.Reading)
	}
	for _, g := range example(t, "footbridge").p.Stages {
		for _, w := range g.Sheets {
			if w.Name == "leads" && !strings.Contains(strings.Join(w.Notes, " "), "fuse/ptc-0.75A, 400 mΩ, 250 to 825 mΩ in A1.P1, A1.P2") {
				t.Error(w.Notes)
			}
		}
	}
}

// A capacitor charges with the piece on which it is: of two at a cut one is before it and one after. By hand: 30 pixels of 1 µF, and 1000 µF that may be
// 20 % more, to 3 V by 0.1 mA.
func TestACapacitorChargesWithItsPiece(t *testing.T) {
	text := strings.NewReplacer("pixels: 60}", "pixels: 60, cuts: [{at: px30, pole: plus}]}", "cut_every: 1", "cut_every: 1\n    capacitance: 1 uF",
		"fuses: {", "  W3: {part: cable/flex-2x2.5, length: 1 m, from: A1.2, to: E1@px30}\ncapacitors: {C1: {part: capacitor/own, at: E1@px30-}, C2: {part: capacitor/own, at: E1@px30}, C3: {part: capacitor/own, at: E1@end}}\nfuses: {").Replace(byHand) +
		"  capacitor/own: {title: own, capacitance: {is: 1000 uF, spread: 20 %}, volts_max: 10 V}\n"
	p := of(t, read(t, text))
	for do, want := range map[string]string{
		"E1, piece 1": "rises for up to 36.9 s while 1.23 mF of tape and C1 charges, then stays; chips may look like a diode",
		"E1, piece 2": "rises for up to 72.9 s while 2.43 mF of tape and C2 and C3 charges, then stays; chips may look like a diode",
		"C2: ":        "the wrong way round it bursts",
	} {
		if s := step(t, p, do, "everything landed"); s.Expect != want {
			t.Errorf("%s: %q", do, s.Expect)
		}
	}
	if s := step(t, p, "E1: ", "in use"); !strings.HasSuffix(s.Do, "; discharge C1, C2, C3 through a resistor") {
		t.Error(s.Do)
	}
}
