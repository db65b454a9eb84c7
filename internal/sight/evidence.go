package sight

import (
	"math"

	"boardhand/internal/sight/pixels"
)

// memory is a picture to compare with: what a pixel looked like, how much it
// varies around it, and how steep the picture is there, because a third of a
// pixel's jitter matters on an edge.
type memory struct {
	plate  *pixels.Image
	spread []float32 // σ of l beyond the noise, for places never seen (0: seen)
	slopeL []float32 // steepest step of l to a neighbour
	slopeC []float32 // and of the colours
}

const (
	jitter       = 0.20 // plate pixels of registration and touch left over, σ
	colourNoise  = 1.5  // noise of a log ratio over that of the brightness: two channels, coarser coding
	plain        = 4.0  // squared distance in σ below which no shadow is considered
	changed      = 0.4  // prior share of a pixel in another light than before
	shade        = 0.15 // share of those in a lamp's own shadow; the others in a faint one
	faintFall    = 0.04 // mean change of the brightness logarithm there: a person near the lamp
	shadeDeepest = -0.8 // a changed shadow's change of the brightness logarithm: from a lamp's core shadow …
	shadeBright  = 0.45 // … to light where a shadow was
	shadeSigma   = 0.03 // how far a shadow departs from its neighbourhood's mean
	shadeRadius  = 4    // plate pixels over which a shadow is even: 5 mm
	// A round man turns dark on one side and light on the other when a lamp is
	// hidden: no neighbourhood's mean tells by how much, only the colour stays.
	dapple     = 0.1
	lampTint   = 0.01 // the colours' change when only some of the light is taken away
	dappleTint = 0.10
	shadeTint  = 0.30 // how far the colours' change with the brightness varies from shadow to shadow
	// driftColour bounds a neighbourhood's change of each log colour ratio.
	driftColour = 0.25
)

// slopes computes the memory's steepness inside the box.
func (m *memory) slopes(b pixels.Box) {
	p := m.plate
	n := len(p.L)
	m.slopeL, m.slopeC = make([]float32, n), make([]float32, n)
	for y := max(b.Y0, 1); y < min(b.Y1, p.H-1); y++ {
		for x := max(b.X0, 1); x < min(b.X1, p.W-1); x++ {
			i := y*p.W + x
			m.slopeL[i] = steep(p.L, i, p.W)
			m.slopeC[i] = max(steep(p.A, i, p.W), steep(p.B, i, p.W))
		}
	}
}

func steep(v []float32, i, w int) float32 {
	dx, dy := (v[i+1]-v[i-1])/2, (v[i+w]-v[i-w])/2
	return float32(math.Sqrt(float64(dx*dx + dy*dy)))
}

// air is what stands between the board and the memory: noise and shadows.
type air struct {
	noise float64    // factor on the noise assumed
	flat  float64    // density of an outlier
	tint  [2]float64 // change of both colours with the brightness in a shadow
}

// likeness is how well a picture agrees with a memory, pixel by pixel: the
// density of the colour seen, given that the pixel shows the same thing, in
// the same light or in a shadow that came or went.
type likeness struct {
	*memory
	now   *pixels.Image
	drift [3][]float32 // change of the three planes averaged over the neighbourhood, bounded to what lamps do
	air   *air
}

// compare prepares the comparison with a memory for the pixels of the box. It
// holds until the next one.
func (e *eye) compare(m *memory, now *pixels.Image, air *air) *likeness {
	k := &likeness{memory: m, now: now, air: air}
	b, n := e.ground.Box, len(now.L)
	if len(e.drifts) != 4*n {
		e.drifts = make([]float32, 4*n)
	}
	all, d := e.drifts, e.drifts[3*n:]
	for c, planes := range [3][2][]float32{{now.L, m.plate.L}, {now.A, m.plate.A}, {now.B, m.plate.B}} {
		lo, hi := float32(-driftColour), float32(driftColour)
		if c == 0 {
			lo, hi = shadeDeepest, shadeBright
		}
		for y := b.Y0; y < b.Y1; y++ {
			for i := y*now.W + b.X0; i < y*now.W+b.X1; i++ {
				d[i] = min(max(planes[0][i]-planes[1][i], lo), hi)
			}
		}
		k.drift[c] = all[c*n : (c+1)*n : (c+1)*n]
		pixels.Smooth(k.drift[c], d, now.W, b, shadeRadius)
	}
	return k
}

// at is the density of pixel i; round says that a man is seen there.
func (k *likeness) at(i int, round bool) float32 {
	fall := [3]float64{float64(k.drift[0][i]), float64(k.drift[1][i]), float64(k.drift[2][i])}
	return k.memory.density(k.now, i, fall, k.air, round) + float32(outlier*k.air.flat)
}

// density of pixel i under the memory: the same light with probability
// 1 − shade, else a shadow whose depth is that of the neighbourhood.
func (m *memory) density(now *pixels.Image, i int, fall [3]float64, air *air, round bool) float32 {
	then := m.plate
	dl := float64(now.L[i] - then.L[i])
	da, db := float64(now.A[i]-then.A[i]), float64(now.B[i]-then.B[i])
	n := float64(now.Noise[i]) * 1.4 * air.noise // both pictures are noisy
	var spread, sl, sc float64
	if m.spread != nil {
		spread = float64(m.spread[i])
	}
	if m.slopeL != nil {
		sl, sc = float64(m.slopeL[i])*jitter, float64(m.slopeC[i])*jitter
	}
	vl := n*n + spread*spread + sl*sl
	vc := colourNoise*colourNoise*n*n + spread*spread/4 + sc*sc
	d2 := dl*dl/vl + (da*da+db*db)/vc
	same := gauss3(d2, vl, vc)
	if d2 < plain {
		return float32((1 - outlier) * (1 - changed) * same)
	}
	ds, as, bs := dl-fall[0], da-fall[1], db-fall[2]
	vs, vt := vl+shadeSigma*shadeSigma, vc+lampTint*lampTint
	shaded := gauss3(ds*ds/vs+(as*as+bs*bs)/vt, vs, vt) * math.Sqrt(air.fallPrior(fall))
	dappled := 0.0
	if round && dl > shadeDeepest && dl < shadeBright {
		vd := vc + dappleTint*dappleTint + dappleTint*dappleTint*dl*dl
		ad, bd := da-air.tint[0]*dl, db-air.tint[1]*dl
		dappled = dapple / (shadeBright - shadeDeepest) * math.Exp(-(ad*ad+bd*bd)/(2*vd)) / (2 * math.Pi * vd)
	}
	return float32((1 - outlier) * ((1-changed)*same + changed*((1-dapple)*shaded+dappled)))
}

// fallPrior is the prior probability that a neighbourhood changed by just so
// much in brightness and colours (within the precision of its mean): mostly
// faint (two-sided exponential), now and then a shadow of any depth; the
// colours follow the brightness about as in this picture's other shadows.
// Only its root is charged to each pixel, for a neighbourhood changes as one.
func (a *air) fallPrior(fall [3]float64) float64 {
	p := (1-shade)*math.Exp(-math.Abs(fall[0])/faintFall)/(2*faintFall) + shade/(shadeBright-shadeDeepest)
	v := lampTint*lampTint + 4*lampTint*lampTint + shadeTint*shadeTint*fall[0]*fall[0]
	da, db := fall[1]-a.tint[0]*fall[0], fall[2]-a.tint[1]*fall[0]
	return p * shadeSigma * lampTint * lampTint / v * math.Exp(-(da*da+db*db)/(2*v))
}

// gauss3 is the normal density in three planes from the squared distance in σ
// and the variances of the brightness and of both colours.
func gauss3(d2, vl, vc float64) float64 {
	if d2 > 60 {
		return 0
	}
	const k = 0.06349363593424097 // (2π)^(−3/2)
	return k * math.Exp(-d2/2) / (math.Sqrt(vl) * vc)
}

// touchJitter is the registration error of a nudged man's picture, plate
// pixels: its head moves a little more than its foot.
const touchJitter = 0.4

// moved is the density of pixel i if it shows what the memory had shift
// pixels before it.
func (m *memory) moved(now *pixels.Image, i int32, shift [2]float32, noise float64) float32 {
	p := m.plate
	x, y := float32(int(i)%p.W)-shift[0], float32(int(i)/p.W)-shift[1]
	if x < 1 || y < 1 || x >= float32(p.W-2) || y >= float32(p.H-2) {
		return 0
	}
	x0, y0 := int(x), int(y)
	fx, fy := x-float32(x0), y-float32(y0)
	k := y0*p.W + x0
	mix := func(v []float32) float64 {
		return float64((1-fy)*((1-fx)*v[k]+fx*v[k+1]) + fy*((1-fx)*v[k+p.W]+fx*v[k+p.W+1]))
	}
	dl, da, db := float64(now.L[i])-mix(p.L), float64(now.A[i])-mix(p.A), float64(now.B[i])-mix(p.B)
	n := float64(now.Noise[i]) * 1.4 * noise
	sl, sc := mix(m.slopeL)*touchJitter, mix(m.slopeC)*touchJitter
	vl, vc := n*n+sl*sl, colourNoise*colourNoise*n*n+sc*sc
	return float32((1 - outlier) * gauss3(dl*dl/vl+(da*da+db*db)/vc, vl, vc))
}
