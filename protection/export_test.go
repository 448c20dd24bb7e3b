package protection

import (
	"slices"

	"farend/study"
)

// LoadRules are the rules of the room that read no faults.
func LoadRules() []study.Rule { return slices.Concat(loadRules(), standards()) }
