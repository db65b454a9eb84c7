// SPDX-License-Identifier: Apache-2.0

package pixels

// Resampled is the image whose pixel i shows what this one shows at from(i).
func (p *Image) Resampled(from func(int) [2]float32) *Image {
	n := Blank(p)
	n.Noise = make([]float32, len(p.Noise)) // none of the bare board
	for i := range p.L {
		t := p.Between(from(i))
		n.L[i], n.A[i], n.B[i] = t.Of(p.L), t.Of(p.A), t.Of(p.B)
		if len(p.Noise) > 0 {
			n.Noise[i] = t.Of(p.Noise)
		}
	}
	return n
}

// Tap is a place between four pixels.
type Tap struct {
	k, w   int
	fx, fy float32
}

// Between is the place at pixel coordinates x, y, moved into the image if it lies
// outside.
func (p *Image) Between(xy [2]float32) Tap {
	x := max(0, min(xy[0], float32(p.W)-1.001))
	y := max(0, min(xy[1], float32(p.H)-1.001))
	return Tap{int(y)*p.W + int(x), p.W, x - float32(int(x)), y - float32(int(y))}
}

// Of is a plane's value there, linear between the pixels.
func (t Tap) Of(v []float32) float32 {
	top := (1-t.fx)*v[t.k] + t.fx*v[t.k+1]
	return (1-t.fy)*top + t.fy*((1-t.fx)*v[t.k+t.w]+t.fx*v[t.k+t.w+1])
}
