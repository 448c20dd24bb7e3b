package commission

// before is what one needs, and what must be so, before anything is measured.
func (m *maker) before() Stage {
	g := Stage{
		Name:  "Before you begin",
		Why:   "Extra-low voltage is not expected to shock in dry use; tens of amperes burn all the same. Rings and bracelets off. Local codes and licensed electricians come before this sheet; whatever concerns the mains is theirs.",
		Rests: true,
		Stop:  "Do not begin while the sheet says of anything that it is still to be chosen, or while a finding of the design is a danger, or of those that guard against harm one fails or is unknown.",
	}
	state := "before the first test"
	for _, do := range []string{
		"Have this sheet, the drawings and the findings of the same revision at hand",
		"Mains side made, tested and signed by a licensed electrician; supplies switched off and locked against switching on",
		"Meter of 6000 counts, category CAT II 300 V or better (CAT III for whoever works on the mains); leads sound, fuses of the meter sound (common practice, no source)",
		"Clamp for direct current, zeroed before each reading, or a shunt with its value written on it",
		"Supply for 1 A with adjustable limit, no more than 3 V, to measure milliohms (common practice, no source)",
		"Thermometer with a contact probe; one that reads infrared errs on bare metal",
		"Spare fuses of each rating; a short lead to link cores, a long one with clips to read volts along them",
		"Note make and number of each instrument on the back of this page",
		"Labels on every cable end, fuse and supply as on the drawings",
		"Control system off, data unplugged at every port, until the sheet asks for data",
	} {
		g.Steps = append(g.Steps, Step{Do: do, State: state})
	}
	for _, open := range m.st.Open() {
		g.Steps = append(g.Steps, Step{Do: open + " is still to be chosen: what rests on it is missing from this sheet", State: state, Stop: "choose it, and make this sheet anew"})
	}
	g.Notes = []string{
		"Meters: " + accuracies + ".",
		"A landing is where a cable lands on a run: E1@px29 is just before pixel 29 of E1, counted from 0 at data-in; at a cut it is said which side of it is meant.",
	}
	return g
}
