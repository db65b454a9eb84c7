package app

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"boardhand/internal/chess"
	"boardhand/internal/store"
	"boardhand/internal/table"
)

// paperLog is a log with a game that nobody carries.
type paperLog struct {
	*gameLog
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
	p.gameLog = &gameLog{store: s, game: chess.NewGame(start), pictured: true, low: true, begun: func(store.Game) {},
		heading: store.Game{Machine: "black", Start: start.FEN()}, warn: func(text string) { p.said = append(p.said, text) }}
	return p
}

func (p *paperLog) record(r table.Record) {
	p.t.Helper()
	if err := p.Append(p.t.Context(), r); err != nil {
		p.t.Fatal(err)
	}
}

// plays records finished moves.
func (p *paperLog) plays(moves ...string) {
	p.t.Helper()
	for _, text := range moves {
		pos := p.game.Position()
		m, err := pos.ParseUCI(text)
		if err != nil {
			p.t.Fatal(err)
		}
		if err := p.game.Push(m); err != nil {
			p.t.Fatal(err)
		}
		p.record(table.Record{State: table.Guesting, Move: m, Text: "played " + text, JPEG: []byte("jpeg")})
	}
}

func (p *paperLog) games() []store.Game {
	p.t.Helper()
	games, err := p.store.Games(p.t.Context())
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
	p.record(table.Record{State: table.Setting, Text: "the table is set"})
	for range 3 * mostHeld {
		p.record(table.Record{State: table.Setting, Text: "the board differs"})
	}
	p.record(table.Record{State: table.Trouble, Text: "a motor stalled"})
	if n := len(p.games()); n != 0 {
		t.Fatalf("%d games are kept before it began", n)
	}
	p.record(table.Record{State: table.Guesting, Text: "the guest is to move"})
	if n := len(p.games()); n != 1 {
		t.Fatalf("%d games are kept", n)
	}
	es, err := p.store.Entries(t.Context(), 1)
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
	if err := p.game.Resign(chess.White); err != nil {
		t.Fatal(err)
	}
	p.record(table.Record{State: table.Over, Text: "white resigns"})
	text := p.pgn()
	for _, want := range []string{"1. e4 e5 0-1", `[Result "0-1"]`, `[Termination "normal"]`, `[Reason "resignation"]`} {
		if !strings.Contains(text, want) {
			t.Errorf("no %s in\n%s", want, text)
		}
	}
	if g := p.games()[0]; g.Result != "0-1" || g.Reason != "resignation" {
		t.Errorf("the game is kept as %+v", g)
	}
	if code, out, errs := cli(t, "games", "pgn", "1", "--games", p.dir); code != fine || out != text {
		t.Errorf("games pgn prints %d %s%s", code, out, errs)
	}
	if code, _, errs := cli(t, "play", "--resume=1", "--games", p.dir); code != badInput || !strings.Contains(errs, "another boardhand") && !strings.Contains(errs, "game 1 is over (0-1, resignation)") {
		t.Errorf("going on with it: %d %s", code, errs)
	}
}

// A game that is given up is told so, and opens again when it goes on.
func TestAbandoned(t *testing.T) {
	p := newPaperLog(t)
	p.plays("e2e4")
	if err := p.abandon(t.Context()); err != nil {
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

// Pictures that cannot be kept are told of once, noted in the log, and stop nothing.
func TestPictureLostIsNoted(t *testing.T) {
	p := newPaperLog(t)
	p.plays("e2e4")
	if err := os.RemoveAll(p.store.Pictures(1)); err != nil {
		t.Fatal(err)
	}
	write(t, p.store.Pictures(1), "a file where the folder should be")
	p.plays("e7e5", "g1f3")
	if len(p.said) != 1 || !strings.Contains(p.said[0], "the game goes on without it") {
		t.Errorf("it said %q", p.said)
	}
	_ = os.Remove(p.store.Pictures(1))
	p.plays("b8c6")
	es, err := p.store.Entries(t.Context(), 1)
	if err != nil || len(es) != 6 {
		t.Fatalf("%d entries, %v", len(es), err)
	}
	if es[2].Event != string(table.PictureLost) || es[4].Event != string(table.PictureLost) || es[5].Picture == "" || es[1].Picture != "" {
		t.Errorf("the entries are %+v", es)
	}
}
