// SPDX-License-Identifier: Apache-2.0

package gcode

import (
	"context"
	"strings"
	"time"

	"boardhand/internal/gantry"
)

// status is the answer to ?. Source: the firmware's published interface
// description: the first field is the state, the second the position, the others
// come in any order and may be absent.
type status struct {
	state  string     // "Idle", "Run", "Hold", …, without its number
	sub    string     // its number: "0" of a hold that is complete
	at     [3]float64 // mm
	isWork bool       // at is in work coordinates
}

// states are the states that there are.
var states = map[string]bool{"Idle": true, "Run": true, "Hold": true, "Jog": true, "Alarm": true, "Door": true, "Check": true, "Home": true, "Sleep": true}

// parseStatus reads <...>; false for what is no status.
func parseStatus(line string) (status, bool) {
	var s status
	if len(line) < 3 || line[0] != '<' || line[len(line)-1] != '>' {
		return s, false
	}
	fields := strings.Split(line[1:len(line)-1], "|")
	s.state, s.sub, _ = strings.Cut(fields[0], ":")
	if !states[s.state] || len(fields) < 2 {
		return s, false
	}
	key, value, _ := strings.Cut(fields[1], ":")
	at, ok := parseNumbers(value, 3)
	if !ok || key != "MPos" && key != "WPos" {
		return s, false
	}
	s.at, s.isWork = [3]float64(at), key == "WPos"
	for _, f := range fields[2:] { // nothing of them is needed
		if !strings.Contains(f, ":") {
			return s, false
		}
	}
	return s, true
}

// parseNumbers reads that many numbers with commas between them; more are let
// pass, since a controller may have further axes.
func parseNumbers(text string, n int) ([]float64, bool) {
	parts := strings.Split(text, ",")
	if len(parts) < n {
		return nil, false
	}
	out := make([]float64, n)
	for i := range out {
		v, ok := parseNumber(parts[i])
		if !ok {
			return nil, false
		}
		out[i] = v
	}
	return out, true
}

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
		if err := l.waitFor(ctx, changed, time.Until(end), unexcused); err != nil {
			return status{}, err
		}
	}
}
