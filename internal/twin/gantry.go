package twin

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"math"

	"boardhand/internal/carry"
	"boardhand/internal/frame"
	"boardhand/internal/unit"
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

const (
	chunk     = 0.02 // s of world time between looks at the outside: 50 a second
	homeSpeed = 0.04 // m/s towards the switches, common practice
	stallTime = 0.15 // s without motion until an axis says that it is stalled
	tailTime  = 0.4  // s a lagging axis gets to arrive
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
	if err := g.Lift(ctx, false); err != nil {
		return frame.Spot[frame.Machine]{}, err
	}
	w.mu.Lock()
	defer w.mu.Unlock()
	w.stop()
	start := [2]float64{w.axes[0].motor, w.axes[1].motor}
	s := 0.0
	err := w.play(ctx, func() (bool, error) {
		s += homeSpeed * dt
		load, down := w.advance(w.field())
		w.drive([2]float64{max(0, start[0]-s), max(0, start[1]-s)}, load, down)
		return s < max(start[0], start[1])+0.001, nil
	})
	if err != nil {
		return w.reported(), err
	}
	for i := range w.axes {
		a := &w.axes[i]
		a.motor, a.slip = 0, false
		a.stand()
		a.slack = float64(a.spec.Backlash) / 2 // came from the far side
		a.lost = w.quirks.HomeScatter * w.chance.NormFloat64()
	}
	w.homed = true
	w.settle()
	w.keep()
	return w.reported(), nil
}

func (w *World) reported() frame.Spot[frame.Machine] {
	return frame.Spot[frame.Machine]{X: w.axes[0].counted(), Y: w.axes[1].counted()}
}

// Move runs a stroke and returns where the axes say the carriage ended, with a
// *carry.Lag when it got there but fell behind on the way, and a *carry.Stall
// when an axis stopped short.
func (g *Gantry) Move(ctx context.Context, s carry.Stroke) (frame.Spot[frame.Machine], error) {
	w := g.w
	w.mu.Lock()
	defer w.mu.Unlock()
	if err := cmp.Or(g.isOn(), w.stopped(ctx)); err != nil {
		return w.reported(), err
	}
	if err := w.checkStroke(s); err != nil {
		return w.reported(), err
	}
	w.beginStroke()
	if w.lift == 1 {
		w.count.Strokes++
		w.patch = w.drawPatch(s)
		w.person.meddle()
	}
	behind, err := w.stroke(ctx, s)
	w.settle()
	w.keep()
	w.endStroke()
	if err == nil {
		err = w.lag(behind)
	}
	return w.reported(), err
}

// tolerance is how far behind its motion an axis may be, m: half of the 0.5 mm
// of carriage error that the clearances of a plan hold. Faultless strokes of
// the default rig stay below a tenth of it (TestNoLagWithoutFault).
const tolerance = 0.25e-3

// lag tells of the axis that was farthest behind, if one was beyond the tolerance.
func (w *World) lag(behind [2]float64) error {
	i := 0
	if behind[1] > behind[0] {
		i = 1
	}
	if behind[i] <= tolerance {
		return nil
	}
	return &carry.Lag{Axis: axisName(i), Behind: unit.Length(behind[i])}
}

// stroke works a stroke off; behind is how far behind its motion each axis was
// at most, as its own counts tell, m.
func (w *World) stroke(ctx context.Context, s carry.Stroke) (behind [2]float64, err error) {
	boost := 1.0
	if w.faults[Fast] {
		boost = fastShare
	}
	w.stop()
	at := frame.Spot[frame.Machine]{X: w.axes[0].motor, Y: w.axes[1].motor}
	p, tail, failed := newRun(w.rig, at, s, boost), 0.0, false
	err = w.play(ctx, func() (bool, error) {
		to, more := p.next()
		load, down := w.advance(w.field())
		failed = !w.drive([2]float64{to.X, to.Y}, load, down) || failed
		for i, v := range [2]float64{to.X, to.Y} {
			behind[i] = max(behind[i], math.Abs(v-w.axes[i].motor))
		}
		w.watchGrip()
		if !more {
			tail += dt
			more = tail < tailTime && !w.arrived(p.end)
		}
		return more, w.stalled()
	})
	if failed {
		w.count.Stalls++
		w.acts(Fast)
	}
	return behind, err
}

// checkStroke is the controller's own look at the stroke before it runs it.
func (w *World) checkStroke(s carry.Stroke) error {
	if !w.homed {
		return ErrNoHome
	}
	const soft = 1e-6 // m beyond the travel: rounding of a path that runs along its end
	for _, p := range s.Path {
		for i, v := range [2]float64{p.X, p.Y} {
			most := float64(w.axes[i].spec.Travel)
			if !(v >= -soft && v <= most+soft) {
				return fmt.Errorf("the stroke leaves axis %s at %.1f mm: its travel is 0–%.1f mm; plan within it", axisName(i), v*1e3, most*1e3)
			}
		}
	}
	return nil
}

func axisName(i int) string { return [...]string{"x", "y"}[i] }

// drive gives both motors their targets; false when one could not follow.
func (w *World) drive(target [2]float64, load frame.Spot[frame.Board], down float64) bool {
	force := frame.Pose[frame.Machine, frame.Board]{R: w.pose.machineFromBoard.R}.Apply(load.At(0))
	rub := w.rig.Lift.Friction * w.contact(w.magnet(), down)
	ok := true
	for i, f := range [2]float64{force.X, force.Y} {
		a := &w.axes[i]
		resist := rub - f*math.Copysign(1, target[i]-a.motor) // a pull onwards helps
		if !a.follow(target[i], math.Max(0, resist)) {
			ok = false
		}
	}
	return ok
}

func (w *World) stalled() error {
	for i := range w.axes {
		if w.axes[i].stuck > stallTime {
			w.axes[i].stand()
			return &carry.Stall{Axis: axisName(i), At: unit.Length(w.axes[i].counted())}
		}
	}
	return nil
}

func (w *World) arrived(end frame.Spot[frame.Machine]) bool {
	return math.Abs(w.axes[0].motor-end.X) < 1e-5 && math.Abs(w.axes[1].motor-end.Y) < 1e-5
}

// Lift raises the magnet to the board or lowers it by the full drop.
func (g *Gantry) Lift(ctx context.Context, raised bool) error {
	w := g.w
	w.mu.Lock()
	defer w.mu.Unlock()
	if err := cmp.Or(g.isOn(), w.stopped(ctx)); err != nil {
		return err
	}
	w.beginStroke()
	if raised && w.lift < 1 {
		w.lifted()
	}
	err := w.hoist(ctx, raised)
	w.settle()
	w.keep()
	w.takeGrip()
	w.endStroke()
	return err
}

// hoist runs the lift to its end, or lets the time pass that this takes when it
// catches.
func (w *World) hoist(ctx context.Context, raised bool) error {
	to, by := 0.0, -dt*float64(w.rig.Lift.Speed)/math.Max(float64(w.rig.Lift.Drop), 1e-6)
	if raised {
		to, by = 1, -by
	}
	way, held := math.Abs(to-w.lift), w.catches(raised)
	return w.play(ctx, func() (bool, error) {
		if way -= math.Abs(by); !held {
			w.lift = math.Max(0, math.Min(1, w.lift+by))
		}
		w.advance(w.field())
		if held {
			return way > 0, nil
		}
		return w.lift != to, nil
	})
}

// Halt stops all axes and the lift at once: the motion under way ends with
// ErrHalted, and so does every later one until Home.
func (g *Gantry) Halt() error {
	if err := g.isOn(); err != nil {
		return err
	}
	g.w.halted.Store(true)
	return nil
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
		for range int(chunk / dt) {
			if more, err := step(); err != nil || !more {
				return err
			}
		}
		w.person.pass(chunk)
		w.power.pass(chunk)
		w.keep()
		if err := w.pause(ctx); err != nil {
			w.stop()
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

// stop takes the speed out of both axes at once.
func (w *World) stop() {
	for i := range w.axes {
		w.axes[i].stand()
	}
}
