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
	"farend/pixel"
)

// A footing is the rows on which a tape stands: its part in channel_laws.csv, and where a channel has another name there;
// its chip in chips.csv; its levels in protocols.csv; its copper in strip_copper.csv. Where the table has no law for so many
// LEDs in series, the number of them stands instead.
type footing struct {
	law    string
	as     map[string]string
	leds   int
	chip   string
	levels string
	copper string
}

var footings = map[string]footing{
	"tape/5v-rgb-60":            {law: "D5_12mA", chip: "ws2812b_v5", levels: "ws2812b_v5", copper: "like 60"},
	"tape/5v-rgb-30":            {law: "D5_16mA", chip: "ws2812b_2023", levels: "ws2812b_2023_16mA", copper: "w10_1oz"},
	"tape/5v-rgb-96":            {law: "sk6812_5050 (SK6812)", chip: "sk6812_5050", levels: "sk6812_rgb", copper: "w12_1oz"},
	"tape/5v-rgb-144":           {law: "D5_12mA", chip: "ws2812b_v5", levels: "ws2812b_v5", copper: "w12_2oz"},
	"tape/5v-rgb-120-narrow":    {law: "ws2812_2020", chip: "ws2812_2020", levels: "ws2812_2020", copper: "w5_1oz"},
	"tape/5v-rgb-60-backup":     {law: "ws2813a", chip: "ws2813a", levels: "ws2813", copper: "like 60"},
	"tape/5v-rgb-60-clocked":    {law: "apa102c", chip: "apa102c", levels: "apa102", copper: "like 60"},
	"tape/5v-rgb-144-clocked":   {law: "sk9822_ec20", chip: "sk9822_ec20", levels: "sk9822", copper: "w12_2oz"},
	"tape/5v-rgbw-60":           {law: "sk6812rgbw_measured", chip: "sk6812rgbw", levels: "sk6812_rgbw", copper: "meas_sk6812_60"},
	"tape/5v-rgbw-144":          {law: "D5_RGBW", chip: "sk6812rgbw", levels: "sk6812_rgbw", copper: "w12_2oz"},
	"tape/5v-tunable-60":        {law: "D5_RGBW", as: map[string]string{"warm": "white", "cold": "white", "amber": "white"}, copper: "like 60"},
	"tape/5v-rgb-string-10":     {law: "ws2811_5v", chip: "ws2811_5v", levels: "ws2811_800k", copper: "lead_awg22"},
	"tape/12v-rgb-60-per-led":   {law: "D12_WS2815B", chip: "ws2815b", levels: "ws2815b", copper: "like 60"},
	"tape/12v-rgb-10x3":         {law: "D12_WS2811", as: map[string]string{"red": "red (regulated form)"}, chip: "ws2811_12v", levels: "ws2811_800k", copper: "w10_1oz"},
	"tape/12v-rgb-20x3":         {law: "ucs1903n_12", chip: "ucs1903n", levels: "ucs1903", copper: "w10_1oz"},
	"tape/12v-rgb-20x3-backup":  {law: "gs8208", chip: "gs8208", levels: "gs8208", copper: "w10_1oz"},
	"tape/12v-rgb-10x3-clocked": {law: "A12_analog", chip: "ws2801", levels: "ws2801", copper: "w10_1oz"},
	"tape/12v-rgbw-20x3":        {law: "ucs8904_12", chip: "ucs8904", levels: "single16_rgbw", copper: "w12_1oz"},
	"tape/12v-rgb-string-5x3":   {law: "D12_WS2811", as: map[string]string{"red": "red (regulated form)"}, chip: "ws2811_12v", levels: "ws2811_800k", copper: "lead_awg20"},
	"tape/24v-rgb-12x6":         {law: "D24", copper: "w10_2oz"},
	"tape/24v-rgb-10x6-backup":  {law: "tm1914a_24", chip: "tm1914a", levels: "tm1914", copper: "w10_2oz"},
	"tape/24v-rgb-10x7":         {leds: 7, chip: "ucs1903n", levels: "ucs1903", copper: "w8_1oz"},
	"tape/24v-rgb-20x8":         {leds: 8, copper: "w8_2oz"},
	"tape/24v-rgbw-10x6":        {law: "tm1814_24", chip: "tm1814", levels: "tm1814", copper: "w12_2oz"},
	"tape/24v-rgbcct-10x6":      {law: "ws2805_24", as: map[string]string{"warm": "white 1", "cold": "white 2"}, chip: "ws2805_24", levels: "ws2805_rgbcct", copper: "w12_2oz"},
	"tape/24v-tunable-10x6":     {law: "ucs8904_24", as: map[string]string{"warm": "white", "cold": "white"}, chip: "ucs1903n", levels: "ucs1903", copper: "w10_2oz"},
	"tape/24v-rgbwa-bar-4x6":    {law: "sm16825e_24", as: map[string]string{"amber": "yellow"}, chip: "sm16825e", levels: "single16_rgbcct", copper: "w12_3oz"},
}

// tapes calls check with every tape and its footing.
func tapes(t *testing.T, check func(t *testing.T, name string, tape *parts.Tape, on footing)) {
	t.Helper()
	all := each[parts.Tape](t, "tape")
	for name := range footings {
		if all[name] == nil {
			t.Errorf("there is no %s", name)
		}
	}
	for name, tape := range all {
		on, ok := footings[name]
		if !ok {
			t.Errorf("%s stands on no row", name)
		}
		t.Run(name, func(t *testing.T) { check(t, name, tape, on) })
	}
}

// channelRow is the row of a channel's law, nil where the table has none.
func channelRow(t *testing.T, on footing, channel string) map[string]string {
	t.Helper()
	if on.law == "" {
		return nil
	}
	if other := on.as[channel]; other != "" {
		channel = other
	}
	of := reference.Where(t, reference.Rows(t, "channel_laws.csv"), "part", on.law)
	for _, r := range of {
		if r["channel"] == channel {
			return r
		}
	}
	if channel != "idle" {
		t.Fatalf("%s has no row for %s", on.law, channel)
	}
	return nil
}

func TestChannelsOfEveryTapeAreTheFittedLaws(t *testing.T) {
	compared := 0
	tapes(t, func(t *testing.T, name string, tape *parts.Tape, on footing) {
		for key, c := range tape.Channels {
			r := channelRow(t, on, key)
			if r == nil {
				continue
			}
			compared++
			lawIs(t, key, c, r)
			fit(t, key, c.Source, r)
			if c.String.Given { // set is then the current at nominal voltage
				amps, _ := law(c).Current(float64(tape.Volts.Is))
				if want := reference.Number(t, r, "set_mA") / 1000; math.Abs(amps/want-1) > 0.024 { // the fit errs by 2.4 % between its rows
					t.Errorf("%s takes %.4g A at %v, want %v A", key, amps, tape.Volts.Is, want)
				}
			} else if set := float64(c.Set.Is) * 1000; !same(set, reference.Number(t, r, "set_mA")) {
				t.Errorf("%s is set to %v mA, want %s", key, set, r["set_mA"])
			}
			want := parts.Derived
			if strings.HasPrefix(r["status"], "memory") || tape.Basis == parts.Memory {
				want = parts.Memory
			}
			for _, b := range []parts.Basis{c.Lo.Basis, c.Soft.Basis} {
				if b != want {
					t.Errorf("%s: a fitted knee is called %s, want %s (%s)", key, b, want, r["status"])
				}
			}
		}
	})
	if compared < 75 {
		t.Errorf("only %d channels were compared", compared)
	}
}

// lawIs compares the numbers of a law with their row.
func lawIs(t *testing.T, key string, c parts.Channel, r map[string]string) {
	t.Helper()
	agree(t, key+" lo", r["lo_V"], float64(c.Lo.Is), c.Lo.Given)
	agree(t, key+" hi", r["hi_V"], float64(c.Hi.Is), c.Hi.Given)
	agree(t, key+" soft", r["soft_V"], float64(c.Soft.Is), c.Soft.Given)
	agree(t, key+" string", r["string_ohm"], float64(c.String.Is), c.String.Given)
}

// Idle current: the row's where it has one, from memory where not; the shape of its knee is assumed everywhere.
func TestIdleCurrentsAreThoseOfTheirRows(t *testing.T) {
	tapes(t, func(t *testing.T, name string, tape *parts.Tape, on footing) {
		r := channelRow(t, on, "idle")
		switch {
		case on.law == "A12_analog", on.law == "D5_RGBW" && on.chip == "", r == nil:
			if tape.Idle.Set.Basis != parts.Memory {
				t.Errorf("no row has it, and it is called %s", tape.Idle.Set.Basis)
			}
		default:
			lawIs(t, "idle", tape.Idle, r)
			if r["set_mA"] != "" && !same(float64(tape.Idle.Set.Is)*1000, reference.Number(t, r, "set_mA")) {
				t.Errorf("%v, want %s mA", tape.Idle.Set.Is, r["set_mA"])
			}
			if strings.HasPrefix(r["status"], "memory") && tape.Idle.Set.Basis != parts.Memory {
				t.Errorf("from memory, and it is called %s", tape.Idle.Set.Basis)
			}
		}
		if b := tape.Idle.Lo.Basis; b != parts.Memory && !(tape.Idle.String.Given && b == parts.Derived) {
			t.Errorf("an assumed knee is called %s", b)
		}
	})
}

// A source states the error of its fit at the rows of the model and, where it is larger, between them.
var fitError, between = regexp.MustCompile(`fit \(([0-9.]+) % of set(?: at the rows of the model, ([0-9.]+) % between them)?\)`), regexp.MustCompile(`dense-grid max ([0-9.]+) %`)

func fit(t *testing.T, what, source string, r map[string]string) {
	t.Helper()
	m, dense := fitError.FindStringSubmatch(source), between.FindStringSubmatch(r["basis"])
	if m == nil || m[1] != trimmed(r["fit_error_max_percent"]) {
		t.Errorf("%s: its source says %v, the fit errs by %s %%", what, m, r["fit_error_max_percent"])
		return
	}
	said := max(value(m[1]), value(m[2]))
	if dense != nil && said < value(dense[1]) {
		t.Errorf("%s: its source says %v %%, the fit errs by %s %% between the rows", what, said, dense[1])
	}
}

// value is a number, 0 where there is none.
func value(text string) float64 { v, _ := strconv.ParseFloat(text, 64); return v }

func trimmed(number string) string {
	v, _ := strconv.ParseFloat(number, 64)
	return strconv.FormatFloat(v, 'f', 1, 64)
}

// law is a catalogue channel as the law of package pixel.
func law(c parts.Channel) pixel.Channel {
	return pixel.Channel{Set: c.Set.Is, Lo: c.Lo.Is, Hi: c.Hi.Is, Soft: c.Soft.Is, String: c.String.Is}
}

// A droop is the model to which the laws were fitted: so many LEDs in series with a sink and, where it is not nought, a resistor.
// An LED has the voltage volts at the set current amps, slope more for each e-fold of it, and ohms; the sink keeps the set current
// down to the headroom, and is at 90 % of it there. The model is derived, not measured: volts and headroom bounded by datasheets,
// slope and ohms from memory.
type droop struct {
	leds                                         int
	amps, volts, slope, ohms, headroom, resistor float64
}

// at is the share of the set current at a voltage.
func (d droop) at(v float64) float64 {
	low, high := -100.0, 10.0 // of ln x, x the current without the sink over the set current
	for range 100 {
		middle := (low + high) / 2
		x := math.Exp(middle)
		if float64(d.leds)*(d.volts+d.slope*middle+d.ohms*d.amps*(x-1))+x*(d.amps*d.resistor+d.headroom) < v {
			low = middle
		} else {
			high = middle
		}
	}
	const p = 6.58 // makes 0.900 of x = 1, the 10 % by which makers of sinks define saturation
	x := math.Exp((low + high) / 2)
	if x > 1 {
		return 1 / math.Pow(1+math.Pow(x, -p), 1/p)
	}
	return x / math.Pow(1+math.Pow(x, p), 1/p)
}

// The five sets of the model, and the 16 mA set to which LEDs of no printed voltage are shifted.
var (
	ohms   = map[string]float64{"red": 10, "green": 15, "blue": 15, "white": 15}
	slopes = map[string]float64{"red": 0.05, "green": 0.07, "blue": 0.07, "white": 0.07}
	at16mA = map[string]float64{"red": 2.0, "green": 2.95, "blue": 3.05, "white": 3.0}
	sets   = map[string]droop{
		"D5_12mA":     {leds: 1, amps: 12e-3},
		"D5_16mA":     {leds: 1, amps: 16e-3},
		"D12_WS2815B": {leds: 3, amps: 10e-3},
		"D12_WS2811":  {leds: 3, amps: 18.5e-3},
		"D24":         {leds: 6, amps: 18e-3},
	}
	ledVolts = map[string]map[string]float64{
		"D5_12mA":     {"red": 1.95, "green": 2.95, "blue": 3.05},
		"D5_16mA":     {"red": 2.0, "green": 2.95, "blue": 3.05},
		"D12_WS2815B": {"red": 1.95, "green": 2.90, "blue": 3.00},
		"D12_WS2811":  {"red": 2.0, "green": 3.1, "blue": 3.1},
		"D24":         {"red": 2.0, "green": 3.0, "blue": 3.1},
	}
)

// shifted is an LED of the 16 mA set at another current.
func shifted(colour string, leds int, amps float64) droop {
	volts := at16mA[colour] + slopes[colour]*math.Log(amps/16e-3) + ohms[colour]*(amps-16e-3)
	return droop{leds: leds, amps: amps, volts: volts, slope: slopes[colour], ohms: ohms[colour], headroom: 0.5}
}

var inSeries, printedVolts, printedHeadroom, printedOhms = regexp.MustCompile(`, n ([0-9])`), regexp.MustCompile(`Vf ([0-9.]+) V`), regexp.MustCompile(`Vdo ([0-9.]+)`), regexp.MustCompile(`LED ohms ([0-9.]+)`)

// modelOf is the droop model behind a channel: of one of the five sets, or as its row's basis describes it.
func modelOf(t *testing.T, on footing, key string, c parts.Channel, r map[string]string) droop {
	t.Helper()
	colour := key
	switch {
	case strings.HasPrefix(on.as[key], "white") || key == "white":
		colour = "white"
	case key == "amber":
		colour = "red"
	}
	if r == nil {
		return shifted(colour, on.leds, float64(c.Set.Is))
	}
	if d, ok := sets[on.law]; ok {
		d.volts, d.slope, d.ohms, d.headroom = ledVolts[on.law][key], slopes[key], ohms[key], 0.5
		if on.law == "D12_WS2811" && key == "red" {
			d.resistor = 324 // the sheet's rule, (12 V − 3·2.0 V)/18.5 mA
		}
		return d
	}
	number := func(in *regexp.Regexp) float64 {
		m := in.FindStringSubmatch(r["basis"])
		if m == nil {
			t.Fatalf("%s %s: no %v in %q", on.law, key, in, r["basis"])
		}
		return value(m[1])
	}
	d := shifted(colour, int(number(inSeries)), float64(c.Set.Is))
	if !strings.Contains(r["basis"], "shifted") {
		d.volts = number(printedVolts)
	}
	if strings.Contains(r["basis"], "LED ohms") {
		d.ohms = number(printedOhms)
	}
	d.headroom = number(printedHeadroom)
	return d
}

// The laws are computed anew: between nought and the highest voltage of the model no law is further from it than its source
// says. Red behind the resistor of a 12 V string is fitted from 6.5 V up, says its row.
func TestLawsErrByNoMoreThanTheirSourcesSay(t *testing.T) {
	const rounding = 0.05 // per cent: one decimal is printed
	top := map[int]float64{1: 5.5, 3: 13, 6: 25, 7: 25, 8: 25}
	tapes(t, func(t *testing.T, name string, tape *parts.Tape, on footing) {
		for key, c := range tape.Channels {
			if c.String.Given {
				continue
			}
			d := modelOf(t, on, key, c, channelRow(t, on, key))
			worst, where, from := 0.0, 0.0, 0.0
			if d.resistor > 0 {
				from = 6.5
			}
			for i := range 2001 {
				v := from + (top[d.leds]-from)*float64(i)/2000
				amps, _ := law(c).Current(v)
				if off := 100 * math.Abs(amps/d.amps-d.at(v)); v > 0 && off > worst {
					worst, where = off, v
				}
			}
			m := fitError.FindStringSubmatch(c.Source)
			if m == nil || worst > max(value(m[1]), value(m[2]))+rounding {
				t.Errorf("%s errs by %.2f %% at %.2f V, its source says %v", key, worst, where, m)
			}
			if d.amps != float64(c.Set.Is) && !same(d.amps, float64(c.Set.Is)) {
				t.Errorf("%s: the model has %v A, the channel %v", key, d.amps, c.Set.Is)
			}
		}
	})
}

// The table of the droop model itself, row by row: the laws of the catalogue stay within what their sources say, and the model
// of these tests gives the table.
func TestLawsKeepToTheTableOfTheDroopModel(t *testing.T) {
	rows, compared := reference.Rows(t, "droop_checks.csv"), 0
	cases := map[string]string{"D5_12mA": "D5_12mA", "D5_16mA": "D5_16mA", "D12_WS2815B": "D12_WS2815B_10mA_n3", "D12_WS2811": "D12_WS2811_18.5mA_n3_RR324", "D24": "D24_18mA_n6", "A12_analog": "A12_corrected"}
	seen := map[string]bool{}
	tapes(t, func(t *testing.T, name string, tape *parts.Tape, on footing) {
		if cases[on.law] == "" {
			return
		}
		seen[on.law] = true
		for key, c := range tape.Channels {
			r := channelRow(t, on, key)
			full, said := reference.Number(t, r, "set_mA"), max(value(r["fit_error_max_percent"]), value(append(between.FindStringSubmatch(r["basis"]), "", "")[1]))
			for _, point := range reference.Where(t, rows, "case", cases[on.law]) {
				v, want := reference.Number(t, point, "V"), reference.Number(t, point, "I_mA")
				if !strings.EqualFold(point["channel"], key[:1]) {
					continue
				}
				compared++
				amps, _ := law(c).Current(v)
				if off := 100 * math.Abs(amps*1000-want) / full; off > said+0.05 {
					t.Errorf("%s at %v V takes %.2f mA, the table says %v: %.2f %% of set off, not %v", key, v, amps*1000, want, off, said)
				}
				if c.String.Given {
					continue
				}
				if model := 1000 * modelOf(t, on, key, c, r).at(v) * modelOf(t, on, key, c, r).amps; math.Abs(model-want) > 0.005*full {
					t.Errorf("%s at %v V: the model gives %.3f mA, its table %v", key, v, model, want)
				}
			}
		}
	})
	if compared < 300 || len(seen) != len(cases) {
		t.Errorf("only %d points of %v were compared", compared, seen)
	}
}

// A pixel draws nothing at 0 V and never less for more volts, to the highest voltage of its tape and beyond.
func TestLawsOfEveryTapeArePassive(t *testing.T) {
	tapes(t, func(t *testing.T, name string, tape *parts.Tape, _ footing) {
		all := map[string]parts.Channel{"idle": tape.Idle}
		for key, c := range tape.Channels {
			all[key] = c
		}
		for key, c := range all {
			if zero, _ := law(c).Current(0); zero != 0 {
				t.Errorf("%s takes %v A at 0 V", key, zero)
			}
			before := 0.0
			for v := 0.0; v < 1.5*float64(tape.Volts.Is); v += 0.01 {
				amps, slope := law(c).Current(v)
				if amps < before || slope < 0 {
					t.Fatalf("%s takes %v A at %v V, and %v A a little below; slope %v", key, amps, v, before, slope)
				}
				before = amps
			}
		}
	})
}

func TestTapesKeepToTheDatasheetsOfTheirChips(t *testing.T) {
	rows := reference.Rows(t, "chips.csv")
	tapes(t, func(t *testing.T, name string, tape *parts.Tape, on footing) {
		if on.chip == "" {
			if tape.Basis != parts.Memory {
				t.Errorf("it stands on no sheet, and is called %s", tape.Basis)
			}
			return
		}
		r := row(t, rows, "id", on.chip)
		if len(tape.Chips) == 0 || !strings.HasPrefix(r["part"], tape.Chips[0].Part) && !strings.HasPrefix(tape.Chips[0].Part, r["part"]) && on.chip != "sk9822_ec20" {
			t.Errorf("its chips are %v, the row is of %s", tape.Chips, r["part"])
		}
		volts(t, tape, r)
		if strings.HasPrefix(r["status"], "memory") && tape.Basis != parts.Memory {
			t.Errorf("its chip is from memory, and the tape is called %s", tape.Basis)
		}
		intensities(t, tape, r)
	})
}

// volts compares the range of a tape with that of its chip. The chip of a tape with resistors has a supply of its own.
func volts(t *testing.T, tape *parts.Tape, r map[string]string) {
	t.Helper()
	for column, v := range map[string]struct {
		is    float64
		basis parts.Basis
	}{"supply_min_V": {float64(tape.VoltsMin.Is), tape.VoltsMin.Basis}, "supply_max_V": {float64(tape.VoltsMax.Is), tape.VoltsMax.Basis}} {
		switch {
		case r[column] == "" || r["id"] == "ws2801":
			if v.basis == parts.Datasheet {
				t.Errorf("%s is not printed, and it is called datasheet", column)
			}
		case v.is != reference.Number(t, r, column) || v.basis != parts.Datasheet:
			t.Errorf("%s is %v V, %s; the sheet says %s", column, v.is, v.basis, r[column])
		}
	}
}

// intensities compares candela with those that the sheet of the chip prints: typical, or the middle of the range.
func intensities(t *testing.T, tape *parts.Tape, r map[string]string) {
	t.Helper()
	for key, letter := range map[string]string{"red": "r", "green": "g", "blue": "b"} {
		low, typical, high := r["iv_"+letter+"_mcd_min"], r["iv_"+letter+"_mcd_typ"], r["iv_"+letter+"_mcd_max"]
		c, ok := tape.Channels[key]
		switch {
		case !ok:
		case low == "" && typical == "":
			if c.Candela.Basis == parts.Datasheet {
				t.Errorf("%s: no intensity is printed, and it is called datasheet", key)
			}
		default:
			want := value(typical)
			if typical == "" {
				want = (reference.Number(t, r, "iv_"+letter+"_mcd_min") + reference.Number(t, r, "iv_"+letter+"_mcd_max")) / 2
			}
			if got := float64(c.Candela.Is) * 1000; !same(got, want) {
				t.Errorf("%s gives %v mcd, want %v (%s, %s, %s)", key, got, want, low, typical, high)
			}
		}
	}
}

// Set currents as the chips' sheets have them, where they do: typical of three, the middle of "16-17", or an example of a range.
func TestSetCurrentsAreThoseOfTheChips(t *testing.T) {
	rows := reference.Rows(t, "chips.csv")
	numbers := regexp.MustCompile(`[0-9.]+`)
	found := 0
	tapes(t, func(t *testing.T, name string, tape *parts.Tape, on footing) {
		if on.chip == "" || on.law == "A12_analog" || on.law == "sk6812rgbw_measured" {
			return // from memory, set by resistors, measured
		}
		cell := row(t, rows, "id", on.chip)["i_set_mA"]
		of := numbers.FindAllString(cell, -1)
		found++
		for key, c := range tape.Channels {
			set := float64(c.Set.Is) * 1000
			switch {
			case len(of) == 1 && !same(set, value(of[0])), len(of) == 3 && !same(set, value(of[1])) && on.chip != "sk6812_5050",
				len(of) == 2 && (set < value(of[0]) || set > value(of[1])), on.chip == "sk6812_5050" && !same(set, value(of[0])):
				t.Errorf("%s is set to %v mA, the chip's row says %s", key, set, cell)
			}
			if strings.Contains(cell, "low confidence") != (c.Set.Basis == parts.Memory) {
				t.Errorf("%s: a set current is called %s, the row says %s", key, c.Set.Basis, cell)
			}
			if len(of) == 2 && strings.Contains(tape.Title, "over the data line") && // what the controller may set is within the spread
				(!same(float64(c.Set.Upper())*1000, value(of[1])) || !same(float64(c.Set.Lower())*1000, value(of[0]))) {
				t.Errorf("%s spreads from %v to %v, the controller may set %s mA", key, c.Set.Lower(), c.Set.Upper(), cell)
			}
		}
	})
	if found < 18 {
		t.Errorf("only %d tapes were compared", found)
	}
}

// Where the spread of a set current ends, in milliamperes, and why.
func TestSpreadsOfSetCurrentsEndWhereSomethingIsKnown(t *testing.T) {
	known := map[string]struct {
		low, high float64
		why       string
	}{
		"tape/5v-rgb-60":           {7.8, 18, "tapes measured"},
		"tape/5v-rgb-144":          {7.8, 18, "tapes measured"},
		"tape/5v-rgb-30":           {8, 20, "tapes measured; often quoted"},
		"tape/5v-rgb-60-backup":    {8, 20, "tapes measured; often quoted"},
		"tape/5v-rgb-96":           {7.8, 20.04, "the RGBW sister measured; older copies, from memory"},
		"tape/5v-rgbw-144":         {7.8, 20.15, "a tape measured; resold parts, from memory"},
		"tape/5v-tunable-60":       {7.8, 20.15, "as its sister"},
		"tape/5v-rgb-120-narrow":   {3.25, 7.5, "as the 12 mA tape, −35 to +50 %"},
		"tape/5v-rgb-60-clocked":   {20, 26.5, "list of features and table of the sheet"},
		"tape/5v-rgb-144-clocked":  {16.2, 20, "10 % less; most of the sheet"},
		"tape/5v-rgb-string-10":    {14.8, 20.35, "−20 to +10 %"},
		"tape/12v-rgb-10x3":        {9.25, 20.35, "half, after a field report; 10 % more"},
		"tape/12v-rgb-string-5x3":  {9.25, 20.35, "half, after a field report; 10 % more"},
		"tape/12v-rgb-60-per-led":  {9, 11, "±10 % of the droop model"},
		"tape/12v-rgb-20x3":        {13.6, 18.7, "drivers of the class are set to 16 to 18.5 mA"},
		"tape/12v-rgbw-20x3":       {13.6, 18.7, "drivers of the class are set to 16 to 18.5 mA"},
		"tape/24v-rgb-10x7":        {13.6, 18.7, "drivers of the class are set to 16 to 18.5 mA"},
		"tape/24v-tunable-10x6":    {13.6, 18.7, "drivers of the class are set to 16 to 18.5 mA"},
		"tape/12v-rgb-20x3-backup": {11, 19.25, "least of the sheet; 10 % more"},
		"tape/24v-rgb-10x6-backup": {16.2, 19.8, "±3 and ±5 % of the sheet, and a little"},
		"tape/24v-rgb-12x6":        {14.4, 22.5, "memory"},
		"tape/24v-rgbcct-10x6":     {13.2, 20.6, "memory"},
		"tape/24v-rgb-20x8":        {3, 10, "memory"},
		"tape/24v-rgbw-10x6":       {6.5, 38, "what the controller may set"},
		"tape/24v-rgbwa-bar-4x6":   {10, 300, "what the controller may set"},
	}
	tapes(t, func(t *testing.T, name string, tape *parts.Tape, on footing) {
		want, ok := known[name]
		for key, c := range tape.Channels {
			switch {
			case c.String.Given: // 300 Ω red and 150 Ω for the others, with the LEDs' own 40 and 60; 200 Ω were seen too
				if float64(c.String.Upper()) < 260 || c.String.Spread.Low != -0.2 || c.String.Spread.High != 0.3 {
					t.Errorf("%s: resistors spread from %v to %v", key, c.String.Lower(), c.String.Upper())
				}
			case on.copper == "meas_sk6812_60":
				if c.Set.Spread.High != 0.1 || c.Set.Spread.Low != -0.1 { // the meter, and pixels among each other
					t.Errorf("%s of the measured tape spreads %v", key, c.Set.Spread)
				}
			case !ok:
				t.Errorf("no known ends of %s", key)
			default:
				if low, high := 1000*float64(c.Set.Lower()), 1000*float64(c.Set.Upper()); math.Abs(low-want.low) > 0.005*want.low || math.Abs(high-want.high) > 0.005*want.high {
					t.Errorf("%s spreads from %.4g to %.4g mA, want %v to %v (%s)", key, low, high, want.low, want.high, want.why)
				}
			}
		}
	})
}

// A name says voltage, pixels a metre and, where the tape is cut at every pixel, nothing more; a title says the pixels again.
func TestTapesAreWhatTheirNamesSay(t *testing.T) {
	said := regexp.MustCompile(`^tape/([0-9]+)v-.*?-([0-9]+)(x[0-9])?(-|$)`)
	tapes(t, func(t *testing.T, name string, tape *parts.Tape, on footing) {
		m := said.FindStringSubmatch(name)
		if m == nil || float64(tape.Volts.Is) != value(m[1]) || float64(tape.Pixels.Is) != value(m[2]) || tape.CutEvery != 1 {
			t.Fatalf("%v, %v, cut every %d pixels", tape.Volts.Is, tape.Pixels.Is, tape.CutEvery)
		}
		if !regexp.MustCompile(`\b` + m[1] + ` V\b.*\b` + m[2] + ` (pixels|nodes|modules)/m`).MatchString(tape.Title) {
			t.Errorf("its title is %s", tape.Title)
		}
		joints(t, tape, on)
		unprinted(t, tape, on)
	})
}

// joints are the same everywhere, from memory: 2 mΩ (1 to 3) every half metre, or two of about 1 mΩ at every node of a string.
func joints(t *testing.T, tape *parts.Tape, on footing) {
	t.Helper()
	low, high, every := 1e-3, 3e-3, 0.5
	if strings.HasPrefix(on.copper, "lead_") {
		low, high, every = 1e-3, 6e-3, 1/float64(tape.Pixels.Is)
	}
	if j := tape.Joint; on.copper != "meas_sk6812_60" && (!same(float64(j.Lower()), low) || !same(float64(j.Upper()), high) || j.Is != 2e-3 || j.Basis != parts.Memory || !same(float64(tape.JointEvery.Is), every)) {
		t.Errorf("joints of %v to %v every %v", j.Lower(), j.Upper(), tape.JointEvery.Is)
	}
}

// unprinted numbers are alike in tapes that are alike: the range of a voltage that no sheet prints, idle knees, input levels.
func unprinted(t *testing.T, tape *parts.Tape, on footing) {
	t.Helper()
	nominal := float64(tape.Volts.Is)
	if v := tape.VoltsMin; v.Basis == parts.Practice && !same(float64(v.Is), 0.9*nominal) {
		t.Errorf("it works from %v, common practice is 10 %% less than nominal", v.Is)
	}
	most := map[float64]float64{5: 5.5, 12: 13, 24: 25}[nominal]
	if v := tape.VoltsMax; v.Basis != parts.Datasheet && float64(v.Is) != most {
		t.Errorf("it works up to %v, want %v V", v.Is, most)
	}
	if i := tape.Idle; !i.String.Given && (i.Lo.Is != 1 || i.Hi.Is != 2 || i.Soft.Is != 0.1) || i.String.Given && (i.String.Is != 2700 || i.Lo.Is != 5 || i.Soft.Is != 0.2) {
		t.Errorf("idle from %v to %v, soft %v, or through %v", i.Lo.Is, i.Hi.Is, i.Soft.Is, i.String.Is)
	}
	if i := tape.Idle.Set; nominal > 5 && i.Given && i.Basis == parts.Memory && (i.Is != 2.5e-3 || !same(float64(i.Lower()), 1.25e-3)) { // the known ones of 12 V are 2.1 and 2.6 mA
		t.Errorf("idle current of %v, from %v, from memory", i.Is, i.Lower())
	}
	if l := tape.Logic; l.Basis == parts.Memory && (l.High != "70 %" || l.Low != "30 %") || l.Over.Basis == parts.Memory && l.Over.Is != 0.3 || l.Under.Basis == parts.Memory && l.Under.Is != 0.3 {
		t.Errorf("levels from memory are %s, %s, %v over and %v under", l.High, l.Low, l.Over.Is, l.Under.Is)
	}
}

// RGBW chips: lumen bins of the datasheet at 13 mA (red and blue 1 to 2 lm, green 3 to 5, white 5 to 7), a Lambertian
// emitter of Φ lumen having Φ/π candela on its axis, in proportion to the current.
func TestIntensitiesOfRGBWFollowFromTheirLumens(t *testing.T) {
	if bins := row(t, reference.Rows(t, "chips.csv"), "id", "sk6812rgbw")["iv_w"]; !strings.Contains(bins, "@13 mA: R 1-2, G 3-5, B 1-2, W 5-7 lm") {
		t.Fatalf("the bins have changed: %s", bins)
	}
	for _, name := range []string{"tape/5v-rgbw-60", "tape/5v-rgbw-144"} {
		for key, lumen := range map[string]float64{"red": 1.5, "green": 4, "blue": 1.5, "white": 6} {
			c := each[parts.Tape](t, "tape")[name].Channels[key]
			want := lumen / math.Pi * float64(c.Set.Is) / 13e-3
			if math.Abs(float64(c.Candela.Is)-want) > 2e-3*want || c.Candela.Basis != parts.Derived { // three figures are printed
				t.Errorf("%s %s gives %v, want %v cd", name, key, c.Candela.Is, want)
			}
		}
	}
}

// LEDs of no named sheet give what a usual one does at 18.5 mA, from memory, in proportion to current and number.
func TestIntensitiesFromMemoryAreThoseOfUsualLEDs(t *testing.T) {
	usual := map[string]float64{"red": 0.4, "amber": 0.4, "green": 1.0, "blue": 0.7 / 3, "white": 6 / math.Pi * 18.5 / 13, "warm": 6 / math.Pi * 18.5 / 13, "cold": 6 / math.Pi * 18.5 / 13}
	series, compared := regexp.MustCompile(`x([0-9])(-|$)`), 0
	tapes(t, func(t *testing.T, name string, tape *parts.Tape, on footing) {
		leds := 1.0
		if m := series.FindStringSubmatch(name); m != nil {
			leds = value(m[1])
		} else if name != "tape/5v-rgb-string-10" && name != "tape/5v-tunable-60" {
			return
		}
		for key, c := range tape.Channels {
			amps := float64(c.Set.Is)
			if c.String.Given {
				amps = reference.Number(t, channelRow(t, on, key), "set_mA") / 1000
			}
			compared++
			want := leds * usual[key] * amps / 18.5e-3
			if name == "tape/5v-tunable-60" && key == "amber" { // blue under a phosphor
				want = 1.0
			}
			if math.Abs(float64(c.Candela.Is)-want) > 5e-3*want || c.Candela.Basis != parts.Memory {
				t.Errorf("%s gives %v, %s; want %.3g cd from memory", key, c.Candela.Is, c.Candela.Basis, want)
			}
		}
	})
	if compared < 45 {
		t.Errorf("only %d channels were compared", compared)
	}
}

// Chromaticities from dominant wavelength and excitation purity, (x, y) = D65 + p·(locus − D65), with the CIE 1931 locus of
// the table between whose rows (5 nm) a straight line is taken. The purities are from memory, and so is amber's wavelength.
func TestChromaticitiesFollowFromTheDominantWavelengths(t *testing.T) {
	const figures = 6e-4 // three decimals are printed
	rows, chips := reference.Rows(t, "cie1931_locus.csv"), reference.Rows(t, "chips.csv")
	purity := map[string]float64{"red": 1.0, "green": 0.80, "blue": 0.97, "amber": 1.0}
	tapes(t, func(t *testing.T, name string, tape *parts.Tape, on footing) {
		for key, c := range tape.Channels {
			p, colour := purity[key]
			if !colour {
				whitePoint(t, name, key, c)
				continue
			}
			at, cell := 590.0, "" // amber
			if key != "amber" {
				if on.chip != "" {
					cell = row(t, chips, "id", on.chip)["wl_"+key[:1]+"_nm"]
				}
				if cell == "" {
					cell = row(t, chips, "id", "ws2812b_v5")["wl_"+key[:1]+"_nm"] // LEDs of no named sheet
				}
				at = wavelength(t, cell)
			}
			x, y := locus(t, rows, at)
			x, y = 0.3127+p*(x-0.3127), 0.3290+p*(y-0.3290) // D65: CIE 15
			if math.Abs(c.X-x) > figures || math.Abs(c.Y-y) > figures {
				t.Errorf("%s is (%v, %v), want (%.4f, %.4f) from %v nm", key, c.X, c.Y, x, y, at)
			}
			if !strings.Contains(c.Source, plain(at)+" nm") {
				t.Errorf("%s: its source does not say %v nm: %s", key, at, c.Source)
			}
		}
	})
}

// whitePoint is a nominal point of ANSI C78.377.
func whitePoint(t *testing.T, name, key string, c parts.Channel) {
	t.Helper()
	x, y := 0.3813, 0.3797 // 4000 K
	switch {
	case key == "warm":
		x, y = 0.4578, 0.4101 // 2700 K
	case key == "cold" || name == "tape/5v-rgbw-144":
		x, y = 0.3123, 0.3283 // 6500 K
	}
	if c.X != x || c.Y != y {
		t.Errorf("%s is (%v, %v), want (%v, %v)", key, c.X, c.Y, x, y)
	}
}

// wavelength is the typical one of "620/621/630", or the middle of "620-625".
func wavelength(t *testing.T, text string) float64 {
	number := func(s string) float64 {
		v, err := strconv.ParseFloat(s, 64)
		if err != nil {
			t.Fatalf("%q is no wavelength", text)
		}
		return v
	}
	if three := strings.Split(text, "/"); len(three) == 3 {
		return number(three[1])
	}
	low, high, _ := strings.Cut(text, "-")
	return (number(low) + number(high)) / 2
}

func locus(t *testing.T, rows []map[string]string, nm float64) (x, y float64) {
	below := math.Floor(nm/5) * 5
	share := (nm - below) / 5
	for i, weight := range []float64{1 - share, share} {
		if weight == 0 {
			continue
		}
		r := row(t, rows, "nm", strconv.Itoa(int(below)+5*i))
		x += weight * reference.Number(t, r, "x")
		y += weight * reference.Number(t, r, "y")
	}
	return x, y
}

// Rails: the copper formula of the table, or the measured tape, or a lead. The spread of a typical one reaches copper of the next
// weight either way, with the widths of the table; of the thinnest, 60 % beyond the formula, above which measured tapes lie; of
// the thickest, the 35 % by which the table says its own rows may be off.
func TestRailsAgreeWithTheirCopper(t *testing.T) {
	rows := reference.Rows(t, "strip_copper.csv")
	ohms := func(id, column string) float64 { return reference.Number(t, row(t, rows, "id", id), column) / 1000 }
	tapes(t, func(t *testing.T, name string, tape *parts.Tape, on footing) {
		rail, basis, near := tape.Rail, parts.Derived, printed
		from, to := 0.0, 0.0 // where the spread ends
		copper := on.copper
		switch {
		case copper == "like 60": // the typical tape lies within the copper of its width and the measured tapes
			from, to = ohms("w10_2oz", "R_rail_mohm_per_m_20C"), ohms("meas_sk6812_60", "R_rail_mohm_per_m_20C")
		case strings.HasSuffix(copper, "_1oz"):
			from, to = ohms(copper, "R_rail_low")/2, 1.6*ohms(copper, "R_rail_mohm_per_m_20C")
		case strings.HasSuffix(copper, "_2oz"):
			from, to = ohms(copper, "R_rail_low")*2/3, ohms(copper, "R_rail_high")*2
		case strings.HasSuffix(copper, "_3oz"):
			from, to = ohms(copper, "R_rail_mohm_per_m_20C")*(1-reference.Number(t, row(t, rows, "id", copper), "uncertainty_pct")/100), ohms(copper, "R_rail_high")*3/2
		case strings.HasPrefix(copper, "lead_"): // leads of one size of gauge up or down, two numbers away
			gauge := map[string][2]string{"lead_awg22": {"20", "24"}, "lead_awg20": {"18", "22"}}[copper]
			awg := reference.Rows(t, "conductor_awg.csv")
			from, to = reference.Number(t, row(t, awg, "awg", gauge[0]), "r20_formula_ohm_per_km")/1000, reference.Number(t, row(t, awg, "awg", gauge[1]), "r20_formula_ohm_per_km")/1000
			near = 0.01 // two figures are printed
		default:
			basis, from, to = parts.Measured, ohms(copper, "R_rail_low"), ohms(copper, "R_rail_high")
		}
		if want := ohms(strings.Replace(copper, "like 60", "w10_2oz", 1), "R_rail_mohm_per_m_20C"); copper != "like 60" && math.Abs(float64(rail.Is)-want) > near*want {
			t.Errorf("%v, want %v Ω/m", rail.Is, want)
		}
		if low, high := float64(rail.Lower()), float64(rail.Upper()); low > 1.015*from || low < 0.96*from || high < 0.985*to || high > 1.04*to { // whole per cents
			t.Errorf("the spread is %.4g to %.4g, want %.4g to %.4g Ω/m", low, high, from, to)
		}
		if rail.Basis != basis {
			t.Errorf("called %s, want %s", rail.Basis, basis)
		}
	})
}

// The rows themselves: R = ρ/(w·t) with 1.724·10⁻⁸ Ωm for annealed copper (IEC 60028). Measured rails of a board agree with
// the formula within 2 % (a published measurement).
func TestCopperOfTheTableFollowsItsFormula(t *testing.T) {
	rows, compared := reference.Rows(t, "strip_copper.csv"), 0
	for _, r := range rows {
		if r["rail_effective_width_mm"] == "" {
			continue
		}
		compared++
		want := 1.724e-8 / (reference.Number(t, r, "rail_effective_width_mm") * reference.Number(t, r, "copper_thickness_um") * 1e-9) * 1000
		if got := reference.Number(t, r, "R_rail_mohm_per_m_20C"); math.Abs(got-want) > 0.5 {
			t.Errorf("%s: %v mΩ/m, the formula gives %.1f", r["id"], got, want)
		}
	}
	if compared != 9 {
		t.Errorf("%d rows were compared", compared)
	}
	for id, formula := range map[string]float64{"pcb_rail_1": 5.70, "pcb_rail_2": 6.48} {
		r := row(t, reference.Rows(t, "strip_measurements.csv"), "id", id)
		if got := reference.Number(t, r, "value"); math.Abs(got/formula-1) > 0.02 || !strings.Contains(r["quantity"], "predicted") {
			t.Errorf("%s: measured %v mΩ, the formula gives %v", id, got, formula)
		}
	}
}

// IPC-2221 external fit, I = 0.048·ΔT^0.44·A^0.725 with A in square mils, times 0.7; the table has it for 10 K. A limit for copper
// that may be lighter spreads down to that of the next weight.
func TestRailCurrentsFollowTheBoardFormula(t *testing.T) {
	const mil = 25.4e-6
	rows := reference.Rows(t, "strip_copper.csv")
	formula := func(id string) float64 {
		r := row(t, rows, "id", id)
		area := reference.Number(t, r, "rail_effective_width_mm") * reference.Number(t, r, "copper_thickness_um") * 1e-9
		amps := 0.7 * 0.048 * math.Pow(10, 0.44) * math.Pow(area/mil/mil, 0.725)
		if table := reference.Number(t, r, "recommended_max_continuous_A"); math.Abs(amps-table) > 0.06 { // one decimal is printed
			t.Errorf("%s: the formula gives %.2f A, the table %v", id, amps, table)
		}
		return amps
	}
	lighter := map[string]string{"w8_2oz": "w8_1oz", "w10_2oz": "w10_1oz", "w12_2oz": "w12_1oz", "w12_3oz": "w12_2oz"}
	tapes(t, func(t *testing.T, name string, tape *parts.Tape, on footing) {
		copper, amps := on.copper, tape.RailAmps
		switch copper {
		case "like 60":
			copper = "w10_2oz"
		case "meas_sk6812_60":
			copper = "w8_1oz" // nearest to what was measured
		}
		if strings.HasPrefix(copper, "lead_") {
			want := reference.Number(t, row(t, rows, "id", "lead_connector_3pin"), "recommended_max_continuous_A")
			if float64(amps.Is) != want || amps.Basis != parts.Memory {
				t.Errorf("%v, %s; want %v A from memory", amps.Is, amps.Basis, want)
			}
			return
		}
		if want := formula(copper); math.Abs(float64(amps.Is)-want) > 0.015*want { // two figures are printed
			t.Errorf("%v, want %v A", amps.Is, want)
		}
		least := float64(amps.Is)
		switch light, high := lighter[copper], tape.Rail.Spread.High; {
		case light != "":
			least = formula(light)
		case high > 0.5: // narrower copper of that weight, as the upper end of the rail's own spread asks
			least *= math.Pow(1+high, -0.725)
		}
		if low := float64(amps.Lower()); math.Abs(low-least) > 0.02*least || amps.Spread.High > 0 { // whole per cents
			t.Errorf("%.3g A at the least and %v at the most, want %.3g and no more", low, amps.Upper(), least)
		}
	})
}

// Every tape speaks the protocol of its chip, a letter on the wire for each of its channels.
func TestTapesSpeakTheProtocolOfTheirChips(t *testing.T) {
	tapes(t, func(t *testing.T, name string, tape *parts.Tape, on footing) {
		p, ok := parts.Get[parts.Protocol](parts.Catalogue(), tape.Protocol)
		if !ok {
			t.Fatalf("there is no %s", tape.Protocol)
		}
		if on.levels != "" && !slices.Contains(chipsOf[tape.Protocol], on.levels) {
			t.Errorf("%s stands on %v, not on %s", tape.Protocol, chipsOf[tape.Protocol], on.levels)
		}
		wire := p.Channels()
		for key := range tape.Channels {
			if !slices.Contains(wire, key) {
				t.Errorf("%s has no letter in %s", key, p.Order)
			}
		}
		if len(wire) != len(tape.Channels) || p.Bits != p.Depth*len(tape.Channels)+p.Overhead {
			t.Errorf("%d channels, %d letters, %d bits of %d and %d more", len(tape.Channels), len(wire), p.Bits, p.Depth, p.Overhead)
		}
	})
}

// Thresholds as protocols.csv quotes them: a voltage at 5 V, or a share of the supply. A 5 V chip lives on its rail, so that its
// upper limit sinks with it; a 12 or 24 V chip has 5 V of its own inside. What a row does not print is from memory.
func TestInputLevelsAreThoseOfTheDatasheets(t *testing.T) {
	rows, chips := reference.Rows(t, "protocols.csv"), reference.Rows(t, "chips.csv")
	tapes(t, func(t *testing.T, name string, tape *parts.Tape, on footing) {
		logic, own := tape.Logic, "rail"
		if tape.Volts.Is > 5 {
			own = "5 V"
		}
		if logic.Supply != own {
			t.Errorf("its logic lives on %s, want %s", logic.Supply, own)
		}
		var high, low string
		if on.levels != "" {
			r := row(t, rows, "id", on.levels)
			high, low = r["VIH_min"], r["VIL_max"]
		}
		for _, level := range []struct{ cell, is, share, of5V string }{{high, logic.High, "70 %", "3.5 V"}, {low, logic.Low, "30 %", "1.5 V"}} {
			switch {
			case strings.HasPrefix(level.cell, "0.7*"), strings.HasPrefix(level.cell, "0.3*"):
				if level.is != level.share && level.is != level.of5V {
					t.Errorf("a threshold is %s, the row says %s", level.is, level.cell)
				}
			case level.cell == "" || strings.HasPrefix(level.cell, "not stated"):
				if logic.Basis != parts.Memory && tape.Basis != parts.Memory {
					t.Errorf("a threshold of %s is not printed, and is called %s %s", level.is, logic.Basis, tape.Basis)
				}
			case !strings.HasPrefix(level.cell, level.is+" "):
				t.Errorf("a threshold is %s, the row says %s", level.is, level.cell)
			}
		}
		if on.chip != "" {
			beyond(t, logic, row(t, chips, "id", on.chip)["abs_max"])
		}
	})
}

var limits, inputLimits = regexp.MustCompile(`(?:VI|VIN) (?:VSS)?(-?[0-9.]+?)\.\.VDD\+([0-9.]+)`), regexp.MustCompile(`DIN (-[0-9.]+?)\.\.([0-9.]+) V`)

// beyond compares how far an input may go beyond its supply with the chip's absolute maximum ratings, where they are printed.
func beyond(t *testing.T, logic parts.Logic, cell string) {
	t.Helper()
	m, logicVolts := limits.FindStringSubmatch(cell), 0.0
	if m == nil {
		m, logicVolts = inputLimits.FindStringSubmatch(cell), 5 // the input's own voltage, not that beyond the supply
	}
	if m == nil {
		return
	}
	under, over := value(m[1]), value(m[2])-logicVolts
	if under < 0 && !same(float64(logic.Under.Is), -under) || !same(float64(logic.Over.Is), over) {
		t.Errorf("over %v and under %v, the chip's limits are %s", logic.Over.Is, logic.Under.Is, cell)
	}
}

// A tape that nobody measured says what to measure: its rail, and its set current or its resistors.
func TestEveryTapeSaysWhatToMeasure(t *testing.T) {
	tapes(t, func(t *testing.T, name string, tape *parts.Tape, _ footing) {
		want := map[string]bool{"rail": true}
		for _, c := range tape.Channels {
			if c.String.Given {
				want["string"] = true
			} else {
				want["set"] = true
			}
		}
		if tape.Idle.Set.Given && tape.Idle.Set.Basis == parts.Memory {
			want["idle"] = true
		}
		for key := range want {
			if len(tape.Measure[key]) < 30 {
				t.Errorf("it does not say how to measure %s", key)
			}
		}
		if len(tape.Measure) != len(want) {
			t.Errorf("it says how to measure %v, want %v", tape.Measure, want)
		}
		for key, c := range tape.Channels {
			if set := c.Set.Spread.High - c.Set.Spread.Low + c.String.Spread.High - c.String.Spread.Low; set < 0.15 {
				t.Errorf("%s of a typical tape has a spread of %v", key, set)
			}
		}
	})
}

// Published measurements of tape with the chips of the catalogue, in milliamperes at 5 V with all pixels at full level. What the
// catalogue gives must lie within its own spread of them.
func TestSpreadsOfTypicalTapesHoldMeasuredOnes(t *testing.T) {
	rows := reference.Rows(t, "strip_measurements.csv")
	all := each[parts.Tape](t, "tape")
	within := func(tape string, id string, low, high float64) {
		t.Helper()
		if got := reference.Number(t, row(t, rows, "id", id), "value"); got < low || got > high {
			t.Errorf("%s: measured %v, %s spreads from %.4g to %.4g", id, got, tape, low, high)
		}
	}
	for _, name := range []string{"tape/5v-rgb-60", "tape/5v-rgb-144", "tape/5v-rgb-30", "tape/5v-rgb-60-backup"} {
		tape := all[name]
		idle, red := tape.Idle.Set, tape.Channels["red"].Set
		for colour, channels := range map[string]float64{"white": 3, "yellow": 2, "red": 1, "green": 1, "blue": 1} { // a piece of 14 pixels
			for _, lit := range []float64{1, 5, 10, 14} {
				within(name, "ws2812b_"+colour+"_"+plain(lit), 1000*(14*float64(idle.Lower())+lit*channels*float64(red.Lower())), 1000*(14*float64(idle.Upper())+lit*channels*float64(red.Upper())))
			}
		}
		within(name, "ws2812b_fit", 1000*float64(red.Lower()), 1000*float64(red.Upper()))
	}
	for _, name := range []string{"tape/5v-rgb-96", "tape/5v-rgbw-144"} { // the RGBW tape, each colour alone
		for _, colour := range []string{"red", "green", "blue"} {
			set := all[name].Channels[colour].Set
			within(name, "sk6812_slope_"+colour, 1000*float64(set.Lower()), 1000*float64(set.Upper()))
		}
		idle := all[name].Idle.Set // of 300 pixels
		within(name, "sk6812_idle", 300e3*float64(idle.Lower()), 300e3*float64(idle.Upper()))
	}
	// 50 pixels of a 12 V tape, white, fed at one end: less than 1.5 A, an upper bound of a field report. No drop is counted here,
	// which would lower what the least of the tape takes.
	for _, name := range []string{"tape/12v-rgb-10x3", "tape/12v-rgb-string-5x3"} {
		least, _ := law(all[name].Idle).Current(12)
		for _, c := range all[name].Channels {
			low := law(c)
			low.Set = c.Set.Lower()
			amps, _ := low.Current(12)
			least += amps
		}
		if most := reference.Number(t, row(t, rows, "id", "ws2811_12v_5m"), "value"); 50*least > most {
			t.Errorf("50 pixels of %s take at least %.3g A, a field report has less than %v", name, 50*least, most)
		}
	}
	// 234 mV across 10 Ω with one pixel green and six idle, less 0.8 mA each: 18.6 mA, the highest that was measured.
	sense := row(t, rows, "id", "ws2812_green")
	for _, name := range []string{"tape/5v-rgb-30", "tape/5v-rgb-60-backup"} {
		if got := reference.Number(t, sense, "value")/10 - 6*0.8; got > 1000*float64(all[name].Channels["green"].Set.Upper()) {
			t.Errorf("%s: %v mA were measured (%s)", name, got, sense["source"])
		}
	}
}

// The measured tape is what was measured: set currents, idle, rail. Colours together add up to 5 % of what was measured of them
// together (the meter is within 2 %, and the tape sags a little), and white begins to fall where dimming was first seen.
func TestTheMeasuredTapeIsWhatWasMeasured(t *testing.T) {
	rows := reference.Rows(t, "strip_measurements.csv")
	tape := each[parts.Tape](t, "tape")["tape/5v-rgbw-60"]
	measured := func(id string) float64 { return reference.Number(t, row(t, rows, "id", id), "value") }
	sum := map[string]float64{}
	for key, id := range map[string]string{"red": "sk6812_slope_red", "green": "sk6812_slope_green", "blue": "sk6812_slope_blue", "white": "sk6812_slope_white_only"} {
		set := tape.Channels[key].Set
		if !same(1000*float64(set.Is), measured(id)) || set.Basis != parts.Measured {
			t.Errorf("%s is %v, %s; measured %v mA", key, set.Is, set.Basis, measured(id))
		}
		sum["sk6812_slope_RGBW"] += 1000 * float64(set.Is)
		if key != "white" {
			sum["sk6812_slope_RGB"] += 1000 * float64(set.Is)
		}
	}
	for id, got := range sum {
		if math.Abs(got/measured(id)-1) > 0.05 {
			t.Errorf("%s: %v mA together, measured %v", id, got, measured(id))
		}
	}
	if got := 300e3 * float64(tape.Idle.Set.Is); math.Abs(got/measured("sk6812_idle")-1) > 0.02 { // two figures
		t.Errorf("300 dark pixels take %v mA, measured %v", got, measured("sk6812_idle"))
	}
	if got := 2 * 1000 * float64(tape.Rail.Is) / float64(tape.Pixels.Is); !same(got, measured("sk6812_pitch_ohm")) {
		t.Errorf("a pitch has %v mΩ in both rails, measured %v", got, measured("sk6812_pitch_ohm"))
	}
	white := law(tape.Channels["white"])
	bright, _ := white.Current(measured("sk6812_dim"))
	dimmer, _ := white.Current(measured("sk6812_dim2"))
	if share := bright / float64(tape.Channels["white"].Set.Is); share < 0.8 || share > 0.99 || dimmer >= bright {
		t.Errorf("white is at %.2f of its current where dimming was first seen, and at %v after %v A below", share, dimmer, bright)
	}
}

// LED voltages of string bulbs measured at 20.1 mA: those of the nodes on strings, their knee less the sink's headroom of 0.5 V,
// agree within the 0.15 V that a forward voltage may be off.
func TestKneesOfStringsAgreeWithMeasuredBulbs(t *testing.T) {
	rows := reference.Rows(t, "strip_measurements.csv")
	for name, c := range map[string]struct {
		leds     float64
		channels []string
	}{"tape/5v-rgb-string-10": {1, []string{"red", "green", "blue"}}, "tape/12v-rgb-string-5x3": {3, []string{"green", "blue"}}} { // red of the latter has a resistor
		for _, key := range c.channels {
			bulb := reference.Number(t, row(t, rows, "id", "vf_"+key), "value")
			if got := (float64(each[parts.Tape](t, "tape")[name].Channels[key].Hi.Is) - 0.5) / c.leds; math.Abs(got-bulb) > 0.15 {
				t.Errorf("%s %s: %.2f V an LED, bulbs measured %v", name, key, got, bulb)
			}
		}
	}
}
