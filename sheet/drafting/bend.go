package drafting

import (
	"math"

	"farend/scheme"
)

// DrawnLength is the length of a line in metres.
func DrawnLength(line [][2]float64) float64 { return float64(scheme.Shape{Points: line}.Length()) }

// A Bend is where a line turns: at a share of its length, by so many degrees to the left.
type Bend struct{ Share, Turn float64 }

// Bends are those of a line, without what turns by less than a degree.
func Bends(line [][2]float64) (list []Bend) {
	whole, gone := DrawnLength(line), 0.0
	heading := math.NaN()
	for i := 1; i < len(line); i++ {
		dx, dy := line[i][0]-line[i-1][0], line[i][1]-line[i-1][1]
		if dx == 0 && dy == 0 {
			continue
		}
		now := math.Atan2(dy, dx) * 180 / math.Pi
		turn := math.Remainder(now-heading, 360)
		if !math.IsNaN(turn) && math.Abs(turn) >= 1 {
			list = append(list, Bend{gone / whole, turn})
			heading = now
		} else if math.IsNaN(heading) {
			heading = now
		}
		gone += math.Hypot(dx, dy)
	}
	return list
}
