package signal

import (
	"fmt"

	"farend/finding"
	"farend/parts"
	"farend/remedy"
	"farend/study"
	"farend/unit"
)

var frameRate = study.Rule{
	Name: "signal/frame-rate", Title: "Frame rate", Scope: study.Senders,
	Doc: study.Doc{
		What: "How many frames a second a port can send to all pixels that hang on it, one after the other, against the aim of the scheme (aims: frame_rate).",
		Why:  "Every pixel takes its bits and hands on the rest, so a frame takes as long as all bits of the chain. Below some 25 frames a second movement judders; a long chain gets there before anything else fails.",
		Formula: []string{
			"f ≥ f_a",
			"t_f = N_f · T_b + T_l",
		},
		Symbols: []study.Symbol{
			{Sign: "f", Unit: "Hz", Means: "frames a second, 1/t_f"},
			{Sign: "f_a", Unit: "Hz", Means: "the aim"},
			{Sign: "t_f", Unit: "s", Means: "how long a frame takes"},
			{Sign: "N_f", Unit: "1", Means: "its bits: those of every pixel, and what comes before the first and after the last"},
			{Sign: "T_b", Unit: "s", Means: "period of a bit; of clocked pixels that of the fastest clock of their sheet"},
			{Sign: "T_l", Unit: "s", Means: "the rest that ends a frame, the longest that any chip of its kind asks for"},
		},
		Sources: []study.Source{
			{Title: "the sheet of the chip", Basis: parts.Datasheet, Says: "bits, their period and the rest that latches; which sheet the protocol of the tape says"},
			{Title: "common practice, no source", Basis: parts.Practice, Says: "1000 pixels of 24 bits are good for about 30 frames a second at 800 kbit/s, 500 for about 60"},
		},
		Limits: []string{
			"It is what the line allows. A controller that works out the next frame before it sends, or sends its ports one after the other, makes fewer.",
			"Clocked pixels are taken at the fastest clock of their sheet: a controller may be slower, and a long lead allows less.",
			"How often pixels are switched on and off meanwhile is asked by signal/refresh.",
			"The division of whole runs over ports that is proposed is the best there is for some twelve runs, and for more the best that a search finds; where runs are cut it has the fewest cuts and the shortest frame, and other cuts may take less lead. How long new leads are is by the drawing or estimated: measure them.",
		},
		Grades: []study.Graded{
			{Grade: finding.Fails, When: "fewer frames than the aim"},
			{Grade: finding.Unknown, When: "a tape or its length is not chosen yet, or runs of several protocols hang on the port"},
			{Grade: finding.Tight, When: "less than 5 % more than the aim"},
		},
		Example: study.Example{
			Given: []string{"A port sends to 1000 pixels of 24 bits, 1.25 µs each, and rests for 280 µs. The aim is 40 frames a second."},
			Sums: []string{
				"1000 · 24 · 1.25 µs + 280 µs = 30.28 ms",
				"1/30.28 ms = 33.03 Hz",
				"33.03 Hz < 40 Hz",
			},
			Value: "33 Hz", Limit: "40 Hz", Grade: finding.Fails,
			Says: "Two ports with 500 pixels each make 65 frames a second.",
		},
	},
	Judge: func(s *study.Study, id string) []study.Assessment {
		p, ok := s.Port(id)
		if !ok {
			return nil
		}
		switch {
		case !p.Aimed:
			return study.Passes("No frame rate is asked for (aims: frame_rate).")
		case p.Mixed != nil:
			says, edits := divided(s, id, s.Scheme.Aims.FrameRate, "Give pixels of each protocol a port of their own")
			mixed := study.Unknown(fmt.Sprintf("Runs of several protocols hang on %s: %s. How long a frame takes is not known.", id, study.Several(p.Mixed)), says)
			mixed[0] = mixed[0].Fixed(edits)
			return mixed
		case !p.Known:
			return study.Unknown(fmt.Sprintf("How long a frame of %s takes is not known: a tape or its length is not chosen yet.", id), "Choose the tape and its length.")
		}
		protocol, _ := parts.Get[parts.Protocol](s.Scheme.Library, p.Protocol)
		aim := s.Scheme.Aims.FrameRate
		a := study.Lower(float64(p.Rate), float64(aim), 0.05, finding.Fails).Fill("", "Hz", protocol.Basis, protocol.Source)
		got, wanted := unit.Apart(p.Rate, aim)
		says, edits := "", func() []finding.Edit { return nil }
		switch {
		case a.Grade == finding.Fails:
			says, edits = divided(s, id, aim, slower(p))
		case a.Grade == finding.Tight:
			says, edits = divided(s, id, aim*roomy, slower(p))
		}
		return []study.Assessment{a.On(func() []study.Number { return frameNumbers(p, protocol) }).
			Say(fmt.Sprintf("%s sends to %s: a frame takes %v, %s. The aim is %s.", id, study.Counted(p.Pixels, "pixel"), p.Frame, got, wanted), says).Fixed(edits).
			Worked(func(w *study.Working) { framed(w, s, p, protocol) })}
	},
}

// roomy is how much more than the aim is not tight, and a hair.
const roomy = 1.05 * (1 + 1e-9)

// divided says how the runs could be divided over ports so that each makes a frame rate, with the edits that do it; where that cannot be, what else would
// do, and what stands against it.
func divided(s *study.Study, port string, rate unit.Hertz, otherwise string) (says string, edits func() []finding.Edit) {
	none := func() []finding.Edit { return nil }
	d, ok := remedy.Divide(s, port, rate)
	switch {
	case !ok || d.Meets() && !d.Changed():
		return otherwise + ".", none
	case !d.Meets():
		return d.Lacks() + ". " + otherwise + ".", none
	}
	return d.Says() + ".", d.Edits
}

// slower says what else would do.
func slower(p study.Port) string {
	if p.Spare == -p.Pixels {
		return "Lower the aim: not even one pixel is so fast, by the rest that ends its frame"
	}
	if p.Spare < 0 {
		return fmt.Sprintf("Give %d of its pixels another port, or lower the aim", -p.Spare)
	}
	return "Give some of its pixels another port, or lower the aim"
}

// frameNumbers lists what decides how long a frame takes.
func frameNumbers(p study.Port, protocol *parts.Protocol) []study.Number {
	numbers := []study.Number{study.Stated(p.Protocol, "latch", protocol.Latch)}
	if protocol.Clocked {
		return []study.Number{study.Stated(p.Protocol, "clock_max", protocol.ClockMax)}
	}
	return append(numbers, study.Stated(p.Protocol, "period", protocol.Period))
}

func framed(w *study.Working, s *study.Study, p study.Port, protocol *parts.Protocol) {
	w.Counted("N_px", "pixels that hang on the port", p.Pixels)
	said := study.Source{Title: p.Protocol + ", " + protocol.Source, Basis: protocol.Basis}
	w.Taken("N_b", "bits of a pixel", study.Plain(protocol.Bits), said)
	beside := protocol.FrameBits(p.Pixels) - protocol.Bits*p.Pixels
	bits := "N_f = N_px · N_b"
	if beside > 0 {
		w.Taken("N_e", "bits before the first pixel, and after the last", study.Plain(beside), said)
		bits += " + N_e"
	}
	w.Step("Bits of a frame", bits)
	rest := ""
	if protocol.Clocked {
		w.Stated("f_c", "the fastest clock", study.Stated(p.Protocol, "clock_max", protocol.ClockMax))
		w.Step("Period of a bit", "T_b = 1/f_c")
	} else {
		w.Stated("T_b", "period of a bit", study.Stated(p.Protocol, "period", protocol.Period))
	}
	if protocol.Latch.Is > 0 {
		w.Stated("T_l", "the rest that ends a frame", study.Stated(p.Protocol, "latch", protocol.Latch))
		rest = " + T_l"
	}
	w.Step("How long a frame takes", "t_f = N_f · T_b"+rest)
	w.Step("Frames a second", "f = 1/t_f")
	w.Written("f_a", "the aim", study.Of(s.Scheme.Aims.FrameRate), "aims.frame_rate", s.Scheme.Place("aims", "frame_rate"))
	w.Lower("f", "f_a", 0.05, finding.Fails)
}
