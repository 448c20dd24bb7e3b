package scheme_test

import (
	"fmt"
	"math/rand"
	"regexp"
	"slices"
	"strings"
	"testing"

	"go.yaml.in/yaml/v4"
)

// A mutation changes one node of a file in one way, and says how; "" where it does not fit the node.
type mutation struct {
	name string
	make func(m *mutator, n, parent *yaml.Node, at int) string
}

// A mutator changes a parsed file.
type mutator struct {
	r    *rand.Rand
	all  []spot
	keys []string // of all maps
}

// A spot is a node and where it stands: the value or item parent.Content[at].
type spot struct {
	node, parent *yaml.Node
	at           int
}

// mutated is a source after one random change, or two; what says which.
func mutated(t testing.TB, source string, seed int64) (text []byte, what string) {
	t.Helper()
	var doc yaml.Node
	if err := yaml.Unmarshal([]byte(source), &doc); err != nil {
		t.Fatal(err)
	}
	m := &mutator{r: rand.New(rand.NewSource(seed))}
	for range 1 + m.r.Intn(2) {
		m.all, m.keys = nil, nil
		m.gather(doc.Content[0])
		for made := ""; made == ""; {
			s := m.all[m.r.Intn(len(m.all))]
			kind := kindsOfChange[m.r.Intn(len(kindsOfChange))]
			if made = kind.make(m, s.node, s.parent, s.at); made != "" {
				what = strings.TrimPrefix(what+", "+kind.name+": "+made, ", ")
			}
		}
	}
	text, err := yaml.Marshal(&doc)
	if err != nil {
		t.Fatal(err)
	}
	return text, what
}

func (m *mutator) gather(n *yaml.Node) {
	for i, child := range n.Content {
		if n.Kind == yaml.MappingNode && i%2 == 0 {
			m.keys = append(m.keys, child.Value)
			continue
		}
		m.all = append(m.all, spot{child, n, i})
		m.gather(child)
	}
}

func (m *mutator) pick(list ...string) string { return list[m.r.Intn(len(list))] }

// misspell makes a typing slip.
func (m *mutator) misspell(word string) string {
	letters := []rune(word)
	if len(letters) == 0 {
		return "x"
	}
	i := m.r.Intn(len(letters))
	switch m.r.Intn(3) {
	case 0:
		return string(slices.Delete(letters, i, i+1))
	case 1:
		return string(slices.Insert(letters, i, 'x'))
	}
	letters[i] = 'q'
	return string(letters)
}

func scalar(tag, value string) *yaml.Node {
	return &yaml.Node{Kind: yaml.ScalarNode, Tag: tag, Value: value}
}

// anything is a value of a kind that is seldom right.
func (m *mutator) anything() *yaml.Node {
	switch m.r.Intn(9) {
	case 0:
		return scalar("!!null", "null")
	case 1:
		return scalar("!!bool", m.pick("true", "false"))
	case 2:
		return scalar("!!int", m.pick("0", "1", "-3", "288", "5000000"))
	case 3:
		return scalar("!!float", m.pick("0.5", "-2.25", "1e3", ".inf"))
	case 4:
		return scalar("!!str", m.pick("", "x", "yes", "off", "5 V", "2.5 m", "80 %", "E1", "warm", "choose", "white"))
	case 5:
		return &yaml.Node{Kind: yaml.SequenceNode}
	case 6:
		return &yaml.Node{Kind: yaml.MappingNode}
	case 7:
		return &yaml.Node{Kind: yaml.SequenceNode, Content: []*yaml.Node{scalar("!!str", "x"), scalar("!!int", "1")}}
	}
	return &yaml.Node{Kind: yaml.MappingNode, Content: []*yaml.Node{scalar("!!str", "x"), scalar("!!int", "1")}}
}

var quantity = regexp.MustCompile(`^([-+−]?[0-9.]+) ?([^0-9].*)$`)

// kindsOfChange is what may happen to a file that people write by hand.
var kindsOfChange = []mutation{
	{"a key renamed", func(m *mutator, n, parent *yaml.Node, at int) string {
		if parent.Kind != yaml.MappingNode {
			return ""
		}
		key := parent.Content[at-1]
		was := key.Value
		key.Value = m.pick(m.misspell(was), m.misspell(was), m.pick(m.keys...))
		key.Tag, key.Style = "", 0
		return was + " to " + key.Value
	}},
	{"a key removed", func(m *mutator, n, parent *yaml.Node, at int) string {
		if parent.Kind != yaml.MappingNode {
			return ""
		}
		was := parent.Content[at-1].Value
		parent.Content = slices.Delete(parent.Content, at-1, at+1)
		return was
	}},
	{"a key added", func(m *mutator, n, parent *yaml.Node, at int) string {
		if n.Kind != yaml.MappingNode {
			return ""
		}
		s := m.all[m.r.Intn(len(m.all))]
		key := m.pick(m.keys...)
		n.Content = append(n.Content, scalar("", key), twin(s.node))
		return key
	}},
	{"a key twice", func(m *mutator, n, parent *yaml.Node, at int) string {
		if n.Kind != yaml.MappingNode || len(n.Content) < 2 || m.r.Intn(4) > 0 {
			return ""
		}
		n.Content = append(n.Content, twin(n.Content[0]), twin(n.Content[1]))
		return n.Content[0].Value
	}},
	{"a value of another kind", func(m *mutator, n, parent *yaml.Node, at int) string {
		*n = *m.anything()
		return fmt.Sprintf("%d %q", n.Kind, n.Value)
	}},
	{"a value from elsewhere", func(m *mutator, n, parent *yaml.Node, at int) string {
		s := m.all[m.r.Intn(len(m.all))]
		if n.Kind != yaml.ScalarNode || s.node.Kind != yaml.ScalarNode {
			return ""
		}
		was := n.Value
		*n = *s.node
		return was + " to " + n.Value
	}},
	{"a unit missing", func(m *mutator, n, parent *yaml.Node, at int) string {
		q := quantity.FindStringSubmatch(n.Value)
		if n.Kind != yaml.ScalarNode || q == nil {
			return ""
		}
		*n = *scalar("", q[1])
		return q[0]
	}},
	{"a unit misspelt", func(m *mutator, n, parent *yaml.Node, at int) string {
		q := quantity.FindStringSubmatch(n.Value)
		if n.Kind != yaml.ScalarNode || q == nil {
			return ""
		}
		n.Value = q[1] + m.pick("", " ", "  ") + m.misspell(q[2])
		return q[0] + " to " + n.Value
	}},
	{"a unit in another spelling", func(m *mutator, n, parent *yaml.Node, at int) string {
		q := quantity.FindStringSubmatch(n.Value)
		if n.Kind != yaml.ScalarNode || q == nil {
			return ""
		}
		unit := strings.NewReplacer("Ω", m.pick("ohm", "\u2126", "Ohms", "Ω"), "²", m.pick("2", "^2", "²"), "u", m.pick("µ", "\u03bc", "u"), "µ", m.pick("u", "\u03bc"), "°", m.pick("", "° "), "/", m.pick("/", " / ", "/ ")).Replace(q[2])
		n.Value = q[1] + m.pick("", " ", "\u00a0", "\u202f", "  ") + unit
		return q[0] + " to " + n.Value
	}},
	{"a number in another form", func(m *mutator, n, parent *yaml.Node, at int) string {
		q := quantity.FindStringSubmatch(n.Value)
		if n.Kind != yaml.ScalarNode || q == nil {
			return ""
		}
		n.Value = m.pick("-", "+", "0", "−", "1e1", "", ".", ",", "1,", "x") + q[1] + m.pick("", "e1", "e-1", ".", ",5", "E2", "e") + " " + q[2]
		return q[0] + " to " + n.Value
	}},
	{"a word misspelt", func(m *mutator, n, parent *yaml.Node, at int) string {
		if n.Kind != yaml.ScalarNode || quantity.MatchString(n.Value) {
			return ""
		}
		was := n.Value
		n.Value = m.misspell(was)
		return was + " to " + n.Value
	}},
	{"in quotes", func(m *mutator, n, parent *yaml.Node, at int) string {
		if n.Kind != yaml.ScalarNode || n.Tag == "!!null" {
			return ""
		}
		n.Tag, n.Style = "!!str", yaml.DoubleQuotedStyle
		return n.Value
	}},
	{"yes for true", func(m *mutator, n, parent *yaml.Node, at int) string {
		if n.Kind != yaml.ScalarNode || n.Tag != "!!bool" && n.Value != "yes" && n.Value != "no" {
			return ""
		}
		*n = *scalar("", m.pick("yes", "no", "true", "false", "Yes", "NO", "True", "on", "off", "y"))
		return n.Value
	}},
	{"a list for a map", func(m *mutator, n, parent *yaml.Node, at int) string {
		if n.Kind != yaml.MappingNode || m.r.Intn(3) > 0 {
			return ""
		}
		n.Kind, n.Tag = yaml.SequenceNode, ""
		return fmt.Sprint(len(n.Content))
	}},
	{"an item more or less", func(m *mutator, n, parent *yaml.Node, at int) string {
		if parent.Kind != yaml.SequenceNode {
			return ""
		}
		if m.r.Intn(2) == 0 {
			parent.Content = slices.Delete(parent.Content, at, at+1)
			return "less"
		}
		parent.Content = slices.Insert(parent.Content, at, m.pickNode(n))
		return "more"
	}},
	{"alone for a list", func(m *mutator, n, parent *yaml.Node, at int) string {
		if n.Kind != yaml.SequenceNode || len(n.Content) == 0 {
			return ""
		}
		*n = *twin(n.Content[0])
		return n.Value
	}},
}

// pickNode is a node like another, or anything.
func (m *mutator) pickNode(like *yaml.Node) *yaml.Node {
	if m.r.Intn(2) == 0 {
		return m.anything()
	}
	return twin(like)
}

// twin is a node like another, with nothing in common.
func twin(n *yaml.Node) *yaml.Node {
	again := *n
	again.Content = nil
	for _, child := range n.Content {
		again.Content = append(again.Content, twin(child))
	}
	return &again
}
