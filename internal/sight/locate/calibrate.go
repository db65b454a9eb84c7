// SPDX-License-Identifier: Apache-2.0

package locate

import (
	"fmt"
	"image"

	"boardhand/internal/frame"
	"boardhand/internal/optics"
)

// Target is a printed checkerboard for calibration.
type Target struct {
	Columns, Rows int     // inner corners
	Square        float64 // side of a square, metres
}

// Corners are the checkerboard's corners found in a picture, each with its
// place on the sheet: column to the right, row down from the first corner.
func (t Target) Corners(img image.Image) ([]optics.Corner, error) {
	c, err := FindChecker(img, t.Columns, t.Rows)
	if err != nil {
		return nil, err
	}
	out := make([]optics.Corner, len(c.Corners))
	for i, at := range c.Corners {
		p := frame.Point[frame.Board]{X: float64(i%t.Columns) * t.Square, Y: float64(i/t.Columns) * t.Square}
		out[i] = optics.Corner{Board: p, Seen: at, Sigma: c.Sigma[i]}
	}
	return out, nil
}

// CalibrateLens finds the lens from pictures of a checkerboard, each tilted
// another way. Pictures that do not show it are left out; used says which were
// taken.
func CalibrateLens(pictures []image.Image, t Target) (c optics.Calibration, used []int, err error) {
	var seen [][]optics.Corner
	var size [2]int
	for i, img := range pictures {
		b := img.Bounds()
		if i > 0 && size != [2]int{b.Dx(), b.Dy()} {
			return c, nil, fmt.Errorf("picture %d is %d × %d, the first %d × %d: take all with one setting", i+1, b.Dx(), b.Dy(), size[0], size[1])
		}
		size = [2]int{b.Dx(), b.Dy()}
		if corners, err := t.Corners(img); err == nil {
			seen, used = append(seen, corners), append(used, i)
		}
	}
	if len(seen) < leastViews {
		return c, used, fmt.Errorf("the checkerboard is seen whole in %d of %d pictures; %d are needed", len(seen), len(pictures), leastViews)
	}
	c, err = optics.Calibrate(seen, optics.Free(size, 2, true, false))
	return c, used, err
}
