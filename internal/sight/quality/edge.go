// SPDX-License-Identifier: Apache-2.0

package quality

import (
	"image"
	"math"
	"slices"

	"boardhand/internal/frame"
	"boardhand/internal/sight/numeric"
)

// profile is the brightness along a line across an edge, from one square's middle
// towards the other's, at equal steps.
type profile struct {
	grey []float64
	step float64 // px
}

// profile samples the picture across an edge, aside of its middle by a share of the
// square; false where the picture ends.
func (b Board) profile(g *image.Gray, e edge, aside float64) (profile, bool) {
	along := frame.Spot[frame.Board]{X: -e.across.Y, Y: e.across.X}
	at := e.at.Add(along.Scale(aside))
	from, ok1 := b.View.Project(at.Sub(e.across.Scale(profileReach)).At(0))
	to, ok2 := b.View.Project(at.Add(e.across.Scale(profileReach)).At(0))
	if !ok1 || !ok2 || !inside(g, from) || !inside(g, to) {
		return profile{}, false
	}
	p := profile{step: from.Distance(to) / (samples - 1)}
	for k := range samples {
		t := float64(k) / (samples - 1)
		p.grey = append(p.grey, sample(g, from.X+t*(to.X-from.X), from.Y+t*(to.Y-from.Y)))
	}
	return p, true
}

func inside(g *image.Gray, p frame.Spot[frame.Image]) bool {
	return p.X >= 0 && p.Y >= 0 && p.X < float64(g.Rect.Dx()-1) && p.Y < float64(g.Rect.Dy()-1)
}

// sample is the brightness between pixels, bilinear.
func sample(g *image.Gray, x, y float64) float64 {
	i, j := int(x), int(y)
	fx, fy := x-float64(i), y-float64(j)
	k := j*g.Stride + i
	top := float64(g.Pix[k])*(1-fx) + float64(g.Pix[k+1])*fx
	k += g.Stride
	return top*(1-fy) + (float64(g.Pix[k])*(1-fx)+float64(g.Pix[k+1])*fx)*fy
}

// levels are the brightness before and behind the edge: the middle values of the outer
// quarters.
func (p profile) levels() (low, high float64) {
	n := len(p.grey) / 4
	return numeric.Median(slices.Clone(p.grey[:n])), numeric.Median(slices.Clone(p.grey[len(p.grey)-n:]))
}

// width is the way from 10 % to 90 % of the step, px; NaN where there is no plain
// step, as where a piece stands.
func (p profile) width() float64 {
	low, high := p.levels()
	if math.Abs(high-low) < leastStep || !p.isStep(low, high) {
		return math.NaN()
	}
	if off := p.crossing((low+high)/2) - float64(len(p.grey)-1)/2; math.Abs(off)*2*profileReach/samples > mostAside {
		return math.NaN() // a piece's rim or a shadow
	}
	return math.Abs(p.crossing(low+0.9*(high-low))-p.crossing(low+0.1*(high-low))) * p.step
}

// isStep says whether the profile stays at its levels on both sides.
func (p profile) isStep(low, high float64) bool {
	most := mostUneven * math.Abs(high-low)
	n := len(p.grey) / 4
	for k, v := range p.grey {
		if k < n && math.Abs(v-low) > most || k >= len(p.grey)-n && math.Abs(v-high) > most {
			return false
		}
	}
	return true
}

// crossing is where the profile first passes a level on its way to the other side, in
// steps.
func (p profile) crossing(level float64) float64 {
	low, high := p.levels()
	rises := high > low
	for k := 1; k < len(p.grey); k++ {
		a, b := p.grey[k-1], p.grey[k]
		if a != b && (rises && a < level && b >= level || !rises && a > level && b <= level) {
			return float64(k-1) + (level-a)/(b-a)
		}
	}
	return float64(len(p.grey)) / 2
}

// edgeWidth is the 10–90 % width of edges in a picture, px: the lower quartile of many
// profiles, since pieces and shadows only widen them. NaN where none is plain.
func (b Board) edgeWidth(g *image.Gray, edges []edge) float64 {
	var widths []float64
	for _, e := range edges {
		for _, aside := range asides {
			for _, at := range [2]float64{-aside, aside} {
				if p, ok := b.profile(g, e, at); ok {
					if w := p.width(); !math.IsNaN(w) {
						widths = append(widths, w)
					}
				}
			}
		}
	}
	if len(widths) < leastProfiles {
		return math.NaN()
	}
	slices.Sort(widths)
	return widths[len(widths)/4]
}
