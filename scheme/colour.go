package scheme

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"farend/finding"
	"farend/internal/document"
	"farend/parts"
	"farend/unit"
)

// A Colour is what the control system sends, before level and cap: a word, or a byte for each of red, green and blue.
type Colour struct {
	Word             string // white, all, dark, the name of one channel, or "#rrggbb" in small letters
	Red, Green, Blue byte   // where Hex
	Hex              bool
}

func (c Colour) String() string { return c.Word }

// White is the colour of a state that names none.
func White() Colour { return Colour{Word: "white"} }

func colourWords() []string {
	return []string{"white", "all", "dark", "red", "green", "blue", "warm", "cold", "amber"}
}

// ReadNode reads a colour, and explains the trap that "#" begins a comment where it is not in quotes.
func (c *Colour) ReadNode(r *document.Reader, n document.Node) {
	if n.IsScalar() && n.Text() == "" {
		r.Mistake(n, "a colour is missing here", "write a word such as white, or put the colour in quotes: \"#ffb060\"")
		return
	}
	if !r.Single(n, c) {
		return
	}
	if err := c.UnmarshalText([]byte(n.Text())); err != nil {
		wrong := err.(*unit.Error)
		r.Mistake(n, wrong.Text, wrong.Hint)
	}
}

// UnmarshalText reads a colour word or "#rrggbb". The error, if any, is a *unit.Error.
func (c *Colour) UnmarshalText(text []byte) error {
	word := strings.TrimSpace(string(text))
	if slices.Contains(colourWords(), word) {
		*c = Colour{Word: word}
		return nil
	}
	if strings.HasPrefix(word, "#") {
		return c.hex(word)
	}
	hint := "write one of " + strings.Join(colourWords(), ", ") + ", or six digits such as \"#ffb060\""
	if near := finding.DidYouMean(word, colourWords()); near != "" {
		hint = "did you mean " + near + "?"
	}
	return &unit.Error{Text: strconv.Quote(word) + " is not a colour", Hint: hint}
}

func (c *Colour) hex(word string) error {
	digits := word[1:]
	bits, err := strconv.ParseUint(digits, 16, 32)
	switch {
	case err != nil && len(digits) == 6, len(digits) != 6 && len(digits) != 3:
		return &unit.Error{Text: strconv.Quote(word) + " is not a colour", Hint: "write # and six digits 0 to 9 and a to f, two each for red, green and blue: \"#ffb060\""}
	case len(digits) == 3:
		d := digits
		long := "#" + d[:1] + d[:1] + d[1:2] + d[1:2] + d[2:] + d[2:]
		return &unit.Error{Text: strconv.Quote(word) + " is not a colour: it has three digits", Hint: "write all six: " + strconv.Quote(long)}
	}
	*c = Colour{Word: strings.ToLower(word), Red: byte(bits >> 16), Green: byte(bits >> 8), Blue: byte(bits), Hex: true}
	return nil
}

// Drive is the drive, 0 to 1, of each of a tape's channels when the colour is shown at a level. White drives red, green
// and blue alike, or the white channels alone where there are any; all drives every channel; dark none; the name of a
// channel that one; a hex colour red, green and blue by level × byte / 255, without gamma, and leaves the others off.
// The error says which channel the colour asks for and the tape lacks.
func (c Colour) Drive(channels []string, level float64) (map[string]float64, error) {
	drive := make(map[string]float64, len(channels))
	for _, name := range channels {
		drive[name] = 0
	}
	shares := c.shares(channels)
	for _, name := range parts.ChannelNames() {
		share := shares[name]
		if share == 0 {
			continue
		}
		if !slices.Contains(channels, name) {
			return nil, fmt.Errorf("there is no %s channel, only %s", name, list(inOrder(channels), "and", 8))
		}
		drive[name] = level * share
	}
	return drive, nil
}

// shares is what the colour asks of each channel at full level.
func (c Colour) shares(channels []string) map[string]float64 {
	switch {
	case c.Hex:
		return map[string]float64{"red": float64(c.Red) / 255, "green": float64(c.Green) / 255, "blue": float64(c.Blue) / 255}
	case c.Word == "dark":
		return nil
	case c.Word == "all":
		return alike(channels)
	case c.Word == "white":
		if whites := whiteChannels(channels); len(whites) > 0 {
			return alike(whites)
		}
		return alike([]string{"red", "green", "blue"})
	}
	return alike([]string{c.Word})
}

func alike(channels []string) map[string]float64 {
	shares := make(map[string]float64, len(channels))
	for _, name := range channels {
		shares[name] = 1
	}
	return shares
}

func whiteChannels(channels []string) []string {
	var whites []string
	for _, name := range channels {
		if name == "white" || name == "warm" || name == "cold" {
			whites = append(whites, name)
		}
	}
	return whites
}

// inOrder is the channels in the order of results.
func inOrder(channels []string) []string {
	var sorted []string
	for _, name := range parts.ChannelNames() {
		if slices.Contains(channels, name) {
			sorted = append(sorted, name)
		}
	}
	return sorted
}

// Channels lists the channels of a tape in the order of results.
func Channels(tape *parts.Tape) []string {
	var names []string
	for _, name := range parts.ChannelNames() {
		if _, ok := tape.Channels[name]; ok {
			names = append(names, name)
		}
	}
	return names
}

// Drives is the drive, 0 to 1, of every channel of a run's tape in a state: min(level, cap) × the colour's share. The
// state "dark" is always there. The second result is false where there is no such state or run.
func (s *Scheme) Drives(state, run string) (map[string]float64, bool) {
	tape := s.Tape(run)
	colour, level, ok := s.Shows(state, run)
	if tape == nil || !ok {
		return nil, false
	}
	drive, err := colour.Drive(Channels(tape), min(float64(level), s.Cap()))
	return drive, err == nil
}

// Shows is the colour and the level, before the cap, that a run has in a state; the run's own where the state has one.
func (s *Scheme) Shows(state, run string) (Colour, unit.Ratio, bool) {
	if state == darkState {
		return Colour{Word: "dark"}, 0, true
	}
	all, ok := s.States[state]
	one := all.Runs[run]
	colour, level := White(), unit.Ratio(1)
	for _, c := range []*Colour{all.Colour, one.Colour} {
		if c != nil {
			colour = *c
		}
	}
	for _, l := range []*unit.Ratio{all.Level, one.Level} {
		if l != nil {
			level = *l
		}
	}
	return colour, level, ok
}
