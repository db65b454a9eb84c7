// SPDX-License-Identifier: Apache-2.0

package assess

import (
	"boardhand/internal/rig"
	"boardhand/internal/unit"
)

// mmScale is a length moved by a step between two bounds, millimetres.
func mmScale(step, lo, hi float64) scale { return scale{"mm", 1e3, step, lo, hi} }

// The knobs of a rig by name. Bounds are those of the rig file.
var knobs = withAxes(map[string]knob{
	"board.square":         number("board.square", mmScale(1, 15, 80), func(r *rig.Rig) *float64 { return (*float64)(&r.Board.Square) }),
	"board.thickness":      number("board.thickness", mmScale(0.5, 0.5, 30), func(r *rig.Rig) *float64 { return (*float64)(&r.Board.Thickness) }),
	"board.friction":       frictionKnob("board.friction", func(r *rig.Rig) *float64 { return &r.Board.Friction }),
	"board.kinetic":        number("board.kinetic", scale{"", 1, 0.01, 0.03, 1.5}, func(r *rig.Rig) *float64 { return &r.Board.Kinetic }),
	"board.warp":           number("board.warp", mmScale(0.1, 0, 5), func(r *rig.Rig) *float64 { return (*float64)(&r.Board.Warp) }),
	"lift.drop":            number("lift.drop", mmScale(0.5, 1, 80), func(r *rig.Rig) *float64 { return (*float64)(&r.Lift.Drop) }),
	"lift.air":             number("lift.air", mmScale(0.1, 0, 10), func(r *rig.Rig) *float64 { return (*float64)(&r.Lift.Air) }),
	"lift.preload":         number("lift.preload", scale{"N", 1, 0.05, 0, 50}, func(r *rig.Rig) *float64 { return (*float64)(&r.Lift.Preload) }),
	"lift.spring":          number("lift.spring", scale{"N/mm", 1e-3, 0.01, 0.01, 20}, func(r *rig.Rig) *float64 { return (*float64)(&r.Lift.Spring) }),
	"pieces.magnet.recess": number("pieces.magnet.recess", mmScale(0.1, 0, 10), func(r *rig.Rig) *float64 { return (*float64)(&r.Pieces.Magnet.Recess) }),
	"camera.height":        number("camera.height", mmScale(5, 150, 3000), func(r *rig.Rig) *float64 { return (*float64)(&r.Camera.Height) }),
	"camera.hfov":          number("camera.hfov", scale{"deg", 57.29577951308232, 1, 20, 120}, func(r *rig.Rig) *float64 { return (*float64)(&r.Camera.HFOV) }),
	"removal.gap":          number("removal.gap", mmScale(1, 5, 300), func(r *rig.Rig) *float64 { return (*float64)(&r.Removal.Gap) }),
	"power.current":        number("power.current", scale{"A", 1, 0.1, 0.05, 100}, func(r *rig.Rig) *float64 { return (*float64)(&r.Power.Current) }),
	"walls.owned":          whole("walls.owned", 100000, func(r *rig.Rig) *int { return &r.Walls.Owned }),
	"controller.ports":     whole("controller.ports", 64, func(r *rig.Rig) *int { return &r.Controller.Ports }),
	"lift.magnet":          disc("lift", liftDisc),
	"pieces.magnet":        disc("pieces.magnet", footDisc),
	"camera.image":         picture,
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
func withAxes(k map[string]knob) map[string]knob {
	for _, q := range axisQuantities {
		x := part{"axis.x." + q.name, func(r *rig.Rig) *float64 { return q.get(axisX(r)) }}
		y := part{"axis.y." + q.name, func(r *rig.Rig) *float64 { return q.get(axisY(r)) }}
		k[x.key], k[y.key] = number(x.key, q.scale, x.field), number(y.key, q.scale, y.field)
		k["axes."+q.name] = level("axes."+q.name, q.scale, func(*rig.Rig) []part { return []part{x, y} })
	}
	return k
}

// countsKnob raises the counts of the motor that has fewer, by 8 a step.
var countsKnob = knob{
	name: "axes.counts",
	turn: func(r *rig.Rig, n int) (*rig.Rig, bool) {
		c := *r
		least := min(c.Axis.X.Motor.Counts, c.Axis.Y.Motor.Counts) + 8*n
		c.Axis.X.Motor.Counts = max(c.Axis.X.Motor.Counts, least)
		c.Axis.Y.Motor.Counts = max(c.Axis.Y.Motor.Counts, least)
		return &c, least >= 1 && least <= 1000000
	},
	settings: func(r *rig.Rig) []Setting {
		return []Setting{{"axis.x.motor.counts", written(float64(r.Axis.X.Motor.Counts), "")},
			{"axis.y.motor.counts", written(float64(r.Axis.Y.Motor.Counts), "")}}
	},
}

// frictionKnob moves static friction; sliding friction keeps its share.
func frictionKnob(key string, field func(*rig.Rig) *float64) knob {
	k := number(key, scale{"", 1, 0.01, 0.05, 1.5}, field)
	plain := k.turn
	k.turn = func(r *rig.Rig, n int) (*rig.Rig, bool) {
		c, ok := plain(r, n)
		if r.Board.Friction > 0 {
			c.Board.Kinetic = r.Board.Kinetic * c.Board.Friction / r.Board.Friction
		}
		return c, ok
	}
	return k
}

// whole makes a knob of a count.
func whole(key string, most int, field func(*rig.Rig) *int) knob {
	return knob{
		name: key,
		turn: func(r *rig.Rig, n int) (*rig.Rig, bool) {
			c := *r
			v := field(&c)
			*v += n
			return &c, *v >= 1 && *v <= most
		},
		settings: func(r *rig.Rig) []Setting { return []Setting{{key, written(float64(*field(r)), "")}} },
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
