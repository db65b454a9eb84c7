// SPDX-License-Identifier: Apache-2.0

package gcode

import (
	"context"
	"errors"
	"fmt"
	"math"
	"time"

	"boardhand/internal/frame"
	"boardhand/internal/gantry"
	"boardhand/internal/motion"
)

// Move runs a stroke and returns where the controller says it ended. A place
// beyond the travel is refused before anything moves. A stroke that the wire spoilt
// is a *motion.Spoilt.
func (g *Gantry) Move(ctx context.Context, s motion.Stroke) (frame.Spot[frame.Machine], error) {
	ctx, end, err := g.latch.Begin(ctx, false)
	if err != nil {
		return g.here(), err
	}
	defer end()
	defer func() { _ = g.run(ctx, false) }() // which never fails
	if err := g.check(s); err != nil {
		return g.here(), err
	}
	p := g.writer.program(g.here(), s, g.isMagnetUp) // a magnet at the board may touch pieces: its lines are proved
	if len(p.lines) == 0 {
		return g.here(), nil
	}
	if err = g.run(ctx, true); err == nil {
		err = g.stroke(ctx, p)
	}
	if err == nil {
		var s status
		if s, err = g.rest(ctx); err == nil {
			at, err := g.arrived(g.learn(s), p.end)
			return at, g.spoilt(err)
		}
	}
	err = g.spoilt(g.breakOff(ctx, err))
	return g.here(), err
}

// spoilt says of a motion's error that it is the wire's: the conversation broke, and neither an
// alarm of the controller nor a halt broke it.
func (g *Gantry) spoilt(err error) error {
	var alarm *Alarm
	if err == nil || errors.Is(err, gantry.ErrHalted) || errors.As(err, &alarm) || g.link.why() == nil {
		return err
	}
	return &motion.Spoilt{Err: err}
}

// check is the reason not to run a stroke, if there is one.
func (g *Gantry) check(s motion.Stroke) error {
	if !(s.Speed > 0 && s.Accel >= 0 && s.Jerk >= 0) {
		return fmt.Errorf("a stroke needs a speed above 0, acceleration and jerk not below; got %v, %v, %v", s.Speed, s.Accel, s.Jerk)
	}
	for _, p := range s.Path {
		for i, v := range [2]float64{p.X, p.Y} {
			a := g.expected.axes[i]
			if !(v >= -limitSlack && v <= a.Travel+limitSlack) {
				return fmt.Errorf("axis %s cannot go to %.2f mm: it travels from 0 to %.2f mm (axis.%s.travel)", a.Name, v*1e3, a.Travel*1e3, a.Name)
			}
		}
	}
	return nil
}

// stroke sends the lines as the receive buffer takes them, and waits until the
// last one was run.
func (g *Gantry) stroke(ctx context.Context, p program) error {
	l := g.link
	watching, enough := context.WithCancel(ctx)
	watched := make(chan struct{})
	g.clock.Go(func() {
		defer close(watched)
		g.watch(watching, l)
	})
	defer func() {
		enough()
		g.clock.Wait(gantry.Forever, watched)
	}()
	within := patience + time.Duration(2*p.longest*float64(time.Second))
	for _, line := range p.lines {
		if _, err := l.send(ctx, line, within); err != nil {
			return err
		}
	}
	return l.sync(ctx, patience+time.Duration(2*p.seconds*float64(time.Second)))
}

// sync waits until everything sent was run: a dwell is answered only when the
// planner is empty. Source: the firmware's published interface description.
func (l *link) sync(ctx context.Context, within time.Duration) error {
	t, err := l.send(ctx, "G4P0.01", within)
	if err != nil {
		return err
	}
	return l.wait(ctx, t.done, within)
}

// watch asks for the status while a stroke runs. What stops the controller but its
// own end breaks the link; so does an answer that is missing while it stands.
func (g *Gantry) watch(ctx context.Context, l *link) {
	stood, urged := 0, 0
	for gantry.Pause(ctx, g.clock, watchEvery) == nil {
		s, err := l.query(ctx)
		if err != nil {
			return
		}
		g.learn(s)
		g.urge(l, s, &urged)
		switch s.state {
		case "Run", "Hold":
			stood = 0
		case "Idle":
			if l.waiting() == 0 || g.holding() {
				break
			}
			if l.isStarved() {
				g.mu.Lock()
				g.dry++
				g.mu.Unlock()
			}
			if stood++; stood > 1 {
				l.fail(errors.New("the controller stands and left a line unanswered: look at the cable, then home"))
			}
		default:
			if ctx.Err() == nil {
				l.fail(fmt.Errorf("the controller says %q in the middle of a stroke: clear what holds it, then home", s.state))
			}
		}
	}
}

// rest asks until the controller stands still.
func (g *Gantry) rest(ctx context.Context) (status, error) {
	for tries, urged := 0, 0; tries < restTries; tries++ {
		s, err := g.link.query(ctx)
		if err != nil || s.state == "Idle" {
			return s, err
		}
		if s.state == "Hold" { // it came with the last of the way
			g.urge(g.link, s, &urged)
			tries--
		}
	}
	err := errors.New("the controller answered the end of a stroke and still moves: home")
	g.link.fail(err)
	return status{}, err
}

// arrived compares where a stroke ended with where it should.
func (g *Gantry) arrived(at, want spot) (spot, error) {
	for i, off := range [2]float64{at.X - want.X, at.Y - want.Y} {
		if math.Abs(off) > arrivedSteps/g.writer.steps[i]+arrivedSlack {
			err := fmt.Errorf("axis %s should be at %.3f mm and the controller says %.3f mm: home", g.expected.axes[i].Name, 1e3*[2]float64{want.X, want.Y}[i], 1e3*[2]float64{at.X, at.Y}[i])
			g.link.fail(err)
			return at, err
		}
	}
	return at, nil
}

// breakOff stops a motion that ended with an error. One that was merely called
// off leaves the position known; the lines that wait are thrown away with a reset.
func (g *Gantry) breakOff(ctx context.Context, err error) error {
	l := g.link
	cause := context.Cause(ctx)
	if cause == nil || l.why() != nil {
		l.fail(err)
		return err
	}
	ctx = context.WithoutCancel(ctx) // each wait has its own end
	if err := l.write(feedHold); err != nil {
		l.fail(err)
		return cause
	}
	if s, err := g.held(ctx); err == nil {
		g.learn(s)
	}
	if errors.Is(cause, gantry.ErrHalted) && g.expected.lift.Lift != "axis" {
		return cause // a reset would lower the lift: what waits is thrown away before homing
	}
	if err := l.restart(ctx); err != nil {
		return cause
	}
	s, err := l.query(ctx)
	if err == nil && s.state == "Idle" {
		g.learn(s)
		return cause
	}
	l.fail(fmt.Errorf("a stroke was broken off and the controller says %q: home", s.state))
	return cause
}

// held waits until a feed hold has come to its end.
func (g *Gantry) held(ctx context.Context) (status, error) {
	for end := g.clock.Now().Add(holdTime); ; {
		s, err := g.link.query(ctx)
		if err != nil || s.state == "Idle" || s.state == "Hold" && s.sub == "0" || !g.clock.Now().Before(end) {
			return s, err
		}
	}
}
