// SPDX-License-Identifier: Apache-2.0

package lens

import (
	"math"
	"math/rand/v2"

	"boardhand/internal/frame"
)

// light is the room's: one lamp of some size, and the rest from everywhere.
type light struct {
	lamp    frame.Point[frame.Board] // centre of the lamp, m
	radius  float64                  // of the lamp, m: what makes shadows soft
	power   float64                  // lamp's share of the light at the field's centre
	ambient float64
	centre  float64    // cos θ/d² at the field's centre, by which it is scaled
	warm    [3]float64 // colour of the lamp
	cool    [3]float64 // colour of the rest
}

// newLight hangs a lamp somewhere over the table, never straight above: a
// living room. From memory of such rooms, no source.
func newLight(chance *rand.Rand) light {
	turn := 2 * math.Pi * chance.Float64()
	out := lampOut + lampFarther*chance.Float64()
	power := lampPower + lampStronger*chance.Float64()
	tint := lampTint * chance.Float64()
	l := light{
		lamp:    frame.Point[frame.Board]{X: out * math.Cos(turn), Y: out * math.Sin(turn), Z: lampHigh + lampHigher*chance.Float64()},
		radius:  lampRadius + lampWider*chance.Float64(),
		power:   power,
		ambient: 1 - power,
		warm:    [3]float64{1 + tint, 1, 1 - tintBlue*tint},
		cool:    [3]float64{1 - tintRed*tint, 1, 1 + tint},
	}
	l.centre = l.falling(vec{})
	return l
}

// lower puts the lamp low beside the board: a reading lamp on the same table,
// small and 15–30° over the board seen from its middle. From memory of such
// evenings, no source.
func (l *light) lower(chance *rand.Rand) {
	turn, out := 2*math.Pi*chance.Float64(), lowOut+lowFarther*chance.Float64()
	rise := (lowRise + lowSteeper*chance.Float64()) * math.Pi / 180
	l.lamp = frame.Point[frame.Board]{X: out * math.Cos(turn), Y: out * math.Sin(turn), Z: out * math.Tan(rise)}
	l.radius = lowRadius + lowWider*chance.Float64()
	l.centre = l.falling(vec{})
}

// direct is the lamp's light on a level surface at p: power at the field's
// centre, falling with cos θ/d² away from it.
func (l *light) direct(p vec) float64 { return l.power * l.falling(p) / l.centre }

// falling is cos θ/d² of the lamp over a level surface at p.
func (l *light) falling(p vec) float64 {
	x, y, z := l.lamp.X-p.X, l.lamp.Y-p.Y, l.lamp.Z-p.Z
	q := x*x + y*y + z*z
	return z / (q * math.Sqrt(q))
}

// towards is the direction from p to the lamp.
func (l *light) towards(p frame.Point[frame.Board]) vec { return unitVec(l.lamp.Sub(p)) }

// cast is where a point throws its shadow on the plane z: position, how much
// the shadow is enlarged, and half the width of its soft edge, m.
// Similar triangles from the lamp's centre and rim; exact for a level lamp.
func (l *light) cast(p frame.Point[frame.Board], z float64) (at frame.Spot[frame.Board], grow, soft float64) {
	k := (p.Z - z) / math.Max(l.lamp.Z-p.Z, underLamp)
	at = frame.Spot[frame.Board]{X: p.X + (p.X-l.lamp.X)*k, Y: p.Y + (p.Y-l.lamp.Y)*k}
	return at, 1 + k, l.radius*k + leastSoft
}

// vec is a direction or offset in the board frame.
type vec = frame.Point[frame.Board]

func dot(a, b vec) float64 { return a.X*b.X + a.Y*b.Y + a.Z*b.Z }

func cross(a, b vec) vec {
	return vec{X: a.Y*b.Z - a.Z*b.Y, Y: a.Z*b.X - a.X*b.Z, Z: a.X*b.Y - a.Y*b.X}
}

func times(k float64, a vec) vec { return vec{X: k * a.X, Y: k * a.Y, Z: k * a.Z} }

func unitVec(a vec) vec {
	if n := a.Norm(); n > 0 {
		return times(1/n, a)
	}
	return vec{Z: 1}
}
