// SPDX-License-Identifier: Apache-2.0

package session

import (
	"cmp"
	"context"
	"fmt"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/gantry"
	"boardhand/internal/gantry/gcode"
	"boardhand/internal/gantry/tacho"
	"boardhand/internal/motion"
	"boardhand/internal/rig"
	"boardhand/internal/table/carriage"
	"boardhand/internal/twin"
)

// setUpMotors is SetUp for play: where the rig names a controller that is driven,
// its motors do what the carriage of the twin does. Its port is opened; nothing
// moves before the table homes.
func setUpMotors(r *rig.Rig, pos chess.Position, o twin.Options, warn func(string)) (*Bench, error) {
	if r.Controller.Kind != "gcode" && r.Controller.Kind != "tacho" {
		return SetUp(r, pos, o)
	}
	if r.Camera.Source != "twin" {
		return nil, fmt.Errorf(`%s: motors are driven, but play takes no pictures from a real camera yet; set camera.source = "twin": the motors then do what the carriage of the simulated table does`, r.Name())
	}
	motors, err := driverOf(r, warn)
	if err != nil {
		return nil, err
	}
	if err := motors.open(); err != nil {
		return nil, fmt.Errorf("%s: %w", r.Name(), err)
	}
	b, err := assemble(r, pos, o)
	if err != nil {
		return nil, cmp.Or(err, motors.close())
	}
	b.gantry, b.close = &mirrored{motors, b.World.Gantry()}, motors.close
	return b, nil
}

// driver is a gantry of real motors; open reaches them and moves nothing.
type driver struct {
	carriage.Gantry
	open, close func() error
}

// driverOf is the driver of the rig's controller.
func driverOf(r *rig.Rig, warn func(string)) (driver, error) {
	if r.Controller.Kind == "tacho" {
		g, err := tacho.New(r, tacho.Class)
		if err != nil {
			return driver{}, err
		}
		return driver{g, g.Open, g.Close}, nil
	}
	g, err := gcode.New(r, gantry.Serial(r.Controller.Port, r.Controller.Baud), warn)
	if err != nil {
		return driver{}, err
	}
	if name := gantry.Steady(r.Controller.Port); name != "" {
		warn(fmt.Sprintf("controller.port %s may be another device tomorrow: %s is the name that stays", r.Controller.Port, name))
	}
	return driver{g, g.Open, g.Close}, nil
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
