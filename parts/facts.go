package parts

import (
	"fmt"
	"maps"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"farend/unit"
)

// A Fact is one entry of a part as people read it: its key from the part down ("channels.red.set"), its text with unit,
// and how it is known.
type Fact struct {
	Key, Text, Spread, Basis, Source string

	Number bool
	Value  float64         // of a number, in SI
	Of     *unit.Dimension // what a number measures; nil of a plain one and of words
}

// Title is what a part is, in a line.
func Title(part any) string {
	v := reflect.ValueOf(part)
	if v.Kind() != reflect.Pointer || v.IsNil() {
		return ""
	}
	if f := v.Elem().FieldByName("Title"); f.IsValid() {
		return f.String()
	}
	return ""
}

// Facts lists everything a part states, in the order of its fields; numbers of a map come in the order of their keys.
func Facts(part any) []Fact {
	v := reflect.ValueOf(part)
	if v.Kind() != reflect.Pointer || v.IsNil() {
		return nil
	}
	var list []Fact
	gather(&list, "", v.Elem(), Origin{})
	return list
}

// stated is implemented by every Value.
type stated interface{ fact(key string) (Fact, bool) }

func (v Value[T]) fact(key string) (Fact, bool) {
	return Fact{key, fmt.Sprint(v.Is), v.Spread.text(), string(v.Basis), v.Source, true, float64(v.Is), v.Is.Dimension()}, v.Given
}

func (s Spread) text() string {
	if s.Low == 0 && s.High == 0 {
		return ""
	}
	switch {
	case s.Low == -s.High:
		return "±" + percent(s.High)
	case s.Low == 0:
		return "0 % to +" + percent(s.High)
	case s.High == 0:
		return "−" + percent(-s.Low) + " to 0 %"
	}
	return "−" + percent(-s.Low) + " to +" + percent(s.High)
}

func percent(f float64) string { return strconv.FormatFloat(100*f, 'g', 4, 64) + " %" }

func gather(list *[]Fact, key string, v reflect.Value, origin Origin) {
	if value, ok := v.Interface().(stated); ok {
		if fact, given := value.fact(key); given {
			*list = append(*list, fact)
		}
		return
	}
	switch v.Kind() {
	case reflect.Struct:
		gatherFields(list, key, v, origin)
	case reflect.Map:
		names := slices.SortedFunc(maps.Keys(textKeys(v)), natural)
		for _, name := range inChannelOrder(names) {
			gather(list, join(key, name), v.MapIndex(reflect.ValueOf(name)), origin)
		}
	case reflect.Slice:
		for i := range v.Len() {
			gather(list, join(key, strconv.Itoa(i+1)), v.Index(i), origin)
		}
	default:
		if text := fmt.Sprint(v.Interface()); !v.IsZero() && key != "title" {
			fact := Fact{Key: key, Text: text, Basis: string(origin.Basis), Source: origin.Source}
			fact.Value, fact.Number = plainNumber(v)
			*list = append(*list, fact)
		}
	}
}

// plainNumber is a number without a unit, and whether it is one.
func plainNumber(v reflect.Value) (float64, bool) {
	switch {
	case v.CanInt():
		return float64(v.Int()), true
	case v.CanFloat():
		return v.Float(), true
	}
	return 0, false
}

func gatherFields(list *[]Fact, key string, v reflect.Value, origin Origin) {
	if o := v.FieldByName("Origin"); o.IsValid() {
		own := o.Interface().(Origin)
		if own.Basis != "" {
			origin.Basis = own.Basis
		}
		if own.Source != "" {
			origin.Source = strings.TrimSpace(own.Source)
		}
	}
	for i := range v.NumField() {
		field := v.Type().Field(i)
		name, _, _ := strings.Cut(field.Tag.Get("key"), ",")
		switch {
		case name != "":
			gather(list, join(key, name), v.Field(i), origin)
		case field.Anonymous && field.Name != "Origin":
			gatherFields(list, key, v.Field(i), origin)
		}
	}
}

func textKeys(v reflect.Value) map[string]bool {
	names := map[string]bool{}
	for _, k := range v.MapKeys() {
		names[k.String()] = true
	}
	return names
}

// inChannelOrder puts the names of channels in the order of results and leaves other names as they are.
func inChannelOrder(names []string) []string {
	order := ChannelNames()
	slices.SortStableFunc(names, func(a, b string) int { return slices.Index(order, a) - slices.Index(order, b) })
	return names
}

func join(key, name string) string {
	if key == "" {
		return name
	}
	return key + "." + name
}
