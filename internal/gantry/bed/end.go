// SPDX-License-Identifier: Apache-2.0

package bed

import (
	"io"
	"os"

	"boardhand/internal/gantry/clock"
)

// end is the driver's end of a wire to a controller.
type end struct {
	lines   *Lines
	in      []byte
	changed chan struct{} // closed and renewed when something arrived, or the wire broke
	isCut   bool
}

// arrive takes what has come; the bed's mu is held. Nobody hears it at a wire that broke.
func (e *end) arrive(p []byte) {
	if e != nil && len(p) > 0 {
		e.in = append(e.in, p...)
		e.change()
	}
}

// cut breaks the wire; the bed's mu is held.
func (e *end) cut() {
	e.isCut = true
	e.change()
}

func (e *end) change() {
	close(e.changed)
	e.changed = make(chan struct{})
}

// Read waits for what comes from the controller.
func (e *end) Read(p []byte) (int, error) {
	for {
		e.lines.mu.Lock()
		n, isCut, changed := copy(p, e.in), e.isCut, e.changed
		e.in = e.in[n:]
		e.lines.mu.Unlock()
		switch {
		case n > 0:
			return n, nil
		case isCut:
			return 0, io.EOF
		}
		e.lines.clock.Wait(clock.Forever, changed)
	}
}

// Write sends a command; it does not wait.
func (e *end) Write(p []byte) (int, error) {
	e.lines.mu.Lock()
	defer e.lines.mu.Unlock()
	if e.isCut || !e.lines.send(p) {
		return 0, os.ErrClosed
	}
	return len(p), nil
}

// Close ends the wire.
func (e *end) Close() error {
	e.lines.mu.Lock()
	defer e.lines.mu.Unlock()
	if !e.isCut {
		e.cut()
		e.lines.end = nil
	}
	return nil
}
