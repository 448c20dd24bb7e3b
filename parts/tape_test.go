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
)

// laws says which rows of the fitted channel laws and of the datasheets stand behind each tape.
var laws = map[string]struct{ law, chip string }{
	"tape/5v-rgb-60":          {"D5_12mA", "ws2812b_v5"},
	"tape/5v-rgbw-60":         {"sk6812rgbw_measured", "sk6812rgbw"},
	"tape/12v-rgb-60-per-led": {"D12_WS2815B", "ws2815b"},
	"tape/12v-rgb-10x3":       {"D12_WS2811", "ws2811_12v"},
}

// A source states the error of its fit at the rows of the model and, where it is larger, between them.
var fitError, between = regexp.MustCompile(`fit \(([0-9.]+) % of set(?: at the rows of the model, ([0-9.]+) % between them)?\)`), regexp.MustCompile(`dense-grid max ([0-9.]+) %`)

func TestChannelsOfEveryTapeAreTheFittedLaws(t *testing.T) {
	rows := reference.Rows(t, "channel_laws.csv")
	for name, tape := range each[parts.Tape](t, "tape") {
		of := reference.Where(t, rows, "part", laws[name].law)
		channels := map[string]parts.Channel{"idle": tape.Idle}
		for key, c := range tape.Channels {
			channels[key] = c
		}
		for key, c := range channels {
			spelling := key
			if laws[name].law == "D12_WS2811" && key == "red" {
				spelling = "red (regulated form)"
			}
			r := row(t, of, "channel", spelling)
			for what, pair := range map[string][2]float64{
				"set_mA": {float64(c.Set.Is) * 1000, 0}, "lo_V": {float64(c.Lo.Is), 0}, "hi_V": {float64(c.Hi.Is), 0}, "soft_V": {float64(c.Soft.Is), 0}, "string_ohm": {float64(c.String.Is), 0},
			} {
				if r[what] != "" {
					pair[1] = reference.Number(t, r, what)
				}
				if !same(pair[0], pair[1]) {
					t.Errorf("%s %s: %s is %v, want %v", name, key, what, pair[0], pair[1])
				}
			}
			if key != "idle" {
				fit(t, name+" "+key, c.Source, r)
			}
			if c.Lo.Basis != parts.Derived && c.Lo.Basis != parts.Memory {
				t.Errorf("%s %s: a fitted knee is called %s", name, key, c.Lo.Basis)
			}
		}
	}
}

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

func TestTapesKeepToTheDatasheetsOfTheirChips(t *testing.T) {
	rows := reference.Rows(t, "chips.csv")
	for name, tape := range each[parts.Tape](t, "tape") {
		r := row(t, rows, "id", laws[name].chip)
		if r["supply_min_V"] != "" && (float64(tape.VoltsMin.Is) != reference.Number(t, r, "supply_min_V") || float64(tape.VoltsMax.Is) != reference.Number(t, r, "supply_max_V")) {
			t.Errorf("%s works from %v to %v, its chip from %s to %s V", name, tape.VoltsMin.Is, tape.VoltsMax.Is, r["supply_min_V"], r["supply_max_V"])
		}
		if r["supply_min_V"] == "" && (tape.VoltsMin.Basis == parts.Datasheet || tape.VoltsMax.Basis == parts.Datasheet) {
			t.Errorf("%s: no range is printed, and it is called datasheet", name)
		}
		if len(tape.Channels) != len(r["channels"]) { // RGB or RGBW
			t.Errorf("%s has %d channels, its chip %s", name, len(tape.Channels), r["channels"])
		}
		for key, letter := range map[string]string{"red": "r", "green": "g", "blue": "b"} {
			low, typical, high := r["iv_"+letter+"_mcd_min"], r["iv_"+letter+"_mcd_typ"], r["iv_"+letter+"_mcd_max"]
			if low == "" {
				continue
			}
			want := (reference.Number(t, r, "iv_"+letter+"_mcd_min") + reference.Number(t, r, "iv_"+letter+"_mcd_max")) / 2
			if typical != "" {
				want = reference.Number(t, r, "iv_"+letter+"_mcd_typ")
			}
			if got := float64(tape.Channels[key].Candela.Is) * 1000; !same(got, want) {
				t.Errorf("%s %s gives %v mcd, want %v (%s, %s, %s)", name, key, got, want, low, typical, high)
			}
		}
	}
}

// The RGBW tape: lumen bins of the datasheet at 13 mA (red and blue 1 to 2 lm, green 3 to 5, white 5 to 7), a Lambertian
// emitter of Φ lumen having Φ/π candela on its axis, scaled to the measured current.
func TestIntensityOfTheMeasuredTapeFollowsFromItsLumens(t *testing.T) {
	tape := each[parts.Tape](t, "tape")["tape/5v-rgbw-60"]
	for key, lumen := range map[string]float64{"red": 1.5, "green": 4, "blue": 1.5, "white": 6} {
		c := tape.Channels[key]
		want := lumen / math.Pi * float64(c.Set.Is) / 13e-3
		if math.Abs(float64(c.Candela.Is)-want) > 2e-3*want { // three figures are printed
			t.Errorf("%s gives %v, want %v cd", key, c.Candela.Is, want)
		}
	}
}

// Chromaticities from dominant wavelength and excitation purity, (x, y) = D65 + p·(locus − D65), with the CIE 1931 locus of
// the table between whose rows (5 nm) a straight line is taken. The purities are from memory.
func TestChromaticitiesFollowFromTheDominantWavelengths(t *testing.T) {
	const figures = 6e-4 // three decimals are printed
	rows := reference.Rows(t, "cie1931_locus.csv")
	purity := map[string]float64{"red": 1.0, "green": 0.80, "blue": 0.97}
	chips := reference.Rows(t, "chips.csv")
	for name, tape := range each[parts.Tape](t, "tape") {
		chip := laws[name].chip
		if chip == "ws2811_12v" {
			chip = "ws2812b_v5" // LEDs of no named sheet
		}
		sheet := row(t, chips, "id", chip)
		for key, p := range purity {
			at := wavelength(t, sheet["wl_"+key[:1]+"_nm"])
			x, y := locus(t, rows, at)
			x, y = 0.3127+p*(x-0.3127), 0.3290+p*(y-0.3290) // D65: CIE 15
			if c := tape.Channels[key]; math.Abs(c.X-x) > figures || math.Abs(c.Y-y) > figures {
				t.Errorf("%s %s is (%v, %v), want (%.4f, %.4f) from %v nm", name, key, c.X, c.Y, x, y, at)
			}
		}
		if white, ok := tape.Channels["white"]; ok && (white.X != 0.3813 || white.Y != 0.3797) { // ANSI C78.377, nominal 4000 K
			t.Errorf("%s white is (%v, %v)", name, white.X, white.Y)
		}
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

// Rails: the copper formula of the table, or the measured tape; the current limit is IPC-2221 for the same copper.
func TestRailsAgreeWithTheirCopper(t *testing.T) {
	rows := reference.Rows(t, "strip_copper.csv")
	for name, c := range map[string]struct{ rail, amps string }{
		"tape/5v-rgbw-60":   {"meas_sk6812_60", "w8_1oz"},
		"tape/12v-rgb-10x3": {"w10_1oz", "w10_1oz"},
	} {
		tape := each[parts.Tape](t, "tape")[name]
		if want := reference.Number(t, row(t, rows, "id", c.rail), "R_rail_mohm_per_m_20C"); !same(float64(tape.Rail.Is)*1000, want) {
			t.Errorf("%s has %v, want %v mΩ/m", name, tape.Rail.Is, want)
		}
	}
	// The typical tape lies within the copper of its width and the measured tapes: 97 to 186 mΩ/m.
	for _, name := range []string{"tape/5v-rgb-60", "tape/12v-rgb-60-per-led"} {
		rail := each[parts.Tape](t, "tape")[name].Rail
		copper := reference.Number(t, row(t, rows, "id", "w10_2oz"), "R_rail_mohm_per_m_20C") / 1000
		measured := reference.Number(t, row(t, rows, "id", "meas_sk6812_60"), "R_rail_mohm_per_m_20C") / 1000
		if float64(rail.Lower()) > copper || float64(rail.Upper()) < measured || rail.Basis != parts.Derived {
			t.Errorf("%s: the spread %v to %v leaves out %v or %v Ω/m", name, rail.Lower(), rail.Upper(), copper, measured)
		}
	}
}

// IPC-2221 external fit, I = 0.048·ΔT^0.44·A^0.725 with A in square mils, times 0.7 (strip_copper.csv).
func TestRailCurrentsFollowTheBoardFormula(t *testing.T) {
	const mil = 25.4e-6
	for name, c := range map[string]struct{ width, thick float64 }{
		"tape/5v-rgb-60": {3.5e-3, 69.6e-6}, "tape/12v-rgb-60-per-led": {3.5e-3, 69.6e-6}, "tape/12v-rgb-10x3": {3.5e-3, 34.8e-6}, "tape/5v-rgbw-60": {2.5e-3, 34.8e-6},
	} {
		want := 0.7 * 0.048 * math.Pow(10, 0.44) * math.Pow(c.width*c.thick/mil/mil, 0.725)
		if got := float64(each[parts.Tape](t, "tape")[name].RailAmps.Is); math.Abs(got-want) > 0.015*want { // two figures are printed
			t.Errorf("%s may carry %v A, want %v A", name, got, want)
		}
	}
}

func TestTapesSpeakTheProtocolOfTheirChips(t *testing.T) {
	want := map[string]string{"tape/5v-rgb-60": "24", "tape/5v-rgbw-60": "32", "tape/12v-rgb-60-per-led": "24", "tape/12v-rgb-10x3": "24-rgb"}
	for name, tape := range each[parts.Tape](t, "tape") {
		p, ok := parts.Get[parts.Protocol](parts.Catalogue(), tape.Protocol)
		if !ok || tape.Protocol != "protocol/single-wire-800k-"+want[name] || p.Bits != 8*len(tape.Channels) {
			t.Errorf("%s speaks %s", name, tape.Protocol)
		}
	}
}

// Thresholds at 5 V, as protocols.csv quotes them: 2.7 and 0.7 V, 3.4 and 1.6 V, and 0.7 and 0.3 of the supply.
// A 5 V chip lives on its rail, so that its upper limit sinks with it; a 12 V chip has 5 V of its own inside.
func TestInputLevelsAreThoseOfTheDatasheets(t *testing.T) {
	rows := reference.Rows(t, "protocols.csv")
	for name, c := range map[string]struct{ chip, high, low string }{
		"tape/5v-rgb-60": {"ws2812b_v5", "2.7 V", "0.7 V"}, "tape/5v-rgbw-60": {"sk6812_rgbw", "3.4 V", "1.6 V"},
		"tape/12v-rgb-60-per-led": {"ws2815b", "0.7*VCC", "0.3*VCC"}, "tape/12v-rgb-10x3": {"ws2811_800k", "0.7*VDD", "0.3*VDD"},
	} {
		r := row(t, rows, "id", c.chip)
		if !strings.HasPrefix(r["VIH_min"], c.high) || !strings.HasPrefix(r["VIL_max"], c.low) {
			t.Fatalf("%s prints %s and %s", c.chip, r["VIH_min"], r["VIL_max"])
		}
		tape := each[parts.Tape](t, "tape")[name]
		logic, own := tape.Logic, "rail"
		if tape.Volts.Is > 5 {
			own = "5 V"
		}
		high, low := []string{c.high}, []string{c.low}
		if strings.HasPrefix(c.high, "0.7*") {
			high, low = []string{"70 %", "3.5 V"}, []string{"30 %", "1.5 V"} // of 5 V
		}
		if logic.Supply != own || !slices.Contains(high, logic.High) || !slices.Contains(low, logic.Low) {
			t.Errorf("%s: %s, %s at %s; want %v and %v at %s", name, logic.High, logic.Low, logic.Supply, high, low, own)
		}
	}
}
