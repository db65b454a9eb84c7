// SPDX-License-Identifier: Apache-2.0

package gantry

import (
	"context"
	"fmt"
	"sync"
)

// Latch lets one motion of a gantry run at a time, none after a halt until it is homed,
// and none while nobody knows where the axes are. Its zero value has not been homed.
type Latch struct {
	mu       sync.Mutex
	isMoving bool
	isHalted bool
	isHomed  bool
	why      error                   // why the axes are not homed
	cancel   context.CancelCauseFunc // ends the motion that runs; nil: none runs
}

// Begin is the start of a motion, or its reason not to begin. The context ends with
// Stop; end must be called.
func (l *Latch) Begin(ctx context.Context, isHoming bool) (inner context.Context, end func(), err error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	if err := l.refusal(isHoming); err != nil {
		return nil, nil, err
	}
	if err := context.Cause(ctx); err != nil {
		return nil, nil, err
	}
	if isHoming {
		l.isHalted, l.isHomed, l.why = false, false, nil
	}
	inner, cancel := context.WithCancelCause(ctx)
	l.isMoving, l.cancel = true, cancel
	return inner, func() {
		l.mu.Lock()
		defer l.mu.Unlock()
		cancel(nil)
		l.isMoving, l.cancel = false, nil
	}, nil
}

// refusal is why a motion may not begin; mu is held.
func (l *Latch) refusal(isHoming bool) error {
	switch {
	case l.isMoving:
		return ErrBusy
	case isHoming:
		return nil
	case l.isHalted:
		return ErrHalted
	case !l.isHomed && l.why != nil:
		return fmt.Errorf("%w (%w)", ErrNoHome, l.why)
	case !l.isHomed:
		return ErrNoHome
	}
	return nil
}

// Hold lets no motion begin until one that homes, and says whether the axes are homed.
// The one that runs goes on until Stop.
func (l *Latch) Hold() (isHomed bool) {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.isHalted = true
	return l.isHomed
}

// Stop ends the context of the motion that runs.
func (l *Latch) Stop() {
	l.mu.Lock()
	defer l.mu.Unlock()
	if l.cancel != nil {
		l.cancel(ErrHalted)
	}
}

// IsHeld says whether a halt counts.
func (l *Latch) IsHeld() bool {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.isHalted
}

// Homed notes that the axes have found their zeros; a halt that came meanwhile is an error.
func (l *Latch) Homed() error {
	l.mu.Lock()
	defer l.mu.Unlock()
	if l.isHalted {
		return ErrHalted
	}
	l.isHomed, l.why = true, nil
	return nil
}

// Distrust notes that nobody knows where the axes are, and why.
func (l *Latch) Distrust(why error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.isHomed, l.why = false, why
}
