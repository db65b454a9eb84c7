// SPDX-License-Identifier: Apache-2.0

package lookout

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"

	"boardhand/internal/carry/plan"
	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/notice"
	"boardhand/internal/photo"
	"boardhand/internal/sight"
	"boardhand/internal/table/desk"
	"boardhand/internal/table/journal"
	"boardhand/internal/table/model"
	"boardhand/internal/table/places"
	"boardhand/internal/table/view"
	"boardhand/internal/unit"
)

// paper is a stroke that is watched by a script, a word a picture:
//
//	clear | hand | lies (a thing on the way) | none (no picture)
type paper struct {
	script  []string
	did     []string // what the gantry was told
	said    []string
	kept    []journal.Happening
	asked   []sight.Way // what the guard was asked, a picture each
	holdErr error
	logErr  error
	board   [64]chess.Piece // what single squares show
	model   *model.Model
}

func (p *paper) During(ctx context.Context, stroke func(context.Context) error, look func(context.Context, photo.Picture, error)) error {
	for _, w := range p.script {
		var err error
		if w == "none" {
			err = errors.New("no picture came")
		}
		look(ctx, photo.Picture{Name: w}, err)
	}
	return stroke(ctx)
}

func (p *paper) InWay(_ context.Context, pic photo.Picture, w sight.Way) (sight.Obstacle, error) {
	p.asked = append(p.asked, w)
	switch pic.Name {
	case "hand":
		return sight.Obstacle{IsHand: true, Squares: []chess.Square{chess.SquareAt(4, 3)}}, nil
	case "lies":
		return sight.Obstacle{Squares: []chess.Square{chess.SquareAt(0, 4)}}, nil
	}
	return sight.Obstacle{}, nil
}

func (p *paper) Hold() error                   { p.did = append(p.did, "hold"); return p.holdErr }
func (p *paper) Resume() error                 { p.did = append(p.did, "go on"); return nil }
func (p *paper) At() frame.Spot[frame.Machine] { return frame.Spot[frame.Machine]{X: -0.138, Y: 0.1} } // beside b7

func (p *paper) Append(_ context.Context, r journal.Record) error {
	p.kept = append(p.kept, r.What)
	return p.logErr
}

func (p *paper) Tell(_ context.Context, n notice.Notice) error {
	p.said = append(p.said, n.Text)
	return nil
}

func (p *paper) Ask(context.Context, notice.Question) (int, error) { return 0, errors.New("not asked") }

func (p *paper) Glance(context.Context, photo.Picture) (sight.Reading, error) {
	return sight.Reading{State: sight.Same}, nil
}

func (p *paper) Present(at []frame.Spot[frame.Board]) []sight.Presence {
	out := make([]sight.Presence, len(at))
	for q := range out {
		out[q] = sight.Presence{Open: true, Belief: 0.001, Sure: 0.5, At: at[q], Found: at[q]}
		if piece := p.board[q]; piece != chess.NoPiece {
			out[q].Belief, out[q].Sure, out[q].Side = 0.999, 0.999, piece.Color()
		}
	}
	return out
}

func (p *paper) Strangers([]frame.Spot[frame.Board]) []sight.Stray { return nil }

func (p *paper) Seek(chess.Square, []chess.Square) (sight.Stray, bool) { return sight.Stray{}, false }

// run has the rook carried from a8 to a1 while the script is seen.
func (p *paper) run(t *testing.T) error {
	t.Helper()
	pos, err := chess.ParseFEN("r3k3/1R6/8/8/8/8/4K3/8 b - - 0 1")
	if err != nil {
		t.Fatal(err)
	}
	rook := chess.MakePiece(chess.Black, chess.Rook)
	m := model.NewModel(model.Machine{Side: chess.Black, Layout: places.Layout{Square: unit.MM(40)}}, journal.Past{Game: chess.NewGame(pos)})
	m.Bases[chess.Rook] = unit.MM(16)
	if p.model = m; p.board == [64]chess.Piece{} {
		p.board = m.Now.Board
	}
	d := desk.NewDesk(m, p, p, "")
	l := New(Parts{Watch: p, Guard: p, Holder: p, OnBoard: func(s frame.Spot[frame.Machine]) frame.Spot[frame.Board] { return frame.Spot[frame.Board](s) }},
		d, m, view.NewView(view.Sources{Witness: p}, d, m))
	way := []frame.Spot[frame.Board]{m.Layout.Centre(chess.SquareAt(0, 7)), m.Layout.Centre(chess.SquareAt(0, 0))}
	step := plan.Step{Do: plan.Carry, Piece: rook, From: chess.SquareAt(0, 7), To: chess.SquareAt(0, 0), Path: way, PiecePath: way}
	return l.While(t.Context(), step, func(ctx context.Context) error {
		if ctx.Err() != nil {
			p.did = append(p.did, "called off")
			return ctx.Err()
		}
		p.did = append(p.did, "arrives")
		return nil
	})
}

func words(w string, n int) []string { return slices.Repeat([]string{w}, n) }

func TestWatchOverAStroke(t *testing.T) {
	for name, c := range map[string]struct {
		script []string
		did    string
		says   string // part of the last sentence
		putOff bool
	}{
		"nobody reaches in":                 {words("clear", 5), "arrives", "", false},
		"no picture comes":                  {words("none", 99), "arrives", "", false},
		"things that lie there need a hand": {words("lies", 9), "arrives", "", false},
		"a hand that goes":                  {[]string{"hand", "hand", "clear", "clear"}, "hold, go on, arrives", "Thank you. I go on", false},
		"two reaches are one visit":         {[]string{"hand", "clear", "hand", "clear", "none", "clear", "clear"}, "hold, go on, arrives", "Thank you", false},
		"a hand that comes again":           {[]string{"hand", "clear", "clear", "hand", "clear", "clear"}, "hold, go on, hold, go on, arrives", "Thank you", false},
		"a hand that stays a while":         {append(words("hand", handAfter+1), "hand"), "hold, arrives, go on", "I still see a hand, or a thing, at e4", false},
		"a hand that stays for good":        {words("hand", longest+5), "hold, called off, go on", "I still see a hand", true},
		"a camera that dies meanwhile":      {append([]string{"hand"}, words("none", longest)...), "hold, called off, go on", "I stand still", true},
		"a thing that is taken away":        {[]string{"hand", "lies", "lies", "lies", "clear", "clear"}, "hold, go on, arrives", "Thank you", false},
		"a thing that stays":                {append([]string{"hand"}, words("lies", longest)...), "hold, called off, go on", "Something stands in my way: please clear a5", true},
	} {
		p := &paper{script: c.script}
		err := p.run(t)
		var way *InWay
		if errors.As(err, &way) != c.putOff || err != nil && !c.putOff {
			t.Errorf("%s: %v", name, err)
		}
		if did := strings.Join(p.did, ", "); did != c.did {
			t.Errorf("%s: the gantry was told %q, want %q", name, did, c.did)
		}
		last := ""
		if len(p.said) > 0 {
			last = p.said[len(p.said)-1]
		}
		if !strings.Contains(last, c.says) || c.says == "" && last != "" {
			t.Errorf("%s: said %q", name, p.said)
		}
	}
}

// What lies on the way is asked for only while the carriage stands, from where it stands
// on; the places of the piece itself are left out.
func TestTheWayThatIsAskedFor(t *testing.T) {
	p := &paper{script: []string{"hand", "clear", "clear"}}
	if err := p.run(t); err != nil {
		t.Fatal(err)
	}
	if len(p.asked[0].Path) > 0 {
		t.Errorf("while it runs the guard is asked for %v", p.asked[0])
	}
	w := p.asked[1]
	if len(w.Path) == 0 || w.Path[0].Distance(frame.Spot[frame.Board]{X: -0.14, Y: 0.1}) > 1e-9 || w.Reach != 0.008 || len(w.Own) != 2 {
		t.Errorf("while it stands: %+v", w)
	}
}

// A guest who has moved is put right, though their piece stood beside the carriage; one whose piece stands on the way is asked for it,
// and where it stays the plan to come knows that it stands there.
func TestGuestWhoMoves(t *testing.T) {
	moved := func(to chess.Square) *paper {
		p := &paper{script: append([]string{"hand"}, words("clear", longest)...)}
		pos, _ := chess.ParseFEN("r3k3/8/8/8/8/8/4K3/8 b - - 0 1")
		p.board = places.BoardOf(pos)
		p.board[to] = chess.MakePiece(chess.White, chess.Rook)
		return p
	}
	p := moved(chess.SquareAt(1, 2))
	if err := p.run(t); err != nil || len(p.said) != 2 || p.said[1] != fmt.Sprintf("I am still at my move: I have seen the %v go from b7 to b3, and take it for your answer once I have finished, if the rules allow it.", chess.MakePiece(chess.White, chess.Rook)) {
		t.Errorf("%v, said %q", err, p.said)
	}
	p = moved(chess.SquareAt(0, 2))
	err := p.run(t)
	var way *InWay
	if !errors.As(err, &way) || len(p.said) != 2 || !strings.Contains(p.said[1], "please clear a3") {
		t.Errorf("%v, said %q", err, p.said)
	}
	if b := p.model.Now.Board; b[chess.SquareAt(0, 2)] != chess.MakePiece(chess.White, chess.Rook) || b[chess.SquareAt(1, 6)] != chess.NoPiece {
		t.Error("the plan to come does not know where the guest's rook stands")
	}
}

// A gantry that cannot be held is stopped; a log that cannot be written ends the stroke.
func TestWhatFails(t *testing.T) {
	p := &paper{script: []string{"hand", "clear"}, holdErr: errors.New("the wire broke")}
	var way *InWay
	if err := p.run(t); !errors.As(err, &way) || strings.Join(p.did, ", ") != "hold, called off" {
		t.Errorf("%v after %q", err, p.did)
	}
	p = &paper{script: []string{"hand", "clear"}, logErr: errors.New("the disk is full")}
	var log *desk.LogError
	if err := p.run(t); !errors.As(err, &log) || strings.Join(p.did, ", ") != "hold, called off, go on" {
		t.Errorf("%v after %q", err, p.did)
	}
}

// Without somebody to watch, or for a step that carries nothing, a stroke is just run.
func TestNobodyWatches(t *testing.T) {
	var l *Lookout
	if New(Parts{}, nil, nil, nil) != nil {
		t.Error("a lookout without parts")
	}
	if err := l.While(t.Context(), plan.Step{Do: plan.Carry}, func(context.Context) error { return nil }); err != nil {
		t.Error(err)
	}
}
