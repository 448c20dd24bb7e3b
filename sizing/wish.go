package sizing

import (
	"cmp"
	"fmt"
	"regexp"
	"strings"

	"farend/finding"
	"farend/parts"
	"farend/unit"
)

// Lights reads what people write where light is to go: "west handrail 4.8 m, east handrail 4.8 m". The label may be left out.
func Lights(text string) ([]Light, error) {
	var lights []Light
	if m := commaLength.FindString(text); m != "" {
		_, err := unit.Parse[unit.Metre](m)
		return nil, err
	}
	for _, piece := range strings.FieldsFunc(text, func(c rune) bool { return c == ',' || c == ';' || c == '\n' }) {
		fields := strings.Fields(piece)
		if len(fields) == 0 {
			continue
		}
		label, length, err := split(fields)
		if err != nil {
			return nil, err
		}
		if label == "" {
			label = fmt.Sprintf("light %d", len(lights)+1)
		}
		lights = append(lights, Light{label, length})
	}
	if len(lights) == 0 {
		return nil, &Cannot{"there is nothing to light", lightsHint}
	}
	return lights, nil
}

// commaLength is a length with a decimal comma.
var commaLength = regexp.MustCompile(`\b[0-9]+,[0-9]+ ?(?:mm|cm|m|km|in|ft)\b`)

const lightsHint = "say where light goes and how long it is, such as west handrail 4.8 m"

// split takes the length, in one word or two, from the end of the words.
func split(fields []string) (label string, length unit.Metre, err error) {
	for words := min(2, len(fields)); words > 0; words-- {
		rest := len(fields) - words
		if length, err = unit.Parse[unit.Metre](strings.Join(fields[rest:], " ")); err == nil {
			return strings.TrimRight(strings.Join(fields[:rest], " "), ": "), length, nil
		}
	}
	return "", 0, &Cannot{fmt.Sprintf("%q does not end in a length", strings.Join(fields, " ")), lightsHint}
}

// Tape is the tape that people mean: by its name, with or without tape/ before it, or by its voltage. A voltage stands for the
// tape of three colours with 60 pixels a metre if the library has one, else for the first of that voltage.
func Tape(library *parts.Library, text string) (string, error) {
	text = strings.TrimSpace(text)
	for _, name := range []string{text, "tape/" + text} {
		if _, ok := parts.Get[parts.Tape](library, name); ok {
			return name, nil
		}
	}
	volts, err := unit.Parse[unit.Volt](text)
	if bare, wrong := unit.Parse[unit.Volt](text + " V"); err != nil && wrong == nil {
		return "", &Cannot{fmt.Sprintf("%q has no unit", text), fmt.Sprintf("write %v, or the name of a tape; farend parts tape lists them", bare.Dimension().Format(float64(bare), 2))}
	}
	if err != nil {
		if fit := fitting(library, text); len(fit) == 1 {
			return fit[0], nil
		} else if len(fit) > 1 {
			return "", &Cannot{fmt.Sprintf("%d tapes are %q", len(fit), text), "write the name of one: " + strings.Join(fit, ", ")}
		}
		return "", &Cannot{fmt.Sprintf("there is no tape %q", text), hintOr(finding.DidYouMean("tape/"+strings.TrimPrefix(text, "tape/"), library.Names("tape")), "write a voltage such as 5 V, or a name; farend parts tape lists them")}
	}
	best, plain := "", ""
	for _, name := range library.Names("tape") {
		tape, ok := parts.Get[parts.Tape](library, name)
		if !ok || tape.Volts.Is != volts {
			continue
		}
		best = cmp.Or(best, name)
		if protocol, known := parts.Get[parts.Protocol](library, tape.Protocol); len(tape.Channels) != 3 || !known || protocol.Backup {
			continue
		}
		plain = cmp.Or(plain, name)
		if tape.Pixels.Is == 60 {
			return name, nil
		}
	}
	if best == "" {
		return "", &Cannot{fmt.Sprintf("the catalogue has no tape for %v", volts), "farend parts tape lists those it has"}
	}
	return cmp.Or(plain, best), nil
}

// fitting is the tapes that a search for a text finds: by the numbers of their chips, by words and by quantities.
func fitting(library *parts.Library, text string) []string {
	q, err := parts.NewQuery([]string{"tape", text})
	if err != nil || text == "" {
		return nil
	}
	var names []string
	for _, m := range library.Search(q) {
		names = append(names, m.Name)
	}
	return names
}

// OfVoltage is how many tapes of the library have the voltage of a text, 0 where the text is no voltage.
func OfVoltage(library *parts.Library, text string) int {
	volts, err := unit.Parse[unit.Volt](text)
	if err != nil {
		return 0
	}
	n := 0
	for _, name := range library.Names("tape") {
		if tape, ok := parts.Get[parts.Tape](library, name); ok && tape.Volts.Is == volts {
			n++
		}
	}
	return n
}
