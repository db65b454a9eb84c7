// SPDX-License-Identifier: Apache-2.0

package main

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"boardhand/internal/chess"
)

// rooms plays sessions without drawing them.
func rooms(t *testing.T, n int, each func(t *testing.T, s *session, shots []shot)) {
	t.Helper()
	for i := range n {
		name := fmt.Sprintf("test%02d", i)
		t.Run(name, func(t *testing.T) {
			d := diceFor(name)
			s, err := newSession(d, name)
			if err != nil {
				t.Fatal(err)
			}
			g, err := newGame(d, &s)
			if err != nil {
				t.Fatal(err)
			}
			each(t, &s, g.play(24))
		})
	}
}

// standing is what stands on each square, by the pieces' places alone; a piece
// that lies or is far from every centre is left out.
func standing(s *session, pieces []piece) map[chess.Square]chess.Piece {
	on := map[chess.Square]chess.Piece{}
	for _, m := range pieces {
		f, r := math.Floor(m.x/s.square+4), math.Floor(m.y/s.square+4)
		if m.z != 0 || m.toppled || f < 0 || f > 7 || r < 0 || r > 7 {
			continue
		}
		q := chess.SquareAt(int(f), int(r))
		if x, y := s.centre(q); math.Max(math.Abs(m.x-x), math.Abs(m.y-y)) <= astray*s.square+1e-9 {
			on[q] = m.piece
		}
	}
	return on
}

// shows says whether the pieces stand as the position says.
func shows(pos chess.Position, on map[chess.Square]chess.Piece) bool {
	for q := range chess.Square(64) {
		if pos.At(q) != on[q] {
			return false
		}
	}
	return true
}

// TestTruthIsWhatStandsOnTheBoard replays the truth through the rules: settled
// frames show the position, partial and illegal ones show neither it nor what
// any legal move leads to.
func TestTruthIsWhatStandsOnTheBoard(t *testing.T) {
	rooms(t, 60, func(t *testing.T, s *session, shots []shot) {
		pos, err := chess.ParseFEN(s.start)
		if err != nil {
			t.Fatal(err)
		}
		for _, sh := range shots {
			on := standing(s, sh.pieces)
			switch sh.truth.State {
			case "move":
				m, err := pos.ParseUCI(sh.truth.Move)
				if err != nil {
					t.Fatalf("%s: %v", sh.truth.Frame, err)
				}
				pos = pos.After(m)
				fallthrough
			case "same":
				if !shows(pos, on) {
					t.Errorf("%s %s does not show %s", sh.truth.Frame, sh.truth.Kind, pos.FEN())
				}
			case "partial", "illegal":
				nothingLegal(t, pos, on, sh)
			case "hand":
				if len(sh.extra) != 1 || sh.extra[0].unseen {
					t.Errorf("%s: no hand", sh.truth.Frame)
				}
			}
			if got := pos.FEN(); got != sh.truth.FEN {
				t.Errorf("%s: fen %s, want %s", sh.truth.Frame, sh.truth.FEN, got)
			}
		}
	})
}

// nothingLegal fails if the pieces stand as before or as after a legal move.
func nothingLegal(t *testing.T, pos chess.Position, on map[chess.Square]chess.Piece, sh shot) {
	t.Helper()
	if shows(pos, on) {
		t.Errorf("%s %s shows the position unchanged", sh.truth.Frame, sh.truth.Kind)
	}
	for _, m := range pos.LegalMoves(nil) {
		if shows(pos.After(m), on) {
			t.Errorf("%s %s shows the legal move %v", sh.truth.Frame, sh.truth.Kind, m)
		}
	}
}

// TestSessionsCoverWhatHappens counts the kinds over many sessions.
func TestSessionsCoverWhatHappens(t *testing.T) {
	seen := map[string]int{}
	rooms(t, 60, func(t *testing.T, _ *session, shots []shot) {
		for _, sh := range shots {
			kind, _, _ := strings.Cut(sh.truth.Kind, "+")
			seen[kind]++
		}
	})
	for _, k := range strings.Fields(`start quiet capture castling passant promotion repeat nudge shadow drift bump put-right
		hand-edge hand-hover hand-take hand-carry partial-lifted partial-taken-off partial-both-off partial-king-first
		partial-pawn-on-last partial-passant illegal-place illegal-two illegal-toppled illegal-on-line`) {
		if seen[k] < 4 {
			t.Errorf("%s: %d times in 60 sessions", k, seen[k])
		}
	}
}

// TestMenDoNotStandInEachOther checks that feet keep apart.
func TestPiecesDoNotStandInEachOther(t *testing.T) {
	rooms(t, 20, func(t *testing.T, s *session, shots []shot) {
		for _, sh := range shots {
			if sh.truth.State == "hand" {
				continue
			}
			for i, a := range sh.pieces {
				for _, b := range sh.pieces[:i] {
					need := (s.pieces.of[a.piece.Kind()].base + s.pieces.of[b.piece.Kind()].base) / 2
					if got := math.Hypot(a.x-b.x, a.y-b.y); a.z == 0 && b.z == 0 && !a.toppled && !b.toppled && got < 0.98*need {
						t.Errorf("%s %s: %v and %v are %.1f mm apart, their feet need %.1f", sh.truth.Frame, sh.truth.Kind, a.piece, b.piece, got, need)
					}
				}
			}
		}
	})
}
