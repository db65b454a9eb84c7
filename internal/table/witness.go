// SPDX-License-Identifier: Apache-2.0

package table

import (
	"context"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/sight"
)

// Sighting is what a picture says of a piece that was carried.
type Sighting int

const (
	unseen  Sighting = iota // the place cannot be seen, and the piece is nowhere else
	arrived                 // it stands where it was carried to
	stayed                  // it stands where it was taken from
	strayed                 // it stands elsewhere
	gone                    // it is nowhere to be seen
)

// stands says whether the last picture shows a piece at a place, and where
// exactly; what it tells is open if the place can be seen.
func (v *View) stands(piece chess.Piece, p Place) (seen sight.Presence, is bool) {
	at, ok := v.model.Layout.spotOf(p)
	if !ok {
		return seen, false
	}
	seen = v.Witness.Present([]frame.Spot[frame.Board]{at})[0]
	return seen, isOf(seen, piece) && seen.Found.Distance(at) < v.model.Layout.room(p)
}

// sighted looks for a piece that was carried; the stray says where it is. What
// went down the chute is out of sight, but what was left behind on the way there
// is not.
func (v *View) sighted(w Way) (Sighting, sight.Stray) {
	seen, is := v.stands(w.Piece, w.To)
	if is {
		return arrived, sight.Stray{Side: w.Piece.Color(), At: seen.Found, Sigma: seen.Sigma}
	}
	if !seen.Open && w.To != Chute {
		return unseen, sight.Stray{}
	}
	if there, is := v.stands(w.Piece, w.From); is {
		return stayed, sight.Stray{Side: w.Piece.Color(), At: there.Found, Sigma: there.Sigma}
	}
	if isOf(seen, w.Piece) { // it has nearly arrived
		return strayed, sight.Stray{Side: w.Piece.Color(), At: seen.Found, Sigma: seen.Sigma}
	}
	for _, s := range v.strangers(w.From) {
		if s.Side == w.Piece.Color() {
			return strayed, s
		}
	}
	if w.To == Chute {
		return unseen, sight.Stray{}
	}
	return gone, sight.Stray{}
}

// lookFor takes pictures until two in a row agree on where a piece is that was
// carried; one is enough when it has arrived.
func (v *View) lookFor(ctx context.Context, w Way) (Sighting, sight.Stray, error) {
	last := Sighting(-1)
	for {
		if err := v.untilClear(ctx); err != nil {
			return unseen, sight.Stray{}, err
		}
		is, s := v.sighted(w)
		if is == arrived || is == unseen || is == last {
			return is, s, nil
		}
		last = is
	}
}

// evidence looks at each square of the last picture by itself, once: that takes
// over half a second.
func (v *View) evidence() *Evidence {
	if v.squares != nil {
		return v.squares
	}
	at := make([]frame.Spot[frame.Board], 64)
	for q := range at {
		at[q] = v.model.Layout.centre(chess.Square(q))
	}
	v.squares = (*Evidence)(v.Witness.Present(at))
	return v.squares
}

// proves says whether the last picture proves a board by its single squares,
// and no piece stands where none should.
func (v *View) proves(board [64]chess.Piece) bool {
	return v.evidence().proves(board) && len(v.strangers(Person)) == 0
}

// strangers are pieces where none should stand: not on the board as it is
// believed, not in a slot. The piece believed at one place may be anywhere.
func (v *View) strangers(lost Place) []sight.Stray {
	at, isPlace := v.model.Layout.spotOf(lost)
	var known []frame.Spot[frame.Board]
	for _, m := range v.model.Scene(func(string) bool { return false }).Pieces {
		if !isPlace || m.At.Distance(at) > arriveWithin*float64(v.model.Layout.Square) {
			known = append(known, m.At)
		}
	}
	return v.Witness.Strangers(known)
}
