// SPDX-License-Identifier: Apache-2.0

package main

import (
	"fmt"

	"boardhand/internal/chess"
)

// drawPlain replaces the pieces by solids of school geometry: kinds are told
// by height and shape only.
func (m *piecesSet) drawPlain(d dice) {
	slant := d.in(25, 45)
	for _, k := range kinds {
		s := m.of[k]
		w := carver{d: d, r: s.base / 2, h: s.height}
		s.rings, s.hull = nil, []ring{round(0, 1), round(1, 1), round(1, 0.001)}
		switch k {
		case chess.King:
			s.trim = w.pillar(0.8) + w.roof(0.8)
			s.hull = []ring{round(0, 1), round(0.8, 1), round(1, 0.001)}
		case chess.Queen:
			s.trim = w.drum(0, 0.84, 1) + w.dome(0.84)
		case chess.Bishop:
			s.trim = fmt.Sprintf("cone{0,%.3f,z*%.3f,%.3f}\n", w.r, w.h, w.r*0.06)
			s.hull = []ring{round(0, 1), round(1, 0.06), round(1, 0.001)}
		case chess.Knight:
			s.trim = fmt.Sprintf("difference{cylinder{0,z*%.3f,%.3f} plane{-z,0 rotate x*%.1f translate z*%.3f}}\n", w.h, w.r, -slant, 0.75*w.h)
		case chess.Rook:
			s.trim = w.pillar(1)
		case chess.Pawn:
			s.trim = w.drum(0, 0.55, 1) + w.dome(0.55)
		}
		m.of[k] = s
	}
}

// pillar is a square block up to a share of the height.
func (w carver) pillar(top float64) string {
	a := w.r * 0.75
	return fmt.Sprintf("box{<%.3f,%.3f,0><%.3f,%.3f,%.3f>}\n", -a, -a, a, a, top*w.h)
}

// roof is a pyramid from a share of the height to the top.
func (w carver) roof(from float64) string {
	a, low, top := w.r*0.75, from*w.h, w.h
	return fmt.Sprintf("intersection{box{<%.3f,%.3f,%.3f><%.3f,%.3f,%.3f>} cone{z*%.3f,%.3f,z*%.3f,0}}\n", -a, -a, low, a, a, top, low, a*1.41, top)
}

// drum is a cylinder between two shares of the height.
func (w carver) drum(from, to, wide float64) string {
	return fmt.Sprintf("cylinder{z*%.3f,z*%.3f,%.3f}\n", from*w.h, to*w.h, wide*w.r)
}

// dome is a half ball, stretched from a share of the height to the top.
func (w carver) dome(from float64) string {
	return fmt.Sprintf("sphere{0,1 scale <%.3f,%.3f,%.3f> translate z*%.3f}\n", w.r, w.r, (1-from)*w.h, from*w.h)
}
