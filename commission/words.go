package commission

import (
	"cmp"
	"strings"
)

// Words that more than one stage uses.

// fullName is an identifier with what people call the thing: "E1 (west handrail)".
func (m *maker) fullName(id string) string {
	if called := m.called(id); called != "" {
		return id + " (" + called + ")"
	}
	return id
}

// called is what people call a thing, "" where it has no such name.
func (m *maker) called(id string) string {
	return cmp.Or(m.s.Runs[id].Label, m.s.Supplies[id].Label, m.s.Boards[id].Label)
}

// byNumber is the word for one, or that for several.
func byNumber(n int, one, several string) string {
	if n == 1 {
		return one
	}
	return several
}

// short is a quantity without noughts after its last figure.
func short(text string) string {
	number, name, _ := strings.Cut(text, " ")
	if strings.Contains(number, ".") {
		number = strings.TrimSuffix(strings.TrimRight(number, "0"), ".")
	}
	return number + " " + name
}
