// SPDX-License-Identifier: Apache-2.0

package pixels

import (
	"math"

	"boardhand/internal/frame"
	"boardhand/internal/optics"
)

// Plane knows, for every pixel of an Image, where its ray meets the board plane.
type Plane struct {
	View   optics.View
	Reduce float64
	W, H   int
	X, Y   []float32                // by pixel: board plane, metres; NaN where the ray misses
	Camera frame.Point[frame.Board] // where the camera is, metres
	Box    Box                      // pixels that can show the board or pieces on it
	Pitch  float64                  // metres a pixel at the field's centre
}

// Stride is how many pixels lie between rays computed exactly; between
// them the plane is linear to better than 0.05 pixel for any lens here.
const Stride = 8

// NewPlane computes the plane under a view for a picture of so many pixels, width
// and height, that is reduced by a factor. Pixels within reach of the field's centre,
// metres along both axes, are in its Box.
func NewPlane(v optics.View, image [2]int, reduce, reach float64) *Plane {
	g := &Plane{View: v, Reduce: reduce, W: int(float64(image[0]) / reduce), H: int(float64(image[1]) / reduce), Camera: v.Camera()}
	n := g.W * g.H
	g.X, g.Y = make([]float32, n), make([]float32, n)
	cols, rows := (g.W-1)/Stride+2, (g.H-1)/Stride+2
	nodes := make([]frame.Spot[frame.Board], cols*rows)
	for j := range rows {
		for i := range cols {
			at, err := v.OnPlane(g.Pixel(float64(i*Stride), float64(j*Stride)), 0)
			if err != nil {
				at = frame.Spot[frame.Board]{X: math.NaN(), Y: math.NaN()}
			}
			nodes[j*cols+i] = at
		}
	}
	g.fill(nodes, cols)
	g.bound(reach)
	if k, err := v.PixelsPerMM(frame.Spot[frame.Board]{}, 0); err == nil {
		g.Pitch = 1e-3 / k * reduce
	}
	return g
}

// Pixel is the camera picture's pixel at (i, j) of the Image.
func (g *Plane) Pixel(i, j float64) frame.Spot[frame.Image] {
	k := g.Reduce
	return frame.Spot[frame.Image]{X: k*i + (k-1)/2, Y: k*j + (k-1)/2}
}

// Project is where a board point lies on the image.
func (g *Plane) Project(p frame.Point[frame.Board]) (i, j float64, ok bool) {
	px, ok := g.View.Project(p)
	k := g.Reduce
	return (px.X - (k-1)/2) / k, (px.Y - (k-1)/2) / k, ok
}

// fill interpolates between the nodes.
func (g *Plane) fill(nodes []frame.Spot[frame.Board], cols int) {
	for y := range g.H {
		j, fy := y/Stride, float64(y%Stride)/Stride
		for x := range g.W {
			i, fx := x/Stride, float64(x%Stride)/Stride
			a, b := nodes[j*cols+i], nodes[j*cols+i+1]
			c, d := nodes[(j+1)*cols+i], nodes[(j+1)*cols+i+1]
			g.X[y*g.W+x] = float32((1-fy)*((1-fx)*a.X+fx*b.X) + fy*((1-fx)*c.X+fx*d.X))
			g.Y[y*g.W+x] = float32((1-fy)*((1-fx)*a.Y+fx*b.Y) + fy*((1-fx)*c.Y+fx*d.Y))
		}
	}
}

// bound finds the rectangle of pixels whose ground lies within reach of the centre.
func (g *Plane) bound(reach float64) {
	g.Box = Box{g.W, g.H, 0, 0}
	for y := range g.H {
		for x := range g.W {
			if i := y*g.W + x; math.Abs(float64(g.X[i])) < reach && math.Abs(float64(g.Y[i])) < reach {
				g.Box = Box{min(g.Box.X0, x), min(g.Box.Y0, y), max(g.Box.X1, x+1), max(g.Box.Y1, y+1)}
			}
		}
	}
	if g.Box.X1 <= g.Box.X0 {
		g.Box = Box{}
	}
}

// Window is the rectangle of pixels around the projection of a
// rectangle on the board plane.
func (g *Plane) Window(x0, y0, x1, y1 float64) Box {
	b := Box{g.W, g.H, 0, 0}
	for _, c := range [4]frame.Spot[frame.Board]{{X: x0, Y: y0}, {X: x1, Y: y0}, {X: x0, Y: y1}, {X: x1, Y: y1}} {
		i, j, ok := g.Project(c.At(0))
		if !ok {
			continue
		}
		b = Box{min(b.X0, int(i)-1), min(b.Y0, int(j)-1), max(b.X1, int(i)+3), max(b.Y1, int(j)+3)}
	}
	return Box{max(b.X0, 0), max(b.Y0, 0), min(b.X1, g.W), min(b.Y1, g.H)}
}

// Reduction is the factor that brings a picture to about a pixel a millimetre.
func Reduction(v optics.View) float64 {
	const finest = 0.72 // pixels a mm: finer adds time and noise, not knowledge
	k, err := v.PixelsPerMM(frame.Spot[frame.Board]{}, 0)
	if err != nil {
		return 1
	}
	return max(1, k/finest)
}

// Sample picks about n pixels evenly from those within reach of the field's centre,
// metres along both axes.
func (g *Plane) Sample(reach, n float64) []int32 {
	var all []int32
	for y := g.Box.Y0; y < g.Box.Y1; y++ {
		for x := g.Box.X0; x < g.Box.X1; x++ {
			i := y*g.W + x
			if math.Abs(float64(g.X[i])) < reach && math.Abs(float64(g.Y[i])) < reach {
				all = append(all, int32(i))
			}
		}
	}
	step := max(1, float64(len(all))/n)
	var out []int32
	for k := 0.0; int(k) < len(all); k += step {
		out = append(out, all[int(k)])
	}
	return out
}

// Displacement is how far the picture of something on the board moves, pixels.
func (g *Plane) Displacement(from, to frame.Spot[frame.Board]) [2]float32 {
	x0, y0, _ := g.Project(from.At(0))
	x1, y1, _ := g.Project(to.At(0))
	return [2]float32{float32(x1 - x0), float32(y1 - y0)}
}
