package parts

import "strings"

// tradeWords is what people of the trade type for a kind, in the singular.
var tradeWords = map[string]string{"strip": "tape", "psu": "supply", "wire": "cable", "controller": "board"}

// tradeUnits is what they type for a unit, in small letters.
var tradeUnits = map[string]string{"v": "V", "volt": "V", "volts": "V", "a": "A", "amp": "A", "amps": "A", "w": "W", "watt": "W", "watts": "W",
	"sqmm": "mm²", "led/m": "/m", "leds/m": "/m", "pixel/m": "/m", "pixels/m": "/m"}

// tradePairs is what they say in two words.
var tradePairs = map[string]string{"power supply": "supply", "power supplies": "supply", "led strip": "tape", "led strips": "tape", "led tape": "tape", "sq mm": "mm²"}

// translated is words of the trade in those of the catalogue: units behind a number, with a blank or without, and pairs of words.
func translated(fields []string) []string {
	var out []string
	for i := 0; i < len(fields); i++ {
		if i+1 < len(fields) {
			if one, ok := tradePairs[strings.ToLower(fields[i]+" "+fields[i+1])]; ok {
				out = append(out, one)
				i++
				continue
			}
		}
		number, name := fields[i], ""
		if at := strings.LastIndexAny(fields[i], "0123456789"); at >= 0 {
			number, name = fields[i][:at+1], fields[i][at+1:]
		} else if i > 0 && endsInDigit(fields[i-1]) {
			number, name = "", fields[i]
		}
		if symbol, ok := tradeUnits[strings.ToLower(name)]; ok && (number == "" || numeric(number)) {
			out = append(out, number+symbol)
			continue
		}
		out = append(out, fields[i])
	}
	return out
}

func endsInDigit(field string) bool { return field != "" && digit(field[len(field)-1]) }

// numeric reports whether a field is a number, with a sign of a limit before it or without.
func numeric(field string) bool {
	_, rest, _ := cutSign(field)
	return rest != "" && strings.Trim(rest, "+-−.,0123456789") == ""
}
