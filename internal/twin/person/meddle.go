// SPDX-License-Identifier: Apache-2.0

package person

import (
	"strings"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/search"
	"boardhand/internal/twin/physics"
)

// Meddle has an early guest reach in while the carriage is about to run.
func (p *Person) Meddle() {
	if p.hasty == nil || p.habits.IsVisitor || len(p.script.beats) > 0 || p.hasty.Float64() >= earlyShare {
		return
	}
	p.pause(hastyMost*p.hasty.Float64(), 0)
	if p.hasty.Float64() < playShare && p.playEarly() {
		return
	}
	p.touch()
}

// touch takes one of the guest's own pieces and puts it down again on its
// square, carelessly.
func (p *Person) touch() {
	var own []chess.Square
	for s := chess.Square(0); s < chess.NoSquare; s++ {
		if b := p.find(s); b != nil && b.Piece.Color() == p.side {
			own = append(own, s)
		}
	}
	if len(own) == 0 {
		return
	}
	s := own[p.hasty.IntN(len(own))]
	p.fetch(func() *physics.Piece { return p.find(s) })
	at := p.table.Around(p.table.Centre(s), sloppySigma)
	p.place(func() (frame.Spot[frame.Board], float64) { return at, 0 }, p.table.Stand)
	p.withdraw()
}

// playEarly makes a quiet move of the guest's while it is the machine's turn.
func (p *Person) playEarly() bool {
	pos, ok := p.passed()
	if !ok || p.early != 0 {
		return false
	}
	m, err := search.Casual(search.Root{Position: pos}, p.hasty, skill)
	if err != nil {
		return false
	}
	if len(pos.Acts(m)) > 1 { // a quiet move is one act
		return false
	}
	p.early = m
	p.fetch(func() *physics.Piece { return p.find(m.From()) })
	p.toSquare(m.To())
	p.withdraw()
	return true
}

// passed is the game's position as if it were the guest's turn; false when it
// is, or when that would leave the machine's king in check.
func (p *Person) passed() (chess.Position, bool) {
	if p.game.SideToMove() == p.side || p.leaving {
		return chess.Position{}, false
	}
	f := strings.Fields(p.game.FEN())
	f[1] = map[chess.Color]string{chess.White: "w", chess.Black: "b"}[p.side]
	f[3] = "-"
	pos, err := chess.ParseFEN(strings.Join(f, " "))
	return pos, err == nil && len(pos.LegalMoves(nil)) > 0
}

// played says whether the guest's move was made early and still counts. One
// that has become illegal is put back.
func (p *Person) played() bool {
	m := p.early
	if p.early = 0; m == 0 {
		return false
	}
	if _, at := p.game.Captured(m); at == chess.NoSquare && p.game.Legal(m) {
		p.then(func() { p.made(m) })
		return true
	}
	p.fetch(func() *physics.Piece { return p.find(m.To()) })
	p.toSquare(m.From())
	p.withdraw()
	return false
}

// steal has a slot thief take a piece out of the tray, or stand it in another slot.
func (p *Person) steal() {
	if p.thief == nil || p.thief.Float64() >= thiefShare {
		return
	}
	var there []*physics.Piece
	for _, b := range p.table.Pieces {
		if p.table.IsTrayed(b) {
			there = append(there, b)
		}
	}
	if len(there) == 0 {
		return
	}
	b := there[p.thief.IntN(len(there))]
	keep := p.slot
	p.slot = nil
	if free := p.freeSlots(); len(free) > 0 && p.thief.Float64() < swapShare {
		p.slot = &free[p.thief.IntN(len(free))]
	}
	p.fetch(func() *physics.Piece { return b })
	p.offBoard()
	p.withdraw()
	p.slot = keep
}

// freeSlots are the tray slots in which nothing stands.
func (p *Person) freeSlots() (out []frame.Spot[frame.Board]) {
	for _, s := range p.table.Slots() {
		if p.inSlot(s) == nil {
			out = append(out, s)
		}
	}
	return out
}
