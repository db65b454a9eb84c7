// SPDX-License-Identifier: Apache-2.0

package desk

import (
	"context"
	"errors"

	"boardhand/internal/table/journal"
)

// ErrHalted says that a person stopped the motors.
var ErrHalted = errors.New("stopped by hand")

// letGoOn lets the game go on after a stop or a failure, if that is awaited.
// d.mu is held.
func (d *Desk) letGoOn() error {
	if !d.motors.isAwaiting() {
		return errors.New("nothing waits to be let go on")
	}
	d.motors = Running
	d.resume <- struct{}{}
	return nil
}

func (d *Desk) IsHalted() bool {
	d.mu.Lock()
	defer d.mu.Unlock()
	return d.motors.isHalted()
}

// Motion runs one motion of the gantry. It does not begin when a person has
// stopped the machine, and a stop ends its context.
func (d *Desk) Motion(ctx context.Context, run func(context.Context) error) error {
	inner, cancel := context.WithCancel(ctx)
	defer cancel()
	d.mu.Lock()
	if d.motors.isHalted() {
		d.mu.Unlock()
		return ErrHalted
	}
	d.moving = cancel
	d.mu.Unlock()
	err := run(inner)
	d.mu.Lock()
	defer d.mu.Unlock()
	d.moving = nil
	if d.motors.isHalted() {
		return ErrHalted
	}
	return err
}

// Await blocks until a person lets the game go on.
func (d *Desk) Await(ctx context.Context) error {
	d.mu.Lock()
	select {
	case <-d.resume: // left over
	default:
	}
	d.motors = d.motors.await()
	d.mu.Unlock()
	d.Offer()
	select {
	case <-ctx.Done():
		return ctx.Err()
	case <-d.resume:
	}
	d.Offer()
	return d.Record(ctx, journal.Record{State: journal.Trouble, What: journal.Resumed})
}

// Halt lets no motion begin, and ends the one under way.
func (d *Desk) Halt() {
	d.mu.Lock()
	defer d.mu.Unlock()
	d.motors = d.motors.halt()
	if d.moving != nil {
		d.moving()
	}
	d.rouse()
}

// IsAwaiting says whether a person is to let the game go on.
func (d *Desk) IsAwaiting() bool {
	d.mu.Lock()
	defer d.mu.Unlock()
	return d.motors.isAwaiting()
}
