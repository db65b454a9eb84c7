// SPDX-License-Identifier: Apache-2.0

package gcode

import (
	"bytes"
	"fmt"
	"io"
	"math"
	"strings"
	"sync"
	"time"
)

// pipe is one direction of a wire, with room for everything.
type pipe struct {
	mu     sync.Mutex
	come   *sync.Cond
	buf    bytes.Buffer
	closed bool
}

func newPipe() *pipe {
	p := &pipe{}
	p.come = sync.NewCond(&p.mu)
	return p
}

func (p *pipe) Read(b []byte) (int, error) {
	p.mu.Lock()
	defer p.mu.Unlock()
	for p.buf.Len() == 0 {
		if p.closed {
			return 0, io.EOF
		}
		p.come.Wait()
	}
	return p.buf.Read(b)
}

func (p *pipe) Write(b []byte) (int, error) {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.closed {
		return 0, io.ErrClosedPipe
	}
	p.come.Broadcast()
	return p.buf.Write(b)
}

func (p *pipe) Close() error {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.closed = true
	p.come.Broadcast()
	return nil
}

func (p *pipe) isClosed() bool {
	p.mu.Lock()
	defer p.mu.Unlock()
	return p.closed
}

// end is one end of a wire.
type end struct{ in, out *pipe }

func (e end) Read(b []byte) (int, error)  { return e.in.Read(b) }
func (e end) Write(b []byte) (int, error) { return e.out.Write(b) }
func (e end) Close() error                { _ = e.in.Close(); return e.out.Close() }

// peer is a small controller for tests, by the firmware's published interface
// description: it keeps count of its buffer, plans 15 lines ahead, moves at the feed
// without ramps, and misbehaves as told.
type peer struct {
	mu       sync.Mutex
	wire     end
	rx       []byte
	most     int // bytes that lay in rx at once
	queue    []work
	at       [3]float64 // mm
	state    string
	spindle  string
	feed     float64
	settings map[int]string
	lines    []string // taken
	realtime []byte   // taken
	dry      int      // times it ran out of lines before the dwell
	homed    bool
	say      func(n int, line string) string // changes the n-th answer to a motion
	answers  int
	homing   time.Duration
	asked    time.Time     // for its status, last
	gap      time.Duration // the least between two such questions
	dwells   time.Duration
}

// work is one line being moved along.
type work struct {
	to   [3]float64
	left time.Duration
	from [3]float64
	all  time.Duration
}

// benchSettings are those of the rig of benchRig.
func benchSettings() map[int]string {
	return map[int]string{10: "1", 11: "0.010", 13: "0", 20: "1", 22: "1", 23: "7", 24: "100.000", 25: "3000.000", 27: "2.000", 30: "1000", 32: "0",
		100: "80.000", 101: "80.000", 102: "400.000", 110: "7200.000", 111: "7200.000", 112: "2400.000",
		120: "400.000", 121: "400.000", 122: "400.000", 130: "338.000", 131: "338.000", 132: "30.000"}
}

// newPeer begins a controller; the other end of its wire is returned.
func newPeer() (*peer, end) {
	a, b := newPipe(), newPipe()
	p := &peer{wire: end{a, b}, settings: benchSettings(), state: "Alarm", homing: 3 * time.Second, gap: time.Hour}
	go p.read()
	go p.run()
	return p, end{b, a}
}

// read takes bytes in.
func (p *peer) read() {
	buf := make([]byte, 64)
	for {
		n, err := p.wire.Read(buf)
		p.mu.Lock()
		for _, c := range buf[:n] {
			p.byte(c)
		}
		p.mu.Unlock()
		if err != nil {
			_ = p.wire.out.Close()
			return
		}
	}
}

func (p *peer) byte(c byte) {
	switch c {
	case askStatus:
		p.realtime = append(p.realtime, c)
		p.gap = min(p.gap, time.Since(p.asked))
		p.asked = time.Now()
		if p.state != "Home" {
			p.tell(fmt.Sprintf("<%s|MPos:%.3f,%.3f,%.3f|FS:0,0>", p.state, p.at[0], p.at[1], p.at[2]))
		}
	case feedHold:
		p.realtime = append(p.realtime, c)
		if p.state == "Run" || p.state == "Idle" {
			p.state = "Hold:0"
		}
	case softReset:
		p.realtime = append(p.realtime, c)
		if p.state == "Run" || p.state == "Home" {
			p.homed = false
			p.tell(map[string]string{"Run": "ALARM:3", "Home": "ALARM:6"}[p.state])
		}
		p.rx, p.queue, p.spindle, p.dwells = nil, nil, "", 0
		p.state = "Idle"
		if !p.homed {
			p.state = "Alarm"
		}
		p.tell("")
		p.tell("Grbl 1.1h ['$' for help]")
		if !p.homed {
			p.tell("[MSG:'$H'|'$X' to unlock]")
		}
	default:
		p.rx = append(p.rx, c)
		p.most = max(p.most, len(p.rx))
	}
}

func (p *peer) tell(line string) { _, _ = p.wire.Write([]byte(line + "\r\n")) }

// run works in steps of a millisecond.
func (p *peer) run() {
	const step = time.Millisecond
	for {
		time.Sleep(step)
		p.mu.Lock()
		p.work(step)
		p.mu.Unlock()
		if p.wire.in.isClosed() {
			return
		}
	}
}

func (p *peer) work(step time.Duration) {
	if strings.HasPrefix(p.state, "Hold") {
		return
	}
	if p.dwells > 0 {
		if p.dwells -= step; p.dwells <= 0 {
			p.tell("ok")
			if p.state == "Home" {
				p.state, p.homed = "Idle", true
				p.at = [3]float64{-336, -336, -28}
			}
		}
		return
	}
	if len(p.queue) > 0 {
		p.state = "Run"
		w := &p.queue[0]
		w.left -= step
		share := 1 - math.Max(0, float64(w.left)/float64(w.all))
		for i := range p.at {
			p.at[i] = w.from[i] + share*(w.to[i]-w.from[i])
		}
		if w.left <= 0 {
			p.at = w.to
			if p.queue = p.queue[1:]; len(p.queue) == 0 {
				p.state = "Idle"
				if i := bytes.IndexByte(p.rx, '\n'); i < 0 || !bytes.HasPrefix(p.rx, []byte("G4")) {
					p.dry++
				}
			}
		}
	}
	for len(p.queue) < 15 && p.dwells == 0 {
		i := bytes.IndexByte(p.rx, '\n')
		if i < 0 || bytes.HasPrefix(p.rx, []byte("G4")) && len(p.queue) > 0 {
			return
		}
		line := string(p.rx[:i])
		p.rx = p.rx[i+1:]
		p.lines = append(p.lines, line)
		p.line(line)
	}
}

func (p *peer) line(line string) {
	switch {
	case line == "$I":
		p.tell("[VER:1.1h.20190825:]")
		p.tell("[OPT:VL,16,128]")
	case line == "$$":
		for n := range 140 {
			if v, ok := p.settings[n]; ok {
				p.tell(fmt.Sprintf("$%d=%s", n, v))
			}
		}
	case line == "$X":
		p.state = "Idle"
		p.tell("[MSG:Caution: Unlocked]")
	case line == "$H":
		p.state, p.dwells = "Home", p.homing
		return
	case p.state == "Alarm":
		p.tell("error:9")
		return
	case strings.HasPrefix(line, "G4P"):
		s, _ := parseNumber(line[3:])
		p.dwells = time.Duration(s * float64(time.Second))
		return
	case strings.HasPrefix(line, "M"):
		p.spindle = line
	case strings.HasPrefix(line, "G53G1"):
		p.motion(line[5:])
		p.answers++
		if p.say != nil {
			if s := p.say(p.answers, "ok\r\n"); s != "" {
				_, _ = p.wire.Write([]byte(s))
			}
			return
		}
	}
	p.tell("ok")
}

func (p *peer) motion(words string) {
	w := work{from: p.at}
	if n := len(p.queue); n > 0 {
		w.from = p.queue[n-1].to
	}
	w.to = w.from
	for words != "" {
		n := 1 + strings.IndexAny(words[1:]+"X", "XYZF")
		v, _ := parseNumber(words[1:n])
		if i := strings.IndexByte("XYZ", words[0]); i >= 0 {
			w.to[i] = v
		} else {
			p.feed = v
		}
		words = words[n:]
	}
	d := 0.0
	for i := range w.to {
		d += (w.to[i] - w.from[i]) * (w.to[i] - w.from[i])
	}
	w.all = time.Duration(math.Sqrt(d) / p.feed * float64(time.Minute))
	w.left = w.all
	p.queue = append(p.queue, w)
}
