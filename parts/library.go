package parts

import (
	"cmp"
	"embed"
	"io"
	"maps"
	"slices"
	"strconv"
	"strings"
	"sync"

	"farend/internal/document"
)

//go:embed catalogue
var embedded embed.FS

// A kind is one family of parts: the word before the slash of its names, and how to make an empty one.
type kind struct {
	name string
	make func() any
}

// kinds is every family, in the order in which they are listed.
var kinds = sync.OnceValue(func() []kind {
	return []kind{
		{"tape", func() any { return new(Tape) }},
		{"protocol", func() any { return new(Protocol) }},
		{"cable", func() any { return new(Cable) }},
		{"fuse", func() any { return new(Fuse) }},
		{"curve", func() any { return new(Curve) }},
		{"supply", func() any { return new(Supply) }},
		{"board", func() any { return new(Board) }},
		{"enclosure", func() any { return new(Enclosure) }},
		{"connector", func() any { return new(Connector) }},
		{"junction", func() any { return new(Junction) }},
		{"relay", func() any { return new(Relay) }},
		{"capacitor", func() any { return new(Capacitor) }},
		{"buffer", func() any { return new(Buffer) }},
	}
})

// Kinds lists the words that may stand before the slash of a part's name.
func Kinds() []string { return slices.Clone(words()) }

var words = sync.OnceValue(func() (list []string) {
	for _, k := range kinds() {
		list = append(list, k.name)
	}
	return list
})

// Kind is the word before the slash of a part's name, "" where there is no slash.
func Kind(name string) string {
	word, _, found := strings.Cut(name, "/")
	if !found {
		return ""
	}
	return word
}

// empty makes a part of the kind that name begins with, nil where there is no such kind.
func empty(name string) any {
	for _, k := range kinds() {
		if k.name == Kind(name) {
			return k.make()
		}
	}
	return nil
}

// A Set is parts by name, each a pointer to the struct of its kind: *Tape, *Protocol, *Cable and so on.
type Set map[string]any

// A Library answers for parts by name: the user's own first, then the catalogue that comes with the program. It is safe
// for use by several goroutines, and the parts it hands out are shared: read them, do not write to them.
type Library struct {
	own    Set
	shared *shelf
}

// Catalogue is the library of the parts that come with the program. It reads none of them until it is asked, and each once in a process.
func Catalogue() *Library { return &Library{shared: &embeddedShelf} }

// embeddedShelf is what of the embedded catalogue was decoded so far: of what never changes a copy that only makes asking again fast.
var embeddedShelf = shelf{texts: map[string]string{}, parts: map[string]any{}, sorted: map[string][]string{}}

// With is the library with the given parts before those it has; l is unchanged.
func (l *Library) With(own Set) *Library {
	both := maps.Clone(l.own)
	if both == nil {
		both = Set{}
	}
	maps.Copy(both, own)
	return &Library{own: both, shared: l.shared}
}

// Find is the part of that name. The second result is false where there is none.
func (l *Library) Find(name string) (any, bool) {
	if part, ok := l.own[name]; ok {
		return part, true
	}
	return l.shared.find(name)
}

// Get is the part of that name if it is a T, such as parts.Get[parts.Tape](library, "tape/5v-rgb-60").
func Get[T any](l *Library, name string) (*T, bool) {
	part, _ := l.Find(name)
	typed, ok := part.(*T)
	return typed, ok && typed != nil
}

// Own reports whether the part of that name is the user's own, though the catalogue may have one of the same name.
func (l *Library) Own(name string) bool {
	_, ok := l.own[name]
	return ok
}

// has reports whether there is a part of that name, without decoding it.
func (l *Library) has(name string) bool {
	l.shared.lock.Lock()
	defer l.shared.lock.Unlock()
	_, ok := block(l.shared.text(Kind(name)), name)
	return ok || l.Own(name)
}

// Names is the name of every part of a kind, or of all kinds where it is "". Numbers in names are put in the order of
// their value, so that 2x4 comes before 2x10.
func (l *Library) Names(kind string) []string {
	var names []string
	for _, k := range words() {
		if kind == "" || kind == k {
			names = append(names, l.shared.names(k)...)
		}
	}
	if kind == "" {
		slices.SortFunc(names, natural)
	}
	for name := range l.own {
		if kind != "" && kind != Kind(name) {
			continue
		}
		if at, there := slices.BinarySearchFunc(names, name, natural); !there {
			names = slices.Insert(names, at, name)
		}
	}
	return names
}

// A shelf is the embedded catalogue: the text of each kind, and the parts and lists of names made so far.
type shelf struct {
	lock   sync.Mutex
	texts  map[string]string
	parts  map[string]any
	sorted map[string][]string
}

// find decodes the part's own block of text, once; where two ask at the same time the first to be done is kept. No lock is held
// meanwhile, for parts that name others ask for those.
func (s *shelf) find(name string) (any, bool) {
	s.lock.Lock()
	part, known := s.parts[name]
	if known {
		s.lock.Unlock()
		return part, true
	}
	text, ok := block(s.text(Kind(name)), name)
	s.lock.Unlock()
	if !ok {
		return nil, false
	}
	var one Set
	_, mistakes := document.Read("catalogue/"+Kind(name)+".yaml", []byte(text), &one)
	part, ok = one[name]
	if !ok || len(mistakes) > 0 {
		return nil, false
	}
	s.lock.Lock()
	defer s.lock.Unlock()
	if first, done := s.parts[name]; done {
		return first, true
	}
	s.parts[name] = part
	return part, true
}

// names is the name of every part of a kind, sorted once; nobody writes to it.
func (s *shelf) names(kind string) []string {
	s.lock.Lock()
	defer s.lock.Unlock()
	if names, done := s.sorted[kind]; done {
		return names
	}
	var names []string
	for line := range strings.Lines(s.text(kind)) {
		if name, ok := heading(line); ok {
			names = append(names, name)
		}
	}
	slices.SortFunc(names, natural)
	s.sorted[kind] = names
	return names
}

// text is the embedded file of a kind, "" where there is none. The caller holds the lock.
func (s *shelf) text(kind string) string {
	text, read := s.texts[kind]
	if !read && slices.Contains(words(), kind) {
		text = embeddedText("catalogue/" + kind + ".yaml")
		s.texts[kind] = text
	}
	return text
}

// embeddedText is an embedded file, copied once.
func embeddedText(name string) string {
	file, err := embedded.Open(name)
	if err != nil {
		return ""
	}
	defer file.Close()
	var text strings.Builder
	if about, err := file.Stat(); err == nil {
		text.Grow(int(about.Size()))
	}
	if _, err := io.Copy(&text, file); err != nil {
		return ""
	}
	return text.String()
}

// heading is the part's name if the line begins a part: "tape/5v-rgb-60:" at the left margin.
func heading(line string) (string, bool) {
	name, _, found := strings.Cut(line, ":")
	return name, found && name != "" && name[0] >= 'a' && name[0] <= 'z' && strings.Contains(name, "/")
}

// block is the lines of one part: its heading and everything up to the next one.
func block(text, name string) (string, bool) {
	if name == "" || strings.ContainsAny(name, ":\n") {
		return "", false
	}
	start := strings.Index(text, "\n"+name+":") + 1 // 0: none, or the first part of a text without a heading comment
	if start == 0 && !strings.HasPrefix(text, name+":") {
		return "", false
	}
	end := start
	for line := range strings.Lines(text[start:]) {
		if _, next := heading(line); next && end > start {
			break
		}
		end += len(line)
	}
	return text[start:end], true
}

// natural compares names so that the numbers in them count by value and the rest by letters.
func natural(a, b string) int {
	for a != "" && b != "" {
		x, restA := token(a)
		y, restB := token(b)
		order := cmp.Compare(x, y)
		if order != 0 && digit(x[0]) && digit(y[0]) {
			u, _ := strconv.ParseFloat(x, 64)
			v, _ := strconv.ParseFloat(y, 64)
			order = cmp.Or(cmp.Compare(u, v), order)
		}
		if order != 0 {
			return order
		}
		a, b = restA, restB
	}
	return cmp.Compare(len(a), len(b))
}

// token splits off the number, or the one character, that a name begins with.
func token(name string) (first, rest string) {
	i := 0
	for i < len(name) && (digit(name[i]) || name[i] == '.' && i > 0 && i+1 < len(name) && digit(name[i+1])) {
		i++
	}
	i = max(i, 1)
	return name[:i], name[i:]
}

func digit(c byte) bool { return c >= '0' && c <= '9' }
