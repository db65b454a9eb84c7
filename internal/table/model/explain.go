// SPDX-License-Identifier: Apache-2.0

package model

import "boardhand/internal/chess"

// Reaching finds at most two plies that lead from one position to another.
func Reaching(pos, want chess.Position) ([]chess.Move, bool) {
	if pos.Key() == want.Key() {
		return nil, true
	}
	for _, a := range pos.LegalMoves(nil) {
		one := pos.After(a)
		if one.Key() == want.Key() {
			return []chess.Move{a}, true
		}
		for _, b := range one.LegalMoves(nil) {
			if two := one.After(b); two.Key() == want.Key() {
				return []chess.Move{a, b}, true
			}
		}
	}
	return nil, false
}

// Alternatives are the moves that look like one by which side stands where: a
// pawn promoted to any kind, the queen first.
func Alternatives(m chess.Move) []chess.Move {
	if m.Promotion() == chess.NoKind {
		return []chess.Move{m}
	}
	var out []chess.Move
	for _, k := range [4]chess.Kind{chess.Queen, chess.Rook, chess.Bishop, chess.Knight} {
		out = append(out, chess.MakeMove(m.From(), m.To(), k))
	}
	return out
}
