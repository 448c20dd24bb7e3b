package draw_test

import (
	"bytes"
	"encoding/xml"
	"errors"
	"flag"
	"image"
	"image/color"
	"io"
	"math"
	"math/rand"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"farend/draw"
	"farend/internal/pagetest"
)

// sample is a page with everything a page can have.
func sample() *draw.Scene {
	square := []draw.Point{{10, 10}, {40, 10}, {40, 30}, {10, 30}}
	return &draw.Scene{
		Title: "A square < a circle", Desc: "Ω & other letters.", Width: 60, Height: 40,
		Layers: []draw.Layer{
			{Name: "areas", Paths: []draw.Path{
				draw.Area(draw.Shade, draw.Pen{Tone: draw.Rule, Width: draw.Hair}, square...),
				draw.Hatch(draw.Pen{Tone: draw.Graphite, Width: draw.Hair}, 45, 2, square...),
				draw.Disc(draw.Copper, draw.Point{X: 50, Y: 20}, 4),
				draw.Line(draw.Pen{Tone: draw.Ink, Width: draw.Thick, Dash: []float64{3, 1}}, square...),
				star(50, 9, 5),
			}, Images: []draw.Image{
				{Box: draw.Box{Min: draw.Point{X: 44, Y: 28}, Max: draw.Point{X: 50, Y: 38}}, Picture: chequered(3, 5, 255)},
				{Box: draw.Box{Min: draw.Point{X: 52, Y: 28}, Max: draw.Point{X: 58, Y: 38}}, Picture: chequered(3, 5, 100)},
			}},
			{Name: "words-2", Texts: []draw.Text{
				{At: draw.Point{X: 5, Y: 5}, Words: "4.80\u202fA ≤ 1.45 · Iz", Size: 8, Tone: draw.Ink},
				{At: draw.Point{X: 30, Y: 36}, Words: "fuse/blade-7.5A", Face: draw.Mono, Size: 9, Anchor: draw.Middle, Tone: draw.Graphite},
				{At: draw.Point{X: 8, Y: 30}, Words: "upright", Face: draw.SemiBold, Size: 12, Turn: 90, Tone: draw.Copper},
				{At: draw.Point{X: 30, Y: 5}, Words: "山 bridge", Size: 7, Tone: draw.Ink},
				{At: draw.Point{X: 42, Y: 33}, Words: "−40\u202f°C…µΩ", Size: 7, Anchor: draw.End, Tone: draw.Blueprint},
				{At: draw.Point{X: 13, Y: 28}, Words: "aslant", Size: 10, Turn: 30, Tone: draw.Ink},
			}},
		},
	}
}

// star is five points joined through the middle, which the even-odd rule leaves empty.
func star(x, y, radius float64) draw.Path {
	var points []draw.Point
	for k := range 5 {
		sin, cos := math.Sincos(float64(k) * 4 * math.Pi / 5)
		points = append(points, draw.Point{X: x + radius*sin, Y: y - radius*cos})
	}
	return draw.Area(draw.Exact(255, 40, 0), draw.Pen{Tone: draw.Blueprint, Width: draw.Hair}, points...)
}

// chequered is a picture of two colours, whose every second dot is as opaque as asked.
func chequered(width, height int, opacity uint8) image.Image {
	picture := image.NewNRGBA(image.Rect(0, 0, width, height))
	for i := range width * height {
		c := color.NRGBA{20, 200, 90, 255}
		if i%2 == 1 {
			c = color.NRGBA{220, 60, 90, opacity}
		}
		picture.SetNRGBA(i%width, i/width, c)
	}
	return picture
}

func written(t *testing.T, s *draw.Scene) []byte {
	t.Helper()
	text, err := draw.SVG(s)
	if err != nil {
		t.Fatal(err)
	}
	return text
}

func TestSVGIsWellFormedAndTheSameEachTime(t *testing.T) {
	text := written(t, sample())
	if again := written(t, sample()); !bytes.Equal(text, again) {
		t.Error("two files of one page differ")
	}
	for d := xml.NewDecoder(bytes.NewReader(text)); ; {
		if _, err := d.Token(); errors.Is(err, io.EOF) {
			break
		} else if err != nil {
			t.Fatal(err)
		}
	}
	if said := pagetest.Tool(t, "xmllint", "--noout", "--nonet", kept(t, "page.svg", text)); len(said) > 0 {
		t.Errorf("xmllint: %s", said)
	}
}

// kept is the path of a file with something in it.
func kept(t *testing.T, name string, data []byte) string {
	t.Helper()
	file := filepath.Join(t.TempDir(), name)
	if err := os.WriteFile(file, data, 0o644); err != nil {
		t.Fatal(err)
	}
	return file
}

// Every text is there to be found; it is seen as outlines, or as text of the reader's own font where ours lacks a character.
func TestSVGKeepsItsTexts(t *testing.T) {
	text := string(written(t, sample()))
	for _, want := range []string{
		`width="60mm" height="40mm" viewBox="0 0 60 40"`,
		`<title id="Title">A square &lt; a circle</title>`, `<desc id="Desc">Ω &amp; other letters.</desc>`,
		`<g id="areas">`, `<g id="words-2">`, `stroke-dasharray="3 1"`, `stroke-width="0.13"`, `stroke-linecap="butt" stroke-linejoin="miter" stroke-miterlimit="4"`,
		"fill-opacity=\"0\">4.80\u202fA ≤ 1.45 · Iz</text>",
		`transform="rotate(-90 8 30)"`, `text-anchor="middle"`, `font-weight="600"`,
		`fill="#1B2530">山 bridge</text>`,
	} {
		if !strings.Contains(text, want) {
			t.Errorf("there is no %s", want)
		}
	}
	for _, id := range []string{"Title", "Desc", "areas", "words-2", "G0"} {
		if n := strings.Count(text, `id="`+id+`"`); n != 1 {
			t.Errorf("%d things are called %s", n, id)
		}
	}
	if n := strings.Count(text, `xlink:href="data:image/png;base64,`); n != 2 {
		t.Errorf("%d pictures", n)
	}
	for _, outside := range []string{"url(", "href=\"h", "@font-face"} {
		if strings.Contains(text, outside) {
			t.Errorf("the file leads elsewhere: %s", outside)
		}
	}
}

// The widths of glyphs are printed in the fonts' own tables: 600/1000 em for every digit, 698/1000 em for the height of capitals.
func TestTextsAreMeasuredWithTheirFont(t *testing.T) {
	const near = 1e-9
	for _, face := range []draw.Face{draw.Sans, draw.SemiBold, draw.Mono} {
		for _, digits := range []string{"0000000000", "1111111111", "0123456789"} {
			if got, want := (draw.Text{Words: digits, Face: face, Size: 12}).Width(), 10*0.6*12*25.4/72; math.Abs(got-want) > near {
				t.Errorf("face %d: %s is %v mm long, want %v", face, digits, got, want)
			}
		}
	}
	one := draw.Text{At: draw.Point{X: 10, Y: 20}, Words: "8", Size: 72}
	if w := one.Width(); math.Abs(w-0.6*25.4) > near {
		t.Errorf("a digit of 72 pt is %v mm wide", w)
	}
	level, middle := one.Box(), one
	middle.Anchor = draw.Middle
	if got := middle.Box(); math.Abs(got.Min.X-(10-0.3*25.4)) > near || math.Abs(got.Width()-level.Width()) > near {
		t.Errorf("in the middle of its place: %+v", got)
	}
	turned := one
	turned.Turn = 90 // reads upwards, its head to the left
	box := turned.Box()
	if math.Abs(box.Height()-level.Width()) > near || math.Abs(box.Width()-level.Height()) > near || math.Abs(box.Max.Y-20) > near || box.Min.X > 10-0.69*25.4 {
		t.Errorf("turned: %+v, level: %+v", box, level)
	}
}

// The fonts have what pages say: units, signs of comparison, prefixes, and the letters of Europe's Latin alphabets.
func TestFontsHaveTheLettersOfPages(t *testing.T) {
	const common = " \u202f0123456789−+±×·/–…→≤≥≠²³°µ√%()[]?.,:;'’“”ABCXYZabcxyzÄÖÜäöüßŁódźŘřÅåÇçÉéÑñŐőŞşĞğ"
	for _, face := range []draw.Face{draw.Sans, draw.SemiBold} {
		if missing := (draw.Text{Words: common + "ΩΔΣλη", Face: face}).Lacks(); missing != nil {
			t.Errorf("face %d lacks %q", face, missing)
		}
	}
	if missing := (draw.Text{Words: "fuse/blade-7.5A cable/flex-2x2.5 E1@px120 ±µ²", Face: draw.Mono}).Lacks(); missing != nil {
		t.Errorf("mono lacks %q", missing)
	}
	if got := (draw.Text{Words: "a山b\n"}).Lacks(); string(got) != "山\n" {
		t.Errorf("lacks %q", got)
	}
}

func TestFontsComeWithTheirLicence(t *testing.T) {
	text, err := os.ReadFile("font/OFL.txt")
	if err != nil || !bytes.Contains(text, []byte("SIL OPEN FONT LICENSE Version 1.1")) || !bytes.Contains(text, []byte("IBM Corp.")) {
		t.Errorf("font/OFL.txt is not the licence of the fonts: %v", err)
	}
}

// The lines of a hatch are as long in all as the area over the gap, and lie inside, for areas of any form.
func TestHatchCoversItsArea(t *testing.T) {
	r := rand.New(rand.NewSource(1))
	for range 300 {
		var polygon []draw.Point // star-shaped about its centre, so that it does not cross itself
		corners := 3 + r.Intn(8)
		for k := range corners {
			at := 2 * math.Pi * (float64(k) + 0.4*r.Float64()) / float64(corners)
			far := 5 + 40*r.Float64()
			polygon = append(polygon, draw.Point{X: 50 + far*math.Cos(at), Y: 50 + far*math.Sin(at)})
		}
		area := 0.0
		for i, a := range polygon {
			b := polygon[(i+1)%len(polygon)]
			area += (a.X*b.Y - b.X*a.Y) / 2
		}
		gap, length := 0.02+0.05*r.Float64(), 0.0
		hatch := draw.Hatch(draw.Pen{}, 360*r.Float64(), gap, polygon...)
		for i := 0; i < len(hatch.Steps); i += 2 {
			a, b := hatch.Steps[i], hatch.Steps[i+1]
			if a.Kind != draw.Move || b.Kind != draw.Go {
				t.Fatalf("steps %v, %v", a.Kind, b.Kind)
			}
			length += math.Hypot(b.To.X-a.To.X, b.To.Y-a.To.Y)
		}
		if math.Abs(length*gap-math.Abs(area)) > 0.01*math.Abs(area)+80*gap*gap {
			t.Fatalf("%v: lines of %v mm at %v mm for %v mm²", polygon, length, gap, area)
		}
	}
	if got := draw.Hatch(draw.Pen{}, 45, 1, draw.Point{}, draw.Point{X: 9}); got.Steps != nil {
		t.Errorf("a line has an area: %v", got)
	}
}

// A disc's curves stay within 0.03 % of a circle.
func TestDiscIsRound(t *testing.T) {
	disc := draw.Disc(draw.Ink, draw.Point{X: 3, Y: -2}, 10)
	at := disc.Steps[0].To
	for _, s := range disc.Steps[1:5] {
		for k := range 101 {
			u := float64(k) / 100
			b := func(p0, p1, p2, p3 float64) float64 {
				return p0*math.Pow(1-u, 3) + 3*p1*u*math.Pow(1-u, 2) + 3*p2*u*u*(1-u) + p3*u*u*u
			}
			if got := math.Hypot(b(at.X, s.C1.X, s.C2.X, s.To.X)-3, b(at.Y, s.C1.Y, s.C2.Y, s.To.Y)+2); math.Abs(got-10) > 0.003 {
				t.Fatalf("%v from its centre", got)
			}
		}
		at = s.To
	}
}

func TestBoxes(t *testing.T) {
	a := draw.Box{Min: draw.Point{X: 0, Y: 0}, Max: draw.Point{X: 10, Y: 4}}
	touching := draw.Box{Min: draw.Point{X: 10, Y: 0}, Max: draw.Point{X: 12, Y: 4}}
	if a.Meets(touching) || !a.Grow(0.1).Meets(touching) || !a.Meets(a) || !a.Holds(a) || a.Holds(a.Grow(0.1)) || !a.Grow(0.1).Holds(a) {
		t.Error("boxes that touch have no area in common; those that are pushed into each other do")
	}
	if got := a.Move(3, -1); got.Min != (draw.Point{X: 3, Y: -1}) || got.Width() != 10 || got.Height() != 4 {
		t.Errorf("moved it is %+v", got)
	}
	if a.Width() != 10 || a.Height() != 4 {
		t.Errorf("%v by %v", a.Width(), a.Height())
	}
}

// What cannot be written is refused, whatever it is.
func TestWritersRefuseWhatIsNoPage(t *testing.T) {
	for name, spoil := range map[string]func(*draw.Scene){
		"no size":                   func(s *draw.Scene) { s.Width = 0 },
		"endless":                   func(s *draw.Scene) { s.Height = math.Inf(1) },
		"a nameless layer":          func(s *draw.Scene) { s.Layers[0].Name = "" },
		"an odd name":               func(s *draw.Scene) { s.Layers[0].Name = "two words" },
		"one name twice":            func(s *draw.Scene) { s.Layers[1].Name = s.Layers[0].Name },
		"a place that is not":       func(s *draw.Scene) { s.Layers[0].Paths[3].Steps[1].To.X = math.NaN() },
		"an odd step":               func(s *draw.Scene) { s.Layers[0].Paths[0].Steps[0].Kind = 9 },
		"an odd fill":               func(s *draw.Scene) { s.Layers[0].Paths[0].Fill = 99 },
		"a pen of no colour":        func(s *draw.Scene) { s.Layers[0].Paths[0].Pen.Tone = draw.None },
		"a negative width":          func(s *draw.Scene) { s.Layers[0].Paths[0].Pen.Width = -1 },
		"an endless dash":           func(s *draw.Scene) { s.Layers[0].Paths[3].Pen.Dash[0] = math.Inf(1) },
		"too small a text":          func(s *draw.Scene) { s.Layers[1].Texts[0].Size = 6.9 },
		"an odd face":               func(s *draw.Scene) { s.Layers[1].Texts[0].Face = 9 },
		"an odd anchor":             func(s *draw.Scene) { s.Layers[1].Texts[0].Anchor = 9 },
		"a text of no colour":       func(s *draw.Scene) { s.Layers[1].Texts[0].Tone = draw.None },
		"a picture of nothing":      func(s *draw.Scene) { s.Layers[0].Images[0].Picture = nil },
		"a picture without a dot":   func(s *draw.Scene) { s.Layers[0].Images[0].Picture = image.NewGray(image.Rect(3, 3, 3, 9)) },
		"a picture without room":    func(s *draw.Scene) { s.Layers[0].Images[1].Box.Max.X = 52 },
		"an endless picture":        func(s *draw.Scene) { s.Layers[0].Images[1].Box.Max.X = math.Inf(1) },
		"a link without room":       func(s *draw.Scene) { s.Links = []draw.Link{{To: "x"}} },
		"a link nowhere":            func(s *draw.Scene) { s.Links = []draw.Link{{Box: draw.Box{Max: draw.Point{X: math.NaN(), Y: 1}}}} },
		"a negative scale":          func(s *draw.Scene) { s.Scale = -1 },
		"a scale that is none":      func(s *draw.Scene) { s.Scale = math.NaN() },
		"an endless scale":          func(s *draw.Scene) { s.Scale = math.Inf(1) },
		"no beginning":              func(s *draw.Scene) { s.Layers[0].Paths[0].Steps[0].Kind = draw.Go },
		"a negative dash":           func(s *draw.Scene) { s.Layers[0].Paths[3].Pen.Dash[0] = -1 },
		"dashes of no length":       func(s *draw.Scene) { s.Layers[0].Paths[3].Pen.Dash = []float64{0, 0} },
		"beyond all":                func(s *draw.Scene) { s.Layers[0].Paths[3].Steps[1].To.X = 1e6 },
		"too long a name":           func(s *draw.Scene) { s.Layers[0].Name = strings.Repeat("a", 32) },
		"a page of a road's length": func(s *draw.Scene) { s.Width = 6000 },
		"a text nowhere":            func(s *draw.Scene) { s.Layers[1].Texts[0].At.Y = math.Inf(-1) },
	} {
		s := sample()
		spoil(s)
		for kind, write := range writers {
			if text, err := write(s); err == nil || text != nil || !strings.HasPrefix(err.Error(), "draw: ") {
				t.Errorf("%s as %s: %d bytes, %v", name, kind, len(text), err)
			}
		}
	}
	if empty, err := draw.SVG(&draw.Scene{Width: 1, Height: 1, Layers: []draw.Layer{{Name: "bare", Paths: []draw.Path{{}}, Texts: []draw.Text{{Tone: draw.Ink, Size: 7}}}}}); err != nil || bytes.Contains(empty, []byte("<path")) || bytes.Contains(empty, []byte("<text")) {
		t.Errorf("an empty page: %v", err)
	}
}

// The file of a page with everything on it is the same to the byte as one that was looked at and kept. After a change that is meant, look at the new
// one and put it in its place: go test ./draw -run Kept -keep.
func TestSVGIsAsItWasKept(t *testing.T) {
	const path = "testdata/sample.svg"
	page := sample()
	for i := range page.Layers {
		page.Layers[i].Images = nil // how a picture is packed is up to the standard library
	}
	text := written(t, page)
	if *keep {
		if err := os.WriteFile(path, text, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(text, want) {
		t.Errorf("the page is another than %s", path)
	}
}

var keep = flag.Bool("keep", false, "rewrite testdata/sample.svg; look at it before believing it")
