// SPDX-License-Identifier: Apache-2.0

package diagnosis

import (
	"cmp"
	"math"
	"slices"
)

// Detection is a piece in a picture of which only the side is known.
type Detection struct {
	Side string // "white" or "black"
	Sighting
}

// Match says which of the pieces seen is which of those that stood there before:
// who still stands where it stood stays who it is, then who was carried is looked
// for where it was to go (goals), and of the others the nearest of a side belong
// together. square is the side of a square, m. A piece that is not seen is not
// in the answer.
func Match(square float64, before Scene, goals map[Piece]Spot, seen []Detection) Scene {
	aims := Scene{}
	for p, at := range goals {
		aims[p] = Sighting{At: at}
	}
	out, isTaken := Scene{}, make([]bool, len(seen))
	for _, round := range []struct {
		from   Scene
		within float64
	}{{before, still * square}, {aims, still * square}, {before, math.Inf(1)}} {
		for _, p := range pairs(round.from, seen) {
			if _, has := out[p.piece]; !has && !isTaken[p.seen] && p.apart < round.within {
				out[p.piece], isTaken[p.seen] = seen[p.seen].Sighting, true
			}
		}
	}
	return out
}

// pair is a piece of before with one seen of its side.
type pair struct {
	piece Piece
	seen  int
	apart float64 // m
}

// pairs lists all of them, the nearest first.
func pairs(before Scene, seen []Detection) (out []pair) {
	for p, was := range before {
		for i, d := range seen {
			if d.Side == p.Side {
				out = append(out, pair{p, i, d.At.Distance(was.At)})
			}
		}
	}
	slices.SortFunc(out, func(a, b pair) int {
		return cmp.Or(cmp.Compare(a.apart, b.apart), cmp.Compare(a.piece.ID, b.piece.ID), cmp.Compare(a.seen, b.seen))
	})
	return out
}
