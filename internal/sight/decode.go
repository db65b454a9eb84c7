// SPDX-License-Identifier: Apache-2.0

package sight

import (
	"image"
	"math"
	"sync/atomic"

	"boardhand/internal/photo"
	"boardhand/internal/sight/pixels"
)

// decode returns the picture's pixels.
func decode(p photo.Picture) (image.Image, error) {
	if p.Image != nil {
		return p.Image, nil
	}
	return pixels.Decode(p.JPEG)
}

// size is the picture's, pixels.
func size(p photo.Picture) (width, height int, err error) {
	if p.Image != nil {
		return p.Image.Bounds().Dx(), p.Image.Bounds().Dy(), nil
	}
	return pixels.SizeOf(p.JPEG)
}

// Preparer does with pictures, ahead of a reader, what does not hang on the pictures before
// them. Several goroutines may use it at once; what is read is the same with it and without.
type Preparer struct {
	scale atomic.Uint64 // the bits of the reduction that the reader asked for last; 0: none yet
}

// Prepare reduces a decoded picture as the reader did the last one.
func (k *Preparer) Prepare(p photo.Picture) photo.Picture {
	if s := math.Float64frombits(k.scale.Load()); s > 0 && p.Image != nil {
		small := pixels.Reduce(p.Image, s)
		small.Softened()
		p.Prepared = small
	}
	return p
}
