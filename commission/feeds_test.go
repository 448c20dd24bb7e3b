package commission_test

import (
	"math"
	"strings"
	"testing"
)

// The volts along a long thin core are read in the range in which they are: 40 m of 0.5 mm² (39 Ω/km, IEC 60228 class 5) lose 1.17 V at 750 mA, and 1.38 Ω if all of their section is copper (1/58 Ω·mm²/m), which a
// meter of 6000 counts shows with digits of 1 mV and not of 0.1 mV. With 1 % and two of those digits, and 2.5 % and five digits of 10 mA of the clamp; at both
// ends a terminal of up to 2.67 mΩ (IEC 60947-7-1: 3.2 mV at 0.6 A for two).
func TestVoltsAlongALongCore(t *testing.T) {
	text := strings.Replace(byHand, "cable/flex-2x2.5, length: 2 m", "cable/flex-2x0.5, length: 40 m", 1)
	const is, amps = 40 * 0.039, 60 * 9.25e-3 // the least that the tape may draw, at which a meter errs most
	low, high := 40/58./0.5*0.97, is*1.03+2*3.2e-3/0.6/2
	errs := func(ohms float64) float64 {
		return (0.01*ohms*amps+2e-3)/amps + ohms*(0.025*amps+0.05)/amps
	}
	r := step(t, of(t, read(t, text)), "W2, + core", "lit, full").Reading
	if r == nil || math.Abs(r.Is-is) > 1e-9 || math.Abs(r.Low-(low-errs(low))) > 1e-5 || math.Abs(r.High-(high+errs(high))) > 1e-5 {
		t.Errorf("%v to %v, by hand %v, %v to %v", r.Low, r.High, is, low-errs(low), high+errs(high))
	}
}
