// SPDX-License-Identifier: Apache-2.0

// Package locate finds a chequered board in a camera picture: saddle points, grown to
// a lattice of square corners, to which lens and pose are fitted, and the 8 × 8 field
// placed on it. It also finds printed checkerboards and calibrates a lens with them.
package locate

import (
	"cmp"
	"errors"
	"fmt"
	"image"
	"math"

	"boardhand/internal/frame"
	"boardhand/internal/optics"
	"boardhand/internal/sight/pixels"
)

// Setup is what is known before the board has been seen.
type Setup struct {
	Square    float64 // side of a square, metres
	Border    float64 // margin around the field, metres
	Image     [2]int  // pixels
	HFOV      float64 // nominal, radians; 2–3 degrees wrong does no harm
	Height    float64 // nominal, metres; 3–5 % wrong does no harm
	WhiteSide string  // picture side where White sits: bottom, left, top, right

	HFOVSigma   float64 // standard deviation of HFOV, radians; 0: as of a rig file's
	HeightShare float64 // and of Height, as a share of it; 0: as of a rig file's
	// Prior is the view as found earlier: the lens is then known, and the
	// camera is looked for near it first. nil at the first time.
	Prior *optics.View
}

// Board is the board as found in one picture.
type Board struct {
	View        optics.View
	RMS         float64                  // of the corners against the view, px
	Corners     int                      // corners that were measured, at most 49 inner ones
	Sigma       float64                  // standard deviation of a predicted corner of the field, the worst of the 9 × 9, px
	HeightSigma float64                  // of the camera's height, metres
	PlaceSigma  frame.Point[frame.Board] // of each coordinate of the camera's place, metres
	HFOVSigma   float64                  // of the horizontal field of view, radians; 0 where the lens was known
	Agreement   float64                  // share of the visible square edges with the chequer's contrast, 0–1
	Moved       float64                  // largest distance of a field corner from where Prior had it, px; 0 without Prior
	Bumped      bool                     // Moved is more than the measurement's noise; otherwise View is Prior
	fitted      optics.Fitted
}

// SpotSigma is the standard deviation in px of where the view puts a board point.
func (l Board) SpotSigma(p frame.Point[frame.Board]) float64 { return l.fitted.SpotSigma(p) }

// Reasons for not finding a board.
var (
	ErrNoBoard = errors.New("no chequered board in the picture: point the camera at the board, clear hands away, give it more even light")
	ErrPart    = errors.New("the board is not seen whole: move it or the camera so that all 8 × 8 squares are in the picture")
)

// Find finds the board in one picture with pieces standing on it, from the nominal values
// alone: the lattice of square corners is grown from saddle points, lens and pose are fitted to
// it with the nominal values as a prior, and the 8 × 8 field is placed on it by colours and
// extent. Field corners come out within 0.5 px; see Board.Sigma for the case at hand.
func Find(img *image.Gray, s Setup) (Board, error) {
	if img == nil {
		return Board{}, pixels.ErrBlank
	}
	img = pixels.LumaOf(img)
	nominal, err := s.nominal()
	if err != nil {
		return Board{}, err
	}
	if err := s.looksAtSomething(img); err != nil {
		return Board{}, err
	}
	if s.Prior != nil {
		if l, err := Track(img, s); err == nil {
			return l, nil
		}
	}
	return (&search{g: img, s: s, nominal: nominal, prior: s.belief(nominal)}).everywhere()
}

// FindThrough is Find through the lens of s.Prior, measured beforehand, unless another one is there now.
func FindThrough(img *image.Gray, s Setup) (Board, error) {
	measured, err := Find(img, s)
	s.Prior = nil
	if fitted, errFitted := Find(img, s); err != nil || errFitted == nil && measured.RMS > otherLens*fitted.RMS {
		return fitted, errFitted
	}
	return measured, nil
}

// everywhere tries the largest pieces of lattice on each reduction.
func (k *search) everywhere() (Board, error) {
	reason := ErrNoBoard
	for _, zoom := range k.zooms() {
		for i, p := range k.patchesAt(zoom) {
			if i == mostPatches || len(p.at) < leastPatch {
				break
			}
			l, err := k.try(p)
			if err == nil {
				return l, nil
			}
			if !errors.Is(err, ErrNoBoard) {
				reason = err
			}
		}
	}
	return Board{}, reason
}

// nominal is the view the rig file promises, or the earlier one.
func (s Setup) nominal() (optics.View, error) {
	if !(s.Square > 0) {
		return optics.View{}, fmt.Errorf("board.square must be positive; got %g mm", s.Square*1e3)
	}
	return optics.Nominal(s.Image, s.HFOV, s.Height, s.WhiteSide)
}

// belief turns the nominal values into a prior for the fit.
func (s Setup) belief(nominal optics.View) optics.Prior {
	lens := nominal.Lens
	focal := cmp.Or(s.HFOVSigma, hfovSigma) / math.Sin(s.HFOV) * lens.Fx // f = w/2/tan(h/2): df/f = −dh/sin h
	centre := centreShare * float64(s.Image[0])
	if s.Prior != nil {
		return optics.Prior{Lens: s.Prior.Lens, Square: true}
	}
	lens.K1 = k1Mean
	return optics.Prior{Lens: lens, Square: true, Height: s.Height, HeightSigma: s.heightSigma(),
		Sigma: optics.Lens{Fx: focal, Cx: centre, Cy: centre, K1: k1Sigma, K2: k2Sigma}}
}

// heightSigma is the standard deviation of the nominal height, metres.
func (s Setup) heightSigma() float64 { return cmp.Or(s.HeightShare, heightShare) * s.Height }

// looksAtSomething refuses pictures of the wrong size, black or even ones.
func (s Setup) looksAtSomething(g *image.Gray) error {
	w, h := g.Rect.Dx(), g.Rect.Dy()
	if w != s.Image[0] || h != s.Image[1] {
		return fmt.Errorf("the picture is %d × %d pixels, camera.image says %d × %d", w, h, s.Image[0], s.Image[1])
	}
	const every = 7 // a sample of the pixels does
	var n, sum, squares float64
	for y := 0; y < h; y += every {
		for x := 0; x < w; x += every {
			v := float64(g.Pix[y*g.Stride+x])
			n, sum, squares = n+1, sum+v, squares+v*v
		}
	}
	mean := sum / n
	spread := math.Sqrt(math.Max(0, squares/n-mean*mean))
	switch {
	case mean < 12 && spread < 4:
		return pixels.ErrDark
	case spread < 3:
		return pixels.ErrBlank
	}
	return nil
}
