// SPDX-License-Identifier: Apache-2.0

package locate

import (
	"image"

	"boardhand/internal/frame"
	"boardhand/internal/optics"
	"boardhand/internal/sight/numeric"
	"boardhand/internal/sight/pixels"
)

// Track finds the board again near the view in s.Prior, with the lens as it
// was, and says by how much the camera was bumped (Board.Moved). It fails
// when the picture shows no board there: after a bump of more than a few pixels,
// or under a hand. Then Find with the same setup looks everywhere.
func Track(img *image.Gray, s Setup) (Board, error) {
	if s.Prior == nil || img == nil {
		return Board{}, ErrNoBoard
	}
	img = pixels.LumaOf(img)
	if err := s.looksAtSomething(img); err != nil {
		return Board{}, err
	}
	nominal, err := s.nominal()
	if err != nil {
		return Board{}, err
	}
	k := &search{g: img, s: s, nominal: nominal, prior: s.belief(nominal)}
	m := &mapping{k: k, zoom: k.zooms()[0], seen: map[node]corner{}, empty: map[node]frame.Spot[frame.Image]{}, inner: true, blind: true}
	m.fitted.View = *s.Prior
	m.stay()
	if len(m.seen) < leastCorners || m.refit() != nil {
		return Board{}, ErrNoBoard
	}
	if moved(*s.Prior, m.fitted.View, s.Square) > stillReach {
		m.doubt()
	}
	m.see(1)
	if len(m.seen) < leastCorners || m.refit() != nil {
		return Board{}, ErrNoBoard
	}
	return m.finish()
}

// doubt has all corners measured anew where the camera has turned: they were looked at along
// edges as these ran before, and are off by a few tenths of a pixel, most of them alike.
func (m *mapping) doubt() {
	for n, c := range m.seen {
		c.sigma = 0
		m.seen[n] = c
	}
	clear(m.empty)
}

// Measure finds the pose of a camera whose lens was measured beforehand, from a picture of the
// bare board near a view that was found without knowing the lens. lens says what was measured,
// and how surely; Board.PlaceSigma is by that and by the corners.
func Measure(img *image.Gray, s Setup, near optics.View, lens optics.Prior) (Board, error) {
	nominal, err := s.nominal()
	if err != nil {
		return Board{}, err
	}
	s.Prior = nil
	k := &search{g: pixels.LumaOf(img), s: s, nominal: nominal, prior: lens}
	m := &mapping{k: k, zoom: k.zooms()[0], seen: map[node]corner{}, empty: map[node]frame.Spot[frame.Image]{}, inner: true, blind: true}
	m.fitted.View = near
	m.stay()
	if len(m.seen) < leastCorners {
		return Board{}, ErrNoBoard
	}
	if m.fitted.View, err = optics.PoseFromPlane(lens.Lens, m.corners()); err != nil || m.refit() != nil {
		return Board{}, ErrNoBoard
	}
	return m.finish()
}

// steadied keeps the earlier view when the camera has not moved, so that noise
// does not shake it from picture to picture.
func (l Board) steadied(prior optics.View, square float64) Board {
	l.Moved = moved(prior, l.View, square)
	if l.Bumped = l.Moved > stillSigmas*l.Sigma; !l.Bumped {
		l.View = prior
	}
	return l
}

// stay measures the corners where the earlier view has them, with a wider look
// if a few asked first are not quite there, and not at all if they are not seen.
func (m *mapping) stay() {
	var miss []float64
	for _, n := range fieldNodes() {
		if e, ok := m.expect(n); ok && within(n, 3) && (2*n.i+n.j)%5 == 0 {
			m.far = true
			if c, ok := m.lookFor(e, nil); ok {
				miss = append(miss, c.at.Distance(e.at))
			}
		}
	}
	if len(miss) < leastProbes {
		return
	}
	m.far = numeric.Median(miss) > stillReach
	m.see(fitRounds)
}

// within says whether a node lies within d steps of the origin.
func within(n node, d int) bool { return max(abs(n.i), abs(n.j)) <= d }
