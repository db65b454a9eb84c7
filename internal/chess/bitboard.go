// SPDX-License-Identifier: Apache-2.0

package chess

import "math/bits"

// Bitboard is a set of squares: bit n is Square n.
type Bitboard uint64

// Some sets of squares.
const (
	fileA        Bitboard = 0x0101010101010101
	fileH        Bitboard = fileA << 7
	rank1        Bitboard = 0xff
	rank3        Bitboard = rank1 << 16
	rank6        Bitboard = rank1 << 40
	rank8        Bitboard = rank1 << 56
	darkSquares  Bitboard = 0xaa55aa55aa55aa55
	lightSquares          = ^darkSquares
)

// Bit is the set that holds only s.
func Bit(s Square) Bitboard { return 1 << (s & 63) }

// Has says whether s is in the set.
func (b Bitboard) Has(s Square) bool { return b>>(s&63)&1 != 0 }

// Count is the number of squares in the set.
func (b Bitboard) Count() int { return bits.OnesCount64(uint64(b)) }

// First is the lowest square of the set; NoSquare if it is empty.
func (b Bitboard) First() Square { return Square(bits.TrailingZeros64(uint64(b))) }

// several says whether the set holds more than one square.
func (b Bitboard) several() bool { return b&(b-1) != 0 }
