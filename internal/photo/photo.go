// SPDX-License-Identifier: Apache-2.0

// Package photo has what a camera gives and a reader takes, so that neither knows the other.
package photo

import (
	"image"
	"time"
)

// Picture is one picture from the camera.
type Picture struct {
	Name  string      // file name or number, for messages
	Taken time.Time   // when, by the camera's clock; zero if unknown
	JPEG  []byte      // as it came, if it came as JPEG
	Image image.Image // decoded; nil where only JPEG is given

	Prepared any // what a reader's preparer worked out ahead of the reading: only that reader knows what
}
