// Package rulebook is the list of all rules, and nothing else.
package rulebook

import (
	"slices"

	"farend/board"
	"farend/light"
	"farend/protection"
	"farend/signal"
	"farend/study"
)

// All lists every rule, room by room.
func All() []study.Rule {
	return slices.Concat(protection.Rules(), board.Rules(), signal.Rules(), light.Rules())
}

// Named is the rule with that name.
func Named(name string) (study.Rule, bool) {
	for _, r := range All() {
		if r.Name == name {
			return r, true
		}
	}
	return study.Rule{}, false
}
