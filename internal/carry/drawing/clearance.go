// SPDX-License-Identifier: Apache-2.0

package drawing

import "boardhand/internal/carry/plan"

// Clearance is the free distance between a carried base and one that stands,
// where they are nearest; lengths in metres, board frame.
type Clearance struct {
	From, To spot    // on the carried base's edge, on the other's
	Free     float64 // between the bases
	Need     float64 // the least that the limits allow
}

// Tight says whether hardly a hair's width of reserve is left.
func (c Clearance) Tight() bool { return c.Free < c.Need+closeShave }

// Clearances measures the narrowest places of each step's way, at most three a
// step; steps that carry nothing have none.
func (s Sheet) Clearances() [][]Clearance {
	out := make([][]Clearance, len(s.Plan.Steps))
	for n, step := range s.Plan.Steps {
		if step.Do != plan.Carry {
			continue
		}
		d := newDrawing(s)
		d.measure(s.Scenes[n], step)
		for _, m := range d.tight {
			if c, ok := m.clearance(); ok {
				out[n] = append(out[n], c)
			}
		}
	}
	return out
}

// clearance is the stretch between the two bases.
func (m measure) clearance() (Clearance, bool) {
	l := m.at.Distance(m.piece)
	if l == 0 || m.gap <= 0 {
		return Clearance{}, false
	}
	u := spot{X: (m.piece.X - m.at.X) / l, Y: (m.piece.Y - m.at.Y) / l}
	a := m.at.Add(u.Scale(m.half))
	return Clearance{From: a, To: a.Add(u.Scale(m.gap)), Free: m.gap, Need: m.need}, true
}
