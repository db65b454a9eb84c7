// SPDX-License-Identifier: Apache-2.0

package person

import (
	"context"
	"fmt"
	"math/rand/v2"
	"slices"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/notice"
	"boardhand/internal/search"
	"boardhand/internal/twin/physics"
)

// Person is the guest: knows the rules, thinks, and moves pieces by hand.
type Person struct {
	doer
	side    chess.Color
	game    chess.Position
	Owes    bool                     // it is the guest's turn and the move is not made yet
	last    chess.Move               // last finished legal move
	before  chess.Position           // the position in which last was played
	mending string                   // FEN that the guest was last asked to set
	doing   string                   // the request that the hand is at work on
	leaving bool                     // moves are being taken back, or the game is over
	asked   bool                     // the last that was heard is that it is the guest's move
	waited  int                      // pictures since the move stands there and nothing was heard
	refused int                      // how often in a row the machine did not take a legal move
	again   int                      // how often in a row it asked for what is done
	tried   int                      // how often in a row the person has done what it asks for
	says    *Saying                  // what the guest wants to say
	intent  chess.Move               // the move that the hand is about to make or at
	early   chess.Move               // made before it was the guest's turn
	hasty   *rand.Rand               // of an early guest; nil: waits
	thief   *rand.Rand               // of a slot thief; nil: leaves the tray alone
	offer   *frame.Spot[frame.Board] // to a visitor: the slot for a piece they take
}

// New seats a person opposite the machine, with the hand out of the picture and
// nothing to do.
func New(s Setting) *Person {
	h := s.Habits
	p := &Person{side: chess.White, game: s.Game, before: s.Game, hasty: h.Hasty, thief: h.Thief}
	p.doer = doer{world: s.World, table: s.Table, rig: s.Rig, habits: h, chance: h.Chance, stood: map[*physics.Piece]int{}}
	if s.Rig.Play.Side == "white" {
		p.side = chess.Black
	}
	p.hand = newHand(p.side, p.chance)
	return p
}

// Hear shows the guest a notice. What they do about it takes world time. An
// error says what of the notice cannot be read.
func (p *Person) Hear(ctx context.Context, n notice.Notice) error {
	if n.Kind == notice.HandSeen {
		if !p.IsBusy() {
			p.says = &Saying{Kind: SaysAfresh}
		}
		return ctx.Err()
	}
	if n.Kind == notice.Hint { // it is for whoever asked
		return ctx.Err()
	}
	p.asked, p.waited = n.Kind == notice.YourMove, 0
	switch n.Kind {
	case notice.YourMove:
		p.slot, p.mending = n.Slot, ""
		return p.turn(n)
	case notice.TakingBack, notice.GameOver:
		p.leave()
	case notice.PleaseTake, notice.PleasePut, notice.PleaseMend:
		return p.request(n)
	}
	return ctx.Err()
}

// turn hears that it is the guest's move.
func (p *Person) turn(n notice.Notice) error {
	if p.isUnseen(n) { // the move stands there already
		if p.refused++; p.refused == bearing {
			p.says = &Saying{Kind: SaysPlayed, Move: p.last}
		}
		if p.refused <= bearing {
			return nil
		}
	}
	p.leaving, p.refused, p.again = false, 0, 0
	if n.Move != 0 && p.game.SideToMove() != p.side && p.game.Legal(n.Move) {
		p.game = p.game.After(n.Move)
		p.Owes = false
	}
	if err := p.believe(n.FEN); err != nil {
		return err
	}
	if p.game.SideToMove() != p.side || (p.Owes && len(p.script.beats) > 0) {
		return nil
	}
	p.Owes = true
	if !p.played() {
		p.plan()
	}
	return nil
}

// believe takes the machine's word for the position when it differs from the
// guest's own score, and sets the board accordingly.
func (p *Person) believe(fen string) error {
	if fen == "" {
		return nil
	}
	pos, err := chess.ParseFEN(fen)
	if err != nil {
		return fmt.Errorf("the guest cannot read the notice: %w", err)
	}
	if pos.Key() != p.game.Key() {
		p.game, p.Owes, p.early = pos, false, 0
		p.arrange(pos)
	}
	return nil
}

// plan thinks and lines up the next move of the guest.
func (p *Person) plan() {
	moves := p.game.LegalMoves(nil)
	if len(moves) == 0 {
		return
	}
	p.pause(thinkLeast+(thinkMost-thinkLeast)*p.chance.Float64()*p.chance.Float64(), 0)
	p.steal()
	if p.habits.IsLawless && p.chance.Float64() < illegalShare && p.blunder() {
		return
	}
	m := p.choose(moves)
	p.Play(m)
	if p.chance.Float64() < adjustShare || (p.habits.IsSloppy && p.chance.Float64() < sloppyAdjustShare) {
		p.pause(secondLook, 1)
		p.adjust()
	}
}

// Play makes a legal move by hand.
func (p *Person) Play(m chess.Move) {
	p.intent = m
	p.perform(m)
	p.then(func() { p.made(m) })
	p.withdraw()
}

// made notes that a move stands on the board.
func (p *Person) made(m chess.Move) {
	p.last, p.Owes, p.before, p.intent = m, false, p.game, 0
	p.game = p.game.After(m)
}

// mend sets the board as the notice says. A guest in the middle of a move just
// finishes it, and without a position the pieces
// named are set straight.
func (p *Person) mend(n notice.Notice) error {
	if n.FEN == "" {
		p.doActs(n)
		p.straighten(n.Squares)
		return nil
	}
	pos, err := chess.ParseFEN(n.FEN)
	if err != nil {
		return fmt.Errorf("the guest cannot read the notice: %w", err)
	}
	busy := len(p.script.beats) > 0
	if busy && (p.Owes && pos.Key() == p.game.Key() || n.FEN == p.mending) {
		return nil
	}
	p.mending = n.FEN
	p.drop()
	p.game, p.Owes, p.early = pos, false, 0 // the next YourMove says when to go on
	p.arrange(pos)
	p.fillSlot(n)
	return nil
}

// leave gives up what was about to be played: a hand over the table finishes.
func (p *Person) leave() {
	if !p.hand.IsOut {
		p.drop()
	}
	p.Owes, p.early, p.leaving = false, 0, true
}

// drop ends what the hand is doing: a piece in it is put down where it is.
func (p *Person) drop() {
	p.script, p.intent = script{}, 0
	p.hand.IsOut = false
	if b := p.hand.Holds; b != nil {
		p.hand.Holds = nil
		p.table.Stand(b)
	}
}

// Answer answers a question truthfully, after finishing what the hand is doing:
// the number of the choice.
func (p *Person) Answer(q notice.Question) int {
	p.hear()
	said := chess.Move(0) // nothing was played
	if p.game.SideToMove() != p.side {
		said = p.last
	}
	if i := slices.Index(q.Moves, said); i >= 0 {
		return i
	}
	return len(q.Choices) - 1
}

// SecondThoughts is how many plies the guest wishes taken back after the
// machine's move: none, the machine's alone, or their own with it.
func (p *Person) SecondThoughts() int {
	if !p.habits.IsFickle || p.chance.Float64() >= secondShare {
		return 0
	}
	return 1 + p.chance.IntN(2)
}

// hear takes the time to listen: what the hand is doing is finished first, but
// a move not begun is not begun now.
func (p *Person) hear() {
	if b := p.script.beats; len(b) > 0 && !b[0].hand && b[0].time-b[0].gone < listening {
		b[0].time = b[0].gone + listening + thinksOn // thinks on afterwards
	}
	p.Elapse(listening)
	for len(p.script.beats) > 0 && p.script.beats[0].hand {
		p.Elapse(p.visit())
	}
}

// choose picks a move: what a casual player might.
func (p *Person) choose(moves []chess.Move) chess.Move {
	m, err := search.Casual(search.Root{Position: p.game}, p.chance, skill)
	if err != nil {
		return moves[p.chance.IntN(len(moves))]
	}
	return m
}
