// SPDX-License-Identifier: Apache-2.0

package table

import (
	"context"
	"fmt"

	"boardhand/internal/notice"
	"boardhand/internal/sight"
)

// settled looks until two pictures in a row say the same and no hand is in
// them: what a person is still doing is not a position. Of a board that nothing
// explains, pictures in a row need not name the same squares.
func (v *View) settled(ctx context.Context) (sight.Reading, error) {
	return v.confirm(ctx, sight.Reading{})
}

// confirm is settled, with a first picture already seen.
func (v *View) confirm(ctx context.Context, last sight.Reading) (sight.Reading, error) {
	for odd := 0; ; {
		r, err := v.look(ctx)
		if err != nil {
			return sight.Reading{}, err
		}
		if r.State != sight.Hand && alike(last, r) {
			return r, nil
		}
		if odd++; r.State == sight.Hand || r.State == sight.Same || r.State == sight.Moved {
			odd = 0
		}
		if odd > flickers { // nobody is at work on it, and which squares differ is not to be told
			return r, nil
		}
		if r.State == sight.Hand && last.State == sight.Hand {
			if err := v.stayingHand(ctx, r); err != nil {
				return r, err
			}
		}
		last = r
	}
}

// alike says whether two readings mean the same.
func alike(a, b sight.Reading) bool {
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

// handAfter is how many pictures in a row show a hand before the guest is told
// where: some three seconds at five pictures a second. Doubling it doubles how
// long a guest wonders why nothing happens.
const handAfter = 15

// stayingHand tells the guest of a hand, or what looks like one, that stays.
func (v *View) stayingHand(ctx context.Context, r sight.Reading) error {
	if v.hands++; v.hands%(4*handAfter) != handAfter {
		return nil
	}
	text := "I see a hand over the board."
	if len(r.Squares) > 0 {
		text = fmt.Sprintf("I see a hand, or a thing, at %s.", list(r.Squares))
	}
	return v.desk.tell(ctx, notice.Notice{Kind: notice.Wait, Squares: r.Squares,
		Text: text + " I go on when it is gone; if nothing is there, ask me to look afresh."})
}
