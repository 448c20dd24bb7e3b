package pixel

import "math"

// An Amount is light of one chromaticity: X and Y are CIE 1931 x and y, Luminous any photometric amount, all of one
// kind (candela, lumen, candela per square metre).
type Amount struct {
	X, Y     float64
	Luminous float64
}

// Mix is the light of several amounts together: their sum, in the same unit, and the CIE 1976 u' and v' of the mixture.
// It is not ok, and all are nought, when there is no light. Amounts that are not positive, or whose y is not, which no
// light has, are left out.
//
// With X = x/y·Y and Z = (1 − x − y)/y·Y summed over the amounts (CIE 15:2018), u' = 4X/(X + 15Y + 3Z) and
// v' = 9Y/(X + 15Y + 3Z) (ISO/CIE 11664-5).
func Mix(amounts []Amount) (luminous, u, v float64, ok bool) {
	var red, whole float64 // X, and X + 15Y + 3Z
	for _, a := range amounts {
		if !(a.Luminous > 0) || !(a.Y > 0) {
			continue
		}
		luminous += a.Luminous
		red += a.Luminous * a.X / a.Y
		whole += a.Luminous * (3 - 2*a.X + 12*a.Y) / a.Y
	}
	if !(luminous > 0) || !(whole > 0) {
		return 0, 0, 0, false
	}
	return luminous, 4 * red / whole, 9 * luminous / whole, true
}

// ShiftUV is the colour difference of two lights, Δu'v' (CIE TN 001:2014): the distance in the u'v' diagram.
func ShiftUV(u1, v1, u2, v2 float64) float64 { return math.Hypot(u2-u1, v2-v1) }

// Hue says in words which way a colour moved, from the change of its u' and v'; "unchanged" when it did not.
//
// Directions are as seen from white. The middle of each sector is the direction, from D65, of a primary or secondary
// colour of IEC 61966-2-1 (red 12°, yellow 86°, green 128°, cyan 192°, blue 266°, magenta 308°), and for orange that of
// a 2700 K lamp (ANSI C78.377, 43°); each boundary halves the angle between two neighbours. For a start far from white
// the word is a rough one.
func Hue(du, dv float64) string {
	if du == 0 && dv == 0 {
		return "unchanged"
	}
	angle := math.Atan2(dv, du) * 180 / math.Pi
	if angle < 0 {
		angle += 360
	}
	sectors := [...]struct {
		to   float64 // degrees
		word string
	}{
		{27, "towards red"},
		{64, "warmer: towards orange"},
		{107, "warmer: towards yellow"},
		{160, "towards green"},
		{229, "towards cyan"},
		{287, "bluer"},
		{340, "towards magenta"},
	}
	for _, s := range sectors {
		if angle < s.to {
			return s.word
		}
	}
	return sectors[0].word
}
