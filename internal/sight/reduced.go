// SPDX-License-Identifier: Apache-2.0

package sight

import (
	"image"

	"boardhand/internal/sight/pixels"
)

// reduced is the picture being read, reduced: more than one asks for it.
type reduced struct {
	from   *image.YCbCr
	reduce float64
	image  *pixels.Image
}

// reduce reduces a picture, once for as long as it is being read.
func (r *Reader) reduce(img image.Image, reduce float64) *pixels.Image {
	from, ok := img.(*image.YCbCr)
	if !ok {
		return pixels.Reduce(img, reduce)
	}
	if k := &r.reduced; k.from != from || k.reduce != reduce {
		*k = reduced{from, reduce, pixels.Reduce(img, reduce)}
	}
	return r.reduced.image
}
