package app

import (
	"fmt"
	"slices"
	"testing"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/table"
	"boardhand/internal/twin"
)

// allowance is what may stand on the table: on each square what one of some
// boards has there, a square on which they differ may be empty, and one of some
// pieces may be anywhere, on its way.
type allowance struct {
	boards []board
	movers []chess.Piece
}

// inMove allows a move of the machine to be half made.
func inMove(pos chess.Position, m chess.Move) allowance {
	a := allowance{boards: []board{table.StandingOf(pos).Board, table.StandingOf(pos.After(m)).Board}}
	for q, p := range a.boards[0] {
		if p != a.boards[1][q] && p != chess.NoPiece {
			a.movers = append(a.movers, p)
		}
	}
	return a
}

// guestsMoves allows the guest to be at any legal move.
func guestsMoves(pos chess.Position) (out []allowance) {
	for _, m := range pos.LegalMoves(nil) {
		out = append(out, allowance{boards: []board{table.StandingOf(pos).Board, table.StandingOf(pos.After(m)).Board}})
	}
	return out
}

// differing lists what the table has that none of some allowances has; by the
// one that fits best.
func differing(truth twin.Truth, allowed []allowance) []string {
	var best []string
	for i, a := range allowed {
		wrong := a.differing(truth)
		if len(wrong) == 0 {
			return nil
		}
		if i == 0 || len(wrong) < len(best) {
			best = wrong
		}
	}
	return best
}

func (a allowance) differing(truth twin.Truth) (out []string) {
	held := []chess.Piece{}
	for _, m := range truth.Men {
		if m.Held {
			held = append(held, m.Piece)
		}
	}
	movers := slices.Clone(a.movers)
	for q, is := range truth.Squares {
		if a.has(chess.Square(q), is) {
			continue
		}
		want := a.boards[0][q]
		if i := slices.Index(held, want); is == chess.NoPiece && i >= 0 {
			held = slices.Delete(held, i, i+1)
		} else if slices.Contains(movers, is) {
			movers = nil // one at most
		} else {
			out = append(out, fmt.Sprintf("%v holds %v, the game says %v", chess.Square(q), is, want))
		}
	}
	return out
}

// has says whether a piece may be on a square.
func (a allowance) has(q chess.Square, p chess.Piece) bool {
	isOpen := false
	for _, b := range a.boards {
		if b[q] == p {
			return true
		}
		isOpen = isOpen || b[q] != a.boards[0][q]
	}
	return isOpen && p == chess.NoPiece
}

// misplaced lists the slots that do not hold the piece the game has in them.
func misplaced(truth twin.Truth, s table.Standing, slots []frame.Spot[frame.Board]) (out []string) {
	const off = 0.006
	for _, b := range s.Beside {
		k := int(b.Place - table.Slot)
		if k < 0 || k >= len(slots) {
			continue
		}
		if !slices.ContainsFunc(truth.Men, func(m twin.TrueMan) bool {
			return m.Piece == b.Piece && (m.Held || m.OnBoard && m.At.Distance(slots[k]) < off)
		}) {
			out = append(out, fmt.Sprintf("no %v stands in slot %d", b.Piece, k+1))
		}
	}
	return out
}

// census lists the kinds of which there are more or fewer than in a set.
func census(truth twin.Truth) (out []string) {
	n := map[chess.Piece]int{}
	for _, p := range table.StandingOf(chess.Start()).Board {
		n[p]--
	}
	delete(n, chess.NoPiece)
	for _, m := range truth.Men {
		n[m.Piece]++
	}
	for p, more := range n {
		if more != 0 {
			out = append(out, fmt.Sprintf("%+d %v in the room", more, p))
		}
	}
	return out
}

func TestAllowances(t *testing.T) {
	pos := positionOf(t, "4k3/8/8/3p4/4P3/8/8/4K3 w - - 0 1")
	m := move(t, pos, "e4d5")
	truth := func(edit func(*twin.Truth)) twin.Truth {
		out := twin.Truth{Squares: table.StandingOf(pos).Board}
		edit(&out)
		return out
	}
	for _, c := range []struct {
		desc string
		edit func(*twin.Truth)
		want int
	}{
		{"as it was", func(*twin.Truth) {}, 0},
		{"taken off", func(w *twin.Truth) { w.Squares[sq("d5")] = chess.NoPiece }, 0},
		{"done", func(w *twin.Truth) { w.Squares = table.StandingOf(pos.After(m)).Board }, 0},
		{"on its way", func(w *twin.Truth) { w.Squares[sq("e5")], w.Squares[sq("e4")] = w.Squares[sq("e4")], chess.NoPiece }, 0},
		{"two on their way", func(w *twin.Truth) {
			w.Squares[sq("e5")], w.Squares[sq("e4")] = w.Squares[sq("e4")], chess.NoPiece
			w.Squares[sq("c5")], w.Squares[sq("d5")] = w.Squares[sq("d5")], chess.NoPiece
		}, 1},
		{"no king", func(w *twin.Truth) { w.Squares[sq("e8")] = chess.NoPiece }, 1},
		{"a king in the hand", func(w *twin.Truth) {
			w.Men = append(w.Men, twin.TrueMan{Piece: w.Squares[sq("e8")], Held: true})
			w.Squares[sq("e8")] = chess.NoPiece
		}, 0},
	} {
		if got := inMove(pos, m).differing(truth(c.edit)); len(got) != c.want {
			t.Errorf("%s: %v", c.desc, got)
		}
	}
}
