// SPDX-License-Identifier: Apache-2.0

package pixels

import "iter"

// Flood visits what is connected with some starts, each of them once. Around lists the
// neighbours of a place; take says whether a place belongs and has not been taken before,
// and takes it. The starts count as taken. It ends early when visit says false.
func Flood(starts []int, around func(int) iter.Seq[int], take func(int) bool, visit func(int) bool) {
	queue := starts
	for len(queue) > 0 {
		i := queue[len(queue)-1]
		queue = queue[:len(queue)-1]
		if !visit(i) {
			return
		}
		for k := range around(i) {
			if take(k) {
				queue = append(queue, k)
			}
		}
	}
}

// Around lists the places no farther than a gap from one, itself among them, row by row,
// in an image w wide and h high.
func Around(i, gap, w, h int) iter.Seq[int] {
	x, y := i%w, i/w
	return Box{X0: max(0, x-gap), Y0: max(0, y-gap), X1: min(w, x+gap+1), Y1: min(h, y+gap+1)}.Each(w)
}

// Solid keeps the marked pixels of a box most of whose neighbours are marked too, in an
// image w wide: edges and glints are thin, hands and pieces are not.
func Solid(marked []bool, w int, b Box) []bool {
	out := make([]bool, len(marked))
	for y := b.Y0 + 1; y < b.Y1-1; y++ {
		for x := b.X0 + 1; x < b.X1-1; x++ {
			n, i := 0, y*w+x
			for _, k := range [9]int{i - w - 1, i - w, i - w + 1, i - 1, i, i + 1, i + w - 1, i + w, i + w + 1} {
				if marked[k] {
					n++
				}
			}
			out[i] = n >= SolidFrom
		}
	}
	return out
}
