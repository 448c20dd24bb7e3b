package protection

import "farend/study"

// standards lists the rules that standards for extra-low voltage, its conductors and its surroundings make: docs/standards.md says
// clause by clause which rule each is part of.
func standards() []study.Rule {
	return []study.Rule{voltageDrop, smallestConductor, smallestCore, touchVoltage, selfResetting, limitedPower, outputCircuit, weather, besideMains, protectiveMeasures}
}
