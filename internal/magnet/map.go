// SPDX-License-Identifier: Apache-2.0

package magnet

import (
	"errors"
	"fmt"
	"math"

	"boardhand/internal/unit"
)

// MapRange is the part of space a Map covers. Counts left at zero become 60
// gaps and 200 offsets.
type MapRange struct {
	GapFrom, GapTo unit.Length
	OffsetTo       unit.Length
	Gaps, Offsets  int
}

// ErrFar says the offset is beyond the map: the force there was not computed.
var ErrFar = errors.New("offset is beyond the force map; build the map with a larger OffsetTo")

// ErrGap says the gap is outside the map.
var ErrGap = errors.New("gap is outside the force map; build the map with other GapFrom and GapTo")

// node holds both pulls at one place of the table with their slopes over the
// row and column numbers: value, over offset, over gap, over both.
type node struct{ axial, lateral [4]float64 }

// Map is a table of pulls over gap and offset with smooth interpolation
// (bicubic, continuous slopes). Rows are even steps of ln(gap + bend), columns
// even steps of asinh(offset/bend): fine where the force changes fast.
type Map struct {
	r          MapRange
	bend       float64
	rowZero    float64 // ln(GapFrom + bend)
	rowScale   float64
	colScale   float64
	node       []node // row after row
	deviation  float64
	relativeTo float64
}

// NewMap computes the table. Accuracy of the interpolation: Deviation.
func NewMap(lower, upper Cylinder, r MapRange) (*Map, error) {
	r, err := r.filled()
	if err != nil {
		return nil, err
	}
	if err := checkPlace(lower, upper, r.GapFrom, r.OffsetTo); err != nil {
		return nil, err
	}
	if err := checkPlace(lower, upper, r.GapTo, 0); err != nil {
		return nil, err
	}
	m := &Map{r: r, bend: (lower.Radius() + upper.Radius()) / 3}
	m.rowZero = math.Log(float64(r.GapFrom) + m.bend)
	m.rowScale = float64(r.Gaps-1) / (math.Log(float64(r.GapTo)+m.bend) - m.rowZero)
	m.colScale = float64(r.Offsets-1) / math.Asinh(float64(r.OffsetTo)/m.bend)
	m.fill(lower, upper)
	m.slopes()
	m.measure(lower, upper)
	return m, nil
}

func (r MapRange) filled() (MapRange, error) {
	if r.Gaps == 0 {
		r.Gaps = usualGaps
	}
	if r.Offsets == 0 {
		r.Offsets = usualOffsets
	}
	if min(r.Gaps, r.Offsets) < fewest || max(r.Gaps, r.Offsets) > mostCount {
		return r, fmt.Errorf("a force map needs %d–%d gaps and offsets; got %d × %d", fewest, mostCount, r.Gaps, r.Offsets)
	}
	if !(r.GapTo > r.GapFrom) || !(r.OffsetTo > 0) {
		return r, fmt.Errorf("a force map needs GapTo over GapFrom and OffsetTo over 0; got gaps %v to %v, offsets to %v",
			r.GapFrom, r.GapTo, r.OffsetTo)
	}
	return r, nil
}

// gapAt and offsetAt give the place of a row or column, which may be a fraction.
func (m *Map) gapAt(row float64) float64    { return math.Exp(m.rowZero+row/m.rowScale) - m.bend }
func (m *Map) offsetAt(col float64) float64 { return m.bend * math.Sinh(col/m.colScale) }

func (m *Map) fill(lower, upper Cylinder) {
	m.node = make([]node, m.r.Gaps*m.r.Offsets)
	for row := range m.r.Gaps {
		g := m.gapAt(float64(row))
		p := stacked(lower, upper, g)
		for col := range m.r.Offsets {
			out, up := p.pull(m.offsetAt(float64(col)), g)
			n := &m.node[row*m.r.Offsets+col]
			n.axial[0], n.lateral[0] = -up, -out
		}
	}
}

// slopes fills the differences: along rows with the mirror symmetry of the
// axis (axial even, lateral odd), along columns one-sided at the ends.
func (m *Map) slopes() {
	cols := m.r.Offsets
	for row := range m.r.Gaps {
		line := m.node[row*cols : (row+1)*cols]
		for c := range line {
			line[c].axial[1] = slope(c, cols, func(k int) float64 { return line[max(k, -k)].axial[0] }, true)
			line[c].lateral[1] = slope(c, cols, func(k int) float64 {
				if k < 0 {
					return -line[-k].lateral[0]
				}
				return line[k].lateral[0]
			}, true)
		}
	}
	for c := range cols {
		for row := range m.r.Gaps {
			n := &m.node[row*cols+c]
			for j := range 2 {
				n.axial[2+j] = slope(row, m.r.Gaps, func(k int) float64 { return m.node[k*cols+c].axial[j] }, false)
				n.lateral[2+j] = slope(row, m.r.Gaps, func(k int) float64 { return m.node[k*cols+c].lateral[j] }, false)
			}
		}
	}
}

// slope is the fourth-order difference of f at k out of n places; mirrored
// allows f to be asked for two places below zero.
func slope(k, n int, f func(int) float64, mirrored bool) float64 {
	switch {
	case k > n-3:
		return -edge(n-1-k, func(i int) float64 { return f(n - 1 - i) })
	case k < 2 && !mirrored:
		return edge(k, f)
	}
	return (f(k-2) - 8*f(k-1) + 8*f(k+1) - f(k+2)) / 12
}

// edge is the fourth-order difference at place 0 or 1 from places 0 to 4.
func edge(k int, f func(int) float64) float64 {
	if k == 0 {
		return (-25*f(0) + 48*f(1) - 36*f(2) + 16*f(3) - 3*f(4)) / 12
	}
	return (-3*f(0) - 10*f(1) + 18*f(2) - 6*f(3) + f(4)) / 12
}

// At interpolates the pull at a gap and an offset in metres. It returns ErrGap
// or ErrFar outside the map, and never allocates.
func (m *Map) At(gap, offset float64) (Pull, error) {
	row := (math.Log(gap+m.bend) - m.rowZero) * m.rowScale
	if !(row >= -roundingRow && row <= float64(m.r.Gaps-1)+roundingRow) {
		return Pull{}, ErrGap
	}
	away := math.Abs(offset)
	q := away / m.bend
	col := math.Log(q+math.Sqrt(q*q+1)) * m.colScale
	if !(col <= float64(m.r.Offsets-1)+roundingRow) {
		return Pull{}, ErrFar
	}
	i := min(max(int(row), 0), m.r.Gaps-2)
	j := min(int(col), m.r.Offsets-2)
	p := m.blend(i*m.r.Offsets+j, hermite(row-float64(i)), hermite(col-float64(j)))
	if offset < 0 {
		p.Lateral = -p.Lateral
	}
	return p, nil
}

// hermite gives the four cubic weights: value and slope at 0, value and slope at 1.
func hermite(t float64) [4]float64 {
	s := t * t
	c := s * t
	return [4]float64{2*c - 3*s + 1, c - 2*s + t, 3*s - 2*c, c - s}
}

// blend mixes the four corners of a cell; g weighs over gap, x over offset.
func (m *Map) blend(at int, g, x [4]float64) Pull {
	a, b := &m.node[at], &m.node[at+1]
	c, d := &m.node[at+m.r.Offsets], &m.node[at+m.r.Offsets+1]
	return Pull{
		Axial: g[0]*line(&a.axial, &b.axial, 0, &x) + g[1]*line(&a.axial, &b.axial, 2, &x) +
			g[2]*line(&c.axial, &d.axial, 0, &x) + g[3]*line(&c.axial, &d.axial, 2, &x),
		Lateral: g[0]*line(&a.lateral, &b.lateral, 0, &x) + g[1]*line(&a.lateral, &b.lateral, 2, &x) +
			g[2]*line(&c.lateral, &d.lateral, 0, &x) + g[3]*line(&c.lateral, &d.lateral, 2, &x),
	}
}

func line(a, b *[4]float64, k int, x *[4]float64) float64 {
	return a[k]*x[0] + a[k+1]*x[1] + b[k]*x[2] + b[k+1]*x[3]
}

// measure compares the middle of cells, where the error is largest, with the
// full integral.
func (m *Map) measure(lower, upper Cylinder) {
	for row := 0.5; row < float64(m.r.Gaps-1); row += float64(max(1, m.r.Gaps/measureRows)) {
		g := m.gapAt(row)
		p := stacked(lower, upper, g)
		for col := 0.5; col < float64(m.r.Offsets-1); col += float64(max(1, m.r.Offsets/measureCols/4)) {
			x := m.offsetAt(col)
			out, up := p.pull(x, g)
			got, err := m.At(g, x)
			if err != nil {
				continue
			}
			m.deviation = max(m.deviation, math.Abs(got.Axial+up), math.Abs(got.Lateral+out))
			m.relativeTo = max(m.relativeTo, math.Abs(up), math.Abs(out))
		}
	}
}

// Deviation is the largest difference between the map and the full integral
// found in the middle of cells, newtons, and the same as a share of the
// largest pull in the map.
func (m *Map) Deviation() (newton, share float64) {
	if m.relativeTo == 0 {
		return m.deviation, 0
	}
	return m.deviation, m.deviation / m.relativeTo
}

// Scaled is the map of the same two discs at other remanences: all pulls go with their
// product. share is the new product over the old one, positive.
func (m *Map) Scaled(share float64) *Map {
	out := *m
	out.node = make([]node, len(m.node))
	for i, n := range m.node {
		for k := range n.axial {
			out.node[i].axial[k], out.node[i].lateral[k] = share*n.axial[k], share*n.lateral[k]
		}
	}
	out.deviation, out.relativeTo = share*m.deviation, share*m.relativeTo
	return &out
}

// Range is what the map covers.
func (m *Map) Range() MapRange { return m.r }
