// SPDX-License-Identifier: Apache-2.0

package table

import (
	"context"
	"errors"
	"slices"
	"strings"
	"testing"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/sight"
	"boardhand/internal/table/journal"
	"boardhand/internal/table/places"
	"boardhand/internal/table/view"
)

// what lists the happenings of some kinds, in order.
func (p *paper) what(kinds ...journal.Happening) string {
	var out []string
	for _, r := range p.records {
		if slices.Contains(kinds, r.What) {
			out = append(out, string(r.What))
		}
	}
	return strings.Join(out, " ")
}

// A person's word counts on a sight that no reading explains.
func TestMoveIsNamed(t *testing.T) {
	p := &paper{script: slices.Concat([]string{"same", "same"}, slices.Repeat([]string{"illegal e2,e5"}, 8))}
	p.t, p.pos = t, chess.Start()
	p.requests = map[int]journal.Request{6: {Kind: journal.RequestPlayed, Move: p.uci("e2e4")}}
	_ = p.run(t, "", "")
	p.traced(t, "setting guest reading e2e4 thinking")
	if got := p.records[len(p.records)-1]; p.count(journal.GuestNamed) != 1 {
		t.Errorf("it was not recorded as named; last: %+v", got)
	}
}

// "None of these" is not followed by the same question.
func TestNoneOfTheseIsNotAskedAgain(t *testing.T) {
	p := &paper{answers: []int{2}, script: slices.Concat([]string{"same", "same"}, slices.Repeat([]string{"unsure e2e4 d2d4"}, 12))}
	_ = p.run(t, "", "")
	p.says(t, "Then please name the move")
	if n := p.count(journal.Questioned); n != 1 {
		t.Errorf("%d questions were asked", n)
	}
}

// The machine's move that a person calls right is part of the game, and the
// eye learns the position.
func TestRightAsItStands(t *testing.T) {
	p := &paper{player: []string{"e7e5"}, script: slices.Concat([]string{"same", "same", "move e2e4", "move e2e4"}, slices.Repeat([]string{"illegal a1,a2"}, 10)),
		requests: map[int]journal.Request{12: {Kind: journal.RequestRight}}}
	_ = p.run(t, "", "")
	if got := len(p.table.Game().Moves); got != 2 || len(p.agreed) != 1 {
		t.Errorf("the game has %d plies and %d positions were agreed, want 2 and 1", got, len(p.agreed))
	}
}

// A position that the rules reach is made of moves; any other one begins the
// game anew from there.
func TestPositionIsAgreed(t *testing.T) {
	far := "4k3/8/8/8/8/8/8/4K2R w K - 0 1"
	for name, c := range map[string]struct {
		fen   string
		plies int
	}{
		"one ply":  {"rnbqkbnr/pppppppp/8/8/4P3/8/PPPP1PPP/RNBQKBNR b KQkq - 0 1", 1},
		"anything": {far, 0},
	} {
		t.Run(name, func(t *testing.T) {
			p := &paper{script: slices.Repeat([]string{"same"}, 8), requests: map[int]journal.Request{4: {Kind: journal.RequestPosition, FEN: c.fen}}}
			_ = p.run(t, "", "")
			pos := p.table.Game().Position()
			want, err := chess.ParseFEN(c.fen)
			if err != nil || pos.Key() != want.Key() || len(p.table.Game().Moves) != c.plies {
				t.Errorf("the game stands at %s after %d plies", pos.FEN(), len(p.table.Game().Moves))
			}
		})
	}
}

func TestResignAndDraw(t *testing.T) {
	for name, c := range map[string]struct {
		kind   journal.RequestKind
		weight int
		want   string
	}{
		"resign":       {journal.RequestResign, 0, "0-1"},
		"draw agreed":  {journal.RequestDraw, 10, "1/2-1/2"},
		"draw refused": {journal.RequestDraw, 300, "*"},
	} {
		t.Run(name, func(t *testing.T) {
			p := &paper{weight: c.weight, past: journal.Past{Game: played(t, "e2e4", "e7e5")}, script: slices.Repeat([]string{"same"}, 6), requests: map[int]journal.Request{4: {Kind: c.kind}}}
			_ = p.run(t, "", "")
			if got := string(p.table.Game().Outcome().Result); got != c.want {
				t.Errorf("the game is %s, want %s", got, c.want)
			}
		})
	}
}

// A new game can be asked for while a person is asked to take a piece off.
func TestNewGameInMidMove(t *testing.T) {
	p := &paper{player: []string{"d5e4"}, requests: map[int]journal.Request{7: {Kind: journal.RequestNew, Side: "black"}},
		script: []string{"same", "same", "move e1f1", "move e1f1", "same", "same", "same", "same", "same", "same"}}
	if err := p.run(t, "4k3/8/8/3p4/4P3/8/8/4K3 w - - 0 1", ""); err != nil {
		t.Fatal(err)
	}
	if !p.table.Arranged() || p.table.Next().Side != "black" {
		t.Errorf("arranged: %v, next: %v", p.table.Arranged(), p.table.Next())
	}
}

// trayPlaces is what single places show of the trayed position, with the pawn
// taken standing at the place given.
func trayPlaces(at string) map[string]string {
	return map[string]string{"e8": "k", "e1": "K", "d5": "p", at: "P"}
}

// A piece is in its slot when it is seen there, and fetched when it is seen
// elsewhere; what was not seen is not written down.
func TestCarryIsConfirmed(t *testing.T) {
	white, black := chess.MakePiece(chess.White, chess.Pawn), chess.MakePiece(chess.Black, chess.Pawn)
	plan := append(toTray(white, squares("e4")[0]), trip(black, squares("d5")[0], squares("e4")[0])...)
	stray := sight.Stray{Side: chess.White, At: frame.Spot[frame.Board]{X: 0.17, Y: 0.05}, Sigma: 0.001}
	for name, c := range map[string]struct {
		at     string // where the taken pawn is seen
		strays map[int][]sight.Stray
		want   string
	}{
		"arrived": {"slot1", nil, "carry_begun carry_seen"},
		"stayed":  {"e4", nil, "carry_begun carry_lost not_followed carry_lost not_followed carry_lost requested"},
		"strayed": {"", map[int][]sight.Stray{3: {stray}, 4: {stray}}, "carry_begun carry_lost fetched carry_lost requested"},
		"gone":    {"", nil, "carry_begun carry_lost requested"},
	} {
		t.Run(name, func(t *testing.T) {
			p := &paper{slots: slot, carried: [2]bool{true, true}, plan: plan, strays: c.strays, places: trayPlaces(c.at),
				script: slices.Concat([]string{"same", "same"}, slices.Repeat([]string{"same"}, 12))}
			_ = p.run(t, trayed, "d5e4")
			got := p.what(journal.CarryBegun, journal.CarrySeen, journal.CarryLost, journal.Fetched, journal.NotFollowed, journal.Requested)
			if !strings.HasPrefix(got, c.want) {
				t.Errorf("it went %q, want %q", got, c.want)
			}
			for _, r := range p.records {
				if strings.Contains(r.Standing, "P@slot1") != (c.at == "slot1") && r.Standing != "" && !strings.Contains(r.Standing, ">") {
					t.Errorf("kept %q with the pawn seen at %q", r.Standing, c.at)
				}
			}
		})
	}
}

// resigning is a log at which the guest resigns as soon as something is written down.
type resigning struct {
	*paper
	at journal.Happening
}

// Append keeps the record.
func (l resigning) Append(ctx context.Context, r journal.Record) error {
	if r.What == l.at {
		if err := l.table.Request(journal.Request{Kind: journal.RequestResign}); err != nil {
			return err
		}
	}
	return l.paper.Append(ctx, r)
}

// A game that a person ends by word in mid-carry ends with the pieces where the
// next pictures show them; where none comes, with what was known.
func TestEndedByWordInMidCarry(t *testing.T) {
	white, black := chess.MakePiece(chess.White, chess.Pawn), chess.MakePiece(chess.Black, chess.Pawn)
	plan := append(toTray(white, squares("e4")[0]), trip(black, squares("d5")[0], squares("e4")[0])...)
	const before, onTheWay = "4k3/8/8/3p4/4P3/8/8/4K3", "4k3/8/8/3p4/4P3/8/8/4K3 P@e4>slot1"
	done := map[string]string{"e8": "k", "e1": "K", "e4": "p", "slot1": "P"}
	back := map[string]string{"e8": "k", "e1": "K", "d5": "p", "slot1": "P"}
	for name, c := range map[string]struct {
		at       journal.Happening
		places   map[string]string
		pictures []string
		want     string
	}{
		"arrived in the tray": {journal.CarryBegun, trayPlaces("slot1"), []string{"same"}, "4k3/8/8/3p4/8/8/8/4K3 P@slot1"},
		"stayed":              {journal.CarryBegun, trayPlaces("e4"), []string{"same", "same"}, before},
		"stayed in one only":  {journal.CarryBegun, trayPlaces("e4"), []string{"same"}, onTheWay},
		"a hand":              {journal.CarryBegun, trayPlaces("slot1"), []string{"hand"}, onTheWay},
		"no picture":          {journal.CarryBegun, trayPlaces("slot1"), []string{"broken"}, onTheWay},
		"all done":            {journal.Carried, done, []string{"same"}, "4k3/8/8/8/4p3/8/8/4K3 P@slot1"},
		"the last one stayed": {journal.Carried, back, []string{"same", "same"}, "4k3/8/8/3p4/8/8/8/4K3 P@slot1"},
	} {
		t.Run(name, func(t *testing.T) {
			p := &paper{slots: slot, carried: [2]bool{true, true}, plan: plan, places: c.places, script: slices.Concat([]string{"same", "same"}, c.pictures)}
			if c.at == journal.Carried { // one picture confirms the first carry
				p.script = append([]string{"same"}, p.script...)
			}
			p.log = resigning{p, c.at}
			if err := p.run(t, trayed, "d5e4"); err != nil {
				t.Fatal(err)
			}
			if got := p.table.Standing(); got.String() != c.want {
				t.Errorf("the pieces are at %v, want %s", got, c.want)
			}
			if got := p.table.Game().Outcome().Result; got != "0-1" {
				t.Errorf("the game is %s", got)
			}
		})
	}
}

// What goes down the chute is out of sight; what was left behind on the way there
// is fetched, and after two tries a person is asked to take it off.
func TestChuteIsConfirmed(t *testing.T) {
	white, black := chess.MakePiece(chess.White, chess.Pawn), chess.MakePiece(chess.Black, chess.Pawn)
	plan := append(toTray(white, squares("e4")[0]), trip(black, squares("d5")[0], squares("e4")[0])...)
	stray := []sight.Stray{{Side: chess.White, At: frame.Spot[frame.Board]{X: 0.16, Y: 0.04}, Sigma: 0.001}}
	for name, c := range map[string]struct {
		at     string // where the taken pawn is seen
		strays map[int][]sight.Stray
		want   string
		says   string
	}{
		"down":     {"", nil, "carry_begun carry_ended", ""},
		"stayed":   {"e4", nil, "carry_begun carry_lost not_followed carry_lost not_followed carry_lost requested", "take it off the board"},
		"strayed":  {"", map[int][]sight.Stray{3: stray, 4: stray}, "carry_begun carry_lost fetched carry_ended", ""},
		"far gone": {"", map[int][]sight.Stray{3: stray, 4: stray, 5: stray, 6: stray, 7: stray, 8: stray}, "carry_begun carry_lost fetched carry_lost fetched carry_lost requested", "take it off the board"},
	} {
		t.Run(name, func(t *testing.T) {
			p := &paper{chute: &slot[0], carried: [2]bool{true, true}, plan: plan, strays: c.strays, places: trayPlaces(c.at),
				script: slices.Repeat([]string{"same"}, 14)}
			_ = p.run(t, trayed, "d5e4")
			got := p.what(journal.CarryBegun, journal.CarrySeen, journal.CarryEnded, journal.CarryLost, journal.Fetched, journal.NotFollowed, journal.Requested)
			if !strings.HasPrefix(got, c.want) {
				t.Errorf("it went %q, want %q", got, c.want)
			}
			if said := strings.Join(p.said, " "); !strings.Contains(said, c.says) {
				t.Errorf("said %q, want %q in it", said, c.says)
			}
		})
	}
}

// After a break a piece that was being carried is where it is seen.
func TestBreakWithAPieceOnItsWay(t *testing.T) {
	for at, want := range map[string]string{"slot1": "P@slot1", "e4": "4k3/8/8/3p4/4P3/8/8/4K3"} {
		t.Run(at, func(t *testing.T) {
			s, err := places.ParseStanding("4k3/8/8/3p4/4P3/8/8/4K3 P@e4>slot1")
			if err != nil {
				t.Fatal(err)
			}
			p := &paper{slots: slot, carried: [2]bool{true, true}, past: journal.Past{Standing: &s}, places: trayPlaces(at), script: []string{"same", "same", "same"}}
			_ = p.run(t, trayed, "d5e4")
			kept := ""
			for _, r := range p.records {
				if r.What == journal.CarrySeen {
					kept = r.Standing
				}
			}
			if !strings.Contains(kept, want) {
				t.Errorf("kept %q, want %q", kept, want)
			}
		})
	}
}

// After a break a piece that lies beside the middle of its slot has not arrived:
// the next plan would take hold of the middle, and the next slot's piece would
// stand against it. Where slots are far apart it may stand as far off as lanes
// are planned for, where they are close together a quarter of the way.
func TestBreakJustBeforeTheSlot(t *testing.T) {
	for name, c := range map[string]struct {
		pitch, aside float64
		want         string
	}{
		"in it":                       {0.020, 0.0029, "carry_seen"},
		"against the next one":        {0.020, 0.0069, "carry_lost fetched carry_lost fetched carry_lost requested"},
		"nearly out of it":            {0.020, 0.0137, "carry_lost fetched carry_lost fetched carry_lost requested"},
		"far from the next, but off":  {0.040, 0.0080, "carry_lost fetched carry_lost fetched carry_lost requested"},
		"off where slots are narrow":  {0.016, 0.0045, "carry_lost fetched carry_lost fetched carry_lost requested"},
		"in it where slots are apart": {0.040, 0.0045, "carry_seen"},
	} {
		t.Run(name, func(t *testing.T) {
			s, err := places.ParseStanding("4k3/8/8/3p4/4P3/8/8/4K3 P@e4>slot1")
			if err != nil {
				t.Fatal(err)
			}
			beside := []frame.Spot[frame.Board]{slot[0], {X: slot[0].X, Y: slot[0].Y + c.pitch}}
			p := &paper{slots: beside, carried: [2]bool{true, true}, past: journal.Past{Standing: &s}, places: trayPlaces("slot1"), aside: c.aside,
				script: slices.Repeat([]string{"same"}, 8)}
			_ = p.run(t, trayed, "d5e4")
			if got := p.what(journal.CarrySeen, journal.CarryLost, journal.Fetched, journal.Requested); !strings.HasPrefix(got, c.want) {
				t.Errorf("it went %q, want %q", got, c.want)
			}
		})
	}
}

// The guest who moved while the machine moved has moved: the machine's move
// stands, and theirs is read next.
func TestGuestWhoMovedEarly(t *testing.T) {
	p := &paper{player: []string{"e7e5"}, script: []string{"same", "same", "move e2e4", "move e2e4", "illegal d2,d4,e5,e7", "illegal d2,d4,e5,e7", "move d2d4", "move d2d4"}}
	p.places = map[string]string{}
	pos := chess.Start()
	for q := chess.Square(0); q < 64; q++ {
		if piece := pos.At(q); piece != chess.NoPiece {
			p.places[q.String()] = string(piece.Letter())
		}
	}
	for from, to := range map[string]string{"e2": "e4", "e7": "e5", "d2": "d4"} {
		p.places[to] = p.places[from]
		delete(p.places, from)
	}
	_ = p.run(t, "", "")
	p.traced(t, "setting guest reading e2e4 thinking carrying verifying e7e5 guest reading d2d4")
}

// What somebody took out of the tray is with a person, and asked back.
func TestSlotThief(t *testing.T) {
	s, err := places.ParseStanding("4k3/8/8/3p4/4P3/8/8/4K3 p@slot1")
	if err != nil {
		t.Fatal(err)
	}
	p := &paper{slots: slot, past: journal.Past{Standing: &s}, player: []string{"d5d4"}, places: trayPlaces("e4"),
		script: []string{"same", "same", "move e1d1", "move e1d1", "move d5d4", "move d5d4", "same", "same"}}
	_ = p.run(t, "4k3/8/8/3p4/4P3/8/8/4K3 w - - 0 1", "")
	p.says(t, "Please put the black pawn back into slot R1.")
	if got := p.table.Standing(); !strings.Contains(got.String(), "p@person") {
		t.Errorf("the pieces are kept at %s", got.String())
	}
}

// A person's word about a slot in which the picture shows nothing ends the asking,
// and the piece is kept as standing about there, not where the machine would grip it;
// the person is reminded while nobody says anything.
func TestSlotByAPersonsWord(t *testing.T) {
	s, err := places.ParseStanding("4k3/8/8/3p4/4P3/8/8/4K3 p@slot1")
	if err != nil {
		t.Fatal(err)
	}
	p := &paper{slots: slot, past: journal.Past{Standing: &s}, player: []string{"d5d4"}, places: trayPlaces("e4"),
		requests: map[int]journal.Request{6 + 4*view.RemindAfter: {Kind: journal.RequestRight}},
		script:   slices.Concat([]string{"same", "same", "move e1d1", "move e1d1", "move d5d4", "move d5d4"}, slices.Repeat([]string{"same"}, 5*view.RemindAfter))}
	_ = p.run(t, "4k3/8/8/3p4/4P3/8/8/4K3 w - - 0 1", "")
	asked := 0
	for _, text := range p.said {
		if text == "Please put the black pawn back into slot R1." {
			asked++
		}
	}
	if asked < 2 || p.count(journal.Requested) != 1 {
		t.Errorf("said %d times, want a reminder; asked %d times, want once", asked, p.count(journal.Requested))
	}
	if got := p.table.Standing(); !strings.Contains(got.String(), "p@person") {
		t.Errorf("the pieces are kept at %s", got.String())
	}
}

// failing is a log that cannot keep pictures.
type failing struct{ *paper }

func (f failing) Append(ctx context.Context, r journal.Record) error {
	_ = f.paper.Append(ctx, r) // paper's own never fails here
	if len(r.JPEG) > 0 {
		return &journal.PictureError{Err: errors.New("no space left on device")}
	}
	return nil
}

// Pictures are evidence: the game goes on without, and says so once.
func TestGameOutlivesItsPictures(t *testing.T) {
	p := &paper{player: []string{"e7e5"}, jpeg: true, script: []string{"same", "same", "move e2e4", "move e2e4", "move e7e5", "move e7e5", "same"}}
	p.log = failing{p}
	_ = p.run(t, "", "")
	p.traced(t, "setting guest reading e2e4 thinking carrying verifying e7e5 guest")
	if n := p.count(journal.PictureLost); n != 1 {
		t.Errorf("that pictures are lost was recorded %d times", n)
	}
}

// A camera that repeats itself to the byte shows nothing.
func TestFrozenCamera(t *testing.T) {
	p := &paper{jpeg: true, frozen: true, script: slices.Repeat([]string{"same"}, 12)}
	_ = p.run(t, "", "")
	p.says(t, "the camera shows the same picture again and again")
}

// Whoever was asked to finish the machine's move before a break, and did, calls
// the board after it right: what stands on the move's last square is not the
// piece to be taken, and is not carried off.
func TestRightAfterABreakInAMove(t *testing.T) {
	before, after := map[string]string{"e8": "k", "e1": "K", "d5": "p", "e4": "P"}, map[string]string{"e8": "k", "e1": "K", "e4": "p"}
	for name, c := range map[string]struct {
		places map[string]string
		agreed bool // the board before the move
		played string
	}{
		"before the move": {before, true, ""},
		"after the move":  {after, false, "d5e4"},
		"cannot be told":  {nil, false, "d5e4"},
	} {
		t.Run(name, func(t *testing.T) {
			right := journal.Request{Kind: journal.RequestRight}
			p := &paper{places: c.places, requests: map[int]journal.Request{1: right, 3: right}, script: []string{"unsure d5e4 0000", "partial d5", "partial d5", "illegal d5,e4"}}
			_ = p.run(t, trayed, "d5e4")
			if got := len(p.agreed) > 0 && strings.HasPrefix(p.agreed[0], "4k3/8/8/3p4/4P3"); got != c.agreed {
				t.Errorf("agreed to %q", p.agreed)
			}
			played := ""
			for _, r := range p.records {
				if r.Move != 0 {
					played += r.Move.String()
				}
			}
			if played != c.played {
				t.Errorf("played %q, want %q; %v", played, c.played, p.trace)
			}
		})
	}
}

// What a reading names twice the guest is offered once, and nothing that is against the rules.
func TestCandidatesOnce(t *testing.T) {
	pos := chess.Start()
	first, second := pos.LegalMoves(nil)[0], pos.LegalMoves(nil)[1]
	r := sight.Reading{Candidates: []sight.Candidate{{Move: 0}, {Move: first}, {Move: 0}, {Move: second}, {Move: first}, {Move: chess.MakeMove(0, 63, chess.NoKind)}}}
	if got := candidates(r, pos); !slices.Equal(got, []chess.Move{0, first, second}) {
		t.Errorf("%v", got)
	}
}
