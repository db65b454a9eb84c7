// SPDX-License-Identifier: Apache-2.0

package pixels

import (
	"image"
	"image/color"
)

// LumaOf returns the brightness of a picture. A grey picture and the Y plane
// of a JPEG are shared, not copied: treat the result as read-only.
func LumaOf(img image.Image) *image.Gray {
	switch p := img.(type) {
	case *image.Gray:
		return rebased(p.Pix, p.Stride, p.Rect)
	case *image.YCbCr:
		return rebased(p.Y, p.YStride, p.Rect)
	case *image.RGBA:
		return lumaOfQuads(p.Pix, p.Stride, p.Rect)
	case *image.NRGBA:
		return lumaOfQuads(p.Pix, p.Stride, p.Rect)
	}
	b := img.Bounds()
	g := image.NewGray(image.Rect(0, 0, b.Dx(), b.Dy()))
	for y := range b.Dy() {
		for x := range b.Dx() {
			g.SetGray(x, y, color.GrayModel.Convert(img.At(b.Min.X+x, b.Min.Y+y)).(color.Gray))
		}
	}
	return g
}

// rebased moves a plane's origin to (0, 0); its first byte is the pixel Min.
func rebased(pix []byte, stride int, r image.Rectangle) *image.Gray {
	return &image.Gray{Pix: pix, Stride: stride, Rect: image.Rect(0, 0, r.Dx(), r.Dy())}
}

// lumaOfQuads weighs R, G, B as JPEG does (ITU-R BT.601), alpha ignored.
func lumaOfQuads(pix []byte, stride int, r image.Rectangle) *image.Gray {
	g := image.NewGray(image.Rect(0, 0, r.Dx(), r.Dy()))
	for y := range r.Dy() {
		in, out := pix[y*stride:], g.Pix[y*g.Stride:]
		for x := range r.Dx() {
			q := in[4*x : 4*x+3]
			out[x] = uint8((19595*uint32(q[0]) + 38470*uint32(q[1]) + 7471*uint32(q[2]) + 1<<15) >> 16)
		}
	}
	return g
}

// Halved averages 2 × 2 pixels; an odd last row or column is dropped.
func Halved(g *image.Gray) *image.Gray {
	w, h := g.Rect.Dx()/2, g.Rect.Dy()/2
	out := image.NewGray(image.Rect(0, 0, w, h))
	for y := range h {
		a, b := g.Pix[2*y*g.Stride:][:2*w], g.Pix[(2*y+1)*g.Stride:][:2*w]
		o := out.Pix[y*out.Stride:][:w]
		for x := range o {
			o[x] = uint8((int(a[2*x]) + int(a[2*x+1]) + int(b[2*x]) + int(b[2*x+1]) + 2) >> 2)
		}
	}
	return out
}

// Smoothed is the picture under a 3 × 3 binomial; the rim is copied.
func Smoothed(g *image.Gray) *image.Gray {
	w, h := g.Rect.Dx(), g.Rect.Dy()
	out := image.NewGray(image.Rect(0, 0, w, h))
	for y := range h {
		row, o := g.Pix[y*g.Stride:][:w], out.Pix[y*out.Stride:][:w]
		if y == 0 || y == h-1 || w < 3 {
			copy(o, row)
			continue
		}
		up, down := g.Pix[(y-1)*g.Stride:][:w], g.Pix[(y+1)*g.Stride:][:w]
		left, mid := int(up[0])+2*int(row[0])+int(down[0]), int(up[1])+2*int(row[1])+int(down[1])
		o[0], o[w-1] = row[0], row[w-1]
		for x := 1; x < w-1; x++ {
			right := int(up[x+1]) + 2*int(row[x+1]) + int(down[x+1])
			o[x] = uint8((left + 2*mid + right + 8) >> 4)
			left, mid = mid, right
		}
	}
	return out
}
