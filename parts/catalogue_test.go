package parts_test

import (
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

func TestEveryNumberHasABasisAndASource(t *testing.T) {
	count := map[string]int{}
	for name, facts := range decode(t) {
		if len(facts) < 3 {
			t.Errorf("%s states almost nothing", name)
		}
		for _, f := range facts {
			if f.Basis == "" || f.Basis == string(parts.Unstated) || f.Source == "" {
				switch f.Key {
				case "protocol", "curve", "phase", "limit", "parallel", "ground_fuse", "holder": // words, not numbers
				default:
					t.Errorf("%s %s: basis %q, source %q", name, f.Key, f.Basis, f.Source)
				}
			}
			count[f.Basis]++
		}
	}
	t.Logf("numbers by basis: %v", count)
	if count["standard"] < 30 || count["datasheet"] < 60 {
		t.Errorf("the count by basis looks broken: %v", count)
	}
}
