// SPDX-License-Identifier: Apache-2.0

package locate

import (
	"errors"
	"image"
	"math"
	"slices"

	"boardhand/internal/frame"
	"boardhand/internal/optics"
	"boardhand/internal/sight/numeric"
)

// ErrWhere says that the lattice was found but not where the field ends.
var ErrWhere = errors.New("squares are seen, but not which ones: clear hands and things away from the edge of the board")

// sides holds, for every cell of the lattice, how much it differs from the
// cell to its right and from the one above: 1 as a chequer should, 0 not at
// all, −1 the wrong way round; NaN where the picture ends.
type sides struct {
	right, up [2*span + 3][2*span + 3]float64
}

// sideSpots is at how many places along a side the fields are compared, a little off the line:
// the outer ones lie near the corners, where the bases of pieces do not reach.
const sideSpots = 5

// compareSides looks at all sides of cells within span+1 of the origin.
func (m *mapping) compareSides() *sides {
	s := &sides{}
	l := m.k.grey(m.zoom)
	contrast := 2 * m.contrast()
	e, _ := m.expect(node{})
	off := math.Max(sideOff, pastOutline/math.Max(1, math.Min(e.i.Norm(), e.j.Norm())))
	for j := range s.up {
		for i := range s.up[j] {
			x, y := float64(i-span-1), float64(j-span-1)
			k := sign(node{i, j}) / contrast // (span+1)·2 is even: the same as of (x, y)
			var r, u [sideSpots]float64
			for n := range r {
				t := (float64(n) + 0.5) / sideSpots
				r[n] = k * (m.level(l, x+1-off, y+t) - m.level(l, x+1+off, y+t))
				u[n] = k * (m.level(l, x+t, y+1-off) - m.level(l, x+t, y+1+off))
			}
			s.right[j][i], s.up[j][i] = middle(r), middle(u)
		}
	}
	return s
}

// middle is the median of five clipped to ±1, NaN if any is.
func middle(v [sideSpots]float64) float64 {
	sum := 0.0
	for _, x := range v {
		sum += x
	}
	if math.IsNaN(sum) {
		return sum
	}
	return clip(numeric.Median(v[:]), 1)
}

// level is the brightness at a place given in squares from the origin.
func (m *mapping) level(g *image.Gray, x, y float64) float64 {
	s := m.k.s.Square
	px, ok := m.fitted.View.Project(frame.Point[frame.Board]{X: x * s, Y: y * s})
	u, v := int(px.X/m.zoom+0.5/m.zoom), int(px.Y/m.zoom+0.5/m.zoom)
	if !ok || px.X < 0 || px.Y < 0 || u >= g.Rect.Dx() || v >= g.Rect.Dy() {
		return math.NaN()
	}
	return float64(g.Pix[v*g.Stride+u])
}

// fieldTally is the evidence for one place of the field.
type fieldTally struct {
	score            float64 // sum of the sides' values
	agree, differ    int     // sides seen clearly as they should be, and the other way round
	corners, outside int     // measured corners within the field's 7 × 7 and out of it
	rim              [4]int  // of the 7 sides within the first and last file, first and last rank: seen clearly
}

// addInside counts the right and upper side of the field's cell (i, j).
func (t *fieldTally) addInside(r, u float64, i, j int) {
	if i < 7 {
		t.add(r)
		if j%7 == 0 && r > clearSide {
			t.rim[2+j/7]++
		}
	}
	if j < 7 {
		t.add(u)
		if i%7 == 0 && u > clearSide {
			t.rim[i/7]++
		}
	}
}

func (t *fieldTally) add(v float64) {
	switch {
	case math.IsNaN(v):
		return
	case v > clearSide:
		t.agree++
	case v < -clearSide:
		t.differ++
	}
	t.score += v
}

// addOutside takes off what looks like more chequer along the field's edge.
func (t *fieldTally) addOutside(v float64) {
	if v > clearSide { // false for NaN
		t.score -= v
	}
}

// histogram counts the evidence that the field's first cell (a1) is the cell right
// of and above node o.
func (m *mapping) tally(s *sides, o node) fieldTally {
	var t fieldTally
	for y := range s.up {
		for x := range s.up[y] {
			i, j := x-span-1-o.i, y-span-1-o.j // the cell counted from a1
			r, u := s.right[y][x], s.up[y][x]
			inI, inJ := i >= 0 && i < 8, j >= 0 && j < 8
			switch {
			case inI && inJ:
				t.addInside(r, u, i, j)
			case inJ && j < 7 && i >= -2 && i < 10:
				t.addOutside(u)
			case inI && i < 7 && j >= -2 && j < 10:
				t.addOutside(r)
			}
		}
	}
	for n := range m.seen {
		if n.i > o.i && n.i < o.i+8 && n.j > o.j && n.j < o.j+8 {
			t.corners++
		} else {
			t.outside++
		}
	}
	t.score -= 2 * float64(t.outside)
	return t
}

// place finds the 8 × 8 field on the lattice – a1 is dark, all of it in the
// picture, chequered inside and not beyond – and moves the origin to its centre.
func (m *mapping) place() error {
	best, at, next, cut := m.bestPlace()
	switch {
	case cut > best.score+leastLead:
		return ErrPart
	case best.agree < leastSides || best.agreement() < leastAgreement || best.corners < leastCorners:
		return ErrNoBoard
	case best.score-next < leastLead || slices.Min(best.rim[:]) < leastRim:
		return ErrWhere
	}
	m.recentre(node{at.i + 4, at.j + 4})
	return nil
}

// bestPlace histograms every place with the right colours: the best inside the
// picture, the score of the next best, and the best score of those cut off.
func (m *mapping) bestPlace() (best fieldTally, at node, next, cut float64) {
	s := m.compareSides()
	best.score = -1
	for j := -8; j <= -1; j++ {
		for i := -8; i <= -1; i++ {
			o := node{i, j}
			if sign(o) > 0 == m.light { // then a1 would be light
				continue
			}
			t := m.tally(s, o)
			switch {
			case !m.inPicture(o):
				cut = math.Max(cut, t.score)
			case t.score > best.score:
				next, best, at = math.Max(next, best.score), t, o
			default:
				next = math.Max(next, t.score)
			}
		}
	}
	return best, at, next, cut
}

// agreement is the share of the sides seen clearly that are as they should be.
func (t fieldTally) agreement() float64 {
	return float64(t.agree) / math.Max(1, float64(t.agree+t.differ))
}

// inPicture says whether the field from cell o on lies inside the picture, but
// for a pixel or two.
func (m *mapping) inPicture(o node) bool {
	const spare = 2
	w, h := float64(m.k.g.Rect.Dx()), float64(m.k.g.Rect.Dy())
	for _, n := range []node{{0, 0}, {8, 0}, {0, 8}, {8, 8}, {4, 0}, {0, 4}, {8, 4}, {4, 8}} {
		px, ok := m.fitted.View.Project(m.board(node{o.i + n.i, o.j + n.j}))
		if !ok || px.X < -spare || px.Y < -spare || px.X > w+spare || px.Y > h+spare {
			return false
		}
	}
	return true
}

// recentre makes a node the origin, in the view too.
func (m *mapping) recentre(n node) {
	pose := &m.fitted.View.CameraFromBoard
	pose.T = pose.Apply(m.board(n))
	m.shift(n)
}

// finish measures the field's inner corners once more, fits, and checks the
// whole pattern.
func (m *mapping) finish() (Board, error) {
	m.inner = true
	m.see(fitRounds)
	if len(m.seen) < leastCorners || m.light || m.refit() != nil {
		return Board{}, ErrNoBoard
	}
	// With the lens known the corners alone fix the pose.
	if m.k.s.Prior == nil && m.useEdges() != nil || !m.plausible() {
		return Board{}, ErrNoBoard
	}
	t := m.tally(m.compareSides(), node{-4, -4})
	l := Board{View: m.fitted.View, RMS: m.fitted.RMS, Corners: len(m.seen), HeightSigma: m.fitted.HeightSigma(), PlaceSigma: m.fitted.PlaceSigma(),
		Agreement: t.agreement(), fitted: m.fitted}
	l.HFOVSigma = math.Sin(l.View.Lens.HFOV(m.k.s.Image[0])) * m.fitted.Sigma.Fx / l.View.Lens.Fx
	if l.RMS > mostRMS || t.agree < leastSides || l.Agreement < leastAgreement {
		return Board{}, ErrNoBoard
	}
	for _, n := range fieldNodes() {
		l.Sigma = math.Max(l.Sigma, m.fitted.SpotSigma(m.board(n)))
	}
	if m.k.s.Prior != nil {
		l = l.steadied(*m.k.s.Prior, m.k.s.Square)
	}
	return l, nil
}

// fieldNodes are the 9 × 9 corners of the squares, from the centre.
func fieldNodes() []node {
	var out []node
	for j := -4; j <= 4; j++ {
		for i := -4; i <= 4; i++ {
			out = append(out, node{i, j})
		}
	}
	return out
}

// moved is the largest distance in px between where two views put the field's
// corners.
func moved(a, b optics.View, square float64) float64 {
	most := 0.0
	for _, n := range fieldNodes() {
		p := frame.Point[frame.Board]{X: float64(n.i) * square, Y: float64(n.j) * square}
		pa, _ := a.Project(p)
		pb, _ := b.Project(p)
		most = math.Max(most, pa.Distance(pb))
	}
	return most
}
