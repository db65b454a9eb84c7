// SPDX-License-Identifier: Apache-2.0

package pixels

// Smooth writes the mean of src over (2r+1)² pixels into dst, inside the box. Sums run on
// from row to row and from column to column, always in the same order: it tells the last bit.
func Smooth(dst, src []float32, w int, b Box, r int) {
	cols := b.X1 - b.X0
	if cols <= 0 || b.Y1 <= b.Y0 {
		return
	}
	row := func(v []float32, y int) []float32 { return v[y*w+b.X0 : y*w+b.X1] }
	room := make([]float32, 2*cols)
	s := columns{sums: room[:cols:cols], next: room[cols:]}
	for y := b.Y0; y < min(b.Y0+r, b.Y1); y++ {
		s.add(row(src, y), s.sums)
	}
	move := func(y int, to []float32) float32 {
		in, out := y+r < b.Y1, y-r-1 >= b.Y0
		switch {
		case in && out:
			s.exchange(row(src, y+r), row(src, y-r-1), to)
		case in:
			s.add(row(src, y+r), to)
		case out:
			s.drop(row(src, y-r-1), to)
		default:
			copy(to, s.sums)
		}
		return float32(s.rows)
	}
	for y := b.Y0; y < b.Y1; y += 2 {
		rows := move(y, s.sums)
		if y+1 == b.Y1 {
			slide(row(dst, y), s.sums, r, rows)
			break
		}
		first := s.sums
		rows2 := move(y+1, s.next)
		slideTwo([2][]float32{row(dst, y), row(dst, y+1)}, [2][]float32{first, s.next}, r, [2]float32{rows, rows2})
		s.sums, s.next = s.next, first
	}
}

// columns are the sums down each column over some rows.
type columns struct {
	sums, next []float32
	rows       int
}

// add writes the sums with one more row.
func (s *columns) add(in, to []float32) {
	s.rows++
	sums, to := s.sums[:len(in)], to[:len(in)]
	for i, v := range in {
		to[i] = sums[i] + v
	}
}

// drop writes the sums without one of their rows.
func (s *columns) drop(out, to []float32) {
	s.rows--
	sums, to := s.sums[:len(out)], to[:len(out)]
	for i, v := range out {
		to[i] = sums[i] - v
	}
}

// exchange writes the sums with one more row and without another.
func (s *columns) exchange(in, out, to []float32) {
	sums, out, to := s.sums[:len(in)], out[:len(in)], to[:len(in)]
	for i, v := range in {
		to[i] = sums[i] + v - out[i]
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

// slideTwo is slide for two rows at once: the one's sum need not wait for the other's.
func slideTwo(dst, sums [2][]float32, r int, rows [2]float32) {
	n := len(dst[0])
	if n < 2*r+2 {
		slide(dst[0], sums[0], r, rows[0])
		slide(dst[1], sums[1], r, rows[1])
		return
	}
	a, b := sums[0][:n], sums[1][:n]
	u, v := dst[0][:n], dst[1][:n]
	var s, t float32
	for i := range r {
		s, t = s+a[i], t+b[i]
	}
	for i := range r + 1 { // the window grows at the left rim
		s, t = s+a[i+r], t+b[i+r]
		w := float32(i + r + 1)
		u[i], v[i] = s/(w*rows[0]), t/(w*rows[1])
	}
	p, q := float32(2*r+1)*rows[0], float32(2*r+1)*rows[1]
	in, in2, out, out2 := a[2*r+1:], b[2*r+1:], a[:n-2*r-1], b[:n-2*r-1]
	to, to2 := u[r+1:][:len(out)], v[r+1:][:len(out)]
	in, in2, out2 = in[:len(out)], in2[:len(out)], out2[:len(out)]
	for i, x := range out {
		s, t = s+in[i]-x, t+in2[i]-out2[i]
		to[i], to2[i] = s/p, t/q
	}
	for i := n - r; i < n; i++ { // and shrinks at the right
		s, t = s-a[i-r-1], t-b[i-r-1]
		w := float32(n - i + r)
		u[i], v[i] = s/(w*rows[0]), t/(w*rows[1])
	}
}
