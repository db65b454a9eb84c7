// SPDX-License-Identifier: Apache-2.0

package sight

import (
	"bytes"
	"errors"
	"fmt"
	"image"
	"image/jpeg"
	"image/png"
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
