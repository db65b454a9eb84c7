// SPDX-License-Identifier: Apache-2.0

package gcode

import (
	"context"
	"fmt"
	"math"
	"strconv"
	"time"
)

// Lift raises the magnet to the board or lowers it by the full drop, by the words
// that the rig file names, and lets it settle.
func (g *Gantry) Lift(ctx context.Context, raised bool) error {
	ctx, end, err := g.latch.Begin(ctx, false)
	if err != nil {
		return err
	}
	defer end()
	g.isMagnetUp = true
	if err := g.lift(ctx, raised); err != nil {
		return g.spoilt(g.breakOff(ctx, err))
	}
	if g.expected.lift.Lift != "axis" {
		g.isMagnetUp = raised
		return nil
	}
	s, err := g.rest(ctx)
	if err != nil {
		return g.spoilt(g.breakOff(ctx, err))
	}
	if want := g.height(raised); math.Abs(s.at[2]/1e3-want) > liftSlack {
		err := fmt.Errorf("the lift should be at %.3f mm and the controller says %.3f mm: home", want*1e3, s.at[2])
		g.link.fail(err)
		return g.spoilt(err)
	}
	g.isMagnetUp = raised
	return nil
}

// lift sends the words and waits for the dwell after them: it is answered when
// the lift has settled.
func (g *Gantry) lift(ctx context.Context, raised bool) error {
	l, within := g.link, patience
	word := liftWord(g.expected, raised)
	if g.expected.lift.Lift == "axis" {
		word = motionWord + "Z" + millimetres(g.height(raised)) + "F" + strconv.FormatFloat(g.expected.speed*perMinute, 'f', -1, 64)
		within += time.Duration(2 * g.expected.drop / g.expected.speed * float64(time.Second))
	}
	if _, err := l.send(ctx, word, within); err != nil {
		return err
	}
	settle := float64(g.expected.lift.Settle)
	within += time.Duration(settle * float64(time.Second))
	t, err := l.send(ctx, dwell(settle), within)
	if err != nil {
		return err
	}
	return l.wait(ctx, t.done, within)
}

// height is the lift's coordinate on the wire, m.
func (g *Gantry) height(raised bool) float64 {
	if raised {
		return g.raised
	}
	return g.lowered
}

// liftWord raises or lowers a lift that hangs on an output.
func liftWord(e expected, raised bool) string {
	c := e.lift
	switch {
	case c.Lift == "coolant" && raised:
		return "M8"
	case c.Lift == "coolant":
		return "M9"
	case raised:
		return "M3S" + strconv.Itoa(c.LiftUp)
	case c.LiftDown > 0:
		return "M3S" + strconv.Itoa(c.LiftDown)
	}
	return "M5"
}

// dwell waits that many seconds, and for the planner to be empty.
func dwell(seconds float64) string {
	return "G4P" + strconv.FormatFloat(math.Max(0.01, math.Round(seconds*1e3)/1e3), 'f', -1, 64)
}

// lowerFirst lowers a lift that hangs on an output, before the axes are homed. As
// an axis it is homed first by the controller itself.
func (g *Gantry) lowerFirst(ctx context.Context, l *link) error {
	if g.expected.lift.Lift == "axis" {
		return nil
	}
	within := patience + time.Duration(float64(g.expected.lift.Settle)*float64(time.Second))
	for _, line := range []string{"$X", liftWord(g.expected, false), dwell(float64(g.expected.lift.Settle))} {
		if _, err := l.ask(ctx, line, within); err != nil {
			return err
		}
	}
	return nil
}
