package parts_test

import (
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"farend/internal/reference"
	"farend/parts"
	"farend/unit"
)

// A supplyRow is the row of supplies.csv on which a supply rests, and which of several models of it.
type supplyRow struct {
	class string
	model int
}

func supplyRows() map[string]supplyRow {
	one := func(class string) supplyRow { return supplyRow{class: class} }
	small := "LPS 15 W (5 / 12 / 24 V)"
	return map[string]supplyRow{
		"supply/5v-50w":   one("enclosed 5 V 50 W"),
		"supply/5v-60w":   one("enclosed 5 V 60 W"),
		"supply/5v-130w":  one("enclosed 5 V 150 W (100-150 W case)"),
		"supply/5v-200w":  one("enclosed 5 V 200 W"),
		"supply/5v-300w":  one("enclosed 5 V 300 W"),
		"supply/12v-50w":  one("enclosed 12 V 50 W"),
		"supply/12v-60w":  one("enclosed 12 V 60 W"),
		"supply/12v-150w": one("enclosed 12 V 150 W"),
		"supply/12v-350w": one("enclosed 12 V 350 W"),
		"supply/24v-60w":  one("enclosed 24 V 60 W"),
		"supply/24v-150w": one("enclosed 24 V 150 W"),
		"supply/24v-350w": one("enclosed 24 V 350 W"),
		"supply/24v-500w": one("enclosed 24 V 500 W"),
		"supply/24v-600w": one("board or enclosed 24 V 600 W"),

		"supply/12v-40w-din":           one("DIN rail 12 V 40 W, no switch-off"),
		"supply/12v-54w-din":           one("DIN rail 12 V 54 W"),
		"supply/12v-180w-din":          one("DIN rail 12 V 180 W"),
		"supply/24v-120w-din":          one("DIN rail 24 V 120 W"),
		"supply/24v-240w-din":          one("DIN rail 24 V 240 W, economy"),
		"supply/24v-240w-din-boost":    one("DIN rail 24 V 240 W"),
		"supply/24v-240w-din-peak":     one("DIN rail 24 V 240 W, high efficiency"),
		"supply/24v-480w-din":          one("DIN rail 24 V 480 W"),
		"supply/24v-480w-din-parallel": one("DIN rail 24 V 480 W, redundancy"),
		"supply/24v-960w-din":          one("DIN rail 24 V 960 W"),

		"supply/5v-12w-lps":     {small, 0},
		"supply/12v-15w-lps":    {small, 1},
		"supply/24v-15w-lps":    {small, 2},
		"supply/12v-15w-class2": one("Class 2 12 V 15 W"),
		"supply/12v-50w-class2": one("Class 2 12 V 50 W"),
		"supply/12v-54w-class2": one("Class 2 12 V 60 W"), // which is a 54 W unit, says its note
		"supply/24v-30w-class2": one("Class 2 24 V 30 W"),
		"supply/24v-50w-class2": one("Class 2 24 V 50 W"),

		"supply/5v-20w-plug":  one("plug-in 5 V 20 W"),
		"supply/12v-18w-plug": one("plug-in 12 V 18 W"),
		"supply/12v-48w-plug": one("plug-in 12 V 48 W"),
		"supply/12v-60w-plug": one("plug-in 12 V 60 W"),
		"supply/24v-24w-plug": one("plug-in 24 V 24 W"),
	}
}

// Every supply rests on a row or is from memory altogether, and every row of a supply has one; rows that begin with
// "efficiency" are no supplies.
func TestEverySupplyHasARowOrIsFromMemory(t *testing.T) {
	rested := map[string]bool{}
	for name, s := range each[parts.Supply](t, "supply") {
		if at, ok := supplyRows()[name]; ok {
			rested[at.class] = true
			continue
		}
		for _, f := range parts.Facts(s) {
			if f.Basis != string(parts.Memory) {
				t.Errorf("%s rests on no row, and its %s is called %s", name, f.Key, f.Basis)
			}
		}
	}
	for _, r := range reference.Rows(t, "supplies.csv") {
		if !rested[r["class"]] && !strings.HasPrefix(r["class"], "efficiency") {
			t.Errorf("%s is not in the catalogue", r["class"])
		}
	}
}

// Each nominal voltage comes with each behaviour at the limit, so that none has to be made up by whoever needs it.
func TestEveryVoltageComesWithEveryLimit(t *testing.T) {
	found := map[string]bool{}
	for _, s := range each[parts.Supply](t, "supply") {
		found[strconv.Itoa(int(math.Round(float64(s.Volts.Is))))+" V "+string(s.Limit)] = true
	}
	for _, volts := range []string{"5", "12", "24"} {
		for _, limit := range parts.Limit("").Words() {
			if !found[volts+" V "+limit] {
				t.Errorf("no %s V supply has the limit %s", volts, limit)
			}
		}
	}
}

var (
	// perCent and millivolts are a load regulation in per cent of the voltage and in volts; decimal is any number.
	perCent    = regexp.MustCompile(`^([0-9.]+) %$`)
	millivolts = regexp.MustCompile(`^[0-9.]+ mV`)
	decimal    = regexp.MustCompile(`[0-9.]+`)
	// mainsNote is what a cell says of the mains, or of half load, beside its figures.
	mainsNote = regexp.MustCompile(`\([^)]*V\)|at \d+ V|115/230 V|\d+ / \d+ half load`)
	// "2.5 %/K to 70 C", "6 W/K to 70 C", "6 A to 45 C, 5 A at 60 C"
	shares = regexp.MustCompile(`^([0-9.]+) %/K to (\d+) C$`)
	watts  = regexp.MustCompile(`^([0-9.]+) W/K to (\d+) C$`)
	steps  = regexp.MustCompile(`([0-9.]+) A (?:to|at) (\d+) C`)
	// "constant current above 13 V, hiccup below: 2-5 s on, 7 s off, 1 s retry"
	pulseType = regexp.MustCompile(`^constant current above ([0-9.]+) V, hiccup below: .*, ([0-9.]+) s off, ([0-9.]+) s retry$`)
	// "25 typ for 1 s in hiccup, 8.1 rms"
	pulseAmps = regexp.MustCompile(`([0-9.]+) typ for ([0-9.]+) s in hiccup, ([0-9.]+) rms`)
	// "constant current; 150 % (15 A, 360 W) for typ 4 s (3-5 s)", "hiccup; 150 % (1440 W) for 4 s"
	boosts = regexp.MustCompile(`^(constant current|hiccup); (\d+) % \(.*\) for (?:typ )?(\d+ s|a few seconds)`)
)

// figures lists the numbers of a cell without what it says of the mains.
func figures(cell string) []float64 {
	list := []float64{}
	for _, text := range decimal.FindAllString(mainsNote.ReplaceAllString(cell, ""), -1) {
		list = append(list, value(text))
	}
	return list
}

// A sheet is a supply beside its row.
type sheet struct {
	*testing.T
	name  string
	s     *parts.Supply
	r     map[string]string
	model int
}

// memory reports whether a cell is from memory, or empty.
func (x sheet) memory(cell string) bool {
	return x.r["status"] == "memory" || slices.Contains(strings.Split(x.r["memory_fields"], ";"), cell) || x.r[cell] == ""
}

// number is the first number of a cell, or that of the model where the cell has one a model.
func (x sheet) number(cell string) float64 {
	list := figures(x.r[cell])
	switch {
	case len(list) == 0:
		return 0
	case x.model < len(list):
		return list[x.model]
	}
	return list[0]
}

func (x sheet) check(what string, got, want float64, basis parts.Basis, cell string) {
	if x.r[cell] != "" && !same(got, want) {
		x.Errorf("%s: %s is %v, want %v", x.name, what, got, want)
	}
	if x.memory(cell) && basis != parts.Memory && basis != "" {
		x.Errorf("%s: %s is from memory, and called %s", x.name, what, basis)
	}
	if !x.memory(cell) && basis == parts.Memory {
		x.Errorf("%s: %s was found, and is called %s", x.name, what, basis)
	}
}

func TestSuppliesAgreeWithTheirClass(t *testing.T) {
	rows := reference.Rows(t, "supplies.csv")
	supplies := each[parts.Supply](t, "supply")
	for name, at := range supplyRows() {
		s := supplies[name]
		if s == nil {
			t.Errorf("there is no %s", name)
			continue
		}
		x := sheet{t, name, s, row(t, rows, "class", at.class), at.model}
		x.check("current", float64(s.Amps.Is), x.number("out_a"), s.Amps.Basis, "out_a")
		x.check("power", float64(s.Watts.Is), x.number("out_w"), s.Watts.Basis, "out_w")
		x.check("lowest trim", float64(s.VoltsMin.Is), x.number("adj_min_v"), s.VoltsMin.Basis, "adj_min_v")
		x.check("highest trim", float64(s.VoltsMax.Is), x.number("adj_max_v"), s.VoltsMax.Basis, "adj_max_v")
		x.check("no load", float64(s.NoLoad.Is), figuresFirst(x.r["no_load_w"]), s.NoLoad.Basis, "no_load_w")
		x.check("ripple", float64(s.Ripple.Is)*1000, figuresFirst(x.r["ripple_mvpp"]), s.Ripple.Basis, "ripple_mvpp")
		if at.class != "LPS 15 W (5 / 12 / 24 V)" || at.model == 2 { // "up to 87" is of the 24 V model
			x.check("efficiency", float64(s.Efficiency.Is), figuresFirst(x.r["eff_full_pct"])/100, s.Efficiency.Basis, "eff_full_pct")
		}
		x.voltage()
		x.softness()
		x.limits()
		x.mains()
		x.warmth()
		// The manual of one supply has a mode for use in parallel; no other sheet was read that allows it.
		if allowed := s.Parallel == "allowed"; allowed != strings.HasSuffix(name, "-parallel") || s.Parallel == "" {
			t.Errorf("%s: use in parallel is %q", name, s.Parallel)
		}
	}
}

// figuresFirst is the first number of a cell, 0 where it has none.
func figuresFirst(cell string) float64 {
	if list := figures(cell); len(list) > 0 {
		return list[0]
	}
	return 0
}

// voltage compares the set point. That of the supply made for parallel use is its voltage without load, and at rated current
// it gives what its note says.
func (x sheet) voltage() {
	if strings.HasSuffix(x.name, "-parallel") {
		if loaded := float64(x.s.Volts.Is) - float64(x.s.Amps.Is)*float64(x.s.SourceResistance.Is); !strings.Contains(x.r["note"], "25.1 V at no load, 24.1 V at 20 A") || x.s.Volts.Is != 25.1 || !same(loaded, 24.1) {
			x.Errorf("%s gives %v, and %v V at rated current", x.name, x.s.Volts.Is, loaded)
		}
		return
	}
	x.check("voltage", float64(x.s.Volts.Is), x.number("out_v"), x.s.Volts.Basis, "out_v")
	if m := regexp.MustCompile(`^([0-9.]+)-([0-9.]+) V \(`).FindStringSubmatch(x.r["load_reg"]); m != nil { // 4.75-5.25 V
		if !same(float64(x.s.Volts.Lower()), value(m[1])) || !same(float64(x.s.Volts.Upper()), value(m[2])) {
			x.Errorf("%s gives %v to %v, its sheet %s to %s V", x.name, x.s.Volts.Lower(), x.s.Volts.Upper(), m[1], m[2])
		}
	}
}

// softness compares the source resistance with the load regulation; of several models the softest.
func (x sheet) softness() {
	got, amps := x.s.SourceResistance, float64(x.s.Amps.Is)
	if m := perCent.FindStringSubmatch(x.r["load_reg"]); m != nil {
		x.check("source resistance", float64(got.Is), value(m[1])/100*float64(x.s.Volts.Is)/amps, got.Basis, "load_reg")
	} else if millivolts.MatchString(x.r["load_reg"]) {
		x.check("source resistance", float64(got.Is), slices.Max(figures(x.r["load_reg"]))/1000/amps, got.Basis, "load_reg")
	} else if got.Basis != parts.Memory {
		x.Errorf("%s: no load regulation was read, and the source resistance is called %s", x.name, got.Basis)
	}
}

// limits compares what the supply does at its limit, and where. What is not known is taken to hold the current.
func (x sheet) limits() {
	s, amps := x.s, float64(x.s.Amps.Is)
	low, high := s.LimitAt.Low, s.LimitAt.High
	if x.r["overload_min_pct"] != "" {
		x.check("limit from", float64(low.Is), amps*figuresFirst(x.r["overload_min_pct"])/100, low.Basis, "overload_min_pct")
	}
	if x.r["overload_max_pct"] != "" {
		x.check("limit to", float64(high.Is), amps*figuresFirst(x.r["overload_max_pct"])/100, high.Basis, "overload_max_pct")
	}
	if limited := strings.Contains(x.name, "-class2") || strings.Contains(x.name, "-lps"); limited != (high.Basis == parts.Standard) || limited && high.Is != 8 {
		x.Errorf("%s: at most %v (%s); a limited power source up to 30 V gives at most 8 A (IEC 62368-1 annex Q)", x.name, high.Is, high.Basis)
	}
	for _, f := range parts.Facts(s) {
		if f.Key == "limit" && (f.Basis == string(parts.Memory)) != x.memory("overload_type") {
			x.Errorf("%s: limit is called %s", x.name, f.Basis)
		}
	}
	x.behaviour()
}

func (x sheet) behaviour() {
	s, kind := x.s, x.r["overload_type"]
	boost := boosts.FindStringSubmatch(kind)
	switch {
	case s.PulseOn.Given:
		pulsesAsItsSheetSays(x.T, x.name, s, x.r)
	case s.PulseBelow.Given:
		if kind != "continuous current above "+plain(float64(s.PulseBelow.Is))+" V, intermittent below" || s.Limit != parts.Hiccup {
			x.Errorf("%s: %s below %v, the table says %s", x.name, s.Limit, s.PulseBelow.Is, kind)
		}
	case boost != nil:
		if string(s.Then) != strings.ReplaceAll(boost[1], " ", "-") || !same(float64(s.Boost.Is), value(boost[2])/100) || boost[3] != "a few seconds" && plain(float64(s.BoostFor.Is))+" s" != boost[3] {
			x.Errorf("%s: %v for %v, then %s; the table says %s", x.name, s.Boost.Is, s.BoostFor.Is, s.Then, kind)
		}
	case strings.HasPrefix(kind, "110-150 % for more than 3 s then shut-down with automatic recovery"):
		if s.Limit != parts.Boost || s.Then != parts.Hiccup || s.Boost.Is != 1.5 || s.BoostFor.Is != 3 {
			x.Errorf("%s: %v for %v, then %s", x.name, s.Boost.Is, s.BoostFor.Is, s.Then)
		}
	case kind == "" || strings.HasPrefix(kind, "current limit below"):
		if s.Limit != parts.ConstantCurrent {
			x.Errorf("%s: what it does was not read, and it is %s", x.name, s.Limit)
		}
	case !strings.HasPrefix(strings.ReplaceAll(kind, " ", "-"), string(s.Limit)):
		x.Errorf("%s: limit %s, the table says %s", x.name, s.Limit, kind)
	}
}

// mains compares what concerns the input: of inrush the largest figure, of hold-up the least; and the over-voltage band, where
// both its ends or one figure is printed.
func (x sheet) mains() {
	s := x.s
	if list := figures(x.r["inrush_a"]); len(list) > 0 || s.Inrush.Given {
		x.check("inrush", float64(s.Inrush.Is), slices.Max(list), s.Inrush.Basis, "inrush_a")
	}
	if list := figures(x.r["holdup_ms"]); len(list) > 0 || s.HoldUp.Given {
		x.check("hold-up", float64(s.HoldUp.Is)*1000, slices.Min(list), s.HoldUp.Basis, "holdup_ms")
	}
	if strings.Contains(x.r["ovp_v"], "or more") || x.r["ovp_v"] == "" {
		if s.OverVoltage.Low.Given {
			x.Errorf("%s: over-voltage has no upper end in the table, and is %v to %v", x.name, s.OverVoltage.Low.Is, s.OverVoltage.High.Is)
		}
		return
	}
	list := figures(strings.ReplaceAll(x.r["ovp_v"], "(another 24 V 20 A model)", ""))
	x.check("over-voltage from", float64(s.OverVoltage.Low.Is), list[0], s.OverVoltage.Low.Basis, "ovp_v")
	x.check("over-voltage to", float64(s.OverVoltage.High.Is), list[len(list)-1], s.OverVoltage.High.Basis, "ovp_v")
}

// warmth compares the derating in warm air: by per cent or watts a kelvin, or from the current in air of two temperatures, of
// which the last has the least of several models.
func (x sheet) warmth() {
	s, slope := x.s, x.r["derate_slope"]
	from, per, most := x.number("derate_start_c"), 0.0, 0.0
	if m := shares.FindStringSubmatch(slope); m != nil {
		per, most = value(m[1])/100, value(m[2])
	} else if m := watts.FindStringSubmatch(slope); m != nil {
		per, most = value(m[1])/float64(s.Watts.Is), value(m[2])
	} else if m := steps.FindAllStringSubmatch(slope, -1); m != nil {
		least := math.Inf(1)
		for _, step := range m {
			if same(value(step[1]), float64(s.Amps.Is)) {
				from = value(step[2])
			}
			most = max(most, value(step[2]))
			if value(step[2]) == most {
				least = min(least, value(step[1]))
			}
		}
		per = (float64(s.Amps.Is) - least) / float64(s.Amps.Is) / (most - from)
	} else if strings.HasPrefix(slope, "to ") {
		per, most = 0.025, figuresFirst(slope) // the slope is from memory
		if s.Derate.Basis != parts.Memory {
			x.Errorf("%s: its slope is called %s", x.name, s.Derate.Basis)
		}
	}
	if !same(float64(s.DerateFrom.Is), from) || !same(float64(s.Derate.Is), per) || !same(float64(s.AmbientMax.Is), most) {
		x.Errorf("%s loses %v from %v to %v, want %.4g from %v to %v °C", x.name, s.Derate.Is, s.DerateFrom.Is, s.AmbientMax.Is, per, from, most)
	}
	if s.DerateFrom.Given && x.memory("derate_start_c") != (s.DerateFrom.Basis == parts.Memory) || s.AmbientMax.Given && x.memory("derate_slope") != (s.AmbientMax.Basis == parts.Memory) {
		x.Errorf("%s: warm air is called %s, %s", x.name, s.DerateFrom.Basis, s.AmbientMax.Basis)
	}
}

// pulsesAsItsSheetSays compares times and voltage, and the heating current of the pulses, I·√(on/(on + off)), with the sheet's
// own figure: ours may be above it, by a tenth at most, never below.
func pulsesAsItsSheetSays(t *testing.T, name string, s *parts.Supply, r map[string]string) {
	t.Helper()
	kind, amps := pulseType.FindStringSubmatch(r["overload_type"]), pulseAmps.FindStringSubmatch(r["short_circuit_a"])
	if kind == nil || amps == nil || s.Limit != parts.Hiccup {
		t.Fatalf("%s: limit %s, the table says %s, %s", name, s.Limit, r["overload_type"], r["short_circuit_a"])
	}
	on, off := float64(s.PulseOn.Is), float64(s.PulseOff.Is)
	for what, pair := range map[string][2]float64{
		"holds the current above": {float64(s.PulseBelow.Is), value(kind[1])},
		"time off":                {off, value(kind[2])},
		"time of a retry":         {on, value(kind[3])},
		"time on":                 {on, value(amps[2])},
	} {
		if !same(pair[0], pair[1]) {
			t.Errorf("%s: %s %v, want %v", name, what, pair[0], pair[1])
		}
	}
	if rms, want := value(amps[1])*math.Sqrt(on/(on+off)), value(amps[3]); rms < want || rms > 1.1*want {
		t.Errorf("%s: pulses of %s A heat as %.3g A, the sheet says %v A", name, amps[1], rms, want)
	}
}

// The loss at full load that two manuals print beside their efficiency: 20.0 W of 240 W at 92.3 %, 39.6 W of 480 W at 92.4 %.
func TestEfficiencyGivesThePrintedLoss(t *testing.T) {
	rows, supplies := reference.Rows(t, "supplies.csv"), each[parts.Supply](t, "supply")
	for _, name := range []string{"supply/24v-240w-din-boost", "supply/24v-480w-din"} {
		s := supplies[name]
		want := figuresFirst(row(t, rows, "class", supplyRows()[name].class)["loss_full_w"])
		if got := s.Watts.Is * unit.Watt(1/s.Efficiency.Is-1); math.Abs(float64(got)-want) > 0.01*want {
			t.Errorf("%s loses %v, its sheet %v W", name, got, want)
		}
	}
}
