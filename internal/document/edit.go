package document

import (
	"cmp"
	"fmt"
	"reflect"
	"slices"
	"strings"

	"go.yaml.in/yaml/v4"

	"farend/finding"
)

// Apply makes edits in order, each on the result of the one before, and changes only the bytes that must change: comments,
// order, blank lines, quotes, alignment, line ends and a byte-order mark stay as they are. The text is nil where an edit
// cannot be made; the mistakes then say which and why, at the place in source.
//
// A path is a JSON Pointer (RFC 6901). A missing key is added after the last of its map, with the maps above it that are
// missing too; a missing section of the file goes where the house has it. "-" and the index after the last add to a list
// (RFC 6902, section 4.1). Nil takes out, and has nothing to do where nothing is; the last key or item of a map or list
// leaves {} or []. A map or list in the place of another changes only what differs.
//
// Like is a value of the type that the text is read into: its keys give new ones their order.
//
// After each edit the text is read again. Where it does not mean what it meant before with the edit made, it is given
// up: Apply never returns a wrong text. What others refer to with an alias, and maps with merge keys, are left alone.
func Apply(file string, source []byte, edits []finding.Edit, like any) ([]byte, finding.Mistakes) {
	r := &Reader{file: file}
	root, ok := r.parse(source)
	if !ok {
		return nil, r.mistakes
	}
	e := editor{text: string(source), root: root, shape: shapeOf(like)}
	if mind := newMind(); len(edits) > 0 {
		if e.means = mind.of(root); mind.endless {
			return nil, finding.Mistakes{{Pos: r.place(root), Text: "an alias in this file stands inside what it stands for", Hint: "write the values out"}}
		}
	}
	for _, edit := range edits {
		if why := e.edit(edit); why != nil {
			at := r.place(nearest(root, edit.Path))
			return nil, finding.Mistakes{{Pos: at, Text: e.tried(edit) + ": " + why.Text, Hint: why.Hint}}
		}
	}
	return []byte(e.text), nil
}

// An editor is a text while it is being edited.
type editor struct {
	text  string
	root  *yaml.Node
	means *meaning // of the root
	shape shape
}

// A refusal is why an edit cannot be made; its place is found by whoever knows the file.
type refusal = finding.Mistake

func refuse(hint, format string, values ...any) *refusal {
	return &refusal{Text: fmt.Sprintf(format, values...), Hint: hint}
}

// tried says what an edit was to do.
func (e *editor) tried(edit finding.Edit) string {
	path := cmp.Or(edit.Path, "the whole file")
	want, err := meant(edit.Value, shape{})
	switch {
	case err != nil:
		return "cannot set " + path
	case want == nil:
		return "cannot remove " + path
	}
	return "cannot set " + path + " to " + want.brief()
}

// split takes a JSON Pointer apart.
func split(pointer string) ([]string, *refusal) {
	const hint = "write a JSON Pointer such as /cables/W3/part"
	if !strings.HasPrefix(pointer, "/") {
		return nil, refuse(hint, "%q is not the path of a key", pointer)
	}
	if plain := strings.NewReplacer("~0", "", "~1", "").Replace(pointer); strings.Contains(plain, "~") {
		return nil, refuse("write ~0 for ~ and ~1 for /", "%q has a ~ that stands for nothing", pointer)
	}
	keys := strings.Split(pointer[1:], "/")
	for i, key := range keys {
		keys[i] = strings.NewReplacer("~1", "/", "~0", "~").Replace(key)
	}
	return keys, nil
}

// nearest is the node of the longest part of a path that is there.
func nearest(root *yaml.Node, pointer string) *yaml.Node {
	path, why := split(pointer)
	if why != nil {
		return root
	}
	at := root
	for _, key := range path {
		i := slot(at, key)
		if i < 0 {
			break
		}
		at = value(at, i)
	}
	return at
}

// slot is the entry of a node with the key or index, −1 where there is none.
func slot(n *yaml.Node, key string) int {
	switch n.Kind {
	case yaml.MappingNode:
		for i := range entries(n) {
			if k := n.Content[2*i]; k.Kind == yaml.ScalarNode && k.Value == key {
				return i
			}
		}
	case yaml.SequenceNode:
		if i, ok := index(key); ok && i < len(n.Content) {
			return i
		}
	}
	return -1
}

// A step is an edit that changes one place of the text.
type step struct {
	path []string
	want *meaning // nil: take out
}

// edit makes one edit, step by step.
func (e *editor) edit(edit finding.Edit) *refusal {
	path, why := split(edit.Path)
	if why != nil {
		return why
	}
	s := e.shape
	for _, key := range path {
		s = s.under(key)
	}
	want, err := meant(edit.Value, s)
	if err != nil {
		return refuse("", "%s", err)
	}
	for _, step := range e.steps(path, want) {
		if why := e.step(step); why != nil {
			return why
		}
	}
	return nil
}

// steps takes an edit of a whole map or list apart, so that what stays the same keeps its bytes.
func (e *editor) steps(path []string, want *meaning) []step {
	at := e.root
	for i, key := range path {
		next := slot(at, key)
		if next < 0 {
			return []step{{path, want}}
		}
		if at = value(at, next); at.Kind == yaml.AliasNode && i+1 < len(path) {
			return []step{{path, want}}
		}
	}
	if want == nil {
		return []step{{path, nil}}
	}
	return differences(path, at, want)
}

// differences lists what must change in a node. New keys come first, so that a map is not empty between.
func differences(path []string, n *yaml.Node, want *meaning) []step {
	is := newMind().of(n)
	switch {
	case is != nil && same(is, want):
		return nil
	case n.Kind == yaml.MappingNode && want.isMap() && len(n.Content) > 0 && len(want.items) > 0 && ordinary(n):
		return mapDifferences(path, n, want)
	case n.Kind == yaml.SequenceNode && want.isList() && len(n.Content) > 0 && len(want.items) > 0:
		return listDifferences(path, n, want)
	}
	return []step{{path, want}}
}

// ordinary reports whether all keys of a map are text and none stands twice or is a merge key.
func ordinary(n *yaml.Node) bool {
	seen := map[string]bool{}
	for i := range entries(n) {
		k := n.Content[2*i]
		if k.Kind != yaml.ScalarNode || k.Tag == "!!merge" || seen[k.Value] {
			return false
		}
		seen[k.Value] = true
	}
	return true
}

func mapDifferences(path []string, n *yaml.Node, want *meaning) []step {
	var steps, removals []step
	for i, k := range want.keys {
		here := append(slices.Clip(path), k.text)
		if at := slot(n, k.text); at >= 0 {
			steps = append(steps, differences(here, value(n, at), want.items[i])...)
		} else {
			steps = append(steps, step{here, want.items[i]})
		}
	}
	for i := range entries(n) {
		if k := n.Content[2*i].Value; want.find(k) < 0 {
			removals = append(removals, step{append(slices.Clip(path), k), nil})
		}
	}
	return append(steps, removals...)
}

// listDifferences keeps the items at both ends that are the same. Items are added at the end only.
func listDifferences(path []string, n *yaml.Node, want *meaning) []step {
	was, wanted := len(n.Content), len(want.items)
	alike := func(i, j int) bool { is := newMind().of(n.Content[i]); return is != nil && same(is, want.items[j]) }
	first, last := 0, 0
	for first < min(was, wanted) && alike(first, first) {
		first++
	}
	for wanted < was && last < wanted-first && alike(was-1-last, wanted-1-last) {
		last++
	}
	item := func(i int) []string { return append(slices.Clip(path), fmt.Sprint(i)) }
	var steps []step
	for i := first; i < min(was, wanted-last); i++ {
		steps = append(steps, differences(item(i), n.Content[i], want.items[i])...)
	}
	for i := was; i < wanted; i++ {
		steps = append(steps, step{item(i), want.items[i]})
	}
	for i := was - last - 1; i >= wanted-last; i-- {
		steps = append(steps, step{item(i), nil})
	}
	return steps
}

// step changes one place, reads the text again and compares.
func (e *editor) step(s step) *refusal {
	place, s, why := e.locate(s)
	if why != nil || place == nil {
		return why
	}
	if why := e.shared(*place); why != nil {
		return why
	}
	l := newLayout(e.text)
	var splices []splice
	if s.want == nil {
		splices = l.remove(*place)
	} else {
		splices = l.put(*place, s.want)
	}
	unsafe := refuse("make this change by hand", "the text around it is written in a way that cannot be changed safely")
	if l.lost || !l.within(splices) {
		return unsafe
	}
	text := spliced(e.text, splices)
	again := Reader{}
	root, ok := again.parse([]byte(text))
	if !ok {
		return unsafe
	}
	means := newMind().of(root)
	if !same(means, e.means.with(s.path, s.want)) {
		return unsafe
	}
	e.text, e.root, e.means = text, root, means
	return nil
}

// locate finds the entry that a step changes. Where maps on the way are missing, the step becomes the insertion of the
// first of them. There is no place where there is nothing to take out.
func (e *editor) locate(s step) (*spot, step, *refusal) {
	at, sh := e.root, e.shape
	var above *spot
	flow := false
	for depth, key := range s.path {
		here := cmp.Or(Pointer(s.path[:depth]...), "the file")
		if at.Kind == yaml.AliasNode {
			return nil, s, refuse("write the values out there", "%s takes its value from &%s in line %d", here, at.Value, at.Alias.Line)
		}
		if at.Kind == yaml.ScalarNode && isNull(at) && above != nil {
			if s.want == nil {
				return nil, s, nil
			}
			return above, step{s.path[:depth], wrap(s.path[depth:], s.want, sh)}, nil
		}
		i, why := entry(at, key, here, s.want != nil)
		if why != nil {
			return nil, s, why
		}
		flow = flow || !block(at)
		spot := &spot{in: at, at: i, key: key, flow: flow, above: above, shape: sh}
		sh = sh.under(key)
		switch {
		case i < 0 && s.want == nil:
			return nil, s, nil
		case i < 0:
			if at.Kind == yaml.SequenceNode {
				key = fmt.Sprint(len(at.Content))
			}
			path := append(slices.Clone(s.path[:depth]), key)
			return spot, step{path, wrap(s.path[depth+1:], s.want, sh)}, nil
		case depth == len(s.path)-1:
			return spot, s, nil
		}
		above, at = spot, value(at, i)
	}
	return nil, s, nil
}

// wrap puts a value into the maps and lists of a path that is not there.
func wrap(path []string, want *meaning, s shape) *meaning {
	if len(path) == 0 {
		return want
	}
	inner := wrap(path[1:], want, s.under(path[0]))
	if path[0] == "-" || path[0] == "0" && s.is(reflect.Slice) {
		return &meaning{kind: yaml.SequenceNode, items: []*meaning{inner}}
	}
	return &meaning{kind: yaml.MappingNode, keys: []*meaning{word(path[0])}, items: []*meaning{inner}}
}

// entry is the entry of a map or list that a key or index names, −1 for one that may be added.
func entry(n *yaml.Node, key, here string, adding bool) (int, *refusal) {
	switch n.Kind {
	case yaml.MappingNode:
		return pair(n, key, here)
	case yaml.SequenceNode:
		i, ok := index(key)
		switch {
		case ok && i < len(n.Content):
			return i, nil
		case adding && (key == "-" || ok && i == len(n.Content)):
			return -1, nil
		case ok:
			return 0, refuse("count from 0; \"-\" adds an item", "%s has %d items", here, len(n.Content))
		}
		return 0, refuse("count from 0; \"-\" adds an item", "%s is a list, and %q counts no item of it", here, key)
	}
	return 0, refuse("", "%s is %s and has no keys", here, kindOf(n))
}

func pair(n *yaml.Node, key, here string) (int, *refusal) {
	found := -1
	for i := range entries(n) {
		k := n.Content[2*i]
		switch {
		case k.Tag == "!!merge":
			return 0, refuse("write the values out", "the merge key in line %d may bring in the same key", k.Line)
		case k.Kind != yaml.ScalarNode || k.Value != key:
		case found >= 0:
			return 0, refuse("remove one of the two", "%q stands twice, in lines %d and %d", key, n.Content[2*found].Line, k.Line)
		default:
			found = i
		}
	}
	return found, nil
}

// shared refuses to change what an alias elsewhere stands for.
func (e *editor) shared(s spot) *refusal {
	users := map[*yaml.Node]*yaml.Node{}
	walk(e.root, func(n *yaml.Node) {
		if n.Kind == yaml.AliasNode {
			users[n.Alias] = n
		}
	})
	var why *refusal
	check := func(n *yaml.Node) {
		if alias, used := users[n]; used && why == nil {
			why = refuse("write the value out there first", "line %d takes its value from here, by *%s", alias.Line, alias.Value)
		}
	}
	if s.at >= 0 {
		walk(s.value(), check)
		if s.in.Kind == yaml.MappingNode {
			walk(s.in.Content[2*s.at], check)
		}
	}
	for at := &s; at != nil; at = at.above {
		check(at.in)
	}
	return why
}

func walk(n *yaml.Node, visit func(*yaml.Node)) {
	visit(n)
	for _, child := range n.Content {
		walk(child, visit)
	}
}
