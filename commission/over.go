package commission

import (
	"fmt"
	"math"

	"farend/unit"
)

// forbiddenWords stand in the place of a band.
const forbiddenWords = "not to be switched on"

// overVolts says that a place is not to be switched on: more volts are expected there than its tape bears, by its chips, or by its nominal voltage and
// the 15 % within which nominal voltages are meant to go together (common practice, no source) where nobody says what they bear; "" elsewhere.
func (m *maker) overVolts(at string, volts float64) string {
	tape := m.s.Tape(runOf(at))
	if tape == nil || math.IsNaN(volts) {
		return ""
	}
	bears := tape.VoltsMax.Is
	if !tape.VoltsMax.Given {
		bears = tape.Volts.Is * 1.15
	}
	if bears <= 0 || volts <= float64(bears) {
		return ""
	}
	return fmt.Sprintf(forbiddenWords+": about %s would come to %s, and its tape bears %s", short(unit.Number(volts, 2)+" V"), runOf(at), short(bears.String()))
}

// overEnds says the same of the first of some places of which it is so.
func (m *maker) overEnds(ends []string, volts func(at string) float64) string {
	for _, at := range ends {
		if why := m.overVolts(at, volts(at)); why != "" {
			return why
		}
	}
	return ""
}
