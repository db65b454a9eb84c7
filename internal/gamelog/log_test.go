// SPDX-License-Identifier: Apache-2.0

package gamelog

import (
	"errors"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"

	"boardhand/internal/chess"
	"boardhand/internal/diagnosis"
	"boardhand/internal/store"
	"boardhand/internal/table/journal"
)

// What was seen of the machine's acts is told again, in order, by the log.
func TestSymptomsAreKept(t *testing.T) {
	seen := []diagnosis.Symptom{{Act: diagnosis.Lift, Outcome: diagnosis.LiftFailed, Raised: true},
		{Act: diagnosis.Carry, Outcome: diagnosis.Stayed, Piece: diagnosis.Piece{ID: "g8", Kind: "knight", Side: "black"}, From: diagnosis.Spot{X: 0.1}, Sigma: 1e-3}}
	start := chess.Start()
	var entries []store.Entry
	for i, y := range seen {
		e := EntryOf(journal.Record{State: journal.Carrying, What: journal.Told, Said: "I am busy.", Symptoms: []diagnosis.Symptom{y}})
		e.N = i + 1
		entries = append(entries, e)
	}
	k, err := Replay(store.Game{ID: 1, Machine: "black", Start: start.FEN()}, entries)
	if err != nil || !reflect.DeepEqual(k.Symptoms, seen) {
		t.Errorf("kept was %+v, %v", k.Symptoms, err)
	}
}

// paperLog is a log with a game that nobody carries.
type paperLog struct {
	*Log
	t    *testing.T
	dir  string
	said []string
}

func newPaperLog(t *testing.T) *paperLog {
	t.Helper()
	dir := t.TempDir()
	s, err := store.Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = s.Close() })
	start := chess.Start()
	p := &paperLog{t: t, dir: dir}
	p.Log = &Log{Store: s, Game: chess.NewGame(start), low: true, Begun: func(store.Game) {},
		Heading: store.Game{Machine: "black", Start: start.FEN()}, Warn: func(text string) { p.said = append(p.said, text) }}
	return p
}

func (p *paperLog) record(r journal.Record) {
	p.t.Helper()
	if err := p.Append(p.t.Context(), r); err != nil {
		p.t.Fatal(err)
	}
}

// plays records finished moves.
func (p *paperLog) plays(moves ...string) {
	p.t.Helper()
	for _, text := range moves {
		pos := p.Game.Position()
		m, err := pos.ParseUCI(text)
		if err != nil {
			p.t.Fatal(err)
		}
		if err := p.Game.Push(m); err != nil {
			p.t.Fatal(err)
		}
		p.record(journal.Record{State: journal.Guesting, What: journal.GuestMoved, By: journal.ByGuest, SAN: pos.SAN(m), Move: m, JPEG: []byte("jpeg")})
	}
}

func (p *paperLog) games() []store.Game {
	p.t.Helper()
	games, err := p.Store.Games(p.t.Context())
	if err != nil {
		p.t.Fatal(err)
	}
	return games
}

func (p *paperLog) pgn() string {
	p.t.Helper()
	b, err := os.ReadFile(filepath.Join(p.dir, "pgn", "0001.pgn"))
	if err != nil {
		p.t.Fatal(err)
	}
	return string(b)
}

// No game is in the store before the board is seen to be right; then it has all
// that happened before.
func TestGameBeginsWhenTheBoardIsSeen(t *testing.T) {
	p := newPaperLog(t)
	p.record(journal.Record{State: journal.Setting, What: journal.TableSet})
	for range 3 * mostHeld {
		p.record(journal.Record{State: journal.Setting, What: journal.Told, Said: "the board differs"})
	}
	p.record(journal.Record{State: journal.Trouble, What: journal.Failed, Said: "a motor stalled"})
	if n := len(p.games()); n != 0 {
		t.Fatalf("%d games are kept before it began", n)
	}
	p.record(journal.Record{State: journal.Guesting, What: journal.PositionSeen})
	if n := len(p.games()); n != 1 {
		t.Fatalf("%d games are kept", n)
	}
	es, err := p.Store.Entries(t.Context(), 1)
	if err != nil || len(es) != mostHeld+1 || es[0].Note != "the table is set" || es[mostHeld-1].Note != "a motor stalled" || es[mostHeld].State != "guest" {
		t.Errorf("%d entries, %v", len(es), err)
	}
	for i := 1; i < len(es); i++ {
		if es[i].At.Before(es[i-1].At) {
			t.Errorf("entry %d was before entry %d", i+1, i)
		}
	}
}

// The PGN file beside the store follows every move, and the way the game ends.
func TestPGNFollows(t *testing.T) {
	p := newPaperLog(t)
	p.plays("e2e4", "e7e5")
	if text := p.pgn(); !strings.Contains(text, "1. e4 e5 *") || !strings.Contains(text, `[Termination "unterminated"]`) {
		t.Errorf("in the middle:\n%s", text)
	}
	if err := p.Game.Resign(chess.White); err != nil {
		t.Fatal(err)
	}
	p.record(journal.Record{State: journal.Over, What: journal.GameEnded, Said: "black wins by resignation"})
	text := p.pgn()
	for _, want := range []string{"1. e4 e5 0-1", `[Result "0-1"]`, `[Termination "normal"]`, `[Reason "resignation"]`} {
		if !strings.Contains(text, want) {
			t.Errorf("no %s in\n%s", want, text)
		}
	}
	if g := p.games()[0]; g.Result != "0-1" || g.Reason != "resignation" {
		t.Errorf("the game is kept as %+v", g)
	}
	g := p.games()[0]
	k, err := Tell(t.Context(), p.Store, g)
	if again := PGN(g, k); err != nil || again != text {
		t.Errorf("told again it is %v\n%s", err, again)
	}
}

// A game that is given up is told so, and opens again when it goes on.
func TestAbandoned(t *testing.T) {
	p := newPaperLog(t)
	p.plays("e2e4")
	if err := p.Abandon(t.Context()); err != nil {
		t.Fatal(err)
	}
	if g := p.games()[0]; g.Result != "*" || g.Reason != store.Abandoned || g.Open() {
		t.Errorf("it is kept as %+v", g)
	}
	if text := p.pgn(); !strings.Contains(text, `[Termination "abandoned"]`) {
		t.Errorf("the PGN is\n%s", text)
	}
	p.plays("e7e5")
	if g := p.games()[0]; !g.Open() || g.Plies != 2 {
		t.Errorf("after going on it is kept as %+v", g)
	}
}

// A picture that cannot be kept is told to the table, and stops nothing.
func TestPictureLostIsTold(t *testing.T) {
	p := newPaperLog(t)
	p.plays("e2e4")
	if err := os.RemoveAll(p.Store.Pictures(1)); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(p.Store.Pictures(1), []byte("a file where the folder should be"), 0o600); err != nil {
		t.Fatal(err)
	}
	var lost *journal.PictureError
	if err := p.Append(t.Context(), journal.Record{State: journal.Thinking, What: journal.MachineToMove, JPEG: []byte("jpeg")}); !errors.As(err, &lost) {
		t.Errorf("it gave %v", err)
	}
	es, err := p.Store.Entries(t.Context(), 1)
	if err != nil || len(es) != 2 || es[1].Event != string(journal.MachineToMove) || es[1].Picture != "" {
		t.Errorf("the entries are %+v, %v", es, err)
	}
}

// What happened is kept in fields that a program can read.
func TestDetailIsKept(t *testing.T) {
	p := newPaperLog(t)
	p.plays("e2e4")
	p.record(journal.Record{State: journal.Reading, What: journal.Questioned, Said: "What was played?", Choices: []string{"Nf6", "none"}, Squares: []chess.Square{chess.SquareAt(4, 3)}})
	p.record(journal.Record{State: journal.Reading, What: journal.Answered, Choices: []string{"Nf6", "none"}, Choice: 1})
	es, err := p.Store.Entries(t.Context(), 1)
	if err != nil || len(es) != 3 {
		t.Fatalf("%d entries, %v", len(es), err)
	}
	for i, want := range []string{`{"by":"guest"`, `{"squares":["e4"],"said":"What was played?","choices":["Nf6","none"]}`, `"choice":1}`} {
		if !strings.Contains(es[i].Detail, want) {
			t.Errorf("entry %d is %s, without %s", i+1, es[i].Detail, want)
		}
	}
}

// How strongly the machine plays is kept from the first entry on, and goes with the
// game that an agreed position begins.
func TestStrengthIsKept(t *testing.T) {
	p := newPaperLog(t)
	strengths := func() (out []string) {
		for i, g := range p.games() {
			k, err := Tell(t.Context(), p.Store, g)
			if err != nil {
				t.Fatalf("game %d: %v", i, err)
			}
			out = append(out, k.Strength)
		}
		return out
	}
	p.record(journal.Record{State: journal.Setting, What: journal.TableSet, Strength: "pencil"})
	p.record(journal.Record{State: journal.Setting, What: journal.StrengthSet, Strength: "crayon"})
	p.plays("e2e4")
	if got := strengths(); !slices.Equal(got, []string{"crayon"}) {
		t.Errorf("set before the game: %v", got)
	}
	p.record(journal.Record{State: journal.Guesting, What: journal.StrengthSet, Strength: "chalk"})
	p.plays("e7e5")
	if got := strengths(); !slices.Equal(got, []string{"chalk"}) {
		t.Errorf("set in the game: %v", got)
	}
	pos, err := chess.ParseFEN("4k3/8/8/8/8/8/8/4K2R w K - 0 1")
	if err != nil {
		t.Fatal(err)
	}
	*p.Game = *chess.NewGame(pos)
	p.record(journal.Record{State: journal.Guesting, What: journal.Agreed, FEN: pos.FEN()})
	if got := strengths(); !slices.Equal(got, []string{"chalk", "chalk"}) {
		t.Errorf("after another position was agreed: %v", got)
	}
}

// When a position is agreed that no move leads to, another game begins there,
// and the pieces beside the board go with it.
func TestAgreedPositionBeginsAnotherGame(t *testing.T) {
	p := newPaperLog(t)
	p.plays("e2e4")
	const beside = "rnbqkbnr/pppppppp/8/8/4P3/8/PPPP1PPP/RNBQKBNR p@person"
	p.record(journal.Record{State: journal.Guesting, What: journal.RequestDone, Standing: beside})
	const fen = "4k3/8/8/8/8/8/8/R3K3 w - - 0 1"
	pos, err := chess.ParseFEN(fen)
	if err != nil {
		t.Fatal(err)
	}
	*p.Game = *chess.NewGame(pos)
	p.record(journal.Record{State: journal.Guesting, What: journal.Agreed, FEN: fen})
	p.plays("a1a8")
	games := p.games()
	if len(games) != 2 || games[0].Start != fen || games[0].Plies != 1 || games[1].Reason != store.Abandoned || games[1].Plies != 1 {
		t.Errorf("the games are %+v", games)
	}
	es, err := p.Store.Entries(t.Context(), 2)
	if err != nil || len(es) != 2 || es[0].Standing != beside {
		t.Errorf("the entries are %+v, %v", es, err)
	}
	for _, g := range games {
		if f := Check(t.Context(), p.Store, g); len(f.Problems) > 0 {
			t.Errorf("game %d: %v", g.ID, f.Problems)
		}
	}
}
