// SPDX-License-Identifier: Apache-2.0

package pixels

import (
	"math"
	"testing"

	"boardhand/internal/frame"
	"boardhand/internal/optics"
)

// tableView is a lens with distortion over a small board, a little tilted.
func tableView(t *testing.T) optics.View {
	t.Helper()
	v, err := optics.Nominal([2]int{1280, 720}, 1.08, 0.6, "bottom")
	if err != nil {
		t.Fatal(err)
	}
	v.Lens.K1, v.Lens.K2 = -0.2, 0.03
	tilt := frame.Pose[frame.Camera, frame.Camera]{R: frame.FromVector([3]float64{0.03, -0.02, 0.05}),
		T: frame.Point[frame.Camera]{X: 0.004, Y: -0.003}}
	v.CameraFromBoard = frame.Compose(tilt, v.CameraFromBoard)
	return v
}

// TestGroundBetweenNodes: the interpolated ground agrees with the lens model.
func TestGroundBetweenNodes(t *testing.T) {
	v := tableView(t)
	g := NewPlane(v, [2]int{1280, 720}, 2, 0.25)
	for y := g.Box.Y0; y < g.Box.Y1; y += 37 {
		for x := g.Box.X0; x < g.Box.X1; x += 41 {
			want, err := v.OnPlane(g.Pixel(float64(x), float64(y)), 0)
			if err != nil {
				t.Fatal(err)
			}
			i := y*g.W + x
			if d := math.Hypot(float64(g.X[i])-want.X, float64(g.Y[i])-want.Y); d > 0.1*g.Pitch {
				t.Errorf("pixel (%d, %d) is %.3f mm off", x, y, d*1e3)
			}
		}
	}
}
