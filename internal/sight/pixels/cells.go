// SPDX-License-Identifier: Apache-2.0

package pixels

// CellSide is the side of the cells in which pictures are compared, pixels: 4 mm, a tenth of
// a square.
const CellSide = 4

// Means are the means of L, A and B over cells, row by row, found once; what does not fill a
// cell at the right and lower rim is left out.
func (p *Image) Means() *[3][]float32 {
	if p.means != nil {
		return p.means
	}
	cols, rows := p.W/CellSide, p.H/CellSide
	p.means = new([3][]float32)
	for k, plane := range [3][]float32{p.L, p.A, p.B} {
		to := make([]float32, cols*rows)
		for y := range rows * CellSide {
			addCells(to[y/CellSide*cols:][:cols], plane[y*p.W:])
		}
		for j := range to {
			to[j] /= CellSide * CellSide
		}
		p.means[k] = to
	}
	return p.means
}

// addCells adds a row of pixels to its cells' sums.
func addCells(sums, row []float32) {
	for k := range sums {
		v := row[CellSide*k:][:CellSide]
		sums[k] += v[0] + v[1] + v[2] + v[3]
	}
}
