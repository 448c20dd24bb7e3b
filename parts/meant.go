package parts

import (
	"cmp"
	"math"
	"slices"
	"strconv"
	"strings"

	"farend/finding"
)

// longest is the length of a name that may still be meant to be another, in bytes: several times that of the longest in the catalogue.
const longest = 200

// Meant is the names that a name which no part of a kind has was probably meant to be, the likeliest first: none, one, or the two
// sizes between which it lies. The kind may be left out of the name: flex-2x2.5 is cable/flex-2x2.5.
func (l *Library) Meant(kind, name string) []string {
	if len(name) > longest {
		return nil
	}
	names := l.Names(kind)
	full := kind + "/" + strings.TrimPrefix(strings.TrimPrefix(name, Kind(name)), "/")
	if i := slices.IndexFunc(names, func(n string) bool { return strings.EqualFold(n, full) }); i >= 0 {
		return names[i : i+1]
	}
	near := finding.DidYouMean(full, names)
	if near != "" && (unpointed.Replace(near) == unpointed.Replace(full) || swapped(near, full)) {
		return []string{near}
	}
	if sizes := nearestSizes(full, names); len(sizes) > 0 {
		return sizes
	}
	if near != "" {
		return []string{near}
	}
	return nil
}

// swapped reports whether two names have the same characters in another order: figures that changed places.
func swapped(a, b string) bool {
	x, y := []byte(a), []byte(b)
	slices.Sort(x)
	slices.Sort(y)
	return slices.Equal(x, y)
}

var unpointed = strings.NewReplacer(".", "", "-", "", "_", "")

// Named is the names of a kind that hold a text, small letters or not.
func (l *Library) Named(kind, text string) []string {
	text = strings.ToLower(strings.TrimPrefix(text, kind+"/"))
	if text == "" {
		return nil
	}
	return slices.DeleteFunc(l.Names(kind), func(n string) bool {
		return !strings.Contains(strings.ToLower(strings.TrimPrefix(n, kind)), text)
	})
}

// Rated is the name of a part of a kind that is rated as a text says, if the text is a quantity and there is such a part; one
// whose name begins with the usual text is the first choice.
func (l *Library) Rated(kind, text, usual string) (string, bool) {
	bound, rated := Bound{Text: text}, ""
	if !measured(text) {
		return "", false
	}
	for _, name := range l.Names(kind) {
		part, _ := l.Find(name)
		f, want, ok := bound.rating(Facts(part))
		if !ok || !bound.holds(f.Value, want) {
			continue
		}
		if strings.HasPrefix(name, usual) {
			return name, true
		}
		rated = cmp.Or(rated, name)
	}
	return rated, rated != ""
}

// A size is a name that differs from another in its numbers only: in one of them by this ratio, as a logarithm.
type size struct {
	name string
	at   int // which of the numbers, counted from 0; −1 where several differ
	far  float64
}

// nearestSizes is the name with the nearest numbers, among those that are the same but for the numbers, and after it the next
// on the other side if that is not twice as far: 3 lies between 2.5 and 4. A number thrice as large or as small was rather mistyped,
// and one that begins with a needless nought is none.
func nearestSizes(name string, names []string) []string {
	frame, numbers := framed(name)
	if len(numbers) == 0 {
		return nil
	}
	var sizes []size
	for _, n := range names {
		if other, theirs := framed(n); other == frame && len(theirs) == len(numbers) {
			if s := apartBy(numbers, theirs); math.Abs(s.far) < math.Log(3) {
				s.name = n
				sizes = append(sizes, s)
			}
		}
	}
	slices.SortStableFunc(sizes, func(a, b size) int { return cmp.Compare(math.Abs(a.far), math.Abs(b.far)) })
	if len(sizes) == 0 {
		return nil
	}
	first := sizes[0]
	for _, s := range sizes[1:] {
		if s.at == first.at && s.far*first.far < 0 && math.Abs(s.far) < 2*math.Abs(first.far) {
			return []string{first.name, s.name}
		}
	}
	return []string{first.name}
}

// framed is a name in small letters with # for its numbers, and the numbers.
func framed(name string) (frame string, numbers []float64) {
	name = strings.ToLower(name) // as a whole: token cuts inside other characters than those of ASCII
	for name != "" {
		var first string
		first, name = token(name)
		n, err := strconv.ParseFloat(first, 64)
		if err == nil && n > 0 && (first[0] != '0' || strings.HasPrefix(first, "0.")) {
			first, numbers = "#", append(numbers, n)
		}
		frame += first
	}
	return frame, numbers
}

// apartBy is how far numbers are from others.
func apartBy(numbers, others []float64) size {
	s := size{at: -1}
	for i, n := range numbers {
		switch far := math.Log(others[i] / n); {
		case far == 0:
		case s.far == 0:
			s.at, s.far = i, far
		default:
			s.at, s.far = -1, math.Abs(s.far)+math.Abs(far)
		}
	}
	return s
}
