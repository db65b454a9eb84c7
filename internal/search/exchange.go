// SPDX-License-Identifier: Apache-2.0

package search

import "boardhand/internal/chess"

// worth is the plain value of a kind for exchanges, centipawns.
var worth = [7]int{0, 100, 320, 330, 500, 950, 10000}

// exchange says whether the legal move m, with the best exchanges after it on
// its square, gains at least threshold centipawns (static exchange evaluation).
func exchange(p *chess.Position, m chess.Move, threshold int) bool {
	taken, _ := p.Captured(m)
	balance := worth[taken.Kind()] - threshold
	next := p.At(m.From()).Kind()
	if k := m.Promotion(); k != chess.NoKind {
		balance += worth[k] - worth[chess.Pawn]
		next = k
	}
	if balance < 0 {
		return false
	}
	if balance -= worth[next]; balance >= 0 {
		return true // even if the piece is lost for nothing
	}
	return recapture(p, m, balance)
}

// recapture plays the exchange on, the cheapest piece first, and says whether the
// side that began comes out even or ahead.
func recapture(p *chess.Position, m chess.Move, balance int) bool {
	to, us := m.To(), p.SideToMove()
	occupied := p.Occupied()&^chess.Bit(m.From()) | chess.Bit(to)
	if _, at := p.Captured(m); at != to && at != chess.NoSquare {
		occupied &^= chess.Bit(at)
	}
	side := us.Other()
	for {
		attackers := p.Attackers(to, occupied) & occupied
		own := attackers & p.ByColor(side)
		if own == 0 {
			break
		}
		k := chess.Pawn
		for own&p.ByKind(k) == 0 {
			k++
		}
		if k == chess.King && attackers&p.ByColor(side.Other()) != 0 {
			break // the king may not take a defended piece
		}
		occupied &^= chess.Bit((own & p.ByKind(k)).First())
		side = side.Other()
		if balance = -balance - 1 - worth[k]; balance >= 0 {
			break
		}
	}
	return side != us
}
