package document

import (
	"cmp"
	"reflect"
	"slices"

	"farend/finding"
)

// A shape is the Go type that a piece of text is read into; nil where it is not known.
type shape struct{ reflect.Type }

func shapeOf(like any) shape { return shape{reflect.TypeOf(like)}.plain() }

// plain follows pointers.
func (s shape) plain() shape {
	for s.Type != nil && s.Kind() == reflect.Pointer {
		s = shape{s.Elem()}
	}
	return s
}

func (s shape) is(kind reflect.Kind) bool { return s.Type != nil && s.Kind() == kind }

// under is the shape of the value at a key, or of the items of a list.
func (s shape) under(key string) shape {
	switch {
	case s.is(reflect.Struct):
		if f, ok := fieldsOf(s.Type)[key]; ok {
			return shape{s.FieldByIndex(f.index).Type}.plain()
		}
	case s.is(reflect.Map), s.is(reflect.Slice):
		return shape{s.Elem()}.plain()
	}
	return shape{}
}

// rank is the position of each key of a struct, in the order in which the struct declares them.
func (s shape) rank() map[string]int {
	ranks := map[string]int{}
	if !s.is(reflect.Struct) {
		return ranks
	}
	fields := fieldsOf(s.Type)
	keys := make([]string, 0, len(fields))
	for key := range fields {
		keys = append(keys, key)
	}
	slices.SortFunc(keys, func(a, b string) int { return slices.Compare(fields[a].index, fields[b].index) })
	for i, key := range keys {
		ranks[key] = i
	}
	return ranks
}

// sort puts keys in the order of the struct; others follow in natural order.
func (s shape) sort(keys []string) {
	ranks := s.rank()
	at := func(key string) int {
		if i, ok := ranks[key]; ok {
			return i
		}
		return len(ranks)
	}
	slices.SortFunc(keys, func(a, b string) int { return cmp.Or(cmp.Compare(at(a), at(b)), finding.Natural(a, b)) })
}
