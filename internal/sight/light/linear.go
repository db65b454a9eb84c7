// SPDX-License-Identifier: Apache-2.0

package light

import (
	"math"

	"boardhand/internal/sight/pixels"
)

// Cameras code light by a power, about the same in all of them: a reflection adds the same
// light to dark and light squares, but not the same level.

// linearTable is the light, of 255, of levels in steps of a quarter.
var linearTable = func() (t [4*256 + 1]float32) {
	for i := range t {
		t[i] = float32(255 * math.Pow(float64(i)/4/255, gamma))
	}
	return t
}()

// linear is the light of red, green and blue at a pixel, of 255.
func linear(p *pixels.Image, i int) [3]float32 {
	l := p.Levels(i)
	for j, v := range l {
		l[j] = linearTable[int(4*max(0, min(255, v))+0.5)]
	}
	return l
}

// logarithm is that of the level that codes a light.
func logarithm(light float32) float32 {
	return float32(math.Log(255*math.Pow(float64(light)/255, 1/gamma) + pixels.Black))
}

// sum is all light of a pixel.
func sum(v [3]float32) float32 { return v[0] + v[1] + v[2] }
