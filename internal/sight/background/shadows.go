// SPDX-License-Identifier: Apache-2.0

package background

import "boardhand/internal/sight/scene"

// Shadows is what shadows do to the board: how its colour departs from the
// even colour of its ground where pieces, hands and lamps shade it, counted in the
// pictures of this table. No form is assumed: two lamps of two colours and a
// picture near saturation make shadows that no formula foresees.
type Shadows struct {
	Counts [2][]float32 // by ground: dark, light
	dense  [2][]float32 // the same smoothed, a density
	tint   [2]float32   // width of a bin of both colour ratios
	Seen   float32      // pixels in shadow, counted or not
	Share  float64      // of the open board about the pieces that lies in shadow
}

// NewShadows has colours as fine as the colour models': a coarser one would call a
// shadow on grey ground a grey piece.
func NewShadows(w *Bins) *Shadows {
	s := &Shadows{Share: castShare, tint: [2]float32{w.step[1], w.step[2]}}
	for k := range s.Counts {
		s.Counts[k] = make([]float32, shadowCells)
		s.dense[k] = make([]float32, shadowCells)
		for i := range s.dense[k] {
			s.dense[k][i] = shadowUnknown * shadowFlat
		}
	}
	return s
}

// Cell is the histogram cell of a departure.
func (s *Shadows) Cell(dl, da, db float32) int {
	i := ClampBin(int((dl-shadowFrom)/shadowStep), shadowBins)
	j := ClampBin(int(da/s.tint[0]+tintBins/2), tintBins)
	k := ClampBin(int(db/s.tint[1]+tintBins/2), tintBins)
	return (i*tintBins+j)*tintBins + k
}

// At is the density of a departure on a ground, if the place lies in shadow.
func (s *Shadows) At(ground int, dl, da, db float32) float32 {
	return s.dense[min(ground, scene.LightGround)][s.Cell(dl, da, db)]
}

// Clone is a copy that can learn on its own.
func (s *Shadows) Clone() *Shadows {
	c := *s
	for k := range c.Counts {
		c.Counts[k] = append([]float32(nil), s.Counts[k]...)
		c.dense[k] = make([]float32, shadowCells)
	}
	return &c
}

// Smooth turns the counts into densities.
func (s *Shadows) Smooth() {
	all := float32(0)
	for k := range s.Counts {
		for _, c := range s.Counts[k] {
			all += c
		}
	}
	spread := all / max(1, s.Seen) // 1 when the shadows lie over many squares
	for k := range s.Counts {
		v := append([]float32(nil), s.Counts[k]...)
		total := float32(0)
		for _, c := range v {
			total += c
		}
		for range 2 {
			blurAxis(v, tintBins*tintBins, shadowBins)
			blurAxis(v, tintBins, tintBins)
			blurAxis(v, 1, tintBins)
		}
		known := float32(1-shadowUnknown) * spread * total / (total + 50) // fifty pixels are hardly a shadow
		scale := float32(0)
		if total > 0 {
			scale = known / total / (shadowStep * s.tint[0] * s.tint[1])
		}
		for i := range v {
			s.dense[k][i] = v[i]*scale + shadowUnknown*shadowFlat
		}
	}
}
