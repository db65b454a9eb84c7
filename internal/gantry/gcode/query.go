// SPDX-License-Identifier: Apache-2.0

package gcode

import (
	"boardhand/internal/gantry"
	"context"
)

// query asks for the status, at most five times a second.
func (l *link) query(ctx context.Context) (status, error) {
	if err := gantry.Pause(ctx, l.clock, l.asked.Add(askEvery).Sub(l.clock.Now())); err != nil {
		return status{}, err
	}
	l.asked = l.clock.Now()
	l.mu.Lock()
	seen := l.statuses
	l.mu.Unlock()
	if err := l.write(askStatus); err != nil {
		l.fail(errWire(err))
		return status{}, l.why()
	}
	for end := l.clock.Now().Add(patience); ; {
		l.mu.Lock()
		s, n, changed := l.status, l.statuses, l.changed
		l.mu.Unlock()
		if n > seen {
			return s, nil
		}
		if err := l.wait(ctx, changed, end.Sub(l.clock.Now())); err != nil {
			return status{}, err
		}
	}
}
