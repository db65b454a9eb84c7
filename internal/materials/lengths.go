// SPDX-License-Identifier: Apache-2.0

package materials

import (
	"fmt"
	"math"

	"boardhand/internal/assess"
	"boardhand/internal/propose"
	"boardhand/internal/unit"
)

// spareOf is how many of n small parts come on top.
func spareOf(n int) int { return assess.Spare(n) }

// cutKind is a kind of part that is sold by its length.
type cutKind struct {
	name, of string
	sizes    []unit.Length
	joined   bool // rows may be cut from one piece
	parts    func(*propose.Stock) []propose.Length
	is       func(propose.Length) unit.Length // what must agree
}

var (
	belts = cutKind{"belt", "pitch", beltSizes, true, func(s *propose.Stock) []propose.Length { return s.Belts }, func(l propose.Length) unit.Length { return l.Pitch }}

	screws = cutKind{"screw", "lead", screwSizes, false, func(s *propose.Stock) []propose.Length { return s.Screws }, func(l propose.Length) unit.Length { return l.Lead }}
)

// cutLine is a line of pieces of one length.
type cutLine struct {
	Line
	length unit.Length
	pieces int
}

// pieces is how many of a length rows of a need take; 0 where it is too short.
func (k cutKind) pieces(need, length unit.Length, rows int) int {
	each := int(math.Floor(float64(length/need) + 1e-9))
	switch {
	case each < 1:
		return 0
	case !k.joined:
		return rows
	}
	return (rows + each - 1) / each
}

// byLength chooses, for rows of a need, the stock's pieces of which least is to be
// bought, or a common length.
func (b *builder) byLength(k cutKind, is, need unit.Length, rows int) cutLine {
	best, at, bought := cutLine{}, -1, 0.0
	for i, p := range k.parts(b.stock) {
		n := k.pieces(need, p.Length, rows)
		if n == 0 || !alike(k.is(p), is) {
			continue
		}
		buy := float64(max(0, n-b.free(k.name, i, p.Owned))) * float64(p.Length)
		if at < 0 || buy < bought || buy == bought && p.Length < best.length {
			at, bought = i, buy
			best = cutLine{Line{Need: n, Price: p.Price, Mass: p.Mass}, p.Length, n}
		}
	}
	if at >= 0 {
		best.Owned = b.take(k.name, at, k.parts(b.stock)[at].Owned, best.Need)
	} else {
		best = b.common(k, need, rows)
		b.note("no %s of %s %s and at least %.0f mm is in the stock: a common length, %s, is taken", k.name, k.of, is, math.Ceil(need.MM()), best.length)
	}
	best.List, best.Name = InDrives, fmt.Sprintf("%s, %s %s, %s", k.name, k.of, is, best.length)
	return best
}

// common is the common length of which the least is bought; beyond all of them, the
// need in whole steps of 100 mm.
func (b *builder) common(k cutKind, need unit.Length, rows int) cutLine {
	long := unit.MM(100 * math.Ceil(need.MM()/100-1e-9))
	best, found := cutLine{Line{Need: rows}, long, rows}, false
	for _, size := range k.sizes {
		n := k.pieces(need, size, rows)
		if n > 0 && (!found || unit.Length(n)*size < unit.Length(best.pieces)*best.length) {
			best, found = cutLine{Line{Need: n}, size, n}, true
		}
	}
	return best
}
