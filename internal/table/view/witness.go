// SPDX-License-Identifier: Apache-2.0

package view

import (
	"context"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/sight"
	"boardhand/internal/table/evidence"
	"boardhand/internal/table/places"
)

// Sighting is what a picture says of a piece that was carried.
type Sighting int

const (
	Unseen  Sighting = iota // the place cannot be seen, and the piece is nowhere else
	Arrived                 // it stands where it was carried to
	Stayed                  // it stands where it was taken from
	Strayed                 // it stands elsewhere
	Gone                    // it is nowhere to be seen
)

// presentAt is what the last picture tells of one place.
func (v *View) presentAt(at frame.Spot[frame.Board]) sight.Presence {
	return v.Witness.Present([]frame.Spot[frame.Board]{at})[0]
}

// stands says whether the last picture shows a piece at a place, and where
// exactly; what it tells is open if the place can be seen.
func (v *View) stands(piece chess.Piece, p places.Place) (seen sight.Presence, is bool) {
	at, ok := v.model.Layout.SpotOf(p)
	if !ok {
		return seen, false
	}
	seen = v.presentAt(at)
	return seen, evidence.IsOf(seen, piece) && seen.Found.Distance(at) < v.model.Layout.Room(p)
}

// IsOn says whether the last picture shows a piece on a square.
func (v *View) IsOn(piece chess.Piece, q chess.Square) bool {
	_, is := v.stands(piece, places.Place(q))
	return is
}

// sighted looks for a piece that was carried; the stray says where it is. What
// went down the chute is out of sight, but what was left behind on the way there
// is not.
func (v *View) sighted(w places.Way) (Sighting, sight.Stray) {
	seen, is := v.stands(w.Piece, w.To)
	if is {
		return Arrived, sight.Stray{Side: w.Piece.Color(), At: seen.Found, Sigma: seen.Sigma}
	}
	if !seen.Open && w.To != places.Chute {
		return Unseen, sight.Stray{}
	}
	if there, is := v.stands(w.Piece, w.From); is {
		return Stayed, sight.Stray{Side: w.Piece.Color(), At: there.Found, Sigma: there.Sigma}
	}
	if evidence.IsOf(seen, w.Piece) { // it has nearly arrived
		return Strayed, sight.Stray{Side: w.Piece.Color(), At: seen.Found, Sigma: seen.Sigma}
	}
	for _, s := range v.Strangers(w.From) {
		if s.Side == w.Piece.Color() {
			return Strayed, s
		}
	}
	if w.To == places.Chute {
		return Unseen, sight.Stray{}
	}
	return Gone, sight.Stray{}
}

// LookFor takes pictures until two in a row agree on where a piece is that was
// carried; one is enough when it has arrived.
func (v *View) LookFor(ctx context.Context, w places.Way) (Sighting, sight.Stray, error) {
	last := Sighting(-1)
	for {
		if err := v.UntilClear(ctx); err != nil {
			return Unseen, sight.Stray{}, err
		}
		is, s := v.sighted(w)
		if is == Arrived || is == Unseen || is == last {
			return is, s, nil
		}
		last = is
	}
}

// Once looks a single time for a piece that was carried; false when no picture
// that can be used comes at once.
func (v *View) Once(ctx context.Context, w places.Way) (Sighting, bool) {
	r, err := v.picture(ctx, v.Witness.Glance)
	if err != nil || r.State == sight.Hand {
		return Unseen, false
	}
	is, _ := v.sighted(w)
	return is, true
}

// Evidence looks at each square of the last picture by itself, once: that takes
// over half a second.
func (v *View) Evidence() *evidence.Squares {
	if v.squares != nil {
		return v.squares
	}
	at := make([]frame.Spot[frame.Board], 64)
	for q := range at {
		at[q] = v.model.Layout.Centre(chess.Square(q))
	}
	v.squares = (*evidence.Squares)(v.Witness.Present(at))
	return v.squares
}

// Standing is where the pieces on some squares stand in the last picture, as far as
// each square by itself tells.
func (v *View) Standing(on []chess.Square) map[chess.Square]sight.Presence {
	at := make([]frame.Spot[frame.Board], len(on))
	for i, q := range on {
		at[i] = v.model.Layout.Centre(q)
	}
	seen := map[chess.Square]sight.Presence{}
	for i, p := range v.Witness.Present(at) {
		if evidence.IsOf(p, v.model.Now.Board[on[i]]) {
			seen[on[i]] = p
		}
	}
	return seen
}

// HasCome says whether the piece of the machine's move stands at its goal, square by
// square, and has left where it stood: what the picture shows otherwise is no slip,
// but somebody beside the way.
func (v *View) HasCome() bool {
	m, after, o := v.model.Decided, v.model.After(), v.Evidence()
	piece := after.At(m.To())
	return evidence.IsOf(o[m.To()], piece) && evidence.IsVacant(o[m.From()], piece)
}

// Proves says whether the last picture proves a board by its single squares,
// and no piece stands where none should.
func (v *View) Proves(board [64]chess.Piece) bool {
	return v.Evidence().Proves(board) && len(v.Strangers(places.Person)) == 0
}

// Strangers are pieces where none should stand: not on the board as it is
// believed, not in a slot. The piece believed at one place may be anywhere.
func (v *View) Strangers(lost places.Place) []sight.Stray {
	at, isPlace := v.model.Layout.SpotOf(lost)
	var known []frame.Spot[frame.Board]
	for _, m := range v.model.Scene(func(string) bool { return false }).Pieces {
		if !isPlace || m.At.Distance(at) > places.ArriveWithin*float64(v.model.Layout.Square) {
			known = append(known, m.At)
		}
	}
	return v.Witness.Strangers(known)
}
