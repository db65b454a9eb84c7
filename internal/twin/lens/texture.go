// SPDX-License-Identifier: Apache-2.0

package lens

import (
	"math"
	"math/rand/v2"
)

// colour is linear reflectance or radiance: red, green, blue.
type colour = [3]float64

func scaled(c colour, k float64) colour { return colour{c[0] * k, c[1] * k, c[2] * k} }

func mix(a, b colour, t float64) colour {
	return colour{a[0] + t*(b[0]-a[0]), a[1] + t*(b[1]-a[1]), a[2] + t*(b[2]-a[2])}
}

// smooth is a smooth way from 0 to 1: 3t² − 2t³.
func smooth(t float64) float64 { return t * t * (3 - 2*t) }

// grain is smooth noise over a lattice that repeats every 256 steps.
type grain struct{ lattice [256 * 256]float32 }

func newGrain(chance *rand.Rand) *grain {
	g := &grain{}
	for i := range g.lattice {
		g.lattice[i] = float32(chance.Float64())
	}
	return g
}

// at is the noise at a place, 0–1, in lattice steps.
func (g *grain) at(x, y float64) float64 {
	fx, fy := math.Floor(x), math.Floor(y)
	tx, ty := smooth(x-fx), smooth(y-fy)
	i, j := int(fx)&255, int(fy)&255
	k, l := (i+1)&255, (j+1)&255
	a, b := float64(g.lattice[j<<8|i]), float64(g.lattice[j<<8|k])
	c, d := float64(g.lattice[l<<8|i]), float64(g.lattice[l<<8|k])
	a, c = a+tx*(b-a), c+tx*(d-c)
	return a + ty*(c-a)
}

// wood is a plank: long fibres along x, rings across, some figure. x, y in
// metres; the answer is a factor around 1.
func (g *grain) wood(x, y, contrast float64) float64 {
	bend := g.at(x*9, y*30)
	rings := g.at(7, y*420+bend*5)
	fibre := g.at(x*160, y*2600)
	broad := g.at(x*14+40, y*60)
	return 1 + contrast*(0.9*(rings-0.5)+0.55*(fibre-0.5)+0.6*(broad-0.5))
}

// cloth is a woven table cover: a factor around 1.
func (g *grain) cloth(x, y float64) float64 {
	return 1 + 0.16*(g.at(x*900, y*900)-0.5) + 0.12*(g.at(x*60, y*60)-0.5)
}

// finish is what the board and the pieces are made of.
type finish struct {
	name          string
	light, dark   colour // squares
	border, box   colour
	white, black  colour // pieces
	contrast      float64
	gloss         float64 // of the board: share of the light mirrored
	polish        float64 // of the pieces
	sharp         float64 // of the pieces: exponent of the highlight
	inlay, planks bool
}

// The finishes: linear reflectance. Wood from memory of measured veneers
// (maple 0.5, walnut 0.1 in green); plastic and printed card as they come.
var finishes = []finish{
	{"wood", colour{0.60, 0.43, 0.25}, colour{0.17, 0.085, 0.042}, colour{0.21, 0.105, 0.05}, colour{0.30, 0.22, 0.14},
		colour{0.66, 0.47, 0.26}, colour{0.055, 0.034, 0.024}, 0.30, 0.035, 0.12, 30, true, true},
	{"plastic", colour{0.66, 0.62, 0.52}, colour{0.14, 0.12, 0.11}, colour{0.14, 0.12, 0.11}, colour{0.10, 0.10, 0.11},
		colour{0.70, 0.66, 0.55}, colour{0.035, 0.035, 0.038}, 0.04, 0.05, 0.30, 60, false, false},
	{"card", colour{0.62, 0.58, 0.50}, colour{0.22, 0.23, 0.26}, colour{0.55, 0.51, 0.44}, colour{0.36, 0.27, 0.17},
		colour{0.62, 0.50, 0.33}, colour{0.07, 0.055, 0.05}, 0.06, 0.008, 0.10, 25, false, true},
}

// tables are colours of the table the machine stands on.
var tables = []colour{{0.24, 0.15, 0.085}, {0.33, 0.32, 0.30}, {0.09, 0.13, 0.10}, {0.20, 0.08, 0.07}}
