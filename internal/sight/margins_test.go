// SPDX-License-Identifier: Apache-2.0

package sight

import (
	"math"

	"boardhand/internal/frame"
	"boardhand/internal/optics"
)

// margins are figures from inside the reader, which move before a reading
// does: a weight that is doubled shows here though every move is still right.
type margins struct {
	leads []float64 // ln of 1 + the nats by which the best explanation leads the next that says something else
	left  []float64 // mm² that the best explanation leaves unexplained
	hands []float64 // mm² that a hand covers
	views []float64 // px, root mean square over the field's corners, of the view that was found
}

// look takes the figures of the last reading.
func (m *margins) look(s *recording, f truth, r *Reader) {
	if v := r.pending; v != nil && len(v.hypotheses) > 0 {
		if lead, ok := v.lead(); ok {
			m.leads = append(m.leads, math.Log1p(lead))
		}
		area := 0.0
		for _, p := range v.residuals {
			area += p.Area
		}
		m.left = append(m.left, area)
	} else if r.last != nil && r.last.hand != nil {
		m.hands = append(m.hands, r.last.hand.Area)
	}
	if r.view != nil {
		m.views = append(m.views, fieldMiss(*r.view, s.viewAt(f.Frame), s.setup.Square))
	}
}

// fieldMiss is the root mean square distance in px between where two views put
// the field's 81 corners.
func fieldMiss(a, b optics.View, square float64) float64 {
	sum := 0.0
	for j := -4; j <= 4; j++ {
		for i := -4; i <= 4; i++ {
			p := frame.Point[frame.Board]{X: float64(i) * square, Y: float64(j) * square}
			pa, _ := a.Project(p)
			pb, _ := b.Project(p)
			d := pa.Distance(pb)
			sum += d * d / 81
		}
	}
	return math.Sqrt(sum)
}

// lead is how many nats the best hypothesis leads the best of those that say
// something else; false when there is none.
func (v *decision) lead() (float64, bool) {
	best := v.hypotheses[0]
	top, ok := math.Inf(-1), false
	for _, g := range v.hypotheses[1:] {
		if g.State != best.State || g.Move != best.Move {
			top, ok = max(top, g.Lag), true
		}
	}
	const most = 300 // what cannot be at all counts as that
	return min(max(0, best.Lag-top), most), ok
}

// viewAt is the true view of a picture: the last that began.
func (s *recording) viewAt(frame string) optics.View {
	var from string
	for f := range s.views {
		if f <= frame && f > from {
			from = f
		}
	}
	return s.views[from]
}

// join adds another's figures.
func (m *margins) join(o margins) {
	m.leads = append(m.leads, o.leads...)
	m.left = append(m.left, o.left...)
	m.hands = append(m.hands, o.hands...)
	m.views = append(m.views, o.views...)
}

// lead is the geometric mean of the leads, nats: each picture counts by its
// share, not by its size.
func (m *margins) lead() float64 { return math.Expm1(mean(m.leads)) }
