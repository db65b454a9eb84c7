// SPDX-License-Identifier: Apache-2.0

package tacho

import (
	"context"
	"errors"
	"fmt"
	"math"
	"time"

	"boardhand/internal/carry/plan"
	"boardhand/internal/carry/trajectory"
	"boardhand/internal/frame"
	"boardhand/internal/gantry"
	"boardhand/internal/motion"
	"boardhand/internal/unit"
)

// Move runs a stroke and returns where the motors count the carriage to have ended,
// with a *motion.Lag when it got there but fell behind on the way, and a
// *motion.Stall when an axis stopped short; a *motion.Spoilt around either where something
// was wrong with what went to and fro meanwhile.
func (g *Gantry) Move(ctx context.Context, s motion.Stroke) (spot, error) {
	ctx, end, err := g.latch.Begin(ctx, false)
	if err != nil {
		return g.here(), err
	}
	defer end()
	before := g.folder.wrong.Load()
	at, err := g.read()
	if err != nil {
		return at, g.spoilt(ctx, before, g.broken(ctx, err))
	}
	if err := g.check(s); err != nil {
		return at, err
	}
	if len(s.Path) == 0 {
		return at, nil
	}
	beside, err := g.along(ctx, at, s)
	if err == nil {
		err = g.arrive(ctx, s.Path[len(s.Path)-1])
	}
	if err != nil {
		err = g.broken(ctx, err)
	}
	at, unread := g.read()
	if err == nil {
		err = unread
	}
	if err == nil {
		err = lag(beside)
	}
	return at, g.spoilt(ctx, before, err)
}

// check is the reason not to run a stroke: no axis leaves its travel.
func (g *Gantry) check(s motion.Stroke) error {
	for _, p := range s.Path {
		for i, v := range [2]float64{p.X, p.Y} {
			a := g.axes[i]
			if !(v >= -beyond && v <= a.Travel+beyond) {
				return fmt.Errorf("the stroke goes to %.1f mm on axis %s, which goes from 0 to %.1f mm: correct the plan, or axis.%s.travel", v*1e3, a.Name, a.Travel*1e3, a.Name)
			}
		}
	}
	return nil
}

// board is a place of the axes' plane as one of a plane: the formulas of a motion hold
// in any plane with the axes along its sides.
type board = frame.Spot[frame.Board]

// legs cuts a stroke's way where it turns sharply: there the carriage stands.
func legs(at spot, path []spot) [][]board {
	out := [][]board{{board(at)}}
	for i, p := range path {
		leg := out[len(out)-1]
		last := leg[len(leg)-1]
		q := board(p)
		switch {
		case i == 0 && p.Distance(at) <= missed, q.Distance(last) < 1e-9: // there it is already
			continue
		case len(leg) > 1 && q.Sub(last).Unit().Dot(last.Sub(leg[len(leg)-2]).Unit()) < sharp:
			out = append(out, []board{last, q})
		default:
			out[len(out)-1] = append(leg, q)
		}
	}
	return out
}

// along runs a stroke leg by leg; beside is how far each axis was off the way, m.
func (g *Gantry) along(ctx context.Context, at spot, s motion.Stroke) (beside [2]float64, err error) {
	most := plan.Bounds{Speed: orInf(float64(s.Speed)), Accel: orInf(float64(s.Accel)), Jerk: orInf(float64(s.Jerk))}
	d := plan.Drive{Most: most, Axes: [2]plan.Bounds{g.axes[0].Bounds, g.axes[1].Bounds}}
	for _, leg := range legs(at, s.Path) {
		if len(leg) < 2 {
			continue
		}
		off, err := g.follow(ctx, trajectory.Samples(leg, d), g.bounds(s))
		for i, v := range off {
			beside[i] = math.Max(beside[i], v)
		}
		if err != nil {
			return beside, err
		}
	}
	return beside, nil
}

// bounds are the least acceleration and jerk that a stroke and the axes allow: with them
// it can be held whichever way it goes.
func (g *Gantry) bounds(s motion.Stroke) plan.Bounds {
	out := plan.Bounds{Accel: orInf(float64(s.Accel)), Jerk: orInf(float64(s.Jerk))}
	for _, a := range g.axes {
		out.Accel, out.Jerk = math.Min(out.Accel, a.Bounds.Accel), math.Min(out.Jerk, a.Bounds.Jerk)
	}
	return out
}

// orInf is a limit; 0: none.
func orInf(v float64) float64 {
	if v > 0 {
		return v
	}
	return math.Inf(1)
}

// follow has both axes follow samples in time: each is told the motion's speed and
// what it needs to make up for what it is behind. beside is how far each was off the
// way at most, m: late along it does no harm. A hold slows the time of the motion down
// to nothing, within the bounds.
func (g *Gantry) follow(ctx context.Context, samples []plan.Sample, within plan.Bounds) (beside [2]float64, err error) {
	total, last := samples[len(samples)-1].Time, g.clock.Now()
	var stuck [2]time.Duration
	p, k, t := newPace(g.isHeld.Load()), 0, 0.0
	for {
		now := g.clock.Now()
		t += p.step(now.Sub(last).Seconds(), g.isHeld.Load(), driftAt(samples, k, within))
		last = now
		if t >= total {
			end := samples[len(samples)-1].At
			return beside, g.settle(ctx, [2]float64{end.X, end.Y}, missed)
		}
		for k+2 < len(samples) && samples[k+1].Time <= t {
			k++
		}
		want, way := between(samples[k], samples[k+1], min(t, total))
		ahead := p.scale(speedAt(samples, k, t+p.rate*lead))
		off, err := g.correct(ctx, want, p.scale(way), ahead, &stuck)
		if err != nil {
			return beside, err
		}
		for i, v := range across(off, way) {
			beside[i] = math.Max(beside[i], math.Abs(v))
		}
		if err := gantry.Pause(ctx, g.clock, period); err != nil {
			return beside, err
		}
	}
}

// correct reads both axes and tells them their speeds; off is where they should be
// from where they are, m.
func (g *Gantry) correct(ctx context.Context, want, speed, ahead [2]float64, stuck *[2]time.Duration) (off [2]float64, err error) {
	for i, a := range g.axes {
		n, err := a.position()
		if err != nil {
			return off, err
		}
		if math.Abs(want[i]-n/a.PerMetre) > lagging {
			if n, err = a.again(n); err != nil {
				return off, err
			}
		}
		off[i] = want[i] - n/a.PerMetre
		g.heard(i, n/a.PerMetre)
		if err := a.watch(&stuck[i], off[i], n/a.PerMetre); err != nil {
			return off, err
		}
		if math.Abs(ahead[i]-speed[i]) < evenly*math.Abs(speed[i]) {
			a.learn(off[i], speed[i])
		}
		if err := g.tell(ctx, func() error { return a.run((ahead[i] + catchUp*off[i] + a.made(ahead[i])) * a.PerMetre) }); err != nil {
			return off, err
		}
	}
	return off, nil
}

// across is the part of a displacement that is not along a motion.
func across(off, speed [2]float64) [2]float64 {
	v := math.Hypot(speed[0], speed[1])
	if v == 0 {
		return off
	}
	along := (off[0]*speed[0] + off[1]*speed[1]) / (v * v)
	return [2]float64{off[0] - along*speed[0], off[1] - along*speed[1]}
}

// speedAt is how fast the axes are at a time, sought from sample k on, m/s.
func speedAt(samples []plan.Sample, k int, t float64) [2]float64 {
	for k+2 < len(samples) && samples[k+1].Time <= t {
		k++
	}
	if samples[k+1].Time < t {
		return [2]float64{}
	}
	_, speed := between(samples[k], samples[k+1], t)
	return speed
}

// learn takes in what an axis is behind for what friction and a weak motor take from
// its speed: a part that is always the same, and one that grows with the speed.
func (a *axis) learn(off, speed float64) {
	way := direction(speed, a.PerMetre)
	most := float64(a.motors[0].most) / a.PerMetre / 2
	by := way * off * learning * period.Seconds() / 2
	share := math.Min(1, math.Abs(speed)/a.Bounds.Speed)
	a.drag = math.Max(0, math.Min(most, a.drag+by))
	a.weak = math.Max(-weakest, math.Min(weakest, a.weak+by*share/a.Bounds.Speed))
}

// made is the speed that makes up for what was learnt, m/s.
func (a *axis) made(speed float64) float64 { return direction(speed, a.PerMetre)*a.drag + a.weak*speed }

// direction is +1, −1, or 0 for an axis slower than a count a second.
func direction(speed, per float64) float64 {
	if math.Abs(speed)*per < 1 {
		return 0
	}
	return math.Copysign(1, speed)
}

// between is where two samples have the axes at a time, and how fast, m and m/s.
func between(a, b plan.Sample, t float64) (at, speed [2]float64) {
	dt := b.Time - a.Time
	speed = [2]float64{(b.At.X - a.At.X) / dt, (b.At.Y - a.At.Y) / dt}
	return [2]float64{a.At.X + speed[0]*(t-a.Time), a.At.Y + speed[1]*(t-a.Time)}, speed
}

// watch looks whether an axis has stopped on its way: by its flag while it is behind,
// or because it is too far behind.
func (a *axis) watch(stuck *time.Duration, off, at float64) error {
	flagged, err := a.has("stalled")
	if err != nil {
		return err
	}
	*stuck += period
	if !flagged || math.Abs(off) < late {
		*stuck = 0
	}
	if math.Abs(off) > stalled || *stuck > stallTime {
		return &motion.Stall{Axis: a.Name, At: unit.Length(at)}
	}
	return nil
}

// settle brings both axes to a place, near it or as near as they come in a while. What is
// learnt there is what holds an axis that stands; one that moves has less to make up for, and
// would shoot past its place if it kept that.
func (g *Gantry) settle(ctx context.Context, goal [2]float64, near float64) error {
	for _, a := range g.axes {
		defer func(moving float64) { a.drag = moving + (a.drag-moving)/settleKept }(a.drag)
	}
	for now := time.Duration(0); now < settleTime; now += period {
		standing := true
		for i, a := range g.axes {
			n, err := a.position()
			if err != nil {
				return err
			}
			off, speed := goal[i]-n/a.PerMetre, 0.0
			if math.Abs(off) > math.Max(near, halfCount/a.PerMetre) {
				standing = false
				nudge := math.Copysign(2/a.PerMetre, off) // slow, so that friction alone is learnt
				a.learn(off, nudge)
				speed = catchUp*off + a.made(nudge)
			}
			if err := g.tell(ctx, func() error { return a.run(speed * a.PerMetre) }); err != nil {
				return err
			}
		}
		if err := gantry.Pause(ctx, g.clock, period); standing || err != nil {
			return err
		}
	}
	return nil
}

// arrive brings both axes to the end of the way, to within a count, and holds them
// there.
func (g *Gantry) arrive(ctx context.Context, end spot) error {
	goal := [2]float64{end.X, end.Y}
	if err := g.settle(ctx, goal, 0); err != nil {
		return err
	}
	for i, a := range g.axes {
		if err := g.tell(ctx, func() error { return a.stop("hold") }); err != nil {
			return err
		}
		n, err := a.position()
		if err != nil {
			return err
		}
		if math.Abs(n-goal[i]*a.PerMetre) > math.Max(missed*a.PerMetre, 2) {
			return &motion.Stall{Axis: a.Name, At: unit.Length(n / a.PerMetre)}
		}
	}
	return nil
}

// lag is what to tell of axes that were off the way; nil: nothing.
func lag(beside [2]float64) error {
	var errs []error
	for i, name := range []string{"x", "y"} {
		if beside[i] > lagging {
			errs = append(errs, &motion.Lag{Axis: name, Behind: unit.Length(beside[i])})
		}
	}
	return errors.Join(errs...)
}
