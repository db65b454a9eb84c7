// SPDX-License-Identifier: Apache-2.0

package table

import (
	"context"
	"errors"
	"fmt"

	"boardhand/internal/notice"
)

// errHalted says that a person stopped the motors.
var errHalted = errors.New("stopped by hand")

// Halt stops the motors now; the game waits for RequestResume. It may be called
// from any goroutine, in any state: no motion begins after it.
func (t *Table) Halt() error {
	t.mu.Lock()
	t.motors = t.motors.halt()
	if t.moving != nil {
		t.moving()
	}
	t.rouse()
	t.mu.Unlock()
	return t.p.Gantry.Halt()
}

// letGoOn lets the game go on after a stop or a failure, if that is awaited.
// t.mu is held.
func (t *Table) letGoOn() error {
	if !t.motors.isAwaiting() {
		return errors.New("nothing waits to be let go on")
	}
	t.motors = Running
	t.resume <- struct{}{}
	return nil
}

func (t *Table) isHalted() bool {
	t.mu.Lock()
	defer t.mu.Unlock()
	return t.motors.isHalted()
}

// motion runs one motion of the gantry. It does not begin when a person has
// stopped the machine, and a stop ends its context.
func (t *Table) motion(ctx context.Context, run func(context.Context) error) error {
	inner, cancel := context.WithCancel(ctx)
	defer cancel()
	t.mu.Lock()
	if t.motors.isHalted() {
		t.mu.Unlock()
		return errHalted
	}
	t.moving = cancel
	t.mu.Unlock()
	err := run(inner)
	t.mu.Lock()
	defer t.mu.Unlock()
	t.moving = nil
	if t.motors.isHalted() {
		return errHalted
	}
	return err
}

// mends is how often the machine mends itself before it waits for a person.
const mends = 2

// trouble lowers the magnet, homes the axes and goes on where the picture
// says the game stands; after a few failures within one move, or when a person
// has stopped the motors, it waits for a person first.
func (t *Table) trouble(ctx context.Context) (Turn, error) {
	t.failures++
	part := partOf(t.failure)
	if t.failures > mends || t.isHalted() || part == partPlayer {
		if err := t.tell(ctx, notice.Notice{Kind: notice.Wait, Text: troubleSentence(t.failure, part)}); err != nil {
			return Turn{}, err
		}
		if err := t.await(ctx); err != nil {
			return Turn{}, err
		}
		t.failures = 0
		if part == partPlayer { // nothing has moved
			return to(Thinking, Resumed), nil
		}
	}
	if err := t.home(ctx); err != nil {
		if errors.Is(err, errHalted) {
			return to(Trouble, Stopped), nil
		}
		t.failure = err
		return Turn{Trouble, Record{What: Failed, Said: err.Error(), Cause: string(partGantry)}}, nil
	}
	return t.afterHoming(), nil
}

// afterHoming goes on with what was being done.
func (t *Table) afterHoming() Turn {
	if s, ok := taskState[t.Task().Kind]; ok {
		t.setJob(t.job.task, t.job.progress.breakOff())
		return to(s, Homed)
	}
	if t.decided != 0 {
		return to(Verifying, Homed)
	}
	next := t.next()
	if next.To != Over {
		next.Rec = Record{What: Homed}
	}
	return next
}

// part of the machine that a failure comes from.
type part string

const (
	partGantry  part = "gantry"
	partPlayer  part = "player"
	partPlanner part = "planner"
)

// partError says which part failed.
type partError struct {
	part part
	error
}

func (e *partError) Unwrap() error { return e.error }

// partOf is the part that an error comes from; the gantry when none is named.
func partOf(err error) part {
	var p *partError
	if errors.As(err, &p) {
		return p.part
	}
	return partGantry
}

func troubleSentence(failure error, p part) string {
	if errors.Is(failure, errHalted) {
		return "The machine was stopped by hand. When all is clear, press Resume."
	}
	switch p {
	case partPlayer:
		return fmt.Sprintf("I cannot find a move: %v. Press Resume and I try again.", failure)
	case partPlanner:
		return fmt.Sprintf("I find no way to carry this out: %v. Please look whether a piece stands where it should not, then press Resume.", failure)
	}
	return fmt.Sprintf("The machine has stopped: %v. Look under the board, then press Resume.", failure)
}

// await blocks until a person lets the game go on.
func (t *Table) await(ctx context.Context) error {
	t.mu.Lock()
	select {
	case <-t.resume: // left over
	default:
	}
	t.motors = t.motors.await()
	t.mu.Unlock()
	t.offer()
	select {
	case <-ctx.Done():
		return ctx.Err()
	case <-t.resume:
	}
	t.offer()
	return t.record(ctx, Record{State: Trouble, What: Resumed})
}

// home finds the axes' zeros with the magnet lowered.
func (t *Table) home(ctx context.Context) error {
	err := t.motion(ctx, func(ctx context.Context) error {
		at, err := t.p.Gantry.Home(ctx)
		if err == nil {
			t.carriage, t.lift = at, Lowered
		}
		return err
	})
	if err != nil {
		return &partError{partGantry, fmt.Errorf("homing failed: %w", err)}
	}
	t.s.Gearing.Homed()
	t.showCarriage()
	return nil
}

func (t *Table) showCarriage() {
	b := t.s.Gearing.Carriage(t.carriage)
	t.observe(Event{Carriage: &b, Lift: t.lift})
}
