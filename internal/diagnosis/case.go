// SPDX-License-Identifier: Apache-2.0

package diagnosis

import (
	"fmt"
	"slices"

	"boardhand/internal/rig"
)

// Case gathers the symptoms of one machine. It is not for several goroutines.
type Case struct {
	physics  physics
	symptoms []Symptom
	found    []Finding // of all symptoms so far; nil: not worked out
	isFresh  bool
}

// NewCase opens a case for the machine of a rig file. It fails where the rig's
// magnets, masses or frictions are outside of what the formulas hold for.
func NewCase(r *rig.Rig) (*Case, error) {
	p, err := physicsOf(r)
	if err != nil {
		return nil, fmt.Errorf("the machine cannot be diagnosed: %w", err)
	}
	return &Case{physics: p}, nil
}

// Add takes a symptom into account.
func (c *Case) Add(s Symptom) {
	s.isRepeat = c.isRepeat(s)
	if s.Outcome == Pushed {
		c.markTaken(s)
	}
	c.symptoms = append(c.symptoms, s)
	if n := len(c.symptoms) - mostSymptoms; n > 0 {
		c.symptoms = slices.Delete(c.symptoms, 0, n)
	}
	c.isFresh = false
}

// isRepeat says whether a carry tries once more, from where it was left, a piece that the
// last carry has lost on the way: it may lie, or stand where it is seen wrongly, and then it
// is lost again, whatever it was at first.
func (c *Case) isRepeat(s Symptom) bool {
	if !s.judgesCarry() {
		return false
	}
	for _, was := range slices.Backward(c.symptoms) {
		if !was.judgesCarry() || was.Piece != s.Piece {
			continue
		}
		switch was.Outcome {
		case Short, Toppled:
			return was.Found.Distance(s.From) < still*c.physics.square
		}
		return false
	}
	return false
}

// markTaken marks the carry, of those looked at together with a push, to whose end another
// piece was moved while its own did not come.
func (c *Case) markTaken(push Symptom) {
	for i := len(c.symptoms) - 1; i >= 0 && c.symptoms[i].Outcome != Arrived; i-- {
		s := &c.symptoms[i]
		if s.hasFailed() && push.To.Distance(s.To) < near*c.physics.square {
			s.isTaken = true
			return
		}
	}
}

// Symptoms are those that the findings rest on, the oldest first.
func (c *Case) Symptoms() []Symptom { return slices.Clone(c.symptoms) }

// Hopeless says whether it is useless to carry a piece (by its ID): its last
// three carries failed; or it has the fault that keeps it from coming along; or
// nothing follows, whoever it is. One carry that arrives takes it back.
func (c *Case) Hopeless(piece string) bool {
	own := c.failedLast(func(s Symptom) bool { return s.Piece.ID == piece })
	if own >= hopelessAfter {
		return true
	}
	all := c.failedLast(func(Symptom) bool { return true })
	if own < 1 && all < hopelessAfter {
		return false
	}
	return slices.ContainsFunc(c.Findings(), func(f Finding) bool {
		switch f.Cause {
		case MagnetFlipped, MagnetMissing:
			return f.Named && f.Piece == piece && own > 0
		case LiftStaysDown, DriveMagnetWeak, NothingFollows:
			return f.Named && all >= hopelessAfter
		}
		return false
	})
}

// failedLast counts the carries that failed one after the other at the end of
// those that concern.
func (c *Case) failedLast(concerns func(Symptom) bool) int {
	n := 0
	for _, s := range slices.Backward(c.symptoms) {
		if !s.judgesCarry() || !concerns(s) {
			continue
		}
		if !s.hasFailed() {
			break
		}
		n++
	}
	return n
}

// arrivals are the offsets of the pieces that came to where they were to go. A carry on which
// an axis fell behind is left out: it tells where the axis left the piece, nothing else.
func (c *Case) arrivals() (out []arrival) {
	isBehind := false
	for _, s := range c.symptoms {
		switch {
		case s.Act == Carry && s.Outcome == Lagged:
			isBehind = true
		case s.judgesCarry() && s.Outcome == Arrived && !isBehind:
			out = append(out, arrival{piece: s.Piece, at: s.To, off: s.Found.Sub(s.To), heading: s.heading(),
				noise: c.physics.arrives(s.Sigma), beside: s.Beside})
		}
		if s.judgesCarry() {
			isBehind = false
		}
	}
	return out
}
