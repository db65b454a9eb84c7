// SPDX-License-Identifier: Apache-2.0

package lens

import (
	"math"

	"boardhand/internal/frame"
)

// shadow is the part of the picture that a piece darkens: how much of the lamp
// it hides, and how much of the rest of the light, of 255.
type shadow struct {
	x0, y0, w, h int
	hides        []uint8 // of the lamp
	closes       []uint8 // of the light from everywhere, close to the base
	onTable      bool
}

// disc is one slice of a piece as its shadow falls.
type disc struct {
	at   frame.Spot[frame.Board]
	r    float64
	soft float64
}

// shadowOf computes a piece's shadow.
func (s *stage) shadowOf(b *Piece) shadow {
	ground := 0.0
	if b.OnTable {
		ground = s.scene.tableZ
	}
	discs := s.discs(b, ground)
	lo, hi := b.At, b.At
	for _, d := range discs {
		m := d.r + d.soft
		lo = frame.Spot[frame.Board]{X: min(lo.X, d.at.X-m), Y: min(lo.Y, d.at.Y-m)}
		hi = frame.Spot[frame.Board]{X: max(hi.X, d.at.X+m), Y: max(hi.Y, d.at.Y+m)}
	}
	m := b.Base * darkReach
	lo = frame.Spot[frame.Board]{X: min(lo.X, b.At.X-m), Y: min(lo.Y, b.At.Y-m)}
	hi = frame.Spot[frame.Board]{X: max(hi.X, b.At.X+m), Y: max(hi.Y, b.At.Y+m)}
	sh := s.frameOf(lo, hi, ground)
	sh.onTable = b.OnTable
	base := b.Base
	if b.Z-ground > inTheAir {
		base = 0 // in the air: nothing touches the board
	}
	s.fillShadow(&sh, discs, b.At, base)
	return sh
}

// discs cuts a piece into slices and casts each.
func (s *stage) discs(b *Piece, ground float64) []disc {
	rings := profiles[b.Piece.Kind()]
	stand := posture(b)
	var out []disc
	j, n := 0, cuts
	if s.scene.light.lamp.Z < lowest {
		n = lowCuts
	}
	for k := range n {
		z := (float64(k) + 0.3) / float64(n)
		for j+2 < len(rings) && rings[j+1].z < z {
			j++
		}
		r := rings[j]
		axis := stand.Apply(frame.Point[own]{X: r.off * b.Base, Z: z * b.Height})
		at, grow, soft := s.scene.light.cast(axis, ground)
		out = append(out, disc{at, grow * b.Base * (r.along + r.across) / 2, soft})
	}
	return out
}

// frameOf is the part of the picture that shows a rectangle of the ground.
func (s *stage) frameOf(lo, hi frame.Spot[frame.Board], ground float64) shadow {
	x0, y0, x1, y1 := math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)
	for _, c := range [4]frame.Spot[frame.Board]{lo, {X: hi.X, Y: lo.Y}, hi, {X: lo.X, Y: hi.Y}} {
		px, ok := s.scene.view.Project(c.At(ground))
		if !ok {
			return shadow{}
		}
		x0, y0, x1, y1 = min(x0, px.X), min(y0, px.Y), max(x1, px.X), max(y1, px.Y)
	}
	sh := shadow{x0: max(0, int(x0)-1), y0: max(0, int(y0)-1)}
	sh.w = max(0, min(s.plate.w, int(x1)+2)-sh.x0)
	sh.h = max(0, min(s.plate.h, int(y1)+2)-sh.y0)
	return sh
}

func (s *stage) fillShadow(sh *shadow, discs []disc, at frame.Spot[frame.Board], base float64) {
	sh.hides, sh.closes = make([]uint8, sh.w*sh.h), make([]uint8, sh.w*sh.h)
	for y := range sh.h {
		for x := range sh.w {
			i := (y+sh.y0)*s.plate.w + x + sh.x0
			if s.plate.table[i] != sh.onTable {
				continue
			}
			px, py := float64(s.plate.x[i]), float64(s.plate.y[i])
			sh.hides[y*sh.w+x] = hidden(discs, px, py)
			if base > 0 {
				d := math.Hypot(px-at.X, py-at.Y) - base
				sh.closes[y*sh.w+x] = uint8(darkest * math.Exp(-math.Max(0, d)/(darkFall*base)))
			}
		}
	}
}

// hidden is how much of the lamp the slices hide from a place, of 255.
func hidden(discs []disc, x, y float64) uint8 {
	most := 0.0
	for _, d := range discs {
		dx, dy := x-d.at.X, y-d.at.Y
		reach := d.r + d.soft
		q := dx*dx + dy*dy
		if q >= reach*reach {
			continue
		}
		t := (reach - math.Sqrt(q)) / (2 * d.soft)
		if most = math.Max(most, t); most >= 1 {
			return 255
		}
	}
	return uint8(255 * smooth(most))
}

// add joins a shadow to the picture's: of two things that hide the lamp the
// larger counts, what closes the sky multiplies.
func (sh *shadow) add(hides, closes []uint8, width int) {
	for y := range sh.h {
		row := (y+sh.y0)*width + sh.x0
		for x := range sh.w {
			i := y*sh.w + x
			hides[row+x] = max(hides[row+x], sh.hides[i])
			if c := sh.closes[i]; c > 0 {
				closes[row+x] = 255 - uint8(uint16(255-closes[row+x])*uint16(255-c)/255)
			}
		}
	}
}

// darken applies shadows to a picture.
func darken(rgb []uint16, lamp, hides, closes []uint8) {
	for i, h := range hides {
		c := closes[i]
		if h == 0 && c == 0 {
			continue
		}
		direct := uint32(lamp[i])
		left := direct*(255-uint32(h)) + (255-direct)*(255-uint32(c)) // of 255²
		d := rgb[3*i : 3*i+3]
		d[0] = uint16(uint32(d[0]) * (left >> 1) / (255 * 255 / 2) * 255 / 256)
		d[1] = uint16(uint32(d[1]) * (left >> 1) / (255 * 255 / 2))
		d[2] = uint16(min(65535, uint32(d[2])*(left>>1)/(255*255/2)))
	}
}
