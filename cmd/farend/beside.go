package main

import (
	"fmt"
	"regexp"
	"slices"
	"strings"

	"farend/parts"
)

// A stand is one part in a table of parts side by side: its cells by key, a number's value and basis apart.
type stand struct {
	heading       []string
	facts         map[string]parts.Fact
	values, bases int // widths
	column        int // width in all
}

const unequal = "≠ "

// beside writes parts side by side, a column each: as many as the page has room for, and the others in further tables under it.
// Rows in which not all of the parts are the same begin with ≠.
func (p *page) beside(named []namedPart) {
	p.heading(fmt.Sprintf("%d parts side by side", len(named)))
	names := 0
	for _, part := range named {
		names = max(names, width(part.name))
	}
	for _, part := range named {
		p.entry(parts.Match{Name: part.name, Title: part.title}, min(names, longestName))
	}
	p.blank()
	keys, differ := besideKeys(named), differing(named)
	first := width(unequal)
	for _, key := range keys {
		first = max(first, width(unequal)+width(key))
	}
	var stands []stand
	for _, part := range named {
		stands = append(stands, newStand(part, keys))
	}
	for len(stands) > 0 {
		some := room(stands, columns-first)
		p.stands(stands[:some], keys, differ, first)
		p.blank()
		stands = stands[some:]
	}
	p.line("≠ marks what is not the same for all %d. A whole name alone shows the sources too.", len(named))
}

// room is how many of the stands, at least one, have room beside each other.
func room(stands []stand, left int) int {
	for i, s := range stands {
		if left -= 2 + s.column; left < 0 {
			return max(i, 1)
		}
	}
	return len(stands)
}

// stands writes one table of parts.
func (p *page) stands(stands []stand, keys, differ []string, first int) {
	head := 0
	for _, s := range stands {
		head = max(head, len(s.heading))
	}
	for i := range head {
		line := strings.Repeat(" ", first)
		for _, s := range stands {
			if missing := head - len(s.heading); i >= missing {
				line += "  " + padded(s.heading[i-missing], s.column)
			} else {
				line += "  " + padded("", s.column)
			}
		}
		p.line("%s", p.styled(strings.TrimRight(line, " "), "1"))
	}
	total := first
	for _, s := range stands {
		total += 2 + s.column
	}
	p.line("%s", strings.Repeat("─", min(total, columns)))
	for _, key := range keys {
		if !slices.ContainsFunc(stands, func(s stand) bool { _, ok := s.facts[key]; return ok }) {
			continue
		}
		p.besideRow(stands, key, slices.Contains(differ, key), first)
	}
}

// besideRow writes what the parts state under one key, and under it how far it may be off where one of them says so.
func (p *page) besideRow(stands []stand, key string, differs bool, first int) {
	mark, codes := "  ", ""
	if differs {
		mark, codes = unequal, "1"
	}
	line, spread, spreads := padded(mark+key, first), padded("", first), false
	for _, s := range stands {
		f := s.facts[key]
		line += "  " + padded(s.cell(f), s.column)
		spread += "  " + padded(clip(f.Spread, s.column), s.column)
		spreads = spreads || f.Spread != ""
	}
	line = strings.TrimRight(line, " ")
	if codes != "" {
		line = p.styled(line, codes)
	}
	p.line("%s", line)
	if spreads {
		p.line("%s", spread)
	}
}

// cell is a fact in a stand's column: words as they are, a number with its basis.
func (s stand) cell(f parts.Fact) string {
	if !f.Number {
		return clip(f.Text, s.column)
	}
	return padded(f.Text, s.values) + " " + f.Basis
}

func padded(text string, columns int) string {
	return text + strings.Repeat(" ", max(columns-width(text), 0))
}

// newStand measures a part's column. A heading breaks after its dashes, so that a long name costs lines rather than columns.
func newStand(part namedPart, keys []string) stand {
	const narrowest, widest = 16, 30
	s := stand{facts: map[string]parts.Fact{}}
	words, names := 0, 0
	for _, f := range part.facts {
		if !slices.Contains(keys, f.Key) {
			continue
		}
		f.Text = printable(f.Text)
		s.facts[f.Key] = f
		words = max(words, width(f.Spread))
		if slices.Contains(parts.Kinds(), parts.Kind(f.Text)) && !strings.Contains(f.Text, " ") {
			names = max(names, width(f.Text))
		}
		if f.Number {
			s.values, s.bases = max(s.values, width(f.Text)), max(s.bases, width(f.Basis))
		} else {
			words = max(words, width(f.Text))
		}
	}
	s.column = max(s.values+1+s.bases, min(words, widest), names, narrowest) // the name of a part is whole, to be copied
	s.heading = broken(part.name, s.column)
	return s
}

// broken is a name in lines of at most so many columns, broken after a dash or the stroke where it can be.
func broken(name string, most int) []string {
	var lines []string
	line := ""
	for _, piece := range strings.SplitAfter(strings.ReplaceAll(name, "/", "/\x00"), "\x00") {
		for _, piece := range strings.SplitAfter(strings.TrimSuffix(piece, "\x00"), "-") {
			if line != "" && width(line)+width(piece) > most {
				lines, line = append(lines, line), ""
			}
			line += piece
		}
	}
	return append(lines, line)
}

// ranged is a key under entries that were folded, in three: ways. 1–12 .amps.
var ranged = regexp.MustCompile(`^([^.]+)\.([A-Z]?1)–([A-Z]?[0-9]+)(\..*)$`)

// united gives entries that are all folded into one the key "each", after a row with their range, so that parts with more and fewer
// of them stand in the same rows.
func united(facts []parts.Fact) []parts.Fact {
	var list []parts.Fact
	said := map[string]bool{}
	for _, f := range facts {
		m := ranged.FindStringSubmatch(f.Key)
		if m == nil || slices.ContainsFunc(facts, func(g parts.Fact) bool {
			return strings.HasPrefix(g.Key, m[1]+".") && !strings.HasPrefix(g.Key, m[1]+"."+m[2]+"–"+m[3]+".")
		}) {
			list = append(list, f)
			continue
		}
		if !said[m[1]] {
			said[m[1]] = true
			list = append(list, parts.Fact{Key: m[1], Text: m[2] + "–" + m[3]})
		}
		f.Key = m[1] + ".each" + m[4]
		list = append(list, f)
	}
	return list
}

// besideKeys is every key that one of the parts states, in the order of the fields; the sources of chips stay out.
func besideKeys(named []namedPart) []string {
	var keys []string
	for _, part := range named {
		place := 0
		for _, f := range part.facts {
			if strings.HasSuffix(f.Key, ".source") {
				continue
			}
			if i := slices.Index(keys, f.Key); i >= 0 {
				place = i + 1
			} else {
				keys = slices.Insert(keys, place, f.Key)
				place++
			}
		}
	}
	return keys
}

// differing is the keys under which not all parts state the same, with the same spread and on the same basis.
func differing(named []namedPart) []string {
	keys := []string{}
	for _, key := range besideKeys(named) {
		said := map[string]bool{}
		for _, part := range named {
			i := slices.IndexFunc(part.facts, func(f parts.Fact) bool { return f.Key == key })
			if i < 0 {
				said[""] = true
				continue
			}
			f := part.facts[i]
			said[fmt.Sprint(f.Text, "|", f.Value, "|", f.Spread, "|", f.Basis)] = true
		}
		if len(said) > 1 {
			keys = append(keys, key)
		}
	}
	return keys
}
