// SPDX-License-Identifier: Apache-2.0

package main

import (
	"math"
	"testing"

	"boardhand/internal/chess"
)

// TestPaneIsMirroredWhereItIsAimed: the eye's ray to a place on the board,
// mirrored, meets the pane's middle.
func TestPaneIsMirroredWhereItIsAimed(t *testing.T) {
	name := "roomt03"
	s, shots, err := planSession(diceFor(name), options{}, name)
	if err != nil {
		t.Fatal(err)
	}
	m := s.room.mirror
	m.bend = 0
	for _, sh := range shots {
		e := sh.view.eye()
		eye := vec{e.X, e.Y, e.Z}
		for i, a := range sh.light.panes {
			k := e.Z / (e.Z + m.high)
			p := vec{eye[0] + (a.middle[0]-eye[0])*k, eye[1] + (a.middle[1]-eye[1])*k, 0}
			if math.Abs(p[0]) > 4*s.square || math.Abs(p[1]) > 4*s.square {
				t.Errorf("%s: pane %d is mirrored off the field", sh.truth.Frame, i)
			}
			a.slats = 0
			if got := m.glow([]pane{a}, p, m.bounce(eye, p)); got < a.light || got > 1.6*a.light {
				t.Errorf("%s: %.2f of light in the pane's middle, want about %.2f", sh.truth.Frame, got, a.light)
			}
			far := vec{p[0] + 2*a.half[1]*k, p[1] + 2*a.half[1]*k, 0}
			if got := m.glow([]pane{a}, far, m.bounce(eye, far)); got > 0.01 {
				t.Errorf("%s: %.2f of light beside the pane", sh.truth.Frame, got)
			}
		}
	}
}

// TestPieceBlocksAMirroredRay: a piece hides the pane behind it, and no more
// than it.
func TestPieceBlocksAMirroredRay(t *testing.T) {
	name := "roomt03"
	s, err := newSession(diceFor(name), name)
	if err != nil {
		t.Fatal(err)
	}
	k := chess.MakePiece(chess.White, chess.King)
	h := s.pieces.of[chess.King].height
	pieces := []piece{{piece: k, x: 30}}
	level := vec{1, 0, 0.2 * h / 30}.unit()
	if !s.isBlocked(pieces, vec{}, level) {
		t.Error("a ray into the foot is not blocked")
	}
	if s.isBlocked(pieces, vec{}, vec{1, 0, 1.5 * h / 30}.unit()) || s.isBlocked(pieces, vec{}, vec{-1, 0, 0.2}.unit()) {
		t.Error("a ray over the piece, or away from it, is blocked")
	}
}
