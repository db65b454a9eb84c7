// SPDX-License-Identifier: Apache-2.0

package carry

import (
	"context"
	"fmt"
	"strings"
	"testing"

	planning "boardhand/internal/carry/plan"
	"boardhand/internal/chess"
	"boardhand/internal/lanes"
	"boardhand/internal/rig"
)

// outline is a plan as short text: what is done to which, without travel.
func outline(plan Plan) string {
	var out []string
	for _, s := range plan.Steps {
		switch s.Do {
		case Carry:
			words := fmt.Sprintf("carry %c %s-%s", s.Piece.Letter(), planning.Place(s.From), planning.Place(s.To))
			if s.Text != "" {
				words += " (" + s.Text + ")"
			}
			out = append(out, words)
		case Ask:
			out = append(out, s.Text)
		}
	}
	return strings.Join(out, "; ")
}

const startFEN = "rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR w KQkq - 0 1"

func chute(r *rig.Rig) {
	r.Pieces.Carried = "both"
	r.Removal.Mode = "chute"
	r.Removal.Chute[0], r.Removal.Chute[1] = 0.165, 0
	r.Axis.X.Travel, r.Axis.X.Origin = 0.360, 0.180
	r.Walls.Left, r.Walls.Right = 0.220, 0.220
}

func TestMovesOfEveryKind(t *testing.T) {
	for _, c := range []struct {
		name, fen, move string
		change          func(*rig.Rig)
		want            string
	}{
		{"quiet", "rnbqkbnr/pppppppp/8/8/4P3/8/PPPP1PPP/RNBQKBNR b KQkq - 0 1", "g8f6", nil, "carry n g8-f6"},
		{"guest's side without magnets", startFEN, "g1f3", nil, "Please move the white knight from g1 to f3."},
		{"guest's side with magnets", startFEN, "g1f3", withTrays, "carry N g1-f3"},
		{"capture by hand", "rnbqkbnr/ppp1pppp/8/3p4/4P3/8/PPPP1PPP/RNBQKBNR b KQkq - 0 2", "d5e4", nil,
			"Please take the white pawn off e4.; carry p d5-e4"},
		{"capture to the tray", "rnbqkbnr/ppp1pppp/8/3p4/4P3/8/PPPP1PPP/RNBQKBNR b KQkq - 0 2", "d5e4", withTrays,
			"carry P e4-beside; carry p d5-e4"},
		{"capture to the chute", "rnbqkbnr/ppp1pppp/8/3p4/4P3/8/PPPP1PPP/RNBQKBNR b KQkq - 0 2", "d5e4", chute,
			"carry P e4-beside; carry p d5-e4"},
		{"short castling", "rnbqk2r/pppp1ppp/5n2/2b1p3/2B1P3/5N2/PPPP1PPP/RNBQK2R b KQkq - 0 1", "e8g8", nil,
			"carry k e8-g8; carry r h8-f8"},
		{"long castling", "r3kbnr/pppqpppp/2n5/3p1b2/3P1B2/2N5/PPPQPPPP/R3KBNR b KQkq - 0 1", "e8c8", nil,
			"carry k e8-c8; carry r a8-d8"},
		{"en passant", "rnbqkbnr/ppp1pppp/8/8/3pP3/8/PPPP1PPP/RNBQKBNR b KQkq e3 0 1", "d4e3", nil,
			"Please take the white pawn off e4.; carry p d4-e3"},
		{"promotion by hand", "4k3/8/8/8/8/8/p6K/8 b - - 0 1", "a2a1q", nil,
			"carry p a2-a1; Please put a black queen on a1 in place of the black pawn."},
		{"promotion with capture", "4k3/8/8/8/8/8/p6K/1N6 b - - 0 1", "a2b1n", nil,
			"Please take the white knight off b1.; carry p a2-b1; Please put a black knight on b1 in place of the black pawn."},
	} {
		p := planner(t, c.change)
		pos := position(t, c.fen)
		m, err := pos.ParseUCI(c.move)
		if err != nil {
			t.Fatal(err)
		}
		plan, err := p.Move(context.Background(), p.scene(&pos, nil, 0), pos, m)
		if err != nil || plan.Doubt != "" {
			t.Fatalf("%s: %v %s", c.name, err, plan.Doubt)
		}
		if got := outline(plan); got != c.want {
			t.Errorf("%s:\n got %s\nwant %s", c.name, got, c.want)
		}
	}
}

func TestPromotionFromTheTray(t *testing.T) {
	p := planner(t, withTrays)
	pos := position(t, "4k3/8/8/8/8/8/p6K/8 b - - 0 1")
	s := p.scene(&pos, nil, 0)
	slot := p.rig.Slots()[20]
	s.Pieces = append(s.Pieces, p.Stand(chess.MakePiece(chess.Black, chess.Queen), chess.NoSquare, slot))
	m, err := pos.ParseUCI("a2a1q")
	if err != nil {
		t.Fatal(err)
	}
	plan, err := p.Move(context.Background(), s, pos, m)
	if err != nil || plan.Doubt != "" {
		t.Fatal(err, plan.Doubt)
	}
	if got, want := outline(plan), "carry p a2-a1; carry p a1-beside; carry q beside-a1"; got != want {
		t.Errorf("got %s, want %s", got, want)
	}
}

func TestTakeBack(t *testing.T) {
	for _, c := range []struct {
		name, fen, move string
		change          func(*rig.Rig)
		want            string
	}{
		{"quiet", "rnbqkbnr/pppppppp/8/8/4P3/8/PPPP1PPP/RNBQKBNR b KQkq - 0 1", "g8f6", nil, "carry n f6-g8"},
		{"capture by hand", "rnbqkbnr/ppp1pppp/8/3p4/4P3/8/PPPP1PPP/RNBQKBNR b KQkq - 0 2", "d5e4", nil,
			"carry p e4-d5; Please put a white pawn on e4."},
		{"capture from the tray", "rnbqkbnr/ppp1pppp/8/3p4/4P3/8/PPPP1PPP/RNBQKBNR b KQkq - 0 2", "d5e4", withTrays,
			"carry p e4-d5; carry P beside-e4"},
		{"castling", "rnbqk2r/pppp1ppp/5n2/2b1p3/2B1P3/5N2/PPPP1PPP/RNBQK2R b KQkq - 0 1", "e8g8", nil,
			"carry k g8-e8; carry r f8-h8"},
		{"en passant", "rnbqkbnr/ppp1pppp/8/8/3pP3/8/PPPP1PPP/RNBQKBNR b KQkq e3 0 1", "d4e3", withTrays,
			"carry p e3-d4; carry P beside-e4"},
		{"promotion", "4k3/8/8/8/8/8/p6K/8 b - - 0 1", "a2a1q", nil,
			"Please put a black pawn on a1 in place of the black queen.; carry p a1-a2"},
	} {
		p := planner(t, c.change)
		pos := position(t, c.fen)
		m, err := pos.ParseUCI(c.move)
		if err != nil {
			t.Fatal(err)
		}
		s := p.scene(&pos, nil, 0)
		plan, err := p.Move(context.Background(), s, pos, m)
		if err != nil || plan.Doubt != "" {
			t.Fatalf("%s: %v %s", c.name, err, plan.Doubt)
		}
		back, err := p.TakeBack(context.Background(), p.After(s, plan), pos, m)
		if err != nil || back.Doubt != "" {
			t.Fatalf("%s: %v %s", c.name, err, back.Doubt)
		}
		if got := outline(back); got != c.want {
			t.Errorf("%s:\n got %s\nwant %s", c.name, got, c.want)
		}
	}
}

// A knight behind a wall of broad-footed own pawns: one pawn makes way and
// returns; behind a wall of the guest's pieces the guest is asked.
func TestNoLane(t *testing.T) {
	p := planner(t, withBases(0.62))
	pos := position(t, "rnbqkbnr/pppppppp/8/8/4P3/8/PPPP1PPP/RNBQKBNR b KQkq - 0 1")
	m, err := pos.ParseUCI("g8f6")
	if err != nil {
		t.Fatal(err)
	}
	s := p.scene(&pos, nil, 0)
	plan, err := p.Move(context.Background(), s, pos, m)
	if err != nil || plan.Doubt != "" {
		t.Fatal(err, plan.Doubt)
	}
	if plan.Asides != 1 || plan.Asks() != 0 || !strings.Contains(outline(plan), "steps aside") || !strings.Contains(outline(plan), "returns") {
		t.Errorf("want one piece to step aside and return, got %s", outline(plan))
	}
	walled := position(t, "4k3/8/2PPP3/2PnP3/2PPP3/8/8/4K3 b - - 0 1")
	if m, err = walled.ParseUCI("d5b6"); err != nil {
		t.Fatal(err)
	}
	plan, err = p.Move(context.Background(), p.scene(&walled, nil, 0), walled, m)
	if err != nil || plan.Doubt != "" {
		t.Fatal(err, plan.Doubt)
	}
	if got, want := outline(plan), "Please move the black knight from d5 to b6: no lane is free for it."; got != want {
		t.Errorf("got %s, want %s", got, want)
	}
}

// A guest's piece that stands askew and shuts the only lane is to be set
// straight.
func TestGuestIsAskedToSetAManStraight(t *testing.T) {
	p := planner(t, withBases(0.44))
	pos := position(t, "4k3/8/2PPP3/2PnP3/2PPP3/8/8/4K3 b - - 0 1")
	s := p.scene(&pos, nil, 0)
	in := map[string][2]float64{"c6": {0.1, -0.1}, "e6": {-0.1, -0.1}, "c4": {0.1, 0.1}, "e4": {-0.1, 0.1}} // of the square
	for i := range s.Pieces {
		k := in[s.Pieces[i].Square.String()]
		s.Pieces[i].At = s.Pieces[i].At.Add(lanes.Spot{X: k[0] * p.side, Y: k[1] * p.side})
	}
	m, err := pos.ParseUCI("d5b6")
	if err != nil {
		t.Fatal(err)
	}
	plan, err := p.Move(context.Background(), s, pos, m)
	if err != nil || plan.Doubt != "" {
		t.Fatal(err, plan.Doubt)
	}
	if got, want := outline(plan), "Please set the white pawn on c6 in the middle of its square.; carry n d5-b6"; got != want {
		t.Errorf("got %s, want %s", got, want)
	}
}

func TestWhatCannotBePlanned(t *testing.T) {
	p := planner(t, nil)
	pos := chess.Start()
	s := p.scene(&pos, nil, 0)
	if _, err := p.Move(context.Background(), s, pos, chess.MakeMove(0, 63, 0)); err == nil {
		t.Error("an illegal move was planned")
	}
	short := Scene{Pieces: s.Pieces[1:]}
	if _, err := p.Move(context.Background(), short, pos, chess.MakeMove(chess.SquareAt(6, 0), chess.SquareAt(5, 2), 0)); err == nil {
		t.Error("a scene that lacks a piece was planned for")
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := p.Move(ctx, s, pos, chess.MakeMove(chess.SquareAt(6, 0), chess.SquareAt(5, 2), 0)); err == nil {
		t.Error("planning did not stop for a cancelled context")
	}
	if _, err := p.Straighten(context.Background(), s, 0, 1); err == nil {
		t.Error("a piece was brought to a square where another stands")
	}
}
