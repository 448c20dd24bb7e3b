package commission

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"farend/layout"
	"farend/unit"
)

// Where pages name wire by gauge, what is bought may have the copper of the gauge, and not of the mm² that the scheme computes with: it reads lower.

// gaugeShare is what wire of a gauge resists, stranded and 3 % over solid wire as tables have it, by its section over what IEC 60228 allows of fine
// strands, 15 % over solid wire.
const gaugeShare = 1.03 / 1.15

// gauged is the gauge by which pages name a size, and by which factor copper of it reads lower than that of the size, both without the strands that tables
// allow for; not ok where they name it in mm².
func (f *form) gauged(area unit.SquareMetre) (name string, factor float64, ok bool) {
	n, ok := area.GaugeNumber()
	if !ok || f.section(area) == layout.Nominal(area) {
		return "", 0, false
	}
	return area.Gauge(), float64(area / unit.AreaOfGauge(n)), true
}

// sizes are those of the cores in a stage, the thinnest first.
func (f *form) sizes() (areas []unit.SquareMetre) {
	for _, s := range f.Steps {
		if s.Reading != nil && s.Section > 0 {
			areas = append(areas, s.Section)
		}
	}
	slices.Sort(areas)
	return slices.Compact(areas)
}

// gauges says what copper of a gauge reads, where pages name wire so.
func (f *form) gauges() string {
	var list []string
	for _, area := range f.sizes() {
		if name, factor, ok := f.gauged(area); ok {
			list = append(list, fmt.Sprintf("%s (%s): ×%s%.2f", layout.Unbroken(name), layout.Nominal(area), layout.Thin, math.Floor(100*factor)/100))
		}
	}
	if list == nil {
		return ""
	}
	return "Milliohms and their bands are those of the mm² in brackets. Wire that has the copper of its gauge (ASTM B258) reads lower. Multiply the lower end of the band by this, and take the last digit of the meter off besides: " + strings.Join(list, "; ") +
		". A reading below the band is then sound down to there. Leave the upper end alone, for contacts and what the meter errs by do not shrink with the copper. Such cables lose less, and volts stand higher by what they do not lose. Whether a bad joint would be seen is said for both coppers."
}

// weigh says of each step of a stage what a bad joint would do for whichever copper its wire has.
func (f *form) weigh() {
	steps := slices.Clone(f.Steps)
	for i := range steps {
		steps[i].Joint = f.jointByGauge(steps[i])
	}
	f.Steps = steps
}

// jointByGauge is what a bad joint does to the reading of a step, for copper of the mm² and of the gauge alike: which it is nobody knows of a reading.
func (f *form) jointByGauge(s Step) *Joint {
	if s.Joint == nil || s.Reading == nil {
		return s.Joint
	}
	_, factor, ok := f.gauged(s.Section)
	if !ok && f.anyGauge() && s.Reading.Kind == Volts && s.Joint.Seen == Seen {
		less := *s.Joint
		less.Seen = Maybe // with more copper in its feed a sound place stands higher, by how much is not solved
		return &less
	}
	if !ok || s.Reading.Kind != Ohms {
		return s.Joint
	}
	r := *s.Reading
	r.Low, r.Is = r.Low*min(factor, 1), r.Is*min(factor*gaugeShare, 1)
	return r.blurred(s.Joint.Shift, s.Joint.Blur)
}

// anyGauge reports whether pages name any size of the stage by its gauge.
func (f *form) anyGauge() bool {
	return slices.ContainsFunc(f.sizes(), func(area unit.SquareMetre) bool { _, _, ok := f.gauged(area); return ok })
}
