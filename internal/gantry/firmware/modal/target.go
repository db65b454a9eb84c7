// SPDX-License-Identifier: Apache-2.0

package modal

import (
	"boardhand/internal/gantry/firmware/blocks"
	"boardhand/internal/gantry/firmware/words"
)

// letters of the axes.
const letters = "XYZ"

// target is the place a line's axis words mean.
func (s *State) target(l words.Line, absolute bool) blocks.Vector {
	to, offset := s.At, s.Offset()
	for i, c := range []byte(letters) {
		v := l.Value[c] * s.scale()
		switch {
		case !l.Has(c):
		case absolute:
			to[i] = v
		case s.Incremental:
			to[i] += v
		default:
			to[i] = v + offset[i]
		}
	}
	return to
}

// free does the words of group 0 that take axis words.
func (s *State) free(l words.Line, out []Command) ([]Command, error) {
	code, ok := l.Code[words.NonModal]
	if !ok {
		return out, nil
	}
	switch code {
	case 100:
		return s.place(l, out)
	case 281, 301:
		s.Stored[(code-281)/20] = s.At
		return append(out, Command{Kind: Store}), nil
	case 280, 300:
		return s.goHome(l, out, (code-280)/20), nil
	case 920:
		s.shift(l)
	case 921:
		s.Shift = blocks.Vector{}
	}
	return out, nil
}

// shift gives the current place these coordinates (3.5.18): the offset takes up
// what is between where the machine is and what the place is now called.
func (s *State) shift(l words.Line) {
	for i, c := range []byte(letters) {
		if l.Has(c) {
			s.Shift[i] = s.At[i] - s.Systems[s.System][i] - l.Value[c]*s.scale()
		}
	}
}

// place does G10 L2 and L20: the origin of a coordinate system.
func (s *State) place(l words.Line, out []Command) ([]Command, error) {
	p := int(l.Value['P'])
	if p < 0 || p > len(s.Systems) || float64(p) != l.Value['P'] {
		return nil, words.Unsupported
	}
	if p == 0 {
		p = s.System + 1
	}
	for i, c := range []byte(letters) {
		switch v := l.Value[c] * s.scale(); {
		case !l.Has(c):
		case l.Value['L'] == 2:
			s.Systems[p-1][i] = v
		default:
			s.Systems[p-1][i] = s.At[i] - s.Shift[i] - v
		}
	}
	return append(out, Command{Kind: Store}), nil
}

// goHome traverses to the programmed point and then to a stored place; with axis
// words only the named axes go there.
func (s *State) goHome(l words.Line, out []Command, which int) []Command {
	to := s.Stored[which]
	if l.HasAxes() {
		s.At = s.target(l, false)
		out = append(out, Command{To: s.At, Feed: blocks.Feed{Rapid: true}})
		for i, c := range []byte(letters) {
			if !l.Has(c) {
				to[i] = s.At[i]
			}
		}
	}
	s.At = to
	return append(out, Command{To: to, Feed: blocks.Feed{Rapid: true}})
}

// motion does the axis words by the motion mode.
func (s *State) motion(l words.Line, out []Command) ([]Command, error) {
	hasOffsets := l.Has('I') || l.Has('J') || l.Has('K') || l.Has('R')
	switch {
	case l.UsesAxes() || !l.HasAxes():
		if hasOffsets {
			return nil, words.UnusedValueWords
		}
		return out, nil
	case s.Motion == 800:
		return nil, words.UnusedAxisWords
	case s.Motion <= 10 && hasOffsets:
		return nil, words.UnusedValueWords
	case s.Motion > 10 && l.Is(words.NonModal, 530):
		return nil, words.OnlyStraight
	case s.Motion != 0 && (s.Feed == 0 || s.Inverse && !l.Has('F')):
		return nil, words.NoFeed
	}
	to := s.target(l, l.Is(words.NonModal, 530))
	if s.Motion > 10 {
		return s.arc(l, to, out)
	}
	feed := blocks.Feed{Rapid: s.Motion == 0, Speed: s.along(s.At, to)}
	s.At = to
	return append(out, Command{To: to, Feed: feed}), nil
}

// along is the speed of a straight move, mm/s.
func (s *State) along(from, to blocks.Vector) float64 {
	if s.Inverse {
		return from.Distance(to) * s.Feed / 60
	}
	return s.Feed / 60
}

// Jog is a jog line: it needs F, takes units and distance mode for itself alone and
// moves nothing else of the state but the place.
func (s *State) Jog(l words.Line) (Command, error) {
	for g, v := range l.Code {
		if g != words.Units && g != words.Distance && !(g == words.NonModal && v == 530) {
			return Command{}, words.BadJog
		}
	}
	for c := range l.Value {
		switch c {
		case 'X', 'Y', 'Z', 'F', 'N':
		default:
			return Command{}, words.BadJog
		}
	}
	switch {
	case !l.HasAxes():
		return Command{}, words.NoAxisWords
	case !l.Has('F') || l.Value['F'] == 0:
		return Command{}, words.NoFeed
	}
	once := *s
	once.Inverse = false
	if err := once.feed(l); err != nil {
		return Command{}, err
	}
	once.modes(l)
	return Command{To: once.target(l, l.Is(words.NonModal, 530)), Feed: blocks.Feed{Speed: once.Feed / 60}}, nil
}
