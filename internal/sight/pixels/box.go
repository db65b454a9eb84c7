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
