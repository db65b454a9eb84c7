// SPDX-License-Identifier: Apache-2.0

package view

import (
	"context"
	"fmt"

	"boardhand/internal/sight"
	"boardhand/internal/table/places"
)

// Settled looks until two pictures in a row say the same and no hand is in
// them: what a person is still doing is not a position. Of a board that nothing
// explains, pictures in a row need not name the same squares.
func (v *View) Settled(ctx context.Context) (sight.Reading, error) {
	return v.Confirm(ctx, sight.Reading{})
}

// Confirm is settled, with a first picture already seen.
func (v *View) Confirm(ctx context.Context, last sight.Reading) (sight.Reading, error) {
	for odd := 0; ; {
		r, err := v.Look(ctx)
		if err != nil {
			return sight.Reading{}, err
		}
		if r.State != sight.Hand && Alike(last, r) {
			return r, nil
		}
		if odd++; r.State == sight.Hand || r.State == sight.Same || r.State == sight.Moved {
			odd = 0
		}
		if odd > Flickers { // nobody is at work on it, and which squares differ is not to be told
			return r, nil
		}
		if r.State == sight.Hand && last.State == sight.Hand {
			if err := v.StayingHand(ctx, r); err != nil {
				return r, err
			}
		}
		last = r
	}
}

// Alike says whether two readings mean the same.
func Alike(a, b sight.Reading) bool {
	if a.State != b.State || a.Move != b.Move || len(a.Squares) != len(b.Squares) {
		return false
	}
	for i := range a.Squares {
		if a.Squares[i] != b.Squares[i] {
			return false
		}
	}
	return true
}

// StayingHand tells the guest of a hand, or what looks like one, that stays.
func (v *View) StayingHand(ctx context.Context, r sight.Reading) error {
	if v.hands++; v.hands%handAgain != handAfter {
		return nil
	}
	text := "I see a hand over the board."
	if len(r.Squares) > 0 {
		text = fmt.Sprintf("I see a hand, or a thing, at %s.", places.List(r.Squares))
	}
	return v.desk.HandSeen(ctx, text+" I go on when it is gone; if nothing is there, ask me to look afresh.", r.Squares...)
}
