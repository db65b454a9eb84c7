// SPDX-License-Identifier: Apache-2.0

package follow

import (
	"reflect"
	"testing"

	"boardhand/internal/chess"
	"boardhand/internal/store"
	"boardhand/internal/table/journal"
)

// What happened on pictures that are gone comes before the next that is kept.
func TestRecorded(t *testing.T) {
	start := chess.Start()
	got := Recorded([]store.Entry{
		{Picture: "f1.jpg"},
		{Picture: "f2.jpg", Move: "e2e4"},
		{Picture: "gone.jpg", Back: "e2e4"},
		{Picture: "f3.jpg", Move: "d2d4"},
		{State: string(journal.Arranging), Task: journal.Task{Kind: journal.SetUp}.String(), Picture: "f4.jpg"},
		{State: string(journal.Arranging), Task: journal.Task{}.String(), Picture: "f5.jpg"},
	}, []string{"f1.jpg", "f2.jpg", "f3.jpg", "f4.jpg", "f5.jpg"})
	want := Answers{
		"f2.jpg": {Moves: []string{"e2e4"}},
		"f3.jpg": {Moves: []string{"d2d4"}, earlier: []Answer{{Back: 1}}},
		"f5.jpg": {Set: start.FEN()},
	}
	if !reflect.DeepEqual(got, want) {
		t.Errorf("got %+v, want %+v", got, want)
	}
}
