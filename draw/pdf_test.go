package draw_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"image"
	"maps"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"unicode"

	"farend/draw"
	"farend/internal/pagetest"
)

func printed(t *testing.T, d draw.Document) (path string, file []byte) {
	t.Helper()
	file, err := draw.PDF(d)
	if err != nil {
		t.Fatal(err)
	}
	objectsInPlace(t, file)
	return kept(t, "document.pdf", file), file
}

func TestPDFIsSoundAndItsFontsAreEmbedded(t *testing.T) {
	path, _ := printed(t, booklet())
	if said := pagetest.Tool(t, "qpdf", "--check", path); !bytes.Contains(said, []byte("No syntax or stream encoding errors")) {
		t.Errorf("qpdf: %s", said)
	}
	rows := strings.Split(strings.TrimSpace(string(pagetest.Tool(t, "pdffonts", path))), "\n")[2:]
	var names []string
	for _, row := range rows {
		words := strings.Fields(row)
		_, name, subset := strings.Cut(words[0], "+")
		if names = append(names, name); !subset || !strings.Contains(row, "CID TrueType") || strings.Join(words[4:7], " ") != "yes yes yes" {
			t.Errorf("not embedded, in part, with the meaning of its codes: %s", row)
		}
	}
	if want := []string{"IBMPlexSans", "IBMPlexSans-SemiBold", "IBMPlexMono"}; !slices.Equal(names, want) {
		t.Errorf("fonts %v, want %v", names, want)
	}
	if said := string(pagetest.Tool(t, "pdffonts", one(t, draw.Text{Words: "ö", Size: 7, Tone: draw.Ink}))); strings.Contains(said, "Mono") || strings.Contains(said, "SemiBold") {
		t.Errorf("fonts that are not used:\n%s", said)
	}
}

// one is a document of one page with a text in its middle.
func one(t *testing.T, texts ...draw.Text) string {
	for i := range texts {
		texts[i].At = draw.Point{X: 150, Y: 150}
	}
	path, _ := printed(t, draw.Document{Pages: []draw.Page{{Scene: &draw.Scene{Width: 300, Height: 300, Layers: []draw.Layer{{Name: "a", Texts: texts}}}}}})
	return path
}

// Every text is found as it was written, those in part of boxes too. Spaces may be of any kind.
func TestPDFKeepsItsTexts(t *testing.T) {
	path, _ := printed(t, booklet())
	bare := func(s string) string {
		return strings.Map(func(r rune) rune {
			if unicode.IsSpace(r) {
				return -1
			}
			return r
		}, s)
	}
	pages := strings.Split(string(pagetest.Tool(t, "pdftotext", "-raw", path, "-")), "\f")
	for i, p := range booklet().Pages {
		for _, l := range p.Scene.Layers {
			for _, text := range l.Texts {
				if !strings.Contains(bare(pages[i]), bare(text.Words)) {
					t.Errorf("page %d: %q is not among\n%s", i+1, text.Words, pages[i])
				}
			}
		}
	}
	for _, words := range []string{"µμ", "Ω\u2126", "−−-", "≤≥≠²³°√×·/–…→", "ŁódźŘřÅåÇçÉéÑñŐőŞşĞğ", `(\)`, "a山b", "山", "😀x"} {
		if got := strings.TrimSpace(string(pagetest.Tool(t, "pdftotext", "-raw", one(t, draw.Text{Words: words, Size: 12, Tone: draw.Ink}), "-"))); got != words {
			t.Errorf("%q is found as %q", words, got)
		}
	}
}

// Texts are as wide as they are measured, and where. (The box that pdftotext gives reaches from ascent to descent.)
func TestPDFSetsTextsWhereTheyAreMeasured(t *testing.T) {
	word := regexp.MustCompile(`<word xMin="([\d.]+)" yMin="([\d.]+)" xMax="([\d.]+)" yMax="([\d.]+)">`)
	var scene draw.Scene
	scene.Width, scene.Height = 400, 400
	var texts []draw.Text
	for k, words := range []string{"Wide−µΩ±≤0123456789ABCDEFGijl", "fuse/blade-7.5A", "ŁódźAVATAR", "iiiiiiiiii…→"} {
		for _, face := range []draw.Face{draw.Sans, draw.SemiBold, draw.Mono} {
			for _, anchor := range []draw.Anchor{draw.Start, draw.Middle, draw.End} {
				n := len(texts)
				text := draw.Text{At: draw.Point{X: 150, Y: 10 + 10*float64(n)}, Words: words, Face: face, Anchor: anchor, Size: 7.123 + float64(k), Tone: draw.Ink}
				if k == 3 { // upwards
					text.Turn, text.At = 90, draw.Point{X: 250 + 10*float64(n-27), Y: 200}
				}
				if len(text.Lacks()) > 0 {
					text.Words = "Mono"
				}
				texts = append(texts, text)
			}
		}
	}
	scene.Layers = []draw.Layer{{Name: "a", Texts: texts}}
	path, _ := printed(t, draw.Document{Pages: []draw.Page{{Scene: &scene}}})
	said := string(pagetest.Tool(t, "pdftotext", "-bbox", path, "-"))
	found := word.FindAllStringSubmatch(said, -1)
	if len(found) != len(texts) {
		t.Fatalf("%d words, want %d:\n%s", len(found), len(texts), said)
	}
	var boxes []draw.Box
	for _, f := range found {
		var v [4]float64
		for i := range v {
			v[i], _ = strconv.ParseFloat(f[i+1], 64)
			v[i] *= 25.4 / 72
		}
		boxes = append(boxes, draw.Box{Min: draw.Point{X: v[0], Y: v[1]}, Max: draw.Point{X: v[2], Y: v[3]}})
	}
	const close = 0.01
	for _, text := range texts {
		want := text.Box()
		at := slices.IndexFunc(boxes, func(b draw.Box) bool {
			along, across := math.Abs(b.Min.X-want.Min.X)+math.Abs(b.Max.X-want.Max.X), b.Min.Y < text.At.Y && b.Max.Y > text.At.Y && b.Height() < 8
			if text.Turn != 0 {
				along, across = math.Abs(b.Min.Y-want.Min.Y)+math.Abs(b.Max.Y-want.Max.Y), b.Min.X < text.At.X && b.Max.X > text.At.X && b.Width() < 8
			}
			return along < 2*close && across
		})
		if at < 0 {
			t.Errorf("%+v is nowhere near %+v", text, want)
			continue
		}
		boxes = slices.Delete(boxes, at, at+1)
	}
}

func TestPDFHasOutlineLinksLayersAndPictures(t *testing.T) {
	d := booklet()
	path, _ := printed(t, d)
	type item struct {
		Title string
		Page  int `json:"destpageposfrom1"`
		Kids  []item
	}
	var file struct {
		Outlines []item
		Objects  map[string]json.RawMessage
		Pages    []struct{ Object string }
	}
	if err := json.Unmarshal(pagetest.Tool(t, "qpdf", "--json=1", path), &file); err != nil {
		t.Fatal(err)
	}
	want := []item{{"Start (Ω)", 1, []item{{"Plan", 2, []item{}}}}, {"End", 3, []item{}}}
	if fmt.Sprint(file.Outlines) != fmt.Sprint(want) {
		t.Errorf("outline %v, want %v", file.Outlines, want)
	}

	var links []string
	layers := map[string]int{}
	for i, p := range file.Pages {
		var page struct {
			Annots []struct {
				Dest []any     `json:"/Dest"`
				Rect []float64 `json:"/Rect"`
			} `json:"/Annots"`
			Box []float64 `json:"/MediaBox"`
		}
		if err := json.Unmarshal(file.Objects[p.Object], &page); err != nil {
			t.Fatal(err)
		}
		scene := d.Pages[i].Scene
		if math.Abs(page.Box[2]-scene.Width/25.4*72) > 0.001 || math.Abs(page.Box[3]-scene.Height/25.4*72) > 0.001 {
			t.Errorf("page %d is %v", i+1, page.Box)
		}
		for k, a := range page.Annots {
			to := slices.IndexFunc(file.Pages, func(p struct{ Object string }) bool { return p.Object == a.Dest[0] })
			links = append(links, fmt.Sprint(i+1, " to ", to+1))
			box := scene.Links[k].Box
			for n, v := range []float64{box.Min.X, scene.Height - box.Max.Y, box.Max.X, scene.Height - box.Min.Y} {
				if math.Abs(a.Rect[n]*25.4/72-v) > 0.001 {
					t.Errorf("page %d: a link at %v, want %+v", i+1, a.Rect, box)
				}
			}
		}
	}
	if want := "[1 to 3 1 to 2 3 to 1]"; fmt.Sprint(links) != want {
		t.Errorf("links %v, want %v", links, want)
	}
	for _, raw := range file.Objects {
		var o struct {
			Type   string `json:"/Type"`
			Name   string `json:"/Name"`
			Layers *struct {
				All     []string `json:"/OCGs"`
				Default struct {
					Order []string `json:"/Order"`
				} `json:"/D"`
			} `json:"/OCProperties"`
		}
		if json.Unmarshal(raw, &o) != nil {
			continue // not a dictionary, or one with other things of these names
		}
		if o.Type == "/OCG" {
			layers[o.Name]++
		}
		if o.Layers != nil && (len(o.Layers.All) != 3 || !slices.Equal(o.Layers.All, o.Layers.Default.Order)) {
			t.Errorf("layers to switch: %+v", o.Layers)
		}
	}
	if fmt.Sprint(layers) != "map[areas:1 others:1 words-2:1]" {
		t.Errorf("layers %v", layers)
	}
	// The pages share two pictures, one of which has a mask.
	listed := pagetest.Tool(t, "pdfimages", "-list", path)
	objects := map[string]int{}
	for _, row := range regexp.MustCompile(`(?m)^ +\d+ +\d+ (image|smask) .* (\d+) +0 +\d+ +\d+ +\S+ +\S+$`).FindAllStringSubmatch(string(listed), -1) {
		objects[row[1]+" "+row[2]]++
	}
	counts := slices.Sorted(maps.Values(objects))
	if fmt.Sprint(counts) != "[3 3 3]" {
		t.Errorf("pictures %v:\n%s", objects, listed)
	}
	info := string(pagetest.Tool(t, "pdfinfo", path))
	if !strings.Contains(info, "Title:           Łódź: 5 Ω\n") || strings.Contains(info, "Date") {
		t.Errorf("pdfinfo:\n%s", info)
	}
}

// A document can do without anything.
func TestPDFOfNothing(t *testing.T) {
	path, file := printed(t, draw.Document{Pages: []draw.Page{{Scene: &draw.Scene{Width: 10, Height: 10}}, {Scene: &draw.Scene{Width: 10, Height: 10}}}})
	if len(file) > 1500 {
		t.Errorf("%d bytes", len(file))
	}
	if said := pagetest.Tool(t, "qpdf", "--check", path); !bytes.Contains(said, []byte("No syntax or stream encoding errors")) {
		t.Errorf("qpdf: %s", said)
	}
}

// The outline keeps its levels, however they go up and down, and every entry leads to its page, of which some have several.
func TestPDFOutlineOfManyLevels(t *testing.T) {
	var d draw.Document
	want := ""
	for i, levels := range [][]int{{0}, {1, 2, 2}, {}, {1, 0}, {0, 1, 2, 3}, {1}} {
		page := draw.Page{Scene: &draw.Scene{Width: 10, Height: 10}}
		for k, level := range levels {
			e := draw.Entry{Title: fmt.Sprintf("p%d.%d", i+1, k), Level: level}
			if want += fmt.Sprintf("%d%s ", level, e.Title); k == 0 && i%2 == 0 {
				page.Outline, page.Level = e.Title, e.Level
				continue
			}
			page.More = append(page.More, e) // of a page without an entry of its own too
		}
		d.Pages = append(d.Pages, page)
	}
	path, _ := printed(t, d)
	type item struct {
		Title string
		Page  int `json:"destpageposfrom1"`
		Kids  []item
	}
	var file struct{ Outlines []item }
	if err := json.Unmarshal(pagetest.Tool(t, "qpdf", "--json=1", "--json-key=outlines", path), &file); err != nil {
		t.Fatal(err)
	}
	got := ""
	var walk func([]item, int)
	walk = func(list []item, level int) {
		for _, i := range list {
			got += fmt.Sprintf("%d%s ", level, i.Title)
			if !strings.HasPrefix(i.Title, fmt.Sprintf("p%d.", i.Page)) {
				t.Errorf("%s leads to page %d", i.Title, i.Page)
			}
			walk(i.Kids, level+1)
		}
	}
	if walk(file.Outlines, 0); got != want {
		t.Errorf("%s, want %s", got, want)
	}
}

// seen is a page of a PDF as a picture of so many dots per inch.
func seen(t *testing.T, path string, dpi int) image.Image {
	t.Helper()
	prefix := strings.TrimSuffix(path, ".pdf")
	pagetest.Tool(t, "pdftocairo", "-r", strconv.Itoa(dpi), "-png", "-singlefile", path, prefix) // which does not move lines to whole dots, as pdftoppm does
	return decoded(t, read(t, prefix+".png"))
}

// Paper is what the page is printed on: no ink where a drawing has its ground or hides something with it.
func TestPDFLeavesPaperBare(t *testing.T) {
	white := [3]uint8{255, 255, 255}
	square := []draw.Point{{X: 2, Y: 2}, {X: 8, Y: 2}, {X: 8, Y: 8}, {X: 2, Y: 8}}
	path, _ := printed(t, draw.Document{Pages: []draw.Page{{Scene: &draw.Scene{Width: 20, Height: 10, Layers: []draw.Layer{{Name: "a", Paths: []draw.Path{
		draw.Area(draw.Copper, draw.Pen{}, draw.Point{X: 1, Y: 1}, draw.Point{X: 9, Y: 1}, draw.Point{X: 9, Y: 9}, draw.Point{X: 1, Y: 9}),
		draw.Area(draw.Paper, draw.Pen{}, square...),
	}}}}}}})
	picture := seen(t, path, 254)
	for _, c := range []struct {
		x, y int
		want [3]uint8
	}{{50, 50, white}, {15, 50, [3]uint8{0xA4, 0x57, 0x2A}}, {150, 50, white}} {
		if got := dot(picture, c.x, c.y); got != c.want {
			t.Errorf("at %d, %d: %v, want %v", c.x, c.y, got, c.want)
		}
	}
}
