// SPDX-License-Identifier: Apache-2.0

package cast

import (
	"cmp"
	"math"
	"slices"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/game"
	"boardhand/internal/sight/numeric"
	"boardhand/internal/sight/pixels"
	"boardhand/internal/sight/scene"
)

// Shadows are those of the pieces of a picture under the lamp that explains them best. Nil
// tells nothing.
type Shadows struct {
	Lamp    frame.Point[frame.Board] // metres
	Fits    float64                  // correlation of the shadows under it with what is dark, −1 to 1
	of      *scene.Scene
	lit     []ground // open board that no piece shades
	between float64  // what is darker than that is shaded, logarithm besides the even board
	stood   share    // of the own shadow of a piece that stands: what is dark
}

// share is how a share is spread among pieces.
type share struct{ mean, sigma float64 }

// Of finds the lamp and the shadows of the pieces of a scene in a picture, as it came from
// the camera; even is the board without them. Nil where they are too few or agree with no lamp.
func Of(sc *scene.Scene, now, even *pixels.Image) *Shadows {
	shapes := make([]shape, len(sc.Pieces))
	for k := range shapes {
		shapes[k] = shapeOf(sc, &sc.Pieces[k])
	}
	s := &Shadows{of: sc}
	s.Lamp, s.Fits = find(shapes, open(sc, now, even, func(yield func(int) bool) {
		for _, i := range sc.Samples {
			if !yield(int(i)) {
				return
			}
		}
	}))
	if s.Fits < leastFit {
		return nil
	}
	if !s.learn(shapes, open(sc, now, even, sc.Plane.Box.Each(sc.Plane.W))) {
		return nil
	}
	return s
}

// learn learns from the pieces that stand how dark the own shadow of one is; false where that
// cannot be told from light.
func (s *Shadows) learn(shapes []shape, on []ground) bool {
	own, shaded := make([][]ground, len(shapes)), []ground(nil)
	for _, g := range on {
		switch by, n := s.shadedBy(shapes, g.at); {
		case by < 0:
		case n == 0:
			s.lit = append(s.lit, g)
		default:
			shaded = append(shaded, g)
			if n == 1 {
				own[by] = append(own[by], g)
			}
		}
	}
	s.between = (middle(s.lit) + middle(shaded)) / 2
	var shares []float64
	for _, of := range own {
		if len(of) >= leastOwn {
			shares = append(shares, s.dark(of))
		}
	}
	if len(shares) < leastPieces {
		return false
	}
	s.stood = spreadOf(shares)
	return s.stood.mean-2*s.stood.sigma > s.dark(s.lit)+2*litSigma
}

// shadedBy is the last of some shapes in whose shadow a place lies and in how many shadows it
// lies; negative at the edge of one.
func (s *Shadows) shadedBy(shapes []shape, at frame.Spot[frame.Board]) (by, n int) {
	for k := range shapes {
		switch d := shapes[k].depth(s.Lamp, at); {
		case d < inside:
			by, n = k, n+1
		case d < fringe:
			return -1, 0
		}
	}
	return by, n
}

// dark is the share of some ground that is shaded.
func (s *Shadows) dark(of []ground) float64 {
	n := 0
	for _, g := range of {
		if g.fall < s.between {
			n++
		}
	}
	return float64(n) / float64(max(1, len(of)))
}

// Speak is by how many nats its shadow speaks against a piece at a place: where that would fall
// beside all others it would be dark. That of the shortest kind is asked for, which any piece
// shades. Never more than 0: what is dark there may have other reasons.
func (s *Shadows) Speak(at frame.Spot[frame.Board]) float64 {
	if s == nil {
		return 0
	}
	m := s.of.Put(s.shortest(), game.NoSquare, at)
	hidden := map[int32]bool{}
	for _, c := range m.Covers {
		hidden[c.Pixel] = true
	}
	stranger := shapeOf(s.of, &m)
	var own []ground
	for _, g := range s.lit {
		if stranger.depth(s.Lamp, g.at) < inside && !hidden[g.px] {
			own = append(own, g)
		}
	}
	if len(own) < leastOwn {
		return 0
	}
	f := s.dark(own)
	nobody := share{s.dark(s.lit), litSigma}
	return math.Max(-mostNats, math.Min(0, s.stood.log(f)-nobody.log(f)))
}

// shortest is a piece of the shortest kind.
func (s *Shadows) shortest() game.Piece {
	kinds := chess.Kinds.All()
	return game.MakePiece(game.White, slices.MinFunc(kinds, func(a, b game.Kind) int {
		return cmp.Compare(s.of.Setup.Pieces[a].Height, s.of.Setup.Pieces[b].Height)
	}))
}

// log is the logarithm of the density of a share, a normal distribution's, but for a constant.
func (s share) log(f float64) float64 {
	z := (f - s.mean) / s.sigma
	return -z*z/2 - math.Log(s.sigma)
}

// spreadOf is how some shares are spread.
func spreadOf(v []float64) share {
	s, sum := share{}, 0.0
	for _, x := range v {
		s.mean += x / float64(len(v))
	}
	for _, x := range v {
		sum += (x - s.mean) * (x - s.mean)
	}
	s.sigma = math.Max(leastSigma, math.Sqrt(sum/float64(len(v))))
	return s
}

// middle is the median fall of some ground.
func middle(of []ground) float64 {
	v := make([]float64, len(of))
	for k, g := range of {
		v[k] = g.fall
	}
	return numeric.Median(v)
}
