// SPDX-License-Identifier: Apache-2.0

package firmware

import (
	"io"
	"sync"
	"time"

	"boardhand/internal/gantry/clock"
)

// Server is a firmware that lives in bed time, with or without somebody connected.
type Server struct {
	clock *clock.Clock
	mu    sync.Mutex
	f     *Firmware
}

// NewServer gives a firmware its clock.
func NewServer(f *Firmware, c *clock.Clock) *Server { return &Server{clock: c, f: f} }

// Do runs something on the firmware as it is now; only then may it be touched.
func (s *Server) Do(what func(f *Firmware)) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.f.Advance(s.clock.Now())
	what(s.f)
}

// Counters are what happened until now.
func (s *Server) Counters() (c Counters) {
	s.Do(func(f *Firmware) { c = f.Counters() })
	return c
}

// Serve connects the firmware to a stream until the stream ends; its error is that
// of the stream, nil for its end. It closes the stream. One stream at a time.
func (s *Server) Serve(stream io.ReadWriteCloser) error {
	received, gone := make(chan []byte), make(chan struct{})
	defer close(gone)
	defer stream.Close()
	var failed error
	go func() {
		defer close(received)
		for {
			p := make([]byte, 256)
			n, err := stream.Read(p)
			if n > 0 {
				select {
				case received <- p[:n]:
				case <-gone:
					return
				}
			}
			if err != nil {
				if err != io.EOF {
					failed = err
				}
				return
			}
		}
	}()
	for {
		next := s.send(stream)
		select {
		case p, ok := <-received:
			if !ok {
				return failed
			}
			s.Do(func(f *Firmware) { f.Receive(p) })
		case <-next:
		}
	}
}

// send writes what has left the controller and says when to look again.
func (s *Server) send(stream io.Writer) <-chan time.Time {
	var out []byte
	var next <-chan time.Time
	s.Do(func(f *Firmware) {
		out = f.Take()
		if at := f.Next(); at != never {
			next = s.clock.After(at - f.Now())
		}
	})
	if len(out) > 0 {
		_, _ = stream.Write(out) // who does not listen does not hear; Read tells of a broken stream
	}
	return next
}
