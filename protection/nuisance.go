package protection

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"farend/conductor"
	"farend/finding"
	"farend/network"
	"farend/parts"
	"farend/scheme"
	"farend/study"
	"farend/unit"
)

// starts is the share of the I²t that melts a link which it stands at ten thousand starts, about one a day for as long as such an
// installation is there.
const starts = 0.29

var (
	startsSource = study.Source{Title: "fuse application guide (“fuseology”)", Basis: parts.Memory, Says: "a link stands 10,000 pulses of 29 % of the I²t that melts it"}
	pulseSource  = study.Source{Title: "energy of a capacitor", Basis: parts.Derived, Says: "½ · C · U² is turned to heat in the resistance of the loop, whatever that is, so I²t = U² · C/(2 · R)"}
	cycleSource  = study.Source{Title: "WS2812B datasheet", Basis: parts.Datasheet, Says: "pixels pulse at 400 Hz or more: a cycle is at most 2.5 ms", Read: "the reference data of chips"}
)

// cycle is the longest pulse-width cycle.
const cycle unit.Second = 1.0 / 400

var nuisance = study.Rule{
	Name: "protection/nuisance", Title: "Fuse at start and peak", Scope: study.Fuses, Safety: false,
	Doc: study.Doc{
		What: "Whether a fuse stays closed in a healthy start and in the peaks of the pulse-width cycle: the I²t with which capacitors behind it charge when they are plugged in, against what the link stands, warm from its load; and the time for which it holds the largest peak, against a cycle.",
		Why:  "A fuse that opens in normal use is replaced by a larger one sooner or later, and that one protects nothing.",
		Formula: []string{
			"W = U² · C/(2 · R) ≤ k_w · W_f",
			"W_f = (m_l · k_t · I_n)² · t_l, where its part states no melting",
			"k_w = 1 − (I_b/(m_c · k_t · I_n))²",
			"t_f · k_w ≥ t_c where the peak is above m_c · k_t · I_n",
		},
		Symbols: []study.Symbol{
			{Sign: "W", Unit: "A²s", Means: "I²t with which everything behind the fuse charges"},
			{Sign: "U", Unit: "V", Means: "highest voltage that a supply on its copper brings"},
			{Sign: "C", Unit: "F", Means: "capacitors behind it, and those on the pixels of the tapes there, at the upper end of their spread"},
			{Sign: "R", Unit: "Ω", Means: "of the cold link, the way and the cables that land there, or the cable that it is in, both poles"},
			{Sign: "W_f", Unit: "A²s", Means: "what melts the link: stated (melting), else the last gate at which it surely holds"},
			{Sign: "k_w", Unit: "1", Means: "share of that which is left when it is warm from its load"},
			{Sign: "m_l", Unit: "1", Means: "multiple of the rating at that gate"},
			{Sign: "t_l", Unit: "s", Means: "how long it surely holds there"},
			{Sign: "k_t", Unit: "1", Means: "what the air around it leaves of the rating"},
			{Sign: "I_n", Unit: "A", Means: "rating of the link"},
			{Sign: "I_b", Unit: "A", Means: "heating (rms) current in the heaviest state or peak"},
			{Sign: "m_c", Unit: "1", Means: "multiple of the rating that it holds for ever: 1.1 for blade fuses"},
			{Sign: "t_f", Unit: "s", Means: "how long it surely holds the peak, cold"},
			{Sign: "t_c", Unit: "s", Means: "one pulse-width cycle, at most 2.5 ms"},
		},
		Sources: []study.Source{pulseSource, startsSource, cycleSource,
			{Title: "ISO 8820-3 and IEC 60127-2", Basis: parts.Standard, Says: "the times for which a fuse surely holds", Read: "data sheets that print the gates"},
			{Title: "common practice, no source", Basis: parts.Practice, Says: "one capacitor of 100 nF at each pixel, where a tape says nothing better"}},
		Limits: []string{
			"The least that melts a link is an estimate where it rests on a gate: shorter pulses than that melt it with the same I²t. A stated melting is that of a typical link.",
			"The supply is taken to give what is asked, as if it were plugged in live. One that is switched on with its load rises in milliseconds, and charges it more gently.",
			"Everything that copper leads to beyond the fuse charges through it alone, also where other feeds help: careful.",
			"That it carries its load for good is judged by protection/fuse-load and protection/inline-fuse-load; fuses in the grounds of ports are not judged here.",
		},
		Grades: []study.Graded{
			{Grade: finding.Fails, When: "the I²t of a start is above what the link stands warm, or it surely holds the peak for less than a cycle"},
			{Grade: finding.Unknown, When: "what a tape behind it charges, or how long the link holds, is not stated; said once for a scheme, and no matter of safety"},
			{Grade: finding.Tight, When: "the I²t is above 29 % of that: it may tire within ten thousand starts"},
		},
		Example: study.Example{
			Given: []string{
				"A blade fuse of 3 A, 30 mΩ, in air of 20 °C guards a run of 24 V which draws 1 A and has a capacitor of 22 mF. The way has 2 mΩ, the cable 10 mΩ a pole.",
				"It holds 1.1 times its rating for ever, and 6 times for 0.02 s.",
			},
			Sums: []string{
				"30 mΩ + 2 mΩ + 2 × 10 mΩ = 52 mΩ",
				"(24 V)² × 22 mF/(2 × 52 mΩ) = 121.8 A²s",
				"(6 × 1 × 3 A)² × 0.02 s = 6.48 A²s",
				"1 − (1 A/(1.1 × 1 × 3 A))² = 0.9082",
				"121.8 A²s > 0.9082 × 6.48 A²s",
			},
			Value: "121.8 A²s", Limit: "5.885 A²s", Grade: finding.Fails,
			Says: "It opens whenever the run is plugged in live.",
		},
	},
	Judge: func(s *study.Study, id string) []study.Assessment {
		g, ok := s.Guard(id + ".fuse")
		if !ok || g.Fuse == nil {
			return nil
		}
		b := burdenOf(s, g)
		switch {
		case len(b.runs) == 0:
			return study.Passes("No run hangs on it.")
		case b.unknown != "" && id == firstUnknown(s):
			return study.Unknown(b.unknown, b.lacks+"; until then watch the first starts.")
		case b.unknown != "":
			return nil // said of the first
		}
		return append(b.peaks(s), b.start(s))
	},
}

// A burden is what a fuse has to bear at a start.
type burden struct {
	guard   study.Guard
	runs    []string
	load    unit.Ampere // heating current in the heaviest state or peak
	in      network.Case
	held    study.Number // the gate's time, or the melting
	gate    study.Number // its multiple; the zero Number where the part states a melting
	carries study.Number // multiple that it holds for ever
	lasts   study.Number // for so long, when that was tested
	share   float64      // what the air leaves of the rating
	unknown string       // what is not stated
	lacks   string       // what to state, by its key
}

// firstUnknown is where the first fuse stands of which it is not known.
func firstUnknown(s *study.Study) string {
	for _, g := range s.Guards() {
		if g.Fuse == nil || strings.HasSuffix(g.Name, ".ground fuse") {
			continue
		}
		if b := burdenOf(s, g); b.unknown != "" && len(b.runs) > 0 {
			return g.At
		}
	}
	return ""
}

func burdenOf(s *study.Study, g study.Guard) burden {
	b := burden{guard: g}
	mean := unit.Ampere(0)
	for _, c := range s.Cases() {
		if amps := s.CarriedBy(g, c); c.Kind != network.CapFailed && (b.in.Name == "" || amps.RMS > b.load) {
			b.load, b.in, mean = amps.RMS, c, amps.Mean
		}
	}
	b.runs = s.Network.RunsBeyond(g.Name, mean >= 0)
	for _, run := range b.runs {
		if tape := s.Scheme.Tape(run); tape == nil || !tape.Capacitance.Given {
			name := s.Scheme.Runs[run].Tape
			b.unknown = fmt.Sprintf("Whether fuses open at a start is not known: %s does not say what its pixels charge when they are plugged in (capacitance).", name)
			b.lacks = "State capacitance for " + name
		}
	}
	warm, known := s.Warm(g.Fuse, g.Warm)
	b.share = warm.Share
	if !b.gates(s) || !known {
		b.unknown = fmt.Sprintf("Whether %s opens at a start is not known: %s does not say how long it holds what, in air of %v.", g.Name, g.Part, g.Warm)
		b.lacks = "State " + b.lacking()
	}
	return b
}

// gates finds the gates of the link; it reports whether they are there.
func (b *burden) gates(s *study.Study) bool {
	curve, ok := parts.Get[parts.Curve](s.Scheme.Library, b.guard.Fuse.Curve)
	if !ok {
		return false
	}
	opens := false
	for i, gate := range curve.Gates {
		key := fmt.Sprintf("gates.%d.", i+1)
		opens = opens || gate.Max.Given
		multiple := s.Multiple(b.guard.Fuse.Curve, i)
		switch {
		case !opens:
			b.carries, b.lasts = multiple, study.Stated(b.guard.Fuse.Curve, key+"min", gate.Min)
		case gate.Min.Given:
			b.held, b.gate = study.Stated(b.guard.Fuse.Curve, key+"min", gate.Min), multiple
		}
	}
	if melting := b.guard.Fuse.Melting; melting.Given {
		b.held, b.gate = study.Stated(b.guard.Part, "melting", melting), study.Number{}
	}
	return b.carries.Key != "" && b.held.Key != ""
}

// lacking names the keys that would say how long the link holds what: the curve of its family; in that, gates with the times for which
// it surely holds, or else its melting; and what air does to its rating.
func (b burden) lacking() string {
	switch curve := b.guard.Fuse.Curve; {
	case curve == "":
		return "curve for " + b.guard.Part + ", that of its family"
	case b.carries.Key == "":
		return "min of the first of the gates of " + curve
	case b.held.Key == "":
		return fmt.Sprintf("melting for %s, or min of the gates of %s", b.guard.Part, curve)
	default:
		return fmt.Sprintf("derating for %s up to %v", curve, b.guard.Warm)
	}
}

// steady is the largest current that the link holds for ever in its air.
func (b burden) steady() float64 {
	return b.carries.Value() * b.share * float64(b.guard.Fuse.Rating.Is)
}

// stands is the I²t that the link stands when it is warm from its load.
func (b burden) stands() float64 {
	held := b.held.Value()
	if b.gate.Key != "" {
		amps := b.gate.Value() * b.share * float64(b.guard.Fuse.Rating.Is)
		held *= amps * amps
	}
	return held * b.warm()
}

// warm is the share of what melts the link that is left when it carries its load.
func (b burden) warm() float64 {
	x := float64(b.load) / b.steady()
	return max(0, 1-x*x)
}

// A charge is what charges through the fuse: the capacitance at the upper end of its spread, and how often it is there.
type charge struct {
	means string
	of    study.Number
	upper unit.Farad
	times int
}

// charges lists what charges through the fuse.
func (b burden) charges(s *study.Study) []charge {
	var list []charge
	for _, run := range b.runs {
		name, tape := s.Scheme.Runs[run].Tape, s.Scheme.Tape(run)
		list = append(list, charge{"pixels of " + run, study.Stated(name, "capacitance", tape.Capacitance), tape.Capacitance.Upper(), s.Scheme.Runs[run].Count})
	}
	for _, id := range scheme.IDs(s.Scheme.Capacitors) {
		c := s.Scheme.Capacitors[id]
		if part, ok := parts.Get[parts.Capacitor](s.Scheme.Library, c.Part); ok && slices.Contains(b.runs, c.At.Element) {
			list = append(list, charge{id, study.Stated(c.Part, "capacitance", part.Capacitance), part.Capacitance.Upper(), 1})
		}
	}
	return list
}

// A lead is a conductor through which everything charges: so much of each pole.
type lead struct {
	id    string
	part  string
	cable *parts.Cable
	poles int // 2, or 1 of a single-pole link
	cores int
}

// leads lists the cables that charge what lies behind the fuse, next to it: the one that it is in, or those that land on its way.
func (b burden) leads(s *study.Study) []lead {
	ids := []string{b.guard.At}
	if _, inline := s.Scheme.Cables[b.guard.At]; !inline {
		ids = s.Network.Landings(b.guard.At)
	}
	var list []lead
	for _, id := range ids {
		c := s.Scheme.Cables[id]
		part, ok := parts.Get[parts.Cable](s.Scheme.Library, c.Part)
		if !ok || c.Length == nil || !c.Pole.Has(scheme.Plus) {
			continue
		}
		poles := 2
		if c.Pole == scheme.Plus {
			poles = 1
		}
		list = append(list, lead{id, c.Part, part, poles, c.PerPole()})
	}
	return list
}

func (l lead) ohms(s *study.Study) float64 {
	length := float64(*s.Scheme.Cables[l.id].Length)
	return float64(l.poles) * length * float64(l.cable.R20.Is) / float64(l.cores) * conductor.Factor(coldCopper(s))
}

// coldCopper is the lower of 20 °C and the coldest air: cold copper lets the most through.
func coldCopper(s *study.Study) unit.Celsius { return min(20, s.Scheme.Coldest()) }

// loop is the least resistance through which everything charges.
func (b burden) loop(s *study.Study) float64 {
	ohms := float64(b.guard.Fuse.Resistance.Is)
	if way, ok := s.Scheme.WayPart(b.guard.At); ok {
		ohms += float64(way.Resistance.Is)
	}
	siemens := 0.0
	for _, l := range b.leads(s) {
		siemens += 1 / l.ohms(s)
	}
	if siemens > 0 {
		ohms += 1 / siemens
	}
	return max(ohms, float64(1e-5)) // what the solver calls a short
}

// start compares what charges with what the link stands.
func (b burden) start(s *study.Study) study.Assessment {
	volts, from, fed := s.Highest(b.guard.At)
	if !fed {
		return study.Passes("No supply is on its copper.")[0]
	}
	farads := 0.0
	for _, c := range b.charges(s) {
		farads += float64(c.upper) * float64(c.times)
	}
	value := float64(volts) * float64(volts) * farads / (2 * b.loop(s))
	a := study.Upper(value, b.stands(), 1-starts, finding.Fails).Fill("", "A2s", b.held.Basis, b.held.Source)
	return a.On(func() []study.Number {
		numbers := append(s.HighestOf(from), study.Stated(b.guard.Part, "rating", b.guard.Fuse.Rating), study.Stated(b.guard.Part, "resistance", b.guard.Fuse.Resistance), b.held, b.carries, b.lasts)
		for _, c := range b.charges(s) {
			numbers = append(numbers, c.of)
		}
		for _, l := range b.leads(s) {
			numbers = append(numbers, study.Stated(l.part, "r20", l.cable.R20))
		}
		return append(append(numbers, s.Draw(b.in, b.runs)...), study.Taken("29 % of what melts a link, for ten thousand starts", startsSource))
	}).Say(fmt.Sprintf("What lies behind %s charges with %v when it is plugged in live; warm from %v the link stands %v, and %v at every start.",
		b.guard.Name, unit.AmpereSquareSecond(value), b.load, unit.AmpereSquareSecond(b.stands()), unit.AmpereSquareSecond(starts*b.stands())),
		"Use a slower fuse, less capacitance, or a supply that is switched on with its load.").Worked(func(w *study.Working) { b.work(s, w, from) })
}

func (b burden) work(s *study.Study, w *study.Working, from string) {
	w.Highest(s, "U", from)
	var signs []string
	for i, c := range b.charges(s) {
		n := strconv.Itoa(i + 1)
		w.Stated("C_"+n, "capacitance, "+c.means, c.of)
		w.Taken("k_s"+n, "upper end of its spread", study.Plain(1+c.of.Spread.High), study.Source{Title: cmp.Or(c.of.Source, c.means), Basis: c.of.Basis})
		w.Counted("n_"+n, c.means, c.times)
		signs = append(signs, "n_"+n+" · k_s"+n+" · C_"+n)
	}
	w.Step("What charges through it", "C = "+strings.Join(signs, " + "))
	ohms := []string{"R_f"}
	w.Stated("R_f", "resistance of the cold link", study.Stated(b.guard.Part, "resistance", b.guard.Fuse.Resistance))
	if way, ok := s.Scheme.WayPart(b.guard.At); ok {
		board, socket, _ := strings.Cut(b.guard.At, ".")
		w.Stated("R_w", "resistance of the way", study.Stated(s.Scheme.Boards[board].Part, "ways."+socket+".resistance", way.Resistance))
		ohms = append(ohms, "R_w")
	}
	var siemens []string
	for i, l := range b.leads(s) {
		n := strconv.Itoa(i + 1)
		w.Stated("r_"+n, "resistance of a core of "+l.id+" at 20 °C", study.Stated(l.part, "r20", l.cable.R20))
		w.Written("l_"+n, "length of "+l.id, study.Of(*s.Scheme.Cables[l.id].Length), "cables."+l.id+".length", s.Scheme.Place("cables", l.id, "length"))
		w.Counted("n_p"+n, "poles of "+l.id, l.poles)
		w.Counted("n_c"+n, "cores of each in parallel", l.cores)
		w.Taken("T_k", "copper of the leads: the lower of 20 °C and the coldest air", study.Of(coldCopper(s)), pulseSource)
		w.Step("Loop of "+l.id, "R_"+n+" = n_p"+n+" · l_"+n+" · r_"+n+"/n_c"+n+" · (T_k + 234.5 °C)/254.5 °C")
		siemens = append(siemens, "1/R_"+n)
	}
	if siemens != nil {
		ohms = append(ohms, "1/("+strings.Join(siemens, " + ")+")")
	}
	w.Step("Loop through which it charges", "R = "+strings.Join(ohms, " + "))
	w.Step("I²t of a start", "W = U² · C/(2 · R)")
	b.left(s, w)
	if b.gate.Key == "" {
		w.Stated("W_f", "what melts it", b.held)
	} else {
		w.Stated("m_l", "last multiple of its rating at which it surely holds for a time", b.gate)
		w.Stated("t_l", "for that time", b.held)
		w.Step("What it surely stands cold", "W_f = (m_l · k_t · I_n)² · t_l")
	}
	w.Step("What it stands warm", "W_w = k_w · W_f")
	w.Upper("W", "W_w", 1-starts, finding.Fails)
}

// left works out the share of what melts the link that is left when it is warm: it makes k_w and I_c known.
func (b burden) left(s *study.Study, w *study.Working) {
	w.Stated("I_n", "rating of the link", study.Stated(b.guard.Part, "rating", b.guard.Fuse.Rating))
	own := s.Scheme.Cables[b.guard.At].Ambient
	w.Warm(s, "k_t", b.guard.Part, own, "cables", b.guard.At, "ambient")
	w.Stated("m_c", "multiple of its rating that it holds for ever", b.carries)
	w.Step("What it holds for ever in its air", "I_c = m_c · k_t · I_n")
	w.Solved("I_b", "its heaviest load", study.Of(b.load), b.in)
	w.Step("Share that is left when it is warm from its load", "k_w = max(0, 1 − (I_b/I_c)²)")
}

// peaks compares how long the link holds the peak of each cycle with the cycle, where the peak is more than it holds for ever.
func (b burden) peaks(s *study.Study) []study.Assessment {
	curve, ok := network.Curve(s.Scheme.Library, b.guard.Fuse)
	if !ok {
		return nil
	}
	curve.Derating = nil // the air is in the share already
	band := curve.Band(b.guard.Fuse.Rating.Is*unit.Ampere(b.share), b.guard.Warm)
	var found []study.Assessment
	for _, c := range s.Cases() {
		peak := s.CarriedBy(b.guard, c).Peak
		if c.Kind != network.Peak || float64(peak) <= b.steady() {
			continue
		}
		holds := float64(band.Holds(peak)) * b.warm()
		if math.IsInf(holds, 1) {
			continue
		}
		held := b.holding(s, peak)
		a := study.Lower(holds, float64(cycle), 0, finding.Fails).Fill(c.Name, "s", held.Basis, held.Source)
		lasts, must := unit.Apart(unit.Second(holds), cycle)
		found = append(found, a.On(func() []study.Number {
			return append(s.Draw(c, b.runs), study.Stated(b.guard.Part, "rating", b.guard.Fuse.Rating), held, study.Taken("2.5 ms for a pulse-width cycle", cycleSource))
		}).Say(fmt.Sprintf("%s carries up to %v within a cycle in %s; warm it surely holds that for %s, and a cycle may last %s.", b.guard.Name, peak, study.CaseWords(c), lasts, must),
			"Use a slower or larger fuse, or pixels whose cycles do not start together.").Worked(func(w *study.Working) {
			w.Solved("I_k", "largest current within the cycle", study.Of(peak), c)
			b.left(s, w)
			w.Step("The peak over what it holds for ever", "x = I_k/I_c")
			if held.Key == "" {
				w.Taken("t_f", "how long it surely holds that, cold: no gate says", study.Of(unit.Second(0)), cycleSource)
			} else {
				w.Stated("t_f", "how long it surely holds that, cold", held)
			}
			w.Step("How long it holds it warm", "t_w = k_w · t_f")
			w.Taken("t_c", "longest pulse-width cycle", study.Of(cycle), cycleSource)
			w.Lower("t_w", "t_c", 0, finding.Fails)
		}))
	}
	return found
}

// holding is the gate that says how long the link holds a current; the zero Number where none does.
func (b burden) holding(s *study.Study, amps unit.Ampere) study.Number {
	curve, _ := parts.Get[parts.Curve](s.Scheme.Library, b.guard.Fuse.Curve)
	for i, gate := range curve.Gates {
		if gate.Min.Given && float64(amps) <= gate.Multiple*b.share*float64(b.guard.Fuse.Rating.Is) {
			return study.Stated(b.guard.Fuse.Curve, fmt.Sprintf("gates.%d.min", i+1), gate.Min)
		}
	}
	return study.Number{Basis: b.held.Basis, Source: b.held.Source}
}
