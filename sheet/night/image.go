package night

import (
	"image"
	"math"

	"farend/draw"
)

// A haze is how the light of a point is spread on the page: a share of it as a Gaussian of a width, in millimetres of paper.
type haze struct{ share, sigma float64 }

// spreads make a bright middle with a glow about it. They are of the page, not of a lens: all light stays, and none is added.
var spreads = []haze{{0.64, 0.42}, {0.26, 1.5}, {0.10, 4.5}}

// The picture has so many dots a millimetre, or as many as make no more than so many in all.
const (
	dotsPerMillimetre = 3.6
	mostDots          = 1.1e6
)

// A glowing is light gathered over a box of paper: three channels of linear sRGB for every dot.
type glowing struct {
	box           draw.Box
	dots          float64 // a millimetre
	width, height int
	planes        [3][]float64
}

func newGlowing(box draw.Box) *glowing {
	dots := min(dotsPerMillimetre, math.Sqrt(mostDots/(box.Width()*box.Height())))
	g := &glowing{box: box, dots: dots, width: int(math.Ceil(box.Width() * dots)), height: int(math.Ceil(box.Height() * dots))}
	for i := range g.planes {
		g.planes[i] = make([]float64, g.width*g.height)
	}
	return g
}

// add puts the light of a point on the four dots about it, by how near they are.
func (g *glowing) add(at draw.Point, rgb light) {
	x, y := (at.X-g.box.Min.X)/g.box.Width()*float64(g.width)-0.5, (at.Y-g.box.Min.Y)/g.box.Height()*float64(g.height)-0.5
	left, top := math.Floor(x), math.Floor(y)
	for _, corner := range [4][2]float64{{0, 0}, {1, 0}, {0, 1}, {1, 1}} {
		i, j := int(left+corner[0]), int(top+corner[1])
		if i < 0 || j < 0 || i >= g.width || j >= g.height {
			continue
		}
		share := (1 - math.Abs(x-float64(i))) * (1 - math.Abs(y-float64(j)))
		for c := range rgb {
			g.planes[c][j*g.width+i] += share * rgb[c]
		}
	}
}

// spread spreads all light.
func (g *glowing) spread() {
	for c, plane := range g.planes {
		sum := make([]float64, len(plane))
		for _, s := range spreads {
			one := blurred(plane, g.width, g.height, s.sigma*g.dots)
			for i, v := range one {
				sum[i] += s.share * v
			}
		}
		g.planes[c] = sum
	}
}

// blurred is a plane under a Gaussian, which three running means of one width come near to: their variances add up (the central limit
// theorem). The width of the outer two dots is that which makes the variance right. It costs as much for any width.
func blurred(plane []float64, width, height int, sigma float64) []float64 {
	// A mean over 2r + 1 dots and two half ones, of weight a each, has the variance (r(r+1)(2r+1)/3 + 2a(r+1)²)/(2r + 1 + 2a).
	wanted := sigma * sigma / 3
	r := 0
	variance := func(r int, a float64) float64 {
		f := float64(r)
		return (f*(f+1)*(2*f+1)/3 + 2*a*(f+1)*(f+1)) / (2*f + 1 + 2*a)
	}
	for variance(r+1, 0) < wanted {
		r++
	}
	low, high := 0.0, 1.0
	for range 40 {
		if a := (low + high) / 2; variance(r, a) < wanted {
			low = a
		} else {
			high = a
		}
	}
	return mean3(plane, width, height, r, low)
}

// mean3 is a plane under three running means of a width, across and then down. Lines without light stay so, and are passed over.
func mean3(plane []float64, width, height, r int, a float64) []float64 {
	across := make([]float64, len(plane))
	first, last := height, -1
	line, other := make([]float64, width), make([]float64, width)
	for y := range height {
		copy(line, plane[y*width:(y+1)*width])
		if dark(line) {
			continue
		}
		first, last = min(first, y), y
		for range 3 {
			averaged(line, other, r, a)
			line, other = other, line
		}
		copy(across[y*width:(y+1)*width], line)
	}
	down, into := across, make([]float64, len(plane))
	for range 3 {
		first, last = max(0, first-r-1), min(height-1, last+r+1)
		averagedDown(down, into, width, first, last, r, a)
		down, into = into, down
	}
	return down
}

func dark(line []float64) bool {
	for _, v := range line {
		if v != 0 {
			return false
		}
	}
	return true
}

// averaged is the running mean of a line. Beyond its ends there is no light.
func averaged(from, to []float64, r int, a float64) {
	n := len(from)
	at := func(i int) float64 {
		if i < 0 || i >= n {
			return 0
		}
		return from[i]
	}
	sum := 0.0
	for i := 0; i <= min(r, n-1); i++ {
		sum += from[i]
	}
	whole := float64(2*r+1) + 2*a
	for i := range to {
		to[i] = max(0, sum+a*(at(i-r-1)+at(i+r+1))) / whole
		sum += at(i+r+1) - at(i-r)
	}
}

// averagedDown is the same down the columns, from one row to another; outside them it is dark.
func averagedDown(from, to []float64, width, first, last, r int, a float64) {
	for i := range to {
		to[i] = 0
	}
	none := make([]float64, width)
	row := func(y int) []float64 {
		if y < 0 || (y+1)*width > len(from) {
			return none
		}
		return from[y*width : (y+1)*width]
	}
	sum := make([]float64, width)
	for y := first - r; y <= first+r; y++ {
		for x, v := range row(y) {
			sum[x] += v
		}
	}
	whole := float64(2*r+1) + 2*a
	for y := first; y <= last; y++ {
		above, below, goes, out := row(y-r-1), row(y+r+1), row(y-r), to[y*width:(y+1)*width]
		for x := range out {
			out[x] = max(0, sum[x]+a*(above[x]+below[x])) / whole
			sum[x] += below[x] - goes[x]
		}
	}
}

// brightest is the most that a channel of any dot has.
func (g *glowing) brightest() (most float64) {
	for _, plane := range g.planes {
		for _, v := range plane {
			most = max(most, v)
		}
	}
	return most
}

// picture is the light over a ground, where so much light is full.
func (g *glowing) picture(ground [3]uint8, full float64) *image.NRGBA {
	picture := image.NewNRGBA(image.Rect(0, 0, g.width, g.height))
	var below light
	for c := range below {
		below[c] = decoded(ground[c])
	}
	for i := range g.width * g.height {
		for c := range g.planes {
			picture.Pix[4*i+c] = ground[c]
			if v := g.planes[c][i]; v > 0 {
				picture.Pix[4*i+c] = encoded(below[c] + v/full)
			}
		}
		picture.Pix[4*i+3] = 255
	}
	return picture
}
