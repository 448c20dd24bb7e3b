package wiring_test

import (
	"bytes"
	"farend/draw"
	"farend/internal/pagetest"
	"farend/internal/schemetest"
	"farend/internal/sheettest"
	"farend/layout"
	"farend/parts"
	"farend/scheme"
	"farend/sheet/drafting"
	"farend/sheet/wiring"
	"farend/study"
	"fmt"
	"math"
	"math/rand"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// crossed lists the texts of a page that a line of it runs through, the title block apart.
func crossed(s *draw.Scene) (list []string) {
	for _, l := range s.Layers {
		for _, text := range l.Texts {
			if l.Name == "block" || text.Words == "" {
				continue
			}
			box := text.Box().Grow(-0.1)
			for _, under := range s.Layers {
				if under.Name == "block" {
					continue
				}
				for _, p := range under.Paths {
					if p.Pen.Width == 0 {
						continue
					}
					for i := 1; i < len(p.Steps); i++ {
						if p.Steps[i].Kind != draw.Go {
							continue
						}
						if low, high := layout.Inside(p.Steps[i-1].To, p.Steps[i].To, box); low < high {
							list = append(list, fmt.Sprintf("a line of %s runs through %q at %.0f, %.0f", under.Name, text.Words, text.At.X, text.At.Y))
						}
					}
				}
			}
		}
	}
	return list
}

// touching lists cables that turn, begin or end on the line of another, so that they would seem to be joined, and those that run along each
// other; but not those that end at one dot, which are joined.
func touching(s *draw.Scene) (list []string) {
	var cables []draw.Path
	for _, l := range s.Layers {
		if l.Name == "cables" {
			cables = l.Paths
		}
	}
	const apart = 0.3 // millimetres, a little more than a line is wide
	for i, p := range cables {
		for j, q := range cables {
			for _, vertex := range p.Steps {
				if from, to := endsOf(q); vertex.To == from || vertex.To == to {
					continue
				}
				for k := 1; k < len(q.Steps) && i != j; k++ {
					around := draw.Box{Min: vertex.To, Max: vertex.To}.Grow(apart)
					if low, high := layout.Inside(q.Steps[k-1].To, q.Steps[k].To, around); low < high {
						list = append(list, fmt.Sprintf("two cables meet at %.0f, %.0f", vertex.To.X, vertex.To.Y))
					}
				}
			}
		}
	}
	return list
}

// A drawing is a single-line diagram being read back: which place every end of a line stands on.
type drawing struct {
	cables, frames, bars []draw.Path
	words                []draw.Text
	ends                 map[string][2]string // by cable
}

// endsOf is where a path begins and ends.
func endsOf(p draw.Path) (a, b draw.Point) { return p.Steps[0].To, p.Steps[len(p.Steps)-1].To }

// boxOf is the upright rectangle around the corners of a path.
func boxOf(p draw.Path) draw.Box {
	box := draw.Box{Min: p.Steps[0].To, Max: p.Steps[0].To}
	for _, s := range p.Steps {
		if s.Kind == draw.Close {
			continue
		}
		box.Min = draw.Point{X: min(box.Min.X, s.To.X), Y: min(box.Min.Y, s.To.Y)}
		box.Max = draw.Point{X: max(box.Max.X, s.To.X), Y: max(box.Max.Y, s.To.Y)}
	}
	return box
}

func readBack(s *draw.Scene) drawing {
	d := drawing{ends: map[string][2]string{}}
	for _, l := range s.Layers {
		switch l.Name {
		case "cables":
			d.cables = l.Paths
		case "frames":
			d.frames = l.Paths
		case "bars":
			d.bars = l.Paths
		case "words":
			d.words = l.Texts
		}
	}
	for _, text := range d.words {
		if text.Face != draw.SemiBold {
			continue
		}
		if p, ok := d.under(text); ok {
			a, b := endsOf(p)
			d.ends[text.Words] = [2]string{d.place(a, true), d.place(b, false)}
		}
	}
	return d
}

// under is the cable whose first stretch runs under a word, the nearest, within three lines of words.
func (d drawing) under(text draw.Text) (best draw.Path, ok bool) {
	nearest := 9.0
	for _, p := range d.cables {
		a, turn := p.Steps[0].To, p.Steps[1].To
		if away := a.Y - text.At.Y; a.X <= text.At.X && turn.X >= text.At.X && away > 0 && away < nearest {
			best, nearest, ok = p, away, true
		}
	}
	return best, ok
}

// place says what an end of a line stands on, by what is drawn around it.
func (d drawing) place(at draw.Point, leaving bool) string {
	for _, text := range d.words { // a reference: words right behind the tip, or before it
		box := text.Box()
		near := math.Abs(text.At.Y-(at.Y-0.5)) < 0.01
		if words, is := strings.CutPrefix(text.Words, "to "); is && near && math.Abs(box.Min.X-at.X) < 2 {
			return words
		}
		if words, is := strings.CutPrefix(text.Words, "from "); is && near && leaving && box.Max.X < at.X && box.Max.X > at.X-28 {
			return words
		}
	}
	for _, f := range d.frames {
		box := boxOf(f)
		if at.Y < box.Min.Y || at.Y > box.Max.Y || at.X < box.Min.X-0.01 || at.X > box.Max.X+0.01 {
			continue
		}
		if at.X-box.Min.X < 0.01 {
			return d.first(box) + ".in"
		}
		return d.way(box, at)
	}
	for _, b := range d.bars {
		box := boxOf(b)
		if b.Fill == draw.Shade && box.Grow(0.01).Holds(draw.Box{Min: at, Max: at}) {
			return d.head(draw.Point{X: box.Max.X, Y: box.Min.Y}) + "@" + d.station(at)
		}
	}
	return d.headOver(at)
}

// What names of ways and stations look like.
var (
	wayName     = regexp.MustCompile(`^\w+\.\d+(  |$)`)
	stationName = regexp.MustCompile(`^(start|end|px\d+-?)(,|$)`)
)

// first is the identifier at the top of a frame.
func (d drawing) first(box draw.Box) string {
	for _, text := range d.words {
		if text.Face == draw.SemiBold && box.Holds(text.Box()) {
			return id(text.Words)
		}
	}
	return "?"
}

func id(head string) string {
	head, _, _ = strings.Cut(head, "  ")
	return strings.TrimSuffix(head, ", continued")
}

// way is the way whose line comes to a frame's right edge, or the last one above it.
func (d drawing) way(box draw.Box, at draw.Point) string {
	name, lowest := "?", -1.0
	for _, text := range d.words {
		is := text.Words == "in" || wayName.MatchString(text.Words)
		if is && box.Holds(text.Box()) && text.At.Y < at.Y && text.At.Y > lowest {
			name, lowest = id(text.Words), text.At.Y
		}
	}
	if name == "in" {
		return d.first(box) + ".in"
	}
	return name
}

// head is the nearest bold text to the right of the top of a bar.
func (d drawing) head(at draw.Point) string {
	name, nearest := "?", 40.0
	for _, text := range d.words {
		if away := math.Abs(text.At.Y - at.Y); text.Face == draw.SemiBold && text.At.X > at.X && text.At.X < at.X+30 && text.At.Y < at.Y+4 && away < nearest {
			name, nearest = id(text.Words), away
		}
	}
	return name
}

// station is the last name of a station at or above a place on a bar.
func (d drawing) station(at draw.Point) string {
	name, lowest := "?", -1.0
	for _, text := range d.words {
		if stationName.MatchString(text.Words) && math.Abs(text.At.X-at.X-4) < 1 && text.At.Y < at.Y+1.5 && text.At.Y > lowest {
			name, lowest = text.Words, text.At.Y
		}
	}
	name, _, _ = strings.Cut(name, ",")
	return name
}

// headOver is the nearest bold text over a junction or a supply.
func (d drawing) headOver(at draw.Point) string {
	name, lowest := "?", -1.0
	for _, text := range d.words {
		left := at.X - text.At.X
		if text.Face == draw.SemiBold && (math.Abs(left-1.5) < 0.01 || math.Abs(left-42) < 0.01) && text.At.Y < at.Y && text.At.Y > lowest {
			name, lowest = id(text.Words), text.At.Y
		}
	}
	return name
}

// wrongs is all that is wrong with the single-line diagram and the faces of a scheme.
func wrongs(st *study.Study, style drafting.Style) (list []string) {
	leaves := wiring.SingleLine(st, style)
	single := len(leaves)
	for _, board := range scheme.IDs(st.Scheme.Boards) {
		leaves = append(leaves, wiring.Face(st, board, style)...)
	}
	names := map[string]bool{}
	var diagram, faces []string
	read := map[string][][2]string{}
	for i, s := range sheettest.Scenes(st, leaves) {
		name := leaves[i].Name
		if names[name] {
			list = append(list, "two pages are "+name)
		}
		names[name] = true
		for _, complaint := range slices.Concat(pagetest.Complaints(s), crossed(s), touching(s)) {
			list = append(list, name+": "+complaint)
		}
		if i := slices.IndexFunc(s.Layers, func(l draw.Layer) bool { return l.Name == "block" }); !slices.ContainsFunc(s.Layers[i].Texts, func(t draw.Text) bool {
			return strings.HasSuffix(t.Words, "electrician.") || strings.HasSuffix(t.Words, "place.")
		}) {
			list = append(list, name+": its notes are cut")
		}
		if i < single {
			diagram = append(diagram, pagetest.Words(s)...)
			for id, ends := range readBack(s).ends {
				read[id] = append(read[id], ends)
			}
		} else {
			faces = append(faces, pagetest.Words(s)...)
		}
	}
	for _, l := range leaves {
		for _, link := range l.Links {
			if !names[link.To] {
				list = append(list, l.Name+" leads to "+link.To+", which is not there")
			}
		}
	}
	return append(list, missing(st, diagram, faces, read)...)
}

// missing is what a scheme has and its pages do not say, or say of another place.
func missing(st *study.Study, diagram, faces []string, read map[string][][2]string) (list []string) {
	said := func(words []string, id string) bool {
		return slices.ContainsFunc(words, func(w string) bool {
			return w == id || strings.HasPrefix(w, id+" ") || strings.HasPrefix(w, id+", ")
		})
	}
	sch := st.Scheme
	for _, ids := range [][]string{scheme.IDs(sch.Supplies), scheme.IDs(sch.Boards), scheme.IDs(sch.Junctions), scheme.IDs(sch.Runs)} {
		for _, id := range ids {
			if !said(diagram, id) {
				list = append(list, "the diagram does not say "+id)
			}
		}
	}
	ways := st.Network.Ways()
	for way := range sch.Fuses {
		if !slices.Contains(ways, way) {
			ways = append(ways, way)
		}
	}
	for _, way := range ways {
		if !said(diagram, way) || !said(faces, way) {
			list = append(list, "the pages do not say "+way)
		}
	}
	for _, id := range scheme.IDs(sch.Cables) {
		c := sch.Cables[id]
		if len(id) > 20 {
			continue // longer than any line has room for: it is cut
		}
		want := []string{c.From.String(), c.To.String()}
		slices.Sort(want)
		for _, ends := range read[id] {
			got := ends[:]
			slices.Sort(got)
			if !slices.Equal(got, want) {
				list = append(list, fmt.Sprintf("%s is drawn from %s to %s, want %s", id, got[0], got[1], want))
			}
		}
		if n := len(read[id]); n == 0 || n > 2 {
			list = append(list, fmt.Sprintf("%s is drawn %d times", id, n))
		}
		if part, ok := parts.Get[parts.Fuse](sch.Library, c.Fuse); ok && !slices.ContainsFunc(diagram, func(w string) bool { return strings.Contains(w, layout.Nominal(part.Rating.Is)) }) {
			list = append(list, "nothing says the fuse of "+id)
		}
	}
	return list
}

// Every kept scheme has clean pages on which all is said, and every cable goes from where it begins to where it ends.
func TestDiagramsOfEveryScheme(t *testing.T) {
	pages := 0
	for i, path := range append(schemetest.Paths(t, "../../examples/*.scheme.yaml"), slices.Concat(schemetest.Paths(t, "../../*/testdata/*.scheme.yaml"), schemetest.Paths(t, "../*/testdata/*.scheme.yaml"))...) {
		st := schemetest.UnsolvedFile(t, path)
		styles := []drafting.Style{sheettest.A3}
		if i%3 == 0 {
			styles = append(styles, sheettest.A4, drafting.Style{Drawings: layout.Letter, Texts: layout.Letter, Gauges: true})
		}
		for _, style := range styles {
			pages++
			for _, wrong := range wrongs(st, style) {
				t.Errorf("%s on %s: %s", filepath.Base(path), style.Drawings.Name, wrong)
			}
		}
	}
	if pages < 100 {
		t.Errorf("only %d", pages)
	}
}

// So have schemes of every shape.
func TestDiagramsOfRandomSchemes(t *testing.T) {
	for seed := range int64(200) {
		text := schemetest.Text(schemetest.Random(rand.New(rand.NewSource(seed))), schemetest.AsWritten)
		st := schemetest.Unsolved(t, fmt.Sprint("random ", seed), text)
		style := sheettest.A3
		if seed%4 == 0 {
			style = sheettest.A4
		}
		for _, wrong := range wrongs(st, style) {
			t.Errorf("seed %d on %s: %s", seed, style.Drawings.Name, wrong)
		}
	}
}

// Drawn twice they are the same, to the byte.
func TestDiagramsAreTheSameTwice(t *testing.T) {
	draws := func() (all [][]byte) {
		st := schemetest.UnsolvedFile(t, "../../examples/library-atrium.scheme.yaml")
		for _, s := range sheettest.Scenes(st, append(wiring.SingleLine(st, sheettest.A4), wiring.Face(st, "A2", sheettest.A4)...)) {
			text, err := draw.SVG(s)
			if err != nil {
				t.Fatal(err)
			}
			all = append(all, text)
		}
		return all
	}
	one, two := draws(), draws()
	if !slices.EqualFunc(one, two, bytes.Equal) {
		t.Error("drawn twice they differ")
	}
	pagetest.Lint(t, one[0])
}

// odd networks: an empty scheme, parts that are not chosen, rings, supplies that work together, cables between boards and between
// junctions, back into a way, along a run and from it, runs that nothing feeds, boards that nothing feeds, and more of one thing than a sheet holds.
func TestDiagramsOfOddNetworks(t *testing.T) {
	for name, text := range map[string]string{
		"empty":      "farend: 1\n",
		"one supply": "farend: 1\nsupplies: {T1: {part: choose}}\n",
		"nothing is chosen": `farend: 1
supplies: {T1: {part: choose}}
boards: {A1: {part: choose}, A2: {part: board/four-way-two-port}}
junctions: {X1: {part: choose}}
runs: {E1: {tape: tape/5v-rgb-60, length: 1 m}, E2: {tape: tape/5v-rgb-60, length: 2 m, label: nobody feeds it}}
contactors: {Q1: {part: choose, in: W1}, Q2: {part: relay/plug-in-30A, in: W2}}
capacitors: {C1: {part: choose, at: E1@end}}
cables:
  W1: {part: choose, length: 1 m, from: T1, to: A1.in, fuse: choose, ends: {from: choose, to: choose}}
  W2: {part: choose, length: 1 m, from: A1.1, to: X1}
  W3: {part: cable/flex-2x1, length: 1 m, from: X1, to: E1@px30, pole: return}
  W4: {part: cable/flex-2x1, length: 1 m, from: E1@px30, to: X1, pole: plus, fuse: fuse/inline-2A, fuse_at: to}
fuses: {A1.1: choose}
`,
		"everything joined to everything": `farend: 1
supplies: {T1: {part: supply/5v-200w}, T2: {part: supply/5v-200w}}
boards: {A1: {part: board/four-way-two-port}, A2: {part: board/four-way-two-port}, A3: {part: board/four-way-two-port}}
junctions: {X1: {part: junction/lever-5}, X2: {part: junction/lever-5}}
runs: {E1: {tape: tape/5v-rgb-60, length: 2 m, cuts: [{at: px60, pole: both}]}, E2: {tape: tape/5v-rgb-60, length: 2 m}}
cables:
  W1: {part: cable/flex-2x4, length: 1 m, from: T1, to: A1.in}
  W2: {part: cable/flex-2x4, length: 1 m, from: T1, to: A2.in}
  W3: {part: cable/flex-2x4, length: 1 m, from: T2, to: A1.in}
  W4: {part: cable/flex-2x4, length: 1 m, from: T1, to: T2, pole: return}
  W5: {part: cable/flex-2x4, length: 1 m, from: A1.in, to: A2.in}
  W6: {part: cable/flex-2x4, length: 1 m, from: A1.1, to: A2.1}
  W7: {part: cable/flex-2x4, length: 1 m, from: A1.2, to: A2.in}
  W8: {part: cable/flex-2x4, length: 1 m, from: A1.3, to: X1}
  W9: {part: cable/flex-2x4, length: 1 m, from: A2.3, to: X2}
  W10: {part: cable/flex-2x4, length: 1 m, from: X2, to: X1}
  W11: {part: cable/flex-2x4, length: 1 m, from: X1, to: X2}
  W12: {part: cable/flex-2x4, length: 1 m, from: X2, to: A1.4}
  W13: {part: cable/flex-2x4, length: 1 m, from: A1.4, to: A1.in}
  W14: {part: cable/flex-2x4, length: 1 m, from: X1, to: E1@start}
  W15: {part: cable/flex-2x4, length: 1 m, from: E1@end, to: E2@start}
  W16: {part: cable/flex-2x4, length: 1 m, from: E2@end, to: E1@start}
  W17: {part: cable/flex-2x4, length: 1 m, from: E1@px60-, to: E1@px60, pole: return}
  W18: {part: cable/flex-2x4, length: 1 m, from: E2@end, to: T2}
  W19: {part: cable/flex-2x4, length: 1 m, from: A3.1, to: E2@px60}
  W20: {part: cable/flex-2x4, length: 1 m, from: T2, to: E2@px60}
  W21: {part: cable/flex-2x4, length: 1 m, from: E1@px60, to: E2@end}
`,
		"a board of many ways": "farend: 1\nsupplies: {T1: {part: supply/5v-200w}}\nboards: {A1: {part: board/wide}}\nruns:\n" + many(40, "  E#: {tape: tape/5v-rgb-60, length: 1 m}") +
			"cables:\n  S1: {part: cable/flex-2x4, length: 1 m, from: T1, to: A1.in}\n" + many(40, "  W#: {part: cable/flex-2x1, length: 1 m, from: A1.#, to: E#@start}") +
			"parts:\n  board/wide:\n    title: invented, with many ways\n    inlet: {amps: 40 A, resistance: 1 mΩ}\n    ways:\n" + many(48, "      #: {amps: 5 A, resistance: 3 mΩ}"),
		"a run of many feeds": manyFeeds,
		"words of any length": `farend: 1
title: x
supplies: {T1: {part: supply/5v-200w, label: "` + strings.Repeat("under the stairs ", 20) + `"}}
boards: {A1: {part: board/long, host: "` + strings.Repeat("host ", 40) + `", label: "` + strings.Repeat("riser ", 40) + `"}}
runs: {E1: {tape: tape/5v-rgb-60, length: 1 m, label: "` + strings.Repeat("handrail", 40) + `"}}
cables:
  W1: {part: cable/flex-2x4, length: 1 m, from: T1, to: A1.in, label: "` + strings.Repeat("main ", 60) + `"}
  W2: {part: cable/flex-2x4, length: 1 m, from: A1.1, to: E1@end, label: "` + strings.Repeat("feed", 60) + `"}
parts: {board/long: {title: "` + strings.Repeat("Long title ", 30) + `", inlet: {amps: 40 A, resistance: 1 mΩ}, ways: {1: {amps: 5 A, resistance: 3 mΩ}}, ports: {P1: {ground: 5 mΩ}}}}
`,
	} {
		st := schemetest.Unsolved(t, name, text)
		for _, style := range []drafting.Style{sheettest.A3, sheettest.A4} {
			for _, wrong := range wrongs(st, style) {
				t.Errorf("%s on %s: %s", name, style.Drawings.Name, wrong)
			}
		}
	}
	if wiring.Face(schemetest.Unsolved(t, "empty", "farend: 1\n"), "A1", sheettest.A4) != nil {
		t.Error("a board that is not there has a face")
	}
}

// A scheme of 2,500 pixels and more than forty cables.
func TestDiagramsOfALargeScheme(t *testing.T) {
	var b strings.Builder
	b.WriteString("farend: 1\nsupplies:\n")
	for i := 1; i <= 4; i++ {
		fmt.Fprintf(&b, "  T%d: {part: supply/5v-300w}\n", i)
	}
	b.WriteString("boards:\n")
	for i := 1; i <= 4; i++ {
		fmt.Fprintf(&b, "  A%d: {part: board/twelve-way-eight-port}\n", i)
	}
	b.WriteString("runs:\n")
	for i := 1; i <= 25; i++ {
		fmt.Fprintf(&b, "  E%d: {tape: tape/5v-rgb-60, pixels: 100}\n", i)
	}
	b.WriteString("cables:\n")
	for i := 1; i <= 4; i++ {
		fmt.Fprintf(&b, "  S%d: {part: cable/flex-2x10, length: 1 m, from: T%d, to: A%d.in}\n", i, i, i)
	}
	for i := range 48 { // each run is fed at both ends, half of them from two boards
		fmt.Fprintf(&b, "  W%d: {part: cable/flex-2x1.5, length: 2 m, from: A%d.%d, to: E%d@%s}\n", i+1, i/12+1, i%12+1, (i+1)/2+1, []string{"end", "start"}[i%2])
	}
	st := schemetest.Unsolved(t, "large", b.String())
	for _, style := range []drafting.Style{sheettest.A3, sheettest.A4} {
		for _, wrong := range wrongs(st, style) {
			t.Errorf("%s: %s", style.Drawings.Name, wrong)
		}
	}
}

// identified are the places of identifiers on the sheets of a single-line diagram, by what is written there.
func identified(st *study.Study, style drafting.Style) map[string][3]float64 {
	at := map[string][3]float64{}
	for i, s := range sheettest.Scenes(st, wiring.SingleLine(st, style)) {
		for _, l := range s.Layers {
			for _, text := range l.Texts {
				if l.Name == "words" && text.Face == draw.SemiBold {
					at[text.Words] = [3]float64{float64(i), text.At.X, text.At.Y}
				}
			}
		}
	}
	return at
}

// One more cable moves nothing above it, and what is below by its own row alone.
func TestASmallEditMovesLittle(t *testing.T) {
	source, err := os.ReadFile("../../examples/library-atrium.scheme.yaml")
	if err != nil {
		t.Fatal(err)
	}
	more := bytes.Replace(source, []byte("  W10: {"), []byte("  W9:  {part: cable/flex-2x2.5, length: 9 m, from: A1.4, to: E2@5.25m}\n  W10: {"), 1)
	was, is := identified(schemetest.Unsolved(t, "before", string(source)), sheettest.A3), identified(schemetest.Unsolved(t, "after", string(more)), sheettest.A3)
	if len(is) != len(was)+1 {
		t.Fatalf("there are %d identifiers, and were %d", len(is), len(was))
	}
	const row = 9 // millimetres
	for words, before := range was {
		after := is[words]
		above := before[2] <= was["W5"][2]+1 && words != "E2  south balustrade"
		switch moved := after[2] - before[2]; {
		case after[0] != before[0]:
			t.Errorf("%s went from sheet %v to %v", words, before[0]+1, after[0]+1)
		case math.Abs(after[1]-before[1]) > row:
			t.Errorf("%s went %.1f mm sideways", words, after[1]-before[1])
		case before[0] == 0 && above && moved != 0, before[0] > 0 && moved != 0, moved < 0, moved > row:
			t.Errorf("%s went down by %.2f mm", words, moved)
		}
	}
}

// many is a line n times, with its number.
func many(n int, line string) (text string) {
	for i := 1; i <= n; i++ {
		text += strings.ReplaceAll(line, "#", fmt.Sprint(i)) + "\n"
	}
	return text
}

// manyFeeds is a run with more feeds than a sheet holds, and with forty cuts.
var manyFeeds = "farend: 1\nsupplies: {T1: {part: supply/5v-200w}}\nruns: {E1: {tape: tape/5v-rgb-60, length: 41.7 m, cuts: [" +
	strings.ReplaceAll(strings.TrimSpace(many(40, "{at: px#0, pole: plus},")), "\n", " ") + "]}}\ncables:\n" + many(60, "  W#: {part: cable/flex-2x1, length: 1 m, from: T1, to: E1@px#1}")

// Of a run on more sheets than one, each shows the cuts between where its own cables land; those that it has no room for it counts, and no
// stroke is drawn for the count.
func TestCutsOfARunOnManySheets(t *testing.T) {
	st := schemetest.Unsolved(t, "many feeds", manyFeeds)
	cutWords, landing, more := regexp.MustCompile(`^px(\d+): \+ cut$`), regexp.MustCompile(`^px(\d+), `), regexp.MustCompile(`^(\d+) more cuts?$`)
	cuts, last, sheets := 0, 0, 0
	for i, s := range sheettest.Scenes(st, wiring.SingleLine(st, sheettest.A3)) {
		var here, lands []int
		left := 0
		for _, l := range s.Layers {
			for _, text := range l.Texts {
				if m := cutWords.FindStringSubmatch(text.Words); m != nil {
					mark, _ := strconv.Atoi(m[1])
					here = append(here, mark)
				}
				if m := landing.FindStringSubmatch(text.Words); m != nil {
					mark, _ := strconv.Atoi(m[1])
					lands = append(lands, mark)
				}
				if m := more.FindStringSubmatch(text.Words); m != nil {
					n, _ := strconv.Atoi(m[1])
					left += n
				}
			}
		}
		if len(lands) == 0 {
			continue
		}
		sheets++
		low, high := slices.Min(lands), slices.Max(lands)
		for _, at := range here {
			if at <= last || sheets > 1 && at < low || at > high+9 {
				t.Errorf("sheet %d shows the cut at px%d; its cables land from px%d to px%d", i+1, at, low, high)
			}
		}
		if len(here) > 0 {
			last = slices.Max(here)
		}
		if before := min((low-1)/10, 40); sheets > 1 && cuts != before {
			t.Errorf("%d cuts are told before sheet %d, which begins at px%d; there are %d", cuts, i+1, low, before)
		}
		cuts += len(here) + left
		strokes := 0
		for _, l := range s.Layers {
			for _, path := range l.Paths {
				if steps := path.Steps; len(steps) == 2 && math.Abs(steps[1].To.X-steps[0].To.X-3.6) < 1e-6 && math.Abs(steps[0].To.Y-steps[1].To.Y-1) < 1e-6 {
					strokes++
				}
			}
		}
		if strokes != len(here) {
			t.Errorf("sheet %d has %d strokes for %d cuts", i+1, strokes, len(here))
		}
	}
	if sheets < 2 || cuts != 40 {
		t.Errorf("%d cuts on %d sheets; there are 40, on more than one", cuts, sheets)
	}
}
