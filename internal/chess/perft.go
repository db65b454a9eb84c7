// SPDX-License-Identifier: Apache-2.0

package chess

// Perft counts the leaves of the tree of legal moves of the given depth. The
// last ply is counted by the length of its move list, without making the moves.
func (p *Position) Perft(depth int) uint64 {
	if depth <= 0 {
		return 1
	}
	var buf [256]Move
	moves := p.LegalMoves(buf[:0])
	if depth == 1 {
		return uint64(len(moves))
	}
	var n uint64
	for _, m := range moves {
		u := p.Make(m)
		n += p.Perft(depth - 1)
		p.Unmake(m, u)
	}
	return n
}
