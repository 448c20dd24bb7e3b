package draw

import (
	"bytes"
	"image"
	stddraw "image/draw"
	"image/png"
)

// dots are the dots of a picture in one form: eight bits, opacity apart, from the top left corner.
func dots(picture image.Image) *image.NRGBA {
	bounds := picture.Bounds()
	n := image.NewNRGBA(image.Rect(0, 0, bounds.Dx(), bounds.Dy()))
	stddraw.Draw(n, n.Rect, picture, bounds.Min, stddraw.Src)
	return n
}

// encoded is a picture as a file of its own.
func encoded(picture image.Image) []byte {
	var out bytes.Buffer
	if err := png.Encode(&out, picture); err != nil {
		panic("draw: a picture in memory cannot be written: " + err.Error()) // a buffer takes everything, and the size is checked
	}
	return out.Bytes()
}
