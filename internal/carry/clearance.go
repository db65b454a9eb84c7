package carry

import "boardhand/internal/lanes"

// Clearance is the free distance between a carried foot and one that stands,
// where they are nearest; lengths in metres, board frame.
type Clearance struct {
	From, To lanes.Spot // on the carried foot's edge, on the other's
	Free     float64    // between the feet
	Need     float64    // the least that the limits allow
}

// Tight says whether hardly a hair's width of reserve is left.
func (c Clearance) Tight() bool { return c.Free < c.Need+closeShave }

// Clearances measures the narrowest places of each step's way, at most three a
// step; steps that carry nothing have none.
func (p *Planner) Clearances(s Scene, plan Plan) [][]Clearance {
	out := make([][]Clearance, len(plan.Steps))
	now := s
	for n, step := range plan.Steps {
		if step.Do == Grip || step.Do == Release {
			continue
		}
		if step.Do == Carry {
			d := &drawing{p: p}
			d.measure(now, step)
			for _, m := range d.tight {
				if c, ok := m.clearance(); ok {
					out[n] = append(out[n], c)
				}
			}
		}
		now = p.afterStep(now, step)
	}
	return out
}

// clearance is the stretch between the two feet.
func (m measure) clearance() (Clearance, bool) {
	l := m.at.Distance(m.man)
	if l == 0 || m.gap <= 0 {
		return Clearance{}, false
	}
	u := lanes.Spot{X: (m.man.X - m.at.X) / l, Y: (m.man.Y - m.at.Y) / l}
	a := m.at.Add(u.Scale(m.half))
	return Clearance{From: a, To: a.Add(u.Scale(m.gap)), Free: m.gap, Need: m.need}, true
}
