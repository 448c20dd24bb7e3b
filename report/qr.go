package report

import (
	"fmt"
	"strings"

	"rsc.io/qr"

	"farend/draw"
	"farend/scheme"
	"farend/sheet/drafting"
)

// quiet is how many modules around a code stay empty (ISO/IEC 18004).
const quiet = 4

// Passport is the text of the code on the cover: what the scheme is called, its last revision, and the whole hash of its text, so that a
// sheet of paper can be held against a file.
func Passport(s *scheme.Scheme) string {
	const most = 60 // letters of a title, so that the modules stay large enough for a telephone
	title := []rune(drafting.Binding(s).Scheme)
	if len(title) > most {
		title = append(title[:most-1], '…')
	}
	revision := "no revision"
	if n := len(s.Revisions); n > 0 {
		revision = fmt.Sprintf("rev %s %s", s.Revisions[n-1].Name, s.Revisions[n-1].Date)
	}
	return strings.Join([]string{fmt.Sprintf("farend scheme %d", s.Format), string(title), revision, "sha256 " + s.Hash}, " | ")
}

// code draws a text as a QR code of level M in a square, its quiet zone within.
func code(text string, box draw.Box) (draw.Path, error) {
	c, err := qr.Encode(text, qr.M)
	if err != nil {
		return draw.Path{}, fmt.Errorf("the code of the cover: %w", err)
	}
	step := box.Width() / float64(c.Size+2*quiet)
	path := draw.Path{Fill: draw.Ink}
	for _, loop := range outlines(c.Size, c.Black) {
		for i, p := range loop {
			kind := draw.Go
			if i == 0 {
				kind = draw.Move
			}
			path.Steps = append(path.Steps, draw.Step{Kind: kind, To: draw.Point{X: box.Min.X + step*float64(p[0]+quiet), Y: box.Min.Y + step*float64(p[1]+quiet)}})
		}
		path.Steps = append(path.Steps, draw.Step{Kind: draw.Close})
	}
	return path, nil
}

// outlines are the borders between black and white squares, as closed ways with the black on the right: one path for all of them leaves no seams
// between squares, however it is drawn.
func outlines(size int, black func(x, y int) bool) (loops [][][2]int) {
	inside := func(x, y int) bool { return x >= 0 && y >= 0 && x < size && y < size && black(x, y) }
	next := map[[2]int][][2]int{} // from a corner, the corners a border leads to
	for y := -1; y <= size; y++ {
		for x := -1; x <= size; x++ {
			if !inside(x, y) {
				continue
			}
			for _, side := range [][3][2]int{
				{{x, y - 1}, {x, y}, {x + 1, y}}, {{x + 1, y}, {x + 1, y}, {x + 1, y + 1}},
				{{x, y + 1}, {x + 1, y + 1}, {x, y + 1}}, {{x - 1, y}, {x, y + 1}, {x, y}},
			} {
				if !inside(side[0][0], side[0][1]) {
					next[side[1]] = append(next[side[1]], side[2])
				}
			}
		}
	}
	for y := 0; y <= size; y++ {
		for x := 0; x <= size; x++ {
			for start := [2]int{x, y}; len(next[start]) > 0; {
				loops = append(loops, walk(next, start))
			}
		}
	}
	return loops
}

// walk follows a border from a corner until it is back, takes it away, and leaves out the corners in the middle of a side.
func walk(next map[[2]int][][2]int, start [2]int) (loop [][2]int) {
	for at := start; ; {
		to := next[at][0]
		next[at] = next[at][1:]
		if n := len(loop); n > 1 && straight(loop[n-2], loop[n-1], at) {
			loop = loop[:n-1]
		}
		loop = append(loop, at)
		if at = to; at == start {
			return loop
		}
	}
}

func straight(a, b, c [2]int) bool {
	return (b[0]-a[0])*(c[1]-b[1]) == (b[1]-a[1])*(c[0]-b[0])
}
