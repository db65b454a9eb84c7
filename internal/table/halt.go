package table

import (
	"context"
	"errors"
	"fmt"

	"boardhand/internal/notice"
)

// errHalted says that a person stopped the motors.
var errHalted = errors.New("stopped by hand")

// Halt stops the motors now; the game waits for Resume. It may be called from
// any goroutine.
func (t *Table) Halt() error {
	t.mu.Lock()
	t.halted = true
	t.mu.Unlock()
	return t.p.Gantry.Halt()
}

// Resume lets the game go on after Halt or after trouble.
func (t *Table) Resume() {
	t.mu.Lock()
	t.halted = false
	t.mu.Unlock()
	select {
	case t.resume <- struct{}{}:
	default:
	}
}

func (t *Table) isHalted() bool {
	t.mu.Lock()
	defer t.mu.Unlock()
	return t.halted
}

// tries is how often the machine mends itself before it waits for a person.
const tries = 2

// trouble lowers the magnet, homes the axes and goes on where the picture
// says the game stands; after a few failures in a row, or when a person has
// stopped the motors, it waits for a person first.
func (t *Table) trouble(ctx context.Context) (State, string, error) {
	t.failures++
	stopped := t.isHalted()
	if t.failures > tries || stopped {
		text := fmt.Sprintf("The machine has stopped: %v. Look under the board, then let it go on.", t.failure)
		if stopped {
			text = "The machine was stopped by hand. When all is clear, let it go on."
		}
		if err := t.tell(ctx, notice.Notice{Kind: notice.Wait, Text: text}); err != nil {
			return Trouble, "", err
		}
		if err := t.await(ctx); err != nil {
			return Trouble, "", err
		}
		t.failures = 0
	}
	if err := t.home(ctx); err != nil {
		t.failure = err
		return Trouble, err.Error(), nil
	}
	if s, ok := taskState[t.task.Kind]; ok {
		t.broken = true
		return s, "homed again; looking how far it got", nil
	}
	if t.decided != 0 {
		return Verifying, "homed again; looking how far the move got", nil
	}
	s, why := t.next()
	return s, "homed again; " + why, nil
}

// await blocks until Resume.
func (t *Table) await(ctx context.Context) error {
	for {
		select {
		case <-ctx.Done():
			return ctx.Err()
		case <-t.resume:
			if !t.isHalted() {
				return nil
			}
		}
	}
}

// home finds the axes' zeros with the magnet lowered.
func (t *Table) home(ctx context.Context) error {
	at, err := t.p.Gantry.Home(ctx)
	if err != nil {
		return fmt.Errorf("homing failed: %w", err)
	}
	t.carriage, t.raised = at, false
	t.s.Gearing.Homed()
	t.showCarriage()
	return nil
}

func (t *Table) showCarriage() {
	b := t.s.Gearing.Carriage(t.carriage)
	t.observe(Event{Carriage: &b, Raised: t.raised})
}
