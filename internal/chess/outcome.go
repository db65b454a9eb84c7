// SPDX-License-Identifier: Apache-2.0

package chess

// Result is the result of a game as PGN writes it.
type Result string

// The results.
const (
	Unfinished Result = "*"
	WhiteWins  Result = "1-0"
	BlackWins  Result = "0-1"
	Draw       Result = "1/2-1/2"
)

// Wins is the result of a win for side c.
func Wins(c Color) Result {
	if c == White {
		return WhiteWins
	}
	return BlackWins
}

// Reason says why a game is over, or may be claimed as drawn.
type Reason string

// The reasons, with the article of the Laws of Chess (FIDE, 2023).
const (
	NoReason       Reason = ""
	Checkmate      Reason = "checkmate"              // 5.1.1
	Resignation    Reason = "resignation"            // 5.1.2
	Stalemate      Reason = "stalemate"              // 5.2.1
	DeadPosition   Reason = "dead position"          // 5.2.2
	Agreement      Reason = "agreement"              // 5.2.3
	Threefold      Reason = "threefold repetition"   // 9.2, on claim
	FiftyMoves     Reason = "fifty-move rule"        // 9.3, on claim
	Fivefold       Reason = "fivefold repetition"    // 9.6.1
	SeventyFive    Reason = "seventy-five-move rule" // 9.6.2
	fiftyMoves            = 100                      // half-moves
	seventyFive           = 150                      // half-moves
	claimableTimes        = 3
	automaticTimes        = 5
)

// Outcome is how a game stands.
type Outcome struct {
	Result Result // Unfinished while the game goes on
	Reason Reason // why it is over; NoReason while it goes on
	Claim  Reason // a draw the side to move may claim now, while it goes on
}

// Over says whether the game is over.
func (o Outcome) Over() bool { return o.Result != Unfinished }

// String prints "white wins by checkmate", "draw by stalemate", "goes on" or
// "goes on; a draw may be claimed: threefold repetition".
func (o Outcome) String() string {
	switch {
	case o.Result == WhiteWins || o.Result == BlackWins:
		side := White
		if o.Result == BlackWins {
			side = Black
		}
		return side.String() + " wins" + o.by()
	case o.Result == Draw:
		return "draw" + o.by()
	case o.Claim != NoReason:
		return "goes on; a draw may be claimed: " + string(o.Claim)
	}
	return "goes on"
}

func (o Outcome) by() string {
	if o.Reason == NoReason {
		return ""
	}
	return " by " + string(o.Reason)
}

// outcome is how the position stands, having appeared times times.
func (p *Position) outcome(times int) Outcome {
	switch {
	case !p.hasMove() && p.InCheck():
		return Outcome{Result: Wins(p.side.Other()), Reason: Checkmate}
	case !p.hasMove():
		return Outcome{Result: Draw, Reason: Stalemate}
	case p.Dead():
		return Outcome{Result: Draw, Reason: DeadPosition}
	case times >= automaticTimes:
		return Outcome{Result: Draw, Reason: Fivefold}
	case p.half >= seventyFive:
		return Outcome{Result: Draw, Reason: SeventyFive}
	}
	return Outcome{Result: Unfinished, Claim: p.claim(times)}
}

// claim is the draw that may be claimed in the position, having appeared times times.
func (p *Position) claim(times int) Reason {
	switch {
	case times >= claimableTimes:
		return Threefold
	case p.half >= fiftyMoves:
		return FiftyMoves
	}
	return NoReason
}
