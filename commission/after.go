package commission

// after is what is left once all reads well.
func (m *maker) after() Stage {
	g := Stage{Name: "Afterwards", Signed: "Measured by", Why: "Flexible copper settles under a screw. What is not written down was not measured."}
	state := "mains off and locked"
	for _, do := range []string{
		"Every screw terminal once more, at its torque; not those with springs or levers, and not tinned ends, which flow: cut those off and crimp",
		"Labels on: both ends of each cable, each fuse with its rating, each supply with its volts and what it feeds",
		"Spare fuses of each rating taped inside the box, with this sheet and the drawings of the same revision",
		"Covers on, glands tight, nothing pinched; boxes closed",
		"This sheet filled in, dated, initialled; what was outside its band, and what was done about it, on the back",
	} {
		g.Steps = append(g.Steps, Step{Do: do, State: state})
	}
	g.Steps = append(g.Steps, Step{Do: "A week later, and each year: volts of all supplies, the currents of the fullest state, the thermal look", State: "in use"})
	return g
}
