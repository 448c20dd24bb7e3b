package main

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"
	"strings"

	"farend/network"
	"farend/report"
	"farend/scheme"
	"farend/unit"
)

type checkCommand struct {
	Scheme string `arg:"" predictor:"scheme" help:"The scheme file, or - for standard input."`
	JSON   bool   `name:"json" help:"As one JSON object."`
	Pixels bool   `help:"With --json: voltage, potentials and current of every pixel."`
	widened
	pictured
	reasoned
	mending
}

func (c *checkCommand) Help() string {
	return "Examples:\n  farend check footbridge.scheme.yaml\n  farend check --json footbridge.scheme.yaml\n  farend check - < footbridge.scheme.yaml\n  farend check --chart A1.2 footbridge.scheme.yaml\n  farend check --power E1@end footbridge.scheme.yaml\n  farend check --wave D1 footbridge.scheme.yaml\n  farend check --why cable-current:W3 footbridge.scheme.yaml\n  farend check --fix footbridge.scheme.yaml\n  farend check --protection footbridge.scheme.yaml\n  farend check --json --case fault/poles/E1@end/dark footbridge.scheme.yaml\n\n" +
		"Exit code 0: nothing worse than tight. 1: a danger, something that fails, or a safety rule that could not be assessed. 2: the call or the file is wrong. " +
		"3: a fault of ours. 130: interrupted."
}

func (c *checkCommand) Run(ctx context.Context, s streams, code *outcome) error {
	if c.Pixels && !c.JSON {
		return usage("--pixels needs --json", "farend check --json --pixels FILE")
	}
	if c.Pixels && c.Wave != "" {
		return usage("--pixels and --wave are two answers", "call farend check once for each")
	}
	if err := cmp.Or(c.pictured.wrong(c.Scheme, c.JSON), c.reasoned.wrong("--pixels", c.Pixels), c.reasoned.wrong("--chart", c.Chart != ""), c.reasoned.wrong("--power", c.Power != ""), c.reasoned.wrong("--wave", c.Wave != ""),
		c.widened.wrong(c.JSON), c.mending.wrong("--pixels", c.Pixels), c.mending.wrong("--chart", c.Chart != ""), c.mending.wrong("--power", c.Power != ""), c.mending.wrong("--wave", c.Wave != ""), c.mending.wrong("--why", c.Why != "")); err != nil {
		return err
	}
	sch, source, err := s.open(ctx, c.Scheme)
	if list := mistakesJSON(err); list != nil && c.JSON {
		*code = exitUsage
		return writeJSON(s.out, wrongJSON(list))
	}
	if err != nil {
		return err
	}
	result, err := s.check(ctx, sch, c.striking())
	if err != nil {
		return err
	}
	more, err := s.more(ctx, result, &c.widened)
	if err != nil {
		return err
	}
	*code = result.exit()
	if c.Fix {
		return s.mend(ctx, &c.mending, c.Scheme, result, source, code, c.JSON)
	}
	if c.Wave != "" && c.JSON {
		return s.waves(result, c.Wave)
	}
	if c.asked() {
		return s.picture(ctx, &c.pictured, result)
	}
	if c.Why != "" {
		return s.answer(result, c.Why, c.JSON)
	}
	if c.JSON {
		return writeJSON(s.out, resultJSON(result, c.Pixels, more))
	}
	result.print(s.page())
	return nil
}

// print writes the result for people: verdict first, findings next, tables last.
func (c *checked) print(p *page) {
	p.heading(c.name())
	p.wrap(c.verdictText())
	p.blank()
	var notes report.Footnotes
	for _, group := range report.Alike(c.findings) {
		p.findings(group, &notes)
	}
	p.sources("Sources of the findings", notes)
	c.printFooting(p)
	c.printSupplies(p)
	c.printBoards(p)
	c.printProtection(p)
	c.printFarShorts(p)
	c.printFaults(p)
	c.printOutages(p)
	c.printSilent(p)
	c.printJoints(p)
	c.printDivided(p)
	c.printCables(p)
	c.printRuns(p)
	c.printPorts(p)
	c.printCharts(p)
	p.wrap("In state/NAME every pixel draws its mean; in peak/NAME all pixels switch on together; with the cap failed every channel is full on.")
	p.blank()
	c.printCautions(p)
}

// name is the title of the scheme, or its file where it has none.
func (c *checked) name() string { return nameOf(c.Scheme) }

func nameOf(s *scheme.Scheme) string { return cmp.Or(s.Title, s.File) }

// verdictText counts the findings by grade and names them, worst first.
func (c *checked) verdictText() string {
	return report.Verdict(c.Study, c.assessed, c.findings)
}

func (c *checked) failed() *network.Result { return c.Result(string(network.CapFailed)) }

func (c *checked) dark() *network.Result { return c.Result(string(network.Dark)) }

func (c *checked) printSupplies(p *page) {
	t := p.table("Supplies (highest peak current, and lowest voltage in its case; highest mean power)", "", "part", "V", "A", "rated A", "case", "W", "cap failed A", "dark W")
	for _, id := range scheme.IDs(c.failed().Supplies) {
		cs, _ := c.Heaviest(func(r *network.Result) float64 { return float64(r.Supplies[id].Amps.Peak) })
		_, watts := c.Heaviest(func(r *network.Result) float64 { return float64(r.Supplies[id].Watts) })
		r := c.Result(cs.Name).Supplies[id]
		t.row(id, short(c.Scheme.Supplies[id].Part), figures(r.VoltsLow, 1), figures(r.Amps.Peak, 1), figures(r.Rated, 1), cs.Name, figures(unit.Watt(watts), 1),
			figures(c.failed().Supplies[id].Amps.Peak, 1), figures(c.dark().Supplies[id].Watts, 1))
	}
	t.print()
}

func (c *checked) printCables(p *page) {
	t := p.table("Cables (heating current of the heavier core; mean drop and warmth in its case)", "", "from", "to", "part", "m", "A", "limit A", "drop mV", "°C", "case", "cap failed A", "°C")
	for _, id := range scheme.IDs(c.failed().Cables) {
		cable := c.Scheme.Cables[id]
		amps := func(r *network.Result) float64 { return float64(max(r.Cables[id].Plus.RMS, r.Cables[id].Return.RMS)) }
		cs, worst := c.Heaviest(amps)
		r, f := c.Result(cs.Name).Cables[id], c.failed().Cables[id]
		t.row(id, cable.From.String(), cable.To.String(), short(cable.Part), figures(*cable.Length, 1), figures(unit.Ampere(worst), 1), figures(r.Iz, 1),
			figures(r.Drop, 1000), warmth(r), cs.Name, figures(unit.Ampere(amps(c.failed())), 1), warmth(f))
	}
	t.print()
}

// warmth is how warm the hottest core of a cable gets, as far as that is known.
func warmth(c network.Cable) string {
	if c.Clamped {
		return "> " + figures(c.Celsius, 1)
	}
	return figures(c.Celsius, 1)
}

func (c *checked) printRuns(p *page) {
	t := p.table("Runs (highest peak current; lowest voltage, and the light in its case)", "", "label", "pixels", "m", "A", "lowest V", "at px", "evenness %", "Δu′v′", "case")
	for _, id := range scheme.IDs(c.failed().Runs) {
		cs, _ := c.Heaviest(func(r *network.Result) float64 { return -float64(r.Runs[id].VoltsLow) })
		r := c.Result(cs.Name).Runs[id]
		_, amps := c.Heaviest(func(r *network.Result) float64 { return float64(r.Runs[id].Amps.Peak) })
		even, shift := "–", "–"
		if r.Evenness != nil {
			even, shift = figures(unit.Ratio(*r.Evenness), 100), report.Shift(*r.ColourShift)
		}
		run := c.Scheme.Runs[id]
		length := "–"
		if run.Length != nil {
			length = figures(*run.Length, 1)
		}
		lowest, at := "–", "–" // where no supply reaches it
		if r.Fed {
			lowest, at = figures(r.VoltsLow, 1), fmt.Sprint(r.LowAt)
		}
		t.row(id, run.Label, fmt.Sprint(r.Pixels), length, figures(unit.Ampere(amps), 1), lowest, at, even, shift, cs.Name)
	}
	t.print()
}

// printCharts draws the voltage along every run in the case where it is lowest.
func (c *checked) printCharts(p *page) {
	runs := scheme.IDs(c.failed().Runs)
	if len(runs) == 0 {
		return
	}
	p.heading("Voltage along each run in the case of the table above, pixel 0 at the left")
	wide := 0
	for _, id := range runs[:min(len(runs), mostCharts)] {
		wide = min(max(wide, width(id)), mostCharted)
	}
	charts := c.charts(runs[:min(len(runs), mostCharts)])
	for _, chart := range charts {
		c.printChart(p, chart, wide)
	}
	p.line("%-*s  ▲ where a cable lands; runs of one nominal voltage share a scale", wide, "")
	if more := len(runs) - mostCharts; more > 0 {
		p.line("… and %d more runs; --json --pixels has every pixel", more)
	}
	p.blank()
}

// mostCharts is the number of runs that are drawn, mostCharted the columns their identifiers may take.
const (
	mostCharts  = 40
	mostCharted = 16
)

// A sparkline is the voltage along a run, nil where no supply reaches it, and what its row spans.
type sparkline struct {
	run   string
	volts []float64
	scale *span
}

type span struct{ low, high float64 }

// charts reads the voltage along runs. Those of one nominal voltage share a scale, so that their rows can be compared.
func (c *checked) charts(runs []string) []sparkline {
	var charts []sparkline
	scales := map[unit.Volt]*span{}
	for _, id := range runs {
		cs, _ := c.Heaviest(func(r *network.Result) float64 { return -float64(r.Runs[id].VoltsLow) })
		if !c.Result(cs.Name).Runs[id].Live {
			charts = append(charts, sparkline{run: id})
			continue
		}
		nominal := unit.Volt(0)
		if tape := c.Scheme.Tape(id); tape != nil {
			nominal = tape.Volts.Is
		}
		s := scales[nominal]
		if s == nil {
			s = &span{math.Inf(1), math.Inf(-1)}
			scales[nominal] = s
		}
		profile, _ := c.Network.Profile(c.Solution(cs.Name), id)
		s.low, s.high = min(s.low, slices.Min(profile.Lowest)), max(s.high, slices.Max(profile.Lowest))
		charts = append(charts, sparkline{id, profile.Lowest, s})
	}
	return charts
}

func (c *checked) printChart(p *page, drawn sparkline, wide int) {
	id, name := drawn.run, clip(drawn.run, wide)
	if drawn.volts == nil {
		why := "no supply reaches it"
		if slices.ContainsFunc(c.Network.Feeds(id), network.Feed.Closed) {
			why = "dark: the supply that feeds it shuts down"
		}
		p.line("%-*s  %s", wide, name, why)
		return
	}
	low, high := slices.Min(drawn.volts), slices.Max(drawn.volts)
	p.line("%-*s  %s  %v to %v", wide, name, sparks(drawn.volts, drawn.scale.low, drawn.scale.high), unit.Volt(low), unit.Volt(high))
	p.line("%-*s  %s", wide, "", feedMarks(c.feedPlaces(id), len(drawn.volts)))
}

// feedPlaces are the marks of a run at which a cable lands.
func (c *checked) feedPlaces(run string) []int {
	var marks []int
	for _, cable := range c.Scheme.Cables {
		for _, ref := range []scheme.Ref{cable.From, cable.To} {
			if ref.Kind == scheme.StationRef && ref.Element == run {
				marks = append(marks, ref.Station.Mark)
			}
		}
	}
	return marks
}

func (c *checked) printCautions(p *page) {
	p.wrap(report.Touch(c.Study) + " " + report.Licensed)
}

// short is a part name without its kind.
func short(part string) string { return part[strings.IndexByte(part, '/')+1:] }

func dash(s string) string {
	if s == "" {
		return "–"
	}
	return s
}

// figures is a quantity with three significant figures for a table, without its unit.
func figures[T ~float64](v T, scale float64) string {
	if math.IsNaN(float64(v)) || math.IsInf(float64(v), 0) {
		return "–"
	}
	return unit.Number(float64(v)*scale, 3)
}
