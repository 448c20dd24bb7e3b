package commission_test

import (
	"strings"
	"testing"
)

// An end says how it is made: what holds it, whether its core gets a ferrule, and at which torque its screws are driven, with where that comes from.
func TestEndsOfCables(t *testing.T) {
	own := "  connector/own: {title: own, amps: 20 A, resistance: 2 mΩ, torque: {is: 0.4 Nm, basis: datasheet, source: own, spread: {low: 0 %, high: 25 %}}}\n"
	plugged := strings.Replace(byHand, "length: 2 m, from", "length: 2 m, ends: {from: connector/own}, from", 1) + own
	for text, want := range map[string][2]string{
		byHand:  {"ferrules, strip and torque by the maker's sheet", "soldered to the pads, tension off"},
		plugged: {"connector/own, ferrules, screws at 0.4 to 0.5 Nm (datasheet)", "soldered to the pads, tension off"},
		strings.Replace(plugged, "flex-2x2.5", "stranded-2x2.5", 1):                                                              {"connector/own, screws at 0.4 to 0.5 Nm (datasheet)", "soldered to the pads, tension off"},
		strings.Replace(plugged, "cable/flex-2x2.5", "choose", 1):                                                                {"connector/own, ferrules, screws at 0.4 to 0.5 Nm (datasheet); the cable is still to be chosen", "soldered to the pads, tension off; the cable is still to be chosen"},
		strings.Replace(plugged, ", torque: {is: 0.4 Nm, basis: datasheet, source: own, spread: {low: 0 %, high: 25 %}}", "", 1): {"connector/own by the maker's sheet", "soldered to the pads, tension off"},
	} {
		p := of(t, read(t, text))
		if from, to := step(t, p, "W2 at A1.1", ""), step(t, p, "W2 at E1@start", ""); from.Expect != want[0] || to.Expect != want[1] {
			t.Errorf("%q, %q, should be %q", from.Expect, to.Expect, want)
		}
	}
}
