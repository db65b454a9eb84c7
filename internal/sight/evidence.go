package sight

import "math"

// memory is a picture to compare with: what a pixel looked like, how much it
// varies around it, and how steep the picture is there, because a third of a
// pixel's jitter matters on an edge.
type memory struct {
	plate  *plate
	spread []float32 // σ of l beyond the noise, for places never seen (0: seen)
	slopeL []float32 // steepest step of l to a neighbour
	slopeC []float32 // and of the colours
	marks  [][]mark  // its edges, by level, once asked for
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
	shadeTint  = 0.10 // how far the colours' change with the brightness varies from shadow to shadow
)

// slopes computes the memory's steepness inside the box.
func (m *memory) slopes(b box) {
	p := m.plate
	n := len(p.l)
	m.slopeL, m.slopeC = make([]float32, n), make([]float32, n)
	for y := max(b.y0, 1); y < min(b.y1, p.h-1); y++ {
		for x := max(b.x0, 1); x < min(b.x1, p.w-1); x++ {
			i := y*p.w + x
			m.slopeL[i] = steep(p.l, i, p.w)
			m.slopeC[i] = max(steep(p.a, i, p.w), steep(p.b, i, p.w))
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
	now   *plate
	drift []float32 // change of l averaged over the neighbourhood, bounded to what a shadow does
	air   *air
}

// compare prepares the comparison for the pixels of the box.
func (m *memory) compare(now *plate, b box, air *air) *likeness {
	k := &likeness{memory: m, now: now, air: air}
	d := make([]float32, 2*len(now.l))
	d, k.drift = d[:len(now.l)], d[len(now.l):]
	for y := b.y0; y < b.y1; y++ {
		for i := y*now.w + b.x0; i < y*now.w+b.x1; i++ {
			d[i] = min(max(now.l[i]-m.plate.l[i], shadeDeepest), shadeBright)
		}
	}
	smooth(k.drift, d, now.w, b, shadeRadius)
	return k
}

// at is the density of pixel i; round says that a man is seen there.
func (k *likeness) at(i int, round bool) float32 {
	return k.memory.density(k.now, i, k.drift[i], k.air, round) + float32(outlier*k.air.flat)
}

// density of pixel i under the memory: the same light with probability
// 1 − shade, else a shadow whose depth is that of the neighbourhood.
func (m *memory) density(now *plate, i int, drift float32, air *air, round bool) float32 {
	then := m.plate
	dl := float64(now.l[i] - then.l[i])
	da, db := float64(now.a[i]-then.a[i]), float64(now.b[i]-then.b[i])
	n := float64(now.noise[i]) * 1.4 * air.noise // both pictures are noisy
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
	fall := float64(drift)
	ds, as, bs := dl-fall, da-air.tint[0]*fall, db-air.tint[1]*fall
	vs := vl + shadeSigma*shadeSigma
	vt := vc + shadeTint*shadeTint*fall*fall + lampTint*lampTint
	shaded := gauss3(ds*ds/vs+(as*as+bs*bs)/vt, vs, vt) * shadeSigma * fallDensity(fall)
	dappled := 0.0
	if round && dl > shadeDeepest && dl < shadeBright {
		vd := vc + dappleTint*dappleTint + shadeTint*shadeTint*dl*dl
		ad, bd := da-air.tint[0]*dl, db-air.tint[1]*dl
		dappled = dapple / (shadeBright - shadeDeepest) * math.Exp(-(ad*ad+bd*bd)/(2*vd)) / (2 * math.Pi * vd)
	}
	return float32((1 - outlier) * ((1-changed)*same + changed*((1-dapple)*shaded+dappled)))
}

// fallDensity is the prior density of a neighbourhood's change of brightness:
// mostly faint (two-sided exponential), now and then a shadow of any depth.
func fallDensity(fall float64) float64 {
	return (1-shade)*math.Exp(-math.Abs(fall)/faintFall)/(2*faintFall) + shade/(shadeBright-shadeDeepest)
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
func (m *memory) moved(now *plate, i int32, shift [2]float32, noise float64) float32 {
	p := m.plate
	x, y := float32(int(i)%p.w)-shift[0], float32(int(i)/p.w)-shift[1]
	if x < 1 || y < 1 || x >= float32(p.w-2) || y >= float32(p.h-2) {
		return 0
	}
	x0, y0 := int(x), int(y)
	fx, fy := x-float32(x0), y-float32(y0)
	k := y0*p.w + x0
	mix := func(v []float32) float64 {
		return float64((1-fy)*((1-fx)*v[k]+fx*v[k+1]) + fy*((1-fx)*v[k+p.w]+fx*v[k+p.w+1]))
	}
	dl, da, db := float64(now.l[i])-mix(p.l), float64(now.a[i])-mix(p.a), float64(now.b[i])-mix(p.b)
	n := float64(now.noise[i]) * 1.4 * noise
	sl, sc := mix(m.slopeL)*touchJitter, mix(m.slopeC)*touchJitter
	vl, vc := n*n+sl*sl, colourNoise*colourNoise*n*n+sc*sc
	return float32((1 - outlier) * gauss3(dl*dl/vl+(da*da+db*db)/vc, vl, vc))
}
