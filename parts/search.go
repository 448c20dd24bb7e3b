package parts

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"farend/unit"
)

// A Query says what a part must be: of a kind, with all of some words in its name, its title or the numbers of its chips, and
// within all of some bounds.
type Query struct {
	Kind   string // "" is any
	Words  []string
	Bounds []Bound
}

// A Bound is a quantity as it was typed. Without a sign, a part must state it somewhere; with one, the first that the part states
// of that quantity, which is its rating, must be on that side.
type Bound struct {
	Sign string // "", ">", ">=", "<" or "<="
	Text string // "10 A"
}

// A Match is a part that a query finds, with what it states that the bounds are about.
type Match struct {
	Name, Title string
	Stated      []Fact
}

// signs are the spellings of a side, the longer ones first. The words do not need quotes in a shell.
var signs = []struct{ typed, sign string }{{">=", ">="}, {"<=", "<="}, {"≥", ">="}, {"≤", "<="}, {">", ">"}, {"<", "<"}, {"=", ""}}

var signWords = map[string]string{"from": ">=", "to": "<="}

// NewQuery reads what was typed: kinds, words and quantities, such as "tape 5 V 60/m" or "supply >=10A". The first word that is a
// kind asks for that kind. The error, if any, is a *unit.Error.
func NewQuery(typed []string) (Query, error) {
	var q Query
	fields := translated(strings.Fields(strings.Join(typed, " ")))
	for len(fields) > 0 {
		bound, taken, err := readBound(fields)
		switch {
		case err != nil:
			return Query{}, err
		case taken > 0:
			q.Bounds = append(q.Bounds, bound)
		case q.Kind == "" && kindOf(fields[0]) != "":
			q.Kind, taken = kindOf(fields[0]), 1
		default:
			q.Words, taken = append(q.Words, fields[0]), 1
		}
		fields = fields[taken:]
	}
	if q.Kind == "cable" {
		q.areas()
	}
	return q, nil
}

// areas takes millimetres for square millimetres, as people say of cables (common practice, no source).
func (q *Query) areas() {
	for i, b := range q.Bounds {
		if _, err := unit.Parse[unit.Metre](b.Text); err == nil && strings.HasSuffix(b.Text, "mm") {
			q.Bounds[i].Text += "²"
		}
	}
}

// kindOf is the kind that a word names, also in the plural; "" if it names none.
func kindOf(word string) string {
	word = strings.ToLower(word)
	for _, kind := range Kinds() {
		if word == kind || word == kind+"s" || strings.HasSuffix(kind, "y") && word == strings.TrimSuffix(kind, "y")+"ies" {
			return kind
		}
	}
	return tradeWords[strings.TrimSuffix(word, "s")]
}

// readBound reads the quantity that the fields begin with and says how many of them it takes, none where they begin with a word.
func readBound(fields []string) (Bound, int, error) {
	sign, rest, signed := cutSign(fields[0])
	taken := 1
	if word, ok := signWords[strings.ToLower(fields[0])]; ok {
		sign, rest = word, ""
	}
	if rest == "" && len(fields) > 1 {
		rest, taken = fields[1], 2
	}
	if !measured(pointed(rest)) && len(fields) > taken {
		rest, taken = rest+" "+fields[taken], taken+1
	}
	switch {
	case measured(rest):
		return Bound{sign, rest}, taken, nil
	case measured(pointed(rest)):
		_, err := unit.Parse[unit.Metre](rest)
		return Bound{}, 0, err
	case signed:
		typed := strings.Join(fields[:min(len(fields), 2)], " ")
		return Bound{}, 0, &unit.Error{Text: strconv.Quote(typed) + " is no limit: it needs a number and its unit", Hint: "write for example '>10A', or from 10 A"}
	}
	return Bound{}, 0, nil
}

func cutSign(field string) (sign, rest string, signed bool) {
	for _, s := range signs {
		if rest, ok := strings.CutPrefix(field, s.typed); ok {
			return s.sign, rest, true
		}
	}
	return "", field, false
}

// pointed is a text with a point for its first comma, with which every dimension finds the same fault.
func pointed(text string) string { return strings.Replace(text, ",", ".", 1) }

// measured reports whether a text is a quantity.
func measured(text string) bool {
	return slices.ContainsFunc(unit.Dimensions(), func(d *unit.Dimension) bool { _, err := d.Parse(text); return err == nil })
}

// Search lists the parts that a query finds, kind by kind.
func (l *Library) Search(q Query) []Match {
	found := []Match{}
	for _, kind := range Kinds() {
		if q.Kind != "" && kind != q.Kind {
			continue
		}
		found = append(found, l.ofKind(kind, q)...)
	}
	return found
}

// ofKind lists the parts of a kind that a query finds: those that are rated so, or else those that state it anywhere.
func (l *Library) ofKind(kind string, q Query) []Match {
	var all, rated []Match
	for _, name := range l.Names(kind) {
		part, _ := l.Find(name)
		facts := Facts(part)
		if !speaksOf(name, Title(part), facts, q.Words) {
			continue
		}
		stated, within := within(facts, q.Bounds)
		if !within {
			continue
		}
		all = append(all, Match{name, Title(part), stated})
		if !slices.ContainsFunc(q.Bounds, func(b Bound) bool { return !b.rates(facts) }) {
			rated = append(rated, all[len(all)-1])
		}
	}
	if several := kind == "board" || kind == "enclosure"; several || len(rated) == 0 { // these are rated in several places alike
		return all
	}
	return rated
}

// rates reports whether the rating of a part keeps a bound.
func (b Bound) rates(facts []Fact) bool {
	f, want, ok := b.rating(facts)
	return ok && b.holds(f.Value, want)
}

// speaksOf reports whether a part has all of the words.
func speaksOf(name, title string, facts []Fact, words []string) bool {
	text := strings.ToLower(vocabulary(name, title, facts))
	return !slices.ContainsFunc(words, func(w string) bool {
		if n, err := strconv.ParseFloat(w, 64); err == nil && digit(w[len(w)-1]) {
			return !counts(text, facts, n)
		}
		return !strings.Contains(text, strings.ToLower(w))
	})
}

// counts reports whether a number stands in a text, as a whole, or is how many cores or ways a part has.
func counts(text string, facts []Fact, n float64) bool {
	for text != "" {
		var first string
		first, text = token(text)
		if v, err := strconv.ParseFloat(first, 64); err == nil && v == n {
			return true
		}
	}
	return slices.ContainsFunc(facts, func(f Fact) bool { return (f.Key == "cores" || f.Key == "ways") && f.Value == n })
}

// vocabulary is the text in which words are looked for.
func vocabulary(name, title string, facts []Fact) string {
	text := name + " " + title
	for _, f := range facts {
		if strings.HasPrefix(f.Key, "chips.") && strings.HasSuffix(f.Key, ".part") {
			text += " " + f.Text
		}
	}
	return text
}

// Vocabulary is every word of three letters and more in which a part can be found, once, for the spelling of what was typed.
func (l *Library) Vocabulary() []string {
	all := Kinds()
	for _, name := range l.Names("") {
		part, _ := l.Find(name)
		text := strings.ToLower(vocabulary(name, Title(part), Facts(part)))
		all = append(all, strings.FieldsFunc(text, func(r rune) bool { return strings.ContainsRune(" /-,.()×", r) })...)
	}
	slices.Sort(all)
	return slices.DeleteFunc(slices.Compact(all), func(w string) bool { return len(w) < 3 })
}

// within is the facts that keep the bounds, one or more for each; false if one is not kept.
func within(facts []Fact, bounds []Bound) ([]Fact, bool) {
	var stated []Fact
	for _, b := range bounds {
		kept := b.keep(facts)
		if len(kept) == 0 {
			return nil, false
		}
		for _, f := range kept {
			if !slices.Contains(stated, f) {
				stated = append(stated, f)
			}
		}
	}
	return stated, true
}

// keep is the facts that keep a bound.
func (b Bound) keep(facts []Fact) []Fact {
	var kept []Fact
	for _, f := range facts {
		want, ok := b.in(f.Of)
		if !ok {
			continue
		}
		if b.holds(f.Value, want) {
			kept = append(kept, f)
		}
		if b.Sign != "" {
			break
		}
	}
	return kept
}

// in is the bound in SI, and whether it is a quantity of that dimension.
func (b Bound) in(d *unit.Dimension) (float64, bool) {
	if d == nil {
		return 0, false
	}
	v, err := d.Parse(b.Text)
	return v, err == nil
}

func (b Bound) holds(value, want float64) bool {
	slack := slack(b.Text) * math.Abs(want)
	switch b.Sign {
	case ">":
		return value > want+slack
	case ">=":
		return value >= want-slack
	case "<":
		return value < want-slack
	case "<=":
		return value <= want+slack
	}
	return math.Abs(value-want) <= slack
}

// slack is by how much, as a fraction, a number may differ from one that was typed: half of its last digit, and no more than three
// figures leave, which is how numbers are shown.
func slack(typed string) float64 {
	const rounding = 1e-9
	end := strings.IndexFunc(typed, func(r rune) bool { return !strings.ContainsRune("+-−.0123456789", r) })
	number := strings.ReplaceAll(typed[:max(end, 0)], "−", "-")
	v, err := strconv.ParseFloat(number, 64)
	if err != nil || v == 0 {
		return rounding
	}
	_, decimals, _ := strings.Cut(number, ".")
	half := 0.5 * math.Pow(10, -float64(len(decimals))) / math.Abs(v)
	return min(half, 5e-3) + rounding
}

// Nearest is, for the bound without which most parts are found, the ratings there that are next to it: one at it or below, one
// above.
func (l *Library) Nearest(q Query) (Bound, []Fact) {
	var blamed Bound
	var nearest []Fact
	most := 0
	for i, b := range q.Bounds {
		rest := Query{q.Kind, q.Words, slices.Delete(slices.Clone(q.Bounds), i, i+1)}
		if near, n := l.neighbours(rest, b), len(l.Search(rest)); len(near) > 0 && n > most {
			blamed, nearest, most = b, near, n
		}
	}
	return blamed, nearest
}

func (l *Library) neighbours(q Query, b Bound) []Fact {
	var below, above []Fact // one at most
	for _, m := range l.Search(q) {
		part, _ := l.Find(m.Name)
		f, want, ok := b.rating(Facts(part))
		switch {
		case !ok:
		case f.Value <= want && (below == nil || f.Value > below[0].Value):
			below = []Fact{f}
		case f.Value > want && (above == nil || f.Value < above[0].Value):
			above = []Fact{f}
		}
	}
	return append(below, above...)
}

// rating is the first fact of a bound's quantity, with the bound in SI.
func (b Bound) rating(facts []Fact) (f Fact, want float64, ok bool) {
	for _, f := range facts {
		if want, ok := b.in(f.Of); ok {
			return f, want, true
		}
	}
	return Fact{}, 0, false
}
