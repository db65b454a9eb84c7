// SPDX-License-Identifier: Apache-2.0

package wire

import (
	"io"
	"sync"
)

// Pipe is a stream between two ends that has room for everything: who writes never
// waits, as on a serial line without flow control. Closing one end ends both; what
// was written before can still be read.
func Pipe() (host, device io.ReadWriteCloser) {
	a, b := newLane(), newLane()
	return end{a, b}, end{b, a}
}

type end struct{ in, out *lane }

func (e end) Read(p []byte) (int, error)  { return e.in.read(p) }
func (e end) Write(p []byte) (int, error) { return e.out.write(p) }
func (e end) Close() error                { e.in.close(); e.out.close(); return nil }

// lane is one direction.
type lane struct {
	mu      sync.Mutex
	changed *sync.Cond
	bytes   []byte
	isOver  bool
}

func newLane() *lane {
	l := &lane{}
	l.changed = sync.NewCond(&l.mu)
	return l
}

func (l *lane) read(p []byte) (int, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	for len(l.bytes) == 0 && !l.isOver {
		l.changed.Wait()
	}
	if len(l.bytes) == 0 {
		return 0, io.EOF
	}
	n := copy(p, l.bytes)
	l.bytes = l.bytes[n:]
	return n, nil
}

func (l *lane) write(p []byte) (int, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	if l.isOver {
		return 0, io.ErrClosedPipe
	}
	l.bytes = append(l.bytes, p...)
	l.changed.Broadcast()
	return len(p), nil
}

func (l *lane) close() {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.isOver = true
	l.changed.Broadcast()
}
