// SPDX-License-Identifier: Apache-2.0

// Package paper puts the judgement of a rig on paper and screen: one HTML page
// or a PDF of A4 pages, with the drawings of package assess in ink lines.
package paper

// ink is how a line is drawn, in millimetres of paper.
type ink struct {
	width  float64
	dash   []float64
	signal bool // in the one colour for what is wrong
	grey   bool
}

// anchor says which point of a text is placed.
type anchor int

const (
	left anchor = iota
	centre
	right
)

// word is a piece of text on a drawing.
type word struct {
	x, y   float64
	text   string
	size   float64 // height of the type, mm
	at     anchor
	upward bool // turned a quarter to the left
	signal bool
}

// pen is what drawings are made with: millimetres from the top left corner.
// Two make it: svg and pdf.
type pen interface {
	line(x, y []float64, i ink)
	area(x, y []float64)
	write(w word)
}

// The look: ink on paper, hatched greys, one signal colour.
const (
	inkColour    = "#1c2430"
	signalColour = "#b3261e"
	greyColour   = "#8a8f98"
	areaColour   = "#e3e5e2"
)
