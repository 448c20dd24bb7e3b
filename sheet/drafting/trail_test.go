package drafting_test

import (
	"math"
	"math/rand"
	"slices"
	"testing"

	"farend/draw"
	"farend/sheet/drafting"
)

// wandering is a line of random pieces, some of no length.
func wandering(r *rand.Rand, points int) (t drafting.Trail) {
	at := draw.Point{}
	for range points {
		if r.Intn(5) > 0 {
			at = draw.Point{X: at.X + r.NormFloat64(), Y: at.Y + r.NormFloat64()}
		}
		t = append(t, at)
	}
	return t
}

// The middles of equal pieces are where one comes that walks along by their shares, and lie half a piece from each end.
func TestMiddlesOfATrail(t *testing.T) {
	r := rand.New(rand.NewSource(1))
	for range 200 {
		line := wandering(r, 2+r.Intn(8))
		if line.Length() == 0 {
			continue
		}
		count := 1 + r.Intn(9)
		for k, got := range line.Every(count) {
			want, ahead := line.At((float64(k) + 0.5) / float64(count))
			if drafting.Apart(got, want) > 1e-9 || math.Abs(math.Hypot(ahead.X, ahead.Y)-1) > 1e-12 {
				t.Fatalf("of %v, middle %d of %d is %v, not %v, ahead %v", line, k, count, got, want, ahead)
			}
		}
	}
}

// What is left out of a line lies within the distance of what stays; its ends stay, and so does everything at a distance of nought but points on
// straight pieces.
func TestSimplifiedLinesStayWithinTheDistance(t *testing.T) {
	r := rand.New(rand.NewSource(2))
	for range 200 {
		line := wandering(r, 2+r.Intn(30))
		kept := slices.Clone(line)
		within := r.Float64()
		left := drafting.Simplified(line, within)
		if !slices.Equal(line, kept) || left[0] != line[0] || left[len(left)-1] != line[len(line)-1] || len(left) > len(line) {
			t.Fatalf("%v became %v", line, left)
		}
		for _, p := range line {
			nearest := math.Inf(1)
			for i := 1; i < len(left); i++ {
				nearest = min(nearest, fromPiece(p, left[i-1], left[i]))
			}
			if nearest > within+1e-9 && !beyondAnEnd(p, left, within) {
				t.Fatalf("%v is %v from %v, and may be %v", p, nearest, left, within)
			}
		}
	}
	straight := []draw.Point{{X: 0}, {X: 1}, {X: 2}, {X: 2, Y: 1}}
	if got := drafting.Simplified(straight, 0); !slices.Equal(got, []draw.Point{{X: 0}, {X: 2}, {X: 2, Y: 1}}) {
		t.Errorf("%v became %v", straight, got)
	}
}

// fromPiece is how far a point is from the piece between two others.
func fromPiece(p, a, b draw.Point) float64 {
	dx, dy := b.X-a.X, b.Y-a.Y
	u := 0.0
	if long := dx*dx + dy*dy; long > 0 {
		u = min(1, max(0, ((p.X-a.X)*dx+(p.Y-a.Y)*dy)/long))
	}
	return math.Hypot(p.X-a.X-u*dx, p.Y-a.Y-u*dy)
}

// beyondAnEnd reports whether a point is near the straight line through some piece, if not near the piece: the distance of Douglas and Peucker is that
// of straight lines.
func beyondAnEnd(p draw.Point, left []draw.Point, within float64) bool {
	for i := 1; i < len(left); i++ {
		a, b := left[i-1], left[i]
		if long := drafting.Apart(a, b); long > 0 && math.Abs((p.X-a.X)*(b.Y-a.Y)-(p.Y-a.Y)*(b.X-a.X))/long <= within+1e-9 {
			return true
		}
	}
	return false
}

// By hand: left by 90° after 1 m of 4, right by 45° after 3; what turns by half a degree is no bend.
func TestBendsByHand(t *testing.T) {
	line := [][2]float64{{0, 0}, {1, 0}, {1, 0}, {1, 2}, {1 + math.Sqrt2/2, 2 + math.Sqrt2/2}}
	bends := drafting.Bends(line)
	for i, want := range []drafting.Bend{{Share: 0.25, Turn: 90}, {Share: 0.75, Turn: -45}} {
		if len(bends) != 2 || math.Abs(bends[i].Share-want.Share) > 1e-12 || math.Abs(bends[i].Turn-want.Turn) > 1e-9 {
			t.Fatalf("the bends are %v", bends)
		}
	}
	if list := drafting.Bends([][2]float64{{0, 0}, {1, 0}, {2, 0.0087}}); len(list) > 0 {
		t.Errorf("half a degree is taken for the bend %v", list)
	}
}

// What lies in a box of a trail has the length of its parts there, and none of it is outside; the rest is.
func TestClippedTrailsLieInTheBox(t *testing.T) {
	r := rand.New(rand.NewSource(3))
	box := draw.Box{Min: draw.Point{X: -1, Y: -1}, Max: draw.Point{X: 1.5, Y: 1}}
	for range 200 {
		line := wandering(r, 2+r.Intn(8))
		inside, steps := 0.0, 2000
		for i := range steps {
			at, _ := line.At((float64(i) + 0.5) / float64(steps))
			if at.X > box.Min.X && at.X < box.Max.X && at.Y > box.Min.Y && at.Y < box.Max.Y {
				inside += line.Length() / float64(steps)
			}
		}
		sum := 0.0
		for _, piece := range line.Clipped(box) {
			sum += piece.Length()
			bounds := piece.Box()
			if bounds.Min.X < box.Min.X-1e-9 || bounds.Max.X > box.Max.X+1e-9 || bounds.Min.Y < box.Min.Y-1e-9 || bounds.Max.Y > box.Max.Y+1e-9 {
				t.Fatalf("of %v there is %v in the box", line, piece)
			}
		}
		if math.Abs(sum-inside) > 0.01*line.Length()+1e-9 {
			t.Fatalf("of %v %v mm lie in the box, not %v", line, inside, sum)
		}
		for _, piece := range line.Outside(box) {
			sum += piece.Length()
			for _, at := range piece.Every(9) {
				if box.Grow(-1e-9).Holds(draw.Box{Min: at, Max: at}) {
					t.Fatalf("of %v there is %v outside of the box", line, piece)
				}
			}
		}
		if math.Abs(sum-line.Length()) > 1e-9 {
			t.Fatalf("of %v %v mm are in the box or outside, not %v", line, sum, line.Length())
		}
	}
}
