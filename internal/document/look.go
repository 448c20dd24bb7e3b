package document

import "strings"

// Look reads a text once, and answers for the value at any path of it as people read it: text as it is, anything else as YAML in
// one line. It is not ok where there is none, or where the text cannot be read. Aliases mean what they stand for.
func Look(source []byte) func(pointer string) (text string, ok bool) {
	root, read := new(Reader).parse(source)
	if !read {
		return func(string) (string, bool) { return "", false }
	}
	mind := newMind()
	whole := mind.of(root)
	return func(pointer string) (string, bool) {
		path, why := split(pointer)
		if why != nil || mind.endless {
			return "", false
		}
		at := whole
		for _, key := range path {
			i := -1
			if at.isMap() || at.isList() {
				i = at.find(key)
			}
			if i < 0 {
				return "", false
			}
			at = at.items[i]
		}
		return at.shown(), true
	}
}

// Shown is a value of an edit as people read it; "" for nil and for what cannot be written.
func Shown(value any) string {
	is, err := meant(value, shape{})
	if err != nil || is == nil {
		return ""
	}
	return is.shown()
}

func (m *meaning) shown() string {
	if m.isMap() || m.isList() {
		return inline(m, true)
	}
	return strings.TrimSpace(m.text)
}
