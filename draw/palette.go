package draw

import "math"

// The colours of DXF are numbers from 1 to 255. 1 to 9 are the pure ones, black or white (whichever stands out) and two greys; 10 to 249
// are 24 hues, 15° apart, each in five depths, full and half mixed with white; 250 to 255 are greys. Programs agree on the first
// and on hues, and differ a little in depths and greys (common practice, no source; a test compares hues and depths with an
// independent library).
const ownContrast = 7

// depths are the five of a hue, as shares of its full light.
var depths = [...]float64{255, 165, 127, 76, 38}

// number is the number of a tone: Ink, and what is written in the tone of paper, stand out on every ground; all others are the one
// that looks nearest (CIELAB). Grounds may be dark or light there, so what stands back on paper is a middle grey, as Graphite is.
func (t Tone) number() int {
	switch t {
	case Ink, Paper:
		return ownContrast
	case Shade, Rule:
		t = Graphite
	}
	c, _ := t.rgb()
	own := lab([3]float64{float64(c[0]), float64(c[1]), float64(c[2])})
	best, least := 0, math.Inf(1)
	for n := 1; n <= 255; n++ {
		if n == ownContrast {
			continue
		}
		sum := 0.0
		for k, v := range lab(paletteColour(n)) {
			sum += (v - own[k]) * (v - own[k])
		}
		if sum < least {
			best, least = n, sum
		}
	}
	return best
}

// lab is a colour of sRGB (IEC 61966-2-1), from 0 to 255, in CIE 1976 L*a*b* (CIE 15) under its own white.
func lab(c [3]float64) [3]float64 {
	for k, v := range c {
		if v /= 255; v <= 0.04045 {
			c[k] = v / 12.92
		} else {
			c[k] = math.Pow((v+0.055)/1.055, 2.4)
		}
	}
	f := func(v float64) float64 {
		if v > 216.0/24389 {
			return math.Cbrt(v)
		}
		return (24389.0/27*v + 16) / 116
	}
	x := f((0.4124*c[0] + 0.3576*c[1] + 0.1805*c[2]) / 0.9505)
	y := f(0.2126*c[0] + 0.7152*c[1] + 0.0722*c[2])
	z := f((0.0193*c[0] + 0.1192*c[1] + 0.9505*c[2]) / 1.0890)
	return [3]float64{116*y - 16, 500 * (x - y), 200 * (y - z)}
}

// paletteColour is red, green and blue of a number, from 0 to 255.
func paletteColour(n int) [3]float64 {
	pure := [...][3]float64{1: {255, 0, 0}, {255, 255, 0}, {0, 255, 0}, {0, 255, 255}, {0, 0, 255}, {255, 0, 255}, {255, 255, 255}, {128, 128, 128}, {192, 192, 192}}
	greys := [...]float64{51, 91, 132, 173, 214, 255}
	switch {
	case n < len(pure):
		return pure[n]
	case n >= 250:
		v := greys[n-250]
		return [3]float64{v, v, v}
	}
	hue, depth := float64(n/10-1)*15, depths[n%10/2]
	var c [3]float64
	for k, centre := range [...]float64{0, 120, 240} { // red, green and blue are full within 60° of their own hue and gone beyond 120°
		away := math.Abs(math.Remainder(hue-centre, 360))
		c[k] = depth * min(max(2-away/60, 0), 1)
		if n%2 == 1 {
			c[k] = (c[k] + depth) / 2
		}
	}
	return c
}
