// SPDX-License-Identifier: Apache-2.0

package locate

import (
	"image"
	"math"

	"boardhand/internal/frame"
	"boardhand/internal/optics"
	"boardhand/internal/sight/numeric"
	"boardhand/internal/sight/pixels"
)

// Track finds the board again near the view in s.Prior, with the lens as it
// was, and says by how much the camera was bumped (Board.Moved). It fails
// when the picture shows no board there: after a bump of more than a third of
// a square, or under a hand. Then Find with the same setup looks everywhere.
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
	for _, look := range []func(){m.stay, m.jump} {
		look()
		if len(m.seen) < leastCorners || m.refit() != nil {
			continue
		}
		if moved(*s.Prior, m.fitted.View, s.Square) > stillReach {
			m.doubt()
		}
		m.see(1)
		if len(m.seen) < leastCorners || m.refit() != nil {
			continue
		}
		if l, err := m.finish(); err == nil {
			return l, nil
		}
	}
	return Board{}, ErrNoBoard
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

// jump looks for each corner's saddle around its earlier place, on the reduced
// picture, and keeps those that agree on a common shift.
func (m *mapping) jump() {
	m.fitted = optics.Fitted{View: *m.k.s.Prior}
	// The saddles' fit comes within a pixel: no wide look is needed after it.
	m.seen, m.empty, m.far = map[node]corner{}, map[node]frame.Spot[frame.Image]{}, false
	g := m.k.grey(m.zoom)
	var at [16]int
	for i, d := range ring {
		at[i] = d[1]*g.Stride + d[0]
	}
	shift := map[node]frame.Spot[frame.Image]{}
	var dx, dy []float64
	for _, n := range fieldNodes() {
		e, ok := m.expect(n)
		if !ok || !within(n, 3) {
			continue
		}
		if to, ok := m.bestSaddle(g, &at, e, sign(n)); ok {
			d := to.Sub(e.at)
			shift[n] = d
			dx, dy = append(dx, d.X), append(dy, d.Y)
			m.seen[n] = corner{at: to}
		}
	}
	common := frame.Spot[frame.Image]{X: numeric.Median(dx), Y: numeric.Median(dy)}
	for n, d := range shift {
		// Turns and tilts of a bump spread the shifts by a part of themselves.
		if d.Distance(common) > 2*m.zoom+0.3*common.Norm() {
			delete(m.seen, n)
		}
	}
}

// bestSaddle is the strongest saddle of the right colours near a place.
func (m *mapping) bestSaddle(g *image.Gray, at *[16]int, e expectedCorner, s float64) (frame.Spot[frame.Image], bool) {
	reach := int(bumpReach * math.Min(e.i.Norm(), e.j.Norm()) / m.zoom)
	cx, cy := int(math.Round((e.at.X+0.5)/m.zoom-0.5)), int(math.Round((e.at.Y+0.5)/m.zoom-0.5))
	best, bx, by := int16(saddleFloor), -1, -1
	// a1 is dark, so the fields right above and left below the centre are too.
	dark := frame.Spot[frame.Image]{X: s * (e.i.X + e.j.X), Y: s * (e.i.Y + e.j.Y)}
	if s < 0 {
		dark = e.i.Sub(e.j)
	}
	u := dark.Scale(ringReach / dark.Norm())
	ux, uy := int(math.Round(u.X)), int(math.Round(u.Y))
	for y := max(ringReach, cy-reach); y <= min(g.Rect.Dy()-1-ringReach, cy+reach); y++ {
		for x := max(ringReach, cx-reach); x <= min(g.Rect.Dx()-1-ringReach, cx+reach); x++ {
			o := y*g.Stride + x
			if v := ringScore(g.Pix, o, g.Stride, at); v > best {
				p := func(a, b int) int { return int(g.Pix[o+b*g.Stride+a]) }
				if p(ux, uy)+p(-ux, -uy) < p(uy, -ux)+p(-uy, ux) {
					best, bx, by = v, x, y
				}
			}
		}
	}
	return saddle{x: float64(bx), y: float64(by)}.full(m.zoom), bx >= 0
}

// within says whether a node lies within d steps of the origin.
func within(n node, d int) bool { return max(abs(n.i), abs(n.j)) <= d }
