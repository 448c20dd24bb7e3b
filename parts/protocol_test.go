package parts_test

import (
	"cmp"
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

// chipsOf says which rows of protocols.csv stand behind each protocol.
var chipsOf = map[string][]string{
	"protocol/single-wire-800k-24":                     {"ws2812b_v5"},
	"protocol/single-wire-800k-24-50us":                {"ws2812b_2013"},
	"protocol/single-wire-800k-24-300us":               {"ws2812b_2023_16mA"},
	"protocol/single-wire-800k-24-short-low":           {"ws2812_2020"},
	"protocol/single-wire-800k-24-backup":              {"ws2813", "ws2813_mini", "ws2815b"},
	"protocol/single-wire-800k-24-80us":                {"sk6812_rgb"},
	"protocol/single-wire-800k-24-80us-whites":         {"sk6812_rgb"},
	"protocol/single-wire-800k-24-80us-long-one":       {"lc8812b"},
	"protocol/single-wire-800k-24-80us-open-low":       {"sk6812_ec20"},
	"protocol/single-wire-833k-24-rgb":                 {"apa104"},
	"protocol/single-wire-800k-24-rgb":                 {"ws2811_800k"},
	"protocol/single-wire-400k-24-rgb":                 {"ws2811_400k"},
	"protocol/single-wire-800k-24-rgb-long-one":        {"ucs1903"},
	"protocol/single-wire-800k-24-whites":              {"ucs1903"},
	"protocol/single-wire-800k-24-rgb-backup":          {"ws2818"},
	"protocol/single-wire-800k-24-rgb-backup-300us":    {"gs8208"},
	"protocol/single-wire-800k-24-rgb-backup-preamble": {"tm1914"},
	"protocol/single-wire-1087k-24-rgb":                {"tm1809_hs"},
	"protocol/single-wire-800k-32":                     {"sk6812_rgbw"},
	"protocol/single-wire-800k-32-280us":               {"ws2814_rgbw"},
	"protocol/single-wire-800k-32-inverted":            {"tm1814"},
	"protocol/single-wire-800k-40-backup":              {"ws2805_rgbcct"},
	"protocol/single-wire-800k-48":                     {"single16_rgb"},
	"protocol/single-wire-800k-64":                     {"single16_rgbw"},
	"protocol/single-wire-800k-80":                     {"single16_rgbcct"},
	"protocol/single-wire-1250k-36-rgb":                {"lpd1886_36"},
	"protocol/clocked-24":                              {"ws2801"},
	"protocol/clocked-24-marked":                       {"lpd8806"},
	"protocol/clocked-32":                              {"apa102"},
	"protocol/clocked-32-latched":                      {"sk9822"},
	"protocol/clocked-32-checked":                      {"p9813"},
}

// whites are protocols of a row's chip whose outputs carry other colours than the row says.
var whites = map[string]string{"protocol/single-wire-800k-24-80us-whites": "CWA", "protocol/single-wire-800k-24-whites": "WC"}

// rowsOf calls check with every protocol and each of its rows, and sees to it that none of either is left out.
func rowsOf(t *testing.T, check func(t *testing.T, name string, p *parts.Protocol, r map[string]string)) {
	t.Helper()
	rows, seen := reference.Rows(t, "protocols.csv"), map[string]bool{}
	for name, p := range each[parts.Protocol](t, "protocol") {
		if chipsOf[name] == nil {
			t.Errorf("%s stands on no row", name)
		}
		for _, id := range chipsOf[name] {
			seen[id] = true
			t.Run(name+" "+id, func(t *testing.T) { check(t, name, p, row(t, rows, "id", id)) })
		}
	}
	for _, r := range rows {
		if !seen[r["id"]] {
			t.Errorf("the row %s has no protocol", r["id"])
		}
	}
}

func TestBitsOfEveryProtocolAreThoseOfItsRow(t *testing.T) {
	rowsOf(t, func(t *testing.T, name string, p *parts.Protocol, r map[string]string) {
		want := map[string]int{"bits_per_pixel": p.Bits, "bits_per_channel": p.Depth, "channels": len(p.Channels()), "start_frame_bits": p.Start}
		if whites[name] != "" {
			delete(want, "channels")
		}
		for column, got := range want {
			if number := reference.Number(t, r, column); float64(got) != number {
				t.Errorf("%s is %d, want %v", column, got, number)
			}
		}
		if got, want := p.Bits-p.Depth*len(p.Channels()), p.Overhead; got != want {
			t.Errorf("%d bits are no colour, overhead is %d", got, want)
		}
		if clocked := strings.HasPrefix(r["family"], "two-wire"); p.Clocked != clocked || strings.Contains(name, "clocked") != clocked {
			t.Errorf("clocked %v, it is %s", p.Clocked, r["family"])
		}
		if p.Inverted != strings.Contains(r["reset_note"], "inverted") {
			t.Errorf("inverted %v, the row says %s", p.Inverted, r["reset_note"])
		}
	})
}

// Of a pixel with two whites the letters are ours; tables call them W1 and W2, and amber Y.
func TestOrderOfEveryProtocolIsThatOfItsRow(t *testing.T) {
	rowsOf(t, func(t *testing.T, name string, p *parts.Protocol, r map[string]string) {
		if want := whites[name]; want != "" {
			if p.Order != want || p.Basis != parts.Memory {
				t.Errorf("order %s, %s; want %s from memory", p.Order, p.Basis, want)
			}
			return
		}
		wire := strings.NewReplacer("W1", "W", "W2", "C", ",", "", "Y", "A").Replace(r["wire_colour_order"])
		if !strings.Contains(wire, p.Order) {
			t.Errorf("order %s, the row says %s", p.Order, r["wire_colour_order"])
		}
		if strings.Contains(r["wire_colour_order"], p.Order+" (memory)") && p.Basis != parts.Memory && len(chipsOf[name]) == 1 && !strings.Contains(p.Source, "from memory") {
			t.Errorf("an order from memory is called %s, and the source does not say so", p.Basis)
		}
	})
}

// A cell and the value it stands for: the same, or both missing.
func agree(t *testing.T, what, cell string, got float64, given bool) {
	t.Helper()
	switch want, err := strconv.ParseFloat(cell, 64); {
	case cell == "" && given:
		t.Errorf("%s is %v, and the row has none", what, got)
	case cell != "" && (err != nil || !given || !same(got, want)):
		t.Errorf("%s is %v (given: %v), want %s", what, got, given, cell)
	}
}

func nanoseconds(v parts.Value[unit.Second]) float64 { return float64(v.Is) * 1e9 }

func TestPulsesOfEveryProtocolAreThoseOfItsRow(t *testing.T) {
	compared := 0
	rowsOf(t, func(t *testing.T, name string, p *parts.Protocol, r map[string]string) {
		windows := map[string]parts.Window{"T0H": p.Zero.High, "T0L": p.Zero.Low, "T1H": p.One.High, "T1L": p.One.Low}
		if p.Inverted { // the row has the lengths of pulses under H, and says that they are inverted
			windows = map[string]parts.Window{"T0H": p.Zero.Low, "T0L": p.Zero.High, "T1H": p.One.Low, "T1L": p.One.High}
		}
		for column, w := range windows {
			for suffix, v := range map[string]parts.Value[unit.Second]{"nom": w.Is, "min": w.Min, "max": w.Max} {
				cell := r[column+"_"+suffix+"_ns"]
				agree(t, column+" "+suffix, cell, nanoseconds(v), v.Given)
				if cell != "" {
					compared++
				}
				if v.Given && strings.HasPrefix(r["status"], "memory") && v.Basis != parts.Memory {
					t.Errorf("%s %s from memory is called %s", column, suffix, v.Basis)
				}
			}
		}
		if p.Clocked {
			return // its bits are as long as its clock says
		}
		agree(t, "period", r["bit_period_ns_nom"], nanoseconds(p.Period), p.Period.Given)
		agree(t, "longest period", r["bit_period_ns_max"], nanoseconds(p.PeriodMax), p.PeriodMax.Given)
		if name == "protocol/single-wire-800k-24" { // the row's is the least sum of a zero, says its note; a one takes longer
			if want := nanoseconds(p.One.High.Min) + nanoseconds(p.One.Low.Min); !strings.Contains(r["reset_note"], ">=1160") || !same(nanoseconds(p.PeriodMin), want) || !same(want, 1160) {
				t.Errorf("shortest period is %v, the least of a one %v, the row says %s", p.PeriodMin.Is, want, r["reset_note"])
			}
			return
		}
		agree(t, "shortest period", r["bit_period_ns_min"], nanoseconds(p.PeriodMin), p.PeriodMin.Given)
	})
	if compared < 200 {
		t.Errorf("only %d times were compared", compared)
	}
}

// The latch is that of the row, or a longer one of which the row's note speaks.
func TestLatchOfEveryProtocolIsTheLongestOfItsRows(t *testing.T) {
	rowsOf(t, func(t *testing.T, name string, p *parts.Protocol, r map[string]string) {
		got, want := math.Round(float64(p.Latch.Is)*1e6), reference.Number(t, r, "reset_min_us")
		noted := strings.Contains(r["reset_note"], plain(got)+" us") || r["id"] == "ws2811_800k" || r["id"] == "ws2813_mini" // sisters of rows with a note
		if got < want || got > want && !noted {
			t.Errorf("%v us, the row says %v (%s)", got, want, r["reset_note"])
		}
		if got > want && p.Latch.Basis == parts.Datasheet && name != "protocol/single-wire-800k-24-backup" {
			t.Errorf("%v us is called datasheet, the row says %v", got, want)
		}
	})
}

// figure is the first number that stands alone in a cell, such as 2000 of ">=2000" and 4000 of "UCS8903 ~4000; WS2816 10000".
var figure = regexp.MustCompile(`(?:^|[>=<~ ])([0-9.]+)`)

func first(t *testing.T, cell string) float64 {
	t.Helper()
	m := figure.FindStringSubmatch(cell)
	if m == nil {
		t.Fatalf("no number in %q", cell)
	}
	return value(m[1])
}

func TestInputsOfEveryProtocolAreThoseOfItsRow(t *testing.T) {
	rows := reference.Rows(t, "protocols.csv")
	rowsOf(t, func(t *testing.T, name string, p *parts.Protocol, r map[string]string) {
		if p.Backup != strings.HasPrefix(r["backup_data_line"], "yes") {
			t.Errorf("backup %v, the row says %s", p.Backup, r["backup_data_line"])
		}
		agree(t, "input", r["input_cap_pF_max"], float64(p.Capacitance.Is)*1e12, p.Capacitance.Given)
		if r["pwm_refresh_Hz"] != "" && !same(float64(p.Refresh.Is), first(t, r["pwm_refresh_Hz"])) {
			t.Errorf("refresh %v, the row says %s", p.Refresh.Is, r["pwm_refresh_Hz"])
		}
		if r["pwm_refresh_Hz"] == "" && p.Refresh.Given && len(chipsOf[name]) == 1 {
			t.Errorf("refresh %v, the row has none", p.Refresh.Is)
		}
		delay := r["prop_delay_per_pixel_ns_max"]
		if half := strings.HasPrefix(delay, "half a clock"); half != (p.DelayClocks == 0.5) || !half && p.DelayClocks != 0 {
			t.Errorf("delay of %v clocks, the row says %s", p.DelayClocks, delay)
		} else if !half {
			number, _, _ := strings.Cut(cmp.Or(delay, r["prop_delay_measured_ns"]), " ") // of one chip the typical one is printed
			agree(t, "delay", number, nanoseconds(p.Delay), p.Delay.Given)
		}
	})
	for name, p := range each[parts.Protocol](t, "protocol") {
		least := math.Inf(1) // the shortest reach of the rows
		for _, id := range chipsOf[name] {
			if cell := row(t, rows, "id", id)["max_pixel_to_pixel_m"]; cell != "" {
				least = min(least, first(t, cell))
			}
		}
		if p.Reach.Given != !math.IsInf(least, 1) || p.Reach.Given && float64(p.Reach.Is) != least {
			t.Errorf("%s reaches %v (given: %v), its rows %v m", name, p.Reach.Is, p.Reach.Given, least)
		}
	}
}

// The highest clock is no higher than any figure of the row: the limit it prints, the one tested, the shortest period.
func TestClocksOfEveryProtocolAreThoseOfItsRow(t *testing.T) {
	tested := regexp.MustCompile(`([0-9]+) MHz tested`)
	clocked := 0
	rowsOf(t, func(t *testing.T, name string, p *parts.Protocol, r map[string]string) {
		if !p.Clocked {
			return
		}
		clocked++
		var want float64
		if m := tested.FindStringSubmatch(r["clock_max_MHz"]); m != nil {
			want = value(m[1])
		} else {
			want = min(reference.Number(t, r, "clock_max_MHz"), 1e3/reference.Number(t, r, "bit_period_ns_min"))
		}
		if got := float64(p.ClockMax.Is) / 1e6; math.Abs(got-want) > 0.006*want { // two figures of a period are printed
			t.Errorf("clock of %v MHz, want %v", got, want)
		}
		if memory := strings.Contains(r["status"], "clock"); memory != (p.ClockMax.Basis == parts.Memory) {
			t.Errorf("a clock limit is called %s; the row says %s", p.ClockMax.Basis, r["status"])
		}
	})
	if clocked != 5 {
		t.Errorf("%d clocked protocols", clocked)
	}
}

// What follows the last pixel, as the column end_frame_rule has it, for chains of 1 to 1,024 pixels.
func TestTailOfEveryProtocolIsThatOfItsRow(t *testing.T) {
	ceil := func(n, every int) int { return int(math.Ceil(float64(n) / float64(every))) }
	rules := []struct {
		says string
		bits func(n int) int
	}{
		{"bits=max(32, 8*ceil(n/16))", func(n int) int { return max(32, 8*ceil(n, 16)) }},
		{"32 zero bits (latch) + >= n/2 zero bits", func(n int) int { return 32 + 8*ceil(n, 16) }},
		{"8*ceil(n/32) zero bits", func(n int) int { return 8 * ceil(n, 32) }},
		{"32 setting bits then low", func(int) int { return 32 }},
		{"32 zero bits", func(int) int { return 32 }},
		{"low >= reset", func(int) int { return 0 }},
		{"high >= reset", func(int) int { return 0 }},
		{"clock idle low >= 500 us", func(int) int { return 0 }},
		{"memory", func(int) int { return 0 }},
	}
	rowsOf(t, func(t *testing.T, name string, p *parts.Protocol, r map[string]string) {
		i := slices.IndexFunc(rules, func(rule struct {
			says string
			bits func(n int) int
		}) bool {
			return strings.Contains(r["end_frame_rule"], rule.says)
		})
		if i < 0 {
			t.Fatalf("no rule for %q", r["end_frame_rule"])
		}
		for n := 1; n <= 1024; n++ {
			if got, want := p.FrameBits(n), p.Start+p.Bits*n+rules[i].bits(n); got != want {
				t.Fatalf("%d pixels take %d bits, want %d (%s)", n, got, want, rules[i].says)
			}
		}
		if p.FrameBits(-1) != p.FrameBits(0) {
			t.Error("fewer pixels than none")
		}
	})
}

// Published frame times: bits of a frame × period + latch on a single wire, bits alone where there is a clock.
func TestFramesAgreeWithTheirTable(t *testing.T) {
	single := map[string]string{
		"RGB 24-bit 800k, reset 50 us (old WS2812B/WS2811)":      "24-50us",
		"RGB 24-bit 800k, reset 280 us (V5/2020/WS2813/WS2815B)": "24",
		"RGB 24-bit 800k, reset 300 us (2023 WS2812B, WS2815)":   "24-300us",
		"RGB 24-bit, 1.20 us bit, reset 80 us (SK6812 floor)":    "24-80us-open-low",
		"RGBW 32-bit, 1.25 us, reset 80 us (SK6812RGBW)":         "32",
		"RGBW 32-bit, 1.25 us, reset 280 us (WS2814)":            "32-280us",
		"RGB+CCT 40-bit, 1.25 us, reset 280 us (WS2805)":         "40-backup",
		"RGB 24-bit 400k, reset 280 us":                          "400k-24-rgb",
		"16-bit RGB 48-bit, 1.25 us, reset 280 us":               "48",
		"TM1809-class fast RGB, 0.92 us, reset 24 us":            "1087k-24-rgb",
	}
	clocked := map[string]string{"APA102 end=max(32,8*ceil(n/16))": "protocol/clocked-32", "SK9822 end=32+8*ceil(n/16)": "protocol/clocked-32-latched"}
	all, compared := each[parts.Protocol](t, "protocol"), 0
	for _, r := range reference.Rows(t, "timing_checks.csv") {
		pixels := int(reference.Number(t, r, "pixels"))
		if name, ok := clocked[r["case"]]; ok {
			compared++
			if got := all[name].FrameBits(pixels); float64(got) != reference.Number(t, r, "total_bits_clocked") {
				t.Errorf("%s: %d pixels take %d bits, want %s", name, pixels, got, r["total_bits_clocked"])
			}
			continue
		}
		name, ok := single[r["case"]]
		if !ok {
			continue // a latch that no chip's sheet prints with these bits
		}
		compared++
		p := cmp.Or(all["protocol/single-wire-"+name], all["protocol/single-wire-800k-"+name])
		period := p.Period.Is
		if name == "24-80us-open-low" { // the row is its shortest period
			period = p.PeriodMin.Is
		}
		if got := (float64(p.FrameBits(pixels))*float64(period) + float64(p.Latch.Is)) * 1e6; math.Abs(got-reference.Number(t, r, "frame_us")) > 0.001 {
			t.Errorf("%s: %d pixels take %v us, want %s", name, pixels, got, r["frame_us"])
		}
	}
	if compared != 60+72 {
		t.Errorf("%d rows were compared", compared)
	}
}

// What a row has from memory, in part or in whole, is from memory here, and what it has at second hand is no datasheet.
func TestProtocolsAreAsWellKnownAsTheirRows(t *testing.T) {
	rowsOf(t, func(t *testing.T, name string, p *parts.Protocol, r map[string]string) {
		count := map[string]int{}
		for _, f := range parts.Facts(p) {
			count[f.Basis]++
		}
		switch status := r["status"]; {
		case status == "memory" && (count["datasheet"] > 0 || count["handbook"] > 0):
			t.Errorf("all of it is from memory, and it says %v", count)
		case strings.Contains(status, "partial") && count["memory"] == 0:
			t.Errorf("part of it is from memory, and it says %v", count)
		case strings.Contains(status, "secondary") && p.Basis == parts.Datasheet:
			t.Error("a secondary source is called datasheet")
		}
	})
}

// What chips show without data is said of few: rows and sheets say it of three, and what people see of the WS2812 generation is practice.
func TestWhatPixelsShowWithoutDataIsWhatWasRead(t *testing.T) {
	want := map[string]parts.WithoutData{
		"protocol/single-wire-800k-24-rgb-backup-300us": {Wakes: parts.WakesPattern, Stops: parts.StopsPattern},
		"protocol/single-wire-800k-64":                  {Wakes: parts.WakesLit},
		"protocol/single-wire-800k-80":                  {Wakes: parts.WakesDark},
	}
	for name, p := range each[parts.Protocol](t, "protocol") {
		got := p.WithoutData
		if got.Stops == parts.StopsHolding && got.Wakes == "" {
			if got.Basis != parts.Practice || !strings.Contains(got.Source, "WS2812 generation") || !strings.Contains(p.Source, "WS28") {
				t.Errorf("%s: that it holds the last frame rests on %s, %s", name, got.Basis, got.Source)
			}
			continue
		}
		if got.Wakes != want[name].Wakes || got.Stops != want[name].Stops || got != (parts.WithoutData{}) && (got.Basis == "" || got.Source == "") {
			t.Errorf("%s shows %+v without data, want %+v", name, got, want[name])
		}
	}
	for _, c := range []struct{ file, column, id, words string }{
		{"protocols.csv", "reset_note", "gs8208", "shows built-in pattern when no data"},
		{"chips.csv", "i_set_note", "ucs8904", "blue lights at power-up"},
		{"chips.csv", "i_set_note", "sm16825e", "outputs off at power-on"},
	} {
		if r := row(t, reference.Rows(t, c.file), "id", c.id); !strings.Contains(r[c.column], c.words) {
			t.Errorf("the row %s of %s no longer says %q", c.id, c.file, c.words)
		}
	}
}
