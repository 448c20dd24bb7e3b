package schemetest

import (
	"fmt"
	"math"
	"math/rand"
	"slices"
	"strings"
)

// A generator writes a small scheme of a random shape. items lists its sections, so that a test can put them in another order.
type generator struct {
	r       *rand.Rand
	items   map[string][]string
	nominal float64
	tapes   []string
	boards  int
	runs    int
	points  []string // where a feed may begin
	way     int      // of them, the next
}

// Random is a scheme of trees, rings, chains of runs, several supplies and boards, cut rails, lost poles, deep droop,
// supplies at their limit in every way.
func Random(r *rand.Rand) map[string][]string {
	g := &generator{r: r, items: map[string][]string{}, boards: 1 + r.Intn(2), runs: 1 + r.Intn(3)}
	if r.Intn(8) == 0 {
		g.boards = 3
	}
	gala := r.Intn(5) == 0 // so many runs that the cycle of a peak has many slices
	if gala {
		g.runs = 6
	}
	g.chooseParts()
	g.addSupplies()
	g.addBoards()
	g.addJunction()
	for e := 1; e <= g.runs; e++ {
		pixels := 5 + r.Intn(40)
		if gala {
			pixels = 3 + r.Intn(6)
		}
		g.addRun(e, pixels)
		g.addLead(e)
	}
	if g.runs > 1 && r.Intn(4) == 0 {
		g.closeRing()
	}
	g.addStates(gala)
	g.addSite()
	return g.items
}

func (g *generator) add(section, format string, args ...any) {
	g.items[section] = append(g.items[section], "  "+fmt.Sprintf(format, args...))
}

func (g *generator) pick(list ...string) string { return list[g.r.Intn(len(list))] }

func (g *generator) chooseParts() {
	g.nominal, g.tapes = 12, []string{"tape/12v-rgb-60-per-led", "tape/12v-rgb-10x3", "tape/strings"}
	own := stringTape
	if g.r.Intn(3) > 0 {
		g.nominal, g.tapes, own = 5, []string{"tape/5v-rgb-60", "tape/5v-rgbw-60", "tape/own"}, ownTape
	}
	g.add("parts", "%s", own)
	g.add("parts", "%s", fourCores)
	g.add("parts", "%s", connectorPart)
}

// behaviours are what supplies do at their limit.
var behaviours = []string{
	"limit: constant-current", "limit: latch-off", "limit: hiccup", "limit: hiccup, pulse_on: 1 s, pulse_off: 3 s", "limit: hiccup, pulse_on: 2 s, pulse_off: 2 s, pulse_below: 3 V",
	"limit: fold-back", "limit: fold-back, fold_to: 60 %", "limit: boost, boost: 150 %, boost_for: 3 s, then: fold-back, fold_to: 20 %", "limit: boost, then: latch-off",
	"limit: constant-current", "limit: hiccup, pulse_on: 1 s, pulse_off: 1 s, pulse_below: 2 V", "limit: fold-back, fold_to: 5 %", "limit: fold-back, fold_to: 10 %", "limit: boost, boost: 120 %, then: constant-current", "limit: boost, boost: 120 %, then: hiccup, pulse_on: 1 s, pulse_off: 7 s",
}

// OwnSupply is a supply with a limit that a small scheme may meet, of one of behaviours, behind 10 µΩ to 100 mΩ.
func OwnSupply(r *rand.Rand, name string, nominal float64) string {
	limit := math.Pow(10, -1+1.6*r.Float64())
	return fmt.Sprintf("%s: {title: invented, volts: {is: %g V, spread: 4 %%}, amps: %.4f A, watts: %.4f W, source_resistance: %.4g mΩ, %s, limit_at: {low: %.4f A, high: %.4f A}}",
		name, nominal, 0.9*limit, 0.9*limit*nominal, math.Pow(10, -2+4*r.Float64()), behaviours[r.Intn(len(behaviours))], limit, 1.3*limit)
}

func (g *generator) addSupplies() {
	for b := 1; b <= g.boards; b++ {
		part := "supply/5v-200w"
		if g.nominal > 5 {
			part = "supply/12v-150w"
		}
		if g.r.Intn(5) > 0 {
			part = fmt.Sprintf("supply/own%d", b)
			g.add("parts", "%s", OwnSupply(g.r, part, g.nominal))
		}
		trim := g.pick("", "", fmt.Sprintf(", volts: %.2f V", 1.02*g.nominal), fmt.Sprintf(", volts: %.3f V", (0.97+0.06*g.r.Float64())*g.nominal))
		g.add("supplies", "T%d: {part: %s%s}", b, part, trim)
	}
}

func (g *generator) addBoards() {
	for b := 1; b <= g.boards; b++ {
		g.add("boards", "A%d: {part: board/six-way-three-port}", b)
		g.add("cables", "S%d: {part: cable/flex-2x%s, length: %.2f m, from: T%d, to: A%d.in%s}", b, g.pick("2.5", "4", "6"), 0.2+2*g.r.Float64(), b, b,
			g.pick("", ", fuse: fuse/inline-30A", ", fuse: fuse/inline-20A, fuse_at: to, ends: {from: connector/own, to: connector/own}"))
		if b > 1 && g.r.Intn(3) == 0 { // the supplies share their load
			g.add("cables", "B%d: {part: cable/flex-2x4, length: %.2f m, from: A%d.in, to: A%d.in}", b, 0.2+2*g.r.Float64(), b-1, b)
		}
		for w := 1; w <= 6; w++ {
			g.points = append(g.points, fmt.Sprintf("A%d.%d", b, w))
			if g.r.Intn(8) > 0 {
				g.add("fuses", "A%d.%d: fuse/blade-%sA", b, w, g.pick("3", "5", "7.5", "10"))
			}
		}
	}
	g.r.Shuffle(len(g.points), func(i, j int) { g.points[i], g.points[j] = g.points[j], g.points[i] })
}

func (g *generator) addJunction() {
	if g.r.Intn(2) == 0 {
		g.add("junctions", "X1: {part: junction/lever-5}")
		g.add("cables", "J1: {part: cable/flex-2x2.5, length: %.2f m, from: %s, to: X1}", 0.3+3*g.r.Float64(), g.points[0])
		g.points = slices.Insert(g.points, 1, "X1", "X1")
	}
}

// addRun adds a run with its cuts, joints and feeds.
func (g *generator) addRun(e, pixels int) {
	cut := ""
	mark := 1 + g.r.Intn(pixels-1)
	if g.r.Intn(3) == 0 {
		cut = fmt.Sprintf(", cuts: [{at: px%d, pole: %s}]", mark, g.pick("plus", "return", "both"))
	}
	stations := []string{"start", "end", fmt.Sprintf("px%d", mark), fmt.Sprintf("px%d", 1+g.r.Intn(pixels-1))}
	if cut != "" {
		stations = append(stations, fmt.Sprintf("px%d-", mark))
	}
	if g.r.Intn(4) == 0 {
		cut += fmt.Sprintf(", joints: [%.3f m]", float64(pixels)/60*(0.05+0.9*g.r.Float64())) // no tape has more than 60 pixels a metre
	}
	g.add("runs", "E%d: {tape: %s, pixels: %d%s}", e, g.pick(g.tapes...), pixels, cut)
	for f := range 1 + g.r.Intn(4) {
		from := g.points[g.way%len(g.points)]
		g.way++
		if e > 1 && g.r.Intn(3) == 0 {
			from = fmt.Sprintf("E%d@%s", e-1, g.pick("start", "end"))
		}
		g.addFeed(fmt.Sprintf("W%d%d", e, f), from, fmt.Sprintf("E%d@%s", e, stations[g.r.Intn(len(stations))]))
	}
}

// addFeed adds a feed; long thin ones make deep droop.
func (g *generator) addFeed(id, from, to string) {
	extra := g.pick("", "", ", ends: {to: connector/own}", ", pole: plus", ", pole: return", ", bundle: 3", "four", ", method: surface, ambient: 50 °C", ", fuse: fuse/inline-15A")
	area := g.pick("1", "1.5", "2.5")
	if extra == "four" {
		extra, area = ", cores_per_pole: 2", "four"
	}
	g.add("cables", "%s: {part: cable/flex-2x%s, length: %.2f m, from: %s, to: %s%s}", id, area, 0.2+30*g.r.Float64()*g.r.Float64()*g.r.Float64(), from, to, extra)
}

func (g *generator) addLead(e int) {
	from, extra := fmt.Sprintf("A%d.P%d", 1+(e-1)%g.boards, 1+(e-1)/g.boards), g.pick("", "", ", power: yes")
	switch g.r.Intn(4) {
	case 0:
		return
	case 1:
		extra = ", ground: open"
	}
	if e > 3*g.boards || e > 1 && g.r.Intn(2) == 0 { // a port has one lead
		from = fmt.Sprintf("E%d", e-1)
	}
	g.add("data", "D%d: {part: cable/data-3x0.5, length: %.2f m, from: %s, to: E%d%s}", e, 0.5+3*g.r.Float64(), from, e, extra)
}

// closeRing joins each run's end to the next one's start, and the last one's to the first one's.
func (g *generator) closeRing() {
	for e := 1; e <= g.runs; e++ {
		g.add("cables", "R%d: {part: cable/flex-2x1.5, length: %.2f m, from: E%d@end, to: E%d@start}", e, 0.1+g.r.Float64(), e, e%g.runs+1)
	}
}

func (g *generator) colour() string {
	return fmt.Sprintf(`"#%02x%02x%02x"`, g.r.Intn(256), g.r.Intn(256), g.r.Intn(256))
}

func (g *generator) addStates(gala bool) {
	g.add("states", "full: {level: 100 %%, colour: %s}", g.pick("white", "all"))
	g.add("states", "dim: {level: %d %%, colour: %s, runs: {E1: {level: %d %%}}}", 10+g.r.Intn(80), g.colour(), 5+g.r.Intn(90))
	if gala {
		var runs []string
		for e := 1; e <= g.runs; e++ {
			runs = append(runs, fmt.Sprintf("E%d: {level: %d %%, colour: %s}", e, 10+g.r.Intn(90), g.colour()))
		}
		g.add("states", "gala: {runs: {%s}}", strings.Join(runs, ", "))
	}
}

func (g *generator) addSite() {
	g.add("site", "ambient: %d °C", 20+g.r.Intn(30))
	if g.r.Intn(4) == 0 {
		g.add("site", "conductors: %d °C", 20+g.r.Intn(40))
	}
}

// ownTape has rails that differ, so that each of its joints is a station, and pixels whose phases are known.
const ownTape = `tape/own:
    title: invented tape with unequal rails
    volts: 5 V
    volts_min: 3.5 V
    volts_max: 5.5 V
    pixels: 60 /m
    cut_every: 1
    rail: 120 mΩ/m
    rail_return: 70 mΩ/m
    joint_every: 0.1 m
    joint: 3 mΩ
    phase: free
    channels:
      red: {set: 15 mA, lo: 1.8 V, hi: 2.5 V, soft: 0.1 V, candela: 0.4 cd, x: 0.69, y: 0.31}
      green: {set: 15 mA, lo: 2.7 V, hi: 3.5 V, soft: 0.1 V, candela: 0.9 cd, x: 0.17, y: 0.70}
      blue: {set: 15 mA, lo: 2.7 V, hi: 3.5 V, soft: 0.1 V, candela: 0.2 cd, x: 0.13, y: 0.06}
    idle: {set: 1 mA, lo: 1 V, hi: 2 V, soft: 0.1 V}
    protocol: protocol/single-wire-800k-24`

// stringTape has resistor-limited pixels, and rails whose spreads differ.
const stringTape = `tape/strings:
    title: invented tape of resistor-limited pixels
    volts: 12 V
    volts_min: 9 V
    volts_max: 13 V
    pixels: 20 /m
    cut_every: 1
    rail: {is: 90 mΩ/m, spread: {low: -30 %, high: 60 %}}
    rail_return: {is: 90 mΩ/m, spread: {low: -10 %, high: 20 %}}
    joint_every: 0.5 m
    joint: {is: 4 mΩ, spread: 50 %}
    phase: together
    channels:
      red: {string: {is: 400 Ω, spread: 10 %}, lo: 6 V, soft: 0.2 V, candela: 1 cd, x: 0.69, y: 0.31}
      green: {string: 200 Ω, lo: 8.5 V, soft: 0.3 V, candela: 3 cd, x: 0.17, y: 0.70}
      blue: {string: 200 Ω, lo: 8.5 V, soft: 0.3 V, candela: 1 cd, x: 0.13, y: 0.06}
    idle: {set: 0.5 mA, lo: 1 V, hi: 2 V, soft: 0.1 V}
    protocol: protocol/single-wire-800k-24`

const fourCores = `cable/flex-2xfour: {title: invented cable with two cores a pole, cores: 4, area: 1 mm², class: 5, r20: 19.5 Ω/km, insulation: 70 °C, iz: 8 A}`

const connectorPart = `connector/own: {title: invented plug of much resistance, amps: 30 A, resistance: 8 mΩ}`

// Text is a scheme as a file; order puts sections and lines in another order.
func Text(items map[string][]string, order func([]string)) string {
	var sections []string
	for name := range items {
		sections = append(sections, name)
	}
	slices.Sort(sections)
	order(sections)
	var b strings.Builder
	b.WriteString("farend: 1\ntitle: random\n")
	for _, name := range sections {
		lines := slices.Clone(items[name])
		order(lines)
		fmt.Fprintf(&b, "%s:\n%s\n", name, strings.Join(lines, "\n"))
	}
	return b.String()
}

// AsWritten leaves the order as it is.
func AsWritten([]string) {}
