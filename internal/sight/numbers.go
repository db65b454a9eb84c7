package sight

// smooth writes the mean of src over (2r+1)² pixels into dst, inside the box.
func smooth(dst, src []float32, w int, b box, r int) {
	cols := b.x1 - b.x0
	if cols <= 0 || b.y1 <= b.y0 {
		return
	}
	sums := make([]float32, cols)
	rows := 0
	add := func(y int, sign float32) {
		row := src[y*w+b.x0 : y*w+b.x1]
		for i, v := range row {
			sums[i] += sign * v
		}
		rows += int(sign)
	}
	for y := b.y0; y < min(b.y0+r, b.y1); y++ {
		add(y, 1)
	}
	for y := b.y0; y < b.y1; y++ {
		if y+r < b.y1 {
			add(y+r, 1)
		}
		if y-r-1 >= b.y0 {
			add(y-r-1, -1)
		}
		slide(dst[y*w+b.x0:y*w+b.x1], sums, r, float32(rows))
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
