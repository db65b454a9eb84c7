// SPDX-License-Identifier: Apache-2.0

package table

import (
	"context"
	"errors"
)

// errHalted says that a person stopped the motors.
var errHalted = errors.New("stopped by hand")

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

func (d *Desk) isHalted() bool {
	d.mu.Lock()
	defer d.mu.Unlock()
	return d.motors.isHalted()
}

// motion runs one motion of the gantry. It does not begin when a person has
// stopped the machine, and a stop ends its context.
func (d *Desk) motion(ctx context.Context, run func(context.Context) error) error {
	inner, cancel := context.WithCancel(ctx)
	defer cancel()
	d.mu.Lock()
	if d.motors.isHalted() {
		d.mu.Unlock()
		return errHalted
	}
	d.moving = cancel
	d.mu.Unlock()
	err := run(inner)
	d.mu.Lock()
	defer d.mu.Unlock()
	d.moving = nil
	if d.motors.isHalted() {
		return errHalted
	}
	return err
}

// await blocks until a person lets the game go on.
func (d *Desk) await(ctx context.Context) error {
	d.mu.Lock()
	select {
	case <-d.resume: // left over
	default:
	}
	d.motors = d.motors.await()
	d.mu.Unlock()
	d.offer()
	select {
	case <-ctx.Done():
		return ctx.Err()
	case <-d.resume:
	}
	d.offer()
	return d.record(ctx, Record{State: Trouble, What: Resumed})
}

// halt lets no motion begin, and ends the one under way.
func (d *Desk) halt() {
	d.mu.Lock()
	defer d.mu.Unlock()
	d.motors = d.motors.halt()
	if d.moving != nil {
		d.moving()
	}
	d.rouse()
}
