// SPDX-License-Identifier: Apache-2.0

package firmware

import (
	"math"
	"time"
)

// receiveSize is the receive buffer (repository gnea/grbl, doc/markdown:
// [OPT:VL,16,128]).
const receiveSize = 128

// never is a time that does not come.
const never = time.Duration(math.MaxInt64)

// wire is the serial line at the controller's end: bytes take their time both ways.
type wire struct {
	each     time.Duration // that a byte takes
	coming   []byte        // on the way here; the first arrives at arrives
	arrives  time.Duration
	buffer   []byte // received, not read yet
	line     []byte // read, not ended yet
	isLong   bool   // the line has lost bytes
	hadCR    bool
	leaving  []parcel
	sentTill time.Duration
}

// parcel is an answer on its way out.
type parcel struct {
	text []byte
	at   time.Duration // when its last byte has left
}

// newWire makes a line of so many bits a second, ten bits a byte.
func newWire(baud int) wire {
	return wire{each: time.Duration(10 * float64(time.Second) / float64(baud))}
}

// forget empties what was received; what is on the way still comes.
func (w *wire) forget() { w.buffer, w.line, w.isLong = nil, nil, false }

// next is when something arrives or has left, after now.
func (w *wire) next(now time.Duration) time.Duration {
	next := never
	if len(w.coming) > 0 {
		next = w.arrives
	}
	for _, p := range w.leaving {
		if p.at > now {
			return min(next, p.at)
		}
	}
	return next
}

// Receive takes bytes that somebody began to send now.
func (f *Firmware) Receive(p []byte) {
	w := &f.wire
	if len(w.coming) == 0 {
		w.arrives = f.now + w.each
	}
	w.coming = append(w.coming, p...)
}

// Take returns what has left the controller by now.
func (f *Firmware) Take() []byte {
	var out []byte
	w := &f.wire
	for len(w.leaving) > 0 && w.leaving[0].at <= f.now {
		out = append(out, w.leaving[0].text...)
		w.leaving = w.leaving[1:]
	}
	return out
}

// say sends a line.
func (f *Firmware) say(text string) {
	w := &f.wire
	p := []byte(text + "\r\n")
	w.sentTill = max(w.sentTill, f.now) + time.Duration(len(p))*w.each
	w.leaving = append(w.leaving, parcel{p, w.sentTill})
}

// listen takes in all bytes that have arrived: some act at once, the others
// wait in the buffer as long as there is room.
func (f *Firmware) listen() {
	w := &f.wire
	for len(w.coming) > 0 && w.arrives <= f.now {
		b := w.coming[0]
		w.coming = w.coming[1:]
		w.arrives += w.each
		f.count.Bytes++
		switch {
		case f.writing > f.now:
			f.count.Written++
		case f.instant(b):
		case len(w.buffer) >= receiveSize:
			f.count.Overrun++
		default:
			w.buffer = append(w.buffer, b)
		}
		f.work()
	}
}

// nextLine reads the buffer up to the end of a line; false: none has ended yet.
func (w *wire) nextLine() (line string, isLong, ok bool) {
	for len(w.buffer) > 0 {
		b := w.buffer[0]
		w.buffer = w.buffer[1:]
		wasCR := w.hadCR
		w.hadCR = b == '\r'
		switch {
		case b == '\n' && wasCR: // the end of a line that has been read
		case b == '\r' || b == '\n':
			line, isLong = string(w.line), w.isLong
			w.line, w.isLong = nil, false
			return line, isLong, true
		case len(w.line) >= longestLine:
			w.isLong = true
		default:
			w.line = append(w.line, b)
		}
	}
	return "", false, false
}

// instant does what a real-time byte asks for; false: it is none.
func (f *Firmware) instant(b byte) bool {
	switch {
	case b == '?':
		f.report()
	case b == '!':
		f.hold()
	case b == '~':
		f.resume()
	case b == 0x18:
		f.reset()
	case b >= 0x80:
		f.extended(b)
	default:
		return false
	}
	return true
}

// extended does the real-time bytes beyond ASCII; unknown ones do nothing.
func (f *Firmware) extended(b byte) {
	switch b {
	case 0x84:
		f.openDoor()
	case 0x85:
		if f.state == jogging {
			f.queue.Hold()
			f.settle(false)
		}
	case 0x90:
		f.override(100, f.ask.rapid)
	case 0x91, 0x92, 0x93, 0x94:
		f.override(f.ask.feed+[]int{10, -10, 1, -1}[b-0x91], f.ask.rapid)
	case 0x95, 0x96, 0x97:
		f.override(f.ask.feed, []int{100, 50, 25}[b-0x95])
	case 0x9E:
		if f.state == held {
			f.axes.Spindle(0, f.now)
		}
	case 0xA0:
		f.modal.Flood = !f.modal.Flood
		f.axes.Flood(f.modal.Flood, f.now)
	}
}

// override sets the overrides, per cent; the feed's stays within 10 and 200.
func (f *Firmware) override(feed, rapid int) {
	f.ask.feed, f.ask.rapid = max(10, min(200, feed)), rapid
	f.queue.Override(float64(f.ask.feed)/100, float64(rapid)/100)
}
