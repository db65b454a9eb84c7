// SPDX-License-Identifier: Apache-2.0

package pixels

import (
	"errors"
	"image"
	"math"
	"slices"
)

// Image is a picture reduced to about a pixel a millimetre and turned into
// what lamps and cameras change only by adding a constant: the logarithm of
// the brightness, and two logarithms of colour ratios. Exposure and white
// balance shift a channel's logarithm; a soft shadow shifts the brightness.
// Planes are row by row, W × H. Read-only once made: pictures share them.
type Image struct {
	W, H     int
	Reduce   float64   // pixels of the camera picture a pixel, each way
	L, A, B  []float32 // (ln R + ln G + ln B)/3, ln R − ln G, ln B − ln G
	Noise    []float32 // σ of L from the sensor and the coding, without unit
	Blind    []bool    // where nothing is told, for a lamp's reflection drowned it; nil: nowhere
	Lights   []*Image  // the same in other lights that a pixel may be in where its light is doubtful
	Weight   []float32 // by how many times densities of this light's colours are those of the picture's; nil: 1
	Doubtful []bool    // nil: nowhere
	soft     []float32 // L averaged over nine pixels, once asked for: less noise, hardly less structure
	detail   []float32 // soft without what is even over a penumbra, once asked for
	means    *[3][]float32
}

// Softened is the brightness with less noise.
func (p *Image) Softened() []float32 {
	if p.soft == nil {
		p.soft = make([]float32, len(p.L))
		Smooth(p.soft, p.L, p.W, Box{0, 0, p.W, p.H}, 1)
	}
	return p.soft
}

// Detail is the softened brightness without what is even over a shadow's soft edge.
func (p *Image) Detail() []float32 {
	if p.detail == nil {
		soft := p.Softened()
		p.detail = make([]float32, len(soft))
		Smooth(p.detail, soft, p.W, Box{0, 0, p.W, p.H}, penumbra)
		for i, v := range soft {
			p.detail[i] = v - p.detail[i]
		}
	}
	return p.detail
}

// Slim drops what was worked out of a picture that is kept, but hardly compared any more: it is
// worked out again if somebody asks.
func (p *Image) Slim() { p.soft, p.detail = nil, nil }

var logTable = func() [256*logSteps + 1]float32 {
	var t [256*logSteps + 1]float32
	for i := range t {
		t[i] = float32(math.Log(float64(i)/logSteps + Black))
	}
	return t
}()

// Errors of pictures that show no board.
var (
	ErrDark  = errors.New("the picture is black: take the cap off the lens, switch the light on")
	ErrBlank = errors.New("the picture shows nothing: one even colour")
)

// Reduce reduces a picture by averaging blocks of reduce × reduce pixels;
// pixels that a block's edge cuts count for both in their shares.
func Reduce(img image.Image, reduce float64) *Image {
	from := newReducer(img, reduce)
	p := &Image{W: len(from.cuts[0].first), H: len(from.down.first), Reduce: reduce}
	for _, plane := range []*[]float32{&p.L, &p.A, &p.B, &p.Noise} {
		*plane = make([]float32, p.W*p.H) // one by one: some are kept longer than others
	}
	for y := range p.H {
		p.develop(y, from.row(y), float32(1/(reduce*reduce)))
	}
	return p
}

// develop turns one row of channel sums into logarithms.
func (p *Image) develop(y int, row *[3][]float32, scale float32) {
	reds, greens, blues := row[0][:p.W], row[1][:p.W], row[2][:p.W]
	l, a, bs, noise := p.L[y*p.W:][:p.W], p.A[y*p.W:][:p.W], p.B[y*p.W:][:p.W], p.Noise[y*p.W:][:p.W]
	for x := range l {
		r, g, b := reds[x]*scale, greens[x]*scale, blues[x]*scale
		lr, lg, lb := logOf(r), logOf(g), logOf(b)
		l[x] = (lr + lg + lb) / 3
		a[x] = lr - lg
		bs[x] = lb - lg
		noise[x] = grain / ((r+g+b)/3 + Black)
	}
}

func logOf(v float32) float32 {
	if !(v > 0) {
		v = 0
	} else if v > 255 {
		v = 255
	}
	return logTable[int(v*logSteps)]
}

// Check refuses pictures of a lens cap or a bare wall.
func (p *Image) Check() error {
	var sum, sum2 float64
	bright, n := 0, 0
	for i := 0; i < len(p.L); i += 29 {
		v := math.Exp(float64(p.L[i])) - Black
		sum += v
		sum2 += v * v
		n++
		if v > darkest {
			bright++
		}
	}
	mean := sum / float64(n)
	switch spread := math.Sqrt(math.Max(0, sum2/float64(n)-mean*mean)); {
	case bright*100 < n:
		return ErrDark
	case spread < evenest:
		return ErrBlank
	}
	return nil
}

// Blank is an image of the same size with all planes 0 and no noise.
func Blank(p *Image) *Image {
	n := len(p.L)
	all := make([]float32, 3*n)
	return &Image{W: p.W, H: p.H, Reduce: p.Reduce, L: all[:n:n], A: all[n : 2*n : 2*n], B: all[2*n:]}
}

// Place is a pixel in units of half the picture's width, and its brightness
// about middle grey.
func (p *Image) Place(i int) (x, y, l float64) {
	at := p.PlaceAt(i%p.W, i/p.W)
	return at[0], at[1], at[2]
}

// PlaceAt is Place of the pixel in a column and a row.
func (p *Image) PlaceAt(x, y int) [3]float64 {
	h := float64(p.W) / 2
	return [3]float64{float64(x)/h - 1, float64(y)/h - float64(p.H)/float64(p.W), p.Lightness(y*p.W + x)}
}

// Lightness is a pixel's brightness about middle grey.
func (p *Image) Lightness(i int) float64 {
	const middle = 4.6 // ln(100)
	return float64(p.L[i]) - middle
}

// Saturated is the logarithm of a brightness near the camera's upper end, where structure
// drowns and no more light shows.
var Saturated = float32(math.Log(saturatedFrom + Black))

// Levels is the red, green and blue of a pixel, of 255.
func (p *Image) Levels(i int) [3]float32 {
	g := p.L[i] - (p.A[i]+p.B[i])/3
	return [3]float32{level(g + p.A[i]), level(g), level(g + p.B[i])}
}

func level(l float32) float32 { return float32(math.Exp(float64(l))) - Black }

// IsBlind says whether nothing is told at a pixel.
func (p *Image) IsBlind(i int) bool { return p.Blind != nil && p.Blind[i] }

// IsDoubtful says whether a pixel may be in one of several lights.
func (p *Image) IsDoubtful(i int) bool { return p.Doubtful != nil && p.Doubtful[i] }

// IsUntold says whether a pixel tells nothing, or not surely what.
func (p *Image) IsUntold(i int) bool { return p.IsBlind(i) || p.IsDoubtful(i) }

// WeightAt is by how many times the density of a pixel's colour in this light is that in the picture.
func (p *Image) WeightAt(i int) float32 {
	if p.Weight == nil {
		return 1
	}
	return p.Weight[i]
}

// Copied is the image, to be changed, in the likeliest light alone.
func (p *Image) Copied() *Image {
	q := &Image{W: p.W, H: p.H, Reduce: p.Reduce, Noise: p.Noise}
	q.L, q.A, q.B = slices.Clone(p.L), slices.Clone(p.A), slices.Clone(p.B)
	return q
}
