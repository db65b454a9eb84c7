// SPDX-License-Identifier: Apache-2.0

package gcode

import (
	"boardhand/internal/gantry"
	"context"
	"errors"
	"fmt"
	"strings"
)

// restart resets the controller and waits for its banner. All that was on its way
// is forgotten.
func (l *link) restart(ctx context.Context) error {
	l.awaitStop()
	l.mu.Lock()
	if l.isLost {
		l.mu.Unlock()
		return l.why()
	}
	if l.mode == isBroken {
		l.broken = make(chan struct{})
	}
	l.mode, l.fault, l.banner = isStarting, nil, ""
	l.count, l.sent = counter{size: bufferBytes}, nil
	l.mu.Unlock()
	banner, err := l.begin(ctx)
	if err != nil {
		l.fail(err)
		return err
	}
	if !strings.HasPrefix(banner, "Grbl 1.1") {
		err = fmt.Errorf("the controller says %.40q: install version 1.1 of its firmware", banner)
	} else {
		err = gantry.Pause(ctx, l.clock, quiet)
	}
	if err != nil {
		l.fail(err)
		return err
	}
	l.mu.Lock()
	if l.mode == isSettling {
		l.mode = isReady
	}
	l.mu.Unlock()
	return l.why()
}

// begin sends the reset until a banner comes.
func (l *link) begin(ctx context.Context) (string, error) {
	for range bannerTries {
		if err := l.write(softReset); err != nil {
			return "", errWire(err)
		}
		banner, err := l.hear(ctx)
		if err == nil || !errors.Is(err, errSilent) {
			return banner, err
		}
	}
	return "", errSilent
}

// hear waits for the banner; errSilent: none came in time.
func (l *link) hear(ctx context.Context) (string, error) {
	for end := l.clock.Now().Add(bannerTime); ; {
		l.mu.Lock()
		changed, broken, banner, fault := l.changed, l.broken, l.banner, l.fault
		isOff := l.mode == isBroken
		l.mu.Unlock()
		if isOff || banner != "" {
			return banner, fault
		}
		switch l.clock.Wait(end.Sub(l.clock.Now()), changed, broken, ctx.Done()) {
		case 2:
			return "", context.Cause(ctx)
		case -1:
			return "", errSilent
		}
	}
}

// resize takes the sizes that the controller told of its buffers.
func (l *link) resize(bytes int) {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.count.size = min(bytes, l.count.size)
}
