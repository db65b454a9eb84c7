// SPDX-License-Identifier: Apache-2.0

package optics

import (
	"errors"
	"fmt"

	"boardhand/internal/frame"
)

// View is a lens and where it hangs over the board.
type View struct {
	Lens            Lens
	CameraFromBoard frame.Pose[frame.Camera, frame.Board]
}

// ErrParallel says that a pixel's ray never meets the plane asked for.
var ErrParallel = errors.New("the ray of this pixel does not meet the plane in front of the camera")

// Project maps a board point to its pixel; false when it cannot be seen.
func (v View) Project(p frame.Point[frame.Board]) (frame.Spot[frame.Image], bool) {
	return v.Lens.Project(v.CameraFromBoard.Apply(p))
}

// OnPlane returns where the ray of a pixel meets the plane z metres above the
// playing surface.
func (v View) OnPlane(px frame.Spot[frame.Image], z float64) (frame.Spot[frame.Board], error) {
	x, y, err := v.Lens.Ray(px)
	if err != nil {
		return frame.Spot[frame.Board]{}, err
	}
	r := v.CameraFromBoard.R
	eye := v.Camera()
	dx := r[0][0]*x + r[1][0]*y + r[2][0] // the ray in the board frame: Rᵀ (x, y, 1)
	dy := r[0][1]*x + r[1][1]*y + r[2][1]
	dz := r[0][2]*x + r[1][2]*y + r[2][2]
	k := (z - eye.Z) / dz
	if !(k > 0) || k > 1e6 {
		return frame.Spot[frame.Board]{}, ErrParallel
	}
	return frame.Spot[frame.Board]{X: eye.X + k*dx, Y: eye.Y + k*dy}, nil
}

// Camera is the centre of projection in the board frame; its Z is the height.
func (v View) Camera() frame.Point[frame.Board] { // −Rᵀ T; not by Inverse: called for every ray
	r, t := &v.CameraFromBoard.R, &v.CameraFromBoard.T
	return frame.Point[frame.Board]{
		X: -(r[0][0]*t.X + r[1][0]*t.Y + r[2][0]*t.Z),
		Y: -(r[0][1]*t.X + r[1][1]*t.Y + r[2][1]*t.Z),
		Z: -(r[0][2]*t.X + r[1][2]*t.Y + r[2][2]*t.Z),
	}
}

// Tilt is the angle in radians between the lens's axis and the plumb line of
// the board, and its cosine's sign says whether it looks down (0 ≤ Tilt < π/2).
func (v View) Tilt() float64 {
	r := v.CameraFromBoard.R
	return arccos(-r[2][2])
}

// overhead holds, for each picture side where White sits, the rotation of a
// camera that looks straight down: rows are the camera's x, y, z axes seen
// from the board.
var overhead = map[string]frame.Rotation{
	"bottom": {{1, 0, 0}, {0, -1, 0}, {0, 0, -1}},
	"left":   {{0, 1, 0}, {1, 0, 0}, {0, 0, -1}},
	"top":    {{-1, 0, 0}, {0, 1, 0}, {0, 0, -1}},
	"right":  {{0, -1, 0}, {-1, 0, 0}, {0, 0, -1}},
}

// Nominal is an ideal lens with full horizontal angle hfov, height metres
// straight above the field's centre, with White on the given side of the
// picture ("bottom", "left", "top", "right").
func Nominal(image [2]int, hfov, height float64, whiteSide string) (View, error) {
	r, ok := overhead[whiteSide]
	if !ok {
		return View{}, fmt.Errorf("camera.white_side must be bottom, left, top or right; got %q", whiteSide)
	}
	if err := checkNominal(image, hfov, height); err != nil {
		return View{}, err
	}
	pose := frame.Pose[frame.Camera, frame.Board]{R: r, T: frame.Point[frame.Camera]{Z: height}}
	return View{Lens: Ideal(image[0], image[1], hfov), CameraFromBoard: pose}, nil
}

func checkNominal(image [2]int, hfov, height float64) error {
	switch {
	case image[0] < 1 || image[1] < 1:
		return fmt.Errorf("camera.image must be two positive numbers of pixels; got %v", image)
	case !(hfov > 0.05 && hfov < 2.8):
		return fmt.Errorf("camera.hfov must be 3–160 deg; got %.1f deg", hfov*180/pi)
	case !(height > 0):
		return fmt.Errorf("camera.height must be above the board; got %.1f mm", height*1e3)
	}
	return nil
}
