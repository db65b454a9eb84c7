// SPDX-License-Identifier: Apache-2.0

package assess_test

import (
	"math/rand/v2"
	"testing"

	"boardhand/internal/assess"
	"boardhand/internal/frame"
	"boardhand/internal/optics"
	"boardhand/internal/rig"
	"boardhand/internal/twin"
	"boardhand/internal/unit"
)

// seen is the share of simulated machines whose camera, hung at a height, has the
// whole field in its picture: every deviation drawn, each corner projected through
// the lens with its distortion.
func seen(t *testing.T, r *rig.Rig, height float64) float64 {
	t.Helper()
	const machines = 2000
	chance := rand.New(rand.NewPCG(8, 1))
	c := *r
	c.Camera.Height = unit.Length(height)
	whole := 0
	for range machines {
		q, err := twin.DrawDeviations(&c, chance)
		if err != nil {
			t.Fatal(err)
		}
		v, err := optics.Nominal(c.Camera.Image, float64(c.Camera.HFOV), height, c.Camera.WhiteSide)
		if err != nil {
			t.Fatal(err)
		}
		l := &v.Lens
		l.Fx, l.Fy, l.K1, l.K2 = l.Fx*q.FocalScale, l.Fy*q.FocalScale, q.K1, q.K2
		l.Cx, l.Cy = l.Cx+q.PrincipalX, l.Cy+q.PrincipalY
		eye := v.Camera().Add(q.CameraShift)
		v.CameraFromBoard.R = frame.FromVector(q.CameraTurn).Mul(v.CameraFromBoard.R)
		v.CameraFromBoard.T = frame.Point[frame.Camera]{}
		v.CameraFromBoard.T = v.CameraFromBoard.Apply(frame.Point[frame.Board]{X: -eye.X, Y: -eye.Y, Z: -eye.Z})
		if in, err := v.Cover(float64(c.Board.Field()), 0, c.Camera.Image); err == nil && in.Visible {
			whole++
		}
	}
	return float64(whole) / machines
}

// The limit of camera.coverage against machines drawn by chance.
func TestHungByEyeTheFieldIsSeen(t *testing.T) {
	for _, size := range [][2]float64{{40, 62}, {25, 62}, {50, 75}} {
		r := rig.Default()
		r.Board.Square, r.Camera.HFOV = unit.MM(size[0]), unit.Degrees(size[1])
		for _, c := range assess.Judge(r) {
			if c.ID != "camera.coverage" {
				continue
			}
			r.Camera.Height = unit.MM(c.Limit)
			least := seen(t, r, c.Limit*1e-3)
			r.Camera.Height = unit.MM(c.Limit + 0.1)
			for _, k := range assess.Judge(r) {
				if k.ID != c.ID {
					continue
				}
				well := seen(t, r, *k.Reserve*1e-3)
				t.Logf("squares of %g mm, %g°: from %.0f mm %.1f %% see it whole, from %.0f mm %.1f %%", size[0], size[1], c.Limit, 100*least, *k.Reserve, 100*well)
				if k.Verdict != assess.Warn || least < 0.5 || well < 0.99 {
					t.Errorf("%s: %.3f at the limit, %.3f with reserve", k.Verdict, least, well)
				}
			}
		}
	}
}
