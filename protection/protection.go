// Package protection judges whether what carries current may carry it: cables, fuses, supplies and tape rails under load, in
// every solved state and with the cap failed; tape on the wrong voltage; ways without a fuse and copper that bypasses one; and whether
// fuses stand where they must, suit the cables they guard, break what they may have to, and hold at a start.
//
// Limits are the more careful of the sources the parts cite and never replace the local code. In a state a conductor above its limit
// is a danger whether or not a fuse would end it in time; with the cap failed it is tight where fuses surely end whatever is above the limit,
// before it takes harm. Of faults
// and outages rules read what study has followed: whether what feeds a short opens, how soon, and what takes harm until then or when one thing is out.
package protection

import (
	"slices"

	"farend/parts"
	"farend/study"
)

// Rules lists the rules of this room, causes before what comes of them: what is not chosen, unlike voltages and wrong wiring first,
// then supplies, then what their currents do. Findings are told in this order.
func Rules() []study.Rule {
	return slices.Concat(loadRules(), faultRules(), outageRules(), standards())
}

// loadRules judge what is solved of the sound installation.
func loadRules() []study.Rule {
	return []study.Rule{
		notChosen, operatingPoint,
		unequalSupplies, tapeVoltage, lostReturn, dataPower, wayFuse, sourceFuse, looseCable, parallelSupplies,
		fuseVolts, fuseBreaking, coordination,
		supplyLoad, supplyStart, idleSupply,
		cableCurrent, fuseLoad, inlineFuseLoad, nuisance, railCurrent,
	}
}

// moduleRead is where the tables of IEC 60364-5-52 were read.
const moduleRead = "an open cable-sizing module that transcribes it"

// deviceSources are what asks for a device at the source of every conductor.
var deviceSources = []study.Source{
	{Title: "IEC 60364-7-715", Edition: "2011", Clause: "715.43", Basis: parts.Standard,
		Says: "circuits of extra-low-voltage lighting are protected against overcurrent by the general rules, IEC 60364-4-43",
		Read: "a trade-press page on DIN VDE 0100-715:2006-06, the German text of an older edition"},
	{Title: "IEC 60364-4-43", Edition: "2008", Clause: "433.2 and 434.2", Basis: parts.Memory,
		Says: "the device stands where a conductor begins, or where what it may carry becomes less"},
}

// nothingNeeded is the source of what follows from the wiring alone.
func nothingNeeded(law string) study.Source {
	return study.Source{Title: law, Basis: parts.Derived, Says: "needs no other source: it follows from the wiring alone"}
}
