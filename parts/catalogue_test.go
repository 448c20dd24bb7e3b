package parts_test

import (
	"regexp"
	"strings"
	"testing"

	"farend/parts"
)

// decode demands every part of the catalogue and gives its facts.
func decode(t *testing.T) map[string][]parts.Fact {
	t.Helper()
	all := map[string][]parts.Fact{}
	library := parts.Catalogue()
	for _, name := range library.Names("") {
		part, ok := library.Find(name)
		if !ok {
			t.Errorf("%s cannot be read: %v", name, parts.Mistakes(name))
			continue
		}
		all[name] = parts.Facts(part)
	}
	return all
}

// pointer reports whether a fact is no claim about the part but the name of another part, or of a source.
func pointer(f parts.Fact) bool {
	return strings.HasSuffix(f.Key, ".source") || parts.Kind(f.Text) != "" && !f.Number
}

func TestEveryNumberHasABasisAndASource(t *testing.T) {
	for name, facts := range decode(t) {
		if len(facts) < 3 {
			t.Errorf("%s states almost nothing", name)
		}
		for _, f := range facts {
			if !pointer(f) && (f.Basis == "" || f.Basis == string(parts.Unstated) || f.Source == "") {
				t.Errorf("%s %s: basis %q, source %q", name, f.Key, f.Basis, f.Source)
			}
		}
	}
}

// weakest is how a source names the weakest input of what was computed; what follows must say something.
var weakest = regexp.MustCompile(`weakest input: [^;]{4,}`)

// A derived number is as good as the weakest number that went into it, so its source says which that is.
func TestEveryDerivedNumberNamesItsWeakestInput(t *testing.T) {
	count := 0
	for name, facts := range decode(t) {
		for _, f := range facts {
			if f.Basis != string(parts.Derived) || pointer(f) {
				continue
			}
			count++
			if !weakest.MatchString(f.Source) {
				t.Errorf("%s %s: %q names no weakest input", name, f.Key, f.Source)
			}
		}
	}
	if count < 50 {
		t.Errorf("only %d numbers are derived", count)
	}
}

// admitted are words by which a source says that nobody stands behind a number. A basis better than practice does not go with them,
// unless they speak of something beside the number.
var admitted = regexp.MustCompile(`no sheet (was )?(seen|read)|no source|no figure (was )?read|not read$|by memory|common practice`)

func TestNoSourceContradictsItsBasis(t *testing.T) {
	weak := map[string]bool{string(parts.Memory): true, string(parts.Practice): true, string(parts.Derived): true, string(parts.Invented): true}
	for name, facts := range decode(t) {
		for _, f := range facts {
			if said := admitted.FindString(f.Source); said != "" && !weak[f.Basis] {
				t.Errorf("%s %s is called %s, and its source says %q: %s", name, f.Key, f.Basis, said, f.Source)
			}
		}
	}
}
