package sight

import (
	"boardhand/internal/sight/numeric"
	"boardhand/internal/sight/pixels"
)

// palette is the distribution of colour of one kind of surface, as a smoothed
// histogram over the plate's three planes. It is a density: it integrates to
// one over the ranges of the frame it was made with.
type palette struct {
	density []float32
	weight  float64 // pixels it was learnt from
}

// swatches is the frame of histograms: ranges of the three planes found in
// the first picture, so that the cells are fine where the colours are.
type swatches struct {
	lo, step [3]float32
	volume   float64 // of a cell
}

const (
	lightBins  = 32
	colourBins = 24
	paletteN   = lightBins * colourBins * colourBins
	// outlier is the share of pixels that follow no model (glints, coding
	// artefacts, dust), spread evenly over all colours.
	outlier = 0.02
)

// newSwatches spans the colours of the given pixels, with room for change.
func newSwatches(p *pixels.Image, where []int32) swatches {
	var s swatches
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
	s.volume = float64(s.step[0]) * float64(s.step[1]) * float64(s.step[2])
	return s
}

// cell is the histogram cell of a colour; colours out of range fall into the
// outermost cells.
func (s *swatches) cell(l, a, b float32) int {
	i := clampInt(int((l-s.lo[0])/s.step[0]), lightBins)
	j := clampInt(int((a-s.lo[1])/s.step[1]), colourBins)
	k := clampInt(int((b-s.lo[2])/s.step[2]), colourBins)
	return (i*colourBins+j)*colourBins + k
}

func clampInt(i, n int) int { return max(0, min(i, n-1)) }

// flat is the density of an outlier.
func (s *swatches) flat() float64 { return 1 / (s.volume * paletteN) }

// tally counts colours before they become a palette.
type tally struct {
	count  []float32
	weight float64
}

func newTally() *tally { return &tally{count: make([]float32, paletteN)} }

func (t *tally) add(cell int, w float32) {
	t.count[cell] += w
	t.weight += float64(w)
}

// fade lets old light count less.
func (t *tally) fade(k float32) {
	for i := range t.count {
		t.count[i] *= k
	}
	t.weight *= float64(k)
}

// palette smooths the counts: twice by 1-2-1 each way (noise and the change
// of shading from place to place are about a cell), mixed with a broad version
// of itself and the outliers.
func (t *tally) palette(s *swatches) palette {
	if t.weight <= 0 {
		d := make([]float32, paletteN)
		for i := range d {
			d[i] = float32(s.flat())
		}
		return palette{density: d}
	}
	near := append([]float32(nil), t.count...)
	blur(near, 2)
	broad := append([]float32(nil), near...)
	blur(broad, 12)
	const broadShare = 0.2 // how much of a man's shading no other man showed
	k := float32(1 / (t.weight * s.volume))
	d := make([]float32, paletteN)
	for i := range d {
		d[i] = (1-outlier)*k*((1-broadShare)*near[i]+broadShare*broad[i]) + float32(outlier*s.flat())
	}
	return palette{density: d, weight: t.weight}
}

// blur runs the 1-2-1 filter n times along each axis.
func blur(v []float32, n int) {
	for range n {
		blurAxis(v, colourBins*colourBins, lightBins)
		blurAxis(v, colourBins, colourBins)
		blurAxis(v, 1, colourBins)
	}
}

// blurAxis filters along the axis with the given stride and length in place,
// keeping the total.
func blurAxis(v []float32, stride, n int) {
	for ; len(v) > 0; v = v[stride*n:] {
		for base := range stride {
			before := v[base]
			for at := base; at < base+stride*n; at += stride {
				here := v[at]
				after := here
				if at+stride < base+stride*n {
					after = v[at+stride]
				}
				v[at] = 0.25*before + 0.5*here + 0.25*after
				before = here
			}
		}
	}
}
