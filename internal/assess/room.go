// SPDX-License-Identifier: Apache-2.0

package assess

import (
	"fmt"
	"math"

	"boardhand/internal/rig"
	"boardhand/internal/unit"
)

// room is the knob that gives the carriage more way: n steps of a millimetre
// more on the tightest side, and as much on every other side that is then
// tighter. It moves walls outwards and lengthens axes, both ways alike.
var room = knob{
	name: "reach",
	turn: func(r *rig.Rig, n int) (*rig.Rig, bool) {
		c := *r
		sides := sidesOf(r, 0)
		least := math.Inf(1)
		for _, s := range sides {
			least = math.Min(least, mm(s.Reach-s.Need))
		}
		spare := unit.MM(onGrid(least, 1, n))
		for i, s := range sides {
			widen(&c, i, s.Need+spare)
		}
		return &c, c.Axis.X.Travel <= 2 && c.Axis.Y.Travel <= 2
	},
	settings: func(r *rig.Rig) []Setting {
		out := []Setting{{"axis.x.travel", inMM(r.Axis.X.Travel)}, {"axis.y.travel", inMM(r.Axis.Y.Travel)},
			{"walls.left", inMM(r.Walls.Left)}, {"walls.right", inMM(r.Walls.Right)}, {"walls.front", inMM(r.Walls.Front)}, {"walls.back", inMM(r.Walls.Back)}}
		for name, a := range map[string]rig.Axis{"x": r.Axis.X, "y": r.Axis.Y} {
			if a.Origin != a.Travel/2 {
				out = append(out, Setting{"axis." + name + ".origin", inMM(a.Origin)})
			}
		}
		return out
	},
}

func inMM(l unit.Length) string { return written(mm(l), "mm") }

// widen lets side i reach as far as to, in whole millimetres.
func widen(r *rig.Rig, i int, to unit.Length) {
	a := [4]*rig.Axis{&r.Axis.X, &r.Axis.X, &r.Axis.Y, &r.Axis.Y}[i]
	wall := [4]*unit.Length{&r.Walls.Left, &r.Walls.Right, &r.Walls.Front, &r.Walls.Back}[i]
	out := [4]unit.Length{r.Carriage.Left, r.Carriage.Right, r.Carriage.Front, r.Carriage.Back}[i]
	*wall = max(*wall, whole1(to+a.Backlash/2+out))
	has := a.Origin
	if i%2 == 1 {
		has = a.Travel - a.Origin
	}
	more := whole1(to + a.Backlash/2 - has)
	if more <= 0 {
		return
	}
	if a.Origin == a.Travel/2 { // both ways alike
		a.Travel += 2 * more
		a.Origin = a.Travel / 2
		return
	}
	a.Travel += more
	if i%2 == 0 {
		a.Origin += more
	}
}

// whole1 rounds up to a whole millimetre.
func whole1(l unit.Length) unit.Length { return unit.MM(math.Ceil(mm(l) - 1e-6)) }

// pictures are the sizes cameras offer, in pixels.
var pictures = [][2]int{{320, 240}, {640, 480}, {800, 600}, {1280, 720}, {1600, 1200}, {1920, 1080}, {2592, 1944}, {3840, 2160}}

// picture is the knob of the camera's picture: n sizes with more pixels across.
var picture = knob{
	name: "camera.image",
	turn: func(r *rig.Rig, n int) (*rig.Rig, bool) {
		c := *r
		at := 0
		for at < len(pictures) && pictures[at][0] <= r.Camera.Image[0] {
			at++
		}
		if at += n - 1; n < 1 || at >= len(pictures) {
			return &c, false
		}
		c.Camera.Image = pictures[at]
		return &c, true
	},
	settings: func(r *rig.Rig) []Setting {
		return []Setting{{"camera.image", fmt.Sprintf("[%d, %d]", r.Camera.Image[0], r.Camera.Image[1])}}
	},
}
