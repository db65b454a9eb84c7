// SPDX-License-Identifier: Apache-2.0

// Package quality says what a camera's pictures of a board are worth: how sharp
// they are in each corner of the board, how evenly it is lit, what is too bright or
// too dark, how much the camera's noise is, how many pixels a square has, and what to
// change.
package quality

import (
	"image"
	"image/color"
	"math"
	"slices"

	"boardhand/internal/frame"
	"boardhand/internal/optics"
	"boardhand/internal/sight/numeric"
	"boardhand/internal/sight/pixels"
)

// Places are where the board is looked at, by their names.
var Places = []string{"a1", "h1", "h8", "a8", "middle"}

// Report is what was measured. Grey levels are 0–255 as the picture has them.
type Report struct {
	PixelsPerSquare [2]float64         `json:"pixels_per_square"` // the least and the most
	TiltDeg         float64            `json:"tilt_deg"`          // of the camera from looking straight down
	Edge            map[string]float64 `json:"edge_px"`           // 10–90 % width of the squares' edges, px; NaN is left out
	Light           map[string]float64 `json:"light"`             // grey level of the lighter squares
	Contrast        float64            `json:"contrast"`          // grey levels between lighter and darker squares, in the middle of them all
	Bright          float64            `json:"clipped_bright"`    // share of the board's pixels that can get no brighter
	Dark            float64            `json:"clipped_dark"`      // share that can get no darker
	Noise           float64            `json:"noise"`             // standard deviation from picture to picture, grey levels; 0: one picture alone
}

// Board is where the board lies in the pictures.
type Board struct {
	View   optics.View
	Square float64 // side, metres
}

// Measure measures pictures of one size with the board in one place; pieces may stand
// on it.
func Measure(pictures []image.Image, b Board) Report {
	last := pictures[len(pictures)-1]
	grey := pixels.LumaOf(last)
	r := Report{TiltDeg: b.View.Tilt() * 180 / math.Pi, Edge: map[string]float64{}, Light: map[string]float64{}}
	r.PixelsPerSquare = b.scale()
	for _, name := range Places {
		edges := b.edgesNear(name)
		if w := b.edgeWidth(grey, edges); !math.IsNaN(w) {
			r.Edge[name] = w
		}
		if light, _, ok := b.tones(grey, edges); ok {
			r.Light[name] = light
		}
	}
	if light, dark, ok := b.tones(grey, b.edges(0, 8, 0, 8)); ok {
		r.Contrast = light - dark
	}
	r.Bright, r.Dark = b.clipped(last)
	if len(pictures) > 1 {
		r.Noise = b.noise(pixels.LumaOf(pictures[len(pictures)-2]), grey)
	}
	return r
}

// scale is the least and the most pixels that a side of a square takes.
func (b Board) scale() [2]float64 {
	out := [2]float64{math.Inf(1), 0}
	for _, x := range []float64{-3.5, 0, 3.5} {
		for _, y := range []float64{-3.5, 0, 3.5} {
			k, err := b.View.PixelsPerMM(frame.Spot[frame.Board]{X: x * b.Square, Y: y * b.Square}, 0)
			if err == nil {
				out[0], out[1] = min(out[0], k*b.Square*1e3), max(out[1], k*b.Square*1e3)
			}
		}
	}
	return out
}

// edge is the middle of an edge between two squares, and the way across it.
type edge struct {
	at, across frame.Spot[frame.Board]
}

// edges lists the inner edges between squares of some files and ranks, from 0 up to
// and without the second.
func (b Board) edges(file0, file1, rank0, rank1 int) (out []edge) {
	for f := file0; f < file1; f++ {
		for k := rank0; k < rank1; k++ {
			x, y := (float64(f)-3.5)*b.Square, (float64(k)-3.5)*b.Square
			if f+1 < file1 {
				out = append(out, edge{frame.Spot[frame.Board]{X: x + b.Square/2, Y: y}, frame.Spot[frame.Board]{X: b.Square}})
			}
			if k+1 < rank1 {
				out = append(out, edge{frame.Spot[frame.Board]{X: x, Y: y + b.Square/2}, frame.Spot[frame.Board]{Y: b.Square}})
			}
		}
	}
	return out
}

// edgesNear lists those near one of the Places.
func (b Board) edgesNear(name string) []edge {
	const n = reach
	switch name {
	case "a1":
		return b.edges(0, n, 0, n)
	case "h1":
		return b.edges(8-n, 8, 0, n)
	case "h8":
		return b.edges(8-n, 8, 8-n, 8)
	case "a8":
		return b.edges(0, n, 8-n, 8)
	}
	return b.edges(4-n/2, 4+n/2, 4-n/2, 4+n/2)
}

// tones is how bright the lighter and the darker squares beside some edges are.
func (b Board) tones(g *image.Gray, edges []edge) (light, dark float64, ok bool) {
	var lights, darks []float64
	for _, e := range edges {
		p, ok := b.profile(g, e, 0)
		if !ok {
			continue
		}
		low, high := p.levels()
		lights, darks = append(lights, max(low, high)), append(darks, min(low, high))
	}
	if len(lights) == 0 {
		return 0, 0, false
	}
	return numeric.Median(lights), numeric.Median(darks), true
}

// clipped is the share of pixels inside the field at either end of the scale.
func (b Board) clipped(img image.Image) (bright, dark float64) {
	total := 0
	b.within(img.Bounds(), func(x, y int) {
		c := color.RGBAModel.Convert(img.At(x, y)).(color.RGBA)
		total++
		if max(c.R, c.G, c.B) >= whitest {
			bright++
		}
		if max(c.R, c.G, c.B) <= blackest {
			dark++
		}
	})
	n := max(float64(total), 1)
	return bright / n, dark / n
}

// noise is the standard deviation of a pixel from one picture to the next: from how
// much more one pixel changed than one near it, so that lamps and people do not count.
func (b Board) noise(was, is *image.Gray) float64 {
	if was.Bounds() != is.Bounds() {
		return 0
	}
	change := func(x, y int) float64 { return float64(is.GrayAt(x, y).Y) - float64(was.GrayAt(x, y).Y) }
	var d []float64
	b.within(is.Bounds().Inset(2), func(x, y int) { d = append(d, math.Abs(change(x, y)-change(x+2, y))) })
	if len(d) == 0 {
		return 0
	}
	return meanBelow(d) / 2 * halfNormal // two pixels, two pictures: four times the variance
}

// meanBelow is the mean of the lower nine tenths: of whole grey levels a median tells
// little.
func meanBelow(d []float64) float64 {
	slices.Sort(d)
	d = d[:max(len(d)*9/10, 1)]
	sum := 0.0
	for _, v := range d {
		sum += v
	}
	return sum / float64(len(d))
}

// within calls f for every stride-th pixel that lies on the field.
func (b Board) within(r image.Rectangle, f func(x, y int)) {
	half := 4 * b.Square
	for y := r.Min.Y; y < r.Max.Y; y += stride {
		for x := r.Min.X; x < r.Max.X; x += stride {
			at, err := b.View.OnPlane(frame.Spot[frame.Image]{X: float64(x), Y: float64(y)}, 0)
			if err == nil && math.Abs(at.X) < half && math.Abs(at.Y) < half {
				f(x, y)
			}
		}
	}
}
