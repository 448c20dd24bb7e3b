package network

import (
	"math"
	"slices"

	"farend/circuit"
	"farend/pixel"
	"farend/scheme"
	"farend/unit"
)

// A Result is a solved case in the scheme's own names. Currents are means over the cycle with their rms and peak beside
// them; lowest voltages are those of the lowest slice.
type Result struct {
	Case     Case
	Steps    int
	Residual unit.Ampere
	Outcome  circuit.Outcome
	Limited  []string // supplies that have reached their limit: limit, pulsing, folded or off
	Supplies map[string]Supply
	Boards   map[string]Board
	Ways     map[string]Way
	Cables   map[string]Cable
	Data     map[string]Lead
	Runs     map[string]Run
}

// A Supply is what a supply does: Volts at its terminals, Amps out of plus. Its state is normal; limit: it holds the current
// at its limit; pulsing: it switches itself off and on; folded: it has lowered its current with its voltage; off: it has
// shut down; idle: others hold its terminals above its set point.
type Supply struct {
	Volts      unit.Volt
	VoltsLow   unit.Volt // in its lowest slice, when most current flows
	StartVolts unit.Volt // where it ends when all are switched on at 0 V: less than Volts where it folds back and is stuck
	Amps       Current
	Watts      unit.Watt
	State      string
	Rated      unit.Ampere // at the set point of this case
	Limit      unit.Ampere // where its limit acts, at that set point
}

// Current is a mean with the rms and the largest size over the cycle.
type Current struct{ Mean, RMS, Peak unit.Ampere }

// A Board is what its inlet carries.
type Board struct {
	Inlet  Current // plus pole, inwards
	Return Current // return pole, outwards
}

// A Way is one fused circuit: Amps outwards, Volts at its terminal.
type Way struct {
	Amps     Current
	Volts    unit.Volt
	VoltsLow unit.Volt // in its lowest slice
	Live     bool
}

// A Cable is what a cable carries and how warm it gets. Plus is from → to, Return to → from.
type Cable struct {
	Plus, Return Current
	Drop         unit.Volt // of the whole loop, or of the one core of a single-pole link
	Watts        unit.Watt
	Celsius      unit.Celsius // the hottest core, as the current would make it in the cable's own ambient
	Clamped      bool         // no steady temperature below 160 °C
	Iz           unit.Ampere  // what each pole may carry here
}

// A Lead is the ground core of a data lead: current from the sender to the run, and how far the run's ground stands above
// the sender's.
type Lead struct {
	Ground Current
	Shift  unit.Volt
	Live   bool
}

// A Run is what an installed tape shows.
type Run struct {
	Pixels      int
	Amps        Current
	VoltsLow    unit.Volt // of the stretches that are fed; 0 where none is
	VoltsHigh   unit.Volt // of all
	LowAt       int
	Evenness    *float64    // dimmest over brightest pixel that is fed; nil where no light is known or the run is dark
	ColourShift *float64    // largest Δu′v′ between two pixels; nil likewise
	U, V        float64     // of the brightest pixel, CIE 1976
	DimU, DimV  float64     // of the pixel farthest from it in colour
	RailAmps    unit.Ampere // largest current in either rail, peak
	Live        bool
	Fed         bool // some stretch hangs between the two poles of one supply by copper
}

// nothing is the current below which there is none: some orders above what the solver leaves in rails that hang on no circuit.
const nothing = 1e-9

// Read turns a solution into results by name.
func (n *Network) Read(s *Solution) *Result {
	r := n.ReadCopper(s)
	for _, run := range n.runs {
		r.Runs[run.id] = n.readRun(s, run)
	}
	return r
}

// ReadCopper is Read without what is so within runs, which takes most of its time.
func (n *Network) ReadCopper(s *Solution) *Result {
	r := &Result{
		Case: s.Case, Steps: s.Steps, Residual: unit.Ampere(s.Residual), Outcome: s.Outcome,
		Supplies: map[string]Supply{}, Boards: map[string]Board{}, Ways: map[string]Way{},
		Cables: map[string]Cable{}, Data: map[string]Lead{}, Runs: map[string]Run{},
	}
	for i, t := range n.supplies {
		r.Supplies[t.id] = n.readSupply(s, i)
		if state := r.Supplies[t.id].State; state != "normal" && state != "idle" {
			r.Limited = append(r.Limited, t.id)
		}
	}
	for _, b := range n.boards {
		r.Boards[b.id] = Board{Inlet: s.wire(b.inlet[0], 1), Return: s.wire(b.inlet[1], -1)}
	}
	for _, w := range n.ways {
		r.Ways[w.name] = Way{Amps: s.wire(w.path[0], 1), Volts: s.across(w.at), VoltsLow: s.lowest(w.at), Live: s.points[0].Live(w.at.plus)}
	}
	for _, c := range n.cables {
		r.Cables[c.id] = n.readCable(s, c)
	}
	for _, d := range n.leads {
		r.Data[d.id] = s.lead(d)
	}
	return r
}

func current(f Flow) Current {
	if f.Peak < nothing {
		return Current{}
	}
	return Current{unit.Ampere(f.Mean), unit.Ampere(f.RMS), unit.Ampere(f.Peak)}
}

// wire is the current of a wire over the cycle, counted the other way round where sign is −1.
func (s *Solution) wire(i int, sign float64) Current {
	return current(s.flow(func(p *circuit.Point) float64 { return sign * p.WireAmps(i) }))
}

func (s *Solution) across(t terminal) unit.Volt {
	return unit.Volt(s.mean(func(p *circuit.Point) float64 { return p.Across(t.plus, t.minus) }))
}

// lowest is the voltage across a terminal in its lowest slice.
func (s *Solution) lowest(t terminal) unit.Volt {
	least := math.Inf(1)
	for _, p := range s.points {
		least = min(least, p.Across(t.plus, t.minus))
	}
	return unit.Volt(least)
}

func (n *Network) readSupply(s *Solution, i int) Supply {
	t := n.supplies[i]
	rating := n.set(s.Case, t)
	return Supply{
		Volts: s.across(t.at), VoltsLow: s.lowest(t.at), StartVolts: s.startVolts(t),
		Amps:  current(s.flow(func(p *circuit.Point) float64 { return p.SourceAmps(t.source) })),
		Watts: unit.Watt(s.mean(func(p *circuit.Point) float64 { return p.SourceAmps(t.source) * p.SourceVolts(t.source) })),
		State: n.state(s, i), Rated: rating.Rated(), Limit: unit.Ampere(n.source(s.Case, t).Limit),
	}
}

func (n *Network) readCable(s *Solution, c cableAt) Cable {
	var out Cable
	out.Drop = s.across(c.from) - s.across(c.to)
	if len(c.plus) > 0 {
		out.Plus = s.wire(c.plus[0], 1)
	}
	if len(c.minus) > 0 {
		out.Return = s.wire(c.minus[0], -1)
	}
	if len(c.plus) == 0 || len(c.minus) == 0 {
		out.Drop = unit.Volt(s.mean(func(p *circuit.Point) float64 { return n.along(p, c.plus) + n.along(p, c.minus) }))
	}
	out.Watts = unit.Watt(s.mean(func(p *circuit.Point) float64 { return n.loss(p, c.plus) + n.loss(p, c.minus) }))
	out.Celsius = unit.Celsius(math.Inf(-1))
	for i, wire := range c.cores {
		if wire < 0 {
			continue
		}
		core := n.elements[wire].core
		rms := out.Plus.RMS
		if i == 1 {
			rms = out.Return.RMS
		}
		t, clamped := core.Temperature(rms)
		out.Celsius, out.Clamped, out.Iz = max(out.Celsius, t), out.Clamped || clamped, core.Iz
	}
	return out
}

// along is the voltage along wires in series, in their direction.
func (n *Network) along(p *circuit.Point, wires []int) float64 {
	sum := 0.0
	for _, i := range wires {
		pair := n.Plan.Shape().Wires[i]
		sum += p.Across(pair.A, pair.B)
	}
	return sum
}

func (n *Network) loss(p *circuit.Point, wires []int) float64 {
	if len(wires) == 0 {
		return 0
	}
	return n.along(p, wires) * p.WireAmps(wires[0])
}

func (s *Solution) lead(d leadAt) Lead {
	out := Lead{Live: s.points[0].Live(d.sender) && s.points[0].Live(d.rail)}
	if len(d.ground) > 0 {
		out.Ground = s.wire(d.ground[0], 1)
	}
	out.Shift = unit.Volt(s.mean(func(p *circuit.Point) float64 { return p.Across(d.rail, d.sender) }))
	return out
}

func (n *Network) readRun(s *Solution, r runAt) Run {
	out := Run{Pixels: r.count, VoltsLow: unit.Volt(math.Inf(1)), VoltsHigh: unit.Volt(math.Inf(-1)), Live: s.points[0].Live(n.Plan.Shape().Chains[r.stretches[0].chain].APlus)}
	amps := make([]float64, r.count)
	out.Amps = current(s.flow(func(p *circuit.Point) float64 {
		sum := 0.0
		for _, piece := range r.stretches {
			p.LoadAmps(piece.chain, amps[:piece.count])
			for _, a := range amps[:piece.count] {
				sum += a
			}
			out.RailAmps = max(out.RailAmps, unit.Ampere(p.RailPeak(piece.chain)))
			out.Fed = out.Fed || piece.fed
			for k, v := range loadVolts(p, piece, amps[:piece.count]) {
				if piece.fed && unit.Volt(v) < out.VoltsLow {
					out.VoltsLow, out.LowAt = unit.Volt(v), piece.first+k
				}
				out.VoltsHigh = max(out.VoltsHigh, unit.Volt(v))
			}
		}
		return sum
	}))
	if !out.Fed {
		out.VoltsLow = 0
	}
	if out.RailAmps < nothing {
		out.RailAmps = 0
	}
	n.readLight(s, r, &out)
	return out
}

// loadVolts is the voltages of the pixels of a stretch. Where nothing flows in one that is not fed, they could be anything and are
// called 0: what the solver leaves there means nothing.
func loadVolts(p *circuit.Point, piece stretch, amps []float64) []float64 {
	volts := p.LoadVolts(piece.chain)
	if piece.fed || slices.ContainsFunc(amps, func(a float64) bool { return math.Abs(a) >= nothing }) {
		return volts
	}
	return make([]float64, len(volts))
}

// Shine is the light of a run over the cycle, in candela: for each channel, in the order of scheme.Channels, that of every pixel;
// nil where there is no such run.
func (n *Network) Shine(s *Solution, run string) [][]float64 {
	at, known := n.runAt[run]
	if !known {
		return nil
	}
	return n.shine(s, n.runs[at])
}

func (n *Network) shine(s *Solution, r runAt) [][]float64 {
	light := make([][]float64, len(scheme.Channels(r.tape)))
	for i := range light {
		light[i] = make([]float64, r.count)
	}
	for k, part := range s.cycle {
		parts := n.pixelParts(s.Case, part, r)[1:]
		for i, p := range parts {
			if p.Drive > 0 && p.Channel.Candela > 0 {
				s.addLight(light[i], k, r, p, part.share*p.Drive)
			}
		}
	}
	return light
}

// dark is the share of the light of a case at nominal voltage below which a pixel is dark: it draws no more than nothing.
const dark = 1e-7

// readLight works out what differs in light along the stretches of a run that are fed.
func (n *Network) readLight(s *Solution, r runAt, out *Run) {
	fed := r.fed()
	brightest, dimmest, at := 0.0, math.Inf(1), -1
	u, v := make([]float64, r.count), make([]float64, r.count)
	for k, l := range n.mixed(s, r) {
		if !fed[k] {
			u[k], v[k] = math.NaN(), math.NaN()
			continue
		}
		u[k], v[k] = l.U, l.V
		if l.Candela > brightest {
			brightest, at = l.Candela, k
		}
		dimmest = min(dimmest, l.Candela)
	}
	if at < 0 || brightest <= dark*n.fullLight(s, r) {
		return
	}
	even := dimmest / brightest
	out.Evenness = &even
	out.U, out.V = u[at], v[at]
	far := farthest(u, v, at)
	shift := pixel.ShiftUV(u[far], v[far], u[at], v[at])
	out.DimU, out.DimV = u[far], v[far]
	other := farthest(u, v, far)
	shift = max(shift, pixel.ShiftUV(u[far], v[far], u[other], v[other]))
	out.ColourShift = &shift
}

// A Light is that of a pixel over the cycle, with its colour in u′ and v′ of CIE 1976, which are no numbers where it is dark.
type Light struct{ Candela, U, V float64 }

// Shift is how far two colours are apart, Δu′v′; no number where either is dark.
func (l Light) Shift(other Light) float64 { return pixel.ShiftUV(l.U, l.V, other.U, other.V) }

// Lights are those of every pixel of a run; none where there is no such run.
func (n *Network) Lights(s *Solution, run string) []Light {
	at, known := n.runAt[run]
	if !known {
		return nil
	}
	return n.mixed(s, n.runs[at])
}

func (n *Network) mixed(s *Solution, r runAt) []Light {
	names, shone := scheme.Channels(r.tape), n.shine(s, r)
	mix := make([]pixel.Amount, len(names))
	lights := make([]Light, r.count)
	for k := range lights {
		for i, name := range names {
			c := r.tape.Channels[name]
			mix[i] = pixel.Amount{X: c.X, Y: c.Y, Luminous: shone[i][k]}
		}
		l, ok := Light{}, false
		if l.Candela, l.U, l.V, ok = pixel.Mix(mix); !ok {
			l.U, l.V = math.NaN(), math.NaN()
		}
		lights[k] = l
	}
	return lights
}

// fed says of every pixel whether it is in a stretch that is fed.
func (r runAt) fed() []bool {
	fed := make([]bool, r.count)
	for _, s := range r.stretches {
		for k := range s.count {
			fed[s.first+k] = s.fed
		}
	}
	return fed
}

// fullLight is the light of one pixel at the nominal voltage of its tape.
func (n *Network) fullLight(s *Solution, r runAt) float64 {
	sum := 0.0
	for _, part := range s.cycle {
		for _, p := range n.pixelParts(s.Case, part, r)[1:] {
			if p.Drive > 0 && p.Channel.Candela > 0 {
				sum += part.share * p.Drive * p.Channel.Light(float64(r.tape.Volts.Is), r.tape.Volts.Is)
			}
		}
	}
	return sum
}

// farthest is the pixel whose colour is farthest from that of pixel from. All pixels of a run lie on one curve in u′v′,
// ordered by voltage, so two such steps find the two ends.
func farthest(u, v []float64, from int) int {
	best, far := from, 0.0
	for k := range u {
		if d := pixel.ShiftUV(u[from], v[from], u[k], v[k]); d > far {
			best, far = k, d
		}
	}
	return best
}

func (s *Solution) addLight(dst []float64, k int, r runAt, p pixel.Part, weight float64) {
	for _, piece := range r.stretches {
		for j, v := range s.points[k].LoadVolts(piece.chain) {
			dst[piece.first+j] += weight * p.Channel.Light(v, r.tape.Volts.Is)
		}
	}
}

// A Profile is a run pixel by pixel: voltages across the pixels, potentials of both rails (nil in a piece without a
// supply), currents; means over the cycle, with the zero of its first slice in all. Lowest is each pixel's voltage in its lowest slice.
type Profile struct {
	Volts, Plus, Minus, Amps []float64
	Lowest                   []float64
}

// Profile reads one run pixel by pixel; ok is false where there is no such run.
func (n *Network) Profile(s *Solution, run string) (profile Profile, ok bool) {
	at, known := n.runAt[run]
	if !known {
		return Profile{}, false
	}
	return n.profile(s, n.runs[at]), true
}

func (n *Network) profile(s *Solution, r runAt) Profile {
	sum := func() []float64 { return make([]float64, r.count) }
	out := Profile{sum(), sum(), sum(), sum(), sum()}
	for k := range out.Lowest {
		out.Lowest[k] = math.Inf(1)
	}
	plus, minus, amps := sum(), sum(), sum()
	datum := n.datum(s, r)
	for k, part := range s.cycle {
		p := s.points[k]
		zero := 0.0
		if datum >= 0 {
			zero = p.Volts(datum)
		}
		for _, piece := range r.stretches {
			p.Rails(piece.chain, plus[:piece.count], minus[:piece.count])
			p.LoadAmps(piece.chain, amps[:piece.count])
			for j, v := range loadVolts(p, piece, amps[:piece.count]) {
				out.Volts[piece.first+j] += part.share * v
				out.Lowest[piece.first+j] = min(out.Lowest[piece.first+j], v)
				out.Plus[piece.first+j] += part.share * (plus[j] - zero)
				out.Minus[piece.first+j] += part.share * (minus[j] - zero)
				out.Amps[piece.first+j] += part.share * amps[j]
			}
		}
	}
	if !s.points[0].Live(n.Plan.Shape().Chains[r.stretches[0].chain].APlus) {
		out.Plus, out.Minus = nil, nil
	}
	return out
}

// datum is the zero of potential of a run's piece in the first slice, when every supply that pulses is on; −1 where the zero is
// the same in all slices. In the others it is that of the lowest supply that is on.
func (n *Network) datum(s *Solution, r runAt) int {
	if !slices.Contains(s.pulsing, true) {
		return -1
	}
	pieces := n.pieces(s.values[0])
	home := pieces.of(n.Plan.Shape().Chains[r.stretches[0].chain].APlus)
	for k := range pieces {
		if s.points[0].Datum(k) && pieces.of(k) == home {
			return k
		}
	}
	return -1
}

// Copper is the temperature taken for rails, boards and contacts.
func (n *Network) Copper() unit.Celsius { return n.copper(Case{}) }
