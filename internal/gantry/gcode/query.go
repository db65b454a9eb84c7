// SPDX-License-Identifier: Apache-2.0

package gcode

import (
	"boardhand/internal/gantry"
	"context"
	"time"
)

// query asks for the status, at most five times a second.
func (l *link) query(ctx context.Context) (status, error) {
	if err := gantry.Pause(ctx, time.Until(l.asked.Add(askEvery))); err != nil {
		return status{}, err
	}
	l.asked = time.Now()
	l.mu.Lock()
	seen := l.statuses
	l.mu.Unlock()
	if err := l.write(askStatus); err != nil {
		l.fail(errWire(err))
		return status{}, l.why()
	}
	for end := time.Now().Add(patience); ; {
		l.mu.Lock()
		s, n, changed := l.status, l.statuses, l.changed
		l.mu.Unlock()
		if n > seen {
			return s, nil
		}
		if err := l.wait(ctx, changed, time.Until(end)); err != nil {
			return status{}, err
		}
	}
}
