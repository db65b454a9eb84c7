// SPDX-License-Identifier: Apache-2.0

package person

import (
	"boardhand/internal/frame"
)

// beat is one thing a person does: the hand goes to a place within a time, and
// something is true afterwards. Without a hand it is a pause.
type beat struct {
	time   float64 // s
	hand   bool
	to     frame.Point[frame.Board]        // where the fingertips arrive
	looks  int                             // a pause worth so many pictures when nobody watches in real time
	aim    func() frame.Point[frame.Board] // where to, found when the beat begins
	finish func()
	begun  bool
	from   frame.Point[frame.Board]
	gone   float64 // s
}

// script is what a person is about to do, in order.
type script struct {
	beats []beat
	shown bool // a picture of the present visit of the hand was taken
}

// Pass lets time go by and moves the hand.
func (p *doer) Pass(t float64) {
	p.proceed()
	for t > 0 && len(p.script.beats) > 0 {
		b := &p.script.beats[0]
		if !b.begun {
			b.begun, b.from = true, p.hand.Tip
			p.hand.IsOut = b.hand
			if b.aim != nil {
				b.to = b.aim()
			}
		}
		step := min(t, b.time-b.gone)
		b.gone += step
		t -= step
		if b.hand {
			p.hand.Tip = b.from.Between(b.to, ease(b.gone/b.time))
			p.hand.carry()
		}
		if b.gone >= b.time-1e-9 {
			p.endBeat()
		}
	}
}

func (p *doer) endBeat() {
	b := p.script.beats[0]
	p.script.beats = p.script.beats[1:]
	if b.finish != nil {
		b.finish()
	}
	if len(p.script.beats) == 0 {
		p.hand.IsOut = false
		p.proceed()
	}
}

// ease is a smooth way from 0 to 1, as hands move: 3t² − 2t³.
func ease(t float64) float64 { return t * t * (3 - 2*t) }

// Jump lets the world time pass that a next picture needs, frame seconds after
// the last at least, when nobody watches: over the thinking, into the middle of the hand's visit once, then
// to its end. It keeps the pictures of a move to a busy one and settled ones.
func (p *doer) Jump(frame float64) {
	for len(p.script.beats) > 0 {
		b := &p.script.beats[0]
		switch {
		case !b.hand && b.looks > 0:
			b.looks--
			p.Elapse(min(frame, b.time-b.gone))
			return
		case !b.hand:
			p.Elapse(b.time - b.gone)
		case !p.script.shown:
			p.script.shown = true
			p.Elapse(p.chance.Float64() * p.visit())
			return
		default:
			p.Elapse(p.visit())
			p.script.shown = false
		}
	}
	p.script.shown = false
	p.world.Pass(frame)
}

// Elapse is pass with the clock.
func (p *doer) Elapse(t float64) {
	p.world.Pass(t)
	if p.IsBusy() {
		p.Pass(t + 1e-9)
		p.world.Keep()
	}
}

// visit is how long the hand will stay over the board, s.
func (p *doer) visit() float64 {
	t := 0.0
	for _, b := range p.script.beats {
		if !b.hand {
			break
		}
		t += b.time - b.gone
	}
	return t
}

// Finish lets time pass until the hand is gone.
func (p *doer) Finish() {
	for p.proceed(); len(p.script.beats) > 0; {
		b := &p.script.beats[0]
		p.Elapse(b.time - b.gone)
	}
}

// After has something happen when so many seconds have passed after what the
// person is about to do.
func (p *doer) After(seconds float64, do func()) {
	p.pause(seconds, 0)
	p.then(do)
}
