// SPDX-License-Identifier: Apache-2.0

package gamelog

import (
	"cmp"
	"context"
	"encoding/json"
	"fmt"
	"strconv"
	"strings"

	"boardhand/internal/chess"
	"boardhand/internal/store"
	"boardhand/internal/table/journal"
	"boardhand/internal/table/places"
)

// Retold is a game as its log tells it.
type Retold struct {
	journal.Past
	Taken   []string      // SAN of the moves that were taken back, in order
	Earlier []string      // SAN of the moves before the position was agreed
	Tags    []chess.Tag   // of the PGN file that the game was added from
	Set     *journal.Task // the set-up that ended it: the pieces stand where the next game begins
}

// Replay makes a game of its log: the moves finished and not taken back, the
// machine's move that was decided but not finished, where the pieces beside the
// board are, and what was being done when the log ends. With an error comes the
// game up to the entry that cannot be followed.
func Replay(g store.Game, entries []store.Entry) (Retold, error) {
	start, err := chess.ParseFEN(g.Start)
	if err != nil {
		return Retold{}, fmt.Errorf("game %d: %w", g.ID, err)
	}
	k := Retold{Past: journal.Past{Game: chess.NewGame(start)}}
	for _, e := range entries {
		if e.Damaged != nil {
			return k, e.Damaged
		}
		if err := k.follow(e); err != nil {
			return k, fmt.Errorf("game %d, entry %d: %w", g.ID, e.N, err)
		}
	}
	conclude(k.Game, g)
	return k, nil
}

// Tell is what the store's log tells of a game, up to where it is damaged.
func Tell(ctx context.Context, s *store.Store, g store.Game) (Retold, error) {
	entries, broken := s.Entries(ctx, g.ID)
	k, err := Replay(g, entries)
	if err == nil {
		err = broken
	}
	return k, err
}

// conclude ends a game as the store says that it ended, if not by its moves.
func conclude(game *chess.Game, g store.Game) {
	if game.Outcome().Over() {
		return
	}
	switch machine := chess.ColorNamed(g.Machine); chess.Reason(g.Reason) {
	case store.Added:
		game.Conclude(chess.Result(g.Result))
	case chess.Resignation:
		loser := machine.Other()
		if g.Result == string(chess.Wins(loser)) {
			loser = machine
		}
		_ = game.Resign(loser) // it is not over
	case chess.Agreement:
		_ = game.AgreeDraw() // refused only where the store is wrong
	case chess.Threefold, chess.FiftyMoves:
		_ = game.ClaimDraw() // likewise
	}
}

// follow does what one entry tells.
func (k *Retold) follow(e store.Entry) error {
	if e.Standing != "" {
		s, err := places.ParseStanding(e.Standing)
		if err != nil {
			return err
		}
		k.Standing = &s
	}
	k.recall(e)
	if err := k.followTask(e); err != nil {
		return err
	}
	if e.Event == string(journal.Agreed) {
		return k.agree(e.Detail)
	}
	if e.Move+e.Back+e.Decided != "" {
		k.Set = nil
	}
	if e.Back != "" {
		return k.back(e.Back)
	}
	return k.followMove(e)
}

// followTask takes up a task that an entry tells, or the end of a set-up.
func (k *Retold) followTask(e store.Entry) (err error) {
	if e.Event == string(journal.SetUpDone) {
		done := k.Task
		k.Set = &done
	}
	if e.Task == "" {
		return nil
	}
	if k.Task, err = journal.ParseTask(e.Task); err == nil {
		k.Decided = 0
	}
	return err
}

// followMove makes the move of an entry, or keeps in mind what was decided.
func (k *Retold) followMove(e store.Entry) error {
	text := e.Move + e.Decided
	if text == "" {
		return nil
	}
	pos := k.Game.Position()
	m, err := pos.ParseUCI(text)
	if err != nil {
		return err
	}
	if k.Decided = m; e.Move == "" {
		return nil
	}
	k.Decided = 0
	return k.Game.Push(m)
}

// recall takes in what came with an entry and no move depends on: what cannot be read
// tells nothing.
func (k *Retold) recall(e store.Entry) {
	var d detail
	if err := json.Unmarshal([]byte(e.Detail), &d); err != nil {
		return
	}
	k.Symptoms = append(k.Symptoms, d.Symptoms...)
	k.Strength = cmp.Or(d.Strength, k.Strength)
	k.Tags = append(k.Tags, d.Tags...)
}

// agree lets the game go on from a position that a person said stands there.
func (k *Retold) agree(text string) error {
	var d detail
	if err := json.Unmarshal([]byte(text), &d); err != nil {
		return fmt.Errorf("the agreed position cannot be read: %w", err)
	}
	pos, err := chess.ParseFEN(d.FEN)
	if err != nil {
		return fmt.Errorf("the agreed position cannot be read: %w", err)
	}
	now := k.Game.Position()
	k.Decided = 0
	if pos.Key() == now.Key() {
		return nil
	}
	k.Earlier = append(k.Earlier, k.Game.SANs()...)
	k.Game = chess.NewGame(pos)
	return nil
}

// back takes the last move back.
func (k *Retold) back(text string) error {
	n := len(k.Game.Moves)
	if n == 0 || k.Game.Moves[n-1].String() != text {
		return fmt.Errorf("%s is to be taken back, but it was not the last move", text)
	}
	m := k.Game.Moves[n-1]
	if err := k.Game.Pop(); err != nil {
		return err
	}
	pos := k.Game.Position()
	k.Taken = append(k.Taken, pos.SAN(m))
	return nil
}

// PGN is a game as the text of a PGN file.
func PGN(g store.Game, k Retold) string {
	game := k.Game
	if g.IsAdded() {
		game.Tags = k.Tags
		return game.PGN()
	}
	if len(k.Taken) > 0 {
		game.SetTag("TakenBack", strings.Join(k.Taken, " "))
	}
	if len(k.Earlier) > 0 {
		game.SetTag("Earlier", strings.Join(k.Earlier, " "))
	}
	game.SetTag("Date", g.Started.Local().Format("2006.01.02"))
	game.SetTag("White", "Guest")
	game.SetTag("Black", "Machine")
	if g.Machine == chess.White.String() {
		game.SetTag("White", "Machine")
		game.SetTag("Black", "Guest")
	}
	game.SetTag("Event", "Game at the table")
	game.SetTag("Site", "?")
	game.SetTag("Round", strconv.FormatInt(g.ID, 10))
	game.SetTag("Termination", termination(g, game.Outcome()))
	if o := game.Outcome(); o.Over() && o.Reason != chess.NoReason {
		game.SetTag("Reason", string(o.Reason))
	}
	return game.PGN()
}

// termination is how a game ended, in the words of the PGN standard (9.8.1).
func termination(g store.Game, o chess.Outcome) string {
	switch {
	case o.Over():
		return "normal"
	case g.Reason == store.Abandoned:
		return "abandoned"
	}
	return "unterminated"
}
