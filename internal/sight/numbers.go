package sight

import "math"

// median of v, which it reorders; 0 for none.
func median(v []float64) float64 {
	if len(v) == 0 {
		return 0
	}
	return nth(v, len(v)/2)
}

// nth is the element that has k smaller ones, in linear time (Hoare's
// selection); it reorders v.
func nth(v []float64, k int) float64 {
	for low, high := 0, len(v)-1; low < high; {
		pivot, i, j := v[k], low, high
		for i <= j {
			for v[i] < pivot {
				i++
			}
			for pivot < v[j] {
				j--
			}
			if i <= j {
				v[i], v[j] = v[j], v[i]
				i, j = i+1, j-1
			}
		}
		if j < k {
			low = i
		}
		if k < i {
			high = j
		}
	}
	return v[k]
}

// medianOf is the median of a value over pixels.
func medianOf(where []int32, value func(int32) float64) float64 {
	v := make([]float64, len(where))
	for n, i := range where {
		v[n] = value(i)
	}
	return median(v)
}

// eliminate solves the linear system given as n rows of n+1 numbers, which it
// overwrites; false when it is singular.
func eliminate(m [][]float64) ([]float64, bool) {
	n := len(m)
	for c := range n {
		p := c
		for r := c + 1; r < n; r++ {
			if math.Abs(m[r][c]) > math.Abs(m[p][c]) {
				p = r
			}
		}
		if !(math.Abs(m[p][c]) > 1e-12) {
			return nil, false
		}
		m[c], m[p] = m[p], m[c]
		for r := c + 1; r < n; r++ {
			f := m[r][c] / m[c][c]
			for k := c; k <= n; k++ {
				m[r][k] -= f * m[c][k]
			}
		}
	}
	x := make([]float64, n)
	for r := n - 1; r >= 0; r-- {
		s := m[r][n]
		for k := r + 1; k < n; k++ {
			s -= m[r][k] * x[k]
		}
		x[r] = s / m[r][r]
	}
	return x, true
}

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

// moments are the sums of pairs.
type moments struct{ n, x, y, xx, yy, xy float64 }

func (m *moments) add(x, y float64) {
	m.n++
	m.x += x
	m.y += y
	m.xx += x * x
	m.yy += y * y
	m.xy += x * y
}

// correlation of the pairs, −1 to 1; 0 when one of them does not vary.
func (m *moments) correlation() float64 {
	v := (m.n*m.xx - m.x*m.x) * (m.n*m.yy - m.y*m.y)
	if v < 1e-12 {
		return 0
	}
	return (m.n*m.xy - m.x*m.y) / math.Sqrt(v)
}
