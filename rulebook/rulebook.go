// Package rulebook is the list of all rules, room by room, and nothing else.
package rulebook

import (
	"slices"

	"farend/board"
	"farend/light"
	"farend/protection"
	"farend/signal"
	"farend/study"
	"farend/survey"
)

// A Room is the rules of one judge: what stands before the slash of their names, and what they ask.
type Room struct {
	Name  string
	Asks  string
	Rules []study.Rule
}

// Rooms lists the rooms with their rules, in the order in which they judge.
func Rooms() []Room {
	return []Room{
		{"survey", "Does what is drawn agree with what is listed?", survey.Rules()},
		{"protection", "May everything that carries current carry it, and is it fed as it should be?", protection.Rules()},
		{"board", "Do clamps, contacts and holders stand what goes through them?", board.Rules()},
		{"signal", "Can the data arrive?", signal.Rules()},
		{"light", "Does the viewer get what was asked for?", light.Rules()},
	}
}

// All lists every rule, room by room.
func All() []study.Rule {
	var all []study.Rule
	for _, room := range Rooms() {
		all = slices.Concat(all, room.Rules)
	}
	return all
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

// RoomNamed is the room with that name.
func RoomNamed(name string) (Room, bool) {
	for _, r := range Rooms() {
		if r.Name == name {
			return r, true
		}
	}
	return Room{}, false
}
