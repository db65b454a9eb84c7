// SPDX-License-Identifier: Apache-2.0

package carry

import (
	"context"
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"boardhand/internal/carry/plan"
	"boardhand/internal/carry/validate"
	"boardhand/internal/game"
	"boardhand/internal/rehearsal/fixture"
	"boardhand/internal/rig"
)

// slides is a game that is not chess, as small as rules can be: on five by five
// squares a disc, low or tall, slides along a rank or file as far as it is free, and
// pushes off the board whoever of the other side it comes to stand on.
type slides struct {
	set  game.Setting
	side game.Color
}

var (
	fiveByFive = game.Board{Files: 5, Ranks: 5, Square: 0.04}
	slideStart = "tdddt/5/5/5/TDDDT"
)

// moves lists the changes that the side to move may make.
func (g *slides) moves() (out []Change) {
	for _, from := range fiveByFive.Squares() {
		piece := g.set.At(from)
		if piece == game.NoPiece || piece.Color() != g.side {
			continue
		}
		for _, step := range [][2]int{{0, 1}, {0, -1}, {1, 0}, {-1, 0}} {
			f, r := from.File()+step[0], from.Rank()+step[1]
			for ; f >= 0 && f < 5 && r >= 0 && r < 5; f, r = f+step[0], r+step[1] {
				to := game.SquareAt(f, r)
				there := g.set.At(to)
				if there != game.NoPiece && there.Color() == g.side {
					break
				}
				out = append(out, g.move(game.Act{Piece: piece, From: from, To: to}))
				if there != game.NoPiece {
					break
				}
			}
		}
	}
	return out
}

func (g *slides) move(a game.Act) Change {
	before, after := g.set, g.set
	var acts []game.Act
	if taken := before.At(a.To); taken != game.NoPiece {
		acts = append(acts, game.Act{Piece: taken, From: a.To, To: game.NoSquare})
	}
	acts = append(acts, a)
	after.Do(acts)
	return Change{Name: fmt.Sprintf("%v%v", a.From, a.To), Before: &before, After: &after, Acts: acts}
}

// slideRig is a rig with discs for pieces, on five by five squares.
func slideRig(t *testing.T) *rig.Rig {
	t.Helper()
	r, err := rig.Parse("slides.toml", []byte(fixture.Discs(t)), rig.Machine)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// slidePlanner is a planner for slides, with magnets in all bases and a tray.
func slidePlanner(t *testing.T) *Planner {
	t.Helper()
	r := slideRig(t)
	withTrays(r)
	kinds := *r.Pieces.Kinds()
	start, err := kinds.ParsePlacement(fiveByFive, slideStart)
	if err != nil {
		t.Fatal(err)
	}
	p, err := NewPlannerFor(Game{Files: 5, Ranks: 5, Kinds: kinds, Start: &start}, r)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func (p *Planner) standing(set game.Layout) (s plan.Scene) {
	for _, sq := range p.squares.Squares() {
		if piece := set.At(sq); piece != game.NoPiece {
			s.Pieces = append(s.Pieces, p.Stand(piece, sq, p.Centre(sq)))
		}
	}
	return s
}

// A game of another kind goes through planner and validator: its moves are made,
// finished when half done, and taken back, and its pieces set up again.
func TestAnotherGameOnTheSameMachine(t *testing.T) {
	p := slidePlanner(t)
	start := p.start.(*game.Setting)
	g := &slides{set: *start}
	scene := p.standing(start)
	const seed = 7
	t.Log("seed", seed)
	rnd := rand.New(rand.NewPCG(seed, 0))
	captures := 0
	for ply := range 12 {
		all := g.moves()
		c := all[rnd.IntN(len(all))]
		made, err := p.Make(context.Background(), scene, c)
		if err != nil || made.Doubt != "" {
			t.Fatalf("ply %d, %s on %s: %v %s", ply, c.Name, p.kinds.Placement(fiveByFive, &g.set), err, made.Doubt)
		}
		captures += len(c.Acts) - 1
		then := p.After(scene, made)
		if err := p.fits(then, c.After); err != nil {
			t.Fatal(err)
		}
		back, err := p.Undo(context.Background(), then, c)
		if err != nil || back.Doubt != "" || made.Asks()+back.Asks() > 0 {
			t.Errorf("%s taken back: %v, %s, %d and %d questions", c.Name, err, back.Doubt, made.Asks(), back.Asks())
		} else if err := p.fits(p.After(then, back), c.Before); err != nil {
			t.Error(err)
		}
		scene, g.set, g.side = then, *c.After.(*game.Setting), g.side.Other()
	}
	if captures == 0 {
		t.Error("nothing was captured: take another seed")
	}
	again, _, err := p.SetUp(context.Background(), scene)
	if err != nil || again.Asks() > 0 {
		t.Fatalf("%v, %d questions", err, again.Asks())
	}
	if err := p.fits(p.After(scene, again), start); err != nil {
		t.Error(err)
	}
}

// What is left of a capture is planned when the captured piece is off already.
func TestAnotherGameIsFinished(t *testing.T) {
	p := slidePlanner(t)
	set, err := p.kinds.ParsePlacement(fiveByFive, "d4/5/5/5/T4")
	if err != nil {
		t.Fatal(err)
	}
	g := &slides{set: set}
	c := g.move(game.Act{Piece: game.MakePiece(game.White, p.kinds.Lettered('T')), From: game.SquareAt(0, 0), To: game.SquareAt(0, 4)})
	half := set
	half.Do(c.Acts[:1])
	rest, err := p.Finish(context.Background(), p.standing(&half), c)
	if err != nil || rest.Doubt != "" || len(rest.Steps) != 4 {
		t.Errorf("%v %s: %v", err, rest.Doubt, rest.Steps)
	}
}

// The validator knows the game's board: a piece off it is not on a square.
func TestValidatorKnowsTheBoard(t *testing.T) {
	p := slidePlanner(t)
	set, err := p.kinds.ParsePlacement(fiveByFive, "5/5/5/5/T4")
	if err != nil {
		t.Fatal(err)
	}
	off := game.SquareAt(5, 0)
	g := &slides{set: set}
	c := g.move(game.Act{Piece: game.MakePiece(game.White, p.kinds.Lettered('T')), From: game.SquareAt(0, 0), To: game.SquareAt(4, 0)})
	made, err := p.Make(context.Background(), p.standing(&set), c)
	if err != nil {
		t.Fatal(err)
	}
	for i := range made.Steps {
		if made.Steps[i].Do == plan.Carry {
			made.Steps[i].To = off
		}
	}
	err = validate.New(p.board, p.limits.Limits).CheckTo(p.standing(&set), made, c.After)
	if err == nil || !strings.Contains(err.Error(), "no square of this board") {
		t.Errorf("a piece on %v passes: %v", off, err)
	}
}

// A game wants its squares: chess is not planned on five by five.
func TestGameLargerThanTheField(t *testing.T) {
	r := rig.Default()
	r.Board.Files, r.Board.Ranks = 5, 5
	if _, err := NewPlanner(r); err == nil || !strings.Contains(err.Error(), "takes 8 × 8 squares and the rig's board has 5 × 5") {
		t.Errorf("%v", err)
	}
}

// A game wants its pieces: chess is not planned with discs.
func TestGameWithOtherPieces(t *testing.T) {
	r := slideRig(t)
	r.Board.Files, r.Board.Ranks = 8, 8
	want := `the rig's are tall_disc, disc: set pieces.kinds to ["king", "queen", "bishop", "knight", "rook", "pawn"]`
	if _, err := NewPlanner(r); err == nil || !strings.Contains(err.Error(), want) {
		t.Errorf("%v", err)
	}
}

// Pieces of another game are called what its rig calls them: by the plan, by who
// checks it, and by the drawing.
func TestPiecesOfAnotherGameHaveTheirNames(t *testing.T) {
	p := slidePlanner(t)
	set, err := p.kinds.ParsePlacement(fiveByFive, "5/5/5/5/T4")
	if err != nil {
		t.Fatal(err)
	}
	g := &slides{set: set}
	c := g.move(game.Act{Piece: game.MakePiece(game.White, p.kinds.Lettered('T')), From: game.SquareAt(0, 0), To: game.SquareAt(4, 0)})
	scene := p.standing(&set)
	made, err := p.Make(context.Background(), scene, c)
	if err != nil {
		t.Fatal(err)
	}
	text, err := plan.JSON(made, plan.Told{Kinds: p.kinds, Places: p.rig.Beside})
	if err != nil || !strings.Contains(string(text), `"piece":"white tall disc"`) {
		t.Errorf("%v: %s", err, text)
	}
	if drawn := string(p.SVG(scene, made)); !strings.Contains(drawn, "carry white tall disc a1–e1") || !strings.Contains(drawn, ">T<") {
		t.Errorf("the drawing says nothing of a tall disc: %s", drawn)
	}
	made.Steps = made.Steps[:len(made.Steps)-1]
	if err := p.Check(scene, made); err == nil || err.Error() != "the plan ends with the white tall disc still held" {
		t.Errorf("the validator says: %v", err)
	}
	scene.Pieces[0].Magnet = false
	made, err = p.Make(context.Background(), scene, c)
	if err != nil || made.Steps[0].Text != "Please move the white tall disc from a1 to e1." {
		t.Errorf("%v: a person is asked %q", err, made.Steps[0].Text)
	}
}
