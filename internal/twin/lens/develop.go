// SPDX-License-Identifier: Apache-2.0

package lens

import (
	"bytes"
	"image"
	"image/jpeg"
	"math"
	"math/rand/v2"
)

// film turns linear light into a picture as a small camera would: exposure
// and white balance that wander and react, noise, 4:2:0 colour, JPEG.
type film struct {
	exposure float64
	balance  [3]float64
	drift    [4]float64 // wandering parts of exposure and of the channels, in log
	curve    []uint8    // linear, 65536 steps, to a display value
	lut      [3]*[lutSize]uint8
	noise    []int8
	chance   *rand.Rand
	buffer   bytes.Buffer
}

func newFilm(chance *rand.Rand) *film {
	f := &film{exposure: 1, balance: [3]float64{1, 1, 1}, chance: chance, curve: make([]uint8, 65536), noise: make([]int8, noiseAll)}
	for i := range f.curve {
		f.curve[i] = uint8(255*display(float64(i)/full) + 0.5)
	}
	for k := range f.lut {
		f.lut[k] = new([lutSize]uint8)
	}
	last := 0.0
	for i := range f.noise { // neighbours share a little: cameras smooth their noise
		last = noiseShared*last + chance.NormFloat64()
		f.noise[i] = int8(math.Max(-127, math.Min(127, math.Round(16*last))))
	}
	return f
}

// display is the sRGB curve with a soft shoulder instead of clipping.
// Source: IEC 61966-2-1; the shoulder is common practice.
func display(v float64) float64 {
	if v > shoulder {
		v = shoulder + (1-shoulder)*(1-math.Exp(-(v-shoulder)/(1-shoulder)))
	}
	if v <= 0.0031308 {
		return 12.92 * v
	}
	return 1.055*math.Pow(v, 1/2.4) - 0.055
}

// wander moves exposure and balance a little from picture to picture, and
// lets the exposure control answer to the mean of the picture.
func (f *film) wander(mean float64) {
	for i := range f.drift {
		f.drift[i] = driftKept*f.drift[i] + driftSigma[i]*f.chance.NormFloat64()
	}
	want := math.Pow(greyTarget/math.Max(mean, leastMean), evenness)
	want = math.Max(leastExposure, math.Min(mostExposure, want))
	f.exposure *= math.Pow(want/f.exposure, exposureStep)
	gain := f.exposure * math.Exp(f.drift[0])
	for k := range f.lut {
		g := gain * f.balance[k] * math.Exp(f.drift[k+1])
		step := g * 65536 / lutSize
		for i := range f.lut[k] {
			f.lut[k][i] = f.curve[min(65535, int((float64(i)+0.5)*step))]
		}
	}
}

// meter is the mean linear green of the picture, as the exposure control sees it.
func meter(rgb []uint16) float64 {
	sum, n := 0, 0
	for i := 1; i < len(rgb); i += 3 * 61 {
		sum += int(rgb[i])
		n++
	}
	return float64(sum) / float64(n) / full
}

// develop makes the picture.
func (f *film) develop(rgb []uint16, w, h int) *image.YCbCr {
	img := image.NewYCbCr(image.Rect(0, 0, w, h), image.YCbCrSubsampleRatio420)
	for y := 0; y < h; y += 2 {
		f.rows(img, rgb, y, w, h)
	}
	return img
}

// rows converts two rows: luma for each pixel, colour for each block of four
// (ITU-R BT.601 weights as in JFIF).
func (f *film) rows(img *image.YCbCr, rgb []uint16, y, w, h int) {
	below := min(y+1, h-1)
	grain := f.noise[f.chance.IntN(noiseAll-4*w-8):][:4*w+8]
	top, low := rgb[3*y*w:][:3*w], rgb[3*below*w:][:3*w]
	luma, under := img.Y[y*img.YStride:][:w], img.Y[below*img.YStride:][:w]
	cb, cr := img.Cb[(y/2)*img.CStride:], img.Cr[(y/2)*img.CStride:]
	for x := 0; x < w; x += 2 {
		right := min(x+1, w-1)
		n := grain[2*x : 2*x+4]
		r0, g0, b0 := f.tone(top, x)
		r1, g1, b1 := f.tone(top, right)
		r2, g2, b2 := f.tone(low, x)
		r3, g3, b3 := f.tone(low, right)
		luma[x] = lumaOf(r0, g0, b0, n[0])
		luma[right] = lumaOf(r1, g1, b1, n[1])
		under[x] = lumaOf(r2, g2, b2, n[2])
		under[right] = lumaOf(r3, g3, b3, n[3])
		r, g, b := r0+r1+r2+r3, g0+g1+g2+g3, b0+b1+b2+b3
		cb[x/2] = clip(128 + (-11056*r-21712*g+32768*b)>>18 + speck(grain[2*w+x]))
		cr[x/2] = clip(128 + (32768*r-27440*g-5328*b)>>18 + speck(grain[3*w+x]))
	}
}

// tone is a pixel's display values.
func (f *film) tone(row []uint16, x int) (r, g, b int) {
	p := row[3*x : 3*x+3]
	return int(f.lut[0][p[0]>>2]), int(f.lut[1][p[1]>>2]), int(f.lut[2][p[2]>>2])
}

func lumaOf(r, g, b int, n int8) uint8 { return clip((19595*r+38470*g+7471*b+32768)>>16 + speck(n)) }

// speck scales the stored noise, sixteenths of a sigma.
func speck(v int8) int { return int(v) * noiseSigma >> 8 }

func clip(v int) uint8 { return uint8(max(0, min(255, v))) }

// encode writes the JPEG and reads it back: what the camera's user would see.
func (f *film) encode(img *image.YCbCr) ([]byte, image.Image, error) {
	f.buffer.Reset()
	if err := jpeg.Encode(&f.buffer, img, &jpeg.Options{Quality: quality}); err != nil {
		return nil, nil, err
	}
	data := bytes.Clone(f.buffer.Bytes())
	back, err := jpeg.Decode(bytes.NewReader(data))
	return data, back, err
}
