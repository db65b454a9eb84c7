// SPDX-License-Identifier: Apache-2.0

package draw

import (
	"sync"

	"codeberg.org/go-pdf/fpdf"
)

// capitals is the height of a capital as a share of the type's, of the typeface used
// (Liberation Sans: 1409 of 2048 units); descent how far letters reach below the baseline.
const capitals, descent = 0.69, 0.21

// ruler measures words in the typeface of the PDF.
var ruler = sync.OnceValue(func() *fpdf.Fpdf {
	d := NewPDF("A4")
	d.AddPage()
	return d
})

var rulerLock sync.Mutex

// Width is how wide a word is, mm, in the typeface of the PDF; browsers take one much alike.
func (w Word) Width() float64 {
	rulerLock.Lock()
	defer rulerLock.Unlock()
	style := ""
	if w.Bold {
		style = "B"
	}
	ruler().SetFont("sans", style, w.Size/Point)
	return ruler().GetStringWidth(w.Text)
}

// Box is the room that a word takes.
func (w Word) Box() Rect {
	width := w.Width()
	from := -width * [...]float64{0, 0.5, 1}[w.At]
	if w.Upward {
		return Rect{w.X - capitals*w.Size, w.Y - from - width, w.X + descent*w.Size, w.Y - from}
	}
	return Rect{w.X + from, w.Y - capitals*w.Size, w.X + from + width, w.Y + descent*w.Size}
}
