package assess

import "boardhand/internal/rig"

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
	"walls.left":           number("walls.left", mmScale(1, 20, 2000), func(r *rig.Rig) *float64 { return (*float64)(&r.Walls.Left) }),
	"walls.right":          number("walls.right", mmScale(1, 20, 2000), func(r *rig.Rig) *float64 { return (*float64)(&r.Walls.Right) }),
	"walls.front":          number("walls.front", mmScale(1, 20, 2000), func(r *rig.Rig) *float64 { return (*float64)(&r.Walls.Front) }),
	"walls.back":           number("walls.back", mmScale(1, 20, 2000), func(r *rig.Rig) *float64 { return (*float64)(&r.Walls.Back) }),
	"camera.height":        number("camera.height", mmScale(5, 150, 3000), func(r *rig.Rig) *float64 { return (*float64)(&r.Camera.Height) }),
	"camera.hfov":          number("camera.hfov", scale{"deg", 57.29577951308232, 1, 20, 120}, func(r *rig.Rig) *float64 { return (*float64)(&r.Camera.HFOV) }),
	"removal.gap":          number("removal.gap", mmScale(1, 5, 300), func(r *rig.Rig) *float64 { return (*float64)(&r.Removal.Gap) }),
	"power.current":        number("power.current", scale{"A", 1, 0.1, 0.05, 100}, func(r *rig.Rig) *float64 { return (*float64)(&r.Power.Current) }),
	"walls.owned":          whole("walls.owned", 100000, func(r *rig.Rig) *int { return &r.Walls.Owned }),
	"controller.ports":     whole("controller.ports", 64, func(r *rig.Rig) *int { return &r.Controller.Ports }),
	"lift.magnet":          disc("lift", liftDisc),
	"pieces.magnet":        disc("pieces.magnet", footDisc),
	"axes.speed":           together("axes.speed", axisKnob("x", "speed"), axisKnob("y", "speed")),
	"axes.acceleration":    together("axes.acceleration", axisKnob("x", "acceleration"), axisKnob("y", "acceleration")),
	"axes.backlash":        together("axes.backlash", axisKnob("x", "backlash"), axisKnob("y", "backlash")),
	"axes.gearing":         together("axes.gearing", axisKnob("x", "motor.gearing"), axisKnob("y", "motor.gearing")),
	"axes.counts":          together("axes.counts", countsKnob("x"), countsKnob("y")),
	"bases":                bases,
	"masses":               masses,
})

// withAxes adds the knobs that both axes have.
func withAxes(k map[string]knob) map[string]knob {
	for _, a := range []string{"x", "y"} {
		for _, what := range []string{"speed", "acceleration", "backlash", "travel", "motor.gearing", "motor.stall_torque", "moved"} {
			a := axisKnob(a, what)
			k[a.name] = a
		}
	}
	return k
}

// axisKnob is a knob of one axis.
func axisKnob(name, what string) knob {
	at := func(r *rig.Rig) *rig.Axis {
		if name == "y" {
			return &r.Axis.Y
		}
		return &r.Axis.X
	}
	fields := map[string]struct {
		scale
		get func(*rig.Axis) *float64
	}{
		"speed":              {scale{"mm/s", 1e3, 5, 1, 2000}, func(a *rig.Axis) *float64 { return (*float64)(&a.Speed) }},
		"acceleration":       {scale{"mm/s2", 1e3, 25, 5, 20000}, func(a *rig.Axis) *float64 { return (*float64)(&a.Acceleration) }},
		"backlash":           {mmScale(0.1, 0, 10), func(a *rig.Axis) *float64 { return (*float64)(&a.Backlash) }},
		"travel":             {mmScale(1, 50, 2000), func(a *rig.Axis) *float64 { return (*float64)(&a.Travel) }},
		"motor.gearing":      {scale{"", 1, 0.25, 0.01, 1000}, func(a *rig.Axis) *float64 { return &a.Motor.Gearing }},
		"motor.stall_torque": {scale{"N·m", 1, 0.01, 0.001, 50}, func(a *rig.Axis) *float64 { return (*float64)(&a.Motor.StallTorque) }},
		"moved":              {scale{"g", 1e3, 10, 1, 20000}, func(a *rig.Axis) *float64 { return (*float64)(&a.Moved) }},
	}
	f := fields[what]
	return number("axis."+name+"."+what, f.scale, func(r *rig.Rig) *float64 { return f.get(at(r)) })
}

func countsKnob(name string) knob {
	return whole("axis."+name+".motor.counts", 1000000, func(r *rig.Rig) *int {
		if name == "y" {
			return &r.Axis.Y.Motor.Counts
		}
		return &r.Axis.X.Motor.Counts
	})
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
