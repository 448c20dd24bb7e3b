package line_test

import (
	"testing"

	"farend/line"
)

// What one code takes over a lead of 3 m, as signal/edges tries it in every corner.
func BenchmarkRun(b *testing.B) {
	c := line.Circuit{
		Line: line.Line{Z0: 100, Delay: 18e-9, Ohms: 0.2}, Sender: line.Sender{Ohms: 72, Rise: 5e-9},
		Receiver: line.Receiver{Farads: 15e-12, Clamps: []line.Clamp{{Volts: 5.7, Ohms: 25}, {Volts: -0.7, Ohms: 25, Below: true}}},
	}
	edges := []line.Edge{{At: 0, Volts: 4.6}, {At: 300e-9, Volts: 0.2}, {At: 1250e-9, Volts: 4.6}, {At: 1875e-9, Volts: 0.2}, {At: 2500e-9, Volts: 4.6}, {At: 2800e-9, Volts: 0.2}}
	for b.Loop() {
		c.Run(0.2, edges, 3.75e-6, 0.375e-9)
	}
}
