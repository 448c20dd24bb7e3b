package night

// Blurred is the light of a plane of dots, spread.
var Blurred = blurred

// Luminance is the share of full white of a colour of sRGB (the second row of the matrix of IEC 61966-2-1 from RGB to XYZ).
func Luminance(r, g, b uint8) float64 {
	return 0.2126*decoded(r) + 0.7152*decoded(g) + 0.0722*decoded(b)
}

// Significant is a number to two figures as nights say it.
func Significant(v float64) string { return significant(v) }
