// SPDX-License-Identifier: Apache-2.0

package twin

import (
	"cmp"
	"context"
	"errors"
	"math"

	"boardhand/internal/frame"
	"boardhand/internal/motion"
	"boardhand/internal/twin/mechanics"
)

// Gantry is the twin's machine as the session sees it.
type Gantry struct {
	w     *World
	power int32 // which time the machine is on
}

// Gantry gives the handle to the axes and the lift. A power cut ends it: then
// ask for a new one.
func (w *World) Gantry() *Gantry { return &Gantry{w, w.power.times.Load()} }

// What a gantry answers when it did not do what it was told.
var (
	ErrHalted = errors.New("the gantry was halted: home it when all is clear")
	ErrNoHome = errors.New("the axes have not found their zeros: home first")
	ErrBusy   = errors.New("the gantry is still moving: wait for it or halt it first")
)

// Home lowers the lift, runs both axes to their switches and returns where
// the carriage is. It is the one motion that ends a halt; a halt that comes
// while it runs stops it and holds.
func (g *Gantry) Home(ctx context.Context) (frame.Spot[frame.Machine], error) {
	w := g.w
	if err := g.isOn(); err != nil {
		return frame.Spot[frame.Machine]{}, err
	}
	w.halted.Store(false)
	w.held.Store(false)
	if err := g.Lift(ctx, false); err != nil {
		return frame.Spot[frame.Machine]{}, err
	}
	w.mu.Lock()
	defer w.mu.Unlock()
	w.carriage.Stop()
	start := w.carriage.Motors()
	s := 0.0
	err := w.play(ctx, func() (bool, error) {
		s += homeSpeed * mechanics.Step
		load, down := w.advance()
		w.drive(frame.Spot[frame.Machine]{X: max(0, start.X-s), Y: max(0, start.Y-s)}, load, down)
		return s < max(start.X, start.Y)+pastSwitch, nil
	})
	if err != nil {
		return w.carriage.Reported(), err
	}
	var lost [2]float64
	for i := range lost {
		lost[i] = w.deviations.HomeScatter * w.chance.NormFloat64()
	}
	w.carriage.Zero(lost)
	w.homed = true
	w.settle()
	w.keep()
	return w.carriage.Reported(), nil
}

// Move runs a stroke and returns where the axes say the carriage ended, with a
// *motion.Lag when it got there but fell behind on the way, and a *motion.Stall
// when an axis stopped short.
func (g *Gantry) Move(ctx context.Context, s motion.Stroke) (frame.Spot[frame.Machine], error) {
	w := g.w
	w.mu.Lock()
	defer w.mu.Unlock()
	if err := cmp.Or(g.isOn(), w.stopped(ctx)); err != nil {
		return w.carriage.Reported(), err
	}
	if err := w.check(s); err != nil {
		return w.carriage.Reported(), err
	}
	w.table.BeginStroke()
	if w.carriage.Lift == 1 {
		w.count.Strokes++
		w.spill(s)
		w.person.Meddle()
	}
	behind, err := w.stroke(ctx, s)
	w.settle()
	w.keep()
	w.endStroke()
	if err == nil {
		err = mechanics.Lag(behind)
	}
	return w.carriage.Reported(), err
}

// stroke works a stroke off; behind is how far behind its motion each axis was
// at most, as its own counts tell, m.
func (w *World) stroke(ctx context.Context, s motion.Stroke) (behind [2]float64, err error) {
	boost := 1.0
	if w.faults[Fast] {
		boost = fastShare
	}
	w.carriage.Stop()
	p, tail, failed := w.carriage.NewRun(s, boost), 0.0, false
	err = w.play(ctx, func() (bool, error) {
		w.obey(p)
		to, more := p.Next()
		load, down := w.advance()
		failed = !w.drive(to, load, down) || failed
		for i, v := range w.carriage.Behind(to) {
			behind[i] = max(behind[i], v)
		}
		w.table.WatchGrip(w.magnet())
		if !more {
			tail += mechanics.Step
			more = tail < tailTime && !w.carriage.HasArrived(p.End())
		}
		return more, w.carriage.Stalled()
	})
	if failed {
		w.count.Stalls++
		w.acts(Fast)
	}
	return behind, err
}

// check is the reason not to run a stroke, if there is one.
func (w *World) check(s motion.Stroke) error {
	if !w.homed {
		return ErrNoHome
	}
	return w.carriage.Check(s)
}

// drive gives both motors their targets for one step; load and down are what
// the pieces put on the magnet, N; false when one could not follow.
func (w *World) drive(target frame.Spot[frame.Machine], load frame.Spot[frame.Board], down float64) bool {
	rub := w.rig.Lift.Friction * w.table.Contact(w.magnet(), down)
	return w.carriage.Drive(target, load, rub)
}

// Lift raises the magnet to the board or lowers it by the full drop.
func (g *Gantry) Lift(ctx context.Context, raised bool) error {
	w := g.w
	w.mu.Lock()
	defer w.mu.Unlock()
	if err := cmp.Or(g.isOn(), w.stopped(ctx)); err != nil {
		return err
	}
	w.table.BeginStroke()
	if raised && w.carriage.Lift < 1 {
		w.lifted()
	}
	err := w.hoist(ctx, raised)
	w.settle()
	w.keep()
	w.table.TakeGrip(w.magnet())
	w.endStroke()
	return err
}

// hoist runs the lift to its end, or lets the time pass that this takes when it
// catches.
func (w *World) hoist(ctx context.Context, raised bool) error {
	c := w.carriage
	to, by := 0.0, -c.LiftStep()
	if raised {
		to, by = 1, -by
	}
	way, held := math.Abs(to-c.Lift), c.Catches(raised)
	if held && raised {
		w.acts(LiftStaysDown)
	}
	return w.play(ctx, func() (bool, error) {
		if way -= math.Abs(by); !held {
			c.Lift = math.Max(0, math.Min(1, c.Lift+by))
		}
		w.advance()
		if held {
			return way > 0, nil
		}
		return c.Lift != to, nil
	})
}

// Halt stops all axes and the lift at once: the motion under way ends with
// ErrHalted, and so does every later one until Home.
func (g *Gantry) Halt() error {
	if err := g.isOn(); err != nil {
		return err
	}
	g.w.halted.Store(true)
	g.w.held.Store(false)
	return nil
}

// Hold brings the stroke under way to rest on its way, as gently as it runs, and
// keeps it there until Resume; one that begins meanwhile stands at its start. The
// lift goes on. Halt and Home end it.
func (g *Gantry) Hold() error {
	if err := g.isOn(); err != nil {
		return err
	}
	g.w.held.Store(true)
	return nil
}

// Resume lets a held stroke go on.
func (g *Gantry) Resume() error {
	g.w.held.Store(false)
	return nil
}

// At is where the axes say that the carriage is now.
func (g *Gantry) At() frame.Spot[frame.Machine] {
	g.w.mu.Lock()
	defer g.w.mu.Unlock()
	return g.w.carriage.Reported()
}

// obey holds a run, or lets it go on, as the world was told.
func (w *World) obey(p *mechanics.Run) {
	if w.held.Load() {
		p.Hold()
		return
	}
	p.Resume()
}

// play runs steps until they say that they are done, stopping for the context
// and for Halt, and letting real time and other callers in between.
func (w *World) play(ctx context.Context, step func() (more bool, err error)) error {
	if !w.moving.CompareAndSwap(false, true) {
		return ErrBusy
	}
	defer w.moving.Store(false)
	if err := w.stopped(ctx); err != nil {
		return err
	}
	for {
		from := w.carriage.Motors()
		for range int(chunk / mechanics.Step) {
			if more, err := step(); err != nil || !more {
				return err
			}
		}
		w.person.Pass(chunk)
		w.brush(w.carriage.Motors().Distance(from))
		w.power.pass(chunk)
		w.keep()
		w.show(ctx)
		if err := w.pause(ctx); err != nil {
			w.carriage.Stop()
			w.lightsOut()
			return err
		}
	}
}

// pause lets others in between two chunks of motion and looks for a reason to stop.
func (w *World) pause(ctx context.Context) error {
	if w.opts.Pace > 0 {
		w.mu.Unlock()
		err := w.sleep(ctx, chunk)
		w.mu.Lock()
		if err != nil {
			return err
		}
	}
	return w.stopped(ctx)
}

// stopped is the reason not to move, if there is one.
func (w *World) stopped(ctx context.Context) error {
	if w.power.isGone.Load() {
		return ErrPowerCut
	}
	if w.halted.Load() {
		return ErrHalted
	}
	return cmp.Or(ctx.Err(), w.unkept)
}
