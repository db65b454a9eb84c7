package sight

import (
	"boardhand/internal/chess"
	"boardhand/internal/sight/pixels"
)

// shading is what shadows do to the board: how its colour departs from the
// even coat of its ground where men, hands and lamps shade it, counted in the
// pictures of this table. No form is assumed: two lamps of two colours and a
// picture near saturation make shadows that no formula foresees.
type shading struct {
	counts [2][]float32 // by ground: dark, light
	dense  [2][]float32 // the same smoothed, a density
	tint   [2]float32   // width of a bin of both colour ratios
	seen   float32      // pixels in shadow, counted or not
	share  float64      // of the open board about the men that lies in shadow
}

// The frame of the histogram: departures of ln brightness and of both log
// colour ratios.
const (
	shadeBins    = 20
	tintBins     = colourBins
	shadeFrom    = -1.7
	shadeTo      = 0.5
	tintMost     = 0.5
	shadeStep    = (shadeTo - shadeFrom) / shadeBins
	shadeCells   = shadeBins * tintBins * tintBins
	shadeFlat    = 1 / ((shadeTo - shadeFrom) * 4 * tintMost * tintMost)
	shadeUnknown = 0.05 // share of shadows unlike any seen so far
	// One square can have no more than this share of what is learnt: an
	// unknown man on it must not teach the reader to take men for shadows.
	shadeSquare = 0.04
)

// newShading has colours as fine as the palettes': a coarser one would call a
// shadow on grey ground a grey man.
func newShading(w *swatches) *shading {
	s := &shading{share: shade, tint: [2]float32{w.step[1], w.step[2]}}
	for k := range s.counts {
		s.counts[k] = make([]float32, shadeCells)
		s.dense[k] = make([]float32, shadeCells)
		for i := range s.dense[k] {
			s.dense[k][i] = shadeUnknown * shadeFlat
		}
	}
	return s
}

// cell is the histogram cell of a departure.
func (s *shading) cell(dl, da, db float32) int {
	i := clampInt(int((dl-shadeFrom)/shadeStep), shadeBins)
	j := clampInt(int(da/s.tint[0]+tintBins/2), tintBins)
	k := clampInt(int(db/s.tint[1]+tintBins/2), tintBins)
	return (i*tintBins+j)*tintBins + k
}

// at is the density of a departure on a ground, if the place lies in shadow.
func (s *shading) at(ground int, dl, da, db float32) float32 {
	return s.dense[min(ground, lightGround)][s.cell(dl, da, db)]
}

// study counts the shadows on the open board of a picture, after fading what
// was counted before to share keep.
func (e *eye) study(s *shading, p *pixels.Image, keep float32) {
	m := e.coat.plate
	var bySquare [64][]int32
	var open, dark [2]int // pixels on squares without and with a man
	for i := range e.ground.Box.Each(p.W) {
		k := int(e.kinds[i])
		if k > lightGround || e.stack.Open(int32(i)) < 0.98 {
			continue
		}
		q := e.squareAt(i)
		by := 0
		if e.board[q] != chess.NoPiece {
			by = 1
		}
		open[by]++
		sigma := max(3*e.coat.spread[i], 5*p.Noise[i])
		if d := p.L[i] - m.L[i]; d < -sigma || d > sigma {
			dark[by]++
			bySquare[q] = append(bySquare[q], int32(i))
		}
	}
	all := dark[0] + dark[1]
	if open[0]+open[1] == 0 {
		return
	}
	for k := range s.counts {
		for i := range s.counts[k] {
			s.counts[k][i] *= keep
		}
	}
	s.seen = s.seen*keep + float32(all)
	for _, pixels := range bySquare {
		w := min(1, float32(shadeSquare*float64(all))/float32(max(1, len(pixels))))
		for _, i := range pixels {
			c := s.cell(p.L[i]-m.L[i], p.A[i]-m.A[i], p.B[i]-m.B[i])
			s.counts[e.kinds[i]][c] += w
		}
	}
	s.share = float64(keep)*s.share + (1-float64(keep))*max(0.05, min(0.4, float64(dark[1])/float64(max(1, open[1]))))
	s.smooth()
}

// keepShadows is what earlier pictures count against the one looked at, whose
// shadows are the ones in question.
const keepShadows = 0.5

// clone is a copy that can learn on its own.
func (s *shading) clone() *shading {
	c := *s
	for k := range c.counts {
		c.counts[k] = append([]float32(nil), s.counts[k]...)
		c.dense[k] = make([]float32, shadeCells)
	}
	return &c
}

// smooth turns the counts into densities.
func (s *shading) smooth() {
	all := float32(0)
	for k := range s.counts {
		for _, c := range s.counts[k] {
			all += c
		}
	}
	spread := all / max(1, s.seen) // 1 when the shadows lie over many squares
	for k := range s.counts {
		v := append([]float32(nil), s.counts[k]...)
		total := float32(0)
		for _, c := range v {
			total += c
		}
		for range 2 {
			blurAxis(v, tintBins*tintBins, shadeBins)
			blurAxis(v, tintBins, tintBins)
			blurAxis(v, 1, tintBins)
		}
		known := float32(1-shadeUnknown) * spread * total / (total + 50) // fifty pixels are hardly a shadow
		scale := float32(0)
		if total > 0 {
			scale = known / total / (shadeStep * s.tint[0] * s.tint[1])
		}
		for i := range v {
			s.dense[k][i] = v[i]*scale + shadeUnknown*shadeFlat
		}
	}
}

// squareAt is the square under a pixel of the field.
func (e *eye) squareAt(i int) int {
	f, q := e.setup.field(), e.setup.Square
	return clampInt(int((float64(e.ground.Y[i])+f)/q), 8)*8 + clampInt(int((float64(e.ground.X[i])+f)/q), 8)
}
