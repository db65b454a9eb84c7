// SPDX-License-Identifier: Apache-2.0

package session

import (
	"fmt"
	"math"
	"time"

	"boardhand/internal/axes"
	"boardhand/internal/chess"
	"boardhand/internal/gantry"
	"boardhand/internal/gantry/bed"
	"boardhand/internal/gantry/clock"
	"boardhand/internal/gantry/gcode"
	"boardhand/internal/gantry/tacho"
	"boardhand/internal/gantry/wire"
	"boardhand/internal/rehearsal"
	"boardhand/internal/rig"
	"boardhand/internal/table"
	"boardhand/internal/twin"
)

// Through names a driver that a rehearsal plays through, and how many of its commands
// the wire spoils.
type Through struct {
	Kind  string  // "gcode" or "tacho"; "": the twin moves by itself
	Share float64 // of the commands that the wire spoils, 0 to 1
	Seed  int64   // of what it does to which
	Pace  float64 // seconds of the controller in a real one; 0: as fast as it computes
}

// SetUpThrough is SetUp for a rehearsal through a driver: the rig's controller is the
// simulated one.
func SetUpThrough(r *rig.Rig, pos chess.Position, o twin.Options, t Through) (*Bench, *rehearsal.Driven, error) {
	if t.Kind == "" {
		b, err := SetUp(r, pos, o)
		return b, nil, err
	}
	set := *r
	set.Controller = controllerFor(r, t.Kind)
	b, err := assemble(&set, pos, o)
	if err != nil {
		return nil, nil, err
	}
	d, err := driven(&set, b.World.Motors(), t)
	if err != nil {
		return nil, nil, err
	}
	d.Pictures = b.World.Camera()
	return b, d, nil
}

// controllerFor is the rig's controller if it is of a kind, else one of that kind.
func controllerFor(r *rig.Rig, kind string) rig.Controller {
	if r.Controller.Kind == kind {
		return r.Controller
	}
	c := rig.Controller{Kind: kind, Ports: r.Controller.Ports, Port: "simulated", Baud: 115200, Lift: "axis"}
	if kind == "tacho" {
		c.Motor = map[string]string{"x": "outA", "y": "outB", "lift": "outC"}
	}
	return c
}

// driven is a driver with a simulated controller on a twin's motors.
func driven(r *rig.Rig, m *twin.Motors, t Through) (*rehearsal.Driven, error) {
	build, err := buildOf(r, m)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", r.Name(), err)
	}
	virtual := clock.NewVirtual()
	virtual.Pace = t.Pace
	ills := wire.NewCommands(t.Share, uint64(t.Seed))
	d := &rehearsal.Driven{Clock: virtual, Born: virtual.Now(), Motors: m}
	if t.Kind == "tacho" {
		motors := bed.NewTacho(build, m, virtual, ills)
		g, err := tacho.New(r, motors)
		if err != nil {
			return nil, err
		}
		d.Driver, d.Holder, d.Bed = g.By(virtual), g, motors
		return d, nil
	}
	lines := bed.NewLines(build, m, virtual, ills)
	g, err := gcode.New(r, lines.Open, nil)
	if err != nil {
		return nil, err
	}
	d.Driver, d.Holder, d.Bed, d.IsStrict = g.By(virtual), g, lines, true
	return d, nil
}

// buildOf is a rig's machine as its maker has set the controller for it.
func buildOf(r *rig.Rig, m *twin.Motors) (bed.Build, error) {
	c := r.Controller
	b := bed.Build{Drop: r.Lift.Drop.MM(), Speed: float64(r.Lift.Speed) * 1e3, Lift: c.Lift, LiftPort: c.Motor["lift"], Settle: time.Duration(float64(c.Settle) * float64(time.Second)), Baud: c.Baud}
	at := m.At()
	for i, name := range []string{"x", "y"} {
		a, err := gantry.AxisOf(r, name)
		if err != nil {
			return b, err
		}
		spec := axes.Named(r, name)
		b.Axes[i] = bed.Axis{PerMM: a.PerMetre / 1e3, Travel: a.Travel * 1e3, Speed: a.Bounds.Speed * 1e3, Accel: a.Bounds.Accel * 1e3,
			Start: 1e3 * [2]float64{at.X, at.Y}[i], Port: c.Motor[name], Counts: a.Counts, Free: float64(spec.Motor.FreeSpeed) / (2 * math.Pi)}
	}
	return b, nil
}

// Rehearsed is the bench as a rehearsal needs it: it can be restarted.
func (b *Bench) Rehearsed(p table.Player, d *rehearsal.Driven) (m *rehearsal.Machine, err error) {
	m = &rehearsal.Machine{World: b.World, Guest: b.World.Guest(), Settings: settings(b.rig), Restart: b.Restart, Driven: d,
		Connect: func() table.Parts { return b.parts(nil, p, nil) }}
	m.Settings.Suspects, err = table.NewSuspects(b.rig)
	return m, err
}

// Restart is what a program does that begins anew: its reader knows nothing but
// the position, and it suspects nothing but what the log tells it.
func (b *Bench) Restart(pos chess.Position) (suspects *table.Suspects, err error) {
	if suspects, err = table.NewSuspects(b.rig); err != nil {
		return nil, err
	}
	if b.Eye, err = NewEye(b.rig); err != nil {
		return nil, err
	}
	b.Eye.Begin(pos)
	return suspects, nil
}
