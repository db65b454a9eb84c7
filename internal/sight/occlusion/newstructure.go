// SPDX-License-Identifier: Apache-2.0

package occlusion

import (
	"boardhand/internal/sight/pixels"
	"math"

	"boardhand/internal/sight/numeric"
)

// newStructure is the evidence of structure that was not there, nats a cell, found only
// where somebody asks: most cells show what they did.
type newStructure struct {
	*Comparison
	of    func(*slopesRow, int) float32 // of a pixel
	cells []float32                     // NaN where nobody has asked yet
}

func (c *Comparison) newStructure(of func(*slopesRow, int) float32) *newStructure {
	return &newStructure{Comparison: c, of: of}
}

// fresh is the evidence of a pixel that its slope was not there: about 0 where some only
// went, as in a dim light.
func (r *slopesRow) fresh(x int) float32 {
	v, _, h2, d2 := r.at(x)
	return float32(numeric.Log((v + d2) / (v + h2)))
}

// richer is the evidence of a pixel that there is more structure than was: 0 where both
// pictures are bare.
func (r *slopesRow) richer(x int) float32 {
	v, g2, h2, _ := r.at(x)
	return float32(numeric.Log((v + g2) / (v + h2)))
}

// around averages over the cells within two of one.
func (s *newStructure) around(k int) float32 {
	if s.cells == nil {
		s.cells = make([]float32, s.Cols*s.Rows)
		for i := range s.cells {
			s.cells[i] = float32(math.NaN())
		}
	}
	x, y := k%s.Cols, k/s.Cols
	sum, n := float32(0), 0
	for v := max(0, y-2); v <= min(s.Rows-1, y+2); v++ {
		for u := max(0, x-2); u <= min(s.Cols-1, x+2); u++ {
			sum += s.cell(u, v)
			n++
		}
	}
	return sum / float32(n)
}

// cell is the evidence of the cell in a column and a row.
func (s *newStructure) cell(col, row int) float32 {
	to := &s.cells[row*s.Cols+col]
	if !math.IsNaN(float64(*to)) {
		return *to
	}
	*to = 0
	for y := max(1, row*CellSide); y < min((row+1)*CellSide, s.now.H-1); y++ {
		r := s.row(y)
		light := s.now.L[y*s.w:][:s.w]
		for x := max(1, col*CellSide); x < min((col+1)*CellSide, s.w-1); x++ {
			if light[x] <= pixels.Saturated {
				*to += s.of(&r, x)
			}
		}
	}
	return *to
}
