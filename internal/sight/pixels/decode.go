// SPDX-License-Identifier: Apache-2.0

package pixels

import (
	"bytes"
	"errors"
	"fmt"
	"image"
	"image/jpeg"
	"image/png"
)

// errEmpty says that there is nothing to unpack.
var errEmpty = errors.New("the picture is empty")

// isPNG says whether a file's bytes are those of a PNG: by its signature (ISO/IEC 15948).
func isPNG(data []byte) bool { return bytes.HasPrefix(data, []byte("\x89PNG")) }

// Decode unpacks a JPEG or a PNG.
func Decode(data []byte) (image.Image, error) {
	if len(data) == 0 {
		return nil, errEmpty
	}
	unpack := jpeg.Decode
	if isPNG(data) {
		unpack = png.Decode
	}
	img, err := unpack(bytes.NewReader(data))
	if err != nil {
		return nil, fmt.Errorf("the picture is broken: %w", err)
	}
	return img, nil
}

// SizeOf is the size of a JPEG or a PNG, pixels, by its header: nothing is unpacked.
func SizeOf(data []byte) (width, height int, err error) {
	if len(data) == 0 {
		return 0, 0, errEmpty
	}
	header := jpeg.DecodeConfig
	if isPNG(data) {
		header = png.DecodeConfig
	}
	c, err := header(bytes.NewReader(data))
	if err != nil {
		return 0, 0, fmt.Errorf("the picture is broken: %w", err)
	}
	return c.Width, c.Height, nil
}
