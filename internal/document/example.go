package document

import (
	"encoding"
	"reflect"
	"slices"
	"strings"

	"farend/unit"
)

// measured is implemented by quantities.
type measured interface{ Dimension() *unit.Dimension }

// example is how a value of a type may be written, in one line: as its key says, as its type says, or with the least it needs.
func example(t reflect.Type, like string) string {
	t = plainType(t)
	zero := reflect.New(t)
	if t.Kind() == reflect.Map {
		return "{NAME: " + example(t.Elem(), like) + "}"
	}
	if like != "" {
		return like
	}
	switch v := zero.Interface().(type) {
	case Schematic:
		if shown := NewSketch().examples(v); len(shown) > 0 {
			if m, err := meant(shown[0], shape{}); err == nil {
				return inline(m, true)
			}
		}
	case measured:
		return v.Dimension().Example
	case patterned:
		return v.Example()
	case Words:
		return v.Words()[0]
	}
	switch t.Kind() {
	case reflect.Struct:
		return exampleMap(t)
	case reflect.Slice:
		return "[" + example(t.Elem(), "") + "]"
	case reflect.Bool:
		return "yes"
	case reflect.Int:
		return "1"
	case reflect.Float64:
		return "0.5"
	}
	return "text"
}

// firstItem is the first item of what a list may look like: [E1, E2] of [[E1, E2]], T1 of [T1, A1].
func firstItem(like string) string {
	inner := strings.TrimSuffix(strings.TrimPrefix(like, "["), "]")
	if end := strings.IndexByte(inner, ']'); strings.HasPrefix(inner, "[") && end > 0 {
		return inner[:end+1]
	}
	first, _, _ := strings.Cut(inner, ",")
	return first
}

// exampleMap is a map with the first two keys that a struct requires, or its first key where it requires none.
func exampleMap(t reflect.Type) string {
	const most = 2
	fields := fieldsOf(t)
	var keys []string
	for key, f := range fields {
		if f.required {
			keys = append(keys, key)
		}
	}
	if len(keys) == 0 {
		keys = Keys(reflect.Zero(t).Interface())
		shapeOf(reflect.Zero(t).Interface()).sort(keys)
		keys = keys[:min(len(keys), 1)]
	}
	shape{t}.sort(keys)
	var entries []string
	for _, key := range keys[:min(len(keys), most)] {
		entries = append(entries, key+": "+example(t.FieldByIndex(fields[key].index).Type, fields[key].like))
	}
	if len(keys) > most {
		entries = append(entries, "…")
	}
	return "{" + strings.Join(entries, ", ") + "}"
}

// nounOf is what a value of a type is called.
func nounOf(t reflect.Type) string {
	t = plainType(t)
	zero := reflect.New(t)
	switch v := zero.Interface().(type) {
	case measured:
		return article(v.Dimension().Name)
	case Words:
		return "one word"
	case encoding.TextUnmarshaler, Schematic:
		return "one value"
	}
	switch t.Kind() {
	case reflect.Bool:
		return "yes or no"
	case reflect.Int:
		return "a whole number"
	case reflect.Float64:
		return "a plain number"
	}
	return "one text"
}

func article(noun string) string {
	if slices.Contains([]byte("aeiou"), noun[0]) {
		return "an " + noun
	}
	return "a " + noun
}

// plainType follows pointers.
func plainType(t reflect.Type) reflect.Type {
	for t.Kind() == reflect.Pointer {
		t = t.Elem()
	}
	return t
}
