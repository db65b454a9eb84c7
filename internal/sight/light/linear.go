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
	g := p.L[i] - (p.A[i]+p.B[i])/3
	return [3]float32{lightOf(g + p.A[i]), lightOf(g), lightOf(g + p.B[i])}
}

// quarterOf is the level, in quarters, of a logarithm.
func quarterOf(l float32) int {
	return int(4*max(0, min(255, float32(math.Exp(float64(l)))-pixels.Black)) + 0.5)
}

// Logarithms up to brightest levels are looked up in steps of one in perUnit: there are not
// many more quarters of levels in a step than one.
const darkest, brightest, perUnit = 2.0, 5.625, 1024

// firstQuarters is the quarter that each step begins in, and fromLogs the least logarithm of each
// quarter.
var firstQuarters, fromLogs = func() (first [(brightest - darkest) * perUnit]uint16, from [len(linearTable) + 1]float32) {
	for k := range first {
		first[k] = uint16(quarterOf(darkest + float32(k)/perUnit))
	}
	for q := range from {
		if q > 4*255 {
			from[q] = brightest
			continue
		}
		l := float32(math.Log((float64(q)-0.5)/4 + pixels.Black))
		for quarterOf(l) >= q && q > 0 {
			l = math.Nextafter32(l, 0)
		}
		for quarterOf(l) < q && l < brightest {
			l = math.Nextafter32(l, brightest)
		}
		from[q] = l
	}
	return first, from
}()

// lightOf is the light, of 255, of the level whose logarithm is given.
func lightOf(l float32) float32 {
	k := int((l - darkest) * perUnit)
	if k < 0 {
		return linearTable[0]
	}
	if k >= len(firstQuarters) {
		return linearTable[4*255]
	}
	q := int(firstQuarters[k])
	for l >= fromLogs[q+1] {
		q++
	}
	return linearTable[q]
}

// logarithm is that of the level that codes a light.
func logarithm(light float32) float32 {
	return float32(math.Log(255*math.Pow(float64(light)/255, 1/gamma) + pixels.Black))
}

// sum is all light of a pixel.
func sum(v [3]float32) float32 { return v[0] + v[1] + v[2] }
