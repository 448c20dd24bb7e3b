package draw

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"hash/crc32"
	"image"
	"image/color"
	stddraw "image/draw"
	"math"

	"golang.org/x/image/font/sfnt"
)

// The densities that a picture may have, in dots per inch, and how many dots in all.
const (
	Coarsest = 10
	Finest   = 1200
	MostDots = 100_000_000
)

// PNG writes a scene as a picture of so many dots per inch, from 10 to 1200, on the ground of paper. The file says how large it is
// to be shown. A character that our fonts lack is drawn as an open box.
//
// The error is that of SVG, or a picture of more than 100 million dots.
func PNG(s *Scene, dpi float64) ([]byte, error) {
	if err := s.sound(); err != nil {
		return nil, fmt.Errorf("draw: %w", err)
	}
	if !(dpi >= Coarsest && dpi <= Finest) {
		return nil, fmt.Errorf("draw: a picture has from %d to %d dots per inch, not %v", Coarsest, Finest, dpi)
	}
	width, height := max(1, math.Round(s.Width*dpi/25.4)), max(1, math.Round(s.Height*dpi/25.4))
	if width*height > MostDots {
		return nil, fmt.Errorf("draw: %.0f by %.0f dots are more than %d million", width, height, MostDots/1_000_000)
	}
	c := canvas{scale: dpi / 25.4, picture: image.NewRGBA(image.Rect(0, 0, int(width), int(height)))}
	c.raster = raster{width: int(width), height: int(height)}
	ground, _ := Paper.rgb()
	stddraw.Draw(c.picture, c.picture.Rect, image.NewUniform(color.RGBA{ground[0], ground[1], ground[2], 255}), image.Point{}, stddraw.Src)
	for _, l := range s.Layers {
		for _, i := range l.Images {
			c.image(i)
		}
		for _, p := range l.Paths {
			c.path(p)
		}
		for _, t := range l.Texts {
			c.text(t)
		}
	}
	return sized(encoded(c.picture), dpi), nil
}

// sized puts into a PNG file how many dots there are to a metre (the chunk pHYs, after the first, which is 33 bytes long with what comes before it).
func sized(file []byte, dpi float64) []byte {
	dots := uint32(math.Round(dpi / 0.0254))
	chunk := []byte("pHYs")
	chunk = binary.BigEndian.AppendUint32(chunk, dots)
	chunk = binary.BigEndian.AppendUint32(chunk, dots)
	chunk = append(chunk, 1) // the unit is the metre
	sum := crc32.ChecksumIEEE(chunk)
	chunk = append(binary.BigEndian.AppendUint32(nil, uint32(len(chunk)-4)), binary.BigEndian.AppendUint32(chunk, sum)...)
	return bytes.Join([][]byte{file[:33], chunk, file[33:]}, nil)
}

// canvas is a picture being drawn.
type canvas struct {
	scale   float64 // dots to a millimetre
	picture *image.RGBA
	raster  raster
	buffer  sfnt.Buffer
}

// within is how far a curve may be from its straight lines, in dots.
const within = 0.05

func (c *canvas) path(p Path) {
	list := pieces(placed(p.Steps, Point{}, 0, c.scale), within)
	if p.Fill != None {
		for _, one := range list {
			c.raster.closed(one.points)
		}
		c.paint(p.Fill, true)
	}
	if p.Pen.Width == 0 {
		return
	}
	if len(p.Pen.Dash) > 0 {
		pattern := make([]float64, len(p.Pen.Dash))
		for i, d := range p.Pen.Dash {
			pattern[i] = d * c.scale
		}
		var dashes []piece
		for _, one := range list {
			dashes = append(dashes, dashed(one, pattern)...)
		}
		list = dashes
	}
	for _, one := range list {
		for _, area := range stroke(one, p.Pen.Width*c.scale) {
			c.raster.closed(area)
		}
	}
	c.paint(p.Pen.Tone, false)
}

// text fills the outlines of its glyphs.
func (c *canvas) text(t Text) {
	size := t.Size * millimetres / em
	at := t.start()
	for _, r := range t.Words {
		index, advance, ok := t.Face.glyph(r)
		shape := lacking()
		if ok {
			shape = steps(t.Face.outline(&c.buffer, index))
		}
		shape = placed(shape, Point{at.X * c.scale, at.Y * c.scale}, t.Turn, size*c.scale)
		for _, one := range pieces(shape, within) {
			c.raster.closed(one.points)
		}
		c.paint(t.Tone, !ok)
		at = ahead(at, t.Turn, advance*size)
	}
}

// steps are the steps around a glyph.
func steps(segments sfnt.Segments) (list []Step) {
	point := func(s sfnt.Segment, i int) Point {
		return Point{float64(s.Args[i].X) / 64, float64(s.Args[i].Y) / 64}
	}
	var at Point
	for _, s := range segments {
		var next Step
		switch s.Op {
		case sfnt.SegmentOpMoveTo:
			next = Step{Kind: Move, To: point(s, 0)}
		case sfnt.SegmentOpLineTo:
			next = Step{Kind: Go, To: point(s, 0)}
		case sfnt.SegmentOpQuadTo: // a cubic curve with control points at two thirds of the way to the one of the square curve
			m, to := point(s, 0), point(s, 1)
			next = Step{Kind: Curve, C1: Point{at.X + 2*(m.X-at.X)/3, at.Y + 2*(m.Y-at.Y)/3}, C2: Point{to.X + 2*(m.X-to.X)/3, to.Y + 2*(m.Y-to.Y)/3}, To: to}
		case sfnt.SegmentOpCubeTo:
			next = Step{Kind: Curve, C1: point(s, 0), C2: point(s, 1), To: point(s, 2)}
		}
		list = append(list, next)
		at = next.To
	}
	return list
}

// paint fills what the raster holds with a tone.
func (c *canvas) paint(t Tone, evenOdd bool) {
	ink, _ := t.rgb()
	c.raster.fill(evenOdd, func(row, from, to int, share float64) {
		opacity := uint32(math.Round(share * 255))
		if opacity == 0 || from >= to {
			return
		}
		line := c.picture.Pix[row*c.picture.Stride+4*from : row*c.picture.Stride+4*to]
		for i := 0; i < len(line); i += 4 {
			blend(line[i:i+3], ink, opacity)
		}
	})
}

// blend lays a colour over another; it hides it by so many parts of 255.
func blend(below []uint8, colour [3]uint8, opacity uint32) {
	for k := range below {
		below[k] = uint8((uint32(below[k])*(255-opacity) + uint32(colour[k])*opacity + 127) / 255)
	}
}

// image stretches a picture over its box: each dot gets the mean of what lies under it, so that a small picture shows its dots and a large one loses none.
func (c *canvas) image(i Image) {
	from := dots(i.Picture)
	columns := shares(i.Box.Min.X*c.scale, i.Box.Max.X*c.scale, from.Rect.Dx(), c.raster.width)
	rows := shares(i.Box.Min.Y*c.scale, i.Box.Max.Y*c.scale, from.Rect.Dy(), c.raster.height)
	for _, row := range rows {
		for _, column := range columns {
			var sum [3]float64 // of the colours, by how much each hides
			hidden := 0.0
			for y, tall := range row.shares {
				for x, wide := range column.shares {
					dot := from.Pix[from.PixOffset(column.first+x, row.first+y):]
					weight := tall * wide * float64(dot[3]) / 255
					hidden += weight
					for k := range sum {
						sum[k] += weight * float64(dot[k])
					}
				}
			}
			if opacity := uint32(math.Round(hidden * 255)); opacity > 0 {
				at := row.dot*c.picture.Stride + 4*column.dot
				mean := [3]uint8{uint8(math.Round(sum[0] / hidden)), uint8(math.Round(sum[1] / hidden)), uint8(math.Round(sum[2] / hidden))}
				blend(c.picture.Pix[at:at+3], mean, min(opacity, 255))
			}
		}
	}
}

// A mix says of a row or column of dots which dots of a picture it shows, and how much of each.
type mix struct {
	dot    int
	first  int
	shares []float64
}

// shares lays n dots over the stretch from one place to another, of which those between 0 and limit are wanted.
func shares(from, to float64, n, limit int) (list []mix) {
	size := (to - from) / float64(n)
	for dot := max(0, int(math.Floor(from))); dot < limit && float64(dot) < to; dot++ {
		low, high := max(float64(dot), from), min(float64(dot+1), to)
		first := min(n-1, int((low-from)/size))
		m := mix{dot: dot, first: first}
		for k := first; k < n && from+float64(k)*size < high; k++ {
			m.shares = append(m.shares, max(0, min(high, from+float64(k+1)*size)-max(low, from+float64(k)*size)))
		}
		list = append(list, m)
	}
	return list
}
