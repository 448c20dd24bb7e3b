package night

import (
	"math"
)

// A light is a linear colour of sRGB, before its curve, in the unit of the luminance that it is made from.
type light [3]float64

// srgb is the light of a luminous intensity with a chromaticity of CIE 1976, in linear sRGB, and whether that can show it. What it cannot is
// mixed with as much of its white, D65, as it takes, at the same luminance.
//
// x = 9u′/(6u′ − 16v′ + 12) and y = 4v′/(6u′ − 16v′ + 12) (ISO/CIE 11664-5); the matrix is that of IEC 61966-2-1.
func srgb(luminous, u, v float64) (rgb light, shown bool) {
	if !(luminous > 0) || math.IsNaN(u) || !(v > 0) {
		return light{}, true
	}
	// With Y = luminous: X = Y·x/y = Y·9u′/4v′, Z = Y·(1 − x − y)/y = Y·(12 − 3u′ − 20v′)/4v′.
	x, y, z := luminous*9*u/(4*v), luminous, luminous*(12-3*u-20*v)/(4*v)
	rgb = light{
		3.2406*x - 1.5372*y - 0.4986*z,
		-0.9689*x + 1.8758*y + 0.0415*z,
		0.0557*x - 0.2040*y + 1.0570*z,
	}
	least := min(rgb[0], rgb[1], rgb[2])
	if least >= -1e-3*luminous { // rounding of the matrix
		for i := range rgb {
			rgb[i] = max(rgb[i], 0)
		}
		return rgb, true
	}
	share := luminous / (luminous - least)
	for i := range rgb {
		rgb[i] = max(luminous+share*(rgb[i]-luminous), 0)
	}
	return rgb, false
}

// encoded is a share of full light as a byte of sRGB (IEC 61966-2-1).
func encoded(v float64) uint8 {
	switch {
	case v <= 0:
		return 0
	case v >= 1:
		return 255
	case v <= 0.0031308:
		return uint8(math.Round(255 * 12.92 * v))
	}
	return uint8(math.Round(255 * (1.055*math.Pow(v, 1/2.4) - 0.055)))
}

// decoded is the share of full light of a byte of sRGB.
func decoded(b uint8) float64 {
	v := float64(b) / 255
	if v <= 0.04045 {
		return v / 12.92
	}
	return math.Pow((v+0.055)/1.055, 2.4)
}
