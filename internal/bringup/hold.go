// SPDX-License-Identifier: Apache-2.0

package bringup

import (
	"fmt"
	"math"

	"boardhand/internal/frame"
	"boardhand/internal/rig"
	"boardhand/internal/sight/locate"
)

// sheet is the checkerboard that `boardhand sheets` draws. The side of a square does not
// matter for a lens: a larger sheet farther off looks the same.
var sheet = locate.Target{Columns: 9, Rows: 6, Square: 25e-3}

// Hold is how the printed checkerboard is held before the camera.
type Hold struct {
	Tilt [2]float64 // rad, about the picture's level and upright middle
	At   [2]float64 // where its middle is in the picture, shares of half of it: 1 is the right or lower rim
	Near float64    // its distance from the lens over the camera's height
}

// holds are the ways in which the sheet is held: tilted each way in the middle, then towards
// the corners and rims, where a lens bends most, its outer side away from the lens.
func holds() (out []Hold) {
	for k := range 8 {
		sin, cos := math.Sincos(float64(k) * math.Pi / 4)
		out = append(out, Hold{Tilt: [2]float64{tilt * sin, tilt * cos}, Near: middleNear})
	}
	for k := range 8 {
		sin, cos := math.Sincos(float64(k)*math.Pi/4 + math.Pi/8)
		out = append(out, Hold{Tilt: [2]float64{tilt * sin, -tilt * cos}, At: [2]float64{outwards * cos, outwards * sin}, Near: rimNear})
	}
	return out
}

// words say how to hold it.
func (h Hold) words() string {
	where := "in the middle of the picture"
	if h.At != [2]float64{} {
		where = fmt.Sprintf("towards the %s of the picture", rim(h.At[0], h.At[1]))
	}
	return fmt.Sprintf("Hold the checkerboard %s, %.0f %% of the way down from the camera to the board, its %s tilted some 30 deg towards the lens, and keep it still. All of it must be seen.",
		where, 100*h.Near, rim(h.Tilt[1], -h.Tilt[0]))
}

// rim names a side or corner of the picture.
func rim(x, y float64) string {
	level, upright := "", ""
	if most := max(math.Abs(x), math.Abs(y)); math.Abs(x) > 0.3*most {
		level = map[bool]string{true: "right", false: "left"}[x > 0]
	}
	if most := max(math.Abs(x), math.Abs(y)); math.Abs(y) > 0.3*most {
		upright = map[bool]string{true: "lower", false: "upper"}[y > 0]
	}
	switch {
	case level == "":
		return upright + " side"
	case upright == "":
		return level + " side"
	}
	return upright + " " + level + " corner"
}

// Place is where the sheet is held under a rig's camera, as planned: the sheet's middle in the
// camera frame, metres, and its rotation vector from square to the lens, radians.
func (h Hold) Place(r *rig.Rig) (at frame.Point[frame.Camera], turn [3]float64) {
	far := h.Near * float64(r.Camera.Height)
	half := far * math.Tan(float64(r.Camera.HFOV)/2)
	tall := half * float64(r.Camera.Image[1]) / float64(r.Camera.Image[0])
	return frame.Point[frame.Camera]{X: h.At[0] * half, Y: h.At[1] * tall, Z: far}, [3]float64{h.Tilt[0], h.Tilt[1], 0}
}

// Outline is where the corners of the sheet's squares come in the picture when it is held so, one
// after the other, shares of the picture's width and height from its upper left corner; by the
// lens as planned, without its bending.
func (h Hold) Outline(r *rig.Rig) (out [4][2]float64) {
	at, turn := h.Place(r)
	pose := frame.Pose[frame.Camera, paper]{R: frame.FromVector(turn), T: at}
	x, y := float64(sheet.Columns+1)/2*sheet.Square, float64(sheet.Rows+1)/2*sheet.Square
	wide := 2 * math.Tan(float64(r.Camera.HFOV)/2)
	tall := wide * float64(r.Camera.Image[1]) / float64(r.Camera.Image[0])
	for k, c := range [4]frame.Point[paper]{{X: -x, Y: -y}, {X: x, Y: -y}, {X: x, Y: y}, {X: -x, Y: y}} {
		p := pose.Apply(c)
		out[k] = [2]float64{0.5 + p.X/p.Z/wide, 0.5 + p.Y/p.Z/tall}
	}
	return out
}

// paper is the frame of the checkerboard: its middle, x right and y down on it.
type paper struct{}
