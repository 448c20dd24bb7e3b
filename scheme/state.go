package scheme

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"farend/finding"
	"farend/internal/document"
	"farend/unit"
)

// darkState is the state that is always there: energised, every channel off.
const darkState = "dark"

const assumedState = "full"

func (r *reading) states() {
	if len(r.States) == 0 && r.sound("states") && !r.lost["states"] {
		r.assume()
	}
	for _, name := range IDs(r.States) {
		if r.given("states", name) {
			r.stateName(name)
			r.state(name)
		}
	}
}

// assume stands in for the states of a scheme that has none: everything at full level, as white as the tapes can.
func (r *reading) assume() {
	colour := White()
	for _, id := range IDs(r.Runs) {
		if tape := r.Tape(id); tape != nil {
			if _, err := colour.Drive(Channels(tape), 1); err != nil {
				colour = Colour{Word: "all"}
			}
		}
	}
	r.States = map[string]State{assumedState: {Colour: &colour}}
	r.note("scheme/assumed-state", assumedState, "", r.key("states"),
		fmt.Sprintf("no lighting state is given, so one is assumed: %s, every run %s at 100 %%", assumedState, colour),
		finding.Edit{Path: "/states", Value: map[string]any{assumedState: map[string]any{"level": "100 %", "colour": colour.Word}}})
}

// stateName refuses names that would make the name of a case ambiguous.
func (r *reading) stateName(name string) {
	at, mistakes := r.key("states", name), len(r.mistakes)
	switch {
	case !Identifier(name):
		r.wrong(at, strconv.Quote(name)+" is not the name of a state", "write letters A to Z, digits, - and _, with a letter first, such as full")
	case name == darkState:
		r.wrong(at, "the state dark is always there: energised, every channel off", "remove it, or give it another name")
	case name == "cap-failed" || strings.HasPrefix(name, "peak-"):
		r.wrong(at, name+" is the name of a case that Farend makes itself", "give the state another name")
	}
	r.lost["states"] = r.lost["states"] || len(r.mistakes) > mistakes // names that are not found may mean this one
}

func (r *reading) state(name string) {
	s := r.States[name]
	r.level(s.Level, "states", name, "level")
	for _, id := range IDs(s.Runs) {
		section, known := r.elements[id]
		at := r.key("states", name, "runs", id)
		switch {
		case !known && !r.lost["runs"]:
			r.wrong(at, fmt.Sprintf("there is no run %q", id), r.nearOr(id, func() []string { return IDs(r.Runs) }, "describe it under runs first"))
		case known && section != "runs" && section != "":
			r.wrong(at, fmt.Sprintf("%s is %s, not a run", id, article(nounOf(section))), r.nearOr(id, func() []string { return IDs(r.Runs) }, "a state says what runs show"))
		}
		r.level(s.Runs[id].Level, "states", name, "runs", id, "level")
	}
	var lacks []lack
	for _, id := range IDs(r.Runs) {
		if one, ok := r.shown(name, id); ok {
			lacks = add(lacks, one)
		}
	}
	for _, one := range lacks {
		r.wrong(one.at, fmt.Sprintf("%s (%s) cannot show %s", list(one.runs, "and", 8), one.tape, one.what), "write all, or a colour made of the channels there are")
	}
}

// A lack is a colour that the tape of some runs cannot make.
type lack struct {
	runs       []string
	tape, what string
	at         finding.Pos
}

// add puts a lack to those of the same tape and place.
func add(lacks []lack, one lack) []lack {
	for i, other := range lacks {
		if other.tape == one.tape && other.what == one.what && other.at == one.at {
			lacks[i].runs = append(other.runs, one.runs...)
			return lacks
		}
	}
	return append(lacks, one)
}

func (r *reading) level(v *unit.Ratio, path ...string) {
	if v != nil && r.sound(path...) && (*v < 0 || *v > 1) {
		r.wrong(r.value(path...), "level cannot be "+percent(*v), "write 0 % to 100 %")
	}
}

// shown is what the tape of a run lacks for its colour in a state, and whether it lacks anything.
func (r *reading) shown(name, id string) (lack, bool) {
	tape := r.Tape(id)
	if tape == nil || !r.sound("runs", id, "tape") || !r.sound("parts", r.Runs[id].Tape) {
		return lack{}, false
	}
	if !r.knowsRuns(name) {
		return lack{}, false
	}
	path := []string{"states", name, "runs", id}
	if own := append(slices.Clone(path), "colour"); r.given(own...) || !r.lacks(path, "colour") {
		path = own
	} else {
		path = []string{"states", name, "colour"}
		if !r.given(path...) && !r.lacks(path[:2], "colour") {
			return lack{}, false
		}
	}
	if !r.sound(path...) {
		return lack{}, false
	}
	colour, _, _ := r.Shows(name, id)
	_, err := colour.Drive(Channels(tape), 1)
	if err == nil {
		return lack{}, false
	}
	given := colour.Word
	if !r.given(path...) {
		given += ", the colour of a state that names none"
	}
	return lack{[]string{id}, r.Runs[id].Tape, given + ": " + err.Error(), r.value(path...)}, true
}

// knowsRuns reports whether it is known for which runs a state has a colour of its own.
func (r *reading) knowsRuns(name string) bool {
	runs := document.Pointer("states", name, "runs")
	return !r.result.Unsure[runs] && (r.given("states", name, "runs") || r.lacks([]string{"states", name}, "runs"))
}

// duty checks that the hours name states and fit into a day.
func (r *reading) duty() {
	var sum float64
	for _, name := range IDs(r.Duty) {
		if !r.sound("duty", name) {
			continue
		}
		r.dutyName(name)
		share := r.Duty[name]
		if share < 0 || share > 1+1e-9 {
			r.wrong(r.value("duty", name), fmt.Sprintf("%s cannot be shown %s", name, hours(share)), "write 0 to 24 h/day")
			return
		}
		sum += float64(share)
	}
	if sum > 1+1e-9 {
		r.wrong(r.key("duty"), fmt.Sprintf("the states are shown %s together", hours(unit.Share(sum))), "a day has 24 hours; the hours left over are dark")
	}
}

func (r *reading) dutyName(name string) {
	_, known := r.States[name]
	switch at := r.key("duty", name); {
	case name == darkState:
		r.wrong(at, "dark has no hours of its own", "leave it out: the hours of no other state are dark")
	case !known && !r.lost["states"]:
		r.wrong(at, fmt.Sprintf("there is no state %q", name), r.nearOr(name, r.StateNames, "describe it under states first"))
	}
}
