// SPDX-License-Identifier: Apache-2.0

package magnet

import "math"

// face is one of the four pairs of charged discs: its height and its sign.
type face struct{ h, s float64 }

// discs is a pair of magnets reduced to what the integrals need.
type discs struct {
	r1, r2 float64
	scale  float64 // Br1·Br2/(4πμ0), N/m² per m⁻²
	face   [4]face
	faces  int
}

// stacked has magnet b standing above a with air g between the facing faces.
func stacked(a, b Cylinder, g float64) discs {
	l1, l2 := float64(a.Thickness), float64(b.Thickness)
	p := pairOf(a, b)
	p.face = [4]face{{g, -1}, {g + l1 + l2, -1}, {g + l2, 1}, {g + l1, 1}}
	if l1 == l2 {
		p.faces, p.face[2].s = 3, 2
	}
	return p
}

// level has both magnets standing on one plane.
func level(a, b Cylinder) discs {
	l1, l2 := float64(a.Thickness), float64(b.Thickness)
	p := pairOf(a, b)
	p.face = [4]face{{0, 1}, {l2 - l1, 1}, {l2, -1}, {l1, -1}}
	if l1 == l2 {
		p.faces, p.face[0].s, p.face[2].s = 3, 2, -2
		p.face[1] = face{l1, 0}
	}
	return p
}

func pairOf(a, b Cylinder) discs {
	return discs{r1: a.Radius(), r2: b.Radius(), faces: 4,
		scale: float64(a.Br) * float64(b.Br) / (4 * math.Pi * Mu0)}
}

// sample is one node of the integral over the lateral distance d; weight holds
// the lens area, the ring's circumference over 2π and the quadrature weight.
type sample struct{ d, weight float64 }

// samples lists the nodes for offset x. The variable is stretched by
// d = x + w·sinh t, which moves the poles of the kernel at d = x ± ih, h ≥ w,
// away to Im t = π/2 however small the gap.
func (p *discs) samples(buf []sample, x, w float64) []sample {
	inner, outer := math.Abs(p.r1-p.r2), p.r1+p.r2
	start := 0.0
	if inner > 0 {
		buf = p.panel(buf, span{0, inner}, x, w)
		start = inner
	}
	return p.panel(buf, span{start, outer}, x, w)
}

// span is a piece of the lateral distance, metres.
type span struct{ from, to float64 }

func (p *discs) panel(buf []sample, s span, x, w float64) []sample {
	t0, t1 := math.Asinh((s.from-x)/w), math.Asinh((s.to-x)/w)
	mid, half := (t1+t0)/2, (t1-t0)/2
	n := min(nodesFixed+int(nodesStretch*(t1-t0)), mostNodes)
	r := &rules[n]
	for i, u := range r.node {
		e := math.Exp(mid + half*u)
		d := x + w*(e-1/e)/2
		if d <= s.from || d >= s.to { // rounding at the ends
			d = min(max(d, s.from), s.to)
		}
		slope := w * (e + 1/e) / 2 * half
		buf = append(buf, sample{d, r.weight[i] * slope * d * lens(p.r1, p.r2, d)})
	}
	return buf
}

// mostSamples is room for both panels on the caller's stack.
const mostSamples = 2 * mostNodes

// pull sums the faces over the samples: the force on the upper (or second)
// magnet, out from the axis and up.
func (p *discs) pull(x, w float64) (out, up float64) {
	var room [mostSamples]sample
	for _, s := range p.samples(room[:0], x, w) {
		var o, u float64
		for _, f := range p.face[:p.faces] {
			fo, fu := ringField(s.d, x, f.h)
			o += f.s * fo
			u += f.s * fu
		}
		out += s.weight * o
		up += s.weight * u
	}
	return p.scale * out, p.scale * up
}
