package commission

import "farend/network"

// allDark is everything fed and nothing lit.
func (m *maker) allDark() Stage {
	g := Stage{
		Name:  "All fuses in, dark",
		Why:   "What is drawn with nothing lit is drawn every hour of the year; it is also the reading that a later fault is compared with.",
		Stop:  "Do not go on while a current is outside its band.",
		Live:  true,
		Notes: []string{"Chips may come up with some lights on until the first frame. " + ownDraw},
	}
	state := "all fuses in, data in, dark"
	g.Steps = append(g.Steps, Step{Do: "Supply off; all fuses in, each of the rating on its label; supply on", State: state}, Step{Do: "Data plugged in at every port; controllers on, sending dark", State: state, About: m.s.Senders()})
	lowest := m.lowestOfAll(string(network.Dark), state)
	g.Steps = append(g.Steps, m.atSupplies(string(network.Dark), state)...)
	g.Steps = append(g.Steps, lowest...)
	g.Sheets = []Worksheet{m.supplySheet(), m.lowestSheet(lowest)}
	return g
}
