// SPDX-License-Identifier: Apache-2.0

package sheets

import (
	"fmt"
	"math"

	"boardhand/internal/draw"
	"boardhand/internal/sheets/tile"
)

// The target is the checkerboard that `lens` looks for when it is told nothing else: 9 × 6 corners
// where four squares meet; its squares are of 25 mm or the whole millimetres that fit.
const targetAcross, targetDown, targetSquare = 7, 10, 25.0

// target is a printed checkerboard that the camera is measured with.
func target(o *Order) (Sheet, error) {
	p := o.Paper
	d := &draw.Drawing{W: p.W, H: p.H}
	s := math.Floor(min(targetSquare, (p.W-2*tile.Margin)/targetAcross, (p.H-2*tile.Margin-tile.Strip-2)/targetDown))
	x0, y0 := (p.W-targetAcross*s)/2, tile.Margin+2.0
	for across := range targetAcross {
		for down := range targetDown {
			if (across+down)%2 == 0 {
				x, y := x0+float64(across)*s, y0+float64(down)*s
				d.Tone([]float64{x, x + s, x + s, x}, []float64{y, y, y + s, y + s}, draw.Solid)
			}
		}
	}
	y := y0 + targetDown*s
	d.Write(draw.Word{X: x0, Y: y + 9, Text: fmt.Sprintf("boardhand lens --inner 9x6 --square %smm", written(s)), Size: letter})
	tile.Ruler(d, p.W-tile.Margin-tile.RulerLength-4, y+18)
	return Sheet{
		Title: "Camera target", Scale: "1:1",
		Use:   "Print it, glue it to something flat, take ten pictures of it tilted to all sides, and give them to boardhand lens.",
		Pages: []*draw.Drawing{d}, Bare: true,
	}, nil
}
