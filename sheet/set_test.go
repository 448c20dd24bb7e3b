package sheet_test

import (
	"errors"
	"farend/internal/pagetest"
	"farend/internal/schemetest"
	"farend/internal/sheettest"
	"farend/sheet"
	"farend/sheet/drafting"
	"farend/study"
	"slices"
	"testing"
)

// Every sheet of a set has a name of its own, and is what its name says; all kinds are there, in their order. One page of each kind is
// kept as text: a change there is a change of what people see.
func TestSetsHaveEveryKindOfSheet(t *testing.T) {
	st := schemetest.Study(t, "../examples/footbridge.scheme.yaml")
	kept := map[sheet.Kind]bool{sheet.OfRun: true, sheet.OfProfile: true, sheet.OfTimeCurrent: true} // by tests of their own
	var names []string
	var kinds []sheet.Kind
	for _, s := range sheet.Set(st, nil, sheettest.A3) {
		names = append(names, s.Name)
		if len(kinds) == 0 || kinds[len(kinds)-1] != s.Kind {
			kinds = append(kinds, s.Kind)
		}
		if s.Kind == sheet.OfTimeCurrent && s.Of != "A1.1" {
			continue // the others are like it
		}
		leaves, err := s.Make(t.Context())
		if err != nil || len(leaves) == 0 || leaves[0].Name != s.Name || s.Title == "" {
			t.Fatalf("%s: %d leaves, %v", s.Name, len(leaves), err)
		}
		page := sheettest.Bound(st, leaves[0])
		for _, complaint := range pagetest.Complaints(&page) {
			t.Errorf("%s: %s", s.Name, complaint)
		}
		if !kept[s.Kind] {
			kept[s.Kind] = true
			sheettest.Golden(t, "testdata/footbridge."+s.Name+".scene.txt", page)
		}
	}
	if !slices.Equal(kinds, sheet.Kinds()) {
		t.Errorf("the kinds are %v, want %v", kinds, sheet.Kinds())
	}
	slices.Sort(names)
	if all := len(names); len(slices.Compact(names)) < all {
		t.Errorf("some name stands twice in %v", names)
	}
}

// A fault that cannot burn at a place is an error that says so.
func TestNoFaultBurnsWhereNoSupplyReaches(t *testing.T) {
	st := schemetest.Study(t, "../examples/footbridge.scheme.yaml")
	_, err := sheet.Place(st, "A1.P1", sheettest.A3).Make(t.Context())
	var why *drafting.Error
	if !errors.As(err, &why) || why.Hint == "" {
		t.Errorf("of a port: %v", err)
	}
	empty := &study.Study{Scheme: schemetest.Unsolved(t, "empty", "farend: 1\n").Scheme, Network: schemetest.Unsolved(t, "empty", "farend: 1\n").Network}
	for _, s := range sheet.Set(empty, nil, sheettest.A3) {
		if s.Kind != sheet.OfPlan && s.Kind != sheet.OfSingleLine {
			t.Errorf("an empty scheme has the sheet %s", s.Name)
		}
	}
}
