package line_test

import (
	"fmt"
	"math"
	"math/rand"
	"testing"

	"farend/internal/spice"
	"farend/line"
)

// Pulses on random lines against ngspice: its line without loss (T), and with loss spread along it (LTRA). Thresholds are crossed within 1 ns of
// each other, and the highest and lowest voltages are within 1 % of the swing.
func TestRandomLinesAgainstSpice(t *testing.T) {
	if testing.Short() {
		t.Skip("it proves numbers, without the race detector")
	}
	spice.Need(t)
	r := rand.New(rand.NewSource(9))
	const many = 64
	circuits, sweeps, edges, until := make([]line.Circuit, many), make([]spice.Sweep, many), make([][]line.Edge, many), make([]float64, many)
	for i := range many {
		metres := 0.4 * math.Pow(50, r.Float64()) // 0.4 to 20 m
		c := line.Circuit{
			Line:     line.Line{Z0: 60 + 80*r.Float64(), Delay: metres * (4.5 + 3.5*r.Float64()) * 1e-9},
			Sender:   line.Sender{Ohms: 15 + 300*r.Float64()*r.Float64(), Rise: (2 + 20*r.Float64()) * 1e-9},
			Receiver: line.Receiver{Farads: (3 + 30*r.Float64()) * 1e-12},
		}
		if i%2 == 1 {
			c.Line.Ohms = metres * (0.04 + 0.4*r.Float64())
		}
		if i%3 == 0 {
			c.Receiver.Clamps = []line.Clamp{{Volts: 5.3, Ohms: 5 + 40*r.Float64()}, {Volts: -0.3, Ohms: 5 + 40*r.Float64(), Below: true}}
		}
		if i%5 == 0 {
			c.Receiver.Ohms = 5e3
		}
		width := (200 + 200*r.Float64()) * 1e-9
		circuits[i], edges[i], until[i] = c, []line.Edge{{At: 20e-9, Volts: 5}, {At: 20e-9 + width, Volts: 0}}, 20e-9+2*width
		sweeps[i] = spice.Sweep{Deck: deck(c, edges[i]), Step: min(c.Rise, 2e-9) / 6, Until: until[i], Node: "b"}
	}
	for i, trace := range spice.Transient(t, t.TempDir(), sweeps) {
		c := circuits[i]
		w := c.Run(0, edges[i], until[i], min(c.Rise, 2e-9)/20)
		even := make([]float64, len(w.Far)) // ngspice at our steps
		at := 0
		for k := range even {
			now := float64(k) * w.Step
			for at < len(trace.Seconds)-2 && trace.Seconds[at+1] < now {
				at++
			}
			share := (now - trace.Seconds[at]) / (trace.Seconds[at+1] - trace.Seconds[at])
			even[k] = trace.Volts[at] + min(max(share, 0), 1)*(trace.Volts[at+1]-trace.Volts[at])
		}
		for _, threshold := range []float64{0.8, 1.5, 2, 2.7, 3.5} {
			for _, upwards := range []bool{true, false} {
				after := 0.0
				if !upwards {
					after = edges[i][1].At
				}
				mine, is := line.Cross(w.Far, w.Step, threshold, upwards, after)
				other, too := line.Cross(even, w.Step, threshold, upwards, after)
				if is != too || math.Abs(mine-other) > 1e-9 {
					t.Errorf("line %d crosses %g V (upwards %v) at %.3f ns, %v; in ngspice at %.3f ns, %v\n%+v", i, threshold, upwards, 1e9*mine, is, 1e9*other, too, c)
				}
			}
		}
		low, high := line.Extremes(w.Far, w.Step, 0, until[i])
		lowest, highest := line.Extremes(even, w.Step, 0, until[i])
		if math.Abs(low-lowest) > 0.05 || math.Abs(high-highest) > 0.05 {
			t.Errorf("line %d is between %.4f and %.4f V, in ngspice between %.4f and %.4f V\n%+v", i, low, high, lowest, highest, c)
		}
	}
}

// deck is a circuit as ngspice takes it.
func deck(c line.Circuit, edges []line.Edge) string {
	pwl, was := "0 0", 0.0
	for _, e := range edges {
		pwl += fmt.Sprintf(" %g %g %g %g", e.At, was, e.At+c.Rise, e.Volts)
		was = e.Volts
	}
	text := fmt.Sprintf("* line\nV1 s 0 PWL(%s)\nR1 s a %g\n", pwl, c.Sender.Ohms)
	if c.Line.Ohms > 0 { // a metre long
		text += fmt.Sprintf("O1 a 0 b 0 lossy\n.model lossy ltra rel=1 r=%g g=0 l=%g c=%g len=1 compactrel=1e-4 compactabs=1e-9\n", c.Line.Ohms, c.Z0*c.Delay, c.Delay/c.Z0)
	} else {
		text += fmt.Sprintf("T1 a 0 b 0 Z0=%g TD=%g\n", c.Z0, c.Delay)
	}
	text += fmt.Sprintf("C1 b 0 %g\n", c.Receiver.Farads)
	if c.Receiver.Ohms > 0 {
		text += fmt.Sprintf("R2 b 0 %g\n", c.Receiver.Ohms)
	}
	for k, clamp := range c.Receiver.Clamps {
		sign := ">"
		if clamp.Below {
			sign = "<"
		}
		text += fmt.Sprintf("B%d b 0 I = v(b) %s %g ? (v(b) - (%g))/%g : 0\n", k+1, sign, clamp.Volts, clamp.Volts, clamp.Ohms)
	}
	return text + ".end\n"
}
