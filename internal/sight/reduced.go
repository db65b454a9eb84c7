// SPDX-License-Identifier: Apache-2.0

package sight

import (
	"image"
	"math"
	"sync/atomic"

	"boardhand/internal/sight/pixels"
)

// reduced is the picture being read, reduced: more than one asks for it.
type reduced struct {
	from   *image.YCbCr
	reduce float64
	image  *pixels.Image
}

// reducedOf is what is known of a picture to be read.
func reducedOf(p Picture) reduced {
	if from, ok := p.Image.(*image.YCbCr); ok && p.reduced != nil {
		return reduced{from, p.reduced.Reduce, p.reduced}
	}
	return reduced{}
}

// reduce reduces a picture, once for as long as it is being read.
func (r *Reader) reduce(img image.Image, reduce float64) *pixels.Image {
	r.preparer.scale.Store(math.Float64bits(reduce))
	from, ok := img.(*image.YCbCr)
	if !ok {
		return pixels.Reduce(img, reduce)
	}
	if k := &r.reduced; k.from != from || k.reduce != reduce {
		*k = reduced{from, reduce, pixels.Reduce(img, reduce)}
	}
	return r.reduced.image
}

// Preparer does with pictures, ahead of a reader, what does not hang on the pictures before
// them. Several goroutines may use it at once; what is read is the same with it and without.
type Preparer struct {
	scale atomic.Uint64 // the bits of the reduction that the reader asked for last; 0: none yet
}

// Prepare reduces a decoded picture as the reader did the last one.
func (k *Preparer) Prepare(p Picture) Picture {
	if s := math.Float64frombits(k.scale.Load()); s > 0 && p.Image != nil {
		p.reduced = pixels.Reduce(p.Image, s)
		p.reduced.Softened()
	}
	return p
}

// Preparer is what prepares pictures for the reader.
func (r *Reader) Preparer() *Preparer { return r.preparer }
