// SPDX-License-Identifier: Apache-2.0

package main

import "math"

// smeared is a shot's picture as motion blurs it: all of it when the camera
// shook, else what the hand covers, over the board as it was seen last.
func (r *darkroom) smeared(sh shot, p picture) picture {
	by := sh.light.smear
	if !sh.light.isHand || r.plain.pix == nil {
		if sh.extra == nil {
			r.plain, r.still = p, sh
		}
		return streak(p, by)
	}
	cover := picture{w: p.w, h: p.h, pix: make([]float32, len(p.pix))}
	hand := picture{w: p.w, h: p.h, pix: make([]float32, len(p.pix))}
	now, before := r.st.depths(sh), r.st.depths(r.still)
	for i := range p.pix {
		if now[i/3] < before[i/3]-1 {
			cover.pix[i], hand.pix[i] = 1, p.pix[i]
		}
	}
	soft, moved := streak(cover, by), streak(hand, by)
	out := picture{w: p.w, h: p.h, pix: make([]float32, len(p.pix))}
	for i := range p.pix {
		under := p.pix[i]
		if cover.pix[i] > 0 {
			under = r.plain.pix[i]
		}
		out.pix[i] = moved.pix[i] + (1-soft.pix[i])*under
	}
	return out
}

// streak averages a picture along a line of the given length and direction,
// pixels.
func streak(p picture, by [2]float64) picture {
	n := int(math.Hypot(by[0], by[1])) + 2
	out := picture{w: p.w, h: p.h, pix: make([]float32, len(p.pix))}
	for k := range n {
		t := float64(k)/float64(n-1) - 0.5
		dx, dy := int(math.Round(by[0]*t)), int(math.Round(by[1]*t))
		for y := range p.h {
			from := max(0, min(p.h-1, y+dy)) * p.w
			for x := range p.w {
				i, j := 3*(y*p.w+x), 3*(from+max(0, min(p.w-1, x+dx)))
				for c := range 3 {
					out.pix[i+c] += p.pix[j+c] / float32(n)
				}
			}
		}
	}
	return out
}
