// SPDX-License-Identifier: Apache-2.0

package person

import (
	"slices"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/twin/physics"
)

// Memory is what the guest remembers of the game and is about to do.
type Memory struct {
	Game   string                  `json:"game"`   // FEN
	Before string                  `json:"before"` // FEN, before Last
	Last   chess.Move              `json:"last"`
	Intent chess.Move              `json:"intent"`
	Early  chess.Move              `json:"early"`
	Holds  int                     `json:"holds"` // index of a piece; −1: none
	From   frame.Spot[frame.Board] `json:"from"`  // where it was taken from
	FromZ  float64                 `json:"from_z"`
}

// Memory copies what the person knows and holds.
func (p *Person) Memory() Memory {
	return Memory{Game: p.game.FEN(), Before: p.before.FEN(), Last: p.last, Intent: p.intent, Early: p.early,
		Holds: slices.Index(p.table.Pieces, p.hand.Holds), From: p.hand.from, FromZ: p.hand.fromZ}
}

// Played is the last legal move that the person has finished; 0: none.
func (p *Person) Played() chess.Move { return p.last }

// Early is the move that the person has played on the board before its turn; 0: none.
func (p *Person) Early() chess.Move { return p.early }

// ShelfOf is a piece's place beside the board; −1: none.
func (p *Person) ShelfOf(b *physics.Piece) int {
	if n, ok := p.stood[b]; ok {
		return n
	}
	return -1
}

// Remember gives the guest back what they knew and held. A move they were at
// is finished; another piece in the hand goes back to where it was taken from.
// The machine's word for the game counts where the two differ. shelves are the
// places beside the board of the table's pieces, −1: none.
func (p *Person) Remember(g Memory, shelves []int, pos chess.Position) {
	for i, n := range shelves {
		if n >= 0 {
			p.stood[p.table.Pieces[i]] = n
		}
	}
	if g.Holds >= 0 {
		b := p.table.Pieces[g.Holds]
		p.hand.Holds, p.hand.from, p.hand.fromZ = b, g.From, g.FromZ
		p.hand.Tip = b.At.At(b.Z + gripHeight*b.Height)
		p.hand.IsOut = true
	}
	before, err := chess.ParseFEN(g.Before)
	game, err2 := chess.ParseFEN(g.Game)
	switch {
	case err != nil || err2 != nil:
	case g.Last != 0 && before.Key() == pos.Key() && pos.Legal(g.Last) && game.SideToMove() != p.side:
		p.made(g.Last) // it stands there; the machine has not seen it
	case g.Intent != 0 && game.Key() == pos.Key() && pos.Legal(g.Intent):
		p.finish(g.Intent)
		return
	case g.Early != 0 && game.Key() == pos.Key():
		p.early = g.Early
	}
	if p.hand.Holds != nil {
		p.putBack()
	}
}

// finish makes what is left of a move.
func (p *Person) finish(m chess.Move) {
	p.intent, p.Owes = m, true
	p.arrange(p.game.After(m))
	p.then(func() { p.made(m) })
}

// putBack puts the piece in the hand down where it was taken from.
func (p *Person) putBack() {
	at, z := p.hand.from, p.hand.fromZ
	p.place(func() (frame.Spot[frame.Board], float64) { return at, z }, func(b *physics.Piece) {
		if z < 0 {
			b.Place = physics.Beside
			return
		}
		p.table.Stand(b)
	})
	p.withdraw()
}
