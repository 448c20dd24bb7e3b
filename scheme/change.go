package scheme

import (
	"fmt"
	"slices"
	"strings"

	"farend/finding"
	"farend/internal/document"
)

// EstimatedLength and DrawnLength are the labels of cables whose length nobody has measured: they stay in the file, on drawings and
// on the cable until somebody does.
const (
	EstimatedLength = "length estimated; measure it"
	DrawnLength     = "length from the drawing; measure it"
)

// Changes says of each edit, in words, what it would change in the text of a scheme: "W3: cable/flex-2x2.5 instead of
// cable/flex-2x1.5". Each is told by itself, as if those before it had not been made.
func Changes(source []byte, edits []finding.Edit) []string {
	look := document.Look(source)
	words := make([]string, len(edits))
	for i, edit := range edits {
		was, there := look(edit.Path)
		words[i] = change{strings.Split(strings.TrimPrefix(edit.Path, "/"), "/"), was, document.Shown(edit.Value), there, edit.Value, look}.words()
	}
	return words
}

// Effective leaves out the edits that would set what stands in the text already, or take out what does not stand there.
func Effective(source []byte, edits []finding.Edit) (left []finding.Edit) {
	look := document.Look(source)
	for _, e := range edits {
		if was, there := look(e.Path); there != (e.Value != nil) || there && document.Shown(e.Value) != was {
			left = append(left, e)
		}
	}
	return left
}

// A change is an edit with what stood there before.
type change struct {
	path    []string
	was, is string // as people read them
	there   bool   // something stood there
	value   any
	look    func(path string) (text string, there bool)
}

func (c change) words() string {
	for i, key := range c.path {
		c.path[i] = strings.NewReplacer("~1", "/", "~0", "~").Replace(key)
	}
	part, last := c.path[0], c.path[len(c.path)-1]
	element := len(c.path) > 1 && slices.ContainsFunc(sections(), func(s section) bool { return s.key == part })
	switch {
	case part == "fuses" && len(c.path) == 2:
		return c.told("fuse "+c.path[1], "", true)
	case part == "cables" && last == "fuse" && len(c.path) == 3:
		return c.told("fuse "+c.path[1], "", true)
	case element && len(c.path) == 2:
		return c.whole(nounOf(part))
	case element && len(c.path) == 3 && (last == "part" || last == "tape"):
		return c.told(c.path[1], "", true)
	case part == "cables" && last == "pole" && len(c.path) == 3 && c.value == nil && c.there:
		return c.path[1] + ": both poles instead of the " + c.was + " alone"
	case part == "cables" && last == "fuse_at" && len(c.path) == 3:
		return c.moved()
	case part == "runs" && len(c.path) > 3 && c.path[2] == "cuts" && !c.there:
		if cut, ok := c.value.(map[string]any); ok {
			return fmt.Sprintf("%s: a cut of the %v at %v", c.path[1], cut["pole"], cut["at"])
		}
	case element:
		return c.told(c.path[1], strings.Join(c.path[2:], " "), false)
	}
	return c.told(part, strings.Join(c.path[1:], " "), false)
}

// moved says at which end of a cable its fuse is, and, where it is there already, at which it was.
func (c change) moved() string {
	beside := func(key string) (string, bool) { return c.look(finding.Pointer(c.path[0], c.path[1], key)) }
	here, _ := beside("from")
	there, _ := beside("to")
	if c.value == "to" {
		here, there = there, here
	}
	text := fmt.Sprintf("%s: its fuse at %s", c.path[1], here)
	if _, fused := beside("fuse"); fused {
		text += ", not at " + there
	}
	return text
}

// told says what a value becomes; a name speaks for itself, any other value comes with its key.
func (c change) told(subject, key string, name bool) string {
	with := func(value string) string {
		if name || key == "" {
			return value
		}
		return key + " " + yes(value)
	}
	switch {
	case c.value == nil && !c.there:
		return subject + ": nothing to remove"
	case c.value == nil && c.was == "yes" || c.value == nil && c.was == "true":
		return subject + ": " + key + " no instead of yes"
	case c.value == nil && name:
		return subject + ": none instead of " + c.was
	case c.value == nil:
		return subject + ": without " + with(c.was)
	case c.there:
		return subject + ": " + with(c.is) + " instead of " + yes(c.was)
	}
	return subject + ": " + with(c.is)
}

// yes writes yes and no as the house does.
func yes(value string) string {
	switch value {
	case "true":
		return "yes"
	case "false":
		return "no"
	}
	return value
}

// pixels counts those of a run as an edit has them.
func pixels(n any) string {
	if text := fmt.Sprint(n); text != "1" {
		return text + " pixels"
	}
	return "1 pixel"
}

// whole says that a thing is new, or goes.
func (c change) whole(noun string) string {
	id := c.path[1]
	values, ok := c.value.(map[string]any)
	switch {
	case c.value == nil:
		return id + " is taken out"
	case c.there || !ok:
		return fmt.Sprintf("%s: %s instead of %s", id, c.is, c.was)
	case noun == "run":
		return fmt.Sprintf("a new run %s: %s of %v", id, pixels(values["pixels"]), values["tape"])
	case noun != "cable" && noun != "data lead":
		return fmt.Sprintf("a new %s %s: %v", noun, id, values["part"])
	}
	text := fmt.Sprintf("a new "+noun+" %s from %v to %v, %v", id, values["from"], values["to"], values["length"])
	switch values["label"] {
	case EstimatedLength:
		text += " (estimated)"
	case DrawnLength:
		text += " (from the drawing)"
	}
	text += fmt.Sprintf(", %v", values["part"])
	if pole, single := values["pole"]; single {
		text += fmt.Sprintf(", %v only", pole)
	}
	if fuse, fused := values["fuse"]; fused {
		text += fmt.Sprintf(", with %v where it begins", fuse)
	}
	return text
}
