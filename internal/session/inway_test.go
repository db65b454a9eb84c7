// SPDX-License-Identifier: Apache-2.0

package session

import (
	"context"
	"errors"
	"slices"
	"strings"
	"testing"

	"boardhand/internal/carry/plan"
	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/notice"
	"boardhand/internal/photo"
	"boardhand/internal/rig"
	"boardhand/internal/sight"
	"boardhand/internal/table"
	"boardhand/internal/table/journal"
	"boardhand/internal/twin"
)

// reaching is a table of the twin's at which a visitor reaches in while the machine carries
// its rook.
type reaching struct {
	t       *testing.T
	bench   *Bench
	pos     chess.Position
	move    chess.Move // the machine's
	hand    [2]chess.Square
	until   journal.Happening
	stop    context.CancelFunc
	hasDone bool
	records []journal.Record
	said    []string
}

func (r *reaching) Choose(context.Context, *chess.Game) (chess.Move, error) { return r.move, nil }
func (r *reaching) Weigh(context.Context, *chess.Game) (int, error)         { return 0, nil }

func (r *reaching) Append(_ context.Context, rec journal.Record) error {
	r.records = append(r.records, rec)
	if rec.What == r.until {
		r.stop()
	}
	return nil
}

// Tell is a visitor who sets the board as they are asked to.
func (r *reaching) Tell(_ context.Context, n notice.Notice) error {
	if r.said = append(r.said, n.Text); n.Kind == notice.PleaseMend {
		return r.bench.World.Visitor().Arrange(n.FEN)
	}
	return nil
}

func (r *reaching) Ask(context.Context, notice.Question) (int, error) {
	return 0, errors.New("nobody is there to answer")
}

func (r *reaching) see(e table.Event) {
	if e.Step != nil && e.Step.Do == plan.Carry && !r.hasDone {
		r.hasDone = true
		if err := r.bench.World.Visitor().MovePiece(r.hand[0], r.hand[1]); err != nil {
			r.t.Error(err)
		}
	}
}

// heard says whether a sentence with these words was said.
func (r *reaching) heard(words string) bool {
	return slices.ContainsFunc(r.said, func(s string) bool { return strings.Contains(s, words) })
}

// count is how often something happened.
func (r *reaching) count(what journal.Happening) (n int) {
	for _, rec := range r.records {
		if rec.What == what {
			n++
		}
	}
	return n
}

// kinds are what drives the twin's motors: itself, or a driver with a simulated controller.
var kinds = []string{"", "gcode", "tacho"}

// movers are all kinds; in a short run the twin alone.
func movers() []string {
	if testing.Short() {
		return kinds[:1]
	}
	return kinds
}

// reach plays the machine's move and has the visitor move a piece from and to a square
// meanwhile, until something happens.
func reach(t *testing.T, kind, move, hand string, until journal.Happening, isWatched bool) (*reaching, twin.Truth) {
	t.Helper()
	rg := rig.Default()
	pos, err := chess.ParseFEN("r3k3/1R6/8/8/8/8/4K3/8 b - - 0 1")
	if err != nil {
		t.Fatal(err)
	}
	const seed = 4
	bench, driven, err := SetUpThrough(rg, pos, twin.Options{Seed: seed, FEN: pos.FEN(), Visitor: true}, Through{Kind: kind})
	if err != nil {
		t.Fatal(err)
	}
	square := func(s string) chess.Square { return chess.SquareAt(int(s[0]-'a'), int(s[1]-'1')) }
	r := &reaching{t: t, bench: bench, pos: pos, hand: [2]chess.Square{square(hand[:2]), square(hand[2:])}, until: until}
	if r.move, err = pos.ParseUCI(move); err != nil {
		t.Fatal(err)
	}
	ctx, stop := context.WithCancel(t.Context())
	r.stop = stop
	defer stop()
	parts := bench.parts(r, r, r)
	if driven != nil {
		defer driven.Close()
		driven.Join(&parts)
	}
	if !isWatched {
		parts.Lookout = table.Lookout{}
	}
	b := table.New(parts, settings(rg), journal.Past{Game: chess.NewGame(pos)}, r.see)
	if err := b.Run(ctx); !errors.Is(err, context.Canceled) {
		t.Fatalf("it ended with %v after %v", err, r.said)
	}
	for _, u := range b.Unlisted() {
		t.Errorf("the state table does not have %s", u)
	}
	return r, bench.World.Truth()
}

// A guest who answers while the machine still moves: the carriage waits, the guest is
// put right with one sentence, and the move counts as the answer.
func TestGuestMovesDuringTheMove(t *testing.T) {
	for _, kind := range movers() {
		r, truth := reach(t, kind, "a8a1", "b7b3", journal.GuestMoved, true)
		if c := truth.Counters; c.Touches+c.Collisions+c.Slips > 0 || r.count(journal.HandSeen) == 0 || r.count(journal.CarryPutOff) > 0 {
			t.Errorf("%s: %+v; said %q", kind, c, r.said)
		}
		if !r.heard("I stand still: I see a hand") || !r.heard("I am still at my move: I have seen the white rook go from b7 to b3") {
			t.Errorf("%s: said %q", kind, r.said)
		}
		if r.count(journal.MachineMoved) != 1 || r.count(journal.Fetched)+r.count(journal.NotFollowed)+r.count(journal.Requested) > 0 {
			t.Errorf("%s: the hold cost more than time: %v", kind, r.records)
		}
	}
}

// A piece that is put down on the way: without a look at the board the carried rook runs
// into the hand; with it the carry is put off, the rook let go, and what is left is
// planned anew around what stands there now.
func TestPieceLeftInTheWay(t *testing.T) {
	for _, kind := range movers() {
		if _, truth := reach(t, kind, "a8a1", "b7a3", journal.Carried, false); truth.Counters.Touches == 0 {
			t.Errorf("%s: nobody looks, and yet the rook does not run into the hand: this test shows nothing", kind)
		}
		r, truth := reach(t, kind, "a8a1", "b7a3", journal.MachineMoved, true)
		if c := truth.Counters; c.Touches+c.Collisions > 0 || r.count(journal.CarryPutOff) != 1 {
			t.Errorf("%s: %+v; %d put off; said %q", kind, c, r.count(journal.CarryPutOff), r.said)
		}
		if !r.heard("Something stands in my way: please clear a3") {
			t.Errorf("%s: said %q", kind, r.said)
		}
	}
}

// still is a table of the twin's whose position was proved.
type still struct {
	t *testing.T
	*Bench
	reach float64
}

func newStill(t *testing.T, r *rig.Rig, fen string, seed int64) still {
	t.Helper()
	pos, err := chess.ParseFEN(fen)
	if err != nil {
		t.Fatal(err)
	}
	bench, _, err := SetUpThrough(r, pos, twin.Options{Seed: seed, FEN: fen, Visitor: true}, Through{})
	if err != nil {
		t.Fatal(err)
	}
	s := still{t, bench, float64(r.Pieces.Of(chess.Rook).Base) / 2}
	for range 2 {
		if got, err := bench.Eye.Read(t.Context(), s.look()); err != nil || got.State != sight.Same {
			t.Fatal(got.State, err)
		}
	}
	return s
}

func (s still) look() photo.Picture {
	s.t.Helper()
	p, err := s.World.Camera().Look(s.t.Context())
	if err != nil {
		s.t.Fatal(err)
	}
	return p
}

// lies says whether something lies on a way through a place, so far to both its sides.
func (s still) lies(at, along frame.Spot[frame.Board]) bool {
	s.t.Helper()
	o, err := s.Eye.InWay(s.t.Context(), s.look(), sight.Way{Path: []frame.Spot[frame.Board]{at.Add(along), at.Sub(along)}, Reach: s.reach})
	if err != nil || o.IsHand {
		s.t.Fatal(o, err)
	}
	return len(o.Squares) > 0
}

// What a hand puts down on the carriage's way is seen there on light squares and dark ones, though it
// hides little of an even square; the square that it left is none that something lies on, and
// neither is a way that is clear.
func TestWhatIsPutDownIsSeen(t *testing.T) {
	r := rig.Default()
	s := newStill(t, r, "rn2k3/PR6/1N6/8/8/8/4K3/8 b - - 0 1", 4)
	from := chess.SquareAt(1, 6)
	left, hand := r.Board.Centre(1, 6), s.World.Visitor()
	at, missed := from, 0
	all := []chess.Square{chess.SquareAt(3, 0), chess.SquareAt(0, 1), chess.SquareAt(2, 2), chess.SquareAt(7, 2), chess.SquareAt(4, 3), chess.SquareAt(1, 4), chess.SquareAt(3, 5)}
	for _, on := range all {
		if err := hand.MovePiece(at, on); err != nil {
			t.Fatal(err)
		}
		hand.Finish()
		at = on
		if !s.lies(r.Board.Centre(on.File(), on.Rank()), frame.Spot[frame.Board]{Y: 1.5 * float64(r.Board.Square)}) {
			missed++
			t.Logf("not seen on %v", on)
		}
		aside := r.Board.Centre((on.File()+3)%8, 3-on.Rank()%2)
		if s.lies(left, frame.Spot[frame.Board]{X: 0.01}) || on.Rank() != 3 && s.lies(aside, frame.Spot[frame.Board]{X: 0.01}) {
			t.Errorf("with the rook on %v something lies where nothing does", on)
		}
	}
	if missed > 1 {
		t.Errorf("%d of %d not seen", missed, len(all))
	}
}

// Advise has no advice.
func (*reaching) Advise(context.Context, *chess.Game) (chess.Move, error) { return 0, nil }

// SetStrength has only one strength.
func (*reaching) SetStrength(string) error { return nil }
