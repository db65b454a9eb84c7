// SPDX-License-Identifier: Apache-2.0

package main

// pitch is the grid in which a hand's skin is cut, mm: half of the thinnest
// finger's radius, smoothed by the true normals.
const pitch = 4.0

// marcher cuts a skin out of a grid by marching tetrahedra.
type marcher struct {
	of      flesh
	low     vec
	n       [3]int
	field   []float64
	corner  map[[2]int]int // grid edge → mesh corner
	pts     []vec
	normals []vec
	faces   [][3]int
}

// skin returns the flesh's surface as a povray mesh.
func (f flesh) skin() string {
	low, high := f.box()
	m := marcher{of: f, low: low, corner: map[[2]int]int{}}
	for i := range 3 {
		m.n[i] = int((high[i]-low[i])/pitch) + 2
	}
	m.cutAll()
	return mesh(m.pts, m.normals, m.faces)
}

// cutAll cuts every cell of the grid.
func (m *marcher) cutAll() {
	m.field = make([]float64, m.n[0]*m.n[1]*m.n[2])
	for i := range m.field {
		m.field[i] = m.of.distance(m.at(i))
	}
	for z := range m.n[2] - 1 {
		for y := range m.n[1] - 1 {
			for x := range m.n[0] - 1 {
				m.cell(x, y, z)
			}
		}
	}
}

// at is the place of a grid point.
func (m *marcher) at(i int) vec {
	x, y, z := i%m.n[0], i/m.n[0]%m.n[1], i/m.n[0]/m.n[1]
	return vec{m.low[0] + float64(x)*pitch, m.low[1] + float64(y)*pitch, m.low[2] + float64(z)*pitch}
}

// six are the tetrahedra of a cell about its long diagonal; a corner's bits
// are x, y, z.
var six = [6][4]int{{0, 1, 3, 7}, {0, 3, 2, 7}, {0, 2, 6, 7}, {0, 6, 4, 7}, {0, 4, 5, 7}, {0, 5, 1, 7}}

// cell cuts one cell.
func (m *marcher) cell(x, y, z int) {
	var c [8]int
	inside := 0
	for k := range c {
		c[k] = x + k&1 + m.n[0]*(y+k>>1&1+m.n[1]*(z+k>>2))
		if m.field[c[k]] < 0 {
			inside++
		}
	}
	if inside == 0 || inside == 8 {
		return
	}
	for _, t := range six {
		m.tetra([4]int{c[t[0]], c[t[1]], c[t[2]], c[t[3]]})
	}
}

// tetra cuts one tetrahedron: a triangle, or a quadrangle as two.
func (m *marcher) tetra(c [4]int) {
	var in, out []int
	for _, i := range c {
		if m.field[i] < 0 {
			in = append(in, i)
		} else {
			out = append(out, i)
		}
	}
	switch len(in) {
	case 1:
		m.faces = append(m.faces, [3]int{m.cut(in[0], out[0]), m.cut(in[0], out[1]), m.cut(in[0], out[2])})
	case 2:
		a, b := m.cut(in[0], out[0]), m.cut(in[0], out[1])
		c, d := m.cut(in[1], out[0]), m.cut(in[1], out[1])
		m.faces = append(m.faces, [3]int{a, b, c}, [3]int{b, d, c})
	case 3:
		m.faces = append(m.faces, [3]int{m.cut(in[0], out[0]), m.cut(in[1], out[0]), m.cut(in[2], out[0])})
	}
}

// cut is the mesh corner on the edge from a grid point inside to one outside.
func (m *marcher) cut(in, out int) int {
	key := [2]int{in, out}
	if i, ok := m.corner[key]; ok {
		return i
	}
	t := m.field[in] / (m.field[in] - m.field[out])
	p := mix(m.at(in), m.at(out), t, 0)
	m.corner[key] = len(m.pts)
	m.pts = append(m.pts, p)
	m.normals = append(m.normals, m.of.slope(p))
	return len(m.pts) - 1
}
