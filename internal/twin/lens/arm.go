// SPDX-License-Identifier: Apache-2.0

package lens

import (
	"math"

	"boardhand/internal/frame"
)

// limb is a piece of an arm: a rod with round ends.
type limb struct {
	a, b   vec
	r      float64
	colour colour
	cloth  bool
}

// limbs sets out the arm for where the fingertips are: four fingers and a
// thumb that meet at the tip, the back of the hand, the wrist, the sleeve.
func (h *Arm) limbs() []limb {
	tip := h.Tip
	back := h.Elbow.Sub(tip)
	back.Z = 0
	back = unitVec(back)
	side := vec{X: -back.Y, Y: back.X}
	if dot(side, vec{X: h.Rest.X}) > 0 {
		side = times(-1, side)
	}
	k := h.Look.Thick
	skin := h.Look.Skin
	point := func(b, s, up float64) vec {
		return tip.Add(times(palm*b, back)).Add(times(palm*s, side)).Add(vec{Z: palm * up})
	}
	wrist := point(0.125, 0, 0.062)
	out := []limb{
		{a: point(0.055, -0.022, 0.052), b: point(0.105, -0.012, 0.060), r: 0.0165 * k, colour: skin},
		{a: point(0.052, 0, 0.056), b: point(0.110, 0, 0.062), r: 0.0175 * k, colour: skin},
		{a: point(0.058, 0.022, 0.050), b: point(0.105, 0.012, 0.058), r: 0.0165 * k, colour: skin},
		{a: wrist, b: point(0.165, 0, 0.068), r: 0.025 * k, colour: skin},
		{a: point(0.150, 0, 0.068), b: point(0.215, 0, 0.08), r: 0.036 * k, colour: h.Look.Sleeve, cloth: true},
		{a: point(0.21, 0, 0.08), b: h.Elbow, r: 0.047 * k, colour: h.Look.Sleeve, cloth: true},
	}
	return append(out, h.fingers(point)...)
}

// Gap is the least distance between the arm with its hand and a standing piece, taken
// for a cylinder as wide as its base, m; below 0 where they meet.
func (h *Arm) Gap(p Piece) float64 {
	foot := p.At.At(p.Z)
	head := foot.Add(vec{Z: p.Height})
	least := math.Inf(1)
	for _, l := range h.limbs() {
		least = math.Min(least, apart(l.a, l.b, foot, head)-l.r-p.Base)
	}
	return least
}

// apart is the least distance between two straight lines from a to b and from c to d, m.
func apart(a, b, c, d vec) float64 {
	least := math.Inf(1)
	const parts = 64 // of the first line: to better than a millimetre for a limb of a decimetre
	for i := range parts + 1 {
		p := a.Between(b, float64(i)/parts)
		along := d.Sub(c)
		t := math.Max(0, math.Min(1, dot(p.Sub(c), along)/dot(along, along)))
		least = math.Min(least, p.Sub(c.Between(d, t)).Norm())
	}
	return least
}

// fingers are four fingers of two joints and a thumb; point gives places along
// the hand, across it and up.
func (h *Arm) fingers(point func(back, side, up float64) vec) (out []limb) {
	k, skin := h.Look.Thick, h.Look.Skin
	tone := mix(skin, colour{skin[0] * 1.08, skin[1], skin[2]}, 0.8)
	for i, f := range [4][3]float64{{-0.026, -0.008, 0}, {-0.008, -0.003, 0}, {0.010, 0.012, 0.012}, {0.026, 0.026, 0.020}} {
		knuckle, mid := point(0.052, f[0], 0.056), point(0.012+0.3*f[2], f[0]*0.8, 0.050-0.004*math.Abs(float64(i)-1))
		end := point(-0.003+1.2*f[2], f[1], 0.002+f[2])
		out = append(out, limb{a: knuckle, b: mid, r: 0.0090 * k, colour: skin}, limb{a: mid, b: end, r: 0.0078 * k, colour: tone})
	}
	bend := point(0.035, -0.030, 0.030)
	return append(out, limb{a: point(0.085, -0.028, 0.050), b: bend, r: 0.0115 * k, colour: skin},
		limb{a: bend, b: point(0.008, -0.010, 0.002), r: 0.0092 * k, colour: skin})
}

// cover is the arm as drawn: premultiplied colour, and nearness for what hides what.
type cover struct {
	x0, y0, x1, y1 int
	rgb            []float32
	alpha          []float32
	near           []float32
	w              int
}

// box is where a limb may show in the picture.
func (s *stage) box(l limb, margin float64) (x0, y0, x1, y1 int) {
	lo, hi := [2]float64{math.Inf(1), math.Inf(1)}, [2]float64{math.Inf(-1), math.Inf(-1)}
	const parts = 6
	for i := range parts + 1 {
		p := l.a.Between(l.b, float64(i)/parts)
		c := s.scene.view.CameraFromBoard.Apply(p)
		if c.Z < 0.05 {
			continue
		}
		px, ok := s.scene.view.Lens.Project(c)
		if !ok { // out of the lens's field: somewhere off the picture
			px.X = math.Copysign(2e4, c.X)
			px.Y = math.Copysign(2e4, c.Y)
		}
		r := (l.r+margin)*s.scene.view.Lens.Fx/c.Z + 2
		lo = [2]float64{min(lo[0], px.X-r), min(lo[1], px.Y-r)}
		hi = [2]float64{max(hi[0], px.X+r), max(hi[1], px.Y+r)}
	}
	clip := func(v float64, most int) int { return int(math.Max(0, math.Min(float64(most), v))) }
	return clip(lo[0], s.plate.w), clip(lo[1], s.plate.h), clip(hi[0]+1, s.plate.w), clip(hi[1]+1, s.plate.h)
}

// drawLimb traces a rod with round ends.
func (s *stage) drawLimb(c *cover, l limb) {
	x0, y0, x1, y1 := s.box(l, 0)
	c.x0, c.y0, c.x1, c.y1 = min(c.x0, x0), min(c.y0, y0), max(c.x1, x1), max(c.y1, y1)
	eye := s.scene.view.Camera()
	lamp := s.scene.light.towards(l.a)
	power := s.scene.light.direct(l.a)
	ray := newRod(eye, l)
	for y := y0; y < y1; y++ {
		for x := x0; x < x1; x++ {
			i := y*s.plate.w + x
			z := 0.0
			if s.plate.table[i] {
				z = s.scene.tableZ
			}
			d := unitVec(vec{X: float64(s.plate.x[i]), Y: float64(s.plate.y[i]), Z: z}.Sub(eye))
			t, ok := ray.hit(d)
			if !ok || float32(1/t) <= c.near[i] {
				continue
			}
			c.near[i] = float32(1 / t)
			at := eye.Add(times(t, d))
			col := s.skinned(l, at, ray.normal(at), lamp)
			for k := range 3 {
				c.rgb[3*i+k] = float32(col[k] * power)
			}
			c.alpha[i] = 1
		}
	}
}

// skinned is the light off skin (light bleeds past the edge of shade, redder)
// or cloth.
func (s *stage) skinned(l limb, at, n, lamp vec) colour {
	li := &s.scene.light
	face := dot(n, lamp)
	open := armOpen + (1-armOpen)*n.Z
	rough := 1 + skinRough*(s.scene.grain.at(at.X*700+at.Z*300, at.Y*700)-0.5)
	wrap := skinWrap
	if l.cloth {
		wrap = clothWrap
		rough = 1 + clothFolds*(s.scene.grain.at(at.X*120+at.Z*80, at.Y*160)-0.5) + clothThread*(s.scene.grain.at(at.X*1400, at.Y*1400)-0.5)
	}
	var c colour
	for k := range c {
		f := math.Max(0, (face+wrap[k])/(1+wrap[k]))
		c[k] = rough * l.colour[k] * (f*li.warm[k]*armBright + li.ambient/li.power*open*li.cool[k])
	}
	return c
}

// armShadow darkens what the arm hides from the lamp, two pixels at a time:
// its edges are softer than that.
func (s *stage) armShadow(rgb []uint16, limbs []limb) {
	casts := [2][]rodShadow{}
	x0, y0, x1, y1 := s.plate.w, s.plate.h, 0, 0
	for _, l := range limbs {
		for g, z := range [2]float64{0, s.scene.tableZ} {
			c := s.castRod(l, z)
			casts[g] = append(casts[g], c)
			flat := limb{a: c.a.At(z), b: c.b.At(z), r: c.r + c.soft}
			u0, v0, u1, v1 := s.box(flat, 0)
			x0, y0, x1, y1 = min(x0, u0), min(y0, v0), max(x1, u1), max(y1, v1)
		}
	}
	for y := y0 &^ 1; y < y1; y += 2 {
		for x := x0 &^ 1; x < x1; x += 2 {
			i := y*s.plate.w + x
			g := 0
			if s.plate.table[i] {
				g = 1
			}
			if dark := hiddenByRods(casts[g], float64(s.plate.x[i]), float64(s.plate.y[i])); dark > 0 {
				s.shadeBlock(rgb, x, y, dark)
			}
		}
	}
}

// shadeBlock takes a share of the lamp from a block of four pixels.
func (s *stage) shadeBlock(rgb []uint16, x, y int, dark float64) {
	for k := range 4 {
		u, v := x+k%2, y+k/2
		if u >= s.plate.w || v >= s.plate.h {
			continue
		}
		i := v*s.plate.w + u
		left := uint32(256 * (1 - dark*float64(s.plate.lamp[i])/255))
		for n := range 3 {
			rgb[3*i+n] = uint16(uint32(rgb[3*i+n]) * left >> 8)
		}
	}
}

// rodShadow is a limb's shadow on the ground.
type rodShadow struct {
	a, b    frame.Spot[frame.Board]
	r, soft float64
}

func (s *stage) castRod(l limb, z float64) rodShadow {
	a, ga, sa := s.scene.light.cast(l.a, z)
	b, gb, sb := s.scene.light.cast(l.b, z)
	return rodShadow{a, b, l.r * (ga + gb) / 2, (sa + sb) / 2}
}

// hiddenByRods is the share of the lamp hidden from a place.
func hiddenByRods(rods []rodShadow, x, y float64) float64 {
	most := 0.0
	for _, r := range rods {
		dx, dy := r.b.X-r.a.X, r.b.Y-r.a.Y
		px, py := x-r.a.X, y-r.a.Y
		t := math.Max(0, math.Min(1, (px*dx+py*dy)/math.Max(dx*dx+dy*dy, 1e-12)))
		qx, qy := px-t*dx, py-t*dy
		reach := r.r + r.soft
		if q := qx*qx + qy*qy; q < reach*reach {
			most = math.Max(most, (reach-math.Sqrt(q))/(2*r.soft))
		}
	}
	return smooth(math.Min(1, most))
}
