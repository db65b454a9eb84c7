// SPDX-License-Identifier: Apache-2.0

package table

import (
	"bytes"
	"encoding/json"
	"os"
	"testing"

	"boardhand/internal/chess"
	"boardhand/internal/gamelog"
	"boardhand/internal/store"
	"boardhand/internal/table/journal"
)

// The entries of a game that was killed while two plies were being taken back,
// recorded before tasks and stops had states, are read as they were meant.
func TestOldRecordIsRead(t *testing.T) {
	text, err := os.ReadFile("testdata/old_take_back.jsonl")
	if err != nil {
		t.Fatal(err)
	}
	var entries []store.Entry
	for line := range bytes.Lines(text) {
		var e store.Entry
		if err := json.Unmarshal(line, &e); err != nil {
			t.Fatal(err)
		}
		e.N = len(entries) + 1
		entries = append(entries, e)
	}
	start := chess.Start()
	k, err := gamelog.Replay(store.Game{Start: start.FEN(), Machine: "black"}, entries)
	if err != nil {
		t.Fatal(err)
	}
	if want := (journal.Task{Kind: journal.TakeBack, Plies: 2}); k.Task != want || len(k.Game.Moves) != 4 {
		t.Errorf("read as task %v after %d moves", k.Task, len(k.Game.Moves))
	}
	table := New(Parts{}, Settings{Machine: Machine{Side: chess.Black}}, k.Past, nil)
	if table.kit.job.State() != journal.BrokenOff || table.kit.d.IsHalted() || table.kit.d.IsAwaiting() {
		t.Errorf("the task is %s; halted %v, awaiting %v", table.kit.job.State(), table.kit.d.IsHalted(), table.kit.d.IsAwaiting())
	}
}
