// SPDX-License-Identifier: Apache-2.0

package lens

import (
	"math"
	"math/rand/v2"

	"boardhand/internal/frame"
)

// glare is the reflection of something bright on the varnish: a window, a
// telephone, a lamp that swings.
type glare struct {
	chance  *rand.Rand // nil: never
	left    int        // pictures that it still stays
	source  vec        // the bright thing, m
	rough   float64    // spread of the varnish's facets, rad
	power   float64    // over a white wall under the room's light
	changed bool       // since the last picture
}

// next lets the glare come, move or go for one picture.
func (g *glare) next(s *stage) {
	if g.chance == nil {
		return
	}
	g.changed = g.left > 0
	if g.left > 0 {
		g.left--
		g.source.X += glareWander * g.chance.NormFloat64()
		g.source.Y += glareWander * g.chance.NormFloat64()
		return
	}
	if g.chance.Float64() >= glareChance {
		return
	}
	g.changed = true
	g.left = glareLeast + g.chance.IntN(glareMost-glareLeast+1)
	g.rough, g.power = glareRough+glareRougher*g.chance.Float64(), glarePower+glareStronger*g.chance.Float64()
	eye := s.scene.view.Camera()
	x, y := s.scene.rig.Board.Half()
	at := frame.Spot[frame.Board]{X: float64(x) * (2*g.chance.Float64() - 1), Y: float64(y) * (2*g.chance.Float64() - 1)}
	high := glareHigh + glareHigher*g.chance.Float64()
	g.source = at.Add(at.Sub(eye.Spot()).Scale(high / eye.Z)).At(high) // mirrored there
}

// shine lays the reflection over the bare board. A facet between eye and source
// mirrors; facets are spread as a bell curve about the level.
func (g *glare) shine(s *stage, rgb []uint16) {
	if g.left == 0 {
		return
	}
	eye, p := s.scene.view.Camera(), s.plate
	for i := range p.table {
		if p.table[i] {
			continue
		}
		at := vec{X: float64(p.x[i]), Y: float64(p.y[i])}
		h := unitVec(unitVec(g.source.Sub(at)).Add(unitVec(eye.Sub(at))))
		t := (h.X*h.X + h.Y*h.Y) / (g.rough * g.rough)
		if t > 9 { // a ten-thousandth is left
			continue
		}
		v := g.power * math.Exp(-t) * float64(p.dim[i]) * full
		for k := range 3 {
			rgb[3*i+k] = uint16(min(65535, float64(rgb[3*i+k])+v))
		}
	}
}
