package plan

import (
	"cmp"
	"math"
	"slices"

	"farend/draw"
	"farend/sheet/drafting"
)

// tangled are the letters of the cables and leads to runs that the figure shows and nobody can follow: for most of their way another lies so near that
// the two look like one. A closer look shows where that is so, and where they land. A few are none, for they can be told by their ends.
func (f *figure) tangled() []letter {
	const near, begin, step, few = 1.1, 8.0, 2.0, 3
	var list []letter
	letters := f.linkNames()
	for i, r := range f.routes {
		length := r.trail.Length()
		lands := f.around(r)
		if r.trail == nil || length < 2*begin || len(lands) == 0 {
			continue
		}
		var crowded [][2]float64
		all := 0
		for s := begin; s < length; s += step {
			at, _ := r.trail.At(s / length)
			all++
			if f.besides(i, at, near) {
				crowded = append(crowded, f.world(at))
			}
		}
		if 2*len(crowded) <= all {
			continue
		}
		if k := slices.IndexFunc(letters, func(l letter) bool { return l.of == subject{kind: linkName, id: r.id} }); k >= 0 {
			one := letters[k]
			one.world = append(lands, crowded...)
			list = append(list, one)
		}
	}
	if len(list) < few {
		return nil
	}
	return list
}

// besides reports whether a cable or lead other than one is so near to a place.
func (f *figure) besides(but int, at draw.Point, near float64) bool {
	for i, r := range f.routes {
		if i == but {
			continue
		}
		for k := 1; k < len(r.trail); k++ {
			if offPiece(at, r.trail[k-1], r.trail[k]) < near {
				return true
			}
		}
	}
	return false
}

// offPiece is how far a place is from the piece of a line between two others.
func offPiece(at, a, b draw.Point) float64 {
	length := drafting.Apart(a, b)
	if length == 0 {
		return drafting.Apart(at, a)
	}
	u := max(0, min(1, ((at.X-a.X)*(b.X-a.X)+(at.Y-a.Y)*(b.Y-a.Y))/(length*length)))
	return drafting.Apart(at, draw.Point{X: a.X + u*(b.X-a.X), Y: a.Y + u*(b.Y-a.Y)})
}

// crossed reports whether two pieces of lines cross.
func crossed(a, b, c, d draw.Point) bool {
	side := func(p, q, r draw.Point) float64 { return (q.X-p.X)*(r.Y-p.Y) - (q.Y-p.Y)*(r.X-p.X) }
	return side(a, b, c)*side(a, b, d) < 0 && side(c, d, a)*side(c, d, b) < 0
}

// touching reports whether two pieces of lines cross, or come nearer to each other than so.
func touching(a, b, c, d draw.Point, near float64) bool {
	return crossed(a, b, c, d) || min(offPiece(a, c, d), offPiece(b, c, d), offPiece(c, a, b), offPiece(d, a, b)) < near
}

// labelled are places on a route for its name, the best first: of what the figure shows of it, each piece in its middle and towards its ends. Where
// much of it lies beyond the frames of closer looks they are there.
func (f *figure) labelled(t drafting.Trail, wide float64) (on, beside []draw.Point, beyond bool) {
	const much = 15.0
	pieces := f.visible(t)
	longest := func(a, b drafting.Trail) int { return cmp.Compare(b.Length(), a.Length()) }
	if outside := t.Outside(f.frames...); len(f.frames) > 0 && len(outside) > 0 {
		slices.SortStableFunc(outside, longest)
		if beyond = outside[0].Length() > much; beyond {
			pieces = outside
		}
	}
	slices.SortStableFunc(pieces, longest)
	for _, piece := range pieces[:min(len(pieces), 2)] {
		for _, u := range []float64{0.5, 0.42, 0.58, 0.34, 0.66, 0.75, 0.25, 0.83} {
			at, ahead := piece.At(u)
			if piece.Length()*min(u, 1-u) > 0.7*wide && !f.accompanied(at, ahead) {
				on = append(on, draw.Point{X: at.X - wide/2, Y: at.Y + 0.9})
			}
			beside = append(beside, at)
		}
	}
	return on, beside, beyond
}

// accompanied reports whether another link lies along one at a place, so near that words on that would be on both.
func (f *figure) accompanied(at, ahead draw.Point) bool {
	const one, near, alike = 0.3, 2.6, 0.01 // the last is a sine: as good as parallel
	for _, r := range f.routes {
		for i := 1; i < len(r.trail); i++ {
			a, b := r.trail[i-1], r.trail[i]
			turn := (b.X-a.X)*ahead.Y - (b.Y-a.Y)*ahead.X
			if long := math.Abs(b.X-a.X) + math.Abs(b.Y-a.Y); math.Abs(turn) >= alike*long { // which is no less than its length
				continue
			}
			if off := offPiece(at, a, b); off > one && off < near && math.Abs(turn) < alike*drafting.Apart(a, b) {
				return true
			}
		}
	}
	return false
}
