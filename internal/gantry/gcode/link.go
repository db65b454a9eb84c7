// SPDX-License-Identifier: Apache-2.0

package gcode

import (
	"context"
	"errors"
	"fmt"
	"io"
	"strings"
	"sync"
	"time"

	"boardhand/internal/gantry"
)

// Real-time bytes: the controller takes them out of the stream at once, wherever
// they stand, and answers no ok. Source: the firmware's published interface description.
const (
	askStatus  = '?'
	feedHold   = '!'
	cycleStart = '~'
	softReset  = 0x18
)

// mode is how far a link can be trusted.
type mode int

const (
	isBroken   mode = iota // nothing is sent, nothing believed
	isStarting             // a reset was sent, its banner is awaited
	isSettling             // the banner came; what else is said at the start is let pass
	isReady                // each line is answered in turn
)

// link is the conversation with a controller over one wire. Whatever does not fit
// the protocol breaks it: feed hold and reset are sent, and nothing more until
// restart. One goroutine sends lines; real-time bytes may come from others.
type link struct {
	wire    io.ReadWriteCloser
	tell    func(error) // of each break
	writing sync.Mutex  // held while bytes are written

	mu       sync.Mutex
	mode     mode
	fault    error         // that broke the link
	isLost   bool          // the wire itself is gone
	broken   chan struct{} // closed when the link breaks
	stopped  chan struct{} // closed when the break's bytes are out
	count    counter
	sent     []*ticket
	changed  chan struct{} // closed and renewed with each answer
	banner   string
	notes    []reply   // said while an exchange waits
	isAsking bool      // an exchange waits
	isHeld   bool      // the stroke stands on its way: its lines are answered late
	wentOn   time.Time // when the last hold ended
	status   status
	statuses int       // how many came
	asked    time.Time // when ? was sent last
}

// ticket is a line on its way.
type ticket struct {
	line string
	done chan struct{} // closed when it was taken
}

// newLink begins to read a wire; the link is broken until restart.
func newLink(wire io.ReadWriteCloser, tell func(error)) *link {
	l := &link{wire: wire, tell: tell, fault: gantry.ErrNoHome, broken: make(chan struct{}), stopped: make(chan struct{}), changed: make(chan struct{})}
	close(l.broken)
	close(l.stopped)
	go l.read()
	return l
}

// read takes the wire's bytes apart into lines until it ends.
func (l *link) read() {
	var line []byte
	buf := make([]byte, 256)
	for {
		n, err := l.wire.Read(buf)
		for _, c := range buf[:n] {
			if c != '\n' && c != '\r' {
				if line = append(line, c); len(line) <= longestReply {
					continue
				}
			}
			if len(line) > 0 {
				l.take(string(line))
			}
			line = line[:0]
		}
		if err != nil {
			l.lose(err)
			return
		}
	}
}

// lose breaks the link for good.
func (l *link) lose(err error) {
	l.mu.Lock()
	l.isLost = true
	l.mu.Unlock()
	l.fail(errWire(err))
	_ = l.wire.Close()
}

// take does what a line asks for.
func (l *link) take(line string) {
	r := parseReply(line)
	l.mu.Lock()
	var err error
	switch {
	case l.mode == isStarting && r.kind == isBanner:
		l.mode, l.banner = isSettling, line
		l.change()
	case l.mode == isReady:
		err = l.answer(r)
	}
	l.mu.Unlock()
	if err != nil {
		l.fail(err)
	}
}

// answer takes a reply; an error breaks the link.
func (l *link) answer(r reply) error {
	switch r.kind {
	case isOK, isError:
		if !l.count.answer() {
			return fmt.Errorf("the controller answered a line too many (%q): home, and look at the cable if it comes again", r.text)
		}
		t := l.sent[0]
		l.sent = l.sent[1:]
		if r.kind == isError {
			return &Refusal{Line: t.line, Number: r.number}
		}
		close(t.done)
	case isAlarm:
		return &Alarm{r.number}
	case isBanner:
		return fmt.Errorf("the controller started anew by itself: look at its supply and its reset button, then home")
	case isStatus:
		if r.status.isWork {
			return errors.New("the controller tells positions in work coordinates: type $10=1, then home")
		}
		l.status = r.status
		l.statuses++
	case isSetting, isNote:
		if l.isAsking {
			l.notes = append(l.notes, r)
		} else if r.kind == isSetting {
			return fmt.Errorf("the controller told a setting that nobody asked for (%q): home", r.text)
		}
	case isStored:
	default:
		return fmt.Errorf("the controller said what is no reply (%.40q): check controller.baud and the cable, then home", r.text)
	}
	l.change()
	return nil
}

// change wakes who waits for an answer.
func (l *link) change() {
	close(l.changed)
	l.changed = make(chan struct{})
}

// fail breaks the link: motion stops where the wire lives. Only the first
// reason counts.
func (l *link) fail(err error) {
	l.mu.Lock()
	if l.mode == isBroken {
		if l.isLost {
			l.fault = err
		}
		l.mu.Unlock()
		return
	}
	l.mode, l.fault = isBroken, err
	isLost, stopped := l.isLost, make(chan struct{})
	l.stopped = stopped
	close(l.broken)
	l.mu.Unlock()
	go func() { // the reader goes on meanwhile: a controller may wait for it
		defer close(stopped)
		if !isLost {
			_ = l.write(feedHold, softReset)
		}
	}()
	l.tell(err)
}

// close ends the conversation without a complaint.
func (l *link) close() error {
	l.awaitStop()
	l.mu.Lock()
	if l.mode != isBroken {
		l.mode, l.fault = isBroken, gantry.ErrHalted
		close(l.broken)
	}
	l.mu.Unlock()
	return l.wire.Close()
}

// awaitStop waits until the bytes that stop the motion are out.
func (l *link) awaitStop() {
	l.mu.Lock()
	stopped := l.stopped
	l.mu.Unlock()
	<-stopped
}

// why is what broke the link; nil while it is whole.
func (l *link) why() error {
	l.mu.Lock()
	defer l.mu.Unlock()
	if l.mode == isBroken {
		return l.fault
	}
	return nil
}

// write writes real-time bytes.
func (l *link) write(b ...byte) error {
	l.writing.Lock()
	defer l.writing.Unlock()
	return l.put(b)
}

// put writes all bytes; writing is held.
func (l *link) put(b []byte) error {
	for len(b) > 0 {
		n, err := l.wire.Write(b)
		if err != nil {
			return err
		}
		b = b[n:]
	}
	return nil
}

// send sends a line once the receive buffer has room for it; within is how long
// an answer may take that makes room.
func (l *link) send(ctx context.Context, line string, within time.Duration) (*ticket, error) {
	for {
		l.writing.Lock()
		t, changed, err := l.book(line)
		if t != nil {
			err = l.put([]byte(line + "\n"))
		}
		l.writing.Unlock()
		if t != nil && err != nil {
			l.fail(errWire(err))
		}
		if t != nil || err != nil {
			return t, err
		}
		if err := l.wait(ctx, changed, within); err != nil {
			return nil, err
		}
	}
}

// book gives a line its place in the receive buffer; nil and what to wait for
// when there is none now.
func (l *link) book(line string) (*ticket, chan struct{}, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	if l.mode != isReady {
		return nil, nil, l.fault
	}
	if !l.count.fits(len(line) + 1) {
		return nil, l.changed, nil
	}
	t := &ticket{line, make(chan struct{})}
	l.count.send(len(line) + 1)
	l.sent = append(l.sent, t)
	return t, nil, nil
}

// wait waits for the answer to a line; one that does not come within its time, holds
// aside, breaks the link.
func (l *link) wait(ctx context.Context, answered <-chan struct{}, within time.Duration) error {
	return l.waitFor(ctx, answered, within, l.excused)
}

// waitFor is wait with an excuse: how much longer an answer that is late may take.
func (l *link) waitFor(ctx context.Context, answered <-chan struct{}, within time.Duration, excuse func(time.Duration) time.Duration) error {
	l.mu.Lock()
	broken := l.broken
	l.mu.Unlock()
	timer := time.NewTimer(within)
	defer timer.Stop()
	for {
		select {
		case <-answered:
			return nil
		case <-broken:
			return l.why()
		case <-ctx.Done():
			return context.Cause(ctx)
		case <-timer.C:
		}
		if more := excuse(within); more > 0 {
			timer.Reset(more)
			continue
		}
		l.fail(fmt.Errorf("the controller left something unanswered for %v: look at its supply and the cable, then home", within.Round(time.Second/10)))
		return l.why()
	}
}

// waiting says how many lines are not answered yet.
func (l *link) waiting() int {
	l.mu.Lock()
	defer l.mu.Unlock()
	return len(l.sent)
}

// isStarved says whether a motion was sent and is not answered yet.
func (l *link) isStarved() bool {
	l.mu.Lock()
	defer l.mu.Unlock()
	return len(l.sent) > 0 && strings.HasPrefix(l.sent[0].line, motionWord)
}

// ask sends a line by itself, no other being on its way, and returns what the
// controller says before it answers.
func (l *link) ask(ctx context.Context, line string, within time.Duration) ([]reply, error) {
	if n := l.waiting(); n > 0 {
		return nil, fmt.Errorf("%d lines are still on their way: home", n) // no caller leaves any
	}
	l.mu.Lock()
	l.notes, l.isAsking = nil, true
	l.mu.Unlock()
	t, err := l.send(ctx, line, within)
	if err == nil {
		err = l.wait(ctx, t.done, within)
	}
	l.mu.Lock()
	defer l.mu.Unlock()
	l.isAsking = false
	return l.notes, err
}
