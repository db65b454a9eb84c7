// SPDX-License-Identifier: Apache-2.0

package pixels

// Box is a rectangle of pixels, the upper ends excluded.
type Box struct{ X0, Y0, X1, Y1 int }

// Each lists the pixels of a box on an image w wide.
func (b Box) Each(w int) func(func(int) bool) {
	return func(yield func(int) bool) {
		for y := b.Y0; y < b.Y1; y++ {
			for i := y*w + b.X0; i < y*w+b.X1; i++ {
				if !yield(i) {
					return
				}
			}
		}
	}
}

// Has says whether a pixel lies in the box.
func (b Box) Has(x, y int) bool { return x >= b.X0 && x < b.X1 && y >= b.Y0 && y < b.Y1 }

// Meets says whether two boxes share a pixel.
func (b Box) Meets(o Box) bool { return b.X0 < o.X1 && o.X0 < b.X1 && b.Y0 < o.Y1 && o.Y0 < b.Y1 }

// With is the box that holds two.
func (b Box) With(o Box) Box {
	return Box{min(b.X0, o.X0), min(b.Y0, o.Y0), max(b.X1, o.X1), max(b.Y1, o.Y1)}
}
