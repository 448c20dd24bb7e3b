package commission

import (
	"cmp"

	"farend/parts"
	"farend/scheme"
)

// What supplies read in a case, whatever is lit.

// ownDraw is said wherever amperes of supplies are expected.
const ownDraw = "What boards and controllers draw themselves is not in these sums: where they hang on the same supply its amperes may stand above the band by so much."

// atSupplies is volts and amperes of every supply in a case.
func (m *maker) atSupplies(in, state string) (steps []Step) {
	for _, id := range scheme.IDs(m.s.Supplies) {
		if _, ok := parts.Get[parts.Supply](m.s.Library, m.s.Supplies[id].Part); !ok {
			s := Step{Do: m.fullName(id) + ": volts and amperes", Between: poles(id), State: state, About: []string{id}}.in("supplies", id, "volts")
			steps = append(steps, s.without("its part is still to be chosen"))
			continue
		}
		steps = append(steps, m.voltsOf(in, id, state), m.ampsOf(in, id, state))
	}
	return steps
}

// voltsOf is the volts of a supply in a case.
func (m *maker) voltsOf(in, id, state string) Step {
	s := Step{Do: m.fullName(id) + ": volts at its terminals", Between: poles(id), State: state, About: []string{id}, Rests: restsVolts}.in("supplies", id, "volts")
	s.Reading = m.bounded(in, supplyVolts(id)).read(Volts, direct)
	if why := m.notChosen(id); why != "" || s.Reading == nil {
		return s.without(cmp.Or(why, unsolved))
	}
	s.Joint = s.Reading.joint(direct, 0) // a joint beyond its terminals shifts nothing there
	return s
}

// ampsOf is the amperes of a supply in a case.
func (m *maker) ampsOf(in, id, state string) Step {
	s := Step{Do: m.fullName(id) + ": amperes, whatever leaves +", Between: [2]string{"clamp on all + of " + id}, State: state, About: []string{id}, Rests: restsAmps}.in("supplies", id, "amps")
	if m.shared.outs[id] {
		s.Rests = restsShared
	}
	if r := m.st.Result(in); r != nil && r.Found() && r.Supplies[id].State != "normal" {
		s.Expect = "it is at its limit in this state, or off: " + r.Supplies[id].State
	}
	s.Reading = m.boundedShare(in, id, supplyAmps(id)).read(Amps, clamped)
	if why := m.notChosen(id); why != "" || s.Reading == nil {
		return s.without(cmp.Or(why, s.Expect, unsolved))
	}
	return s
}

// supplySheet is volts and amperes of supplies in one state.
func (m *maker) supplySheet() Worksheet {
	w := Worksheet{
		Name: "supplies", Title: "Supplies",
		Notes:   []string{"Volts at the terminals; amperes by clamp on whatever leaves +."},
		Columns: []Column{words("Supply"), words("Called"), {Head: "Volts", Means: "the volts", Field: "volts", Kind: Measured}, {Head: "Amperes", Means: "the amperes", Field: "amps", Kind: Measured}},
	}
	for _, id := range scheme.IDs(m.s.Supplies) {
		w.Rows = append(w.Rows, m.row(id, id, id, m.called(id)))
	}
	return w
}
