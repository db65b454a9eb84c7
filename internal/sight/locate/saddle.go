// SPDX-License-Identifier: Apache-2.0

package locate

import (
	"image"
	"math"
	"sort"
)

// saddle is a place where four fields of a chequer may meet.
type saddle struct {
	x, y  float64 // pixels of the level it was found on
	score float64
	phase float64 // of the second harmonic around the ring: twice the angle of the light fields
}

// ring is a circle of sixteen pixels of radius five; opposite pixels are eight
// apart, those a quarter turn away four. Source: S. Bennett, J. Lasenby,
// ChESS – quick and robust detection of chess-board features, Computer Vision
// and Image Understanding 118 (2014).
var ring = [16][2]int{{5, 0}, {5, 2}, {4, 4}, {2, 5}, {0, 5}, {-2, 5}, {-4, 4}, {-5, 2},
	{-5, 0}, {-5, -2}, {-4, -4}, {-2, -5}, {0, -5}, {2, -5}, {4, -4}, {5, -2}}

// findSaddles returns the best saddles of a picture, best first.
func findSaddles(g *image.Gray) []saddle {
	w, h := g.Rect.Dx(), g.Rect.Dy()
	if w <= 2*ringReach+2 || h <= 2*ringReach+2 {
		return nil
	}
	score := scoreRings(g)
	var out []saddle
	for y := ringReach + 1; y < h-ringReach-1; y++ {
		for x := ringReach + 1; x < w-ringReach-1; x++ {
			if s := score[y*w+x]; s > saddleFloor && peaks(score, w, h, x, y) {
				out = append(out, peakOf(g, score, x, y))
			}
		}
	}
	sort.Slice(out, func(i, j int) bool { return out[i].score > out[j].score })
	if len(out) > mostSaddles {
		out = out[:mostSaddles]
	}
	return out
}

// scoreRings computes the response at every pixel whose ring is inside.
func scoreRings(g *image.Gray) []int16 {
	w, h := g.Rect.Dx(), g.Rect.Dy()
	score := make([]int16, w*h)
	var at [16]int
	for i, d := range ring {
		at[i] = d[1]*g.Stride + d[0]
	}
	for y := ringReach; y < h-ringReach; y++ {
		for x := ringReach; x < w-ringReach; x++ {
			score[y*w+x] = ringScore(g.Pix, y*g.Stride+x, g.Stride, &at)
		}
	}
	return score
}

// ringScore is high where opposite pixels agree and quarter turns differ, and
// the ring's mean is that of its centre.
func ringScore(pix []byte, o, stride int, at *[16]int) int16 {
	p := func(i int) int { return int(pix[o+at[i]]) }
	i0, i4, i8, i12 := p(0), p(4), p(8), p(12)
	i2, i6, i10, i14 := p(2), p(6), p(10), p(14)
	sum := abs(i0+i8-i4-i12) + abs(i2+i10-i6-i14)
	if 2*sum < saddleFloor { // the other four pairs add about as much again
		return 0
	}
	i1, i3, i5, i7 := p(1), p(3), p(5), p(7)
	i9, i11, i13, i15 := p(9), p(11), p(13), p(15)
	sum += abs(i1+i9-i5-i13) + abs(i3+i11-i7-i15)
	dif := abs(i0-i8) + abs(i1-i9) + abs(i2-i10) + abs(i3-i11) + abs(i4-i12) + abs(i5-i13) + abs(i6-i14) + abs(i7-i15)
	if sum <= dif {
		return 0
	}
	all := i0 + i1 + i2 + i3 + i4 + i5 + i6 + i7 + i8 + i9 + i10 + i11 + i12 + i13 + i14 + i15
	mid := int(pix[o]) + int(pix[o-1]) + int(pix[o+1]) + int(pix[o-stride]) + int(pix[o+stride])
	return int16(max(0, sum-dif-abs(all-mid*16/5)))
}

func abs(a int) int {
	if a < 0 {
		return -a
	}
	return a
}

// peaks says whether no pixel within saddleApart scores higher.
func peaks(score []int16, w, h, x, y int) bool {
	s := score[y*w+x]
	for v := max(0, y-saddleApart); v <= min(h-1, y+saddleApart); v++ {
		for u := max(0, x-saddleApart); u <= min(w-1, x+saddleApart); u++ {
			o := score[v*w+u]
			if o > s || o == s && (v < y || v == y && u < x) {
				return false
			}
		}
	}
	return true
}

// peakOf refines a peak to a fraction of a pixel by the centre of gravity of
// the scores around it, and reads the phase.
func peakOf(g *image.Gray, score []int16, x, y int) saddle {
	w := g.Rect.Dx()
	var sum, sx, sy float64
	for v := -2; v <= 2; v++ {
		for u := -2; u <= 2; u++ {
			s := float64(score[(y+v)*w+x+u])
			sum, sx, sy = sum+s, sx+s*float64(u), sy+s*float64(v)
		}
	}
	p := saddle{x: float64(x) + sx/sum, y: float64(y) + sy/sum, score: float64(score[y*w+x])}
	var c, s float64
	for i, d := range ring {
		l := float64(g.Pix[(y+d[1])*g.Stride+x+d[0]])
		c, s = c+l*ringTurn[i][0], s+l*ringTurn[i][1]
	}
	p.phase = math.Atan2(s, c)
	return p
}

// ringTurn holds the cosine and sine of twice the angle of each ring pixel.
var ringTurn = func() [16][2]float64 {
	var t [16][2]float64
	for i, d := range ring {
		s, c := math.Sincos(2 * math.Atan2(float64(d[1]), float64(d[0])))
		t[i] = [2]float64{c, s}
	}
	return t
}()

// turn wraps an angle to (−π, π].
func turn(a float64) float64 { return math.Remainder(a, 2*math.Pi) }

// edge is the direction of the k-th of the four edges that meet in a saddle.
func (s saddle) edge(k int) float64 { return s.phase/2 + math.Pi/4 + float64(k)*math.Pi/2 }

// along returns which of the four edges lies nearest to a direction.
func (s saddle) along(angle float64) int {
	return int(math.Round((angle-s.edge(0))/(math.Pi/2))+400) % 4
}
