// SPDX-License-Identifier: Apache-2.0

// Package records lists, checks and prints the games that are kept, and reads
// their pictures again.
package records

import (
	"cmp"
	"context"
	"fmt"
	"slices"
	"time"

	"boardhand/internal/camera"
	"boardhand/internal/chess"
	"boardhand/internal/follow"
	"boardhand/internal/gamelog"
	"boardhand/internal/rig"
	"boardhand/internal/store"
	"boardhand/internal/terminal"
)

// GameAgain is a game whose pictures are read again.
type GameAgain struct {
	ID      int64
	Rig     string // "": the one it was played on
	Overlay string
}

// playedOn is the rig that the pictures of a game are read with.
func (a GameAgain) playedOn(g store.Game) (*rig.Rig, error) {
	switch {
	case a.Rig != "":
		return rig.Load(a.Rig, rig.Watching)
	case g.RigText != "": // as it was, whatever has become of the file
		return rig.Parse(cmp.Or(g.Rig, "the rig kept with the game"), []byte(g.RigText), rig.Watching)
	case g.Rig != "":
		return rig.Load(g.Rig, rig.Watching)
	}
	return rig.Default(), nil
}

// whole are the entries of a game that are not damaged; the others are complained of.
func whole(ctx context.Context, o *terminal.Out, s *store.Store, id int64) ([]store.Entry, error) {
	entries, err := s.Entries(ctx, id)
	if err != nil {
		return nil, err
	}
	return slices.DeleteFunc(entries, func(e store.Entry) bool {
		if e.Damaged != nil {
			o.Complain("passed over: %v", e.Damaged)
		}
		return e.Damaged != nil
	}), nil
}

// WatchGame reads the pictures of a game again, with the rig it was played on.
func WatchGame(ctx context.Context, o *terminal.Out, s *store.Store, a GameAgain) error {
	g, err := s.Game(ctx, a.ID)
	if err != nil {
		return err
	}
	r, err := a.playedOn(g)
	if err != nil {
		return err
	}
	folder, err := camera.OpenFolder(s.Pictures(a.ID))
	if err != nil {
		return fmt.Errorf("no pictures are kept of game %d: %w", a.ID, err)
	}
	pos, err := chess.ParseFEN(g.Start)
	if err != nil {
		return err
	}
	eye, w, err := NewWatch(o, r, a.Overlay)
	if err != nil {
		return err
	}
	entries, err := whole(ctx, o, s, a.ID)
	if err != nil {
		return err
	}
	eye.Begin(pos)
	return follow.New(eye, follow.Recorded(entries, folder.Names()), w).Run(ctx, folder)
}

// OpenGames opens a store that is there, to read it: also on a full disk and on
// one that cannot be written.
func OpenGames(o *terminal.Out, dir string) (*store.Store, error) {
	s, warning, err := store.OpenToRead(dir)
	if warning != "" {
		o.Complain("%s", warning)
	}
	return s, err
}

func ListGames(ctx context.Context, o *terminal.Out, dir string) error {
	s, err := OpenGames(o, dir)
	if err != nil {
		return err
	}
	defer func() { _ = s.Close() }()
	games, err := s.Games(ctx)
	if err != nil && len(games) == 0 {
		return err
	}
	if !o.JSON && len(games) > 0 {
		o.Printf("game  begun             plies  result   how it ended\n")
	}
	for _, g := range games {
		if err := printGame(o, g); err != nil {
			return err
		}
	}
	if !o.JSON && len(games) > 0 {
		hints(o, games)
	}
	return err
}

// printGame prints a line of the list.
func printGame(o *terminal.Out, g store.Game) error {
	if o.JSON {
		l := gameLine{Game: g.ID, Started: g.Started.Format(time.RFC3339), Plies: g.Plies, Result: g.Result, Reason: g.Reason, Machine: g.Machine}
		if g.Damaged != nil {
			l = gameLine{Game: g.ID, Damaged: g.Damaged.Error()}
		}
		return o.Object(l)
	}
	if g.Damaged != nil {
		o.Printf("%4d  %v; `boardhand games check` says more\n", g.ID, g.Damaged)
		return nil
	}
	o.Printf("%4d  %s  %5d  %-7s  %s\n", g.ID, g.Started.Local().Format("2006-01-02 15:04"), g.Plies, g.Result, cmp.Or(g.Reason, "unfinished"))
	return nil
}

// hints say what can be done with the games listed.
func hints(o *terminal.Out, games []store.Game) {
	o.Printf("\n")
	if g, ok := gamelog.Unfinished(games); ok {
		o.Printf("Go on with game %d:  boardhand play RIG --resume\n", g.ID)
	}
	n := games[0].ID
	o.Printf("As PGN:  boardhand games pgn %d     what happened:  boardhand games log %d\nIts pictures read again:  boardhand games watch %d\n", n, n, n)
}

type gameLine struct {
	Game    int64  `json:"game"`
	Started string `json:"started,omitempty"`
	Plies   int    `json:"plies"`
	Result  string `json:"result,omitempty"`
	Reason  string `json:"reason"`
	Machine string `json:"machine,omitempty"`
	Damaged string `json:"damaged,omitempty"`
}
