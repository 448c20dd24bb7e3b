package layout

import (
	"math/rand"
	"testing"

	"farend/draw"
)

// A grid finds every box and line that a box meets, in the room and beside it, and each once.
func TestGridsFindAllThatIsNear(t *testing.T) {
	r := rand.New(rand.NewSource(4))
	room := draw.Box{Min: draw.Point{X: 10, Y: 20}, Max: draw.Point{X: 130, Y: 77}}
	at := func() draw.Point { return draw.Point{X: 160*r.Float64() - 10, Y: 110*r.Float64() - 10} }
	box := func(size float64) draw.Box {
		p := at()
		return draw.Box{Min: p, Max: draw.Point{X: p.X + size*r.Float64(), Y: p.Y + size*r.Float64()}}
	}
	boxes, lines := newGrid(room), newGrid(room)
	var all []draw.Box
	var ends [][2]draw.Point
	for range 300 {
		all = append(all, box(20))
		boxes.add(all[len(all)-1])
		a, b := at(), at()
		switch r.Intn(4) {
		case 0:
			b.X = a.X
		case 1:
			b.Y = a.Y
		}
		ends = append(ends, [2]draw.Point{a, b})
		lines.addLine(a, b)
	}
	for range 300 {
		q := box(30)
		found, times := map[int]int{}, map[int]int{}
		boxes.each(q, func(i int) bool { found[i]++; return true })
		lines.each(q, func(i int) bool { times[i]++; return true })
		for i := range all {
			low, high := Inside(ends[i][0], ends[i][1], q)
			if all[i].Meets(q) && found[i] == 0 || low < high && times[i] == 0 || found[i] > 1 || times[i] > 1 {
				t.Fatalf("about %v, %v is met %d times, the line %v %d times", q, all[i], found[i], ends[i], times[i])
			}
		}
	}
	met := 0
	if boxes.each(room, func(int) bool { met++; return met < 3 }); met != 3 {
		t.Errorf("after the third %d are met", met)
	}
}
