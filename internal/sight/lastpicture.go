// SPDX-License-Identifier: Apache-2.0

package sight

import (
	"image"
	"math"
	"slices"
	"sync"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/photo"
	"boardhand/internal/sight/occlusion"
	"boardhand/internal/sight/pixels"
	"boardhand/internal/sight/presence"
	"boardhand/internal/sight/tracking"
)

// lastPicture is the last picture that was read, and what was made of it.
type lastPicture struct {
	tracker    *tracking.Tracker
	img        image.Image
	raw        *pixels.Image
	decision   *decision           // nil: a hand
	hand       *occlusion.Occluder // the hand
	reading    Reading
	again      int                  // pictures since that look the same and were read alike
	inspection *presence.Inspection // once asked
}

// reduced is the picture being read, reduced: more than one asks for it.
type reduced struct {
	from   *image.YCbCr
	reduce float64
	image  *pixels.Image
}

// reducedOf is what is known of a picture to be read.
func reducedOf(p photo.Picture) reduced {
	small, isReduced := p.Prepared.(*pixels.Image)
	if from, ok := p.Image.(*image.YCbCr); ok && isReduced {
		return reduced{from, small.Reduce, small}
	}
	return reduced{}
}

// reduce reduces a picture, once for as long as it is being read.
func (r *Reader) reduce(img image.Image, reduce float64) *pixels.Image {
	r.preparer.scale.Store(math.Float64bits(reduce))
	from, ok := img.(*image.YCbCr)
	if !ok {
		return pixels.Reduce(img, reduce)
	}
	if k := &r.reduced; k.from != from || k.reduce != reduce {
		*k = reduced{from, reduce, pixels.Reduce(img, reduce)}
	}
	return r.reduced.image
}

// inspection looks at the last picture place by place; nil before the first one.
func (r *Reader) inspection() *presence.Inspection {
	s := r.last
	switch {
	case s == nil:
		return nil
	case s.inspection != nil:
	case s.decision != nil:
		s.inspection = s.decision.inspection(&s.decision.hypotheses[0])
	default:
		grey := sync.OnceValue(func() *image.Gray { return pixels.LumaOf(s.img) })
		s.inspection = s.tracker.Inspect(s.tracker.Lit(s.raw, s.hand != nil), grey, s.tracker.Board, s.tracker.Places())
	}
	s.inspection.Detach() // whoever waited for the reading
	return s.inspection
}

// covers says whether a hand hides a place in the last picture.
func (s *lastPicture) covers(at frame.Spot[frame.Board]) bool {
	if s == nil || s.hand == nil || math.Max(math.Abs(at.X), math.Abs(at.Y)) > s.tracker.Setup.HalfField() {
		return false
	}
	return slices.Contains(s.hand.Squares, s.tracker.Setup.SquareAt(at))
}

// again is the last reading, if the picture looks just as the last one did and
// that explained nothing.
func (r *Reader) again(img image.Image) (Reading, bool) {
	s := r.last
	if s == nil || s.decision == nil || s.again >= againMost {
		return Reading{}, false
	}
	if t := s.reading.State; t == Same || t == Moved || t != Illegal && !r.unproved() {
		return Reading{}, false
	}
	raw := r.reduce(img, s.tracker.Reduce)
	if raw.Check() != nil || occlusion.Changed(&s.tracker.Scene, r.compare(raw, s.raw)) > againArea {
		return Reading{}, false
	}
	if s.reading.State == Illegal && r.countStall(s.reading) {
		return Reading{}, false
	}
	s.again++
	return s.reading, true
}

// snapshot is the reader as it was before a picture.
type snapshot struct {
	reader  Reader
	tracker tracking.Tracker
}

func (r *Reader) save() snapshot {
	k := snapshot{reader: *r}
	if r.tracker != nil {
		k.tracker = *r.tracker
	}
	return k
}

// restore makes the reader what it was.
func (r *Reader) restore(k snapshot) {
	*r = k.reader
	if r.tracker != nil {
		*r.tracker = k.tracker
		r.tracker.Restack() // its room is used again by whatever comes
	}
}

// settleOn remembers what was read.
func (r *Reader) settleOn(got Reading) {
	if r.last != nil {
		r.last.reading = got
	}
	r.noteGlimpse(got)
	switch got.State {
	case Same:
		r.stall, r.doubted = stall{}, chess.Position{}
	case Illegal, Unsure:
		r.doubted = r.pos // a move may have been played that was not read
	}
}

// Agree makes a position the truth of the last picture, as a person said: what
// the picture shows is learnt as that position, and what was learnt against it
// is dropped. Before the first picture it is Begin.
func (r *Reader) Agree(pos chess.Position) {
	r.recall()
	s := r.last
	r.pos, r.due, r.pending, r.static, r.stall, r.glimpses = pos, 0, nil, staticObject{}, stall{}, nil
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
	k := v.announced()
	v.hypotheses[0], v.hypotheses[k] = v.hypotheses[k], v.hypotheses[0]
	r.adopt(v, s.img)
	r.pending, r.last.reading = nil, Reading{State: Same, Belief: trust}
}

// Reposition sets a position that no move leads to: the next picture must prove
// it as a first one, but the camera, the light and the bare board hold.
func (r *Reader) Reposition(pos chess.Position) {
	r.recall()
	former := r.former
	if !r.unproved() {
		former = r.tracker
	}
	*r = Reader{setup: r.setup, pos: pos, view: r.view, err: r.err, former: former, several: r.several, preparer: r.preparer, known: r.known, found: r.found, told: r.told}
}

// Afresh forgets camera, light and looks; the next picture is looked at as a
// first one, and believed only if it proves the position.
func (r *Reader) Afresh() {
	r.recall()
	*r = Reader{setup: r.setup, pos: r.pos, due: r.due, view: r.setup.View, err: r.err, several: r.several, preparer: r.preparer, known: r.known, found: r.found, told: r.told}
}

// noteGlimpse keeps the last picture if it was not agreed upon, and drops those before once
// one was.
func (r *Reader) noteGlimpse(got Reading) {
	switch s := r.last; {
	case got.State == Same:
		r.glimpses = nil
	case r.several < 2 || got.isFinished() || s == nil || s.hand != nil && len(s.hand.Squares) > openHand:
	case r.unproved():
		r.glimpses = nil
	default:
		g := &tracking.Glimpse{Raw: s.raw}
		if s.hand != nil {
			g.Hands = []*occlusion.Occluder{s.hand}
		}
		keep := r.glimpses
		if n := len(keep); n > 0 && r.looksLike(keep[n-1], s.raw) {
			keep = keep[:n-1]
		}
		for _, older := range keep {
			older.Raw.Slim()
		}
		r.glimpses = append(slices.Clone(keep[max(0, len(keep)-mostGlimpses+1):]), g)
	}
}

// looksLike says whether a picture looks as one kept before.
func (r *Reader) looksLike(g *tracking.Glimpse, raw *pixels.Image) bool {
	return len(g.Raw.L) == len(raw.L) && occlusion.Changed(&r.tracker.Scene, r.compare(raw, g.Raw)) < againArea
}
