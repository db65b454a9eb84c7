// SPDX-License-Identifier: Apache-2.0

package sight

import (
	"fmt"
	"image"
	"image/color"
	"math"

	"golang.org/x/image/draw"
	"golang.org/x/image/font"
	"golang.org/x/image/font/basicfont"
	"golang.org/x/image/math/fixed"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/optics"
	"boardhand/internal/photo"
	"boardhand/internal/sight/scene"
)

// The inks of the overlay.
var (
	inkLattice = color.RGBA{40, 160, 255, 255}
	inkPiece   = color.RGBA{255, 255, 255, 255}
	inkShadow  = color.RGBA{0, 0, 0, 255}
	inkSignal  = color.RGBA{255, 80, 0, 255}
)

// Overlay draws on a copy of the picture what the reader made of it: the
// lattice, the pieces' outlines with their places in the squares (mm along the
// files and the ranks), the squares that differ, and the reading with its belief.
// Where the squares are too small for that the copy is enlarged. Call it after
// Read and before the next one; after Accept the pieces are drawn where they went.
func (r *Reader) Overlay(p photo.Picture, reading Reading) (image.Image, error) {
	img, err := decode(p)
	if err != nil {
		return nil, withName(p, err)
	}
	s := sketch{setup: r.setup, zoom: 1}
	v, found := r.View()
	if found {
		s.view, s.zoom = v, zoomFor(v, r.setup.Square)
	}
	s.img = image.NewRGBA(image.Rect(0, 0, s.zoom*img.Bounds().Dx(), s.zoom*img.Bounds().Dy()))
	draw.ApproxBiLinear.Scale(s.img, s.img.Rect, img, img.Bounds(), draw.Src, nil)
	if found {
		s.lattice()
		for _, q := range reading.Squares {
			s.square(q)
		}
		s.pieces(r)
	}
	s.caption(reading)
	return s.img, nil
}

// Lattice draws on a copy of a picture where the squares lie in it, the names of
// the corner squares and a frame around a1.
func Lattice(img image.Image, v optics.View, setup scene.Setup) image.Image {
	s := sketch{setup: setup, view: v, zoom: zoomFor(v, setup.Square)}
	s.img = image.NewRGBA(image.Rect(0, 0, s.zoom*img.Bounds().Dx(), s.zoom*img.Bounds().Dy()))
	draw.ApproxBiLinear.Scale(s.img, s.img.Rect, img, img.Bounds(), draw.Src, nil)
	s.lattice()
	s.square(0) // framed, so that the board's turn is seen at once
	for _, q := range []chess.Square{0, 7, 56, 63} {
		if x, y, ok := s.project(setup.Centre(q).At(0)); ok {
			s.text(x-8, y+4, q.String())
		}
	}
	return s.img
}

// zoomFor is how many times a picture is enlarged so that a piece's place can be
// written in its square.
func zoomFor(v optics.View, square float64) int {
	const letters = 90 // pixels
	k, err := v.PixelsPerMM(frame.Spot[frame.Board]{}, 0)
	if err != nil {
		return 1
	}
	return max(1, min(3, int(math.Ceil(letters/(k*square*1e3)))))
}

// sketch draws board things on a picture.
type sketch struct {
	img   *image.RGBA
	setup scene.Setup
	view  optics.View
	zoom  int // how many times the picture is enlarged
}

// project is where a board point lies on the enlarged picture.
func (s *sketch) project(p frame.Point[frame.Board]) (x, y int, ok bool) {
	px, ok := s.view.Project(p)
	k := float64(s.zoom)
	return int(math.Round(k*(px.X+0.5) - 0.5)), int(math.Round(k*(px.Y+0.5) - 0.5)), ok
}

// lattice draws the lines between the squares.
func (s *sketch) lattice() {
	f := s.setup.HalfField()
	for i := range 9 {
		t := -f + float64(i)*s.setup.Square
		s.line([]frame.Point[frame.Board]{{X: t, Y: -f}, {X: t, Y: f}}, inkLattice)
		s.line([]frame.Point[frame.Board]{{X: -f, Y: t}, {X: f, Y: t}}, inkLattice)
	}
}

// square frames a square that differs from the position.
func (s *sketch) square(q chess.Square) {
	c, h := s.setup.Centre(q), 0.46*s.setup.Square
	s.line([]frame.Point[frame.Board]{{X: c.X - h, Y: c.Y - h}, {X: c.X + h, Y: c.Y - h}, {X: c.X + h, Y: c.Y + h},
		{X: c.X - h, Y: c.Y + h}, {X: c.X - h, Y: c.Y - h}}, inkSignal)
}

// pieces draws every piece's base and head, its axis, and how far it stands from
// the middle of its square.
func (s *sketch) pieces(r *Reader) {
	if r.tracker == nil {
		return
	}
	for _, m := range r.tracker.Pieces {
		shape := s.setup.Pieces[m.Piece.Kind()]
		s.ring(m.At, 0, shape.Base/2, inkPiece)
		s.ring(m.At, 0.85*shape.Height, 0.3*shape.Base, inkPiece)
		s.line([]frame.Point[frame.Board]{m.At.At(0), m.At.At(shape.Height)}, inkPiece)
		s.line([]frame.Point[frame.Board]{s.setup.Centre(m.Square).At(0), m.At.At(0)}, inkSignal)
		d := m.At.Sub(s.setup.Centre(m.Square)).Scale(1e3)
		if x, y, ok := s.project(m.At.At(0)); ok {
			s.text(x-32, y+30, fmt.Sprintf("%c %.1f,%.1f", m.Piece.Letter(), d.X, d.Y))
		}
	}
}

// ring draws a level circle.
func (s *sketch) ring(at frame.Spot[frame.Board], z, radius float64, c color.RGBA) {
	var p []frame.Point[frame.Board]
	for i := range 25 {
		a := 2 * math.Pi * float64(i) / 24
		p = append(p, frame.Point[frame.Board]{X: at.X + radius*math.Cos(a), Y: at.Y + radius*math.Sin(a), Z: z})
	}
	s.line(p, c)
}

// line draws a polyline in space, in steps short enough for any lens.
func (s *sketch) line(p []frame.Point[frame.Board], c color.RGBA) {
	step := 0.4e-3 / float64(s.zoom) // metres: below a pixel
	for i := 1; i < len(p); i++ {
		d := p[i].Sub(p[i-1])
		n := int(d.Norm()/step) + 1
		for k := range n {
			t := float64(k) / float64(n)
			q := p[i-1].Add(frame.Point[frame.Board]{X: t * d.X, Y: t * d.Y, Z: t * d.Z})
			if x, y, ok := s.project(q); ok {
				s.dot(x, y, c)
			}
		}
	}
}

// dot sets a pixel; what needs a person's eye is drawn thicker.
func (s *sketch) dot(x, y int, c color.RGBA) {
	s.img.SetRGBA(x, y, c)
	if c == inkSignal {
		s.img.SetRGBA(x+1, y, c)
		s.img.SetRGBA(x, y+1, c)
		s.img.SetRGBA(x+1, y+1, c)
	}
}

// caption writes the reading in the picture's corner.
func (s *sketch) caption(r Reading) {
	text := fmt.Sprintf("%s  belief %.4f", r.State, r.Belief)
	if r.Move != 0 {
		text = fmt.Sprintf("%s %s  belief %.4f", r.State, r.Move, r.Belief)
	}
	s.text(8, 20, text)
	for i, c := range r.Candidates {
		s.text(8, 38+16*i, fmt.Sprintf("%s %.4f", c.Move, c.Belief))
	}
}

// text writes light on dark.
func (s *sketch) text(x, y int, line string) {
	for _, d := range []struct {
		x, y int
		c    color.RGBA
	}{{x + 1, y + 1, inkShadow}, {x, y, inkPiece}} {
		w := font.Drawer{Dst: s.img, Src: image.NewUniform(d.c), Face: basicfont.Face7x13, Dot: fixed.P(d.x, d.y)}
		w.DrawString(line)
	}
}
