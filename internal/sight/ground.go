package sight

import (
	"math"

	"boardhand/internal/frame"
	"boardhand/internal/optics"
)

// ground knows, for every plate pixel, where its ray meets the board plane.
type ground struct {
	view   optics.View
	reduce float64
	w, h   int
	x, y   []float32                // board plane, metres; NaN where the ray misses
	eye    frame.Point[frame.Board] // the camera
	box    box                      // plate pixels that can show the board or men on it
	pitch  float64                  // metres a plate pixel at the field's centre
}

// box is a rectangle of plate pixels, the upper ends excluded.
type box struct{ x0, y0, x1, y1 int }

// lattice is how many plate pixels lie between rays computed exactly; between
// them the ground is linear to better than 0.05 pixel for any lens here.
const lattice = 8

// survey computes the ground under a view for a picture of image pixels.
func survey(v optics.View, image [2]int, reduce, reach float64) *ground {
	g := &ground{view: v, reduce: reduce, w: int(float64(image[0]) / reduce), h: int(float64(image[1]) / reduce), eye: v.Camera()}
	n := g.w * g.h
	g.x, g.y = make([]float32, n), make([]float32, n)
	cols, rows := (g.w-1)/lattice+2, (g.h-1)/lattice+2
	nodes := make([]frame.Spot[frame.Board], cols*rows)
	for j := range rows {
		for i := range cols {
			at, err := v.OnPlane(g.pixel(float64(i*lattice), float64(j*lattice)), 0)
			if err != nil {
				at = frame.Spot[frame.Board]{X: math.NaN(), Y: math.NaN()}
			}
			nodes[j*cols+i] = at
		}
	}
	g.fill(nodes, cols)
	g.bound(reach)
	if k, err := v.PixelsPerMM(frame.Spot[frame.Board]{}, 0); err == nil {
		g.pitch = 1e-3 / k * reduce
	}
	return g
}

// pixel is the picture pixel at plate coordinates (i, j).
func (g *ground) pixel(i, j float64) frame.Spot[frame.Image] {
	k := g.reduce
	return frame.Spot[frame.Image]{X: k*i + (k-1)/2, Y: k*j + (k-1)/2}
}

// plate is where a board point lies on the plate.
func (g *ground) plate(p frame.Point[frame.Board]) (i, j float64, ok bool) {
	px, ok := g.view.Project(p)
	k := g.reduce
	return (px.X - (k-1)/2) / k, (px.Y - (k-1)/2) / k, ok
}

// fill interpolates between the nodes.
func (g *ground) fill(nodes []frame.Spot[frame.Board], cols int) {
	for y := range g.h {
		j, fy := y/lattice, float64(y%lattice)/lattice
		for x := range g.w {
			i, fx := x/lattice, float64(x%lattice)/lattice
			a, b := nodes[j*cols+i], nodes[j*cols+i+1]
			c, d := nodes[(j+1)*cols+i], nodes[(j+1)*cols+i+1]
			g.x[y*g.w+x] = float32((1-fy)*((1-fx)*a.X+fx*b.X) + fy*((1-fx)*c.X+fx*d.X))
			g.y[y*g.w+x] = float32((1-fy)*((1-fx)*a.Y+fx*b.Y) + fy*((1-fx)*c.Y+fx*d.Y))
		}
	}
}

// bound finds the rectangle of pixels whose ground lies within reach of the centre.
func (g *ground) bound(reach float64) {
	g.box = box{g.w, g.h, 0, 0}
	for y := range g.h {
		for x := range g.w {
			if i := y*g.w + x; math.Abs(float64(g.x[i])) < reach && math.Abs(float64(g.y[i])) < reach {
				g.box = box{min(g.box.x0, x), min(g.box.y0, y), max(g.box.x1, x+1), max(g.box.y1, y+1)}
			}
		}
	}
	if g.box.x1 <= g.box.x0 {
		g.box = box{}
	}
}

// window is the rectangle of plate pixels around the projection of a
// rectangle on the board plane.
func (g *ground) window(x0, y0, x1, y1 float64) box {
	b := box{g.w, g.h, 0, 0}
	for _, c := range [4]frame.Spot[frame.Board]{{X: x0, Y: y0}, {X: x1, Y: y0}, {X: x0, Y: y1}, {X: x1, Y: y1}} {
		i, j, ok := g.plate(c.At(0))
		if !ok {
			continue
		}
		b = box{min(b.x0, int(i)-1), min(b.y0, int(j)-1), max(b.x1, int(i)+3), max(b.y1, int(j)+3)}
	}
	return box{max(b.x0, 0), max(b.y0, 0), min(b.x1, g.w), min(b.y1, g.h)}
}
