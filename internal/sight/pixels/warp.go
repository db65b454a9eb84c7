// SPDX-License-Identifier: Apache-2.0

package pixels

// Warp gives for every pixel of the plane where the same place, z
// above the board, lay on the old image. Exact every lattice pixels, linear
// between.
func (g *Plane) Warp(old *Plane, z float64) [][2]float32 {
	cols, rows := (g.W-1)/Stride+2, (g.H-1)/Stride+2
	nodes := make([][2]float32, cols*rows)
	for j := range rows {
		for i := range cols {
			nodes[j*cols+i] = [2]float32{-1, -1}
			at, err := g.View.OnPlane(g.Pixel(float64(i*Stride), float64(j*Stride)), z)
			if err != nil {
				continue
			}
			if x, y, ok := old.Project(at.At(z)); ok {
				nodes[j*cols+i] = [2]float32{float32(x), float32(y)}
			}
		}
	}
	out := make([][2]float32, g.W*g.H)
	for y := range g.H {
		j, fy := y/Stride, float32(y%Stride)/Stride
		for x := range g.W {
			i, fx := x/Stride, float32(x%Stride)/Stride
			a, b := nodes[j*cols+i], nodes[j*cols+i+1]
			c, d := nodes[(j+1)*cols+i], nodes[(j+1)*cols+i+1]
			for k := range 2 {
				out[y*g.W+x][k] = (1-fy)*((1-fx)*a[k]+fx*b[k]) + fy*((1-fx)*c[k]+fx*d[k])
			}
		}
	}
	return out
}
