// SPDX-License-Identifier: Apache-2.0

package sight

import (
	"cmp"
	"math"
	"slices"

	"boardhand/internal/chess"
)

// hypothesis is one explanation of a picture: what would stand on the board.
type hypothesis struct {
	state State // Same, Moved, Partial or Illegal
	move  chess.Move
	after pieces
	prior float64 // natural logarithm

	score float64    // logarithm of the posterior, up to a constant
	nats  float64    // score less the best hypothesis's, once the score is a probability
	gone  []bool     // by eye.pieces: no longer where they stood
	stood []standing // the pieces that arrived or were nudged, where they fit best

	attended bool // pieces set straight unnoticed are among those nudged
}

// Prior beliefs before the picture is looked at. They matter only when the
// picture hardly decides: a picture of a finished move or of no change is
// usual, one of a half-done move rarer, one of a broken rule rare.
const (
	priorSame    = 0.40
	priorMoves   = 0.45
	priorPartial = 0.14
	// priorStray is the prior of one piece standing where no rule puts it, for
	// each of the 64 squares.
	priorStray = 1e-2 / 64
)

// promotes is the logarithm of how much oftener than one in four a pawn is
// exchanged for a kind: nine times in ten for a queen (common practice, no
// source), or more surely for the kind that somebody was asked to put there.
func promotes(m, expected chess.Move) float64 {
	usual, share := chess.Queen, 0.9
	if k := expected.Promotion(); k != chess.NoKind && m.From() == expected.From() && m.To() == expected.To() {
		usual, share = k, 0.97
	}
	switch m.Promotion() {
	case chess.NoKind:
		return 0
	case usual:
		return math.Log(4 * share)
	}
	return math.Log(4 * (1 - share) / 3)
}

// hypotheses lists no change, every legal move and every half-done one; expected
// is the move under way, zero when that is not known.
func hypotheses(pos *chess.Position, expected chess.Move) []hypothesis {
	start := piecesOf(pos)
	seen := map[pieces]bool{start: true}
	out := []hypothesis{{state: Same, after: start, prior: math.Log(priorSame)}}
	legal := pos.LegalMoves(nil)
	for _, m := range legal {
		next := pos.After(m)
		g := hypothesis{state: Moved, move: m, after: piecesOf(&next), prior: math.Log(priorMoves/float64(len(legal))) + promotes(m, expected)}
		seen[g.after] = true
		out = append(out, g)
	}
	first := len(out)
	for _, m := range legal {
		for _, a := range halfDone(pos, m) {
			if !seen[a] {
				seen[a] = true
				out = append(out, hypothesis{state: Partial, move: m, after: a})
			}
		}
	}
	for i := first; i < len(out); i++ {
		out[i].prior = math.Log(priorPartial / float64(len(out)-first))
	}
	return out
}

// asSaid makes all hypotheses but no change less likely: before the first picture
// somebody has just said who stands where.
func asSaid(gs []hypothesis) {
	const seldom = 0.05 // how often it is wrong or has moved meanwhile, beside the usual
	for k := range gs {
		if gs[k].state != Same {
			gs[k].prior += math.Log(seldom)
		}
	}
}

// halfDone lists the boards on the way to a move: its pieces at home, in the
// hand, or placed; the captured piece there or gone; a pawn on the last rank not
// yet exchanged.
func halfDone(pos *chess.Position, m chess.Move) []pieces {
	t := newTransfer(pos, m)
	var out []pieces
	for _, gone := range t.fates() {
		for mover := range t.placings {
			for rook := range t.rookWays() {
				if a, ok := t.board(gone, mover, rook); ok {
					out = append(out, a)
				}
			}
		}
	}
	return out
}

// transfer is a move taken apart into what hands do.
type transfer struct {
	start            pieces
	from, to         chess.Square
	placings         []chess.Piece // mover: at home (NoPiece), in the hand (NoPiece), then what may stand on to
	captured         chess.Square  // NoSquare for none
	rookFrom, rookTo chess.Square
	castling         bool
}

const (
	atHome = 0
	inHand = 1
	placed = 2 // and above: other pieces placed
)

func newTransfer(pos *chess.Position, m chess.Move) transfer {
	t := transfer{start: piecesOf(pos), from: m.From(), to: m.To(), captured: chess.NoSquare}
	mover := pos.At(m.From())
	t.placings = []chess.Piece{chess.NoPiece, chess.NoPiece, mover}
	if k := m.Promotion(); k != chess.NoKind {
		t.placings = append(t.placings, chess.MakePiece(mover.Color(), k))
	}
	if p, s := pos.Captured(m); p != chess.NoPiece {
		t.captured = s
	}
	if t.castling = pos.IsCastling(m); t.castling {
		t.rookFrom, t.rookTo = pos.RookMove(m)
	}
	return t
}

func (t *transfer) fates() []bool {
	if t.captured == chess.NoSquare {
		return []bool{false}
	}
	return []bool{false, true}
}

func (t *transfer) rookWays() int {
	if t.castling {
		return placed + 1
	}
	return 1
}

// board is the board with the captured piece gone or not, the mover and the
// rook so far on their way; false when two pieces would share a square.
func (t *transfer) board(gone bool, mover, rook int) (pieces, bool) {
	a := t.start
	if gone {
		a[t.captured] = chess.NoPiece
	}
	if mover != atHome {
		a[t.from] = chess.NoPiece
	}
	tower := chess.NoPiece
	if rook != atHome {
		tower = a[t.rookFrom]
		a[t.rookFrom] = chess.NoPiece
	}
	if mover >= placed {
		if a[t.to] != chess.NoPiece {
			return a, false
		}
		a[t.to] = t.placings[mover]
	}
	if rook == placed {
		if a[t.rookTo] != chess.NoPiece {
			return a, false
		}
		a[t.rookTo] = tower
	}
	return a, true
}

// promoted is the piece that arrived on the last square of a hypothesis's move, promoted
// or not yet; nil if nobody did.
func (g *hypothesis) promoted() *standing {
	for k := range g.stood {
		if g.stood[k].square == g.move.To() {
			return &g.stood[k]
		}
	}
	return nil
}

// onlyKinds says whether a hypothesis differs from a lawful one in nothing but the
// kinds of pieces: outlines are too generic to break a rule by.
func (g *hypothesis) onlyKinds(lawful *hypothesis) bool {
	if lawful.state == Illegal || g.after == lawful.after {
		return false
	}
	for s, p := range g.after {
		if o := lawful.after[s]; p != o && (p == chess.NoPiece || o == chess.NoPiece || p.Color() != o.Color()) {
			return false
		}
	}
	return true
}

// strained says whether a hypothesis needs a piece touched who does not look it.
func (g *hypothesis) strained() bool {
	return slices.ContainsFunc(g.stood, func(m standing) bool { return m.nudged != nil && !m.plain })
}

func byScore(gs []hypothesis) {
	slices.SortStableFunc(gs, func(a, b hypothesis) int { return cmp.Compare(b.score, a.score) })
}

// normalise turns scores into probabilities.
func normalise(gs []hypothesis) {
	top, sum := gs[0].score, 0.0
	for i := range gs {
		gs[i].nats = gs[i].score - top
		gs[i].score = math.Exp(gs[i].nats)
		sum += gs[i].score
	}
	for i := range gs {
		gs[i].score /= sum
	}
}
