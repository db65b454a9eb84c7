// SPDX-License-Identifier: Apache-2.0

package carry

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"testing"

	"boardhand/internal/chess"
	"boardhand/internal/game"
	"boardhand/internal/rig"
)

// With magnets on one side only, a set-up asks once: for the other side's pieces
// as a whole, and for those of this side that it cannot carry.
func TestSetUpAsksOnce(t *testing.T) {
	p := planner(t, func(r *rig.Rig) { withTrays(r); r.Pieces.Carried = "black" })
	pos, err := chess.ParseFEN("r1bqk2r/pppp1ppp/2n5/2b1p3/4P1n1/2N2N2/PPPP1PPP/R1BQKB1R w KQkq - 0 1")
	if err != nil {
		t.Fatal(err)
	}
	s := p.scene(&pos, seeded(t, 3), 0)
	plan, _, err := p.SetUp(context.Background(), s)
	if err != nil {
		t.Fatal(err)
	}
	last := plan.Steps[len(plan.Steps)-1]
	if plan.Asks() != 1 || last.Text != "Please set up the white pieces for the next game." || plan.Doubt != "" {
		t.Errorf("%d questions, the last %q, doubt %q", plan.Asks(), last.Text, plan.Doubt)
	}
	start := chess.Start()
	if err := p.fits(p.After(s, plan), &start); err != nil {
		t.Error(err)
	}
}

// A game may begin from any position: the machine carries what it can to where it stands
// there, and for the rest people look at the plan.
func TestSetUpToAPosition(t *testing.T) {
	p := planner(t, func(r *rig.Rig) { withTrays(r); r.Pieces.Carried = "black" })
	pos, err := chess.ParseFEN("rnbqkbnr/pppp1ppp/8/4p3/4P3/8/PPPP1PPP/RNBQKBNR w KQkq - 0 2")
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ to, want string }{
		{"4k3/4p3/8/8/8/8/8/4K2R w K - 0 1", "Please set up the white pieces as the plan shows."},
		{"rnb1kbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR w KQkq - 0 1", "Please set up the white pieces as the plan shows."},
		{"rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR w KQkq - 0 1", "Please set up the white pieces for the next game."},
	} {
		to, err := chess.ParseFEN(c.to)
		if err != nil {
			t.Fatal(err)
		}
		s := p.scene(&pos, seeded(t, 3), 0)
		made, _, err := p.SetUpTo(t.Context(), s, to)
		if err != nil {
			t.Fatal(err)
		}
		last := made.Steps[len(made.Steps)-1]
		if last.Text != c.want || made.Doubt != "" {
			t.Errorf("%s: %q, doubt %q", c.to, last.Text, made.Doubt)
		}
		if err := p.fits(p.After(s, made), &to); err != nil {
			t.Errorf("%s: %v", c.to, err)
		}
	}
}

// What must go is named, first of all; what stands elsewhere is moved; only what is
// nowhere is missing.
func TestSetUpNamesWhatMustGo(t *testing.T) {
	both := func(r *rig.Rig) { withTrays(r); r.Removal = rig.Removal{Mode: "hand"} }
	black := func(r *rig.Rig) { r.Pieces.Carried = "black" }
	for _, c := range []struct {
		fen, want string
		change    func(*rig.Rig)
	}{
		{"Q7/8/8/5k2/8/8/8/K2Q4 w - - 0 1", "Please take the white queen off a8, stand the white pieces that are missing where they start and stand the black pieces that are missing where they start.", both},
		{"8/8/8/5k2/8/1nnn4/8/K7 w - - 0 1", "Please take the black knight off d3, set up the white pieces for the next game and stand the black pieces that are missing where they start.", black},
		{"rnbqkbnr/pppppppp/3Q4/3Q4/8/8/PPPPPPP1/RNB1KBNR w KQkq - 0 1", "Please take the white queen off d6 and put the white pawn on h2.", both},
	} {
		p := planner(t, c.change)
		pos, err := chess.ParseFEN(c.fen)
		if err != nil {
			t.Fatal(err)
		}
		made, _, err := p.SetUp(context.Background(), p.scene(&pos, seeded(t, 3), 0))
		if err != nil {
			t.Fatal(err)
		}
		if last := made.Steps[len(made.Steps)-1]; last.Text != c.want {
			t.Errorf("%s: asked %q, want %q", c.fen, last.Text, c.want)
		}
	}
	p := planner(t, black)
	n := p.builder(Scene{}).named(game.Black, []game.Act{{Piece: chess.MakePiece(chess.Black, chess.Queen), From: game.SquareAt(4, 3), To: game.NoSquare}},
		[]game.Act{{Piece: chess.MakePiece(chess.Black, chess.Queen), From: game.NoSquare, To: game.SquareAt(3, 7)}})
	if len(n.goes)+len(n.puts) > 0 || !slices.Equal(n.moves, []string{"move the black queen from e4 to d8"}) {
		t.Errorf("%+v", n)
	}
}

// A plan says in which slot a captured piece was stood.
func TestPlanNamesSlots(t *testing.T) {
	p := planner(t, withTrays)
	pos, err := chess.ParseFEN("4k3/8/8/3p4/4P3/8/8/4K3 w - - 0 1")
	if err != nil {
		t.Fatal(err)
	}
	m, err := pos.ParseUCI("e4d5")
	if err != nil {
		t.Fatal(err)
	}
	s := p.scene(&pos, seeded(t, 3), 0)
	made, err := p.Move(context.Background(), s, pos, m)
	if err != nil {
		t.Fatal(err)
	}
	slot := ""
	for _, m := range p.After(s, made).Pieces {
		if m.Square >= chess.NoSquare {
			slot = p.rig.Beside(m.At)
		}
	}
	var ends []string
	for n, step := range made.Steps {
		if step.Piece == chess.MakePiece(chess.Black, chess.Pawn) {
			from, to := made.Ends(n, p.rig.Beside)
			ends = append(ends, fmt.Sprint(step.Do, " ", from, " ", to))
		}
	}
	if want := []string{"grip d5 d5", "carry d5 " + slot, "release " + slot + " " + slot}; slot == "" || slot == "beside" || !slices.Equal(ends, want) {
		t.Errorf("%q, want %q", ends, want)
	}
}

// Taking a guest's capture back is one question where nothing is carried.
func TestTakeBackAsksOnce(t *testing.T) {
	p := planner(t, nil)
	before, err := chess.ParseFEN("4k3/8/8/3p4/4P3/8/8/4K3 w - - 0 1")
	if err != nil {
		t.Fatal(err)
	}
	m, err := before.ParseUCI("e4d5")
	if err != nil {
		t.Fatal(err)
	}
	after := before.After(m)
	plan, err := p.TakeBack(context.Background(), p.scene(&after, seeded(t, 3), 0), before, m)
	if err != nil {
		t.Fatal(err)
	}
	if plan.Asks() != 1 || !strings.Contains(plan.Steps[0].Text, "from d5 to e4 and put a black pawn on d5.") || len(plan.Steps[0].Single()) != 2 {
		t.Errorf("asked: %+v", plan.Steps)
	}
}

// What is left of a plan is planned for where the pieces are now.
func TestRestGoesOn(t *testing.T) {
	p := planner(t, withTrays)
	pos, err := chess.ParseFEN("4k3/8/8/3p4/4P3/8/8/4K3 b - - 0 1")
	if err != nil {
		t.Fatal(err)
	}
	m, err := pos.ParseUCI("d5e4")
	if err != nil {
		t.Fatal(err)
	}
	s := p.scene(&pos, seeded(t, 5), 0)
	plan, err := p.Move(context.Background(), s, pos, m)
	if err != nil {
		t.Fatal(err)
	}
	d := p.builder(s)
	d.pieces[d.on(m.From())].At.X += 0.002
	s = Scene{Pieces: d.pieces, Carriage: s.Carriage}
	again, err := p.Rest(context.Background(), s, plan.Steps)
	if err != nil {
		t.Fatal(err)
	}
	after := pos.After(m)
	if err := p.fits(p.After(s, again), &after); err != nil || again.Asks() > 0 {
		t.Errorf("%d questions, %v", again.Asks(), err)
	}
}
