// SPDX-License-Identifier: Apache-2.0

package silhouette

import "slices"

// Layer is one of the pieces over a pixel.
type Layer struct {
	Alpha float32 // how surely it covers the pixel, 0–1
	Piece uint8   // in the order of Rebuild
	Band  uint8   // of its height
}

// Stack says which pieces cover each pixel, nearest first.
type Stack struct {
	Count   []uint8 // pieces over each pixel, at most depth
	Version int     // grows with each Rebuild
	first   []int32 // where each pixel's pieces begin
	over    []Layer
	open    []float32 // by pixel
}

// Rebuild piles some pieces on so many pixels, those nearest to the camera's base
// point first; covers lists the pixels of each. Its room is used again.
func (s *Stack) Rebuild(pixels, pieces int, covers func(k int) []Cover) {
	if len(s.Count) != pixels {
		*s = Stack{Count: make([]uint8, pixels), first: make([]int32, pixels), open: make([]float32, pixels), Version: s.Version}
	}
	s.Version++
	clear(s.Count)
	for k := range pieces {
		for _, c := range covers(k) {
			s.Count[c.Pixel] = min(depth, s.Count[c.Pixel]+1)
		}
	}
	all := 0
	for px, n := range s.Count {
		s.first[px] = int32(all)
		all += int(n)
	}
	s.over = slices.Grow(s.over[:0], all)[:all]
	clear(s.Count)
	for k := range pieces {
		for _, c := range covers(k) {
			if d := s.Count[c.Pixel]; d < depth {
				s.over[s.first[c.Pixel]+int32(d)] = Layer{Alpha: c.Alpha, Piece: uint8(k), Band: c.Band}
				s.Count[c.Pixel] = d + 1
			}
		}
	}
	s.openAll()
}

// openAll finds the clear view through the pieces over each pixel.
func (s *Stack) openAll() {
	for px, n := range s.Count {
		t := float32(1)
		if n > 0 {
			for _, o := range s.At(int32(px)) {
				t *= 1 - o.Alpha
			}
		}
		s.open[px] = t
	}
}

// Len is how many layers there are in all.
func (s *Stack) Len() int { return len(s.over) }

// Layers gives the pieces over a pixel, nearest first, and the number of the first of them
// among all layers.
func (s *Stack) Layers(px int32) (first int, over []Layer) {
	first = int(s.first[px])
	return first, s.over[first : first+int(s.Count[px])]
}

// At gives the pieces over a pixel, nearest first.
func (s *Stack) At(px int32) []Layer {
	return s.over[s.first[px] : s.first[px]+int32(s.Count[px])]
}

// Open is the clear view of the board through the pieces over a pixel, 0–1.
func (s *Stack) Open(px int32) float32 { return s.open[px] }
