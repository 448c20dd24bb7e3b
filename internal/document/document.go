// Package document reads a YAML text strictly into Go values: every mistake is found in one pass and has a place, a
// text and, where possible, a hint. It knows nothing of lighting.
//
// Structs name their keys with a tag, `key:"length"`; `key:"part,required"` must be there. A tag `like:"A1.2"` shows what a value
// may look like, `doc:"…"` says what it is, `with:"to"` that another key goes with it, `least:"1"` how many
// entries it must have; the last two are for schemas, and the reader of the type says so itself. Fields may be strings,
// booleans (yes, no, true, false), integers, floats (plain numbers), types that read themselves from text
// (encoding.TextUnmarshaler: quantities), word lists (Words), pointers to and slices and string maps of any of
// these, and types that decode a node themselves (NodeReader). Absent optional fields keep their zero value. Of the same tags and
// types a Sketch makes a JSON Schema.
//
// Aliases are followed, within a budget, so that a small file cannot unfold into a large one.
//
// Apply changes single values of a text and leaves all other bytes as they are (YAML 1.2.2; edits are addressed as RFC 6901
// has it). It cannot change what stands behind an alias or beside a merge key, and does not save.
package document

import (
	"encoding"
	"errors"
	"fmt"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"go.yaml.in/yaml/v4"

	"farend/finding"
	"farend/unit"
)

const (
	maxNodes  = 2 << 20 // nodes visited, aliases unfolded
	maxUnfold = 20000   // nodes visited inside aliases
	maxDepth  = 60

	// maxMistakes is more than anybody mends in one go.
	maxMistakes = 1000
)

// A Node is a piece of the document with its place in it.
type Node struct {
	yaml   *yaml.Node
	parent *Node  // the map or list it stands in
	like   string // what its value may look like, where its key says so
	Path   string // JSON Pointer from the root, aliases followed
}

// Words is implemented by string types that allow a fixed list of words.
type Words interface{ Words() []string }

// NodeReader is implemented (on the pointer) by types that decode a node themselves.
type NodeReader interface{ ReadNode(*Reader, Node) }

// A Reader decodes one document and gathers its mistakes and places.
type Reader struct {
	file     string
	mistakes finding.Mistakes
	faulty   map[string]bool
	unsure   map[string]bool
	places   map[string]finding.Pos
	values   map[string]finding.Pos
	fields   map[reflect.Type]map[string]field // of the structs met so far
	visited  int
	unfolded int
	inAlias  int
	alias    *yaml.Node // the outermost alias that is being followed
	depth    int
	spent    bool // the budget is used up; said once
}

// A Result says what came of reading a document. Its maps are keyed by JSON Pointer.
type Result struct {
	Places   map[string]finding.Pos // where each key, or item of a list, stands
	Values   map[string]finding.Pos // where the value of each key begins
	Mistakes finding.Mistakes       // in the order of the file
	Faulty   map[string]bool        // the nodes that have a mistake; a missing key counts for the map that lacks it
	Unsure   map[string]bool        // the maps of which something could not be read: an absent key proves nothing there
	Whole    bool                   // every node was visited; false where the text could not be read to its end
}

// Read decodes source into the value that into points to. It returns the place of every key by its JSON Pointer,
// and all mistakes in the order of the file.
func Read(file string, source []byte, into any) (map[string]finding.Pos, finding.Mistakes) {
	result := Load(file, source, into)
	return result.Places, result.Mistakes
}

// Load is Read for those who go on to check what was read, and must know which parts of it to leave alone.
func Load(file string, source []byte, into any) Result {
	r := &Reader{file: file, faulty: map[string]bool{}, unsure: map[string]bool{}, fields: map[reflect.Type]map[string]field{}, places: map[string]finding.Pos{}, values: map[string]finding.Pos{}}
	root, ok := r.parse(source)
	if ok {
		r.Decode(Node{yaml: root}, into)
	}
	whole := ok && root.Kind == yaml.MappingNode && !r.spent
	return Result{r.places, r.values, Listed(r.mistakes, file), r.faulty, r.unsure, whole}
}

// Listed is the mistakes in the order of the file; of very many only the first, after a word that there are more.
func Listed(mistakes finding.Mistakes, file string) finding.Mistakes {
	mistakes = mistakes.Sort()
	if len(mistakes) <= maxMistakes {
		return mistakes
	}
	more := finding.Mistake{Pos: finding.Pos{File: file}, Text: fmt.Sprintf("there are more than %d mistakes; these are the first", maxMistakes), Hint: "mend these, then read it again"}
	return append(finding.Mistakes{more}, mistakes[:maxMistakes]...)
}

func (r *Reader) add(pos finding.Pos, text, hint string) {
	if len(r.mistakes) > maxMistakes {
		return
	}
	r.spent = r.spent || len(r.mistakes) == maxMistakes
	r.mistakes = append(r.mistakes, finding.Mistake{Pos: pos, Text: text, Hint: hint})
}

func (r *Reader) place(n *yaml.Node) finding.Pos {
	return finding.Pos{File: r.file, Line: n.Line, Column: n.Column}
}

// Place is where the node stands.
func (r *Reader) Place(n Node) finding.Pos { return r.place(n.yaml) }

// Mistake records a mistake at the node.
func (r *Reader) Mistake(n Node, text, hint string) {
	r.faulty[n.Path] = true
	r.add(r.place(n.yaml), text, hint)
}

// IsMap reports whether the node is a map of keys to values.
func (n Node) IsMap() bool { return n.resolved().Kind == yaml.MappingNode }

// IsList reports whether the node is a list.
func (n Node) IsList() bool { return n.resolved().Kind == yaml.SequenceNode }

// Text is the text of a scalar, "" for anything else.
func (n Node) Text() string {
	if s := n.resolved(); s.Kind == yaml.ScalarNode {
		return s.Value
	}
	return ""
}

// IsScalar reports whether the node is a single value, null included.
func (n Node) IsScalar() bool { return n.resolved().Kind == yaml.ScalarNode }

func (n Node) resolved() *yaml.Node {
	y := n.yaml
	for i := 0; y.Kind == yaml.AliasNode && i < maxDepth; i++ {
		y = y.Alias
	}
	return y
}

// Get is the value of a key of a map node, if it is there. It reads nothing and judges nothing.
func (n Node) Get(key string) (Node, bool) {
	m := n.resolved()
	if m.Kind != yaml.MappingNode {
		return Node{}, false
	}
	for i := 0; i+1 < len(m.Content); i += 2 {
		if m.Content[i].Value == key {
			return Node{yaml: m.Content[i+1], parent: &n, Path: n.Path + Pointer(key)}, true
		}
	}
	return Node{}, false
}

// Inherited is the text of the key in the nearest enclosing map that has it, the node itself included: a word that
// holds for all below it.
func (n Node) Inherited(key string) string {
	for at := &n; at != nil; at = at.parent {
		if value, ok := at.Get(key); ok {
			return value.Text()
		}
	}
	return ""
}

// Decode reads the node into the value that into points to. NodeReaders call it for their parts.
func (r *Reader) Decode(n Node, into any) { r.decode(n, reflect.ValueOf(into).Elem()) }

// enter counts a visit against the budget.
func (r *Reader) enter(n *yaml.Node) bool {
	r.visited++
	if r.inAlias > 0 {
		r.unfolded++
	}
	if r.visited <= maxNodes && r.unfolded <= maxUnfold && r.depth <= maxDepth && len(r.mistakes) <= maxMistakes {
		return true
	}
	if !r.spent && len(r.mistakes) <= maxMistakes {
		if r.inAlias > 0 {
			n = r.alias
		}
		r.add(r.place(n), "the aliases or levels of this file unfold into too much", "write the values out; a scheme needs no nested aliases")
	}
	r.spent = true
	return false
}

func (r *Reader) decode(n Node, v reflect.Value) {
	if !r.enter(n.yaml) {
		return
	}
	r.depth++
	defer func() { r.depth-- }()
	if n.yaml.Kind == yaml.AliasNode {
		if r.inAlias == 0 {
			r.alias = n.yaml
		}
		r.inAlias++
		n.yaml = n.yaml.Alias
		r.decode(n, v)
		r.inAlias--
		return
	}
	if v.Kind() == reflect.Pointer {
		if v.IsNil() {
			v.Set(reflect.New(v.Type().Elem()))
		}
		r.decode(n, v.Elem())
		return
	}
	if reader, ok := v.Addr().Interface().(NodeReader); ok {
		reader.ReadNode(r, n)
		return
	}
	if text, ok := v.Addr().Interface().(encoding.TextUnmarshaler); ok {
		r.text(n, text)
		return
	}
	switch v.Kind() {
	case reflect.Struct:
		r.object(n, v)
	case reflect.Map:
		r.named(n, v)
	case reflect.Slice:
		r.list(n, v)
	default:
		r.scalar(n, v)
	}
}

// text reads a scalar with the value's own UnmarshalText.
func (r *Reader) text(n Node, v encoding.TextUnmarshaler) {
	if !r.wantScalar(n, reflect.TypeOf(v).Elem()) {
		return
	}
	if err := v.UnmarshalText([]byte(n.yaml.Value)); err != nil {
		var wrong *unit.Error
		if errors.As(err, &wrong) {
			r.Mistake(n, wrong.Text, wrong.Like(n.like))
			return
		}
		r.Mistake(n, err.Error(), forExample(n, reflect.TypeOf(v).Elem()))
	}
}

// Single reports whether a node is a single value, and makes a mistake of one that is not: into is what it would be read into.
func (r *Reader) Single(n Node, into any) bool {
	n.yaml = n.resolved()
	return r.wantScalar(n, reflect.TypeOf(into).Elem())
}

// wantScalar makes a mistake of a node that is no single value of a type.
func (r *Reader) wantScalar(n Node, t reflect.Type) bool {
	switch {
	case n.yaml.Kind != yaml.ScalarNode:
		r.Mistake(n, keyOf(n)+" needs "+nounOf(t)+", not "+kindOf(n.yaml), forExample(n, t))
	case isNull(n.yaml):
		r.Mistake(n, keyOf(n)+" needs "+nounOf(t)+", not nothing", forExample(n, t)+"; a value that begins with # needs quotes")
	default:
		return true
	}
	return false
}

// forExample is a hint: how a node of a type may be written.
func forExample(n Node, t reflect.Type) string { return "write for example " + example(t, n.like) }

// Pointer is finding.Pointer, several times as fast: it is asked for at every key.
func Pointer(keys ...string) string {
	var b strings.Builder
	for _, key := range keys {
		b.WriteByte('/')
		if strings.ContainsAny(key, "~/") {
			key = strings.ReplaceAll(strings.ReplaceAll(key, "~", "~0"), "/", "~1")
		}
		b.WriteString(key)
	}
	return b.String()
}

func keyOf(n Node) string {
	if n.Path == "" {
		return "the file"
	}
	if n.parent != nil && n.parent.IsList() {
		at, _ := strconv.Atoi(n.Path[strings.LastIndexByte(n.Path, '/')+1:])
		return "item " + strconv.Itoa(at+1) + " of " + keyOf(*n.parent)
	}
	last := n.Path[strings.LastIndexByte(n.Path, '/')+1:]
	return strconv.Quote(strings.NewReplacer("~1", "/", "~0", "~").Replace(last))
}

func kindOf(n *yaml.Node) string {
	switch {
	case n.Kind == yaml.MappingNode:
		return "a map of keys"
	case n.Kind == yaml.SequenceNode:
		return "a list"
	case isNull(n):
		return "nothing"
	}
	return strconv.Quote(n.Value)
}

// scalar reads strings, word lists, booleans and plain numbers.
func (r *Reader) scalar(n Node, v reflect.Value) {
	if !r.wantScalar(n, v.Type()) {
		return
	}
	text := n.yaml.Value
	wrong := func() {
		r.Mistake(n, keyOf(n)+" needs "+nounOf(v.Type())+", not "+kindOf(n.yaml), forExample(n, v.Type()))
	}
	switch v.Kind() {
	case reflect.String:
		if words, ok := v.Interface().(Words); ok && !slices.Contains(words.Words(), text) {
			r.Mistake(n, keyOf(n)+" cannot be "+strconv.Quote(text), choices(text, words.Words()))
			return
		}
		v.SetString(text)
	case reflect.Bool:
		is, ok := boolean(text)
		if !ok {
			wrong()
			return
		}
		v.SetBool(is)
	case reflect.Int:
		i, err := strconv.Atoi(text)
		if err != nil {
			wrong()
			return
		}
		v.SetInt(int64(i))
	case reflect.Float64:
		f, err := strconv.ParseFloat(text, 64)
		if err != nil || strings.Trim(text, "+-.0123456789eE") != "" { // words for what is no number, hexadecimal
			wrong()
			return
		}
		v.SetFloat(f)
	default:
		panic("document: cannot read into " + v.Type().String())
	}
}

// boolean reads yes, no, true or false, in letters of either case.
func boolean(text string) (is, ok bool) {
	switch strings.ToLower(text) {
	case "yes", "true":
		return true, true
	case "no", "false":
		return false, true
	}
	return false, false
}

func choices(word string, allowed []string) string {
	if near := finding.DidYouMean(word, allowed); near != "" {
		return "did you mean " + near + "?"
	}
	return "write one of " + strings.Join(allowed, ", ")
}

// list reads a YAML list; a mistake in one item does not hide the others.
func (r *Reader) list(n Node, v reflect.Value) {
	if n.yaml.Kind != yaml.SequenceNode {
		r.Mistake(n, keyOf(n)+" needs a list, not "+kindOf(n.yaml), "write it in square brackets, for example "+example(v.Type(), n.like))
		return
	}
	items := reflect.MakeSlice(v.Type(), len(n.yaml.Content), len(n.yaml.Content))
	for i, item := range n.yaml.Content {
		path := n.Path + "/" + strconv.Itoa(i)
		r.places[path], r.values[path] = r.place(item), r.place(item)
		r.decode(Node{yaml: item, parent: &n, like: firstItem(n.like), Path: path}, items.Index(i))
	}
	v.Set(items)
}

// named reads a map whose keys the user chose.
func (r *Reader) named(n Node, v reflect.Value) {
	if !r.wantMap(n, v.Type()) {
		return
	}
	m := reflect.MakeMap(v.Type())
	r.Pairs(n, func(key string, _, value Node) {
		item := reflect.New(v.Type().Elem()).Elem()
		value.like = n.like
		r.decode(value, item)
		m.SetMapIndex(reflect.ValueOf(key).Convert(v.Type().Key()), item)
	})
	v.Set(m)
}

func (r *Reader) wantMap(n Node, t reflect.Type) bool {
	if n.yaml.Kind == yaml.MappingNode {
		return true
	}
	r.unsure[n.Path] = true
	if n.Path == "" {
		r.Mistake(n, "a scheme is a map of keys, not "+kindOf(n.yaml), "begin with the line \"farend: 1\"")
		return false
	}
	r.Mistake(n, keyOf(n)+" needs a map of keys, not "+kindOf(n.yaml), forExample(n, t))
	return false
}

// Pairs calls each for every key of a map node in the order of the file, after noting the key's place. Repeated keys
// are a mistake and only the first is used.
func (r *Reader) Pairs(n Node, each func(key string, keyNode, value Node)) {
	seen := map[string]*yaml.Node{}
	content := n.resolved().Content
	for i := 0; i+1 < len(content) && len(r.mistakes) <= maxMistakes; i += 2 {
		k, value := content[i], content[i+1]
		if whole, ok := rejoined(content[i:]); ok {
			value, i = whole, i+2
		}
		path := n.Path + Pointer(k.Value)
		keyNode := Node{yaml: k, parent: &n, Path: path}
		switch first, repeated := seen[k.Value]; {
		case k.Kind != yaml.ScalarNode:
			r.unsure[n.Path] = true
			r.Mistake(keyNode, "a key must be one word, not "+kindOf(k), "write a word and a colon, such as E1:")
		case k.Value == "<<" && k.Tag == "!!merge":
			r.unsure[n.Path] = true
			r.Mistake(keyNode, "merge keys are not used in schemes", "write the values out")
		case repeated:
			r.unsure[n.Path] = true // one of the two may have been meant to be another
			r.Mistake(keyNode, fmt.Sprintf("%q stands twice; it was first given in line %d", k.Value, first.Line), "remove one of the two")
		default:
			seen[k.Value] = k
			r.places[path], r.values[path] = r.place(k), r.place(value)
			each(k.Value, keyNode, Node{yaml: value, parent: &n, Path: path})
		}
	}
}

// rejoined is the first value of some pairs with what follows the comma in it, where that comma was meant for a decimal point:
// within braces YAML reads 1,8 m as the value 1 and a key "8 m" without a value.
func rejoined(pairs []*yaml.Node) (*yaml.Node, bool) {
	if len(pairs) < 4 {
		return nil, false
	}
	value, next := pairs[1], pairs[2]
	behind := value.Line == next.Line && value.Column+len(value.Value)+1 == next.Column
	plain := value.Style&(yaml.SingleQuotedStyle|yaml.DoubleQuotedStyle) == 0 && value.Anchor == "" && value.Kind == yaml.ScalarNode
	if !behind || !plain || !isNull(pairs[3]) || value.Value == "" || strings.Trim(value.Value, "+-0123456789") != "" ||
		next.Value == "" || next.Value[0] < '0' || next.Value[0] > '9' {
		return nil, false
	}
	whole := *value
	whole.Tag, whole.Value = "!!str", value.Value+","+next.Value
	return &whole, true
}

// object reads a map node into a struct by its key tags.
func (r *Reader) object(n Node, v reflect.Value) {
	if !r.wantMap(n, v.Type()) {
		return
	}
	fields, met := r.fields[v.Type()]
	if !met {
		fields = fieldsOf(v.Type())
		r.fields[v.Type()] = fields
	}
	found := map[string]bool{}
	r.Pairs(n, func(key string, keyNode, value Node) {
		f, known := fields[key]
		if !known {
			r.unsure[n.Path] = true
			if before, after, ok := strings.Cut(key, ":"); ok && isNull(value.yaml) && fields[before].index != nil {
				found[before] = true
				r.Mistake(keyNode, fmt.Sprintf("%q lacks a blank after its colon", key), "write "+before+": "+strings.TrimSpace(after))
				return
			}
			offered := r.offered(fields)
			found[finding.DidYouMean(key, offered)] = true // it is not lacking as well
			r.Mistake(keyNode, fmt.Sprintf("%q is not a key here", key), choices(key, offered))
			return
		}
		found[key] = true
		value.like = f.like
		r.decode(value, v.FieldByIndex(f.index))
	})
	r.lacking(n, v.Type(), fields, found)
}

// lacking makes a mistake of the required keys that a map does not have.
func (r *Reader) lacking(n Node, t reflect.Type, fields map[string]field, found map[string]bool) {
	var names, hints []string
	for _, key := range r.offered(fields) {
		if f := fields[key]; f.required && !found[key] {
			names = append(names, strconv.Quote(key))
			hints = append(hints, key+": "+example(t.FieldByIndex(f.index).Type, f.like))
		}
	}
	switch last := len(names) - 1; {
	case len(names) == 1:
		r.Mistake(n, keyOf(n)+" lacks the key "+names[0], "write for example "+hints[0])
	case len(names) > 1:
		r.Mistake(n, keyOf(n)+" lacks the keys "+strings.Join(names[:last], ", ")+" and "+names[last], "write for example "+strings.Join(hints, ", "))
	}
}

func (r *Reader) offered(fields map[string]field) []string {
	names := make([]string, 0, len(fields))
	for name := range fields {
		names = append(names, name)
	}
	slices.Sort(names)
	return names
}

// Keys lists the keys that a struct reads.
func Keys(of any) []string {
	var keys []string
	for key := range fieldsOf(reflect.TypeOf(of)) {
		keys = append(keys, key)
	}
	slices.Sort(keys)
	return keys
}

type field struct {
	index     []int
	required  bool
	like, doc string
}

func fieldsOf(t reflect.Type) map[string]field {
	fields := map[string]field{}
	for _, f := range reflect.VisibleFields(t) {
		name, options, _ := strings.Cut(f.Tag.Get("key"), ",")
		if name != "" {
			fields[name] = field{f.Index, options == "required", f.Tag.Get("like"), f.Tag.Get("doc")}
		}
	}
	return fields
}
