// SPDX-License-Identifier: Apache-2.0

package pixels

import (
	"image"
	"image/draw"
	"math"
)

// taps is which pixels of a row or column go into each pixel of the image, with
// what shares: the same number from the first on for all, some shares 0.
type taps struct {
	n      int // pixels each
	first  []int32
	shares []float32 // n each
}

// cut cuts pixels into as many blocks, each reduce pixels wide; every pixel
// counts for weight.
func cut(blocks int, reduce, weight float64) taps {
	const least = 1e-6 // of a pixel: less is rounding, and may lie beyond the last
	n := int(math.Ceil(reduce)) + 1
	t := taps{n: n, first: make([]int32, blocks), shares: make([]float32, n*blocks)}
	for k := range blocks {
		top, end := float64(k)*reduce, float64(k+1)*reduce
		t.first[k] = int32(top)
		for j := range n {
			x := math.Floor(top) + float64(j)
			if share := math.Min(end, x+1) - math.Max(top, x); share > least {
				t.shares[k*n+j] = float32(weight * share)
			}
		}
	}
	return t
}

// across sums a row's pixels to blocks; of three and four, as most reductions have, in one go.
func (t *taps) across(to, row []float32) {
	switch t.n {
	case 3:
		for k, x := range t.first[:len(to)] {
			s, p := t.shares[3*k:][:3], row[x:][:3]
			to[k] = s[0]*p[0] + s[1]*p[1] + s[2]*p[2]
		}
		return
	case 4:
		for k, x := range t.first[:len(to)] {
			s, p := t.shares[4*k:][:4], row[x:][:4]
			to[k] = s[0]*p[0] + s[1]*p[1] + s[2]*p[2] + s[3]*p[3]
		}
		return
	}
	for k, x := range t.first[:len(to)] {
		shares, pixels := t.shares[k*t.n:][:t.n], row[x:][:t.n]
		v := float32(0)
		for j, share := range shares {
			v += share * pixels[j]
		}
		to[k] = v
	}
}

// reducer sums the blocks of a picture, first down its columns, then across.
type reducer struct {
	img  image.Image
	down taps
	cuts [3]taps      // by plane
	sums [3][]float32 // of columns: red, green, blue, or brightness and both colour differences
	rows [3][][]uint8 // being summed
	out  [3][]float32 // of blocks: red, green, blue, 0–255 a pixel
	grey float32      // a colour difference of none, summed over a block
}

func newReducer(img image.Image, reduce float64) *reducer {
	b := img.Bounds()
	w, h := int(float64(b.Dx())/reduce), int(float64(b.Dy())/reduce)
	s := &reducer{img: img, down: cut(h, reduce, 1), grey: float32(128 * reduce * reduce)}
	s.cuts[0] = cut(w, reduce, 1)
	s.cuts[1], s.cuts[2] = s.cuts[0], s.cuts[0]
	switch m := img.(type) {
	case *image.RGBA, *image.NRGBA:
	case *image.YCbCr:
		switch r := m.SubsampleRatio; {
		case b.Min.X%2 == 0 && (r == image.YCbCrSubsampleRatio420 || r == image.YCbCrSubsampleRatio422):
			s.cuts[1] = cut(w, reduce/2, 2)
			s.cuts[2] = s.cuts[1]
		case r != image.YCbCrSubsampleRatio444 && r != image.YCbCrSubsampleRatio440:
			s.img = packed(img)
		}
	default:
		s.img = packed(img)
	}
	for c := range s.sums {
		s.sums[c], s.out[c] = make([]float32, b.Dx()+s.cuts[c].n), make([]float32, w)
	}
	return s
}

// packed is the slow way, for whatever else an image may be.
func packed(img image.Image) image.Image {
	b := img.Bounds()
	to := image.NewNRGBA(image.Rect(0, 0, b.Dx(), b.Dy()))
	draw.Draw(to, to.Rect, img, b.Min, draw.Src)
	return to
}

// row sums the blocks of a row; the result holds until the next call.
func (s *reducer) row(k int) *[3][]float32 {
	shares, first := s.down.shares[k*s.down.n:(k+1)*s.down.n], s.img.Bounds().Min.Y+int(s.down.first[k])
	last := len(shares)
	for shares[last-1] == 0 {
		last--
	}
	switch m := s.img.(type) {
	case *image.YCbCr:
		s.planes(m, first, shares[:last])
	case *image.RGBA:
		s.packed(m.Pix, m.Stride, first-m.Rect.Min.Y, shares[:last])
	case *image.NRGBA:
		s.packed(m.Pix, m.Stride, first-m.Rect.Min.Y, shares[:last])
	}
	for c := range s.sums {
		s.cuts[c].across(s.out[c], s.sums[c])
	}
	if _, ok := s.img.(*image.YCbCr); ok {
		s.convert()
	}
	return &s.out
}

// packed sums rows of red, green, blue, alpha bytes, from row y on, by their shares.
func (s *reducer) packed(pix []uint8, stride, y int, shares []float32) {
	for c, to := range s.sums {
		for x := range s.img.Bounds().Dx() {
			v := float32(0)
			for j, share := range shares {
				v += share * float32(pix[(y+j)*stride+4*x+c])
			}
			to[x] = v
		}
	}
}

// planes sums rows of brightness and colour differences, from row y on, by their shares.
func (s *reducer) planes(m *image.YCbCr, y int, shares []float32) {
	for c := range s.rows {
		s.rows[c] = s.rows[c][:0]
	}
	for j := range shares {
		at, end := m.COffset(m.Rect.Min.X, y+j), m.COffset(m.Rect.Max.X-1, y+j)+1
		s.rows[0] = append(s.rows[0], m.Y[m.YOffset(m.Rect.Min.X, y+j):][:m.Rect.Dx()])
		s.rows[1], s.rows[2] = append(s.rows[1], m.Cb[at:end]), append(s.rows[2], m.Cr[at:end])
	}
	for c, rows := range s.rows {
		addRows(s.sums[c], rows, shares)
	}
}

// addRows writes the sum of rows by their shares; of three and four, as most reductions
// have, in one go.
func addRows(to []float32, rows [][]uint8, shares []float32) {
	a := rows[0]
	to = to[:len(a)]
	switch len(rows) {
	case 3:
		b, c, p, q, r := rows[1][:len(a)], rows[2][:len(a)], shares[0], shares[1], shares[2]
		for x, v := range a {
			to[x] = p*float32(v) + q*float32(b[x]) + r*float32(c[x])
		}
	case 4:
		b, c, d := rows[1][:len(a)], rows[2][:len(a)], rows[3][:len(a)]
		p, q, r, s := shares[0], shares[1], shares[2], shares[3]
		for x, v := range a {
			to[x] = p*float32(v) + q*float32(b[x]) + r*float32(c[x]) + s*float32(d[x])
		}
	default:
		for x, v := range a {
			to[x] = shares[0] * float32(v)
		}
		for j, row := range rows[1:] {
			share := shares[j+1]
			for x, v := range row {
				to[x] += share * float32(v)
			}
		}
	}
}

// convert turns sums of brightness and colour differences into colours (ITU-T
// T.871, the JFIF conversion).
func (s *reducer) convert() {
	red, green, blue := s.out[0], s.out[1], s.out[2]
	for x, v := range red {
		cb, cr := green[x]-s.grey, blue[x]-s.grey
		red[x] = v + 1.402*cr
		green[x] = v - 0.344136*cb - 0.714136*cr
		blue[x] = v + 1.772*cb
	}
}
