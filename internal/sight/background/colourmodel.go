// SPDX-License-Identifier: Apache-2.0

package background

import (
	"boardhand/internal/sight/numeric"
	"boardhand/internal/sight/pixels"
)

// ColourModel is the distribution of colour of one kind of surface, as a smoothed
// histogram over the image's three planes. It is a density: it integrates to
// one over the ranges of the frame it was made with.
type ColourModel struct {
	Density []float32
	weight  float64 // pixels it was learnt from
}

// Bins is the frame of histograms: ranges of the three planes found in
// the first picture, so that the cells are fine where the colours are.
type Bins struct {
	lo, step [3]float32
	Volume   float64 // of a cell
}

// NewBins spans the colours of the given pixels, with room for change.
func NewBins(p *pixels.Image, where []int32) Bins {
	var s Bins
	for c, plane := range [3][]float32{p.L, p.A, p.B} {
		v := make([]float64, len(where))
		for n, i := range where {
			v[n] = float64(plane[i])
		}
		lo, hi := numeric.Nth(v, len(v)/200), numeric.Nth(v, len(v)-1-len(v)/200)
		room := 0.15*(hi-lo) + 0.1
		bins := colourBins
		if c == 0 {
			bins = lightBins
		}
		s.lo[c] = float32(lo - room)
		s.step[c] = float32((hi - lo + 2*room) / float64(bins))
	}
	s.Volume = float64(s.step[0]) * float64(s.step[1]) * float64(s.step[2])
	return s
}

// Cell is the histogram cell of a colour; colours out of range fall into the
// outermost cells.
func (s *Bins) Cell(l, a, b float32) int {
	i := ClampBin(int((l-s.lo[0])/s.step[0]), lightBins)
	j := ClampBin(int((a-s.lo[1])/s.step[1]), colourBins)
	k := ClampBin(int((b-s.lo[2])/s.step[2]), colourBins)
	return (i*colourBins+j)*colourBins + k
}

// ClampBin is the bin nearest to i of n.
func ClampBin(i, n int) int { return max(0, min(i, n-1)) }

// OutlierDensity is the density of an outlier.
func (s *Bins) OutlierDensity() float64 { return 1 / (s.Volume * colourCells) }

// Histogram counts colours before they become a colour model.
type Histogram struct {
	Count  []float32
	Weight float64
}

// NewHistogram has counted nothing yet.
func NewHistogram() *Histogram { return &Histogram{Count: make([]float32, colourCells)} }

// Add counts a colour by its cell, with a weight.
func (t *Histogram) Add(cell int, w float32) {
	t.Count[cell] += w
	t.Weight += float64(w)
}

// Fade lets old light count less.
func (t *Histogram) Fade(k float32) {
	for i := range t.Count {
		t.Count[i] *= k
	}
	t.Weight *= float64(k)
}

// ColourModel smooths the counts: twice by 1-2-1 each way (noise and the change
// of shading from place to place are about a cell), mixed with a broad version
// of itself and the outliers.
func (t *Histogram) ColourModel(s *Bins) ColourModel {
	if t.Weight <= 0 {
		d := make([]float32, colourCells)
		for i := range d {
			d[i] = float32(s.OutlierDensity())
		}
		return ColourModel{Density: d}
	}
	room := pixels.Borrow(2 * colourCells)
	defer room.Return()
	near, broad := room.V[:colourCells], room.V[colourCells:]
	copy(near, t.Count)
	Blur(near, 2)
	copy(broad, near)
	Blur(broad, 12)
	const broadShare = 0.2 // how much of a piece's shading no other piece showed
	k := float32(1 / (t.Weight * s.Volume))
	d := make([]float32, colourCells)
	for i := range d {
		d[i] = (1-OutlierShare)*k*((1-broadShare)*near[i]+broadShare*broad[i]) + float32(OutlierShare*s.OutlierDensity())
	}
	return ColourModel{Density: d, weight: t.Weight}
}

// Blur runs the 1-2-1 filter n times along each axis.
func Blur(v []float32, n int) {
	for range n {
		blurAxis(v, colourBins*colourBins, lightBins)
		blurAxis(v, colourBins, colourBins)
		blurAxis(v, 1, colourBins)
	}
}

// blurAxis filters along the axis with the given stride and length in place,
// keeping the total.
func blurAxis(v []float32, stride, n int) {
	if stride == 1 {
		for ; len(v) > 0; v = v[n:] {
			blurLine(v[:n])
		}
		return
	}
	before := make([]float32, stride)
	for ; len(v) > 0; v = v[stride*n:] {
		copy(before, v)
		for k := range n {
			here := v[k*stride:][:stride]
			after := here
			if k+1 < n {
				after = v[(k+1)*stride:][:stride]
			}
			blurLayer(before, here, after)
		}
	}
}

// blurLayer filters a layer between two others, and leaves what it was in before.
func blurLayer(before, here, after []float32) {
	before, after = before[:len(here)], after[:len(here)]
	for i, x := range here {
		here[i] = 0.25*before[i] + 0.5*x + 0.25*after[i]
		before[i] = x
	}
}

// blurLine filters along a line.
func blurLine(v []float32) {
	before, here := v[0], v[0]
	for i, after := range v[1:] {
		v[i] = 0.25*before + 0.5*here + 0.25*after
		before, here = here, after
	}
	v[len(v)-1] = 0.25*before + 0.5*here + 0.25*here
}
