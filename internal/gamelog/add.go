// SPDX-License-Identifier: Apache-2.0

package gamelog

import (
	"cmp"
	"encoding/json"
	"fmt"
	"time"

	"boardhand/internal/chess"
	"boardhand/internal/store"
	"boardhand/internal/table/journal"
)

// Whole is a game of a file as the store keeps one: its heading, and an entry for
// where it comes from, with its tags, and one for each move. source says where that is. A
// game that cannot be told again from its entries is an error.
func Whole(g *chess.Game, source string, now time.Time) (store.Game, []store.Entry, error) {
	o := g.Outcome()
	head := store.Game{Started: begun(g, now), Start: g.Start.FEN(), Result: string(o.Result), Reason: cmp.Or(string(o.Reason), store.Added)}
	first := EntryOf(journal.Record{State: journal.Over, What: journal.Added, Said: source})
	text, err := json.Marshal(detail{Said: source, Tags: g.Tags})
	if err != nil {
		return head, nil, fmt.Errorf("the tags cannot be kept: %w", err)
	}
	first.Detail = string(text)
	entries := []store.Entry{first}
	sans := g.SANs()
	for i, m := range g.Moves {
		entries = append(entries, EntryOf(journal.Record{State: journal.Over, What: journal.Added, Move: m, SAN: sans[i]}))
	}
	for i := range entries {
		entries[i].N, entries[i].At = i+1, now
	}
	_, err = Replay(head, entries)
	return head, entries, err
}

// begun is the day that the game's tags give, or now.
func begun(g *chess.Game, now time.Time) time.Time {
	if day, err := time.ParseInLocation("2006.01.02", g.Tag("Date"), time.Local); err == nil {
		return day
	}
	return now
}
