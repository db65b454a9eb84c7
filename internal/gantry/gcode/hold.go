// SPDX-License-Identifier: Apache-2.0

package gcode

import (
	"context"
	"errors"
	"fmt"
	"time"

	"boardhand/internal/frame"
	"boardhand/internal/gantry"
)

// Hold brings the stroke under way to rest on its way by a feed hold, which the
// controller does with its own acceleration, and keeps it there until Resume; one that
// begins meanwhile waits at its start. The place stays known, the lift stays. Halt and
// Home end it.
func (g *Gantry) Hold() error { return g.steer(true) }

// Resume lets a held stroke go on.
func (g *Gantry) Resume() error { return g.steer(false) }

// steer holds strokes, or lets them go on.
func (g *Gantry) steer(isHeld bool) error {
	g.mu.Lock()
	g.isHeld = isHeld
	l, isRunning := g.link, g.isRunning
	g.mu.Unlock()
	if l == nil || !isRunning {
		return nil
	}
	l.excuse(isHeld)
	return g.command(l, isHeld)
}

// command tells the controller to hold, or to go on, unless it was halted.
func (g *Gantry) command(l *link, isHeld bool) error {
	g.order.Lock()
	defer g.order.Unlock()
	switch {
	case g.latch.IsHeld():
		return nil
	case isHeld:
		return l.write(feedHold)
	}
	return l.write(cycleStart)
}

// At is where the axes were heard to be last.
func (g *Gantry) At() frame.Spot[frame.Machine] { return g.here() }

// holding says whether strokes are held.
func (g *Gantry) holding() bool {
	g.mu.Lock()
	defer g.mu.Unlock()
	return g.isHeld
}

// release ends a hold without a word to the controller.
func (g *Gantry) release() {
	g.mu.Lock()
	g.isHeld = false
	l := g.link
	g.mu.Unlock()
	if l != nil {
		l.excuse(false)
	}
}

// run notes whether a stroke is on its way to the controller; a held one waits first.
func (g *Gantry) run(ctx context.Context, isRunning bool) error {
	for {
		g.mu.Lock()
		if !isRunning || !g.isHeld {
			g.isRunning = isRunning
			g.mu.Unlock()
			return nil
		}
		g.mu.Unlock()
		if err := gantry.Pause(ctx, holdTime/100); err != nil {
			return err
		}
	}
}

// urge compares what a status says of a stroke with whether it is held, and says it
// again where the byte may have been lost, or came before the carriage stood; tries are
// those in a row. A hold that somebody else has begun is not ended.
func (g *Gantry) urge(l *link, s status, tries *int) {
	isHeld := g.holding()
	switch {
	case s.state != "Run" && s.state != "Hold" || g.latch.IsHeld():
		return
	case isHeld == (s.state == "Hold"):
		*tries = 0
		return
	case !isHeld && !l.hasJustGoneOn():
		l.fail(fmt.Errorf("the controller says %q in the middle of a stroke: clear what holds it, then home", s.state))
		return
	}
	if *tries++; *tries > holdTries {
		l.fail(errors.New("the controller does not hold as it is told: look at the cable, then home"))
		return
	}
	if err := g.command(l, isHeld); err != nil {
		l.fail(errWire(err))
	}
}

// hasJustGoneOn says whether a hold of ours ended a moment ago.
func (l *link) hasJustGoneOn() bool {
	l.mu.Lock()
	defer l.mu.Unlock()
	return !l.wentOn.IsZero() && time.Since(l.wentOn) < holdTries*askEvery
}

// excuse begins or ends a hold: meanwhile nobody waits for answers to lines.
func (l *link) excuse(isHeld bool) {
	l.mu.Lock()
	defer l.mu.Unlock()
	if l.isHeld && !isHeld {
		l.wentOn = time.Now()
	}
	l.isHeld = isHeld
}

// unexcused is the excuse of an answer that comes at once, held or not.
func unexcused(time.Duration) time.Duration { return 0 }

// excused is how much longer an answer to a line may take because of a hold; 0: none.
func (l *link) excused(within time.Duration) time.Duration {
	l.mu.Lock()
	defer l.mu.Unlock()
	if l.isHeld {
		return within
	}
	return max(0, time.Until(l.wentOn.Add(within)))
}
