// SPDX-License-Identifier: Apache-2.0

// Package draw is the pen of everything that is put on paper or cut: lines, circles,
// tones and words in millimetres of paper, from the top left corner, y downwards. A
// Drawing is kept as data, to be measured, shifted and cut into tiles; SVG, PDF and
// DXF write it.
package draw

// Ink is how a line is drawn.
type Ink struct {
	Width  float64   // mm of paper
	Dash   []float64 // mm drawn, left out, drawn …; nil: all drawn
	Signal bool      // in the one colour for what is wrong
	Grey   bool
	Paper  bool // in the colour of the ground: on what is filled
	Cut    bool // what a laser or a knife follows; all else is marked
}

// The kinds of lines of technical drawings, by ISO 128-2: continuous wide and narrow, dashed
// narrow, long-dashed dotted and long-dashed double-dotted narrow. The widths are the group
// 0.5 of ISO 128-2; gaps and dashes are those of its table for narrow lines, shortened so that
// short lines still show their kind.
var (
	Outline = Ink{Width: 0.5}                                                  // what is seen
	Fine    = Ink{Width: 0.25}                                                 // dimensions, hatching, leads
	Hidden  = Ink{Width: 0.25, Dash: []float64{3, 0.75}}                       // what lies behind
	Centre  = Ink{Width: 0.25, Dash: []float64{6, 0.75, 0.1, 0.75}}            // axes
	Extreme = Ink{Width: 0.25, Dash: []float64{6, 0.75, 0.1, 0.75, 0.1, 0.75}} // where a moving part gets
	Knife   = Ink{Width: 0.1, Cut: true}                                       // to be cut
)

// Anchor says which point of a text is placed.
type Anchor int

// The anchors.
const (
	Left Anchor = iota
	Middle
	Right
)

// capital is how high capitals are, as a share of a word's size.
const capital = 0.72

// Word is a piece of text, its baseline at Y.
type Word struct {
	X, Y   float64
	Text   string
	Size   float64 // height of the type, mm; capitals are 0.72 of it
	At     Anchor
	Upward bool // turned a quarter to the left
	Signal bool
	Paper  bool // in the colour of the ground: on what is filled
	Halo   bool // with a rim of the ground, to be read over lines
	Bold   bool
}

// Tint is what a polygon is filled with.
type Tint int

// The tints.
const (
	Light  Tint = iota // a light grey
	Solid              // ink: of targets, and of what must be told in black and white
	Ground             // the paper of drawings that are looked at on a screen
)

func (t Tint) colour() rgb {
	return [...]rgb{Light: colours.tone, Solid: colours.ink, Ground: colours.paper}[t]
}

// halo is how wide the rim of a word is, mm: lines keep off its letters as far as their stems are
// thick. Doubled, it cuts short lines away.
const halo = 0.45

// Pen draws.
type Pen interface {
	Line(x, y []float64, i Ink)
	Circle(x, y, radius float64, i Ink)
	Tone(x, y []float64, t Tint) // fills a polygon
	Write(w Word)
}

// colours are the look of paper and page: ink, one colour for what is wrong, greys, the ground.
var colours = struct{ ink, signal, grey, tone, paper rgb }{
	ink: rgb{28, 36, 48}, signal: rgb{179, 38, 30}, grey: rgb{138, 143, 152}, tone: rgb{227, 229, 226}, paper: rgb{245, 244, 236},
}

// Colour is the colour of letters: ink, or that of what is wrong.
func Colour(signal bool) (r, g, b int) {
	c := Ink{Signal: signal}.colour()
	return c.r, c.g, c.b
}

// rgb is a colour.
type rgb struct{ r, g, b int }

// colour of a line.
func (i Ink) colour() rgb {
	switch {
	case i.Signal:
		return colours.signal
	case i.Paper:
		return colours.paper
	case i.Grey:
		return colours.grey
	}
	return colours.ink
}

// colour of a word.
func (w Word) colour() rgb { return Ink{Signal: w.Signal, Paper: w.Paper}.colour() }
