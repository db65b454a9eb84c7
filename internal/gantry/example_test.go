// SPDX-License-Identifier: Apache-2.0

package gantry_test

import (
	"context"
	"errors"
	"os"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"boardhand/internal/frame"
	"boardhand/internal/motion"
	"boardhand/internal/table/carriage"
	"boardhand/internal/table/lookout"
)

// begin of the example

// Motors follow a position; yours talk to your controller.
type Motors interface {
	Seek() error             // runs both axes to their switches and sets zero there
	Target(x, y float64)     // metres: where to be now
	At() (x, y float64)      // metres: where the axes say they are
	Magnet(raised bool) bool // true once the magnet stands there
}

// Own is a driver for them.
type Own struct {
	Motors   Motors
	isHalted atomic.Bool
	isHeld   atomic.Bool // a hand is over the board: strokes stand on their way
	isHomed  bool
}

const tick = 5 * time.Millisecond

func (o *Own) Home(ctx context.Context) (frame.Spot[frame.Machine], error) {
	o.isHalted.Store(false)
	o.isHeld.Store(false)
	o.isHomed = true // for Lift; taken back where something fails
	err := errors.Join(o.Lift(ctx, false), o.Motors.Seek())
	o.isHomed = err == nil && !o.isHalted.Load()
	return o.At(), err
}

func (o *Own) Move(ctx context.Context, s motion.Stroke) (frame.Spot[frame.Machine], error) {
	for _, to := range s.Path { // one straight line after the other, without ramps: yours are smoother
		from := o.At()
		way := to.Sub(from)
		for done := 0.0; done < way.Norm(); {
			if err := o.pause(ctx); err != nil {
				return o.At(), err
			}
			if !o.isHeld.Load() {
				done += float64(s.Speed) * tick.Seconds()
			}
			p := from.Add(way.Unit().Scale(done))
			o.Motors.Target(p.X, p.Y)
		}
		o.Motors.Target(to.X, to.Y)
	}
	return o.At(), o.pause(ctx)
}

func (o *Own) Lift(ctx context.Context, raised bool) error {
	for {
		if err := o.pause(ctx); err != nil || o.Motors.Magnet(raised) {
			return err
		}
	}
}

func (o *Own) Halt() error   { o.isHalted.Store(true); return nil }
func (o *Own) Hold() error   { o.isHeld.Store(true); return nil }
func (o *Own) Resume() error { o.isHeld.Store(false); return nil }

func (o *Own) At() frame.Spot[frame.Machine] {
	x, y := o.Motors.At()
	return frame.Spot[frame.Machine]{X: x, Y: y}
}

// pause lets a tick pass, or says why not to move on.
func (o *Own) pause(ctx context.Context) error {
	time.Sleep(tick)
	switch {
	case o.isHalted.Load():
		return errors.New("the gantry was halted: home it when all is clear")
	case !o.isHomed:
		return errors.New("the axes have not found their zeros: home first")
	}
	return ctx.Err()
}

// end of the example

var (
	_ carriage.Gantry = (*Own)(nil)
	_ lookout.Holder  = (*Own)(nil)
)

// ideal are motors that are where they should be.
type ideal struct{ x, y float64 }

func (m *ideal) Seek() error         { m.x, m.y = 0, 0; return nil }
func (m *ideal) Target(x, y float64) { m.x, m.y = x, y }
func (m *ideal) At() (x, y float64)  { return m.x, m.y }
func (m *ideal) Magnet(bool) bool    { return true }

// The example keeps the contract, and is what docs/controllers.md prints.
func TestExampleDriver(t *testing.T) {
	o := &Own{Motors: &ideal{}}
	s := motion.Stroke{Path: []frame.Spot[frame.Machine]{{}, {X: 0.01}}, Speed: 0.2}
	if _, err := o.Move(t.Context(), s); err == nil {
		t.Error("moved before homing")
	}
	if _, err := o.Home(t.Context()); err != nil {
		t.Fatal(err)
	}
	if at, err := o.Move(t.Context(), s); err != nil || at.X != 0.01 {
		t.Errorf("ended at %v, %v", at, err)
	}
	_ = o.Hold()
	ended := make(chan error, 1)
	go func() {
		_, err := o.Move(t.Context(), motion.Stroke{Path: []frame.Spot[frame.Machine]{{X: 0.01}, {X: 0.02}}, Speed: 0.2})
		ended <- err
	}()
	time.Sleep(20 * tick)
	if at := o.At(); at.X != 0.01 {
		t.Errorf("held, it went to %v", at)
	}
	_ = o.Resume()
	if err := <-ended; err != nil || o.At().X != 0.02 {
		t.Errorf("went on to %v, %v", o.At(), err)
	}
	_ = o.Halt()
	if err := o.Lift(t.Context(), true); err == nil {
		t.Error("lifted after a halt")
	}
	if _, err := o.Home(t.Context()); err != nil {
		t.Error(err)
	}
	source, err := os.ReadFile("example_test.go")
	if err != nil {
		t.Fatal(err)
	}
	_, rest, _ := strings.Cut(string(source), "// begin of the example\n\n")
	example, _, _ := strings.Cut(rest, "// end of the example\n")
	page, err := os.ReadFile("../../docs/controllers.md")
	if err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(string(page), "```go\n"+strings.TrimSpace(example)+"\n```") {
		t.Error("docs/controllers.md does not print the example as it is")
	}
}
