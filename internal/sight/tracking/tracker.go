// SPDX-License-Identifier: Apache-2.0

package tracking

import (
	"image"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/optics"
	"boardhand/internal/sight/background"
	"boardhand/internal/sight/classify"
	"boardhand/internal/sight/likelihood"
	"boardhand/internal/sight/occlusion"
	"boardhand/internal/sight/pixels"
	"boardhand/internal/sight/presence"
	"boardhand/internal/sight/register"
	"boardhand/internal/sight/scene"
)

// Tracker is what a reader has learnt of one table in one light: the scene in the last
// settled picture, and the model that pictures are compared with.
type Tracker struct {
	scene.Scene
	background.Model
	Former *Tracker // of another position on this table, until a picture has been settled on

	keypoints register.Keypoints // of the last settled picture
	Known     []classify.Known   // pieces of the first picture, and of those before the table was looked at afresh
}

// New lays out the geometry for a view; former is the tracker of another board
// seen so, nil for none.
func New(s scene.Setup, v optics.View, board scene.Occupancy, former *Tracker) *Tracker {
	e := &Tracker{Former: former}
	reduce := 0.0
	if former != nil {
		reduce = former.Reduce
	}
	e.Scene = scene.New(s, v, board, reduce)
	return e
}

// Lit is a picture in the remembered light; a first one without reflections, once the
// board has been painted from it. Where something covers the board nothing is
// taken for light that is not even.
func (e *Tracker) Lit(raw *pixels.Image, covered bool) *pixels.Image {
	from := e
	if e.Phase() == background.Meeting {
		from = e.Former
	}
	switch {
	case from == nil && e.Even == nil:
		return raw
	case from == nil:
		return e.Unveiled(&e.Scene, raw)
	}
	if covered {
		return from.Evened(&from.Scene, raw)
	}
	return from.Relit(&from.Scene, raw)
}

// learnt is what a former tracker has learnt of the board; nil where there is none.
func (e *Tracker) learnt() *background.Model {
	if e.Former == nil {
		return nil
	}
	return &e.Former.Model
}

// imagine paints the bare board everywhere from its open places, and learns the
// colours of both sides from the pieces of the board; false where too little of the
// board is seen.
func (e *Tracker) imagine(lit *pixels.Image) bool {
	return e.Model.Imagine(&e.Scene, lit, e.learnt())
}

// Remember makes a settled picture, with what is known to stand in it, the
// one to compare with, and learns from it.
func (e *Tracker) Remember(p, raw *pixels.Image, board scene.Occupancy, at map[chess.Square]frame.Spot[frame.Board]) {
	e.Board = board
	e.Place(at)
	e.Model.Settle(&e.Scene, p, raw)
}

// Observe brings a picture into the remembered light and compares it with what is
// remembered; covered says that something lies over the board.
func (e *Tracker) Observe(raw *pixels.Image, covered bool) *likelihood.Observation {
	return likelihood.Observe(&e.Scene, &e.Model, e.Lit(raw, covered), raw)
}

// ObservePast is observe for a picture of which hands over the board's rim hide a part.
func (e *Tracker) ObservePast(raw *pixels.Image, hands []*occlusion.Occluder) *likelihood.Observation {
	lit := e.Lit(raw, true)
	for _, h := range hands {
		h.Hide(lit)
	}
	return likelihood.Observe(&e.Scene, &e.Model, lit, raw)
}

// Inspect looks at a picture in the remembered light place by place, with the pieces of a
// board at some places (by square; else in the middle). grey is the picture itself.
func (e *Tracker) Inspect(lit *pixels.Image, grey func() *image.Gray, board scene.Occupancy, at map[chess.Square]frame.Spot[frame.Board]) *presence.Inspection {
	g := likelihood.ObserveAlone(&e.Scene, &e.Model, lit, board, at)
	g.Grey = grey
	return presence.Inspect(g)
}

// Detector finds what covers the board now.
func (e *Tracker) Detector() *occlusion.Detector {
	return &occlusion.Detector{Scene: &e.Scene, Frames: e.Frames, Around: e.Around}
}
