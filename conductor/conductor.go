// Package conductor models copper: how its resistance grows with temperature, how warm a current makes the core of a
// cable, and how much current a cable may carry.
//
// A Core is a law of the network: Eval gives the current of a voltage with the core's own heat in it, so that one
// solve finds currents and temperatures together. Current is positive in the direction of falling voltage.
//
// It assumes a steady state, copper (not aluminium), the same temperature along the core, and surroundings whose
// thermal resistance does not depend on temperature. It cannot say how fast a core warms up, nor what happens to one
// that is hotter than Clamp; tape rails, terminals and board copper have no rated current and are no Core.
//
// Sources: IEC 60287-1-1 table 1 (copper against temperature), IEC 60364-5-52 tables B.52.14 and B.52.17 (ambient and
// grouping factors).
package conductor

import "farend/unit"

// Absolute is the temperature, in degrees Celsius below zero, at which the straight line through copper's resistance
// reaches none: R(T) is proportional to Absolute + T. IEC 60287-1-1 table 1; the line holds from about −100 °C to
// 200 °C.
const Absolute = 234.5

// Clamp is the temperature beyond which a core's resistance is not followed: above it the law is a plain resistor,
// which keeps it monotone where no steady state exists. It is the short-circuit limit of PVC (IEC 60364-4-43), so a
// core that reaches it is already damaged. It is far below the 250 °C of cross-linked insulation.
const Clamp unit.Celsius = 160

// Coldest is the lowest ambient the law follows; a colder one counts as this.
const Coldest unit.Celsius = -100

// Factor is copper's resistance at t over its resistance at 20 °C: (234.5 + T)/254.5 (IEC 60287-1-1). Below Coldest it
// stays at the value there, so that it is never zero or negative.
func Factor(t unit.Celsius) float64 {
	return (Absolute + float64(max(t, Coldest))) / (Absolute + 20)
}
