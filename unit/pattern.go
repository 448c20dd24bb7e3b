package unit

import (
	"cmp"
	"maps"
	"regexp"
	"slices"
	"strings"
)

// Parts of patterns. They are regular expressions that Go, ECMAScript and others read alike: no look-around, no classes by
// name. The blanks are all that Unicode calls white space (strings.TrimSpace).
const (
	blanks    = "[\t-\r \u0085\u00a0\u1680\u2000-\u200a\u2028\u2029\u202f\u205f\u3000]*"
	numerals  = "[+−-]?([0-9]+\\.?[0-9]*|\\.[0-9]+)([eE][+−-]?[0-9]+)?"
	gauges    = "([0-9]|[1-3][0-9]|40)" + blanks + "[aA][wW][gG]"
	beginning = "^" + blanks
	ending    = blanks + "$"
)

// Pattern is a regular expression that matches what Parse reads: a number and each spelling of each unit. Only a number too
// large for a float64 matches and is not read.
func (d *Dimension) Pattern() string {
	one := numerals + blanks + "(" + strings.Join(d.units(), "|") + ")"
	if d == area {
		one = "(" + one + "|" + gauges + ")"
	}
	return beginning + one + ending
}

// units is a pattern for each unit of the dimension, in a lasting order.
func (d *Dimension) units() []string {
	names := slices.SortedFunc(maps.Keys(d.read), func(a, b string) int { return cmp.Or(cmp.Compare(len(a), len(b)), cmp.Compare(a, b)) })
	for i, name := range names {
		names[i] = spelt(name)
	}
	if d == temperature {
		return []string{"°?" + blanks + "(" + strings.Join(names, "|") + ")", "\u2103", "\u2109"}
	}
	return names
}

// spelt is a pattern for the spellings of a unit of the tables: what canonical folds into it.
func spelt(name string) string {
	return strings.NewReplacer("µ", "[uµ\u03bc]", "Ω", "(Ω|\u2126|[oO]hms?)", "/", " ?/ ?", "A2s", "A(2 ?|² ?|\\^2|(2|²|\\^2)·)s", "m2K", "m(2|²|\\^2)·?K", "Nm", "N·?m",
		"2", "(2|²|\\^2)").Replace(regexp.QuoteMeta(name))
}

// Pattern is a regular expression that matches the tariffs that are read, as Dimension.Pattern does.
func (Price) Pattern() string { return beginning + numerals + blanks + "[A-Z]{3} ?/ ?kWh" + ending }
