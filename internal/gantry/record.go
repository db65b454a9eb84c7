// SPDX-License-Identifier: Apache-2.0

package gantry

import (
	"fmt"
	"io"
	"sync"
	"time"
)

// Recorder is a wire that writes down every byte in both directions: a line for
// each piece, with the milliseconds since the start, > for what went to the
// controller, < for what came back, and the bytes as a quoted text.
type Recorder struct {
	wire  io.ReadWriteCloser
	mu    sync.Mutex
	log   io.Writer
	begun time.Time
}

// Record writes what passes through a wire into a log, which playback.New reads.
func Record(wire io.ReadWriteCloser, log io.Writer) *Recorder {
	return &Recorder{wire: wire, log: log, begun: time.Now()}
}

// Read reads from the controller.
func (r *Recorder) Read(p []byte) (int, error) {
	n, err := r.wire.Read(p)
	r.note('<', p[:n])
	return n, err
}

// Write writes to the controller. What goes out is noted first, so that no
// answer stands before its question.
func (r *Recorder) Write(p []byte) (int, error) {
	r.note('>', p)
	return r.wire.Write(p)
}

// Close closes the wire.
func (r *Recorder) Close() error { return r.wire.Close() }

// note writes a line; a log that cannot be written stops no motor.
func (r *Recorder) note(way byte, p []byte) {
	if len(p) == 0 {
		return
	}
	r.mu.Lock()
	defer r.mu.Unlock()
	_, _ = fmt.Fprintf(r.log, "%d %c %q\n", time.Since(r.begun).Milliseconds(), way, p)
}

// Recorded writes what passes through every wire that is opened into one log.
func Recorded(open Opener, log io.Writer) Opener {
	return func() (io.ReadWriteCloser, error) {
		wire, err := open()
		if err != nil {
			return nil, err
		}
		return Record(wire, log), nil
	}
}
