// SPDX-License-Identifier: Apache-2.0

package coupling

import (
	"math"

	"boardhand/internal/drag"
	"boardhand/internal/magnet"
	"boardhand/internal/unit"
)

// Pushes is the repulsion, N, of two base magnets that stand beside each other, over the
// distance of their axes, tabulated. Between two entries it is a power of the distance:
// 0.2 % off at worst, from a sixth of the diameter between the discs. Source: direct
// integration over the charged discs.
type Pushes struct {
	touch float64   // m: the least distance
	logs  []float64 // of forces in newtons
}

// PushesOf tabulates them up to a distance, m. An error is one of the magnet.
func PushesOf(c magnet.Cylinder, to float64) (Pushes, error) {
	p := Pushes{touch: 2 * c.Radius() * (1 + 1e-5)}
	for d := p.touch; d < max(to, 2*p.touch)+2*pushStep; d += pushStep {
		f, err := magnet.SideBySide(c, c, unit.Length(d))
		if err != nil {
			return p, err
		}
		p.logs = append(p.logs, math.Log(max(f, 1e-12)))
	}
	return p, nil
}

// Force is the repulsion at a distance, m; not a number without a table.
func (p Pushes) Force(d float64) float64 {
	x := max(0, (d-p.touch)/pushStep)
	if math.IsNaN(x) || len(p.logs) < 2 {
		return math.NaN()
	}
	i := int(min(x, float64(len(p.logs)-2)))
	from := p.touch + float64(i)*pushStep
	t := math.Log(max(d, from)/from) / math.Log(1+pushStep/from)
	return math.Exp(p.logs[i] + min(t, 1)*(p.logs[i+1]-p.logs[i]))
}

// Passer is the raised magnet together with the base it carries, for a piece that stands
// beside both; Away is the push, N, of one more base a square away.
type Passer struct {
	drag.Puller
	Foot  Pushes
	Times float64 // of its pushes
	Away  float64
}

// At adds the pushes to the pull.
func (b Passer) At(gap, offset float64) (magnet.Pull, error) {
	p, err := b.Puller.At(gap, offset)
	p.Lateral -= b.Times * b.Foot.Force(offset)
	p.Lateral += math.Copysign(b.Away, p.Lateral)
	return p, err
}
