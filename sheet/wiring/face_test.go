package wiring_test

import (
	"farend/internal/pagetest"
	"farend/internal/reference"
	"farend/internal/schemetest"
	"farend/internal/sheettest"
	"farend/layout"
	"farend/network"
	"farend/parts"
	"farend/scheme"
	"farend/sheet/drafting"
	"farend/sheet/wiring"
	"farend/unit"
	"fmt"
	"slices"
	"strings"
	"testing"
)

// What the pages say of the footbridge is what its scheme and its solution say.
func TestPagesSayWhatWasSolved(t *testing.T) {
	st := schemetest.Unstruck(t, "../../examples/footbridge.scheme.yaml")
	for _, style := range []drafting.Style{sheettest.A3, sheettest.A4} {
		for _, wrong := range wrongs(st, style) {
			t.Errorf("solved, on %s: %s", style.Drawings.Name, wrong)
		}
	}
	words := func(leaves []layout.Leaf) string {
		var all []string
		for _, s := range sheettest.Scenes(st, leaves) {
			all = append(all, pagetest.Words(s)...)
		}
		return strings.Join(all, "\n") + "\n"
	}
	apart := 0
	diagram, face := words(wiring.SingleLine(st, sheettest.A3)), words(wiring.Face(st, "A1", sheettest.A3))
	for _, id := range scheme.IDs(st.Scheme.Cables) {
		most, out := 0.0, 0.0
		for _, c := range st.Cases() {
			if c.Kind == network.State || c.Kind == network.Peak {
				r := st.Result(c.Name).Cables[id]
				if heavier := max(float64(r.Plus.RMS), float64(r.Return.RMS)); heavier > most {
					most, out = heavier, float64(r.Plus.RMS)
				}
			}
		}
		want := fmt.Sprintf(", %s\n", layout.Quantity(unit.Ampere(most)))
		if out < most/1.02 {
			apart++
			want = fmt.Sprintf(", %s (+%s%s)\n", layout.Quantity(unit.Ampere(most)), layout.Thin, layout.Quantity(unit.Ampere(out)))
		}
		if !strings.Contains(diagram, want) {
			t.Errorf("%s carries%s and the diagram does not say so", id, want)
		}
	}
	if apart == 0 {
		t.Error("no return carries more than its positive")
	}
	if !strings.Contains(diagram, "− brings home current of other feeds") || !strings.Contains(wiring.Face(st, "A1", sheettest.A3)[0].Notes, "with current of other feeds") {
		t.Error("diagram or face does not say why a return carries more")
	}
	returns := 0
	for _, way := range st.Network.Ways() {
		part, ok := parts.Get[parts.Fuse](st.Scheme.Library, st.Scheme.Fuses[way])
		if !ok {
			continue
		}
		load, back := 0.0, 0.0
		cable := st.Network.Landings(way)[0]
		for _, c := range st.Cases() {
			if c.Kind == network.State || c.Kind == network.Peak {
				load = max(load, float64(st.Result(c.Name).Ways[way].Amps.RMS))
				back = max(back, float64(st.Result(c.Name).Cables[cable].Return.RMS))
			}
		}
		rated, _ := st.Scheme.WayPart(way)
		want := fmt.Sprintf("%s (%.0f\u202f%%)\nway %s, fuse %s\n", layout.Quantity(unit.Ampere(load)), 100*load/float64(part.Rating.Is), layout.Nominal(rated.Amps.Is), layout.Nominal(part.Rating.Is))
		if back > 1.01*load {
			returns++
			want += "return " + layout.Quantity(unit.Ampere(back)) + "\n"
		}
		if !strings.Contains(face, want) {
			t.Errorf("%s: the face does not say %q", way, want)
		}
		if want := layout.Nominal(part.Rating.Is) + " blade, " + part.Colour + "\n"; !strings.Contains(face, want) {
			t.Errorf("%s: the face does not say %q", way, want)
		}
	}
	if returns == 0 {
		t.Error("no return carries more than its fuse")
	}
}

// The colours that faces name are those of ISO 8820-3, as pages on fuses list them (testdata/reference/fuse_blade_iso8820.csv); of a fuse whose
// part says none nothing is said.
func TestFacesNameTheColoursOfTheStandard(t *testing.T) {
	rows := reference.Where(t, reference.Rows(t, "fuse_blade_iso8820.csv"), "kind", "colour")
	library, named := parts.Catalogue(), 0
	for _, name := range library.Names("fuse") {
		part, _ := parts.Get[parts.Fuse](library, name)
		if part.Holder != "blade" && part.Holder != "cartridge" {
			continue
		}
		board := "board/four-way-two-port"
		if part.Holder == "cartridge" {
			board = "board/eight-way-four-port-cartridge"
		}
		st := schemetest.Unsolved(t, name, "farend: 1\nboards: {A1: {part: "+board+"}}\nfuses: {A1.1: "+name+"}\n")
		said := "nothing"
		for _, words := range pagetest.Words(sheettest.Scenes(st, wiring.Face(st, "A1", sheettest.A3))[0]) {
			if rest, is := strings.CutPrefix(words, "spare, "+layout.Nominal(part.Rating.Is)+" "+string(part.Holder)); is {
				said = rest
			}
		}
		if part.Holder == "cartridge" {
			if said != "" {
				t.Errorf("%s is said to be %q", name, said)
			}
			continue
		}
		named++
		listed := slices.ContainsFunc(rows, func(row map[string]string) bool {
			return row["rating_a"] == fmt.Sprint(float64(part.Rating.Is)) && strings.Contains(row["colour"], strings.TrimPrefix(said, ", "))
		})
		if said == "nothing" || len(said) < 5 || !listed {
			t.Errorf("%s is said to be %q", name, said)
		}
	}
	if named < 10 {
		t.Errorf("only %d blade fuses", named)
	}
}
