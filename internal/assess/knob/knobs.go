// SPDX-License-Identifier: Apache-2.0

package knob

import (
	"fmt"
	"math"

	"boardhand/internal/axes"
	"boardhand/internal/rig"
	"boardhand/internal/unit"
)

// mmScale is a length moved by a step between two bounds, millimetres.
func mmScale(step, lo, hi float64) scale { return scale{"mm", 1e3, step, lo, hi} }

// The knobs of a rig by name. Bounds are those of the rig file.
var knobs = withAxes(map[string]Knob{
	"board.square":         square,
	"board.thickness":      number("board.thickness", mmScale(0.5, 0.5, 30), func(r *rig.Rig) *float64 { return (*float64)(&r.Board.Thickness) }),
	"board.friction":       frictionKnob("board.friction", func(r *rig.Rig) *float64 { return &r.Board.Friction }),
	"board.kinetic":        number("board.kinetic", scale{"", 1, 0.01, 0.03, 1.5}, func(r *rig.Rig) *float64 { return &r.Board.Kinetic }),
	"board.warp":           number("board.warp", mmScale(0.1, 0, 5), func(r *rig.Rig) *float64 { return (*float64)(&r.Board.Warp) }),
	"lift.drop":            number("lift.drop", mmScale(0.5, 1, 80), func(r *rig.Rig) *float64 { return (*float64)(&r.Lift.Drop) }),
	"lift.speed":           number("lift.speed", scale{"mm/s", 1e3, 5, 1, 500}, func(r *rig.Rig) *float64 { return (*float64)(&r.Lift.Speed) }),
	"lift.air":             number("lift.air", mmScale(0.1, 0, 10), func(r *rig.Rig) *float64 { return (*float64)(&r.Lift.Air) }),
	"lift.preload":         number("lift.preload", scale{"N", 1, 0.05, 0, 50}, func(r *rig.Rig) *float64 { return (*float64)(&r.Lift.Preload) }),
	"lift.spring":          number("lift.spring", scale{"N/mm", 1e-3, 0.01, 0.01, 20}, func(r *rig.Rig) *float64 { return (*float64)(&r.Lift.Spring) }),
	"pieces.magnet.recess": number("pieces.magnet.recess", mmScale(0.1, 0, 10), func(r *rig.Rig) *float64 { return (*float64)(&r.Pieces.Magnet.Recess) }),
	"camera.height":        number("camera.height", mmScale(5, 150, 3000), func(r *rig.Rig) *float64 { return (*float64)(&r.Camera.Height) }),
	"camera.focus":         focused,
	"axis.y.guide":         number("axis.y.guide", mmScale(5, 5, 2000), func(r *rig.Rig) *float64 { return (*float64)(&r.Axis.Y.Guide) }),
	"axis.y.clearance":     number("axis.y.clearance", mmScale(0.01, 0, 5), func(r *rig.Rig) *float64 { return (*float64)(&r.Axis.Y.Clearance) }),
	"walls.height":         number("walls.height", mmScale(1, 5, 1000), func(r *rig.Rig) *float64 { return (*float64)(&r.Walls.Height) }),
	"board.rim":            number("board.rim", mmScale(1, 0, 300), func(r *rig.Rig) *float64 { return (*float64)(&r.Board.Rim) }),
	"board.mass":           number("board.mass", scale{"g", 1e3, 50, 1, 20000}, func(r *rig.Rig) *float64 { return (*float64)(&r.Board.Mass) }),
	"board.steel":          number("board.steel", mmScale(0.5, 0.3, 100), func(r *rig.Rig) *float64 { return (*float64)(&r.Board.Steel) }),
	"lift.steel":           number("lift.steel", mmScale(0.5, 0.3, 100), func(r *rig.Rig) *float64 { return (*float64)(&r.Lift.Steel) }),
	"lift.force":           number("lift.force", scale{"N", 1, 0.5, 0.1, 500}, func(r *rig.Rig) *float64 { return (*float64)(&r.Lift.Force) }),
	"removal.slots":        whole("removal.slots", 32, func(r *rig.Rig) *int { return &r.Removal.Slots }),
	"camera.hfov":          angle,
	"removal.gap":          number("removal.gap", mmScale(1, 5, 300), func(r *rig.Rig) *float64 { return (*float64)(&r.Removal.Gap) }),
	"power.current":        number("power.current", scale{"A", 1, 0.1, 0.05, 100}, func(r *rig.Rig) *float64 { return (*float64)(&r.Power.Current) }),
	"walls.owned":          whole("walls.owned", 100000, func(r *rig.Rig) *int { return &r.Walls.Owned }),
	"controller.ports":     whole("controller.ports", 64, func(r *rig.Rig) *int { return &r.Controller.Ports }),
	"lift.magnet":          disc("lift", liftDisc),
	"pieces.magnet":        disc("pieces.magnet", footDisc),
	"camera.image":         picture,
	"power.motors":         heldMotors,
	"pieces.carried":       carried,
	"play.side":            side,
	"reach":                room,
	"axes.counts":          countsKnob,
	"bases":                level("bases", mmScale(0.5, 4, 60), pieceParts("base", func(m *rig.Piece) *float64 { return (*float64)(&m.Base) })),
	"masses":               level("masses", scale{"g", 1e3, 0.5, 0.5, 300}, pieceParts("mass", func(m *rig.Piece) *float64 { return (*float64)(&m.Mass) })),
})

// axisQuantities are the numbers of an axis that may be turned.
var axisQuantities = []struct {
	name string
	scale
	get func(*rig.Axis) *float64
}{
	{"speed", scale{"mm/s", 1e3, 5, 1, 2000}, func(a *rig.Axis) *float64 { return (*float64)(&a.Speed) }},
	{"acceleration", scale{"mm/s2", 1e3, 25, 5, 20000}, func(a *rig.Axis) *float64 { return (*float64)(&a.Acceleration) }},
	{"backlash", mmScale(0.1, 0, 10), func(a *rig.Axis) *float64 { return (*float64)(&a.Backlash) }},
	{"motor.gearing", scale{"", 1, 0.25, 0.01, 1000}, func(a *rig.Axis) *float64 { return &a.Motor.Gearing }},
	{"motor.stall_torque", scale{"N·m", 1, 0.01, 0.001, 50}, func(a *rig.Axis) *float64 { return (*float64)(&a.Motor.StallTorque) }},
}

func axisX(r *rig.Rig) *rig.Axis { return &r.Axis.X }
func axisY(r *rig.Rig) *rig.Axis { return &r.Axis.Y }

// withAxes adds the knobs of each axis, and of both together ("axes.speed").
func withAxes(k map[string]Knob) map[string]Knob {
	for _, q := range axisQuantities {
		x := part{"axis.x." + q.name, func(r *rig.Rig) *float64 { return q.get(axisX(r)) }}
		y := part{"axis.y." + q.name, func(r *rig.Rig) *float64 { return q.get(axisY(r)) }}
		k[x.key], k[y.key] = number(x.key, q.scale, x.field), number(y.key, q.scale, y.field)
		k["axes."+q.name] = level("axes."+q.name, q.scale, func(*rig.Rig) []part { return []part{x, y} })
	}
	return k
}

// countsKnob raises the counts of the motor that has fewer, by 8 a step.
var countsKnob = Knob{
	Name: "axes.counts",
	Turn: func(r *rig.Rig, n int) (*rig.Rig, bool) {
		c := *r
		least := min(c.Axis.X.Motor.Counts, c.Axis.Y.Motor.Counts) + 8*n
		c.Axis.X.Motor.Counts = max(c.Axis.X.Motor.Counts, least)
		c.Axis.Y.Motor.Counts = max(c.Axis.Y.Motor.Counts, least)
		return &c, least >= 1 && least <= 1000000
	},
	Settings: func(r *rig.Rig) []Setting {
		return []Setting{{Key: "axis.x.motor.counts", Value: written(float64(r.Axis.X.Motor.Counts), "")},
			{Key: "axis.y.motor.counts", Value: written(float64(r.Axis.Y.Motor.Counts), "")}}
	},
}

// frictionKnob moves static friction; sliding friction keeps its share.
func frictionKnob(key string, field func(*rig.Rig) *float64) Knob {
	k := number(key, scale{"", 1, 0.01, 0.05, 1.5}, field)
	plain := k.Turn
	k.Turn = func(r *rig.Rig, n int) (*rig.Rig, bool) {
		c, ok := plain(r, n)
		if r.Board.Friction > 0 { // to the digits that are written
			c.Board.Kinetic = math.Round(1e3*r.Board.Kinetic*c.Board.Friction/r.Board.Friction) / 1e3
			ok = ok && (c.Board.Kinetic == 0 || c.Board.Kinetic >= 0.03)
		}
		return c, ok
	}
	k.Settings = func(r *rig.Rig) []Setting {
		return []Setting{{Key: key, Value: written(*field(r), "")}, {Key: "board.kinetic", Value: written(r.Board.Kinetic, "")}}
	}
	return k
}

// whole makes a knob of a count.
func whole(key string, most int, field func(*rig.Rig) *int) Knob {
	return Knob{
		Name: key,
		Turn: func(r *rig.Rig, n int) (*rig.Rig, bool) {
			c := *r
			v := field(&c)
			*v += n
			return &c, *v >= 1 && *v <= most
		},
		Settings: func(r *rig.Rig) []Setting { return []Setting{{Key: key, Value: written(float64(*field(r)), "")}} },
	}
}

// pieceParts are one quantity of all pieces.
func pieceParts(what string, field func(*rig.Piece) *float64) func(*rig.Rig) []part {
	return func(r *rig.Rig) (out []part) {
		for _, k := range r.Pieces.Kinds().All() {
			key := "pieces." + r.Pieces.Kinds().Key(k) + "." + what
			out = append(out, part{key, func(r *rig.Rig) *float64 { return field(r.Pieces.Of(k)) }})
		}
		return out
	}
}

func liftDisc(r *rig.Rig) (*unit.Length, *unit.Length) { return &r.Lift.Diameter, &r.Lift.Thickness }

func footDisc(r *rig.Rig) (*unit.Length, *unit.Length) {
	return &r.Pieces.Magnet.Diameter, &r.Pieces.Magnet.Thickness
}

// room is the knob that gives the carriage more way: n steps of a millimetre
// more on the tightest side, and as much on every other side that is then
// tighter. It moves walls outwards and lengthens axes, both ways alike.
var room = Knob{
	Name: "reach",
	Turn: func(r *rig.Rig, n int) (*rig.Rig, bool) {
		c := *r
		sides := axes.Ways(r, 0)
		least := math.Inf(1)
		for _, s := range sides {
			least = math.Min(least, (s.Reach - s.Need).MM())
		}
		spare := unit.MM(onGrid(least, 1, n))
		for i, s := range sides {
			widen(&c, i, s.Need+spare)
		}
		return &c, c.Axis.X.Travel <= 2 && c.Axis.Y.Travel <= 2
	},
	Settings: func(r *rig.Rig) []Setting {
		out := []Setting{{Key: "axis.x.travel", Value: inMM(r.Axis.X.Travel)}, {Key: "axis.y.travel", Value: inMM(r.Axis.Y.Travel)},
			{Key: "walls.left", Value: inMM(r.Walls.Left)}, {Key: "walls.right", Value: inMM(r.Walls.Right)}, {Key: "walls.front", Value: inMM(r.Walls.Front)}, {Key: "walls.back", Value: inMM(r.Walls.Back)}}
		for name, a := range map[string]rig.Axis{"x": r.Axis.X, "y": r.Axis.Y} {
			if a.Origin != a.Travel/2 {
				out = append(out, Setting{Key: "axis." + name + ".origin", Value: inMM(a.Origin)})
			}
		}
		return out
	},
}

func inMM(l unit.Length) string { return written(l.MM(), "mm") }

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
func whole1(l unit.Length) unit.Length { return unit.MM(math.Ceil(l.MM() - 1e-6)) }

// pictures are the sizes cameras offer, in pixels.
var pictures = [][2]int{{320, 240}, {640, 480}, {800, 600}, {1280, 720}, {1600, 1200}, {1920, 1080}, {2592, 1944}, {3840, 2160}}

// picture is the knob of the camera's picture: n sizes with more pixels across.
var picture = Knob{
	Name: "camera.image",
	Turn: func(r *rig.Rig, n int) (*rig.Rig, bool) {
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
	Settings: func(r *rig.Rig) []Setting {
		return []Setting{{Key: "camera.image", Value: fmt.Sprintf("[%d, %d]", r.Camera.Image[0], r.Camera.Image[1])}}
	},
}

// square is the knob of the squares' size; the sheet's rim gives way.
var square = Knob{
	Name: "board.square",
	Turn: func(r *rig.Rig, n int) (*rig.Rig, bool) {
		to := onGrid(r.Board.Square.MM(), 1, n)
		c := *r
		c.Board.SetSquare(unit.MM(to))
		return &c, to >= 15-1e-9 && to <= 80+1e-9
	},
	Settings: func(r *rig.Rig) []Setting {
		return []Setting{{Key: "board.square", Value: inMM(r.Board.Square)}, {Key: "board.rim", Value: inMM(r.Board.Rim)}}
	},
}

// angle is the knob of the lens's angle, by the key that the rig has.
var angle = Knob{
	Name: "camera.hfov",
	Turn: func(r *rig.Rig, n int) (*rig.Rig, bool) {
		if r.Camera.DFOV == 0 {
			return across.Turn(r, n)
		}
		c, ok := diagonal.Turn(r, n)
		c.Camera.Across()
		return c, ok
	},
	Settings: func(r *rig.Rig) []Setting {
		if r.Camera.DFOV == 0 {
			return across.Settings(r)
		}
		return diagonal.Settings(r)
	},
}

var (
	degrees  = scale{"deg", 180 / math.Pi, 1, 20, 120}
	across   = number("camera.hfov", degrees, func(r *rig.Rig) *float64 { return (*float64)(&r.Camera.HFOV) })
	diagonal = number("camera.dfov", degrees, func(r *rig.Rig) *float64 { return (*float64)(&r.Camera.DFOV) })
)

// heldMotors is the knob of drivers that hold dc motors to the least rated voltage.
var heldMotors = Knob{
	Name: "power.motors",
	Turn: func(r *rig.Rig, n int) (*rig.Rig, bool) {
		c := *r
		for _, m := range []rig.Motor{r.Axis.X.Motor, r.Axis.Y.Motor} {
			if m.Kind != "stepper" && m.Voltage > 0 && (c.Power.Motors == r.Power.Motors || m.Voltage < c.Power.Motors) {
				c.Power.Motors = m.Voltage
			}
		}
		return &c, n == -1 && c.Power.Motors != r.Power.Motors
	},
	Settings: func(r *rig.Rig) []Setting {
		return []Setting{{Key: "power.motors", Value: written(float64(r.Power.Motors), "V")}}
	},
}

// carried is the knob of which pieces get magnets: those of the machine's side, then both
// sides'.
var carried = Knob{
	Name: "pieces.carried",
	Turn: func(r *rig.Rig, n int) (*rig.Rig, bool) {
		c := *r
		if to := []string{r.Play.Side, "both"}; n >= 1 && n <= len(to) {
			c.Pieces.Carried = to[n-1]
		}
		return &c, c.Pieces.Carried != r.Pieces.Carried
	},
	Settings: func(r *rig.Rig) []Setting {
		return []Setting{{Key: "pieces.carried", Value: fmt.Sprintf("%q", r.Pieces.Carried)}}
	},
}

// side is the knob of which side the machine plays: the one whose pieces have magnets.
var side = Knob{
	Name: "play.side",
	Turn: func(r *rig.Rig, n int) (*rig.Rig, bool) {
		c := *r
		if r.Pieces.Carried == "white" || r.Pieces.Carried == "black" {
			c.Play.Side = r.Pieces.Carried
		}
		return &c, n == 1 && c.Play.Side != r.Play.Side
	},
	Settings: func(r *rig.Rig) []Setting {
		return []Setting{{Key: "play.side", Value: fmt.Sprintf("%q", r.Play.Side)}}
	},
}

// focused is the knob of a lens that is turned to blur board and tallest heads alike: at their
// harmonic mean. Even steps would pass over the span that does. Source: S. F. Ray, Applied
// Photographic Optics, depth of field (from memory).
var focused = Knob{
	Name: "camera.focus",
	Turn: func(r *rig.Rig, n int) (*rig.Rig, bool) {
		c := *r
		far, near := r.Camera.Height, r.Camera.Height
		for _, k := range r.Pieces.Kinds().All() {
			near = min(near, far-r.Pieces.Of(k).Height)
		}
		c.Camera.Focus = unit.MM(math.Round(2 / (1/far.MM() + 1/near.MM())))
		return &c, n == 1 && near > 0 && c.Camera.Focus >= unit.MM(30) && c.Camera.Focus != r.Camera.Focus
	},
	Settings: func(r *rig.Rig) []Setting { return []Setting{{Key: "camera.focus", Value: inMM(r.Camera.Focus)}} },
}
