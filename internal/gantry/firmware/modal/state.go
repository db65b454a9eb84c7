// SPDX-License-Identifier: Apache-2.0

// Package modal is what the simulated G-code firmware remembers from line to line,
// and what a line makes of it: commands in the order of table 8 of NISTIR 6556.
// Lengths mm, machine frame; feeds mm/min. It is arithmetic.
package modal

import (
	"boardhand/internal/gantry/firmware/blocks"
	"boardhand/internal/gantry/firmware/words"
)

// State is the modal state with offsets and stored places.
type State struct {
	Motion      int // G word in tenths
	Plane       int
	Inches      bool
	Incremental bool
	Inverse     bool // G93
	Feed        float64
	Speed       float64 // S
	Direction   int     // M3, M4, M5
	Flood       bool
	System      int           // 0…5: G54…G59
	At          blocks.Vector // where the programmed way has come to
	Shift       blocks.Vector // G92
	Systems     [6]blocks.Vector
	Stored      [2]blocks.Vector // G28.1, G30.1
	Tolerance   float64          // of arcs, mm
}

// Reset puts what a reset puts back: G0 G54 G17 G21 G90 G94 M5 M9 F0 S0 and no
// G92; what is stored stays.
func (s *State) Reset() {
	*s = State{Plane: 170, Direction: 5, At: s.At, Systems: s.Systems, Stored: s.Stored, Tolerance: s.Tolerance}
}

// Offset is what work coordinates are shifted by: machine = work + offset.
func (s *State) Offset() (v blocks.Vector) {
	for i := range v {
		v[i] = s.Systems[s.System][i] + s.Shift[i]
	}
	return v
}

// scale is millimetres in a unit of length.
func (s *State) scale() float64 {
	if s.Inches {
		return 25.4
	}
	return 1
}

// Interpret carries a line out on the state and returns what the machine is to do.
// A bad line changes nothing; its error is a words.Fault.
func (s *State) Interpret(l words.Line) ([]Command, error) {
	next := *s
	out, err := next.interpret(l)
	if err == nil {
		*s = next
	}
	return out, err
}

func (s *State) interpret(l words.Line) (out []Command, err error) {
	if err := s.feed(l); err != nil {
		return nil, err
	}
	out = s.spindle(l, out)
	if l.Is(words.NonModal, 40) {
		out = append(out, Command{Kind: Dwell, Seconds: l.Value['P']})
	}
	s.modes(l)
	if out, err = s.free(l, out); err != nil {
		return nil, err
	}
	if out, err = s.motion(l, out); err != nil {
		return nil, err
	}
	return s.stop(l, out), nil
}

// feed takes the feed mode, units and F in.
func (s *State) feed(l words.Line) error {
	if v, ok := l.Code[words.Units]; ok {
		s.Inches = v == 200
	}
	if v, ok := l.Code[words.FeedMode]; ok {
		if s.Inverse != (v == 930) {
			s.Feed = 0
		}
		s.Inverse = v == 930
	}
	switch {
	case l.Has('F') && s.Inverse:
		s.Feed = l.Value['F']
	case l.Has('F'):
		s.Feed = l.Value['F'] * s.scale()
	}
	return nil
}

// spindle takes S, M3 to M5 and the coolant in.
func (s *State) spindle(l words.Line, out []Command) []Command {
	was := s.turning()
	if l.Has('S') {
		s.Speed = l.Value['S']
	}
	if v, ok := l.Code[words.Spindle]; ok {
		s.Direction = v
	}
	if s.turning() != was {
		out = append(out, Command{Kind: Spindle, Speed: s.turning()})
	}
	if v, ok := l.Code[words.Coolant]; ok && s.Flood != (v == 8) {
		s.Flood = v == 8
		out = append(out, Command{Kind: Coolant, Flood: s.Flood})
	}
	return out
}

// turning is the spindle's speed, below 0 counterclockwise.
func (s *State) turning() float64 {
	switch s.Direction {
	case 3:
		return s.Speed
	case 4:
		return -s.Speed
	}
	return 0
}

// modes takes plane, distance mode and coordinate system in.
func (s *State) modes(l words.Line) {
	if v, ok := l.Code[words.Plane]; ok {
		s.Plane = v
	}
	if v, ok := l.Code[words.System]; ok {
		s.System = (v - 540) / 10
	}
	if v, ok := l.Code[words.Distance]; ok {
		s.Incremental = v == 910
	}
	if v, ok := l.Code[words.Motion]; ok {
		s.Motion = v
	}
}

// stop ends a program or waits.
func (s *State) stop(l words.Line, out []Command) []Command {
	v, ok := l.Code[words.Stop]
	switch {
	case !ok:
		return out
	case v < 2:
		return append(out, Command{Kind: Pause})
	}
	feed := s.Feed
	shift := s.Shift
	s.Reset()
	s.Motion, s.Feed, s.Shift = 10, feed, shift
	return append(out, Command{Kind: Spindle}, Command{Kind: Coolant}, Command{Kind: End})
}
