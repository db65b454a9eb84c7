// SPDX-License-Identifier: Apache-2.0

// Package playback plays back what was recorded of the talk with a motor controller.
// Only tests import it.
package playback

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"
	"sync"
	"time"
)

// piece is a line of a recorded log.
type piece struct {
	at    time.Duration // since the start of the recording
	isOut bool          // to the controller
	text  string
}

// Playback is a wire that answers as a recorded log has it: a piece comes when
// everything noted before it was written, and not before its time.
type Playback struct {
	mu     sync.Mutex
	pieces []piece
	next   int // piece that comes next
	broken error
	begun  time.Time
	moved  chan struct{} // closed when anything changed
	closed bool
}

// New reads a log that a gantry.Recorder wrote. Lines that begin with # are notes.
func New(log io.Reader) (*Playback, error) {
	p := &Playback{begun: time.Now(), moved: make(chan struct{})}
	s := bufio.NewScanner(log)
	for n := 1; s.Scan(); n++ {
		line := strings.TrimSpace(s.Text())
		if line == "" || line[0] == '#' {
			continue
		}
		w := strings.SplitN(line, " ", 3)
		if len(w) != 3 || w[1] != ">" && w[1] != "<" {
			return nil, fmt.Errorf("line %d of the log: want milliseconds, > or <, and a quoted text; got %q", n, line)
		}
		ms, err := strconv.Atoi(w[0])
		if err != nil {
			return nil, fmt.Errorf("line %d of the log: %q is no number of milliseconds", n, w[0])
		}
		text, err := strconv.Unquote(w[2])
		if err != nil {
			return nil, fmt.Errorf("line %d of the log: %s is no quoted text", n, w[2])
		}
		p.pieces = append(p.pieces, piece{time.Duration(ms) * time.Millisecond, w[1] == ">", text})
	}
	return p, s.Err()
}

// Read waits for the next piece from the controller; io.EOF at the log's end.
func (p *Playback) Read(b []byte) (int, error) {
	for {
		p.mu.Lock()
		if p.closed || p.broken != nil || p.next >= len(p.pieces) {
			p.mu.Unlock()
			return 0, io.EOF
		}
		next := p.pieces[p.next]
		wait := next.at - time.Since(p.begun)
		if !next.isOut && wait <= 0 {
			n := copy(b, next.text)
			p.pieces[p.next].text = next.text[n:]
			p.skip()
			p.mu.Unlock()
			return n, nil
		}
		moved := p.moved
		p.mu.Unlock()
		if next.isOut {
			<-moved
			continue
		}
		select {
		case <-moved:
		case <-time.After(wait):
		}
	}
}

// skip goes on to the next piece that is not used up.
func (p *Playback) skip() {
	for p.next < len(p.pieces) && p.pieces[p.next].text == "" {
		p.next++
	}
}

// Write takes what the log says is written next, anything else is an error.
func (p *Playback) Write(b []byte) (int, error) {
	p.mu.Lock()
	defer p.mu.Unlock()
	defer p.change()
	for i, c := range b {
		at := p.out()
		if at < 0 || p.pieces[at].text[0] != c {
			p.broken = p.differs(b[i:], at)
			return i, p.broken
		}
		p.pieces[at].text = p.pieces[at].text[1:]
		if at == p.next {
			p.skip()
		}
	}
	return len(b), nil
}

// out is the piece that is written next; -1 when the log has none.
func (p *Playback) out() int {
	for i := p.next; i < len(p.pieces); i++ {
		if p.pieces[i].isOut && p.pieces[i].text != "" {
			return i
		}
	}
	return -1
}

func (p *Playback) differs(got []byte, at int) error {
	if at < 0 {
		return fmt.Errorf("%q was written after the end of the log", got)
	}
	return fmt.Errorf("%q was written where the log has %q", got, p.pieces[at].text)
}

// change wakes who waits.
func (p *Playback) change() {
	close(p.moved)
	p.moved = make(chan struct{})
}

// Close ends the playback.
func (p *Playback) Close() error {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.closed = true
	p.change()
	return nil
}

// Err says what was written that the log does not have, or what the log has
// that was not written.
func (p *Playback) Err() error {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.broken != nil {
		return p.broken
	}
	if at := p.out(); at >= 0 {
		return errors.New("not written: " + strconv.Quote(p.pieces[at].text))
	}
	return nil
}
