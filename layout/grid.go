package layout

import (
	"math"

	"farend/draw"
)

// A grid finds what lies near a place among many things, by the cells of a desk that they meet. What lies beside the desk counts to the cells at its
// edge.
type grid struct {
	corner     draw.Point
	cols, rows int
	cells      [][]int32
	met        []int // for each thing the last question that it was met in
	asked      int
}

// cellSize is the side of a cell, in millimetres, and mostCells how many there are at most along a side.
const (
	cellSize  = 6.0
	mostCells = 200
)

func newGrid(room draw.Box) *grid {
	along := func(length float64) int { return int(max(1, min(mostCells, math.Ceil(length/cellSize)))) }
	g := &grid{corner: room.Min, cols: along(room.Width()), rows: along(room.Height())}
	g.cells = make([][]int32, g.cols*g.rows)
	return g
}

// cell is the column or row of a coordinate.
func cell(from, corner float64, count int) int {
	return int(max(0, min(float64(count-1), math.Floor((from-corner)/cellSize))))
}

// add notes another thing, by the rectangle about it.
func (g *grid) add(box draw.Box) {
	n := int32(len(g.met))
	g.met = append(g.met, 0)
	left, right := cell(box.Min.X, g.corner.X, g.cols), cell(box.Max.X, g.corner.X, g.cols)
	for row := cell(box.Min.Y, g.corner.Y, g.rows); row <= cell(box.Max.Y, g.corner.Y, g.rows); row++ {
		g.note(n, row, left, right)
	}
}

// note puts a thing into some cells of a row.
func (g *grid) note(n int32, row, left, right int) {
	for i := row*g.cols + left; i <= row*g.cols+right; i++ {
		g.cells[i] = append(g.cells[i], n)
	}
}

// addLine notes another thing that is a line: in each row the cells that it goes through.
func (g *grid) addLine(a, b draw.Point) {
	const far, fine = 1e9, 1e-6
	n := int32(len(g.met))
	g.met = append(g.met, 0)
	first, last := cell(min(a.Y, b.Y)-fine, g.corner.Y, g.rows), cell(max(a.Y, b.Y)+fine, g.corner.Y, g.rows)
	for row := first; row <= last; row++ {
		band := draw.Box{Min: draw.Point{X: -far, Y: g.corner.Y + float64(row)*cellSize - fine}, Max: draw.Point{X: far, Y: g.corner.Y + float64(row+1)*cellSize + fine}}
		if row == 0 {
			band.Min.Y = -far
		}
		if row == g.rows-1 {
			band.Max.Y = far
		}
		low, high := Inside(a, b, band)
		if low > high {
			continue
		}
		x, y := a.X+low*(b.X-a.X), a.X+high*(b.X-a.X)
		g.note(n, row, cell(min(x, y)-fine, g.corner.X, g.cols), cell(max(x, y)+fine, g.corner.X, g.cols))
	}
}

// each calls a function with every thing that shares a cell with a rectangle, once each, as long as it says so.
func (g *grid) each(box draw.Box, is func(i int) bool) {
	g.asked++
	left, right := cell(box.Min.X, g.corner.X, g.cols), cell(box.Max.X, g.corner.X, g.cols)
	for row := cell(box.Min.Y, g.corner.Y, g.rows); row <= cell(box.Max.Y, g.corner.Y, g.rows); row++ {
		for col := left; col <= right; col++ {
			for _, n := range g.cells[row*g.cols+col] {
				if g.met[n] == g.asked {
					continue
				}
				g.met[n] = g.asked
				if !is(int(n)) {
					return
				}
			}
		}
	}
}
