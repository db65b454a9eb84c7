// SPDX-License-Identifier: Apache-2.0

package rig

import (
	"cmp"
	"errors"
	"fmt"
	"math"

	"boardhand/internal/game"
	"boardhand/internal/magnet"
	"boardhand/internal/unit"
)

func or[T ~float64](v *T, otherwise T) {
	if *v == 0 {
		*v = otherwise
	}
}

func count(v *int, otherwise int) {
	if *v == 0 {
		*v = otherwise
	}
}

// complete fills the keys that may be left out.
func (r *Rig) complete() {
	r.Accept = r.Accept.flat()
	count(&r.Board.Files, game.MostFiles)
	count(&r.Board.Ranks, game.MostFiles)
	if r.Board.Held == "" {
		r.Board.Held = "walls"
	}
	or(&r.Board.Kinetic, kineticShare*r.Board.Friction)
	for _, k := range r.Pieces.Kinds().All() {
		or(&r.Pieces.Of(k).Balance, balanceShare)
	}
	or(&r.Lift.Speed, liftSpeed)
	or(&r.Lift.Friction, liftFriction)
	for _, a := range []*Axis{&r.Axis.X, &r.Axis.Y} {
		a.complete()
	}
	or(&r.Axis.X.Moved, r.Carriage.Mass)
	or(&r.Axis.Y.Moved, 2*r.Carriage.Mass)
	or(&r.Play.Time, thinkSeconds)
	r.Play.Strength = cmp.Or(r.Play.Strength, "needle")
	or(&r.Power.Logic, logicCurrent)
	r.switches()
	count(&r.Pieces.Count, defaultCount)
	count(&r.Removal.Slots, r.Pieces.Count)
	r.Controller.complete()
	r.Camera.Across()
	or(&r.Removal.Gap, unit.Length(defaultMargin))
}

// switches fills in the end switches: a gcode controller homes on them, the others
// press against the ends.
func (r *Rig) switches() {
	axes, lift := 0, 0
	if r.Controller.Kind == "gcode" {
		axes = 1
		if r.Controller.Lift == "" || r.Controller.Lift == "axis" {
			lift = 1
		}
	}
	for _, s := range []struct {
		at        **int
		otherwise int
	}{{&r.Axis.X.Switches, axes}, {&r.Axis.Y.Switches, axes}, {&r.Lift.Switches, lift}} {
		if *s.at == nil {
			*s.at = &s.otherwise
		}
	}
}

func (a *Axis) complete() {
	count(&a.Rows, 1)
	or(&a.Origin, a.Travel/2)
	or(&a.Jerk, unit.Jerk(jerkPerAccel*float64(a.Acceleration)))
	if a.Drive != "screw" {
		or(&a.Efficiency, rackShare)
	}
	if a.Motor.Kind == "" {
		a.Motor.Kind = "dc"
	}
	or(&a.Motor.Gearbox, 1)
}

func (c *Controller) complete() {
	count(&c.Baud, baudRate)
	or(&c.Settle, settleTime)
	if c.Lift == "" {
		c.Lift = "axis"
	}
}

// Across gives a lens that was sold by the angle across its picture's diagonal the
// angle across the width: by their tangents, and beyond 90°, where lenses bend, in the
// proportion of the pixels. Source: as assess/eye's shortSide.
func (c *Camera) Across() {
	w, h := float64(c.Image[0]), float64(c.Image[1])
	if c.DFOV == 0 || w == 0 {
		return
	}
	share := w / math.Hypot(w, h)
	c.HFOV = 2 * unit.Angle(math.Atan(math.Tan(float64(c.DFOV)/2)*share))
	if c.HFOV > math.Pi/2 {
		c.HFOV = c.DFOV * unit.Angle(share)
	}
}

// consistent checks that a controller can be reached, and its lift be raised.
func (c Controller) consistent() error {
	switch {
	case c.Kind == "gcode" && c.Port == "":
		return errors.New(`controller.port is missing: say where the controller is connected, like port = "/dev/serial/by-id/usb-…" (Linux; ls /dev/serial/by-id shows the names) or port = "COM3"`)
	case c.Lift == "spindle" && c.LiftUp == 0:
		return errors.New("controller.lift_up is missing: say which S raises the lift, like lift_up = 700")
	case c.Lift == "spindle" && c.LiftUp == c.LiftDown:
		return fmt.Errorf("controller.lift_up and lift_down are both %d: the lift would never move", c.LiftUp)
	}
	return nil
}

// consistent checks what one key alone cannot tell.
func (r *Rig) consistent(given map[string]bool) error {
	grades := []struct{ key, grade string }{{"lift.grade", r.Lift.Grade}, {"pieces.magnet.grade", r.Pieces.Magnet.Grade}}
	for _, g := range grades {
		if !given[g.key] {
			continue
		}
		if _, _, err := magnet.Grade(g.grade); err != nil {
			return fmt.Errorf("%s: %w", g.key, err)
		}
	}
	if err := errors.Join(r.Axis.X.consistent("axis.x"), r.Axis.Y.consistent("axis.y"), r.Controller.consistent()); err != nil {
		return err
	}
	if err := r.seated(given); err != nil {
		return err
	}
	for i, a := range [2]Axis{r.Axis.X, r.Axis.Y} {
		if key := [2]string{"axis.x.moved", "axis.y.moved"}[i]; given[key] && a.Moved < r.Carriage.Mass {
			return fmt.Errorf("%s is %v, less than the carriage that it carries (carriage.mass, %v)", key, a.Moved, r.Carriage.Mass)
		}
	}
	for _, k := range r.Pieces.Kinds().All() {
		if m := r.Pieces.Of(k); m.Base > 0 && r.Board.Square > 0 && m.Base >= r.Board.Square {
			return fmt.Errorf("pieces.%s.base is %v, wider than its square (%v)", r.Pieces.Kinds().Key(k), m.Base, r.Board.Square)
		}
	}
	return r.trapdoor(given)
}

// seated checks that motors do not sit in the floor.
func (r *Rig) seated(given map[string]bool) error {
	for i, s := range []Seat{{r.Axis.X.Motor.At, r.Axis.X.Motor.Body}, {r.Axis.Y.Motor.At, r.Axis.Y.Motor.Body}, r.Lift.Motor} {
		key := [...]string{"axis.x.motor", "axis.y.motor", "lift.motor"}[i]
		if given[key+".at"] && s.At[2] < max(s.Body[2]/2, unit.MM(1)) {
			return fmt.Errorf("%s.at is %v over the floor at its middle, and the motor half of %v high: the third number is its height over the floor", key, s.At[2], s.Body[2])
		}
	}
	return nil
}

// trapdoor checks that a chute has its place, and that the hole, as wide as the
// widest base, lies beside the field: pieces on the squares would fall in.
func (r *Rig) trapdoor(given map[string]bool) error {
	if r.Removal.Mode != "chute" || r.Board.Square == 0 {
		return nil
	}
	const like = `like chute = ["200 mm", "0 mm"]`
	if !given["removal.chute"] {
		return fmt.Errorf("removal.chute is missing: say where the middle of the trapdoor is, from the field's centre, %s", like)
	}
	x, y := r.Board.Half()
	c, least := r.Removal.Chute, r.Pieces.Widest()/2
	if max(c[0], -c[0]) < x+least && max(c[1], -c[1]) < y+least {
		where := fmt.Sprintf("%v from its centre along x or y", x+least)
		if x != y {
			where = fmt.Sprintf("%v from its centre along x or %v along y", x+least, y+least)
		}
		return fmt.Errorf("removal.chute must lie beside the field, at least %s; got %v: pieces on the squares would fall in", where, max(c[0], -c[0], c[1], -c[1]))
	}
	return nil
}

func (a Axis) consistent(name string) error {
	switch {
	case a.Drive == "rack" && (a.Module == 0 || a.Teeth == 0):
		return fmt.Errorf("%s: a rack needs module and teeth", name)
	case a.Drive == "belt" && (a.Pitch == 0 || a.Teeth == 0):
		return fmt.Errorf("%s: a belt needs pitch and teeth", name)
	case a.Drive == "screw" && a.Lead == 0:
		return fmt.Errorf("%s: a screw needs lead", name)
	case a.Motor.Kind == "stepper" && (a.Motor.Inductance == 0 || a.Motor.Current == 0 || a.Motor.FullSteps == 0):
		return fmt.Errorf("%s.motor: a stepper needs inductance, current (rated, a phase) and full_steps: its force at speed follows from them", name)
	case len(a.Rails.DriveAt) > 0 && len(a.Rails.DriveAt) != a.Rows:
		return fmt.Errorf("%s.rails.drive_at names %d places for %d of them (%s.rows): give one for each", name, len(a.Rails.DriveAt), a.Rows, name)
	case a.Rails.At != [2]unit.Length{} && a.Rails.At[0] >= a.Rails.At[1]:
		return fmt.Errorf("%s.rails.at must name the left or front guide first, and then the other one; got %v and %v", name, a.Rails.At[0], a.Rails.At[1])
	case a.Travel > 0 && a.Origin > a.Travel:
		return fmt.Errorf("%s.origin is %v, beyond its travel of %v", name, a.Origin, a.Travel)
	}
	return nil
}
