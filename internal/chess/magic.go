// SPDX-License-Identifier: Apache-2.0

package chess

import "math/bits"

// magic finds a slider's squares from one square: the pieces on mask, times
// number, shifted right, index a part of the shared table.
type magic struct {
	mask   Bitboard
	number uint64
	offset uint32
	shift  uint8
}

// direction is a step on the board in files and ranks.
type direction struct{ file, rank int }

var (
	rookDirections   = []direction{{0, 1}, {1, 0}, {0, -1}, {-1, 0}}
	bishopDirections = []direction{{1, 1}, {1, -1}, {-1, -1}, {-1, 1}}
)

// The sizes of the tables: over the squares, the sum of 2 to the number of
// squares where a piece can block.
const (
	rookSlots   = 102400
	bishopSlots = 5248
)

var (
	rookMagics, rookTable     = magicTable(rookDirections, &rookNumbers, rookSlots)
	bishopMagics, bishopTable = magicTable(bishopDirections, &bishopNumbers, bishopSlots)
)

// magicTable fills the table of one kind of slider.
func magicTable(dirs []direction, numbers *[64]uint64, slots int) ([64]magic, []Bitboard) {
	var magics [64]magic
	table, offset := make([]Bitboard, slots), 0
	for s := range Square(64) {
		m := magic{mask: sliderMask(dirs, s), number: numbers[s], offset: uint32(offset)}
		m.shift = uint8(64 - m.mask.Count())
		for pieces := Bitboard(0); ; {
			table[offset+int(m.slot(pieces))] = walk(dirs, s, pieces)
			if pieces = (pieces - m.mask) & m.mask; pieces == 0 {
				break
			}
		}
		offset += 1 << m.mask.Count()
		magics[s] = m
	}
	return magics, table
}

// slot is the place in the square's own part of the table.
func (m *magic) slot(pieces Bitboard) uint64 {
	return uint64(pieces&m.mask) * m.number >> (m.shift & 63)
}

// walk collects the squares a slider on s reaches, step by step, up to and
// including the first piece in each direction.
func walk(dirs []direction, s Square, pieces Bitboard) Bitboard {
	var reached Bitboard
	for _, d := range dirs {
		for f, r := s.File()+d.file, s.Rank()+d.rank; f|r == f&7|r&7; f, r = f+d.file, r+d.rank {
			b := Bit(SquareAt(f, r))
			reached |= b
			if pieces&b != 0 {
				break
			}
		}
	}
	return reached
}

// sliderMask is where a piece can block a slider on s: the last square of each
// ray does not matter.
func sliderMask(dirs []direction, s Square) Bitboard {
	var mask Bitboard
	for _, d := range dirs {
		ray := walk([]direction{d}, s, 0)
		if ray == 0 {
			continue
		}
		last := Square(bits.TrailingZeros64(uint64(ray)))
		if d.rank > 0 || d.rank == 0 && d.file > 0 {
			last = Square(63 - bits.LeadingZeros64(uint64(ray)))
		}
		mask |= ray &^ Bit(last)
	}
	return mask
}

// rookAttacks is what a rook on s attacks when pieces stand on occupied.
func rookAttacks(s Square, occupied Bitboard) Bitboard {
	m := &rookMagics[s&63]
	return rookTable[uint64(m.offset)+m.slot(occupied)]
}

// bishopAttacks is what a bishop on s attacks when pieces stand on occupied.
func bishopAttacks(s Square, occupied Bitboard) Bitboard {
	m := &bishopMagics[s&63]
	return bishopTable[uint64(m.offset)+m.slot(occupied)]
}
