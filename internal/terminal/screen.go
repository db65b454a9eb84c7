// SPDX-License-Identifier: Apache-2.0

package terminal

import (
	"fmt"
	"io"
	"sync"
	"time"

	"boardhand/internal/unit"
)

// Screen prints without ever making the game wait: what nobody reads is
// dropped and counted, and a terminal that is gone is printed to no longer.
type Screen struct {
	to    io.Writer
	lines chan []byte
	done  chan struct{}

	mu      sync.Mutex
	dropped int
	closed  bool
}

func NewScreen(to io.Writer) *Screen {
	t := &Screen{to: to, lines: make(chan []byte, mostLines), done: make(chan struct{})}
	go t.print()
	return t
}

// Write takes a line; it does not wait, and never fails.
func (t *Screen) Write(p []byte) (int, error) {
	t.mu.Lock()
	defer t.mu.Unlock()
	if t.closed {
		return len(p), nil
	}
	line := append([]byte(nil), p...)
	if t.dropped > 0 {
		line = append(fmt.Appendf(nil, "(%s not shown: nobody read them)\n", unit.Count(t.dropped, "line")), line...)
	}
	select {
	case t.lines <- line:
		t.dropped = 0
	default:
		t.dropped++
	}
	return len(p), nil
}

// print prints until the terminal is gone or closed.
func (t *Screen) print() {
	defer close(t.done)
	broken := false
	for line := range t.lines {
		if broken {
			continue
		}
		_, err := t.to.Write(line)
		broken = err != nil
	}
}

// Close prints what waits, if somebody reads it.
func (t *Screen) Close() {
	t.mu.Lock()
	if !t.closed {
		t.closed = true
		close(t.lines)
	}
	t.mu.Unlock()
	select {
	case <-t.done:
	case <-time.After(farewell):
	}
}
