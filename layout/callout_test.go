package layout_test

import (
	"fmt"
	"math"
	"testing"

	"farend/draw"
	"farend/layout"
)

// Labels that are called around one place cover neither each other nor what is taken, stay on the desk and within their distance, have a line only
// where they stand apart, and no line goes through a label; and at last there is no room.
func TestCalloutsStandClear(t *testing.T) {
	room := draw.Box{Min: draw.Point{X: 10, Y: 10}, Max: draw.Point{X: 110, Y: 90}}
	at := draw.Point{X: 60, Y: 50}
	symbol := draw.Box{Min: at, Max: at}.Grow(1)
	d := layout.Desk{Room: room, Taken: []draw.Box{symbol}}
	for range 3 {
		d.Under(draw.Point{X: 10, Y: 50}, draw.Point{X: 110, Y: 50})
	}
	const far = 27
	var calls []layout.Callout
	for i := range 100 {
		call, ok := d.Call(draw.Text{Words: fmt.Sprintf("label %d", i), Size: 7}, far, at)
		if !ok {
			break
		}
		calls = append(calls, call)
	}
	if len(calls) < 5 || len(calls) == 100 {
		t.Fatalf("%d labels have room", len(calls))
	}
	led := 0
	for i, c := range calls {
		box := c.Text.Box()
		if !room.Holds(box) || box.Meets(symbol) {
			t.Errorf("%q is at %v", c.Text.Words, box)
		}
		if low, high := layout.Inside(draw.Point{X: 10, Y: 50}, draw.Point{X: 110, Y: 50}, box); low < high {
			t.Errorf("%q covers a line that none shall cover", c.Text.Words)
		}
		gap := math.Hypot(max(box.Min.X-at.X, at.X-box.Max.X, 0), max(box.Min.Y-at.Y, at.Y-box.Max.Y, 0))
		if gap > far+1e-9 {
			t.Errorf("%q is %v mm away", c.Text.Words, gap)
		}
		if c.Line == nil && gap > layout.Close+1e-9 {
			t.Errorf("%q has no line over %v mm", c.Text.Words, gap)
		}
		if c.Line != nil {
			led++
		}
		for j, other := range calls {
			if i == j {
				continue
			}
			if box.Meets(other.Text.Box()) {
				t.Errorf("%q covers %q", c.Text.Words, other.Text.Words)
			}
			if c.Line == nil {
				continue
			}
			if low, high := layout.Inside(c.Line[0], c.Line[1], other.Text.Box()); low < high {
				t.Errorf("the line of %q goes through %q", c.Text.Words, other.Text.Words)
			}
		}
	}
	if led == 0 {
		t.Error("none has a line")
	}
}
