package network_test

import "testing"

// A load of 6 A for a quarter of the cycle, on a supply of 10 V behind 1 mΩ: the terminals stand at 10 V − 6 mV meanwhile, and in the
// mean some 1.5 mV under their set point; the knee of the supply without load is in it.
func TestTheLowestVoltageIsThatOfTheHeaviestSlice(t *testing.T) {
	_, _, r := at(t, loaded(pulsing, sixAmps, "quarter: {level: 25 %}"), "peak/quarter")
	t1 := r.Supplies["T1"]
	is(t, "lowest voltage", float64(t1.VoltsLow), 9.994)
	is(t, "peak current", float64(t1.Amps.Peak), 6)
	is(t, "mean current", float64(t1.Amps.Mean), 1.5)
	if t1.Volts < 9.998 || t1.Volts > 9.999 {
		t.Errorf("the mean voltage is %v", t1.Volts)
	}
}
