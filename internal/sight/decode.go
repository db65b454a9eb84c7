// SPDX-License-Identifier: Apache-2.0

package sight

import (
	"bytes"
	"errors"
	"fmt"
	"image"
	"image/jpeg"
	"image/png"
	"math"
	"sync/atomic"

	"boardhand/internal/sight/pixels"
)

// decode returns the picture's pixels.
func (p Picture) decode() (image.Image, error) {
	if p.Image != nil {
		return p.Image, nil
	}
	if len(p.JPEG) == 0 {
		return nil, errors.New("the picture is empty")
	}
	var img image.Image
	var err error
	if bytes.HasPrefix(p.JPEG, []byte("\x89PNG")) {
		img, err = png.Decode(bytes.NewReader(p.JPEG))
	} else {
		img, err = jpeg.Decode(bytes.NewReader(p.JPEG))
	}
	if err != nil {
		return nil, fmt.Errorf("the picture is broken: %w", err)
	}
	return img, nil
}

// size is the picture's, pixels, by its header: nothing is unpacked.
func (p Picture) size() (width, height int, err error) {
	if p.Image != nil {
		b := p.Image.Bounds()
		return b.Dx(), b.Dy(), nil
	}
	if len(p.JPEG) == 0 {
		return 0, 0, errors.New("the picture is empty")
	}
	header := jpeg.DecodeConfig
	if bytes.HasPrefix(p.JPEG, []byte("\x89PNG")) {
		header = png.DecodeConfig
	}
	c, err := header(bytes.NewReader(p.JPEG))
	if err != nil {
		return 0, 0, fmt.Errorf("the picture is broken: %w", err)
	}
	return c.Width, c.Height, nil
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
