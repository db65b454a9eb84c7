// SPDX-License-Identifier: Apache-2.0

package main

import (
	"math"
	"slices"
)

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
	under := r.uncovered(p, cover)
	for i := range under.pix {
		under.pix[i] = moved.pix[i] + (1-soft.pix[i])*under.pix[i]
	}
	return under
}

// uncovered is a picture without what is covered: there it is the last one
// without a hand, in as much light as is left around the hand.
func (r *darkroom) uncovered(p, cover picture) picture {
	const wide = 24 // pixels
	open := picture{w: p.w, h: p.h, pix: make([]float32, len(p.pix))}
	left := picture{w: p.w, h: p.h, pix: make([]float32, len(p.pix))}
	for i, plain := range r.plain.pix {
		if cover.pix[i] == 0 && plain > 0 {
			open.pix[i], left.pix[i] = 1, min(1.5, p.pix[i]/plain)
		}
	}
	spread := func(q picture) picture { return streak(streak(q, [2]float64{wide, 0}), [2]float64{0, wide}) }
	open, left = spread(open), spread(left)
	out := picture{w: p.w, h: p.h, pix: slices.Clone(p.pix)}
	for i := range out.pix {
		if cover.pix[i] > 0 {
			out.pix[i] = r.plain.pix[i]
			if open.pix[i] > 0 {
				out.pix[i] *= left.pix[i] / open.pix[i]
			}
		}
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
