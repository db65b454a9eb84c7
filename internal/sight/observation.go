// SPDX-License-Identifier: Apache-2.0

package sight

import (
	"image"
	"math"
	"slices"
	"sync"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/sight/occlusion"
	"boardhand/internal/sight/pixels"
	"boardhand/internal/sight/presence"
)

// observation is the last picture that was read, and what was made of it.
type observation struct {
	eye     *eye
	img     image.Image
	raw     *pixels.Image
	seen    *verdict            // nil: a hand
	over    *occlusion.Occluder // the hand
	reading Reading
	again   int                  // pictures since that look the same and were read alike
	looked  *presence.Inspection // once asked
}

// witness looks at the last picture place by place; nil before the first one.
func (r *Reader) witness() *presence.Inspection {
	s := r.shown
	switch {
	case s == nil:
		return nil
	case s.looked != nil:
	case s.seen != nil:
		s.looked = s.seen.witness(&s.seen.hypotheses[0])
	default:
		grey := sync.OnceValue(func() *image.Gray { return pixels.LumaOf(s.img) })
		s.looked = s.eye.inspect(s.eye.lit(s.raw), grey, s.eye.Board, s.eye.Places())
	}
	s.looked.Detach() // whoever waited for the reading
	return s.looked
}

// covers says whether a hand hides a place in the last picture.
func (s *observation) covers(at frame.Spot[frame.Board]) bool {
	if s == nil || s.over == nil || math.Max(math.Abs(at.X), math.Abs(at.Y)) > s.eye.Setup.HalfField() {
		return false
	}
	return slices.Contains(s.over.Squares, s.eye.Setup.SquareAt(at))
}

// How often a reading that explains nothing is given again for pictures that look
// the same, before one of them is searched anew; and how much of the board, in
// squares, may have changed meanwhile by more than some logarithm of brightness
// or colour: a piece that moves by a sixth of its base changes more.
const (
	againMost = 3
	againArea = 0.03
)

// again is the last reading, if the picture looks just as the last one did and
// that explained nothing.
func (r *Reader) again(img image.Image) (Reading, bool) {
	s := r.shown
	if s == nil || s.seen == nil || s.again >= againMost {
		return Reading{}, false
	}
	if t := s.reading.State; t == Same || t == Moved || t != Illegal && !r.unproved() {
		return Reading{}, false
	}
	raw := pixels.Reduce(img, s.eye.Reduce)
	if raw.Check() != nil || occlusion.Changed(&s.eye.Scene, occlusion.Compare(raw, s.raw)) > againArea {
		return Reading{}, false
	}
	if s.reading.State == Illegal && r.doubtful(s.reading) {
		return Reading{}, false
	}
	s.again++
	return s.reading, true
}

// keepsake is the reader as it was before a picture.
type keepsake struct {
	reader Reader
	eye    eye
}

func (r *Reader) keep() keepsake {
	k := keepsake{reader: *r}
	if r.eye != nil {
		k.eye = *r.eye
	}
	return k
}

// restore makes the reader what it was.
func (r *Reader) restore(k keepsake) {
	*r = k.reader
	if r.eye != nil {
		*r.eye = k.eye
		r.eye.Restack() // its room is used again by whatever comes
	}
}

// settleOn remembers what was read.
func (r *Reader) settleOn(got Reading) {
	if r.shown != nil {
		r.shown.reading = got
	}
	if got.State == Same {
		r.stuck = stuck{}
	}
}

// Agree makes a position the truth of the last picture, as a person said: what
// the picture shows is learnt as that position, and what was learnt against it
// is dropped. Before the first picture it is Begin.
func (r *Reader) Agree(pos chess.Position) {
	s := r.shown
	r.pos, r.due, r.seen, r.rest, r.stuck = pos, 0, nil, rest{}, stuck{}
	if s == nil {
		r.Begin(pos)
		return
	}
	v := r.agreed(s)
	if v == nil {
		r.Afresh()
		return
	}
	v.reading.State = Same
	k := v.said()
	v.hypotheses[0], v.hypotheses[k] = v.hypotheses[k], v.hypotheses[0]
	r.adopt(v, s.img)
	r.seen, r.shown.reading = nil, Reading{State: Same, Belief: trust}
}

// Reposition sets a position that no move leads to: the next picture must prove
// it as a first one, but the camera, the light and the bare board hold.
func (r *Reader) Reposition(pos chess.Position) {
	former := r.former
	if !r.unproved() {
		former = r.eye
	}
	*r = Reader{setup: r.setup, pos: pos, view: r.view, err: r.err, former: former}
}

// Afresh forgets camera, light and looks; the next picture is looked at as a
// first one, and believed only if it proves the position.
func (r *Reader) Afresh() {
	*r = Reader{setup: r.setup, pos: r.pos, due: r.due, view: r.setup.View, err: r.err}
}
