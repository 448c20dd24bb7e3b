package study_test

import (
	"context"
	"fmt"
	"math"
	"slices"
	"testing"

	"farend/network"
	"farend/parts"
	"farend/study"
	"farend/unit"
)

// lead is one run at the end of one lead, behind a fuse in the way and a larger one at the supply, all copper at 20 °C.
func lead(cable string, metres float64, supply string) string {
	return fmt.Sprintf(`site: {coldest: 20 °C, conductors: 20 °C, metalwork: isolated}
supplies: {T1: {part: supply/own}}
boards: {A1: {part: board/big}}
runs: {E1: {tape: tape/even, pixels: 10}}
cables:
  W1: {part: cable/flex-2x10, length: 1 m, from: T1, to: A1.in, fuse: fuse/inline-maxi-30A}
  W2: {part: %s, length: %v m, from: A1.1, to: E1@start}
fuses: {A1.1: fuse/blade-10A}
states: {full: {}}
parts:%s  supply/own: {title: own, basis: measured, source: invented, volts: 5 V, amps: 100 A, watts: 500 W, source_resistance: 0.1 mΩ, %s}
`, cable, metres, even, supply)
}

// strikes are those of one fault.
func strikes(t *testing.T, text string, f network.Fault) (*study.Study, map[string]study.Strike) {
	t.Helper()
	s := studied(t, text)
	all := map[string]study.Strike{}
	err := s.Strike(context.Background(), []network.Fault{f}, func(x study.Faulted) error {
		for _, k := range x.Strikes {
			all[string(k.Case.Kind)+" "+string(k.Case.Corner)] = k
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return s, all
}

const firm = "limit: constant-current, limit_at: {low: 110 A, high: 120 A}"

// By hand: 5 V over the 0.1 mΩ of the supply, 2 × 1 m of 1.91 mΩ/m, the 2.9 mΩ of the maxi, 0.1 mΩ for each pole of the inlet and for the
// way, the 7.7 mΩ of the blade, 2 × 5 m of 7.98 mΩ/m, and the 10 µΩ of the fault: 94.53 mΩ, 52.9 A. That is 5.29 times the 10 A of the
// blade, which holds it for 20 ms at least (the gate at 6) and has opened within 0.5 s (that at 3.5); of the maxi's 30 A it is 1.76,
// which may last 1,800 s. W2 stands (115 × 2.5)² = 82,656 A²s; the blade lets through no more than at 3.5 times its rating, 35² × 0.5 s = 613 A²s, and
// before 5 s that is the share that is used up.
func TestAShortAtTheEndOfALeadWorkedByHand(t *testing.T) {
	_, all := strikes(t, lead("cable/flex-2x2.5", 5, firm), network.Fault{Kind: network.PolesMeet, At: "E1@start"})
	const amps = 5 / (0.1e-3 + 2*1.91e-3 + 2.9e-3 + 3*0.1e-3 + 7.7e-3 + 2*5*7.98e-3 + 1e-5)
	for name, k := range all {
		within := 1e-3 // dark pixels draw nothing, lit ones next to nothing at what is left of 5 V
		if math.Abs(float64(k.Amps)/amps-1) > within {
			t.Errorf("%s: %v through the fault, want %.2f A", name, k.Amps, amps)
		}
		if len(k.Phases) != 2 || !slices.Equal(k.Phases[0].Opens, []string{"A1.1.fuse"}) || k.Slow != 0.5 || math.Abs(float64(k.Fast)/0.02-1) > 1e-3 || k.Lasts != 0 && math.Abs(float64(k.Lasts)) > 1e-6 {
			t.Errorf("%s: %+v", name, k)
		}
		at := slices.IndexFunc(k.Over, func(o study.Overstepped) bool { return o.Bearer.Name == "W2.plus" })
		if at < 0 {
			t.Errorf("%s: W2 carries %v and is not overstepped: %+v", name, k.Amps, k.Over)
			continue
		}
		w2 := k.Over[at]
		if heat := 35.0 * 35 * 0.5; math.Abs(float64(w2.Heat)/heat-1) > 3*within || math.Abs(w2.Share/(heat/82656)-1) > 3*within || w2.Lasts > 1e-6 {
			t.Errorf("%s: W2 takes %v and %.3g of what it stands, want %.0f A²s and %.3g", name, w2.Heat, w2.Share, heat, heat/82656)
		}
	}
}

// A long thin lead: 30 m of 1 mm² are 2 × 30 × 19.5 mΩ = 1.17 Ω, and 5 V over 1.185 Ω are 4.22 A. The blade of 10 A holds that for ever.
func TestAShortAtTheEndOfAThinLeadNeverEnds(t *testing.T) {
	_, all := strikes(t, lead("cable/flex-2x1", 30, firm), network.Fault{Kind: network.PolesMeet, At: "E1@start"})
	const amps = 5 / (0.1e-3 + 2*1.91e-3 + 2.9e-3 + 3*0.1e-3 + 7.7e-3 + 2*30*19.5e-3 + 1e-5)
	for name, k := range all {
		if math.Abs(float64(k.Lasts)/amps-1) > 1e-3 || !math.IsInf(float64(k.Slow), 1) || len(k.Phases) != 1 || len(k.Over) != 0 {
			t.Errorf("%s: %v lasts of %v, want %.2f A for ever: %+v", name, k.Lasts, k.Amps, amps, k.Over)
		}
	}
}

// With a supply that pulses between 40 and 44 A the short of the first lead draws 40 A, four times the blade's rating, which it surely
// opens within 0.5 s. A pulse of 1 s is long enough; one of 0.2 s is not: then the heat of many counts, 40 A × √(0.2/2) = 12.6 A, below the
// 13.5 A from which a blade of 10 A opens. Of pulses of which nothing is known, just those 13.5 A may last.
func TestPulsesEndWhatTheirHeatEnds(t *testing.T) {
	const band = ", limit_at: {low: 40 A, high: 44 A}"
	short := network.Fault{Kind: network.PolesMeet, At: "E1@start"}
	for _, x := range []struct {
		limit       string
		slow        unit.Second
		lasts       float64
		opens, ends int
	}{
		{"limit: hiccup, pulse_on: 1 s, pulse_off: 1 s" + band, 0.5, 0, 1, 2},
		{"limit: hiccup, pulse_on: 0.2 s, pulse_off: 1.8 s" + band, unit.Second(math.Inf(1)), 40 * math.Sqrt(0.1), 0, 1},
		{"limit: hiccup, pulse_on: 0.2 s, pulse_off: 0.2 s" + band, 5, 0, 1, 2}, // 28.3 A, 2.83 times: within 5 s
		{"limit: hiccup" + band, unit.Second(math.Inf(1)), 13.5, 0, 1},
		{"limit: constant-current" + band, 0.5, 0, 1, 2},
	} {
		_, all := strikes(t, lead("cable/flex-2x2.5", 5, x.limit), short)
		k := all["dark opens"]
		if k.Slow != x.slow || math.Abs(float64(k.Lasts)-x.lasts) > 1e-3 || len(k.Phases) != x.ends || len(k.Phases[0].Opens) != x.opens {
			t.Errorf("%s: within %v, %v lasts, %+v", x.limit, k.Slow, float64(k.Lasts), k.Phases)
		}
		if (x.ends == 1) != (len(k.Pulses) == 1) || !slices.Equal(k.Held, []string{"T1"}) {
			t.Errorf("%s: %v pulse, %v are at their limit", x.limit, k.Pulses, k.Held)
		}
		if through := all["dark through"]; through.Slow != 0.5 || math.Abs(float64(through.Amps)-44) > 0.01 {
			t.Errorf("%s: %v through, within %v", x.limit, through.Amps, through.Slow)
		}
	}
}

// By hand: rails of 100 mΩ/m are 0.1724 mm² of copper (17.241 nΩ·m), which (226 × 0.1724)² × ln((234.5 + 160)/(234.5 + 30)) = 607 A²s take
// from 30 to 160 °C. A short at the end of 2 m of them draws 5 V over 0.4 Ω and 33.6 mΩ more, 11.53 A; a blade of 3 A has opened within 0.5 s at
// 3.84 times its rating, and lets through no more than at 3.5 times: 10.5² × 0.5 s = 55.1 A²s, or 0.0908 of that.
func TestRailsInAShortWorkedByHand(t *testing.T) {
	text := fmt.Sprintf(`site: {conductors: 20 °C, coldest: 20 °C, metalwork: isolated, ambient: 30 °C}
supplies: {T1: {part: supply/big}}
runs: {E1: {tape: tape/thin, pixels: 100}}
cables: {W1: {part: cable/flex-2x10, length: 0.1 m, from: T1, to: E1@start, fuse: fuse/inline-3A}}
states: {full: {}}
parts:%s  tape/thin: {title: thin, basis: measured, source: invented, volts: 5 V, pixels: 50 /m, cut_every: 1, rail: 100 mΩ/m, rail_amps: 2 A, channels: {white: {set: 10 mA, lo: 1 V, hi: 2 V, soft: 0.02 V}}, idle: {set: 0 mA, lo: 1 V, hi: 2 V, soft: 0.02 V}, protocol: protocol/single-wire-800k-24}
`, even)
	s, all := strikes(t, text, network.Fault{Kind: network.PolesMeet, At: "E1@end"})
	k := all["dark opens"]
	link, _ := parts.Get[parts.Fuse](s.Scheme.Library, "fuse/inline-3A")
	amps := 5 / (0.1e-3 + float64(link.Resistance.Is) + 2*0.1*1.91e-3 + 2*2*0.1 + 1e-5)
	at := slices.IndexFunc(k.Over, func(o study.Overstepped) bool { return o.Bearer.Name == "E1" })
	if at < 0 || math.Abs(float64(k.Amps)/amps-1) > 1e-3 || k.Slow != 0.5 {
		t.Fatalf("%v, want %.2f A, within %v: %+v", k.Amps, amps, k.Slow, k.Over)
	}
	bears := math.Pow(226*17.241e-9/0.1*1e6, 2) * math.Log((234.5+160)/(234.5+30))
	if want := 10.5 * 10.5 * 0.5 / bears; math.Abs(k.Over[at].Share/want-1) > 3e-3 {
		t.Errorf("the rails use up %.4f, want %.4f", k.Over[at].Share, want)
	}
}

// A contactor carries what its cable does, and the return terminal of a way what comes home there; a way that is not in use is no place.
func TestWhatHasNoResistanceOfItsOwnIsJudgedToo(t *testing.T) {
	text := lead("cable/flex-2x2.5", 5, firm) + "contactors: {Q1: {part: relay/load-16A-12V, in: W1}}\n"
	s, all := strikes(t, text, network.Fault{Kind: network.PolesMeet, At: "E1@start"})
	k := all["dark opens"]
	over := map[string]study.Overstepped{}
	for _, o := range k.Over {
		over[o.Bearer.Name] = o
	}
	for name, limit := range map[string]unit.Ampere{"Q1": 16, "A1.1.return": 20, "A1.1.plus": 20} {
		if o, there := over[name]; !there || o.Bearer.Limit != limit || math.Abs(float64(o.Amps/k.Amps)-1) > 1e-3 {
			t.Errorf("%s carries %v of %v, may carry %v", name, o.Amps, k.Amps, o.Bearer.Limit)
		}
	}
	for _, p := range s.Network.Places() {
		if p.Name == "A1.2" || p.Name == "A1.3" {
			t.Errorf("%s is a place, with an empty holder and no cable", p.Name)
		}
	}
}

// A boost of 130 A may flow into a short, whatever the limit is later: from 5 V over 94.53 mΩ that is 52.9 A.
func TestABoostFlowsIntoAShort(t *testing.T) {
	short := network.Fault{Kind: network.PolesMeet, At: "E1@start"}
	_, all := strikes(t, lead("cable/flex-2x2.5", 5, "limit: boost, boost: 130 %, boost_for: 4 s, then: constant-current, limit_at: {low: 11 A, high: 12 A}"), short)
	if through, opens := all["dark through"], all["dark opens"]; math.Abs(float64(through.Amps)-52.9) > 0.1 || math.Abs(float64(opens.Amps)-11) > 0.02 {
		t.Errorf("%v through, %v to open it", through.Amps, opens.Amps)
	}
}

// With all its returns open a run returns through the ground core of its data lead: 3 A through a resettable fuse of 0.75 A, four times, which
// surely trips within the hour that its curve gives from twice on; then nothing is left that carries more than it may.
func TestAnOpenReturnIsEndedByTheFuseInTheGround(t *testing.T) {
	text := fmt.Sprintf(`site: {coldest: 23 °C, ambient: 30 °C, metalwork: isolated}
supplies: {T1: {part: supply/big}}
boards: {A1: {part: board/big}}
runs: {E1: {tape: tape/even, pixels: 300}}
cables:
  W1: {part: cable/flex-2x10, length: 1 m, from: T1, to: A1.in, fuse: fuse/inline-maxi-30A}
  W2: {part: cable/flex-2x2.5, length: 1 m, from: A1.1, to: E1@start}
fuses: {A1.1: fuse/blade-10A}
data: {D1: {part: cable/data-3x0.5, length: 1 m, from: A1.P1, to: E1}}
states: {full: {}}
parts:%s`, even)
	s, all := strikes(t, text, network.Fault{Kind: network.PoleOpen, At: "E1"})
	k := all["cap-failed opens"]
	if len(k.Phases) != 2 || !slices.Equal(k.Phases[0].Opens, []string{"A1.P1.ground fuse"}) || k.Slow != k.Phases[0].For || k.Slow > 3600 {
		t.Errorf("within %v: %+v", k.Slow, k.Phases)
	}
	if !slices.ContainsFunc(s.Faults(), func(f network.Fault) bool { return f.Kind == network.PoleOpen && f.At == "E1" }) {
		t.Error("it is not among the faults")
	}
}

// parallel is a run that two leads feed behind fuses of their own.
func parallel(main, first, second, fuses, supply string) string {
	return fmt.Sprintf(`site: {coldest: 20 °C, conductors: 20 °C, metalwork: isolated, ambient: 30 °C}
supplies: {T1: {part: supply/own}}
boards: {A1: {part: board/big}}
runs: {E1: {tape: tape/even, pixels: 10}}
cables:
  W1: {part: cable/flex-2x10, length: 1 m, from: T1, to: A1.in%s}
  W2: {part: %s, from: A1.1, to: E1@start}
  W3: {part: %s, from: A1.2, to: E1@start}
fuses: {%s}
states: {full: {}}
parts:%s  supply/own: {title: own, basis: measured, source: invented, volts: 5 V, source_resistance: 0.1 mΩ, %s}
`, main, first, second, fuses, even, supply)
}

// What a conductor takes is the worst over all orders in which fuses may open, not that of the slowest of each.
//
// A main fuse of 15 A carries 58.9 A, its ways of 10 A and 15 A 39.7 and 19.2 A: main and first way open within 0.5 s. But the first way may do
// so in 20 ms. Then 5 V over 107 mΩ of plus in W3, 35 mΩ of both returns side by side and 16 mΩ before are 31.6 A, 2.1 times the 15 A of what is
// left, which lets through no more than at twice that, 30² × 5 s = 4,500 A²s of the 13,225 that W3 of 1 mm² stands, 0.340; and before that the
// first way no more than at 3.5 times its rating, 35² × 0.5 s = 613 A²s, of which W3 has (19.2/39.7)², 143 A²s, 0.011.
//
// 34.5 A of a supply at its limit through two leads of 0.5 mm² and fuses of 5 A and 10 A, both of which open within 5 s. If the first does at
// once, W3 carries all of it for as long as its fuse lets through what it does at twice its rating: 20² × 5 s = 2,000 A²s, of (115 × 0.5)² = 3,306.
//
// 25 A through a way of 10 A, which may hold its share or open, and one of 25 A, which holds all of it: then W3 of 1.5 mm² carries 25 A for ever.
func TestEveryOrderOfOpeningIsFollowed(t *testing.T) {
	short := network.Fault{Kind: network.PolesMeet, At: "E1@start"}
	over := func(text string) study.Overstepped {
		t.Helper()
		_, all := strikes(t, text, short)
		k := all["dark opens"]
		at := slices.IndexFunc(k.Over, func(o study.Overstepped) bool { return o.Bearer.Name == "W3.plus" })
		if at < 0 || k.Cut {
			t.Fatalf("W3 is not overstepped: %+v", k)
		}
		return k.Over[at]
	}
	const stiff = "amps: 200 A, watts: 1000 W, limit: constant-current, limit_at: {low: 210 A, high: 220 A}"
	main := over(parallel(", fuse: fuse/inline-15A", "cable/flex-2x2.5, length: 6.5 m", "cable/flex-2x1, length: 5.5 m", "A1.1: fuse/blade-10A, A1.2: fuse/blade-15A", stiff))
	if math.Abs(main.Share-0.351) > 0.003 || main.Lasts > 1e-6 {
		t.Errorf("behind the main fuse: %+v", main)
	}
	once := over(parallel("", "cable/flex-2x0.5, length: 0.7 m", "cable/flex-2x0.5, length: 0.5 m", "A1.1: fuse/blade-5A, A1.2: fuse/blade-10A",
		"amps: 32 A, watts: 160 W, limit: constant-current, limit_at: {low: 34.5 A, high: 34.8 A}"))
	if alone := 20.0 * 20 * 5 / 3306; once.Share < alone || once.Share > 1.8*alone {
		t.Errorf("opened one after the other: %.3g of what W3 stands, want %.3g and what came before", once.Share, alone)
	}
	may := over(parallel("", "cable/flex-2x2.5, length: 1 m", "cable/flex-2x1.5, length: 0.9 m", "A1.1: fuse/blade-10A, A1.2: fuse/blade-25A",
		"amps: 24 A, watts: 1000 W, limit: constant-current, limit_at: {low: 25 A, high: 25.5 A}"))
	if math.Abs(float64(may.Lasts)-25) > 0.05 {
		t.Errorf("what may open: %+v", may)
	}
}

func TestStrikesStopAtOnce(t *testing.T) {
	s := studied(t, lead("cable/flex-2x2.5", 5, firm))
	ctx, stop := context.WithCancel(context.Background())
	stop()
	err := s.Strike(ctx, s.Faults(), func(study.Faulted) error { t.Error("it goes on"); return nil })
	if err == nil {
		t.Error("it does not say that it stopped")
	}
}
