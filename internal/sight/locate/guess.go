// SPDX-License-Identifier: Apache-2.0

package locate

import (
	"cmp"
	"image"
	"math"
	"slices"
)

// Guess finds the board where some of the nominal values are not known: HFOV, Height and
// WhiteSide may be zero. It says which values it found; of two sides that face each other
// it cannot tell White's, and takes one. Seen square-on a plane tells the focal length badly,
// whatever its size: then the field of view is that of most small cameras, the height goes
// with it, and HFOVSigma and HeightSigma of the board say how well both are known.
func Guess(img *image.Gray, s Setup) (Board, Setup, error) {
	var reason error
	for _, try := range s.guesses() {
		l, err := Find(img, try)
		if err == nil {
			try.HFOV, try.Height = cmp.Or(s.HFOV, l.View.Lens.HFOV(s.Image[0])), cmp.Or(s.Height, l.View.Camera().Z)
			if s.HFOV == 0 {
				l.doubtLens(try.HFOV)
			}
			return l, try, nil
		}
		reason = err
	}
	return Board{}, s, reason
}

// guesses fills in what is not known, the likeliest first.
func (s Setup) guesses() []Setup {
	whites := []string{s.WhiteSide}
	if s.WhiteSide == "" {
		whites = []string{"bottom", "left"} // a1 is dark: the board's colours tell one pair from the other
	}
	if s.HFOV == 0 {
		s.HFOV, s.HFOVSigma = usualHFOV, usualHFOVSigma
	}
	focal := float64(s.Image[0]) / 2 / math.Tan(s.HFOV/2)
	var out []Setup
	for _, share := range fieldShares {
		for _, white := range whites {
			g := s
			g.WhiteSide = white
			if s.Height == 0 {
				g.Height = focal * 8 * s.Square / (share * float64(slices.Min(s.Image[:])))
				g.HeightShare = unknownHeightShare
			}
			out = append(out, g)
		}
		if s.Height != 0 {
			break
		}
	}
	return out
}

// doubtLens adds to the stated errors what the fit cannot know: that its model of the lens is
// not quite the lens. The height goes with the focal length.
func (l *Board) doubtLens(hfov float64) {
	l.HFOVSigma = math.Hypot(l.HFOVSigma, lensDoubt)
	l.HeightSigma = math.Hypot(l.HeightSigma, l.View.Camera().Z*lensDoubt/math.Sin(hfov))
}

// Opposite is the picture side across from another.
func Opposite(side string) string {
	return map[string]string{"bottom": "top", "top": "bottom", "left": "right", "right": "left"}[side]
}
