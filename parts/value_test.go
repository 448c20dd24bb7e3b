package parts_test

import (
	"math"
	"strings"
	"testing"

	"farend/parts"
	"farend/unit"
)

// fuse reads a fuse whose resistance is as given.
func fuse(t *testing.T, resistance string, more ...string) *parts.Fuse {
	t.Helper()
	set, mistakes := read("fuse/own:\n  title: own\n  rating: 5 A\n  resistance: " + resistance + "\n" + strings.Join(more, ""))
	if len(mistakes) > 0 {
		t.Fatalf("%s: %v", resistance, mistakes)
	}
	return set["fuse/own"].(*parts.Fuse)
}

func TestShortFormIsUnstatedAndHasNoSpread(t *testing.T) {
	v := fuse(t, "18 mΩ").Resistance
	if v != (parts.Value[unit.Ohm]{Is: unit.Must[unit.Ohm]("18 mΩ"), Basis: parts.Unstated, Given: true}) || v.Lower() != v.Is || v.Upper() != v.Is {
		t.Errorf("it reads as %+v", v)
	}
	if f := fuse(t, "18 mΩ"); f.VoltsMax.Given || f.ResistanceHot.Given || f.ResistanceHot.Or(f.Resistance) != f.Resistance {
		t.Error("what is not there is given")
	}
}

func TestLongFormCarriesItsBasisAndSource(t *testing.T) {
	v := fuse(t, `{is: 18 mΩ, basis: measured, source: " bench, 2024 ", spread: 10 %}`).Resistance
	if v.Is != unit.Must[unit.Ohm]("18 mΩ") || v.Basis != parts.Measured || v.Source != "bench, 2024" || v.Spread != (parts.Spread{Low: -0.1, High: 0.1}) {
		t.Errorf("it reads as %+v", v)
	}
	if low, high := float64(v.Lower()), float64(v.Upper()); math.Abs(low-0.0162) > 1e-12 || math.Abs(high-0.0198) > 1e-12 {
		t.Errorf("it lies between %v and %v, want 16.2 and 19.8 mΩ", low, high)
	}
}

func TestBasisAndSourceHoldForAllBelowThem(t *testing.T) {
	f := fuse(t, "{is: 18 mΩ, source: own meter}", "  basis: measured\n  source: bench\n  volts_max: 32 V\n  breaking: {is: 1 kA, basis: memory}\n")
	for what, got := range map[string][2]string{
		"a source of its own":           {f.Resistance.Source, "own meter"},
		"the basis around it":           {string(f.Resistance.Basis), "measured"},
		"both from around the short":    {string(f.VoltsMax.Basis) + " " + f.VoltsMax.Source, "measured bench"},
		"a basis of its own":            {string(f.Breaking.Basis) + " " + f.Breaking.Source, "memory bench"},
		"before the line that names it": {string(f.Rating.Basis), "measured"},
	} {
		if got[0] != got[1] {
			t.Errorf("%s: %q, want %q", what, got[0], got[1])
		}
	}
}

func TestNearestBasisWins(t *testing.T) {
	set, mistakes := read(`board/own:
  title: own
  basis: invented
  source: outer
  inlet: {amps: 30 A, resistance: {is: 1 mΩ, basis: measured}, basis: datasheet, source: inner}
  ways:
    1: {amps: 10 A, resistance: 2 mΩ}
`)
	if len(mistakes) > 0 {
		t.Fatal(mistakes)
	}
	b := set["board/own"].(*parts.Board)
	if b.Inlet.Amps.Basis != parts.Datasheet || b.Inlet.Amps.Source != "inner" || b.Inlet.Resistance.Basis != parts.Measured || b.Ways["1"].Amps.Basis != parts.Invented || b.Ways["1"].Amps.Source != "outer" {
		t.Errorf("it reads as %+v", b)
	}
}

func TestSpreadsReadInEveryForm(t *testing.T) {
	for text, want := range map[string]parts.Spread{
		"10 %":                                   {Low: -0.1, High: 0.1},
		"0 %":                                    {},
		"{low: -30 %, high: 90 %}":               {Low: -0.3, High: 0.9},
		"{low: 0 %, high: 90 %}":                 {High: 0.9},
		"{low: −99 %, high: 250 %}":              {Low: -0.99, High: 2.5},
		"{low: -8 %, high: 8 %, shape: normal}":  {Low: -0.08, High: 0.08, Normal: true},
		"{low: -8 %, high: 8 %, shape: uniform}": {Low: -0.08, High: 0.08},
	} {
		if got := fuse(t, "{is: 18 mΩ, spread: "+text+"}").Resistance.Spread; got != want {
			t.Errorf("%s reads as %+v, want %+v", text, got, want)
		}
	}
}

func TestWrongValuesSayWhatAndWhere(t *testing.T) {
	const order = "a spread goes from a negative low (above −100 %) to a positive high"
	for _, c := range []struct{ value, want string }{
		{"{is: 18 mΩ, spread: 100 %}", "p:4:35: " + order},
		{"{is: 18 mΩ, spread: -5 %}", "p:4:35: " + order},
		{"{is: 18 mΩ, spread: {low: 5 %, high: 10 %}}", "p:4:35: " + order},
		{"{is: 18 mΩ, spread: {low: -20 %, high: -10 %}}", "p:4:35: " + order},
		{"{is: 18 mΩ, spread: {low: -100 %, high: 10 %}}", "p:4:35: " + order},
		{"{is: 18 mΩ, spread: {low: -10 %}}", `p:4:35: "spread" lacks the key "high"`},
		{"{is: 18 mΩ, spread: {low: -10 %, high: 10 %, shape: bell}}", `p:4:67: "shape" cannot be "bell"`},
		{"{is: 18 mΩ, spread: 0.1}", `p:4:35: "0.1" has no unit`},
		{"{is: 18 mΩ, basis: guess}", `p:4:34: "basis" cannot be "guess"`},
		{"{is: 18 mΩ, spred: 10 %}", `p:4:27: "spred" is not a key here`},
		{"{basis: measured}", `p:4:15: "resistance" lacks the key "is"`},
		{"18 mV", `p:4:15: "mV" is not a unit of resistance`},
		{"18", `p:4:15: "18" has no unit`},
		{"[18 mΩ]", `p:4:15: "resistance" needs a resistance, not a list`},
	} {
		_, mistakes := read("fuse/own:\n  title: own\n  rating: 5 A\n  resistance: " + c.value + "\n")
		if len(mistakes) != 1 || mistakes[0].Error() != c.want {
			t.Errorf("%s: %v, want %s", c.value, mistakes, c.want)
		}
	}
}

func TestWeakerBasisWins(t *testing.T) {
	for _, c := range []struct{ a, b, want parts.Basis }{
		{parts.Standard, parts.Memory, parts.Memory}, {parts.Memory, parts.Standard, parts.Memory}, {parts.Derived, parts.Measured, parts.Derived},
		{parts.Practice, parts.Memory, parts.Memory}, {parts.Unstated, parts.Invented, parts.Unstated}, {"", parts.Standard, parts.Standard}, {parts.Standard, "", parts.Standard}, {"", "", ""},
	} {
		if got := parts.Weaker(c.a, c.b); got != c.want {
			t.Errorf("of %q and %q the weaker is %q, want %q", c.a, c.b, got, c.want)
		}
	}
}

func TestOwnPartsGoBeforeTheCatalogue(t *testing.T) {
	set, mistakes := read("fuse/blade-5A:" + strings.Replace(sound["fuse/own"], "5 A", "6 A", 1) + "\nfuse/own:" + sound["fuse/own"] + "\n")
	if len(mistakes) > 0 {
		t.Fatal(mistakes)
	}
	catalogue := parts.Catalogue()
	library := catalogue.With(set)
	overridden, _ := parts.Get[parts.Fuse](library, "fuse/blade-5A")
	shared, _ := parts.Get[parts.Fuse](library, "fuse/blade-10A")
	if overridden.Rating.Is != 6 || shared.Rating.Is != 10 || !library.Own("fuse/blade-5A") || library.Own("fuse/blade-10A") {
		t.Errorf("5 A is %v, 10 A is %v", overridden.Rating.Is, shared.Rating.Is)
	}
	if before, _ := parts.Get[parts.Fuse](catalogue, "fuse/blade-5A"); before.Rating.Is != 5 || catalogue.Own("fuse/blade-5A") {
		t.Error("the catalogue itself changed")
	}
	names := strings.Join(library.Names("fuse"), " ")
	if strings.Count(names, "fuse/blade-5A") != 1 || !strings.Contains(names, "fuse/own") || strings.Index(names, "blade-5A") > strings.Index(names, "blade-7.5A") || strings.Index(names, "blade-7.5A") > strings.Index(names, "blade-10A") {
		t.Errorf("the names are %s", names)
	}
	later := library.With(parts.Set{"fuse/own": overridden})
	if last, _ := parts.Get[parts.Fuse](later, "fuse/own"); last != overridden || !later.Own("fuse/blade-5A") {
		t.Error("a later set does not go before an earlier one")
	}
}

func TestWhatIsNotThereIsNotFound(t *testing.T) {
	library := parts.Catalogue()
	for _, name := range []string{"", "fuse", "fuse/", "fuse/blade-5", "fuse/blade-5A:", "fuse/blade-5A\n", "nothing/at-all", "choose"} {
		if part, ok := library.Find(name); ok {
			t.Errorf("%q is found: %v", name, part)
		}
	}
	if _, ok := parts.Get[parts.Cable](library, "fuse/blade-5A"); ok {
		t.Error("a fuse is a cable")
	}
}

func TestNamesOfNoKindAreMistakes(t *testing.T) {
	for _, c := range []struct{ text, want, hint string }{
		{"fuze/own: {}", `p:1:1: "fuze/own" is not the name of a kind of part`, "did you mean fuse/own?"},
		{"own: {}", `p:1:1: "own" is not the name of a kind of part`, "begin the name with one of tape/, protocol/, cable/, fuse/, curve/, supply/, board/, enclosure/, connector/, junction/, relay/, capacitor/, buffer/"},
		{"[]", `p:1:1: a scheme is a map of keys, not a list`, `begin with the line "farend: 1"`},
	} {
		_, mistakes := read(c.text)
		if len(mistakes) != 1 || mistakes[0].Error() != c.want || mistakes[0].Hint != c.hint {
			t.Errorf("%s: %v (%s), want %s (%s)", c.text, mistakes, mistakes[0].Hint, c.want, c.hint)
		}
	}
}
