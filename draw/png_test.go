package draw_test

import (
	"bytes"
	"encoding/binary"
	"image"
	"image/png"
	"math"
	"os"
	"strings"
	"testing"

	"farend/draw"
	"farend/internal/pagetest"
)

func painted(t *testing.T, s *draw.Scene, dpi float64) image.Image {
	t.Helper()
	file, err := draw.PNG(s, dpi)
	if err != nil {
		t.Fatal(err)
	}
	return decoded(t, file)
}

func decoded(t *testing.T, file []byte) image.Image {
	t.Helper()
	picture, err := png.Decode(bytes.NewReader(file))
	if err != nil {
		t.Fatal(err)
	}
	return picture
}

func read(t *testing.T, path string) []byte {
	t.Helper()
	file, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return file
}

func dot(picture image.Image, x, y int) [3]uint8 {
	r, g, b, _ := picture.At(x, y).RGBA()
	return [3]uint8{uint8(r >> 8), uint8(g >> 8), uint8(b >> 8)}
}

var ground = [3]uint8{0xFB, 0xFA, 0xF6}

// The sample at ten dots to a millimetre.
func TestPNGHasItsSizeAndColours(t *testing.T) {
	file, err := draw.PNG(sample(), 254)
	if err != nil {
		t.Fatal(err)
	}
	picture := decoded(t, file)
	if picture.Bounds() != image.Rect(0, 0, 600, 400) {
		t.Errorf("%v", picture.Bounds())
	}
	at := bytes.Index(file, []byte("pHYs"))
	if at < 0 || binary.BigEndian.Uint32(file[at+4:]) != 10000 || binary.BigEndian.Uint32(file[at+8:]) != 10000 || file[at+12] != 1 {
		t.Error("the file does not say that a metre has 10,000 dots")
	}
	green, red := [3]uint8{20, 200, 90}, [3]uint8{220, 60, 90}
	var mixed [3]uint8 // 100 of 255 red
	for k := range mixed {
		mixed[k] = uint8(math.Round((float64(red[k])*100 + float64(ground[k])*155) / 255))
	}
	for _, c := range []struct {
		what string
		x, y int
		want [3]uint8
	}{
		{"the ground", 1, 1, ground}, {"the last dot", 599, 399, ground},
		{"a disc", 500, 200, [3]uint8{0xA4, 0x57, 0x2A}}, {"outside of it", 500, 245, ground},
		{"an area between hatches", 103, 107, [3]uint8{0xF0, 0xEE, 0xE7}},
		{"a dash", 110, 100, [3]uint8{0x1B, 0x25, 0x30}}, {"the corner of a line", 401, 98, [3]uint8{0x1B, 0x25, 0x30}},
		{"beside the end of an open line", 98, 300, ground},
		{"a point of the star", 500, 58, [3]uint8{255, 40, 0}}, {"its middle", 500, 90, ground},
		{"a picture's first dot", 450, 290, green}, {"its second", 470, 290, red}, {"its last", 490, 370, green},
		{"a dot that lets through", 550, 290, mixed},
	} {
		if got := dot(picture, c.x, c.y); got != c.want {
			t.Errorf("%s at %d, %d: %v, want %v", c.what, c.x, c.y, got, c.want)
		}
	}
}

// A text's ink lies in its box, at all sizes, and comes near its sides.
func TestPNGSetsTextsWhereTheyAreMeasured(t *testing.T) {
	const dpi = 254.0
	for _, text := range []draw.Text{
		{Words: "(Qg|8)", Size: 12}, {Words: "(Qg|8)", Size: 40, Anchor: draw.End}, {Words: "HH", Size: 20, Anchor: draw.Middle, Face: draw.SemiBold},
		{Words: "Mono[j]", Size: 9, Face: draw.Mono, Turn: 90}, {Words: "aslant", Size: 30, Turn: 33, Anchor: draw.Middle}, {Words: "山", Size: 30, Turn: 180},
	} {
		text.At, text.Tone = draw.Point{X: 40, Y: 40}, draw.Ink
		box := text.Box()
		picture := painted(t, &draw.Scene{Width: 80, Height: 80, Layers: []draw.Layer{{Name: "a", Texts: []draw.Text{text}}}}, dpi)
		ink := image.Rectangle{}
		for y := range 800 {
			for x := range 800 {
				if dot(picture, x, y) != ground {
					ink = ink.Union(image.Rect(x, y, x+1, y+1))
				}
			}
		}
		got := draw.Box{Min: draw.Point{X: float64(ink.Min.X) / 10, Y: float64(ink.Min.Y) / 10}, Max: draw.Point{X: float64(ink.Max.X) / 10, Y: float64(ink.Max.Y) / 10}}
		if ink.Empty() || !box.Grow(0.1).Holds(got) || !got.Grow(text.Size*0.15).Holds(box) {
			t.Errorf("%+v: ink in %+v, measured %+v", text, got, box)
		}
	}
}

// The raster is exact: what lies in all dots together is the area, for any polygon, also partly off the page.
func TestPNGCoversAreas(t *testing.T) {
	for _, c := range []struct {
		points []draw.Point
		area   float64 // on the page of 10 mm by 10 mm
	}{
		{[]draw.Point{{X: 1.03, Y: 2.01}, {X: 7.77, Y: 3.3}, {X: 4.4, Y: 9.19}}, 0},
		{[]draw.Point{{X: -5, Y: -5}, {X: 15, Y: -5}, {X: 15, Y: 15}, {X: -5, Y: 15}}, 100},
		{[]draw.Point{{X: -5, Y: 5}, {X: 5, Y: -5}, {X: 15, Y: 5}, {X: 5, Y: 15}}, 100},
		{[]draw.Point{{X: -10, Y: 5}, {X: 5, Y: -10}, {X: 20, Y: 5}, {X: 5, Y: 20}}, 100},
		{[]draw.Point{{X: 0, Y: 0}, {X: 10, Y: 0}, {X: 0, Y: 10}}, 50},
		{[]draw.Point{{X: 3, Y: 3}, {X: 9, Y: 3}, {X: 9, Y: 9}, {X: 3, Y: 9}, {X: 3, Y: 3}, {X: 5, Y: 3}, {X: 5, Y: 5}, {X: 3, Y: 5}}, 32}, // a part of it twice
		{[]draw.Point{{X: 12, Y: 1}, {X: 14, Y: 1}, {X: 13, Y: 5}}, math.Inf(1)},
	} {
		want := c.area
		if want == 0 {
			a, b, d := c.points[0], c.points[1], c.points[2]
			want = math.Abs((b.X-a.X)*(d.Y-a.Y)-(d.X-a.X)*(b.Y-a.Y)) / 2
		}
		if math.IsInf(want, 1) {
			want = 0
		}
		picture := painted(t, &draw.Scene{Width: 10, Height: 10, Layers: []draw.Layer{{Name: "a", Paths: []draw.Path{draw.Area(draw.Exact(0, 0, 0), draw.Pen{}, c.points...)}}}}, 127)
		sum := 0.0
		for y := range 50 {
			for x := range 50 {
				sum += 1 - float64(dot(picture, x, y)[1])/float64(ground[1])
			}
		}
		if math.Abs(sum/25-want) > 0.02+0.0005*want {
			t.Errorf("%v: %v mm², want %v", c.points, sum/25, want)
		}
	}
}

// PDF and PNG, and SVG and PNG, show the same page: hardly a dot differs by more than a quarter. The sample stands on white, the
// ground of PDF, without what is drawn otherwise on purpose: characters that our fonts lack, and pictures, which SVG leaves to its reader.
func TestPNGLooksLikeTheOthers(t *testing.T) {
	s := sample()
	s.Layers[0].Images = nil
	s.Layers[0].Paths = append([]draw.Path{draw.Area(draw.Exact(255, 255, 255), draw.Pen{}, draw.Point{}, draw.Point{X: 60}, draw.Point{X: 60, Y: 40}, draw.Point{Y: 40})}, s.Layers[0].Paths...)
	ring := draw.Disc(draw.None, draw.Point{X: 51, Y: 33}, 5)
	ring.Pen = draw.Pen{Tone: draw.Copper, Width: draw.Thin, Dash: []float64{2, 0.7, 0.3}}
	s.Layers[0].Paths = append(s.Layers[0].Paths, ring, draw.Line(draw.Pen{Tone: draw.Ink, Width: draw.Thick}, // too sharp for a point, blunt, straight on, closed by itself
		draw.Point{X: 1, Y: 33}, draw.Point{X: 9, Y: 34}, draw.Point{X: 2, Y: 35.2}, draw.Point{X: 9, Y: 39}, draw.Point{X: 11, Y: 39}, draw.Point{X: 13, Y: 39}, draw.Point{X: 12, Y: 33}, draw.Point{X: 13, Y: 39}))
	s.Layers[1].Texts[3].Words = "ÅŁóźñőğ"
	const dpi = 254 // so that the page ends with a whole dot
	own := painted(t, s, dpi)
	compare := func(kind string, other image.Image, most float64) {
		differ, inked := 0, 0
		size := own.Bounds().Intersect(other.Bounds())
		if size.Dx() < own.Bounds().Dx()-1 || size.Dy() < own.Bounds().Dy()-1 {
			t.Errorf("%s: %v, own %v", kind, other.Bounds(), own.Bounds())
		}
		for y := range size.Dy() {
			for x := range size.Dx() {
				a, b := dot(own, x, y), dot(other, x, y)
				if a != [3]uint8{255, 255, 255} {
					inked++
				}
				for k := range a {
					if math.Abs(float64(a[k])-float64(b[k])) > 64 {
						differ++
						break
					}
				}
			}
		}
		if share := float64(differ) / float64(inked); share > most {
			t.Errorf("%s: %.2f %% of the inked dots differ", kind, 100*share)
		}
	}
	path, _ := printed(t, draw.Document{Pages: []draw.Page{{Scene: s}}})
	compare("PDF", seen(t, path, dpi), 0.02) // its renderer sets glyphs at quarters of a dot
	compare("SVG", decoded(t, pagetest.Tool(t, "rsvg-convert", "-w", "600", kept(t, "page.svg", written(t, s)))), 0.002)
}

func TestPNGRefusesWhatIsNoPicture(t *testing.T) {
	large := &draw.Scene{Width: 1189, Height: 841}
	for _, dpi := range []float64{0, -100, 9.9, 1201, math.NaN(), math.Inf(1)} {
		if file, err := draw.PNG(sample(), dpi); err == nil || file != nil || !strings.Contains(err.Error(), "from 10 to 1200 dots per inch") {
			t.Errorf("%v dots per inch: %v", dpi, err)
		}
	}
	if _, err := draw.PNG(large, 600); err == nil || !strings.Contains(err.Error(), "28087 by 19866 dots are more than 100 million") {
		t.Errorf("%v", err)
	}
	tiny := painted(t, &draw.Scene{Width: 0.1, Height: 0.1}, 10)
	if tiny.Bounds() != image.Rect(0, 0, 1, 1) {
		t.Errorf("%v", tiny.Bounds())
	}
}
