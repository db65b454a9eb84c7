// SPDX-License-Identifier: Apache-2.0

// Package unsaid finds in a first picture what nobody has said of a table: how wide its margin
// is, where the camera hangs and how wide it sees, where White sits, and how large the pieces are.
package unsaid

import (
	"errors"
	"fmt"
	"image"
	"math"

	"boardhand/internal/chess"
	"boardhand/internal/sight/locate"
	"boardhand/internal/sight/pixels"
	"boardhand/internal/sight/scene"
	"boardhand/internal/sight/sizes"
	"boardhand/internal/sight/whiteside"
)

// ErrBarelySeen says that there is too little to learn from.
var ErrBarelySeen = errors.New("too little of the board is in the picture: move the camera")

// unsaid is what a setup does not say, being found in a first picture.
type unsaid struct {
	setup scene.Setup
	grey  *image.Gray
	board locate.Board
	sure  float64
	told  []string // a sentence for each thing found
}

// Complete is a setup with what it does not say found in a picture of a board, and a sentence
// for each thing found. White's side is taken from the pieces from the belief sure on.
func Complete(s scene.Setup, img image.Image, board scene.Occupancy, sure float64) (scene.Setup, []string, error) {
	u := unsaid{setup: s, grey: pixels.LumaOf(img), sure: sure}
	u.setup.Image = [2]int{img.Bounds().Dx(), img.Bounds().Dy()}
	if u.setup.Border == 0 {
		u.setup.Border = usualBorder * u.setup.Square
		u.tell("The margin around the field is taken for %.0f mm wide.", u.setup.Border*1e3)
	}
	if err := u.findCamera(board); err != nil {
		return s, nil, err
	}
	if err := u.findPieces(img, board); err != nil {
		return s, nil, err
	}
	return u.setup, u.told, u.setup.Check()
}

func (u *unsaid) tell(format string, a ...any) { u.told = append(u.told, fmt.Sprintf(format, a...)) }

// findCamera finds lens, height and White's side.
func (u *unsaid) findCamera(board scene.Occupancy) error {
	s := &u.setup
	l, found, err := locate.Guess(u.grey, locate.Setup{Square: s.Square, Border: s.Border, Image: s.Image,
		HFOV: s.HFOV, Height: s.Height, WhiteSide: s.White})
	if err != nil {
		return err
	}
	u.board = l
	if s.HFOV == 0 || s.Height == 0 {
		why := ""
		if s.HFOV == 0 {
			why = "; a board seen square-on tells them badly: camera.hfov (`boardhand lens` measures it) and camera.height in a rig file are surer"
		}
		u.tell("The camera hangs %.0f ± %.0f mm over the board and sees %.0f ± %.0f deg across%s.",
			found.Height*1e3, l.HeightSigma*1e3, found.HFOV*180/math.Pi, l.HFOVSigma*180/math.Pi, why)
	}
	s.HFOV, s.Height = found.HFOV, found.Height
	if s.White != "" {
		return nil
	}
	odds := whiteside.Odds(u.grey, u.board.View, *s, board)
	belief := 1 / (1 + math.Exp(-math.Abs(odds)))
	if belief < u.sure {
		return fmt.Errorf("the pieces do not tell whether White sits at the %s or the %s of the picture: say which, by --white-side or by camera.white_side in a rig file",
			found.WhiteSide, locate.Opposite(found.WhiteSide))
	}
	s.White = found.WhiteSide
	if odds < 0 {
		s.White, u.board.View = locate.Opposite(s.White), whiteside.Turned(u.board.View)
	}
	u.tell("White sits at the %s of the picture, by the pieces (%.3f).", s.White, belief)
	return nil
}

// findPieces finds the measures of the pieces that the setup does not give.
func (u *unsaid) findPieces(img image.Image, board scene.Occupancy) error {
	s := &u.setup
	given := s.Pieces
	if s.HasPieces() {
		return nil
	}
	raw := pixels.Reduce(img, pixels.Reduction(u.board.View))
	if err := raw.Check(); err != nil {
		return err
	}
	m, ok := sizes.Estimate(raw, *s, u.board.View, board)
	if !ok {
		return ErrBarelySeen
	}
	for _, k := range chess.Kinds.All() {
		s.Pieces[k] = m.Shapes[k]
		if given[k].Height > 0 {
			s.Pieces[k].Height = given[k].Height
		}
		if given[k].Base > 0 {
			s.Pieces[k].Base = given[k].Base
		}
	}
	u.tell("The pieces are estimated: a king %.0f mm high, a queen %.0f, a pawn %.0f, ± %.0f %%, on bases of %.0f mm, ± %.0f %%; [pieces] in a rig file is surer.",
		s.Pieces[chess.King].Height*1e3, s.Pieces[chess.Queen].Height*1e3, s.Pieces[chess.Pawn].Height*1e3, m.Height*100, s.Pieces[chess.King].Base*1e3, m.Base*100)
	return nil
}
