// SPDX-License-Identifier: Apache-2.0

package locate

import (
	"math"
	"sort"

	"boardhand/internal/frame"
	"boardhand/internal/optics"
	"boardhand/internal/sight/numeric"
)

// Each side of a square is measured at these places, in squares from its end:
// clear of the corners' soft crossing, spread so that a piece hides only some.
var edgePlaces = [4]float64{0.16, 0.38, 0.62, 0.84}

// side is a measured place on a side of a square.
type side struct {
	optics.Corner
	contrast float64 // of the fields' contrast, 1 for two fields; positive: brighter along the normal
	outline  bool    // on the field's outline
}

// useEdges measures the sides of all 64 squares and fits the view to corners
// and sides together; the field's outline comes last, when what is not an edge
// of a field (an inlaid line, the margin's end) can be told by its place. The
// outline holds the fit where pieces hide the outer corners.
func (m *mapping) useEdges() error {
	for _, outline := range []bool{false, true, true} {
		m.sides = m.measureSides(outline)
		m.balance()
		if outline {
			m.dropSides()
		}
		if err := m.refit(); err != nil {
			return err
		}
		for k := 0; k < strayRounds && m.dropSides(); k++ {
			if err := m.refit(); err != nil {
				return err
			}
		}
	}
	return nil
}

// balance takes off what the camera's gamma does to blurred edges: the lighter
// side grows, by the same amount everywhere and in proportion to the contrast.
// Between fields it cancels out of the fit, at the outline it would not.
func (m *mapping) balance() {
	var toLight []float64
	for _, s := range m.sides {
		if !s.outline {
			px, _ := m.fitted.View.Project(s.Board)
			toLight = append(toLight, math.Copysign(1, s.contrast)*s.Seen.Sub(px).Dot(s.Normal))
		}
	}
	shift := numeric.Median(toLight)
	for i := range m.sides {
		s := &m.sides[i]
		s.Seen = s.Seen.Sub(s.Normal.Scale(shift * clip(s.contrast, 1)))
	}
}

// measureSides looks at every place of every side, the outline's too if asked.
func (m *mapping) measureSides(outline bool) []side {
	contrast := math.Abs(m.contrast())
	var out []side
	for line := -4.0; line <= 4; line++ {
		for cell := -4.0; cell < 4; cell++ {
			for _, t := range edgePlaces {
				for _, upright := range []bool{true, false} {
					p := sidePlace{line, cell + t, upright}
					if p.outline() && !outline {
						continue
					}
					if c, ok := m.measureSide(p, contrast); ok {
						out = append(out, c)
					}
				}
			}
		}
	}
	return out
}

// sidePlace is a place on the upright line x = line at y = along, or on the
// level line y = line at x = along, in squares from the centre.
type sidePlace struct {
	line, along float64
	upright     bool
}

// outline says that the place is on the field's outline.
func (p sidePlace) outline() bool { return math.Abs(p.line) == 4 }

// measureSide looks at one place.
func (m *mapping) measureSide(p sidePlace, contrast float64) (side, bool) {
	at, b, ok := m.expectSide(p)
	if !ok {
		return side{}, false
	}
	e, ok := measureEdge(m.k.g, b)
	if !ok || !p.fits(e.contrast/contrast) {
		return side{}, false
	}
	return side{Corner: optics.Corner{Board: at, Seen: e.at, Sigma: e.sigma, Normal: b.normal},
		contrast: e.contrast / contrast, outline: p.outline()}, true
}

// expectSide is where a place lies on the board and what is expected there in
// the picture. The normal points to the right of an upright line drawn
// upwards, below a level line drawn to the right; outwards on the outline.
func (m *mapping) expectSide(p sidePlace) (frame.Point[frame.Board], expectedEdge, bool) {
	const h = 0.2
	s := m.k.s.Square
	at, tip := frame.Point[frame.Board]{X: p.line * s, Y: p.along * s}, frame.Point[frame.Board]{Y: h * s}
	if !p.upright {
		at.X, at.Y, tip.X, tip.Y = at.Y, at.X, tip.Y, tip.X
	}
	px, ok := m.fitted.View.Project(at)
	a, okA := m.fitted.View.Project(at.Sub(tip))
	b, okB := m.fitted.View.Project(at.Add(tip))
	step := b.Distance(a) / (2 * h)
	if !ok || !okA || !okB || !(step > 4) {
		return at, expectedEdge{}, false
	}
	d := b.Sub(a).Scale(1 / (2 * h * step))
	e := expectedEdge{at: px, normal: frame.Spot[frame.Image]{X: -d.Y, Y: d.X},
		long: math.Max(2, edgeLong*step), deep: math.Max(4, math.Min(9, edgeDeep*step))}
	e.past = e.deep
	if p.outline() {
		e.past = pastOutline
		if p.line > 0 != p.upright {
			e.normal = e.normal.Scale(-1)
		}
	}
	return at, e, true
}

// fits says whether an edge's contrast – of the fields', positive when
// brighter along the normal – is that of two fields: the right way round
// inside, and about as large; on the outline either way, the margin being as
// light or dark as it likes.
func (p sidePlace) fits(contrast float64) bool {
	const least, most = 0.4, 2.0
	const rim = 0.25 // a margin between the fields' brightness shows half of it
	c := math.Abs(contrast)
	if p.outline() {
		return c > rim && c < most
	}
	i, j := int(math.Floor(p.line)), int(math.Floor(p.along)) // the cell along the normal
	if !p.upright {
		i, j = int(math.Floor(p.along)), int(math.Floor(p.line))-1
	}
	light := sign(node{i, j}) < 0 // a1, cell (−4, −4), is dark
	return light == (contrast > 0) && c > least && c < most
}

// dropSides removes places that lie off; false if there are none.
func (m *mapping) dropSides() bool {
	if len(m.sides) == 0 {
		return false
	}
	miss := make([]float64, len(m.sides))
	for i, c := range m.sides {
		px, _ := m.fitted.View.Project(c.Board)
		miss[i] = math.Abs(px.Sub(c.Seen).Dot(c.Normal))
	}
	order := append([]float64(nil), miss...)
	sort.Float64s(order)
	limit := math.Max(strayLeast, strayEdgeFactor*order[len(order)/2])
	var kept []side
	for i, c := range m.sides {
		if miss[i] <= limit {
			kept = append(kept, c)
		}
	}
	dropped := len(kept) < len(m.sides)
	m.sides = kept
	return dropped
}
