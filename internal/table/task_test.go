// SPDX-License-Identifier: Apache-2.0

package table

import (
	"context"
	"errors"
	"strings"
	"testing"

	"boardhand/internal/carry/plan"
	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/table/journal"
	"boardhand/internal/table/places"
)

// played is a game after some moves.
func played(t *testing.T, moves ...string) *chess.Game {
	t.Helper()
	g := chess.NewGame(chess.Start())
	for _, text := range moves {
		pos := g.Position()
		m, err := pos.ParseUCI(text)
		if err != nil {
			t.Fatal(err)
		}
		if err := g.Push(m); err != nil {
			t.Fatal(err)
		}
	}
	return g
}

// backs lists the moves that the log says were taken back, with the task left.
func (p *paper) backs() string {
	var out []string
	for _, r := range p.records {
		if r.Back != 0 {
			out = append(out, r.Back.String()+" "+r.Task)
		}
	}
	return strings.Join(out, ", ")
}

func TestPairIsTakenBack(t *testing.T) {
	p := &paper{past: journal.Past{Game: played(t, "e2e4", "e7e5")}, requests: map[int]journal.Request{4: {Kind: journal.RequestBack, Plies: 2}}, script: []string{
		"same", "same", "hand", "same", // the request comes with the fourth picture
		"same", "same", "same", // as it was
		"same", "same", "same", // the machine's pawn is back
		"illegal e2,e4", "illegal e2,e4", "same", "hand", "same", "same", "same", // the guest needs a moment
		"move d2d4", "move d2d4",
	}}
	if err := p.run(t, "", ""); !errors.Is(err, context.Canceled) && err != nil {
		t.Fatal(err)
	}
	p.says(t, "I take it back.")
	p.says(t, "Please move it back.")
	if got := p.backs(); got != "e7e5 take_back 1, e2e4 none" {
		t.Errorf("the log tells of %q", got)
	}
	if got := p.table.Game().Moves; len(got) == 0 || got[0].String() != "d2d4" {
		t.Errorf("after it the game is %v", got)
	}
	if got := p.did(); got != "home move up move down" {
		t.Errorf("the gantry did %q", got)
	}
	for _, s := range p.said {
		if strings.Contains(s, "as it was") {
			t.Errorf("the guest was told twice: %q", p.said)
		}
	}
}

func TestNothingToTakeBack(t *testing.T) {
	p := &paper{requests: map[int]journal.Request{3: {Kind: journal.RequestBack, Plies: 1}, 4: {Kind: journal.RequestRight}}, script: []string{"same", "same", "same", "same"}}
	_ = p.run(t, "", "")
	p.says(t, "refused: there is no move to take back yet")
	p.says(t, "refused: not now: nothing is being asked of you")
}

// After a break it is looked first how far the taking back got.
func TestTakingBackAfterABreak(t *testing.T) {
	for name, c := range map[string]struct {
		script []string
		did    string
	}{
		"not begun": {[]string{"move e7e5", "move e7e5", "same", "same", "same"}, "home move up move down"},
		"done":      {[]string{"same", "same", "same", "same", "same"}, "home"},
		"half way":  {[]string{"illegal e5,e6", "illegal e5,e6", "illegal e5,e6", "illegal e5,e6", "same", "same", "same"}, "home"},
	} {
		t.Run(name, func(t *testing.T) {
			p := &paper{past: journal.Past{Game: played(t, "e2e4", "e7e5"), Task: journal.Task{Kind: journal.TakeBack, Plies: 1}}, script: c.script}
			_ = p.run(t, "", "")
			if got := p.backs(); got != "e7e5 none" {
				t.Errorf("the log tells of %q", got)
			}
			if got := p.did(); got != c.did {
				t.Errorf("the gantry did %q, want %q", got, c.did)
			}
		})
	}
}

const trayed = "4k3/8/8/3p4/4P3/8/8/4K3 b - - 0 1"

var slot = []frame.Spot[frame.Board]{{X: 0.2, Y: 0.1}}

// toTray carries a piece to the slot.
func toTray(piece chess.Piece, from chess.Square) []plan.Step {
	steps := trip(piece, from, chess.NoSquare)
	steps[2].PiecePath = []frame.Spot[frame.Board]{{}, slot[0]}
	return steps
}

// Every way to the tray is on disk before it begins and when it has ended.
func TestPieceInTheTrayIsOnDisk(t *testing.T) {
	white := chess.MakePiece(chess.White, chess.Pawn)
	black := chess.MakePiece(chess.Black, chess.Pawn)
	p := &paper{slots: slot, carried: [2]bool{true, true}, script: []string{"same", "same", "move d5e4", "move d5e4", "same"},
		plan: append(toTray(white, squares("e4")[0]), trip(black, squares("d5")[0], squares("e4")[0])...)}
	_ = p.run(t, trayed, "d5e4")
	var kept []string
	for _, r := range p.records {
		if r.Standing != "" {
			kept = append(kept, r.Standing)
		}
	}
	want := []string{
		"4k3/8/8/3p4/4P3/8/8/4K3 P@e4>slot1",
		"4k3/8/8/3p4/8/8/8/4K3 P@slot1",
		"4k3/8/8/8/4p3/8/8/4K3 P@slot1",
	}
	if got := strings.Join(kept, "\n"); got != strings.Join(want, "\n") {
		t.Errorf("on disk:\n%s\nwant:\n%s", got, strings.Join(want, "\n"))
	}
}

// A piece that was on its way to the tray when the power went is asked for
// where no picture shows the tray, and then it stands there.
func TestBreakOnTheWayToTheTray(t *testing.T) {
	for name, c := range map[string]struct {
		script []string
		want   string
	}{
		"arrived": {[]string{"move d5e4", "move d5e4", "move d5e4", "move d5e4"}, "P@slot1"},
		"helped":  {[]string{"illegal d4,e4", "illegal d4,e4", "illegal d4,e4", "illegal d4,e4", "move d5e4", "move d5e4"}, "P@slot1"},
	} {
		t.Run(name, func(t *testing.T) {
			s, err := places.ParseStanding("4k3/8/8/3p4/4P3/8/8/4K3 P@e4>slot1")
			if err != nil {
				t.Fatal(err)
			}
			p := &paper{slots: slot, carried: [2]bool{true, true}, past: journal.Past{Standing: &s}, answers: []int{0}, script: append([]string{"same", "same"}, c.script...)}
			_ = p.run(t, trayed, "d5e4")
			if got := p.table.Standing(); got.String() != "4k3/8/8/8/4p3/8/8/4K3 "+c.want {
				t.Errorf("the pieces are at %s", got)
			}
		})
	}
}

// The guest hears where to stand a piece they take, and there it is believed.
func TestGuestStandsTakenPieceInTheTray(t *testing.T) {
	p := &paper{slots: slot, script: []string{"same", "same", "move e4d5", "move e4d5"}}
	_ = p.run(t, "4k3/8/8/3p4/4P3/8/8/4K3 w - - 0 1", "")
	p.says(t, "If you take a piece of mine, stand it in slot R1.")
	if got := p.table.Standing(); got.String() != "4k3/8/8/3P4/8/8/8/4K3 p@slot1" {
		t.Errorf("the pieces are at %s", got)
	}
}

const mated = "4k3/8/8/8/8/5q2/4q3/4K3 w - - 0 1"

func TestSetUpAgain(t *testing.T) {
	queen := chess.MakePiece(chess.Black, chess.Queen)
	p := &paper{atEnd: journal.Request{Kind: journal.RequestNew}, setUp: trip(queen, squares("e2")[0], squares("d8")[0]), script: []string{
		"same", "same", // over
		"same", "same", "same", // as it was
		"illegal a1,a2", "illegal a1,a2", "same", "same", "same",
	}}
	if err := p.run(t, mated, ""); err != nil {
		t.Fatal(err)
	}
	if !p.table.Arranged() || p.pos != chess.Start() {
		t.Error("the pieces do not stand where the next game begins")
	}
	p.says(t, "Please look at a1 and a2: the pieces should stand as at the start of a game.")
	last := p.records[len(p.records)-1]
	if last.What != journal.SetUpDone || last.Task != "none" {
		t.Errorf("the task ends with %+v", last)
	}
}

// After a break the piece that was being carried is asked for, once.
func TestSetUpAfterABreak(t *testing.T) {
	s, err := places.ParseStanding("4k3/8/8/8/8/5q2/4q3/4K3 p@slot1 q@e2>d8")
	if err != nil {
		t.Fatal(err)
	}
	p := &paper{slots: slot, answers: []int{0}, past: journal.Past{Task: journal.Task{Kind: journal.SetUp}, Standing: &s}, script: []string{"same", "same", "same", "same", "same"}}
	if err := p.run(t, mated, ""); err != nil {
		t.Fatal(err)
	}
	p.says(t, "I lost the black queen on the way. Please stand it on d8.")
	var pieces []string
	for _, m := range p.scenes[0].Pieces {
		pieces = append(pieces, string(m.Piece.Letter())+m.Square.String())
	}
	if got := strings.Join(pieces, " "); !strings.Contains(got, "qd8") || strings.Contains(got, "qe2") || len(pieces) != 5 {
		t.Errorf("planned for %s", got)
	}
}

// A piece set straight is measured again, and what is left is planned anew.
func TestSetStraightIsMeasuredAgain(t *testing.T) {
	knight := chess.MakePiece(chess.White, chess.Knight)
	pawn := chess.MakePiece(chess.Black, chess.Pawn)
	b1 := squares("b1")[0]
	steps := append([]plan.Step{{Do: plan.Ask, Piece: knight, From: b1, To: b1, Text: "Please set the knight straight."}},
		trip(pawn, squares("e7")[0], squares("e5")[0])...)
	p := &paper{plan: steps, player: []string{"e7e5"}, script: []string{
		"same", "same", "move e2e4", "move e2e4",
		"askew b1", "askew b1", "straight b1", "straight b1", "move e7e5", "move e7e5",
	}}
	_ = p.run(t, "", "")
	if got := p.did(); got != "home replan move up move down" {
		t.Errorf("the machine did %q", got)
	}
	for _, m := range p.scenes[0].Pieces {
		if off := m.At.Distance(p.table.kit.m.Layout.Centre(b1)); m.Square == b1 && (off < 0.0009 || off > 0.0011) {
			t.Errorf("planned anew for the knight %.1f mm off its centre, 1.0 mm was measured", off*1e3)
		}
	}
}
