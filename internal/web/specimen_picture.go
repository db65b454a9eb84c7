// SPDX-License-Identifier: Apache-2.0

package web

import (
	"bytes"
	"image"
	"image/color"
	"image/jpeg"
)

// The canned camera, pixels.
const (
	specimenWidth, specimenHeight = 640, 360
	specimenFocal                 = 690.0
)

// inSpecimenAt is the pixel of a point in space, mm, board frame, for a camera
// that looks straight down from c.
func inSpecimenAt(x, y, z float64, c Camera) Place {
	k := specimenFocal / (c.Z - z)
	return Place{tenth(specimenWidth/2 + k*(x-c.X)), tenth(specimenHeight/2 - k*(y-c.Y))}
}

// specimenPicture paints what an ideal camera over the canned board might see,
// and says how the board lies in it. It is scenery for the specimens.
func specimenPicture(e Event) (*View, []byte) {
	v := &View{Width: specimenWidth, Height: specimenHeight}
	c := *e.Camera
	to := func(x, y, z float64) Place { return inSpecimenAt(x, y, z, c) }
	half := 4 * e.Machine.Square
	for i := range 81 {
		v.Corners = append(v.Corners, to(float64(i%9)*half/4-half, float64(i/9)*half/4-half, 0))
	}
	img := image.NewRGBA(image.Rect(0, 0, v.Width, v.Height))
	for i := range v.Width * v.Height {
		px, py := i%v.Width, i/v.Width
		x := c.X + (float64(px)-float64(v.Width)/2)*c.Z/specimenFocal
		y := c.Y - (float64(py)-float64(v.Height)/2)*c.Z/specimenFocal
		img.Set(px, py, specimenGround(x, y, half))
	}
	for _, m := range e.Pieces {
		if m.Square != "" {
			specimenPiece(img, m, e.Machine, to)
		}
	}
	return v, encodeSpecimen(img)
}

func encodeSpecimen(img image.Image) []byte {
	var b bytes.Buffer
	_ = jpeg.Encode(&b, img, &jpeg.Options{Quality: 88}) // writing to memory does not fail
	return b.Bytes()
}

// specimenGround is the twin's plastic board, as sRGB.
func specimenGround(x, y, half float64) color.Color {
	if x < -half || x >= half || y < -half || y >= half {
		return color.RGBA{96, 92, 84, 255}
	}
	f, r := int((x+half)/half*4), int((y+half)/half*4)
	if (f+r)%2 == 0 {
		return color.RGBA{104, 97, 93, 255}
	}
	return color.RGBA{212, 206, 190, 255}
}

// specimenPiece paints the piece as discs from base to head.
func specimenPiece(img *image.RGBA, m Piece, machine *Machine, to func(x, y, z float64) Place) {
	base, height := shapeOf(m, machine)
	ink := 60.0
	if m.Piece[0] < 'a' {
		ink = 190
	}
	for z := 0.0; z <= height; z++ {
		at, rim := to(m.X, m.Y, z), to(m.X+base/2*(1-0.5*z/height), m.Y, z)
		r := rim[0] - at[0]
		g := uint8(ink + 50*z/height)
		for y := int(at[1] - r); y <= int(at[1]+r); y++ {
			for x := int(at[0] - r); x <= int(at[0]+r); x++ {
				dx, dy := float64(x)-at[0], float64(y)-at[1]
				if dx*dx+dy*dy <= r*r {
					img.Set(x, y, color.RGBA{g, g, g - 20, 255})
				}
			}
		}
	}
}
