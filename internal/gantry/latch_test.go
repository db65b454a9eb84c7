// SPDX-License-Identifier: Apache-2.0

package gantry

import (
	"context"
	"errors"
	"testing"
)

// begins tries a motion and ends it at once.
func begins(ctx context.Context, l *Latch, isHoming bool) error {
	_, end, err := l.Begin(ctx, isHoming)
	if err == nil {
		end()
	}
	return err
}

// What may begin when, and with which word it is refused.
func TestLatch(t *testing.T) {
	var l Latch
	lost := errors.New("lost")
	for _, c := range []struct {
		what string
		do   func() error
		want error
	}{
		{"not homed", func() error { return begins(t.Context(), &l, false) }, ErrNoHome},
		{"homing", func() error { return begins(t.Context(), &l, true) }, nil},
		{"not homed yet", func() error { return begins(t.Context(), &l, false) }, ErrNoHome},
		{"zeros found", l.Homed, nil},
		{"homed", func() error { return begins(t.Context(), &l, false) }, nil},
		{"lost its place", func() error { l.Distrust(lost); return begins(t.Context(), &l, false) }, lost},
		{"halted while homing", func() error { l.Hold(); return l.Homed() }, ErrHalted},
		{"halted", func() error { return begins(t.Context(), &l, false) }, ErrHalted},
	} {
		if err := c.do(); !errors.Is(err, c.want) {
			t.Errorf("%s: %v, want %v", c.what, err, c.want)
		}
	}
}

// One motion runs at a time; a halt ends it.
func TestLatchStops(t *testing.T) {
	var l Latch
	ctx, end, err := l.Begin(t.Context(), true)
	if err != nil {
		t.Fatal(err)
	}
	if err := begins(t.Context(), &l, true); !errors.Is(err, ErrBusy) {
		t.Errorf("a second one: %v", err)
	}
	l.Hold()
	l.Stop()
	if cause := context.Cause(ctx); !errors.Is(cause, ErrHalted) {
		t.Errorf("it ends for %v", cause)
	}
	end()
	l.Stop() // nothing runs
}

// A homing that never began takes no halt back.
func TestHaltOutlivesAHomingCalledOff(t *testing.T) {
	var l Latch
	_ = begins(t.Context(), &l, true)
	if err := l.Homed(); err != nil {
		t.Fatal(err)
	}
	l.Hold()
	ended, cancel := context.WithCancel(t.Context())
	cancel()
	if err := begins(ended, &l, true); !errors.Is(err, context.Canceled) {
		t.Errorf("homing: %v", err)
	}
	if err := begins(t.Context(), &l, false); !errors.Is(err, ErrHalted) {
		t.Errorf("a move afterwards: %v", err)
	}
}
