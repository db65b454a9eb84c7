// SPDX-License-Identifier: Apache-2.0

package background

import (
	"math"

	"boardhand/internal/sight/pixels"
)

// Conditions is what stands between the board and the memory: outliers and shadows.
type Conditions struct {
	OutlierDensity float64    // density of an outlier
	ShadowTint     [2]float64 // change of both colours with the brightness in a shadow
}

// Likelihood is how well a picture agrees with a memory, pixel by pixel: the
// density of the colour seen, given that the pixel shows the same thing, in
// the same light or in a shadow that came or went.
type Likelihood struct {
	*Template
	now    *pixels.Image
	change [3][]float32 // change of the three planes averaged over the neighbourhood, bounded to what lamps do
	air    *Conditions
}

// NewLikelihood prepares the comparison of a picture with a memory for the pixels of
// a box. It works in room, four numbers a pixel, and holds while that is kept.
func NewLikelihood(m *Template, now *pixels.Image, air *Conditions, b pixels.Box, room []float32) *Likelihood {
	k := &Likelihood{Template: m, now: now, air: air}
	n := len(now.L)
	all, d := room, room[3*n:]
	for c, planes := range [3][2][]float32{{now.L, m.Image.L}, {now.A, m.Image.A}, {now.B, m.Image.B}} {
		lo, hi := float32(-changeColour), float32(changeColour)
		if c == 0 {
			lo, hi = ShadowDeepest, shadowBright
		}
		for y := b.Y0; y < b.Y1; y++ {
			from, end := y*now.W+b.X0, y*now.W+b.X1
			boundedChange(d[from:end], planes[0][from:end], planes[1][from:end], lo, hi)
		}
		k.change[c] = all[c*n : (c+1)*n : (c+1)*n]
		pixels.Smooth(k.change[c], d, now.W, b, shadowRadius)
	}
	return k
}

// boundedChange writes the change of a row of pixels, held between two bounds.
func boundedChange(to, now, then []float32, lo, hi float32) {
	now, then = now[:len(to)], then[:len(to)]
	for i := range to {
		v := now[i] - then[i]
		if v < lo {
			v = lo
		} else if v > hi {
			v = hi
		}
		to[i] = v
	}
}

// At is the density of pixel i; round says that a piece is seen there.
func (k *Likelihood) At(i int, round bool) float32 {
	return k.density(i, round) + float32(OutlierShare*k.air.OutlierDensity)
}

// density of pixel i under the memory: the same light with probability
// 1 − shade, else a shadow whose depth is that of the neighbourhood.
func (k *Likelihood) density(i int, round bool) float32 {
	now, then, air := k.now, k.Image, k.air
	dl := float64(now.L[i] - then.L[i])
	da, db := float64(now.A[i]-then.A[i]), float64(now.B[i]-then.B[i])
	n := float64(now.Noise[i]) * 1.4 // both pictures are noisy
	var spread, sl, sc float64
	if k.Spread != nil {
		spread = float64(k.Spread[i])
	}
	if k.SlopeL != nil {
		sl, sc = float64(k.SlopeL[i])*RegistrationSigma, float64(k.SlopeC[i])*RegistrationSigma
	}
	vl := n*n + spread*spread + sl*sl
	vc := ColourNoise*ColourNoise*n*n + spread*spread/4 + sc*sc
	d2 := dl*dl/vl + (da*da+db*db)/vc
	same := Gauss3(d2, vl, vc)
	if d2 < plainDistance {
		return float32((1 - OutlierShare) * (1 - changedShare) * same)
	}
	fall := [3]float64{float64(k.change[0][i]), float64(k.change[1][i]), float64(k.change[2][i])}
	ds, as, bs := dl-fall[0], da-fall[1], db-fall[2]
	vs, vt := vl+shadowSigma*shadowSigma, vc+lightTint*lightTint
	shaded := Gauss3(ds*ds/vs+(as*as+bs*bs)/vt, vs, vt) * math.Sqrt(air.changePrior(fall))
	dappled := 0.0
	if round && dl > ShadowDeepest && dl < shadowBright {
		vd := vc + attachedTint*attachedTint + attachedTint*attachedTint*dl*dl
		ad, bd := da-air.ShadowTint[0]*dl, db-air.ShadowTint[1]*dl
		dappled = attachedShare / (shadowBright - ShadowDeepest) * math.Exp(-(ad*ad+bd*bd)/(2*vd)) / (2 * math.Pi * vd)
	}
	return float32((1 - OutlierShare) * ((1-changedShare)*same + changedShare*((1-attachedShare)*shaded+dappled)))
}

// changePrior is the prior probability that a neighbourhood changed by just so
// much in brightness and colours (within the precision of its mean): mostly
// faint (two-sided exponential), now and then a shadow of any depth; the
// colours follow the brightness about as in this picture's other shadows.
// Only its root is charged to each pixel, for a neighbourhood changes as one.
func (a *Conditions) changePrior(fall [3]float64) float64 {
	p := (1-castShare)*math.Exp(-math.Abs(fall[0])/faintChange)/(2*faintChange) + castShare/(shadowBright-ShadowDeepest)
	v := lightTint*lightTint + 4*lightTint*lightTint + ShadowTintSpread*ShadowTintSpread*fall[0]*fall[0]
	da, db := fall[1]-a.ShadowTint[0]*fall[0], fall[2]-a.ShadowTint[1]*fall[0]
	return p * shadowSigma * lightTint * lightTint / v * math.Exp(-(da*da+db*db)/(2*v))
}
