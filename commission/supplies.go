package commission

import (
	"farend/parts"
	"farend/scheme"
)

// What supplies read in a case, whatever is lit.

// ownDraw is said wherever amperes of supplies are expected.
const ownDraw = "What boards and controllers draw themselves is not in these sums: where they hang on the same supply its amperes may stand above the band by so much."

// atSupplies is volts and amperes of every supply in a case.
func (m *maker) atSupplies(in, state string, amps accuracy) (steps []Step) {
	for _, id := range scheme.IDs(m.s.Supplies) {
		if _, ok := parts.Get[parts.Supply](m.s.Library, m.s.Supplies[id].Part); !ok {
			steps = append(steps, Step{Do: m.fullName(id) + ": volts and amperes", Between: poles(id), State: state, About: []string{id}, Expect: "its part is still to be chosen"}.in("supplies", id, "volts"))
			continue
		}
		v := Step{Do: m.fullName(id) + ": volts at its terminals", Between: poles(id), State: state, About: []string{id}, Rests: restsVolts, Reading: m.bounded(in, supplyVolts(id)).read(Volts, direct)}
		i := Step{Do: m.fullName(id) + ": amperes, whatever leaves +", Between: [2]string{"clamp on all + of " + id}, State: state, About: []string{id}, Rests: restsAmps, Reading: m.shared.widen(m, in, id, supplyAmps(id)).read(Amps, amps)}
		if m.shared.outs[id] {
			i.Rests = restsShared
		}
		if r := m.st.Result(in); r != nil && r.Found() && r.Supplies[id].State != "normal" {
			i.Expect = "it is at its limit in this state, or off: " + r.Supplies[id].State
		}
		for _, s := range []*Step{&v, &i} {
			if why := m.notChosen(id); why != "" {
				s.Reading, s.Expect = nil, why
			}
			if s.Reading == nil && s.Expect == "" {
				s.Expect = unsolved
			}
			if s.Reading == nil {
				s.Rests = ""
			}
		}
		if v.Reading != nil {
			v.Joint = v.Reading.joint(0) // a joint beyond its terminals shifts nothing there
		}
		steps = append(steps, v.in("supplies", id, "volts"), i.in("supplies", id, "amps"))
	}
	return steps
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
