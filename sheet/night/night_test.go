package night_test

import (
	"bytes"
	"farend/draw"
	"farend/internal/pagetest"
	"farend/internal/schemetest"
	"farend/internal/sheettest"
	"farend/layout"
	"farend/network"
	"farend/sheet/drafting"
	"farend/sheet/night"
	"farend/study"
	"fmt"
	"image"
	"image/png"
	"math"
	"strings"
	"testing"
)

// What is asked for alike and looks otherwise because the tape is another is said with by how much; the difference is that of the u′, v′ which the
// page lists.
func TestOtherTapesAreSaid(t *testing.T) {
	st := atrium(t)
	for _, style := range []drafting.Style{sheettest.A3, sheettest.A4} {
		otherTapes(t, st, style)
	}
	one, nine := st.Result("state/open").Runs["E1"], st.Result("state/open").Runs["E9"]
	if got := math.Hypot(nine.U-one.U, nine.V-one.V); math.Abs(got-0.091) > 0.0005 {
		t.Errorf("they differ by %v", got)
	}
}

// otherTapes holds a night to say which runs look unlike, behind how the picture was made, of which nothing is left out for want of room.
func otherTapes(t *testing.T, st *study.Study, style drafting.Style) {
	t.Helper()
	leaf, ok := night.Page(st, "open", style)
	if !ok {
		t.Fatal("no night")
	}
	scene := sheettest.Bound(st, leaf)
	words := strings.ReplaceAll(strings.Join(pagetest.Words(&scene), " "), layout.Thin, " ")
	last := 0
	for _, want := range []string{"One exposure for the page", "Each pixel is spread on paper as Gaussians",
		"E3 to E8 look more purple than E1 and E2 by Δu′v′ 0.101: other tape.", "E9 to E12 look warmer than E1 and E2 by Δu′v′ 0.091: other tape."} {
		at := strings.Index(words, want)
		if at < last {
			t.Errorf("on %s it does not say %q after the others", style.Drawings.Name, want)
		}
		last = max(last, at)
	}
	for _, complaint := range pagetest.Complaints(&scene) {
		t.Errorf("on %s: %s", style.Drawings.Name, complaint)
	}
}

func footbridge(t *testing.T) *study.Study {
	return schemetest.Unstruck(t, "../../examples/footbridge.scheme.yaml")
}

func atrium(t *testing.T) *study.Study {
	return schemetest.Unstruck(t, "../../examples/library-atrium.scheme.yaml")
}

func nightPicture(t *testing.T, leaf layout.Leaf) draw.Image {
	t.Helper()
	for _, l := range leaf.Layers {
		if len(l.Images) > 0 {
			return l.Images[0]
		}
	}
	t.Fatal("a night has no picture")
	return draw.Image{}
}

// Of every state of examples, nights are clean, the same when drawn again, small files, and name every run; other states have none.
func TestNightsAreClean(t *testing.T) {
	for _, st := range []*study.Study{footbridge(t), atrium(t)} {
		for i, state := range st.Scheme.StateNames() {
			style := drafting.Styles()[i%4]
			leaf, ok := night.Page(st, state, style)
			if !ok || leaf.Name != "night-"+state {
				t.Fatalf("%s: %v, %s", state, ok, leaf.Name)
			}
			page := sheettest.Bound(st, leaf)
			for _, complaint := range pagetest.Complaints(&page) {
				t.Errorf("%s: %s", state, complaint)
			}
			words := strings.Join(pagetest.Words(&page), "\n")
			for id, run := range st.Scheme.Runs {
				if !strings.Contains(words, id+" "+run.Label) {
					t.Errorf("%s: %s is not named", state, id)
				}
			}
			readable(t, page)
			var file, again bytes.Buffer
			picture := nightPicture(t, leaf).Picture
			if err := png.Encode(&file, picture); err != nil {
				t.Fatal(err)
			}
			if size := picture.Bounds(); size.Dx()*size.Dy() > 1.1e6 || file.Len() > 400e3 {
				t.Errorf("%s: %v dots and %d bytes", state, size, file.Len())
			}
			if i > 0 {
				continue
			}
			other, _ := night.Page(st, state, style)
			if err := png.Encode(&again, nightPicture(t, other).Picture); err != nil || !bytes.Equal(file.Bytes(), again.Bytes()) {
				t.Errorf("%s: drawn twice it differs (%v)", state, err)
			}
		}
		if _, ok := night.Page(st, "no-such-state", sheettest.A3); ok {
			t.Error("a state that is not there has a night")
		}
	}
}

// readable holds the words on the dark to the contrast that WCAG 2.1 asks for in 1.4.3, 4.5 to 1, each on ground of its own.
func readable(t *testing.T, page draw.Scene) {
	t.Helper()
	light := draw.Exact(0xC9, 0xCC, 0xCE)
	if contrast := (night.Luminance(0xC9, 0xCC, 0xCE) + 0.05) / (night.Luminance(0x14, 0x18, 0x1D) + 0.05); contrast < 4.5 {
		t.Errorf("the contrast is %.1f", contrast)
	}
	for _, l := range page.Layers {
		if l.Name != "labels" {
			continue
		}
		for _, text := range l.Texts {
			if text.Tone != light {
				t.Errorf("%q is on the dark in another tone", text.Words)
			}
		}
	}
}

// A night of 2,500 pixels is clean, and so is one of more runs than have room: it says how many it leaves out, of the panel and of the table.
func TestNightsOfManyRunsAreClean(t *testing.T) {
	for _, c := range []struct {
		runs, pixels int
		drawn        bool
		says         []string
	}{{20, 125, true, []string{"full white"}}, {150, 12, false, []string{"more runs on the sheets of the runs", "without a place left out"}}} {
		st := schemetest.UnstruckText(t, "large.scheme.yaml", schemetest.Large(c.runs, c.pixels, c.drawn))
		leaf, ok := night.Page(st, "full", sheettest.A3)
		if !ok {
			t.Fatal("no night")
		}
		page := sheettest.Bound(st, leaf)
		for _, complaint := range pagetest.Complaints(&page) {
			t.Errorf("%+v: %s", c, complaint)
		}
		words := scenesWords(page)
		for _, says := range c.says {
			if !strings.Contains(words, says) {
				t.Errorf("%+v: it does not say %q", c, says)
			}
		}
	}
}

// One pixel alone makes light of its own colour: in the picture its dots, less the ground, have the ratio of channels that comes of its
// chromaticity by the inverse of the primaries of IEC 61966-2-1 (red 0.64, 0.33; green 0.30, 0.60; blue 0.15, 0.06; white D65 0.3127, 0.3290),
// solved here from those alone, not by the matrix of the program.
func TestNightShowsTheColourOfAPixel(t *testing.T) {
	const scheme = `farend: 1
title: one pixel
parts:
  tape/one:
    title: invented tape of one pixel a metre
    volts: 5 V
    volts_min: 4 V
    volts_max: 5.5 V
    pixels: 1 /m
    cut_every: 1
    rail: 10 mΩ/m
    phase: unknown
    channels:
      red: {set: 10 mA, lo: 1.8 V, hi: 2.5 V, soft: 0.1 V, candela: 1 cd, x: %g, y: %g}
    idle: {set: 1 mA, lo: 1 V, hi: 2 V, soft: 0.1 V}
    protocol: protocol/single-wire-800k-24
supplies: {T1: {part: supply/5v-300w}}
runs: {E1: {tape: tape/one, pixels: 1}}
cables: {W1: {part: cable/flex-2x2.5, length: 1 m, from: T1, to: E1@start}}
states: {full: {level: 100 %%, colour: all}}
`
	for _, c := range []struct {
		x, y  float64
		shown bool
	}{{0.3127, 0.3290, true}, {0.45, 0.41, true}, {0.35, 0.50, true}, {0.20, 0.15, true}, {0.69, 0.31, false}, {0.15, 0.75, false}} {
		st := schemetest.UnstruckText(t, "one.scheme.yaml", fmt.Sprintf(scheme, c.x, c.y))
		leaf, ok := night.Page(st, "full", sheettest.A3)
		if !ok {
			t.Fatal("no night")
		}
		got := brightestDot(nightPicture(t, leaf).Picture)
		want := primaries(c.x, c.y)
		if least := min(want[0], want[1], want[2]); (least >= 0) != c.shown {
			t.Fatalf("%v: within sRGB: %v", c, least)
		} else if least < 0 { // towards white of the same luminance, until nothing is missing
			for i := range want {
				want[i] = (want[i] - least) / (1 - least)
			}
		}
		most := max(want[0], want[1], want[2])
		for i := range want {
			if math.Abs(got[i]-want[i]/most) > 0.02 {
				t.Errorf("x %v, y %v: the brightest dot is %.3f, want %.3f of %.3f", c.x, c.y, got, want[i]/most, want)
				break
			}
		}
		words := scenesWords(sheettest.Bound(st, leaf))
		if strings.Contains(words, "beyond") == c.shown {
			t.Errorf("x %v, y %v: the page says %q", c.x, c.y, words)
		}
	}
}

func scenesWords(s draw.Scene) string { return strings.Join(pagetest.Words(&s), " ") }

// primaries are the shares of red, green and blue light of sRGB that make a luminance of 1 with a chromaticity, by Cramer's rule.
func primaries(x, y float64) (rgb [3]float64) {
	column := func(x, y float64) [3]float64 { return [3]float64{x / y, 1, (1 - x - y) / y} }
	det := func(a, b, c [3]float64) float64 {
		return a[0]*(b[1]*c[2]-b[2]*c[1]) - b[0]*(a[1]*c[2]-a[2]*c[1]) + c[0]*(a[1]*b[2]-a[2]*b[1])
	}
	r, g, b := column(0.64, 0.33), column(0.30, 0.60), column(0.15, 0.06)
	solve := func(v [3]float64) [3]float64 {
		d := det(r, g, b)
		return [3]float64{det(v, g, b) / d, det(r, v, b) / d, det(r, g, v) / d}
	}
	white, wanted := solve(column(0.3127, 0.3290)), solve(column(x, y))
	for i := range rgb {
		rgb[i] = wanted[i] / white[i]
	}
	return rgb
}

// brightestDot is the linear light of the brightest dot, less the ground, with the largest channel 1. The ground is #14181D; the curve that is
// undone is that of IEC 61966-2-1.
func brightestDot(picture image.Image) (rgb [3]float64) {
	linear := func(v uint32) float64 {
		s := float64(v>>8) / 255
		if s <= 0.04045 {
			return s / 12.92
		}
		return math.Pow((s+0.055)/1.055, 2.4)
	}
	most := 0.0
	for y := picture.Bounds().Min.Y; y < picture.Bounds().Max.Y; y++ {
		for x := picture.Bounds().Min.X; x < picture.Bounds().Max.X; x++ {
			r, g, b, _ := picture.At(x, y).RGBA()
			if sum := float64(r + g + b); sum > most {
				most = sum
				rgb = [3]float64{linear(r), linear(g), linear(b)}
			}
		}
	}
	for i, v := range []uint32{0x14, 0x18, 0x1D} {
		rgb[i] -= linear(v << 8)
	}
	top := max(rgb[0], rgb[1], rgb[2])
	for i := range rgb {
		rgb[i] /= top
	}
	return rgb
}

// What is half as bright looks so: light along two runs of one tape, of which one is at half the level, in one picture. And no light is lost or
// made: what all dots have together is what all pixels give.
func TestNightKeepsLight(t *testing.T) {
	st := footbridge(t)
	leaf, _ := night.Page(st, "dusk", sheettest.A3)
	image := nightPicture(t, leaf)
	lights := map[string]float64{}
	for id := range st.Scheme.Runs {
		for _, l := range st.Network.Lights(st.Solution("state/dusk"), id) {
			lights[id] += l.Candela
		}
	}
	upper, lower := 0.0, 0.0
	bounds := image.Picture.Bounds()
	ground := night.Luminance(0x14, 0x18, 0x1D)
	for y := range bounds.Dy() {
		for x := range bounds.Dx() {
			r, g, b, _ := image.Picture.At(x, y).RGBA()
			light := night.Luminance(uint8(r>>8), uint8(g>>8), uint8(b>>8)) - ground
			if y < bounds.Dy()/2 {
				upper += light
			} else {
				lower += light
			}
		}
	}
	if got, want := upper/lower, lights["E2"]/lights["E1"]; math.Abs(got/want-1) > 0.03 {
		t.Errorf("the upper run has %.4f of the light of the lower, want %.4f", got, want)
	}
}

// A spread keeps all light, lies about its place, and has the variance of its Gaussian, for any width.
func TestLightIsSpreadAsAGaussian(t *testing.T) {
	const n = 161
	for _, sigma := range []float64{0.8, 1.5, 2.7, 5.4, 12} {
		plane := make([]float64, n*n)
		plane[(n/2)*n+n/2] = 1
		sum, across, down, middle := 0.0, 0.0, 0.0, 0.0
		for i, v := range night.Blurred(plane, n, n, sigma) {
			x, y := float64(i%n-n/2), float64(i/n-n/2)
			sum, across, down, middle = sum+v, across+v*x*x, down+v*y*y, middle+v*x
		}
		if math.Abs(sum-1) > 1e-9 || math.Abs(middle) > 1e-9 {
			t.Errorf("σ %v: the sum is %v and the middle %v", sigma, sum, middle)
		}
		for _, variance := range []float64{across, down} {
			if math.Abs(math.Sqrt(variance)/sigma-1) > 1e-6 {
				t.Errorf("σ %v: it is %v", sigma, math.Sqrt(variance))
			}
		}
	}
}

// The numbers of the table are those of the study.
func TestNightTellsTheLightOfRuns(t *testing.T) {
	st := atrium(t)
	leaf, _ := night.Page(st, "open", sheettest.A3)
	words := scenesWords(sheettest.Bound(st, leaf))
	solved := st.Result("state/open").Runs["E1"]
	dim, bright := math.Inf(1), 0.0
	var lights []network.Light = st.Network.Lights(st.Solution("state/open"), "E1")
	for _, l := range lights {
		dim, bright = min(dim, l.Candela), max(bright, l.Candela)
	}
	if math.Abs(dim/bright / *solved.Evenness - 1) > 1e-9 {
		t.Fatalf("the evenness is %v of %v and %v", *solved.Evenness, dim, bright)
	}
	for _, want := range []string{fmt.Sprintf("%.2f\u202fcd at px", dim), fmt.Sprintf("%.2f\u202fcd at px", bright), fmt.Sprintf("%.1f\u202f%%", 100**solved.Evenness), fmt.Sprintf("%.4f", *solved.ColourShift), fmt.Sprintf("%.4f, %.4f", solved.U, solved.V)} {
		if !strings.Contains(words, want) {
			t.Errorf("the page does not say %q: %s", want, words)
		}
	}
}

// Two figures are two also where rounding makes a number one digit longer.
func TestNumbersHaveTwoFigures(t *testing.T) {
	for v, want := range map[float64]string{0: "0", 0.0996: "0.10", 0.994: "0.99", 9.94: "9.9", 9.96: "10", 99.6: "100", 1234: "1200", 12345: "12\u202f000"} {
		if got := night.Significant(v); strings.ReplaceAll(got, "\u202f", "") != strings.ReplaceAll(want, "\u202f", "") {
			t.Errorf("%v is %s, and said as %s", v, want, got)
		}
	}
}
