// SPDX-License-Identifier: Apache-2.0

package bringup

import (
	"math"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/rig"
)

// stop is a place to which the piece is dragged along one axis.
type stop struct {
	at   frame.Spot[frame.Board]
	axis int // 0: x moves, 1: y moves
}

// pattern is the ways over squares on which a piece shows plainly: rows and columns, up
// and down, so that each axis is seen from both its sides and dragged both ways. Each round
// has other places on them.
func pattern(r *rig.Rig, dark bool, round int) (out []stop) {
	for pass := range 4 {
		lines := grid(r, dark, pass%2)
		isBack := pass >= 2
		out = append(out, serpentine(lines, pass%2, isBack, 4*round+pass)...)
	}
	return out
}

// grid is every second file and rank, of light squares for a dark piece: coordinates of
// the files and of the ranks. Two such grids make up all squares of a colour.
func grid(r *rig.Rig, dark bool, which int) [2][]float64 {
	var out [2][]float64
	odd := which
	for k := odd; k < r.Board.Files; k += 2 {
		out[0] = append(out[0], r.Board.Centre(k, 0).X)
	}
	if dark { // file and rank of a light square differ by an odd number
		odd = 1 - odd
	}
	for k := odd; k < r.Board.Ranks; k += 2 {
		out[1] = append(out[1], r.Board.Centre(0, k).Y)
	}
	return out
}

// serpentine runs along one axis, steps along the other and runs back; it is one of several.
func serpentine(lines [2][]float64, along int, isBack bool, turn int) (out []stop) {
	across := 1 - along
	spot := func(a, b float64) frame.Spot[frame.Board] {
		if along == 0 {
			return frame.Spot[frame.Board]{X: a, Y: b}
		}
		return frame.Spot[frame.Board]{X: b, Y: a}
	}
	n, m := len(lines[along]), len(lines[across])
	for j := range m {
		row := j
		if isBack {
			row = m - 1 - j
		}
		for i := range n {
			col, axis := i, along
			if j%2 == 1 {
				col = n - 1 - i
			}
			if i == 0 {
				axis = across
			}
			at := lines[along][col]
			if i > 0 {
				_, part := math.Modf(golden * float64(turn*n*m+len(out)))
				at += strew * (2*part - 1)
			}
			out = append(out, stop{spot(at, lines[across][row]), axis})
		}
	}
	return out
}

// startSquare is a square near the middle on which a piece shows plainly.
func startSquare(r *rig.Rig, dark bool) chess.Square {
	f, k := r.Board.Files/2-1, r.Board.Ranks/2-1 // d4, a dark one
	if dark {
		k++
	}
	return chess.Square(8*k + f)
}
