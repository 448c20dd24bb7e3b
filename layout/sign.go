package layout

import (
	"unicode"

	"farend/draw"
)

// A formula has signs such as I_max, whose second part stands lower and is smaller: by this share, though never below the smallest size.
const (
	lowered = 0.78
	depth   = 0.16 // of the size of the text
)

// A piece is a part of a formula, low or not.
type piece struct {
	words string
	low   bool
}

// pieces takes signs apart: what follows an underscore, as far as there are letters and digits, is low. A word of three letters or more
// before one is the key of a part, such as rail_amps, and stays as it is.
func pieces(formula string) (list []piece) {
	var run []rune
	low := false
	end := func() {
		if len(run) > 0 {
			list = append(list, piece{string(run), low})
		}
		run = nil
	}
	letters := []rune(formula)
	for i, r := range letters {
		within := unicode.IsLetter(r) || unicode.IsDigit(r)
		switch {
		case !low && r == '_' && sign(letters[:i]) && i+1 < len(letters) && letter(letters[i+1]):
			end()
			low = true
			continue
		case low && !within:
			end()
			low = false
		}
		run = append(run, r)
	}
	end()
	return list
}

// sign reports whether a text ends with a word of one or two letters.
func sign(letters []rune) bool {
	n := 0
	for n < len(letters) && (letter(letters[len(letters)-1-n]) || letters[len(letters)-1-n] == '_') {
		n++
	}
	return n == 1 || n == 2
}

func letter(r rune) bool { return unicode.IsLetter(r) || unicode.IsDigit(r) || r == '′' }

// size is that of a piece in a text of a size.
func (p piece) size(points float64) float64 {
	if p.low {
		return max(points*lowered, draw.Smallest)
	}
	return points
}

// WideFormula is the width of a formula as Formula sets it.
func WideFormula(like draw.Text, formula string) (width float64) {
	points := like.Size
	for _, p := range pieces(formula) {
		like.Size = p.size(points)
		width += Wide(like, p.words)
	}
	return width
}

// Formula sets a formula from a place on the baseline on, to the right.
func Formula(like draw.Text, formula string) (texts []draw.Text) {
	points, baseline := like.Size, like.At.Y
	for _, p := range pieces(formula) {
		like.Words, like.Size, like.At.Y = p.words, p.size(points), baseline
		if p.low {
			like.At.Y += draw.Millimetres(depth * points)
		}
		texts = append(texts, like)
		like.At.X += like.Width()
	}
	return texts
}
