// SPDX-License-Identifier: Apache-2.0

package rig

import (
	"fmt"
	"math"

	"boardhand/internal/frame"
	"boardhand/internal/optics"
	"boardhand/internal/unit"
)

// LensChange is how a picture contradicts the lens that bring-up measured.
type LensChange struct {
	IsOther bool        // the picture is bent otherwise
	Larger  float64     // else the share by which the board is seen larger, from where it was seen before
	Lower   unit.Length // by which the camera would have to hang lower for that
}

// LensChanged compares the view in which a first picture was found, with the lens as measured or
// with one fitted to the picture, with what bring-up measured.
// Focal length and height look alike in a picture of a flat board: a board that has grown while
// the camera neither turned nor went aside is that of a zoom turned or of a camera hung at
// another height; a camera that was bumped has turned or gone aside as well, and is neither.
func (r *Rig) LensChanged(now optics.View) (c LensChange, isChanged bool) {
	if r.Seen == nil || !r.Hung {
		return c, false
	}
	if math.Abs(now.Lens.K1-r.Seen.Lens.K1) > otherBend {
		return LensChange{IsOther: true}, true
	}
	was, is, turn := r.Seen.Camera(), now.Camera(), r.Seen.CameraFromBoard.R
	axis := frame.Point[frame.Board]{X: turn[2][0], Y: turn[2][1], Z: turn[2][2]}
	moved := is.Sub(was)
	along := moved.X*axis.X + moved.Y*axis.Y + moved.Z*axis.Z
	aside := math.Sqrt(max(0, moved.X*moved.X+moved.Y*moved.Y+moved.Z*moved.Z-along*along))
	w, err := now.CameraFromBoard.R.Mul(turn.Transpose()).Vector()
	c.Larger = was.Z/r.Seen.Lens.Fx/(is.Z/now.Lens.Fx) - 1
	c.Lower = unit.Length(was.Z * c.Larger / (1 + c.Larger))
	return c, err == nil && math.Abs(c.Larger) > leastZoom && aside < mostAside && math.Sqrt(w[0]*w[0]+w[1]*w[1]+w[2]*w[2]) < mostTurned
}

// Words say what was seen and what to do about it, for the rig file of that path.
func (c LensChange) Words(path string) string {
	if c.IsOther {
		return fmt.Sprintf("The lens bends otherwise than bring-up measured it, so the picture is read without that: if lens, zoom or focus were changed, run `boardhand bringup %s --again lens`.", path)
	}
	size, hung := "larger", "lower"
	if c.Larger < 0 {
		size, hung = "smaller", "higher"
	}
	return fmt.Sprintf("The board is seen %.1f %% %s than when bring-up measured the camera, from the same side: if zoom or focus were turned, run `boardhand bringup %s --again lens`; if the camera was hung %.0f mm %s, `--again camera`.",
		100*math.Abs(c.Larger), size, path, math.Abs(c.Lower.MM()), hung)
}
