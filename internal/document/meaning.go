package document

import (
	"cmp"
	"encoding"
	"encoding/json"
	"fmt"
	"math"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"go.yaml.in/yaml/v4"
)

// A meaning is what a piece of text says, without its layout, comments, quotes and the order of its keys. Aliases mean
// what they stand for. It is never changed: with makes another that shares what is the same.
type meaning struct {
	kind   yaml.Kind // scalar, map or list
	tag    string    // of a scalar: text, number, yes or no, nothing
	text   string
	keys   []*meaning // of a map
	items  []*meaning // of a list, or the values of a map
	shared bool       // it has an anchor, so that many may point here
}

// A mind remembers what nodes mean, so that aliases of aliases are not unfolded.
type mind struct {
	known   map[*yaml.Node]*meaning
	endless bool // an alias stands inside what it stands for
}

func newMind() *mind { return &mind{known: map[*yaml.Node]*meaning{}} }

func (m *mind) of(n *yaml.Node) *meaning {
	if n.Kind == yaml.AliasNode {
		n = n.Alias
	}
	known, met := m.known[n]
	if met {
		m.endless = m.endless || known == nil
		return known
	}
	if n.Anchor != "" {
		m.known[n] = nil // being read
	}
	is := &meaning{kind: n.Kind, shared: n.Anchor != ""}
	switch n.Kind {
	case yaml.MappingNode:
		for i := 0; i+1 < len(n.Content); i += 2 {
			is.keys, is.items = append(is.keys, m.of(n.Content[i])), append(is.items, m.of(n.Content[i+1]))
		}
	case yaml.SequenceNode:
		for _, item := range n.Content {
			is.items = append(is.items, m.of(item))
		}
	default:
		is.tag, is.text = textual(n.Tag), n.Value
	}
	if n.Anchor != "" {
		m.known[n] = is
	}
	return is
}

func (m *meaning) isMap() bool  { return m.kind == yaml.MappingNode }
func (m *meaning) isList() bool { return m.kind == yaml.SequenceNode }

// find is the place of a key in a map, or of an index in a list; −1 where there is none.
func (m *meaning) find(key string) int {
	if m.isList() {
		i, ok := index(key)
		if !ok || i >= len(m.items) {
			return -1
		}
		return i
	}
	return slices.IndexFunc(m.keys, func(k *meaning) bool { return k.kind == yaml.ScalarNode && k.text == key })
}

// index reads an array index of a JSON Pointer (RFC 6901, section 4): digits without leading zeros.
func index(key string) (int, bool) {
	i, err := strconv.Atoi(key)
	return i, err == nil && i >= 0 && strconv.Itoa(i) == key
}

// with is the meaning after one key or item is given another value, added (the key is new, or the index is that after
// the last) or, for nil, taken out. All of the path but its last key must be there.
func (m *meaning) with(path []string, value *meaning) *meaning {
	changed := *m
	changed.keys, changed.items = slices.Clone(m.keys), slices.Clone(m.items)
	i := m.find(path[0])
	switch {
	case len(path) > 1:
		changed.items[i] = m.items[i].with(path[1:], value)
	case i >= 0 && value != nil:
		changed.items[i] = value
	case i >= 0:
		changed.items = slices.Delete(changed.items, i, i+1)
		if m.isMap() {
			changed.keys = slices.Delete(changed.keys, i, i+1)
		}
	case value != nil:
		changed.items = append(changed.items, value)
		if m.isMap() {
			changed.keys = append(changed.keys, word(path[0]))
		}
	}
	return &changed
}

func word(text string) *meaning {
	return &meaning{kind: yaml.ScalarNode, tag: "!!str", text: text}
}

// same reports whether two meanings are equal. Of keys only the text counts, as in reading.
func same(a, b *meaning) bool { return comparison{}.same(a, b) }

// A comparison remembers the shared pairs it has been through.
type comparison map[[2]*meaning]bool

func (c comparison) same(a, b *meaning) bool {
	if a == b {
		return true
	}
	if a == nil || b == nil || a.kind != b.kind || a.tag != b.tag || a.text != b.text || len(a.items) != len(b.items) {
		return false
	}
	pair := [2]*meaning{a, b}
	if equal, done := c[pair]; done {
		return equal
	}
	equal := true
	x, y := a.order(), b.order()
	for i := range a.items {
		if a.isMap() {
			equal = equal && c.sameKey(a.keys[x[i]], b.keys[y[i]])
		}
		equal = equal && c.same(a.items[x[i]], b.items[y[i]])
	}
	if a.shared || b.shared {
		c[pair] = equal
	}
	return equal
}

func (c comparison) sameKey(a, b *meaning) bool {
	if a != nil && b != nil && a.kind == yaml.ScalarNode && b.kind == yaml.ScalarNode {
		return a.text == b.text && (a.tag == "!!merge") == (b.tag == "!!merge")
	}
	return c.same(a, b)
}

// order lists the items of a map by key, those of a list as they are. Keys that stand twice stay in their order.
func (m *meaning) order() []int {
	order := make([]int, len(m.items))
	for i := range order {
		order[i] = i
	}
	if m.isMap() {
		slices.SortStableFunc(order, func(i, j int) int { return cmp.Compare(m.keys[i].text, m.keys[j].text) })
	}
	return order
}

// meant turns the value of an edit into what it means: text, numbers, yes or no, types that write themselves as text,
// lists and maps with keys of text. Keys whose value is nil are left out.
func meant(value any, s shape) (*meaning, error) {
	if value == nil {
		return nil, nil
	}
	switch v := value.(type) {
	case json.Number:
		return number(v.String())
	case encoding.TextMarshaler:
		text, err := v.MarshalText()
		if err != nil {
			return nil, err
		}
		return written(string(text))
	}
	v := reflect.ValueOf(value)
	switch v.Kind() {
	case reflect.String:
		return written(v.String())
	case reflect.Bool:
		return &meaning{kind: yaml.ScalarNode, tag: "!!bool", text: strconv.FormatBool(v.Bool())}, nil
	case reflect.Int, reflect.Int8, reflect.Int16, reflect.Int32, reflect.Int64:
		return number(strconv.FormatInt(v.Int(), 10))
	case reflect.Uint, reflect.Uint8, reflect.Uint16, reflect.Uint32, reflect.Uint64:
		return number(strconv.FormatUint(v.Uint(), 10))
	case reflect.Float32, reflect.Float64:
		if v.Type().PkgPath() != "" { // a quantity: as a bare number it would lose its unit
			return nil, fmt.Errorf("a value of type %T must be given as text with its unit", value)
		}
		return float(v.Float(), v.Type().Bits())
	case reflect.Pointer:
		if v.IsNil() {
			return nil, nil
		}
		return meant(v.Elem().Interface(), s)
	case reflect.Slice, reflect.Array:
		return meantList(v, s)
	case reflect.Map:
		return meantMap(v, s)
	}
	return nil, fmt.Errorf("a value of type %T cannot be written", value)
}

func written(text string) (*meaning, error) {
	if !utf8.ValidString(text) {
		return nil, fmt.Errorf("the value is not UTF-8 text")
	}
	return word(text), nil
}

// float writes a number without an exponent where people would, so that whole numbers stay whole.
func float(f float64, bits int) (*meaning, error) {
	if math.IsNaN(f) || math.IsInf(f, 0) {
		return nil, fmt.Errorf("the value is not a finite number")
	}
	form := byte('f')
	if size := math.Abs(f); size != 0 && (size < 1e-6 || size >= 1e21) {
		form = 'e'
	}
	return number(strconv.FormatFloat(f+0, form, -1, bits)) // +0 takes the sign off −0
}

// number is a number in its text; YAML may take a large whole one for a float.
func number(text string) (*meaning, error) {
	n, ok := probe("a: "+text, 1)
	if !ok || n.Value != text || n.Tag != "!!int" && n.Tag != "!!float" {
		return nil, fmt.Errorf("%q is not a number", text)
	}
	return &meaning{kind: yaml.ScalarNode, tag: n.Tag, text: text}, nil
}

func meantList(v reflect.Value, s shape) (*meaning, error) {
	list := &meaning{kind: yaml.SequenceNode}
	for i := range v.Len() {
		item, err := meant(v.Index(i).Interface(), s.under(strconv.Itoa(i)))
		if err != nil {
			return nil, err
		}
		if item == nil {
			return nil, fmt.Errorf("item %d of the list is nothing", i+1)
		}
		list.items = append(list.items, item)
	}
	return list, nil
}

func meantMap(v reflect.Value, s shape) (*meaning, error) {
	if v.Type().Key().Kind() != reflect.String {
		return nil, fmt.Errorf("a map with keys of type %s cannot be written", v.Type().Key())
	}
	values := map[string]any{}
	var keys []string
	for _, key := range v.MapKeys() {
		values[key.String()] = v.MapIndex(key).Interface()
		keys = append(keys, key.String())
	}
	s.sort(keys)
	m := &meaning{kind: yaml.MappingNode}
	for _, key := range keys {
		if !utf8.ValidString(key) {
			return nil, fmt.Errorf("the key %q is not UTF-8 text", key)
		}
		value, err := meant(values[key], s.under(key))
		if err != nil {
			return nil, err
		}
		if value != nil {
			m.keys, m.items = append(m.keys, word(key)), append(m.items, value)
		}
	}
	return m, nil
}

// brief says a value in a message.
func (m *meaning) brief() string {
	const long = 60
	text := []rune(strings.ToValidUTF8(inline(m, false), "\ufffd"))
	if len(text) > long {
		return string(text[:long-1]) + "…"
	}
	return string(text)
}

// textual is a tag, that of text for a day: YAML 1.2 knows no days (its core schema, section 10.3.2), though the parser still does.
func textual(tag string) string {
	if tag == "!!timestamp" {
		return "!!str"
	}
	return tag
}
