// SPDX-License-Identifier: Apache-2.0

package main

import (
	"fmt"
	"math"
	"strings"
)

// arm is one player's arm.
type arm struct {
	tone   rgb     // of the skin
	sleeve string  // povray texture; empty: bare
	cuff   float64 // mm from the wrist to the sleeve's end
	wide   float64 // sleeve's radius at the cuff
	scale  float64 // 1 is a hand 185 mm long
	thumb  float64 // +1: thumb on the left of the pointing direction (right hand), -1 left hand
}

// drawArm draws one player.
func drawArm(d dice) arm {
	tone := d.near(one(d, rgb{0.87, 0.67, 0.55}, rgb{0.82, 0.6, 0.47}, rgb{0.72, 0.5, 0.37}, rgb{0.52, 0.34, 0.24}, rgb{0.36, 0.23, 0.16}), 0.05)
	a := arm{tone: tone, cuff: d.in(-5, 90), wide: d.in(36, 50), scale: d.in(0.84, 1.05), thumb: one(d, 1.0, 1.0, 1.0, -1.0)}
	if d.chance(0.85) {
		a.sleeve = drawCloth(d)
	}
	return a
}

// drawCloth draws a sleeve.
func drawCloth(d dice) string {
	c := d.near(one(d, rgb{0.1, 0.12, 0.2}, rgb{0.85, 0.85, 0.86}, rgb{0.5, 0.1, 0.12}, rgb{0.15, 0.3, 0.2}, rgb{0.35, 0.36, 0.38},
		rgb{0.6, 0.48, 0.32}, rgb{0.07, 0.07, 0.07}, rgb{0.25, 0.35, 0.6}, rgb{0.8, 0.7, 0.5}, rgb{0.75, 0.5, 0.15}), 0.12)
	pig := fmt.Sprintf("pigment{%s}", c)
	switch d.IntN(4) {
	case 0:
		pig = fmt.Sprintf("pigment{checker %s %s scale %.1f rotate <20,30,40>}", c, c.times(d.in(0.5, 1.6)), d.in(5, 18))
	case 1:
		pig = fmt.Sprintf("pigment{gradient x color_map{[0 %s][0.5 %s][0.5 %s][1 %s]} scale %.1f rotate z*%.0f}", c, c, c.times(0.6), c.times(0.6), d.in(6, 20), d.in(0, 180))
	}
	return fmt.Sprintf("texture{%s normal{wrinkles 0.9 scale %.0f} finish{ambient 0 diffuse 0.75}}", pig, d.in(12, 30))
}

// pose is where a hand is.
type pose struct {
	tip   vec     // between the finger tips, mm, board frame
	turn  float64 // direction it points, radians from +y, positive to the left
	away  bool    // it points against y: Black's
	grip  float64 // radius of what it holds, mm
	raise float64 // wrist over the tips, mm
}

// hand builds the povray text of a hand in a pose.
type hand struct {
	arm
	pose
	flesh
	b     strings.Builder
	balls []ball3
	bones []bone // forearm and sleeve
	f     vec    // forward
	l     vec    // to the thumb's side
}

// object is the povray text of the whole arm.
func (a arm) object(d dice, p pose) body {
	h := hand{arm: a, pose: p}
	dir := math.Pi/2 + p.turn
	if p.away {
		dir += math.Pi
	}
	h.f = vec{math.Cos(dir), math.Sin(dir), 0}
	h.l = vec{-h.f[1] * a.thumb, h.f[0] * a.thumb, 0}
	h.fingers(d)
	h.back()
	h.nails()
	h.forearm(d)
	return body{flesh: h.flesh, skin: h.skinTexture(), text: h.b.String(), balls: h.balls, bones: h.bones}
}

// at is the point f forward of the wrist, l to the thumb and u up, scaled.
func (h *hand) at(f, l, u float64) vec {
	w := h.wrist()
	var p vec
	for i := range 3 {
		p[i] = w[i] + h.scale*(f*h.f[i]+l*h.l[i])
	}
	p[2] += h.scale * u
	return p
}

// wrist is the joint: 160 mm behind the tips of slightly bent fingers.
func (h *hand) wrist() vec {
	const reach = 158
	t := h.tip
	return vec{t[0] - h.scale*reach*h.f[0] - 14*h.l[0], t[1] - h.scale*reach*h.f[1] - 14*h.l[1], t[2] + h.scale*h.raise}
}

// near is the finger tips' point, shifted by f forward and l to the thumb.
func (h *hand) near(f, l, u float64) vec {
	t := h.tip
	return vec{t[0] + f*h.f[0] + l*h.l[0], t[1] + f*h.f[1] + l*h.l[1], t[2] + u}
}

// chain is a chain of bones that tapers from r0 to r1.
func (h *hand) chain(r0, r1 float64, pts ...vec) []bone {
	var out []bone
	n := float64(len(pts) - 1)
	for i := range len(pts) - 1 {
		a, b := h.scale*(r0+(r1-r0)*float64(i)/n), h.scale*(r0+(r1-r0)*float64(i+1)/n)
		out = append(out, bone{pts[i], pts[i+1], a, b})
		h.balls = append(h.balls, ball3{pts[i], a * 1.1}, ball3{pts[i+1], b * 1.1})
	}
	return out
}

// limb is a finger.
func (h *hand) limb(r0, r1 float64, pts ...vec) {
	h.limbs = append(h.limbs, h.chain(r0, r1, pts...))
}

// fill adds to the palm.
func (h *hand) fill(r0, r1 float64, pts ...vec) {
	h.flesh.palm = append(h.flesh.palm, h.chain(r0, r1, pts...)...)
}

// String is povray's vector.
func (v vec) String() string { return fmt.Sprintf("<%.2f,%.2f,%.2f>", v[0], v[1], v[2]) }

// mix is the point at share t from a to b, raised by u.
func mix(a, b vec, t, u float64) vec {
	var p vec
	for i := range 3 {
		p[i] = a[i] + (b[i]-a[i])*t
	}
	p[2] += u
	return p
}

// knuckle is the joint of finger i, 0 the forefinger.
func (h *hand) knuckle(i int) vec {
	x := float64(i)
	return h.at(93-3*x*x*0.7, 33-21*x, 3-2*math.Abs(x-1))
}

// tips are where thumb, fore- and middle finger end.
func (h *hand) tips() [3]vec {
	g := h.grip + 6
	return [3]vec{h.near(-0.55*g, 0.8*g, 0), h.near(0.9*g, 0.35*g, 2), h.near(0.55*g, -0.9*g, 3)}
}

// fingers draws thumb, two fingers that hold and two that are bent.
func (h *hand) fingers(d dice) {
	t := h.tips()
	h.limb(11, 7.2, h.at(30, 30, -8), h.at(62, 45, -16), mix(h.at(62, 45, -16), t[0], 0.55, 5), t[0])
	for i := range 2 {
		k := h.knuckle(i)
		h.limb(9.8, 6.8, k, mix(k, t[i+1], 0.48, 15*h.scale), mix(k, t[i+1], 0.8, 11*h.scale), t[i+1])
	}
	for i := 2; i < 4; i++ {
		k := h.knuckle(i)
		bend := d.in(0.6, 1.1)
		x := float64(i)
		h.limb(9, 6.5-0.4*(x-2), k,
			h.at(93-3*x*x*0.7+38, 33-21*x-2, -4-10*bend),
			h.at(93-3*x*x*0.7+40-14*bend, 33-21*x, -14-24*bend),
			h.at(93-3*x*x*0.7+30-24*bend, 33-21*x+3, -20-32*bend))
	}
}

// back fills the palm and the beginning of the forearm.
func (h *hand) back() {
	for i := range 4 {
		x := float64(i)
		h.fill(13, 9.5, h.at(2, 12-8*x, -2), h.knuckle(i))
	}
	h.fill(15, 12, h.at(12, 14, -8), h.at(60, 38, -14))
	h.fill(12, 10, h.at(10, -14, -6), h.at(75, -24, -5))
	h.fill(12, 12, h.at(40, 16, -4), h.at(45, -12, -4))
	h.fill(24, 21, h.at(-60, 0, -3), h.at(0, 2, -3))
}

// nails are on thumb and forefinger.
func (h *hand) nails() {
	t := h.tips()
	for i, p := range t {
		r := 4.6 * h.scale
		fmt.Fprintf(&h.b, "sphere{0,1 scale <%.2f,%.2f,%.2f> rotate z*%.1f translate <%.2f,%.2f,%.2f> pigment{%s} finish{ambient 0 diffuse 0.8 specular 0.4 roughness 0.02}}\n",
			r, r*0.8, 1.6, math.Atan2(h.f[1], h.f[0])*180/math.Pi, p[0], p[1], p[2]+h.scale*(5.6+0.1*float64(i)), h.tone.times(1.12))
	}
}

// forearm runs out of the picture, with its sleeve.
func (h *hand) forearm(d dice) {
	side := d.in(-60, 40)
	elbow := h.at(-270, -side-10, d.in(-25, 25))
	far := h.at(-900, -side*3, 0)
	w := h.at(0, 0, -3)
	h.b.WriteString("union{\n")
	for _, b := range append(h.chain(23.5, 38, h.at(-58, 0, -3), elbow), h.chain(38, 46, elbow, far)...) {
		fmt.Fprintf(&h.b, "cone{%s,%.2f,%s,%.2f} sphere{%s,%.2f}\n", b.a, b.ra, b.b, b.rb, b.b, b.rb)
		h.bones = append(h.bones, b)
	}
	h.b.WriteString(h.skinTexture() + "}\n")
	if h.sleeve == "" {
		return
	}
	c := mix(w, elbow, h.cuff/270, 0)
	h.balls = append(h.balls, ball3{c, h.wide + 5}, ball3{elbow, h.wide * 1.25}, ball3{far, h.wide * 1.5})
	h.bones = append(h.bones, bone{c, elbow, h.wide, h.wide * 1.25}, bone{elbow, far, h.wide * 1.25, h.wide * 1.5})
	fmt.Fprintf(&h.b, "union{\n")
	fmt.Fprintf(&h.b, "cone{%s,%.1f,%s,%.1f open}\n", c, h.wide, elbow, h.wide*1.25)
	fmt.Fprintf(&h.b, "cone{%s,%.1f,%s,%.1f}\n", elbow, h.wide*1.25, far, h.wide*1.5)
	n := mix(w, elbow, h.cuff/270+0.07, 0)
	fmt.Fprintf(&h.b, "cone{%s,%.1f,%s,%.1f open}\n", c, h.wide+2.5, n, h.wide+4)
	fmt.Fprintf(&h.b, "%s}\n", h.sleeve)
}

// skinTexture is the skin's povray text.
func (h *hand) skinTexture() string {
	return fmt.Sprintf("texture{pigment{bozo color_map{[0 %s][1 %s]} scale 14} normal{bumps 0.12 scale 2} finish{ambient 0 diffuse 0.85 specular 0.12 roughness 0.08}}",
		h.tone.times(0.93), h.tone.times(1.05))
}
