// SPDX-License-Identifier: Apache-2.0

package pixels

// Smooth writes the mean of src over (2r+1)² pixels into dst, inside the box.
func Smooth(dst, src []float32, w int, b Box, r int) {
	cols := b.X1 - b.X0
	if cols <= 0 || b.Y1 <= b.Y0 {
		return
	}
	sums := make([]float32, cols)
	rows := 0
	add := func(y int, sign float32) {
		row := src[y*w+b.X0 : y*w+b.X1]
		for i, v := range row {
			sums[i] += sign * v
		}
		rows += int(sign)
	}
	for y := b.Y0; y < min(b.Y0+r, b.Y1); y++ {
		add(y, 1)
	}
	for y := b.Y0; y < b.Y1; y++ {
		if y+r < b.Y1 {
			add(y+r, 1)
		}
		if y-r-1 >= b.Y0 {
			add(y-r-1, -1)
		}
		slide(dst[y*w+b.X0:y*w+b.X1], sums, r, float32(rows))
	}
}

// slide is the running mean along one row of column sums.
func slide(dst, sums []float32, r int, rows float32) {
	var s float32
	n := 0
	for i := 0; i < min(r, len(sums)); i++ {
		s += sums[i]
		n++
	}
	for i := range dst {
		if i+r < len(sums) {
			s += sums[i+r]
			n++
		}
		if i-r-1 >= 0 {
			s -= sums[i-r-1]
			n--
		}
		dst[i] = s / (float32(n) * rows)
	}
}
