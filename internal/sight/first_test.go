// SPDX-License-Identifier: Apache-2.0

package sight_test

import (
	"context"
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"testing"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/rig"
	"boardhand/internal/sight"
	"boardhand/internal/twin"
)

// seeds are as many twins as there is time for.
func seeds(few, many int64) int64 {
	if os.Getenv("BOARDHAND_LONG") != "" {
		return many
	}
	return few
}

// twinTable is a twin's table and a reader that was told a position.
type twinTable struct {
	world  *twin.World
	reader *sight.Reader
}

// setTable sets a table and tells the reader what stands there.
func setTable(t *testing.T, o twin.Options, said chess.Position) *twinTable {
	t.Helper()
	r := rig.Default()
	w, err := twin.New(r, o)
	if err != nil {
		t.Fatal(err)
	}
	setup, err := sight.SetupFrom(r)
	if err != nil {
		t.Fatal(err)
	}
	b := &twinTable{w, sight.NewReader(setup)}
	b.reader.Begin(said)
	return b
}

// look reads the next picture without a hand over the table.
func (b *twinTable) look(t *testing.T) sight.Reading {
	t.Helper()
	p, err := b.world.Camera().Look(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	got, err := b.reader.Read(context.Background(), p)
	if err != nil {
		t.Fatal(err)
	}
	return got
}

// someGame plays some moves by chance.
func someGame(rng *rand.Rand, plies int) chess.Position {
	pos := chess.Start()
	for range plies {
		moves := pos.LegalMoves(nil)
		if len(moves) == 0 {
			break
		}
		pos = pos.After(moves[rng.IntN(len(moves))])
	}
	return pos
}

// board is what stands on the squares of a position.
func board(pos chess.Position) []chess.Piece {
	out := make([]chess.Piece, 64)
	for s := range out {
		out[s] = pos.At(chess.Square(s))
	}
	return out
}

// anySquare is a square of a position on which a piece stands, kings apart, or none.
func anySquare(rng *rand.Rand, pos chess.Position, full bool) chess.Square {
	for {
		s := chess.Square(rng.IntN(64))
		if p := pos.At(s); (p != chess.NoPiece) == full && p.Kind() != chess.King {
			return s
		}
	}
}

// wrongBoards set up something else than a position on the twin.
var wrongBoards = map[string]func(rng *rand.Rand, pos chess.Position, o *twin.Options){
	"a piece too many": func(rng *rand.Rand, pos chess.Position, o *twin.Options) {
		o.Pieces = board(pos)
		o.Pieces[anySquare(rng, pos, false)] = chess.MakePiece(chess.Color(rng.IntN(2)), chess.Kind(1+rng.IntN(5)))
	},
	"a piece missing": func(rng *rand.Rand, pos chess.Position, o *twin.Options) {
		o.Pieces = board(pos)
		o.Pieces[anySquare(rng, pos, true)] = chess.NoPiece
	},
	"the wrong side": func(rng *rand.Rand, pos chess.Position, o *twin.Options) {
		o.Pieces = board(pos)
		s := anySquare(rng, pos, true)
		o.Pieces[s] = chess.MakePiece(o.Pieces[s].Color().Other(), o.Pieces[s].Kind())
	},
	"a piece on a line": func(rng *rand.Rand, pos chess.Position, o *twin.Options) {
		r := rig.Default()
		side := float64(r.Board.Square)
		for {
			s := anySquare(rng, pos, false)
			next := chess.SquareAt(s.File(), min(7, s.Rank()+1))
			if next == s || pos.At(next) != chess.NoPiece {
				continue
			}
			at := r.Board.Centre(s.File(), s.Rank()).Add(frame.Spot[frame.Board]{X: 0.2 * side * rng.Float64(), Y: side / 2})
			o.Beside = []twin.Aside{{Piece: chess.MakePiece(chess.Color(rng.IntN(2)), chess.Kind(1+rng.IntN(5))), At: &at}}
			return
		}
	},
}

// A first picture is the position only if every place says so by itself: with a
// piece too many, missing, of the wrong side or on a line it never is.
func TestFirstPictureProves(t *testing.T) {
	for name, set := range wrongBoards {
		counts := map[sight.State]int{}
		for seed := range seeds(2, 25) {
			rng := rand.New(rand.NewPCG(uint64(seed), 51))
			pos := someGame(rng, 8+rng.IntN(60))
			o := twin.Options{Seed: 1000 + seed, FEN: pos.FEN()}
			set(rng, pos, &o)
			b := setTable(t, o, pos)
			got := b.look(t)
			counts[got.State]++
			if f := b.reader.BaseFactor(); f != 1 {
				t.Errorf("seed %d, %s: bases as told are measured as %.2f times as wide", seed, name, f)
			}
			if got.State == sight.Same || got.State == sight.Moved {
				t.Errorf("seed %d: %s, %s, is read as %s %v %.3f", seed, pos.FEN(), name, got.State, got.Move, got.Belief)
			}
		}
		t.Logf("%s: %v", name, counts)
	}
}

// A piece that stands right behind another, where the upper part of a taller one would be seen,
// is a stranger.
func TestStrayBehindAPiece(t *testing.T) {
	r := rig.Default()
	side := float64(r.Board.Square)
	for seed, kind := range []chess.Kind{chess.Pawn, chess.Rook} {
		at := r.Board.Centre(3, 0).Add(frame.Spot[frame.Board]{X: 0.03 * side, Y: -0.62 * side})
		o := twin.Options{Seed: int64(seed), Beside: []twin.Aside{{Piece: chess.MakePiece(chess.White, kind), At: &at}}}
		if got := setTable(t, o, chess.Start()).look(t); got.State == sight.Same {
			t.Errorf("with a %v behind d1 the board is read as %s %.3f", kind, got.State, got.Belief)
		}
	}
}

// A first picture of the position is the position: no false alarm.
func TestFirstPictureOfThePosition(t *testing.T) {
	counts := map[sight.State]int{}
	for seed := range seeds(4, 100) {
		rng := rand.New(rand.NewPCG(uint64(seed), 52))
		pos := chess.Start()
		if seed%2 == 1 {
			pos = someGame(rng, 8+rng.IntN(60))
		}
		got := setTable(t, twin.Options{Seed: 2000 + seed, FEN: pos.FEN()}, pos).look(t)
		counts[got.State]++
		if got.State != sight.Same {
			t.Errorf("seed %d: %s is read as %s %v %.3f", seed, pos.FEN(), got.State, got.Squares, got.Belief)
		}
	}
	t.Logf("%v", counts)
}

// Where bases are almost twice as wide as the rig file says, so that the first picture would not
// prove what stands there, they are measured in it, in a low lamp's shadows too.
func TestWideBases(t *testing.T) {
	measured, boards := 0, 0
	for seed := range seeds(3, 24) {
		for _, also := range [][]twin.Fault{nil, {twin.LowLamp}} {
			b := setTable(t, twin.Options{Seed: 2000 + seed, Faults: append(also, twin.WideFoot)}, chess.Start())
			boards++
			if got := b.look(t); got.State != sight.Same {
				t.Errorf("seed %d, %v: read as %s %v", seed, also, got.State, got.Squares)
			}
			f := b.reader.BaseFactor()
			if f == 1 { // the told ones proved it
				continue
			}
			measured++
			if math.Abs(f/1.9-1) > 0.2 || len(b.reader.Found()) != 1 {
				t.Errorf("seed %d, %v: bases 1.9 times as wide are measured as %.2f, found %q", seed, also, f, b.reader.Found())
			}
		}
	}
	if measured < boards/2 {
		t.Errorf("bases were measured on %d of %d boards", measured, boards)
	}
}

// What no picture has proved is not learnt: once the board is right it is read so.
func TestUnprovedIsNotLearnt(t *testing.T) {
	pos := chess.Start()
	pieces := board(pos)
	pieces[chess.SquareAt(3, 3)] = chess.MakePiece(chess.White, chess.Queen)
	b := setTable(t, twin.Options{Seed: 5, Pieces: pieces, Visitor: true}, pos)
	for range 2 {
		if got := b.look(t); got.State != sight.Illegal || fmt.Sprint(got.Squares) != "[d4]" {
			t.Fatalf("a queen too many on d4 is read as %s %v", got.State, got.Squares)
		}
	}
	if err := b.world.Visitor().MovePiece(chess.SquareAt(3, 3), chess.NoSquare); err != nil {
		t.Fatal(err)
	}
	var got sight.Reading
	for range 20 {
		if got = b.look(t); got.State == sight.Same {
			break
		}
	}
	if got.State != sight.Same {
		t.Errorf("without the queen the board is read as %s %v", got.State, got.Squares)
	}
}

// Each place says by itself who stands there, on squares and lines, and in the
// margin, whatever the position says.
func TestPresent(t *testing.T) {
	pos := chess.Start()
	r := rig.Default()
	side := float64(r.Board.Square)
	line := frame.Spot[frame.Board]{X: -0.5 * side, Y: -side}
	beside := frame.Spot[frame.Board]{X: 5.2 * side, Y: 0.4 * side}
	o := twin.Options{Seed: 3, Beside: []twin.Aside{{Piece: chess.MakePiece(chess.Black, chess.Rook), At: &line},
		{Piece: chess.MakePiece(chess.Black, chess.Knight), At: &beside}}}
	b := setTable(t, o, pos)
	if got := b.reader.Present([]frame.Spot[frame.Board]{line}); got[0].Open {
		t.Error("before the first picture a place is open")
	}
	b.look(t)
	a1, e4 := r.Board.Centre(0, 0), r.Board.Centre(4, 3)
	away := frame.Spot[frame.Board]{X: 30 * side}
	for i, want := range []struct {
		at    frame.Spot[frame.Board]
		open  bool
		there bool
		side  chess.Color
	}{{line, true, true, chess.Black}, {beside, true, true, chess.Black}, {a1, true, true, chess.White}, {e4, true, false, 0}, {away, false, false, 0}} {
		got := b.reader.Present([]frame.Spot[frame.Board]{want.at})[0]
		if got.Open != want.open || (got.Belief > 0.5) != want.there || want.there && (got.Side != want.side || got.Sure < 0.9) {
			t.Errorf("place %d: %+v", i, got)
		}
		if want.there && i < 2 && got.Found.Distance(want.at) > 3e-3 {
			t.Errorf("place %d is found %.1f mm off", i, got.Found.Distance(want.at)*1e3)
		}
	}
	strays := b.reader.Strangers(nil)
	if len(strays) != 1 || strays[0].At.Distance(line) > 3e-3 || strays[0].Side != chess.Black {
		t.Errorf("strangers: %+v, want the rook at %v", strays, line)
	}
	if got := b.reader.Strangers([]frame.Spot[frame.Board]{line}); len(got) != 0 {
		t.Errorf("strangers where one is known: %+v", got)
	}
}

// A piece that got stuck right beside one in the next slot is a stranger: that
// one does not explain it.
func TestStrangerBesideASlot(t *testing.T) {
	pos := chess.Start()
	r := rig.Default()
	r.Removal.Mode, r.Removal.Slots, r.Removal.Gap = "tray", 16, r.Board.Square
	slots := r.Slots()
	pitch := slots[1].Distance(slots[0])
	stands, stuck := slots[20], slots[20].Add(frame.Spot[frame.Board]{X: -0.55 * pitch, Y: 0.5 * pitch})
	setup, err := sight.SetupFrom(r)
	if err != nil {
		t.Fatal(err)
	}
	setup.Slots = slots
	pawn := chess.MakePiece(chess.White, chess.Pawn)
	w, err := twin.New(r, twin.Options{Seed: 4, Beside: []twin.Aside{{Piece: pawn, At: &stands}, {Piece: pawn, At: &stuck}}})
	if err != nil {
		t.Fatal(err)
	}
	b := &twinTable{w, sight.NewReader(setup)}
	b.reader.Begin(pos)
	b.look(t)
	got := b.reader.Strangers([]frame.Spot[frame.Board]{stands})
	if len(got) != 1 || got[0].Side != chess.White || got[0].At.Distance(stuck) > got[0].At.Distance(stands) {
		t.Errorf("strangers %+v, want one at %v, %.1f mm from the piece in the slot", got, stuck, stuck.Distance(stands)*1e3)
	}
}

// What a person says is the truth of the last picture: the same board is then
// read as that position, however it was read before.
func TestAgree(t *testing.T) {
	pos := chess.Start()
	pieces := board(pos)
	pieces[chess.SquareAt(3, 3)], pieces[chess.SquareAt(3, 1)] = pieces[chess.SquareAt(3, 1)], chess.NoPiece
	pieces[chess.SquareAt(4, 4)], pieces[chess.SquareAt(4, 6)] = pieces[chess.SquareAt(4, 6)], chess.NoPiece
	b := setTable(t, twin.Options{Seed: 6, Pieces: pieces}, pos)
	if got := b.look(t); got.State == sight.Same || got.State == sight.Moved {
		t.Fatalf("d4 e5 at once is read as %s %v", got.State, got.Move)
	}
	truth, err := chess.ParseFEN("rnbqkbnr/pppp1ppp/8/4p3/3P4/8/PPP1PPPP/RNBQKBNR w KQkq - 0 2")
	if err != nil {
		t.Fatal(err)
	}
	b.reader.Agree(truth)
	for range 2 {
		if got := b.look(t); got.State != sight.Same {
			t.Fatalf("after agreeing the board is read as %s %v", got.State, got.Squares)
		}
	}
	b.reader.Afresh()
	if got := b.look(t); got.State != sight.Same || b.reader.Position() != truth {
		t.Errorf("looked at afresh the board is read as %s %v", got.State, got.Squares)
	}
	b.reader.Reposition(pos)
	if got := b.look(t); got.State == sight.Same || got.State == sight.Moved {
		t.Errorf("a position that does not stand is read as %s %v", got.State, got.Move)
	}
	b.reader.Reposition(truth)
	if got := b.look(t); got.State != sight.Same {
		t.Errorf("put back, the board is read as %s %v", got.State, got.Squares)
	}
}

// A reading ends with its context, and the reader is as it was.
func TestReadStopsInTheMiddle(t *testing.T) {
	b := setTable(t, twin.Options{Seed: 7}, chess.Start())
	p, err := b.world.Camera().Look(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	for _, n := range []int{0, 1, 2, 3} {
		if _, err := b.reader.Read(&counted{Context: context.Background(), left: n}, p); !errors.Is(err, context.Canceled) {
			t.Errorf("after %d questions to the context: %v", n, err)
		}
		if b.reader.Offsets() != nil {
			t.Error("something was learnt of a picture that was not read to its end")
		}
	}
	if got, err := b.reader.Read(context.Background(), p); err != nil || got.State != sight.Same {
		t.Errorf("read again: %s, %v", got.State, err)
	}
}

// counted is a context that ends when it has been asked some times.
type counted struct {
	context.Context
	left int
	done chan struct{}
}

func (c *counted) Done() <-chan struct{} {
	if c.done == nil {
		c.done = make(chan struct{})
	}
	return c.done
}

func (c *counted) Err() error {
	if c.left--; c.left < 0 {
		return context.Canceled
	}
	return nil
}
