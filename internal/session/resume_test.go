// SPDX-License-Identifier: Apache-2.0

package session

import (
	"io"
	"strings"
	"testing"
	"time"

	"boardhand/internal/chess"
	"boardhand/internal/gamelog"
	"boardhand/internal/rig"
	"boardhand/internal/store"
	"boardhand/internal/table/journal"
	"boardhand/internal/terminal"
)

// opened is a session about to begin with a store of games.
func opened(s *store.Store, o Options) *Session {
	return &Session{Out: &terminal.Out{W: io.Discard, Err: io.Discard}, Store: s, Rig: rig.Default(), RigText: rig.DefaultText, Options: o}
}

// A game that was begun from a position goes on there, with the strength that the guest
// chose; one that was added from a file is not gone on with, and hides none that is.
func TestResumeKeepsPositionAndStrength(t *testing.T) {
	const fen = "4k3/8/8/8/8/8/8/4K2R w K - 0 1"
	s, err := store.Open(t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = s.Close() }()
	pos, err := chess.ParseFEN(fen)
	if err != nil {
		t.Fatal(err)
	}
	e := opened(s, Options{})
	e.Past, e.Game = journal.Past{}, chess.NewGame(pos)
	e.Heading = e.newHeading()
	e.keepLog()
	for _, r := range []journal.Record{
		{State: journal.Setting, What: journal.TableSet, Strength: "pencil"}, {State: journal.Guesting, What: journal.PositionSeen},
		{State: journal.Guesting, What: journal.StrengthSet, Strength: "chalk"},
	} {
		if err := e.log.Append(t.Context(), r); err != nil {
			t.Fatal(err)
		}
	}
	head, entries, err := gamelog.Whole(chess.NewGame(chess.Start()), "club.pgn, game 1, line 1", time.Now())
	if err != nil {
		t.Fatal(err)
	}
	if _, err := s.Add(t.Context(), head, entries); err != nil {
		t.Fatal(err)
	}
	again := opened(s, Options{Resume: LastGame})
	if err := again.TakeUp(t.Context()); err != nil || again.Heading.ID != 1 || again.Past.Game.Start.FEN() != fen || again.Past.Strength != "chalk" {
		t.Errorf("game %d from %s in %s, %v", again.Heading.ID, again.Past.Game.Start.FEN(), again.Past.Strength, err)
	}
	if err := opened(s, Options{Resume: "2"}).TakeUp(t.Context()); err == nil || !strings.Contains(err.Error(), "added from a file") {
		t.Errorf("an added game was taken up: %v", err)
	}
}

// Where a game can begin, and which flags go together.
func TestFlagsOfANewGame(t *testing.T) {
	for want, f := range map[string]Options{
		"":                    {FEN: "4k3/8/8/8/8/8/8/4K2R w K -", Side: "black", Strength: "pen"},
		"--fen: a FEN has":    {FEN: "somewhere"},
		"it is over there":    {FEN: "7k/5Q2/6K1/8/8/8/8/8 b - - 0 1"},
		"--side must be":      {Side: "red"},
		"are for a new game":  {FEN: "4k3/8/8/8/8/8/8/4K2R w K -", Resume: LastGame},
		"--strength: the str": {Strength: "granite"},
	} {
		f.Pace, f.Keep = 1, "1 GB"
		e := opened(nil, f)
		if _, err := e.checkFlags(); (err == nil) != (want == "") || err != nil && !strings.Contains(err.Error(), want) {
			t.Errorf("%+v: %v, want %q", f, err, want)
		}
	}
	if err := opened(nil, Options{Side: "white"}).takeSide(); err == nil || !strings.Contains(err.Error(), "hold no magnets") {
		t.Errorf("the machine plays pieces that it cannot carry: %v", err)
	}
}
