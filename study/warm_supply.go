package study

import (
	"fmt"

	"farend/parts"
	"farend/unit"
)

// mild is the air in which a supply is taken to give all that it is rated for, where its part does not say.
const mild unit.Celsius = 40

// MildSource says whence that is.
func MildSource() Source {
	return Source{Title: "manuals of one family of enclosed supplies", Basis: parts.Datasheet, Says: "full output up to 50 °C in two ways of mounting, and only up to 40 °C in the other two"}
}

// WarmSupply is what air of a temperature leaves of the rated current of a supply; unknown says what its part leaves unsaid, and is
// empty where it says enough.
func WarmSupply(name string, part *parts.Supply, air unit.Celsius) (w Warmth, unknown string) {
	w.Share = 1
	over := float64(air - part.DerateFrom.Is)
	switch {
	case !part.DerateFrom.Given && air > mild:
		return w, fmt.Sprintf("%s does not say what it gives above %v", name, mild)
	case !part.DerateFrom.Given || over <= 0:
		return w, ""
	case !part.Derate.Given:
		return w, fmt.Sprintf("%s gives less than all of its rating from %v on, and does not say how much less", name, part.DerateFrom.Is)
	}
	w.Share = max(0, 1-over*float64(part.Derate.Is))
	w.Numbers = []Number{Stated(name, "derate_from", part.DerateFrom), Stated(name, "derate", part.Derate)}
	return w, ""
}
