// SPDX-License-Identifier: Apache-2.0

package sight

import (
	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/optics"
	"boardhand/internal/sight/background"
	"boardhand/internal/sight/pixels"
	"boardhand/internal/sight/register"
)

// eye is what a reader has learnt of one table in one light: the scene in the last
// settled picture, and the model that pictures are compared with.
type eye struct {
	scene
	model
	former *eye // of another position on this table, until a picture has been settled on

	keypoints register.Keypoints // of the last settled picture
	met       []known            // the officers of the first picture
}

// newEye lays out the geometry for a view; former is the eye of another board
// seen so, nil for none.
func newEye(s Setup, v optics.View, board pieces, former *eye) *eye {
	e := &eye{model: model{air: background.Conditions{Noise: 1}}, former: former}
	reduce := 0.0
	if former != nil {
		reduce = former.reduce
	}
	e.scene = newScene(s, v, board, reduce)
	return e
}

// lit is a picture in the remembered light.
func (e *eye) lit(raw *pixels.Image) *pixels.Image {
	from := e
	if e.phase() == meeting {
		from = e.former
	}
	if from == nil {
		return raw
	}
	k := background.FitIllumination(raw, func(i int32) *pixels.Image { return from.familiar(&from.scene, i) }, from.samples)
	return k.Apply(raw, e.ground.Box)
}

// learnt is what a former eye has learnt of the board; nil where there is none.
func (e *eye) learnt() *model {
	if e.former == nil {
		return nil
	}
	return &e.former.model
}

// imagine paints the bare board everywhere from its open places, and learns the
// colours of both sides from the pieces of the board; false where too little of the
// board is seen.
func (e *eye) imagine(lit *pixels.Image) bool {
	return e.model.imagine(&e.scene, lit, e.learnt())
}

// remember makes a settled picture, with what is known to stand in it, the
// one to compare with, and learns from it.
func (e *eye) remember(p, raw *pixels.Image, board pieces, at map[chess.Square]frame.Spot[frame.Board]) {
	e.board = board
	e.place(at)
	e.model.settle(&e.scene, p, raw)
}

// behold brings a picture into the remembered light and compares it with what is
// remembered.
func (e *eye) behold(raw *pixels.Image) *glance {
	return observe(&e.scene, &e.model, e.lit(raw), raw)
}

// detector finds what covers the board now.
func (e *eye) detector() *detector {
	return &detector{scene: &e.scene, frames: e.raw, around: e.around}
}
