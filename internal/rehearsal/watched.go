// SPDX-License-Identifier: Apache-2.0

package rehearsal

import (
	"context"
	"fmt"

	"boardhand/internal/photo"
	"boardhand/internal/sight"
	"boardhand/internal/twin"
)

// watched is what looks at the pictures of a carry, compared with the truth.
type watched struct {
	guard interface {
		InWay(ctx context.Context, p photo.Picture, w sight.Way) (sight.Obstacle, error)
	}
	referee *Referee
}

// InWay compares what was seen with whether a hand is there.
func (g watched) InWay(ctx context.Context, p photo.Picture, w sight.Way) (sight.Obstacle, error) {
	o, err := g.guard.InWay(ctx, p, w)
	r := g.referee
	r.tally.Watched++
	came, missed := r.visit.pass(r.machine.World.Truth(), err == nil && o.IsHand)
	r.tally.Hands += came
	r.tally.Missed += missed
	if missed > 0 {
		r.log.WriteString("  WRONG: a hand was over the board, and no picture was read to show it\n")
	}
	return o, err
}

// hold counts that the carriage waits for a hand.
func (r *Referee) hold() {
	r.tally.Held++
	if truth := r.machine.World.Truth(); !truth.HandOut {
		r.tally.FalseHolds++
		fmt.Fprintf(&r.log, "  WRONG: it waits for a hand, and none is there; world time %.1f s\n", truth.Time)
	}
}

// visit is a hand that comes over the field and goes, picture by picture.
type visit struct {
	isOver bool // it is over the field, or was at the last picture
	isSeen bool // a picture of it was read to show a hand
}

// pass takes a picture and counts a hand that has come, and one that has gone unseen.
func (v *visit) pass(truth twin.Truth, isRead bool) (came, missed int) {
	if v.isOver && !truth.HandOver {
		missed, v.isOver = v.missed(), false
	}
	v.isSeen = truth.HandOut && (v.isSeen || isRead)
	if !v.isOver && truth.HandOver {
		came, v.isOver = 1, true
	}
	return came, missed
}

// missed is 1 while a hand over the field has not been seen.
func (v *visit) missed() int {
	if v.isOver && !v.isSeen {
		return 1
	}
	return 0
}
