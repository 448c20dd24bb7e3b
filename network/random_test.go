package network_test

import (
	"fmt"
	"math"
	"math/rand"
	"os"
	"path/filepath"
	"reflect"
	"runtime"
	"slices"
	"strings"
	"testing"

	"farend/internal/spice"
	"farend/scheme"
)

// randomScheme writes a small scheme of a random shape: trees, rings, chains of runs, several supplies and boards, cut rails,
// lost poles, deep droop. items lists its sections so that a test can put them in another order.
func randomScheme(r *rand.Rand) map[string][]string {
	items := map[string][]string{}
	add := func(section, format string, args ...any) {
		items[section] = append(items[section], "  "+fmt.Sprintf(format, args...))
	}
	pick := func(list ...string) string { return list[r.Intn(len(list))] }
	volts5 := r.Intn(3) > 0
	nominal, tapes, supply := 12.0, []string{"tape/12v-rgb-60-per-led", "tape/12v-rgb-10x3", "tape/strings"}, "supply/12v-150w"
	if volts5 {
		nominal, tapes, supply = 5, []string{"tape/5v-rgb-60", "tape/5v-rgbw-60", "tape/own"}, "supply/5v-200w"
		add("parts", "%s", ownTape)
	} else {
		add("parts", "%s", stringTape)
	}
	add("parts", "%s", fourCores)
	if r.Intn(2) == 0 { // limits that a small scheme meets, source resistances from 10 µΩ to 100 mΩ
		limit := math.Pow(10, -1+1.5*r.Float64())
		add("parts", "supply/own: {title: invented supply, volts: {is: %g V, spread: 4 %%}, amps: %.4f A, watts: %.4f W, source_resistance: %.4g mΩ, limit: constant-current, limit_at: {low: %.4f A, high: %.4f A}}",
			nominal, 0.9*limit, 0.9*limit*nominal, math.Pow(10, -2+4*r.Float64()), limit, 1.3*limit)
		supply = "supply/own"
	}
	boards := 1 + r.Intn(2)
	var points []string // where a feed may begin
	way := 0
	for b := 1; b <= boards; b++ {
		add("supplies", "T%d: {part: %s%s}", b, supply, pick("", "", fmt.Sprintf(", volts: %.2f V", nominal*1.02)))
		add("boards", "A%d: {part: board/six-way-three-port}", b)
		add("cables", "S%d: {part: cable/flex-2x%s, length: %.2f m, from: T%d, to: A%d.in%s}", b, pick("2.5", "4", "6"), 0.2+2*r.Float64(), b, b, pick("", ", fuse: fuse/inline-30A", ", fuse: fuse/inline-20A, fuse_at: to"))
		for w := 1; w <= 6; w++ {
			points = append(points, fmt.Sprintf("A%d.%d", b, w))
			if r.Intn(8) > 0 {
				add("fuses", "A%d.%d: fuse/blade-%sA", b, w, pick("3", "5", "7.5", "10"))
			}
		}
	}
	if r.Intn(2) == 0 {
		add("junctions", "X1: {part: junction/lever-5}")
		add("cables", "J1: {part: cable/flex-2x2.5, length: %.2f m, from: %s, to: X1}", 0.3+3*r.Float64(), points[0])
		points = append(points, "X1", "X1")
	}
	runs := 1 + r.Intn(3)
	for e := 1; e <= runs; e++ {
		pixels := 5 + r.Intn(40)
		cut := ""
		mark := 1 + r.Intn(pixels-1)
		if r.Intn(3) == 0 {
			cut = fmt.Sprintf(", cuts: [{at: px%d, pole: %s}]", mark, pick("plus", "return", "both"))
		}
		if r.Intn(4) == 0 {
			cut += fmt.Sprintf(", joints: [%.2f m]", 0.02+0.06*r.Float64())
		}
		add("runs", "E%d: {tape: %s, pixels: %d%s}", e, pick(tapes...), pixels, cut)
		stations := []string{"start", "end", fmt.Sprintf("px%d", mark), fmt.Sprintf("px%d", 1+r.Intn(pixels-1))}
		if strings.Contains(cut, "cuts") {
			stations = append(stations, fmt.Sprintf("px%d-", mark))
		}
		for f := range 1 + r.Intn(4) {
			from := points[way%len(points)]
			way++
			if e > 1 && r.Intn(3) == 0 {
				from = fmt.Sprintf("E%d@%s", e-1, pick("start", "end"))
			}
			extra := pick("", "", "", ", pole: plus", ", pole: return", ", bundle: 3", "4", ", method: surface, ambient: 50 °C", ", fuse: fuse/inline-15A")
			area := pick("1", "1.5", "2.5")
			if extra == "4" {
				extra, area = ", cores_per_pole: 2", "four"
			}
			// long thin feeds make deep droop
			add("cables", "W%d%d: {part: cable/flex-2x%s, length: %.2f m, from: %s, to: E%d@%s%s}", e, f, area, 0.2+30*r.Float64()*r.Float64()*r.Float64(), from, e, stations[r.Intn(len(stations))], extra)
		}
		switch from := fmt.Sprintf("A1.P%d", e); r.Intn(4) {
		case 0:
		case 1:
			add("data", "D%d: {part: cable/data-3x0.5, length: %.2f m, from: %s, to: E%d, ground: open}", e, 0.5+3*r.Float64(), from, e)
		default:
			if e > 1 && r.Intn(2) == 0 {
				from = fmt.Sprintf("E%d", e-1)
			}
			add("data", "D%d: {part: cable/data-3x0.5, length: %.2f m, from: %s, to: E%d%s}", e, 0.5+3*r.Float64(), from, e, pick("", "", ", power: yes"))
		}
	}
	add("states", "full: {level: 100 %%, colour: %s}", pick("white", "all"))
	add("states", "dim: {level: %d %%, colour: \"#%02x%02x%02x\", runs: {E1: {level: %d %%}}}", 10+r.Intn(80), r.Intn(256), r.Intn(256), 1+r.Intn(255), 5+r.Intn(90))
	add("site", "ambient: %d °C", 20+r.Intn(30))
	if r.Intn(3) == 0 {
		add("site", "conductors: %d °C", 20+r.Intn(40))
	}
	return items
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

func schemeText(items map[string][]string, order func([]string)) string {
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

func asWritten([]string) {}

func TestRandomSchemesAgainstSpice(t *testing.T) {
	spice.Need(t)
	const schemes, slicesOfACase = 120, 3
	f := newProof()
	t.Run("schemes", func(t *testing.T) {
		for batch := range 4 {
			t.Run(fmt.Sprint(batch), func(t *testing.T) {
				t.Parallel()
				for k := batch; k < schemes; k += 4 {
					text := schemeText(randomScheme(rand.New(rand.NewSource(int64(k)))), asWritten)
					f.scheme(t, readScheme(t, fmt.Sprintf("random %d", k), []byte(text)), slicesOfACase)
					if t.Failed() {
						t.Fatalf("random %d:\n%s", k, text)
					}
				}
			})
		}
	})
	f.report(t)
	for name := range features {
		if f.holds[name] == 0 {
			t.Errorf("no deck holds %s", name)
		}
	}
	t.Log(f.holds)
}

// results solves every case and gives what is reported, with every pixel.
func results(t *testing.T, text string) []any {
	t.Helper()
	n := layOut(t, readScheme(t, "order", []byte(text)))
	var all []any
	for _, c := range n.States() {
		s := solved(t, n, c)
		all = append(all, n.Read(s))
		for _, id := range scheme.IDs(n.Scheme.Runs) {
			profile, _ := n.Profile(s, id)
			all = append(all, profile)
		}
	}
	return all
}

func TestOrderOfTheFileChangesNoBit(t *testing.T) {
	for k := range 25 {
		items := randomScheme(rand.New(rand.NewSource(int64(1000 + k))))
		want := results(t, schemeText(items, asWritten))
		got := results(t, schemeText(items, slices.Reverse[[]string]))
		if !reflect.DeepEqual(got, want) {
			t.Fatalf("scheme %d: the order of the file changes results", k)
		}
	}
}

func TestNumberOfProcessorsChangesNoBit(t *testing.T) {
	source, err := os.ReadFile(filepath.Join("..", "examples", "footbridge.scheme.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	before := runtime.GOMAXPROCS(1)
	one := results(t, string(source))
	runtime.GOMAXPROCS(4)
	four := results(t, string(source))
	runtime.GOMAXPROCS(before)
	if !reflect.DeepEqual(one, four) {
		t.Error("the number of processors changes results")
	}
}
