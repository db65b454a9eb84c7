// SPDX-License-Identifier: Apache-2.0

package optics

import (
	"errors"
	"fmt"
	"math"

	"boardhand/internal/frame"
)

const pi = math.Pi

func arccos(c float64) float64 { return math.Acos(math.Max(-1, math.Min(1, c))) }

// ErrUnderCamera says that an object reaches the camera.
var ErrUnderCamera = errors.New("the object is as high as the camera or higher")

// Lean is how far outwards, in metres on the board, the top of an upright
// object of height h appears when its base stands r from the point below a
// camera at height H: r h / (H − h). All in metres, 0 ≤ h < H.
// Exact for a camera without distortion. Source: relief displacement,
// d = r_top h/H (Wolf, Dewitt, Elements of Photogrammetry, ch. 6), with
// r_top = r H/(H − h).
func Lean(h, r, H float64) (float64, error) {
	if !(h >= 0 && h < H) {
		return 0, ErrUnderCamera
	}
	return r * h / (H - h), nil
}

// Leaned is Lean in full: where on the playing surface the top of an object of
// height h, standing at base, hides the board.
func (v View) Leaned(base frame.Spot[frame.Board], h float64) (frame.Spot[frame.Board], error) {
	eye := v.Camera()
	if !(h >= 0 && h < eye.Z) {
		return frame.Spot[frame.Board]{}, ErrUnderCamera
	}
	k := eye.Z / (eye.Z - h)
	below := eye.Spot()
	return below.Add(base.Sub(below).Scale(k)), nil
}

// Coverage says how a square sheet lies in the picture.
type Coverage struct {
	Visible bool       // all of it is inside the picture
	Margin  float64    // least distance of its outline from the picture's edge, px; negative: cut off
	Sides   [4]float64 // the same by picture side: left, top, right, bottom, px
	Scale   float64    // px per mm at the field's centre
	Least   float64    // px per mm where it is smallest, of nine places
}

// Cover projects the outline of a square of the given side (metres) centred on
// the field at height z and compares it with a picture of w × h pixels.
func (v View) Cover(side, z float64, image [2]int) (Coverage, error) {
	w, h := float64(image[0]), float64(image[1])
	c := Coverage{Sides: [4]float64{w, h, w, h}}
	for _, p := range outline(side / 2) {
		px, ok := v.Project(p.At(z))
		if !ok {
			return Coverage{}, fmt.Errorf("the board reaches out of the lens's field: hang the camera higher")
		}
		for i, d := range [4]float64{px.X + 0.5, px.Y + 0.5, w - 0.5 - px.X, h - 0.5 - px.Y} {
			c.Sides[i] = math.Min(c.Sides[i], d)
		}
	}
	c.Margin = math.Min(math.Min(c.Sides[0], c.Sides[1]), math.Min(c.Sides[2], c.Sides[3]))
	c.Visible = c.Margin >= 0
	return c, v.scales(side/2, z, &c)
}

func (v View) scales(half, z float64, c *Coverage) error {
	c.Least = math.Inf(1)
	for i := -1.0; i <= 1; i++ {
		for j := -1.0; j <= 1; j++ {
			k, err := v.PixelsPerMM(frame.Spot[frame.Board]{X: i * half, Y: j * half}, z)
			if err != nil {
				return err
			}
			c.Least = math.Min(c.Least, k)
			if i == 0 && j == 0 {
				c.Scale = k
			}
		}
	}
	return nil
}

// outline walks around a square with the given half side: corners and seven
// places between, because a distorted edge bulges.
func outline(half float64) []frame.Spot[frame.Board] {
	const n = 8
	var out []frame.Spot[frame.Board]
	for i := range n {
		t := -half + 2*half*float64(i)/n
		out = append(out, frame.Spot[frame.Board]{X: t, Y: -half}, frame.Spot[frame.Board]{X: half, Y: t},
			frame.Spot[frame.Board]{X: -t, Y: half}, frame.Spot[frame.Board]{X: -half, Y: -t})
	}
	return out
}

// PixelsPerMM is the local scale of the picture at a spot z metres above the
// board: the square root of the area one mm² takes, in px.
func (v View) PixelsPerMM(at frame.Spot[frame.Board], z float64) (float64, error) {
	const d = scaleReach
	var p [4]frame.Spot[frame.Image]
	for i, s := range []frame.Spot[frame.Board]{{X: d}, {X: -d}, {Y: d}, {Y: -d}} {
		px, ok := v.Project(at.Add(s).At(z))
		if !ok {
			return 0, fmt.Errorf("the place (%.0f, %.0f) mm is out of the lens's field", at.X*1e3, at.Y*1e3)
		}
		p[i] = px
	}
	a, b := p[0].Sub(p[1]), p[2].Sub(p[3])
	return math.Sqrt(math.Abs(a.X*b.Y - a.Y*b.X)), nil
}

// Blur is the diameter on the sensor, metres, of the spot that a lens makes of a point
// at a distance when it is set to another: f²·|at − focus|/(N·at·(focus − f)). All
// in metres; stop is N, the focal length over the opening. Range: distances above ten
// focal lengths; a thin lens without faults, whose own spot comes on top. Source: the
// lens equation and similar triangles; S. F. Ray, Applied Photographic Optics, ch. on
// depth of field (from memory).
func Blur(focal, stop, focus, at float64) (float64, error) {
	if !(focal > 0 && stop > 0 && focus > 10*focal && at > 10*focal) {
		return 0, fmt.Errorf("a blur needs distances above ten focal lengths; got %.0f mm and %.0f mm with a lens of %.1f mm", focus*1e3, at*1e3, focal*1e3)
	}
	return focal * focal * math.Abs(at-focus) / (stop * at * (focus - focal)), nil
}
