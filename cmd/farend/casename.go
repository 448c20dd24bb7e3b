package main

import (
	"fmt"
	"slices"
	"strings"

	"farend/finding"
	"farend/network"
	"farend/scheme"
)

// noCase says that there is no case of a name in a network, and which there are that are like it.
func noCase(n *network.Network, name string) error {
	return usage(fmt.Sprintf("there is no case %q", name), caseHint(n, name))
}

// caseHint names the part of a case's name that nothing has, and what may stand there.
func caseHint(n *network.Network, name string) string {
	parts := strings.Split(name, "/")
	states := make([]string, 0, len(n.States()))
	for _, c := range n.States() {
		states = append(states, c.Name)
	}
	switch kinds := []string{"poles", "metal", "data", "bridge", "open", "reversed"}; {
	case parts[0] == "fault" && len(parts) > 2 && parts[1] == string(network.Reversed):
		if cables := scheme.IDs(n.Scheme.Cables); !slices.Contains(cables, parts[2]) {
			return choice("cable", parts[2], cables)
		}
		return "farend netlist --case fault/reversed/" + parts[2] + "/dark FILE writes a feed that lands the wrong way round; check --json has it among protection.faults"
	case parts[0] == "fault" && len(parts) > 1 && !slices.Contains(kinds, parts[1]):
		return choice("kind of fault", parts[1], kinds)
	case parts[0] == "fault" && len(parts) > 2:
		places := faultPlaces(n, network.FaultKind(parts[1]))
		for i, at := range strings.Split(parts[2], "+") {
			if !slices.Contains(places, at) && (i == 0 || parts[1] == string(network.Bridged)) {
				return choice("place of such a fault", at, ofSame(at, places))
			}
		}
		if hint := condition(n, parts[3:]); hint != "" {
			return hint
		}
		return "faults are named like fault/poles/PLACE/dark or fault/bridge/PLACE+PLACE/cap-failed"
	case parts[0] == "outage" && len(parts) > 1 && !slices.Contains(n.Outages(), parts[1]):
		return choice("thing that opens", parts[1], n.Outages())
	case parts[0] == "outage" && len(parts) > 1:
		if hint := condition(n, parts[2:]); hint != "" {
			return hint
		}
	}
	if near := finding.DidYouMean(name, states); near != "" {
		return "did you mean " + near + "?"
	}
	return "this scheme has " + strings.Join(states, ", ") + ", and faults and outages in each, such as fault/poles/PLACE/dark or outage/W1.plus/cap-failed"
}

// faultPlaces are the places of a scheme at which there may be a fault of a kind.
func faultPlaces(n *network.Network, kind network.FaultKind) []string {
	var names []string
	if kind == network.PoleOpen {
		for _, id := range scheme.IDs(n.Scheme.Runs) {
			if n.Lay(network.Fault{Kind: kind, At: id}) {
				names = append(names, id)
			}
		}
		return names
	}
	for _, p := range n.Places() {
		names = append(append(names, p.Name), p.Also...)
	}
	return names
}

// ofSame are the places on the same thing as one; all where there is none.
func ofSame(at string, places []string) []string {
	thing, _, _ := strings.Cut(at, "@")
	same := slices.DeleteFunc(slices.Clone(places), func(name string) bool {
		other, _, _ := strings.Cut(name, "@")
		return other != thing
	})
	if len(same) == 0 {
		return places
	}
	return same
}

// condition is a hint where a fault or outage names no condition of the scheme that it happens in.
func condition(n *network.Network, in []string) string {
	word := strings.Join(in, "/")
	if _, known := n.Within(word); known {
		return ""
	}
	names := []string{string(network.Dark), string(network.CapFailed)}
	for _, state := range n.Scheme.StateNames() {
		names = append(names, state, "peak-"+state)
	}
	return choice("condition that it may happen in", word, names)
}

// choice is a hint: the name that is most like a word, or those that there are, at most a dozen of them.
func choice(what, word string, names []string) string {
	const most = 12
	if near := finding.DidYouMean(word, names); near != "" {
		return fmt.Sprintf("did you mean %s?", near)
	}
	if len(names) == 0 {
		return "this scheme has no " + what
	}
	shown := strings.Join(names[:min(most, len(names))], ", ")
	if more := len(names) - most; more > 0 {
		shown += fmt.Sprintf(" and %d more", more)
	}
	verb := "are"
	if len(names) == 1 {
		verb = "is"
	}
	return fmt.Sprintf("%q is no %s; there %s %s", word, what, verb, shown)
}
