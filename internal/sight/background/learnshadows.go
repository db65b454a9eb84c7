// SPDX-License-Identifier: Apache-2.0

package background

import (
	"boardhand/internal/chess"
	"boardhand/internal/sight/pixels"
	"boardhand/internal/sight/scene"
)

// CountShadows counts the shadows on the open board of a picture, after fading what
// was counted before to share keep.
func (m *Model) CountShadows(sc *scene.Scene, s *Shadows, p *pixels.Image, keep float32) {
	even := m.Even.Image
	var bySquare [64][]int32
	var open, dark [2]int // pixels on squares without and with a piece
	for i := range sc.Plane.Box.Each(p.W) {
		k := int(sc.Grounds[i])
		if k > scene.LightGround || sc.Stack.Open(int32(i)) < 0.98 || p.IsUntold(i) {
			continue
		}
		q := sc.SquareAt(i)
		by := 0
		if sc.Board[q] != chess.NoPiece {
			by = 1
		}
		open[by]++
		sigma := max(3*m.Even.Spread[i], 5*p.Noise[i])
		if d := p.L[i] - even.L[i]; d < -sigma || d > sigma {
			dark[by]++
			bySquare[q] = append(bySquare[q], int32(i))
		}
	}
	all := dark[0] + dark[1]
	if open[0]+open[1] == 0 {
		return
	}
	for k := range s.Counts {
		for i := range s.Counts[k] {
			s.Counts[k][i] *= keep
		}
	}
	s.Seen = s.Seen*keep + float32(all)
	for _, pixels := range bySquare {
		w := min(1, float32(shadowSquare*float64(all))/float32(max(1, len(pixels))))
		for _, i := range pixels {
			c := s.Cell(p.L[i]-even.L[i], p.A[i]-even.A[i], p.B[i]-even.B[i])
			s.Counts[sc.Grounds[i]][c] += w
		}
	}
	s.Share = float64(keep)*s.Share + (1-float64(keep))*max(0.05, min(0.4, float64(dark[1])/float64(max(1, open[1]))))
	s.Smooth()
}
