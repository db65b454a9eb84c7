// SPDX-License-Identifier: Apache-2.0

package person

import (
	"slices"

	"boardhand/internal/chess"
	"boardhand/internal/game"
	"boardhand/internal/notice"
)

// Saying is what the guest tells the machine without being asked.
type Saying struct {
	Kind string     // one of the Says… names
	Move chess.Move // of SaysPlayed; zero: nothing was played
}

// The kinds of saying, named as the session names what a person may ask.
const (
	SaysPlayed = "played" // Move was played; zero: nothing was played
	SaysRight  = "right"  // what was asked for is done, and the board is as the game says
	SaysAfresh = "afresh" // no hand is there: look at the board afresh
)

// Says takes what the guest wants to say; false when nothing. It is asked once
// a picture.
func (p *Person) Says() (Saying, bool) {
	p.wait()
	if p.says == nil {
		return Saying{}, false
	}
	s := *p.says
	p.says = nil
	return s, true
}

// wait counts the pictures since a guest's move stood on the board and nothing was
// said to it.
func (p *Person) wait() {
	if !p.asked || p.leaving || p.Owes || p.last == 0 || len(p.script.beats) > 0 || p.game.SideToMove() == p.side {
		p.waited = 0
		return
	}
	if p.waited++; p.waited >= Patience {
		p.waited, p.says = 0, &Saying{Kind: SaysPlayed, Move: p.last}
	}
}

// objects says whether the guest does not do what a request asks for, because
// the board is right as it stands.
func (p *Person) objects(n notice.Notice) bool {
	if len(p.script.beats) > 0 {
		return false
	}
	if p.isUnseen(n) {
		p.refused++
		switch {
		case p.refused < bearing: // perhaps it does not stand clearly
			p.straighten(p.stoodBy(p.last))
			return true
		case p.refused == bearing:
			p.says = &Saying{Kind: SaysPlayed, Move: p.last}
			return true
		}
		return false // well then
	}
	p.refused = 0
	if !p.isDone(n) {
		p.again = 0
		return false
	}
	if p.again++; p.again < bearing {
		if n.Kind != notice.PleaseTake {
			p.straighten(p.crooked(n.Squares))
		}
		return true
	}
	p.again = 0
	p.says = &Saying{Kind: SaysRight}
	if p.Owes && !p.leaving {
		p.says.Kind = SaysPlayed
	}
	return true
}

// crooked are those of the squares whose pieces could stand better.
func (p *Person) crooked(squares []chess.Square) (out []chess.Square) {
	for _, s := range squares {
		if b := p.find(s); b != nil && !p.holds(s, b.Piece, straight) {
			out = append(out, s)
		}
	}
	return out
}

// isUnseen says whether a notice speaks of the position before the guest's own
// legal move, as if that had not been seen.
func (p *Person) isUnseen(n notice.Notice) bool {
	if n.Kind != notice.PleaseMend && n.Kind != notice.YourMove || p.leaving || p.last == 0 || p.game.SideToMove() == p.side {
		return false
	}
	want, err := placement(n.FEN)
	return err == nil && want != nil && want.Key() == p.before.Key() && p.isSet(p.game)
}

// stoodBy are the squares on which a move has put pieces.
func (p *Person) stoodBy(m chess.Move) (out []chess.Square) {
	for _, a := range p.before.Acts(m) {
		if a.To < game.NoSquare && !slices.Contains(out, a.To) {
			out = append(out, a.To)
		}
	}
	return out
}
