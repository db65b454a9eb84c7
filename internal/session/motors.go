// SPDX-License-Identifier: Apache-2.0

package session

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"os"
	"strings"

	"boardhand/internal/camera"
	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/gantry"
	"boardhand/internal/gantry/gcode"
	"boardhand/internal/gantry/tacho"
	"boardhand/internal/motion"
	"boardhand/internal/rig"
	"boardhand/internal/table/carriage"
	"boardhand/internal/table/lookout"
	"boardhand/internal/twin"
)

// setUpMotors is SetUp for play: where the rig names a controller that is driven,
// its motors do what the carriage of the twin does. They are reached; nothing
// moves before the table homes. log is the file for what is said on the wire.
//
// With a real camera, too, nothing is simulated: the guest sits at the board.
func setUpMotors(ctx context.Context, r *rig.Rig, pos chess.Position, o twin.Options, log string, warn func(string)) (*Bench, error) {
	isReal := r.Camera.Source != "twin"
	var b *Bench
	var err error
	switch {
	case isReal && r.Controller.Kind == "twin":
		return nil, fmt.Errorf(`%s: a real camera does not see the simulated carriage: name the controller (controller.kind = "gcode" or "tacho"), or set camera.source = "twin"; watch --frames reads games that people play`, r.Name())
	case r.Controller.Kind == "twin":
		return SetUp(r, pos, o)
	case isReal:
		b, err = atTheBoard(ctx, r, pos, o)
	default:
		b, err = assemble(r, pos, o)
	}
	if err != nil {
		return nil, err
	}
	if err := b.connect(log, warn); err != nil {
		_ = b.Close() // the first error is the one to tell
		return nil, fmt.Errorf("%s: %w", r.Name(), err)
	}
	if name := gantry.Steady(r.Controller.Port); r.Controller.Kind == "gcode" && name != "" {
		warn(fmt.Sprintf("controller.port %s may be another device tomorrow: %s is the name that stays", r.Controller.Port, name))
	}
	return b, nil
}

// driver is a gantry of real motors; close ends it.
type driver struct {
	carriage.Gantry
	lookout.Holder
	close func() error
}

// connect reaches the motors of the rig's controller and puts them beside the
// twin's. What is said on a wire goes into the log as well; "": into none.
func (b *Bench) connect(log string, warn func(string)) error {
	reach := b.openLines
	if b.rig.Controller.Kind == "tacho" {
		reach = b.openTacho
	}
	motors, err := reach(log, warn)
	if err != nil {
		return err
	}
	b.gantry, b.holder = motors.Gantry, motors.Holder
	if b.World != nil {
		second := b.World.Gantry()
		b.gantry, b.holder = &mirrored{motors.Gantry, second}, mirroredHold{motors.Holder, second}
	}
	before := b.close
	b.close = func() error {
		err := motors.close()
		if before != nil {
			err = errors.Join(err, before())
		}
		return err
	}
	return nil
}

// openLines opens the port of a controller that takes G-code by lines.
func (b *Bench) openLines(log string, warn func(string)) (driver, error) {
	c := b.rig.Controller
	open, closeLog := gantry.Serial(c.Port, c.Baud), func() error { return nil }
	if log != "" {
		f, err := os.Create(log)
		if err != nil {
			return driver{}, fmt.Errorf("--record-motors: %w", err)
		}
		open, closeLog = gantry.Recorded(open, f), f.Close
	}
	motors, err := gcode.New(b.rig, open, warn)
	if err == nil {
		err = motors.Open()
	}
	if err != nil {
		return driver{}, cmp.Or(err, closeLog())
	}
	return driver{motors, motors, func() error { return errors.Join(motors.Close(), closeLog()) }}, nil
}

// openTacho looks for tacho motors at their ports.
func (b *Bench) openTacho(log string, _ func(string)) (driver, error) {
	if log != "" {
		return driver{}, errors.New("--record-motors records a wire, and tacho motors have none: leave it out")
	}
	motors, err := tacho.New(b.rig, tacho.Class)
	if err == nil {
		err = motors.Open()
	}
	if err != nil {
		return driver{}, err
	}
	return driver{motors, motors, motors.Close}, nil
}

// atTheBoard is a bench with a real camera, open.
func atTheBoard(ctx context.Context, r *rig.Rig, pos chess.Position, o twin.Options) (*Bench, error) {
	switch {
	case o.Visitor:
		return nil, errors.New("--visitor moves the pieces of the simulated table; at a real board you play with your own hands")
	case strings.HasPrefix(r.Camera.Source, "folder:"):
		return nil, fmt.Errorf("%s: pictures of a folder do not show what the machine does: play wants a camera; watch --frames reads a folder", r.Name())
	}
	b, err := withoutWorld(r, pos)
	if err != nil {
		return nil, err
	}
	eye, err := camera.Open(ctx, r.Camera.Source, r.Camera.Image)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", r.Name(), err)
	}
	b.camera = eye
	b.close = func() error {
		eye.Close()
		return nil
	}
	return b, nil
}

// mirrored is a gantry whose motions another one does as well, at the same time.
// What the first says counts; the other is heard where the first is content.
type mirrored struct{ first, second carriage.Gantry }

// Home homes both.
func (m *mirrored) Home(ctx context.Context) (frame.Spot[frame.Machine], error) {
	return m.both(func(g carriage.Gantry) (frame.Spot[frame.Machine], error) { return g.Home(ctx) })
}

// Move runs a stroke on both.
func (m *mirrored) Move(ctx context.Context, s motion.Stroke) (frame.Spot[frame.Machine], error) {
	return m.both(func(g carriage.Gantry) (frame.Spot[frame.Machine], error) { return g.Move(ctx, s) })
}

// Lift raises or lowers both magnets.
func (m *mirrored) Lift(ctx context.Context, raised bool) error {
	_, err := m.both(func(g carriage.Gantry) (frame.Spot[frame.Machine], error) {
		return frame.Spot[frame.Machine]{}, g.Lift(ctx, raised)
	})
	return err
}

// Halt halts both, the first one first.
func (m *mirrored) Halt() error {
	err := m.first.Halt()
	return cmp.Or(err, m.second.Halt())
}

// mirroredHold holds both, the first one first.
type mirroredHold struct {
	lookout.Holder
	second lookout.Holder
}

// Hold holds both.
func (m mirroredHold) Hold() error { return cmp.Or(m.Holder.Hold(), m.second.Hold()) }

// Resume lets both go on.
func (m mirroredHold) Resume() error { return cmp.Or(m.Holder.Resume(), m.second.Resume()) }

// both has both do something; the second begins with the first, and is not stopped
// where the first fails.
func (m *mirrored) both(do func(carriage.Gantry) (frame.Spot[frame.Machine], error)) (frame.Spot[frame.Machine], error) {
	second := make(chan error, 1)
	go func() {
		_, err := do(m.second)
		second <- err
	}()
	at, err := do(m.first)
	return at, cmp.Or(err, <-second)
}
