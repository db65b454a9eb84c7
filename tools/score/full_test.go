// SPDX-License-Identifier: Apache-2.0

package main

import (
	"io"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"boardhand/tools/score/card"
)

// TestSessions: those asked for, else those of the card, else the default.
func TestSessions(t *testing.T) {
	was := card.Card{{Name: "tune"}, {Name: "total"}, {Name: "tune02"}, {Name: "valid07"}}
	if got := (options{}).sessions(was); !slices.Equal(got, []string{"tune02", "valid07"}) {
		t.Errorf("of the card: %v", got)
	}
	if got := (options{asked: [len(sets)]int{2, 1, 0, 1}}).sessions(was); !slices.Equal(got, []string{"tune01", "tune02", "valid01", "roomv01"}) {
		t.Errorf("asked for: %v", got)
	}
	if got := (options{}).sessions(nil); len(got) != usual[0]+usual[1] {
		t.Errorf("without a card: %v", got)
	}
}

// TestAcceptRun: a run is made the card only while the reader is the one that
// was measured.
func TestAcceptRun(t *testing.T) {
	t.Chdir(t.TempDir())
	for _, dir := range []string{readerDir, workDir, "docs"} {
		if err := os.MkdirAll(dir, 0o755); err != nil {
			t.Fatal(err)
		}
	}
	write := func(path, text string) {
		t.Helper()
		if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	reader := filepath.Join(readerDir, "reader.go")
	write(reader, "package sight\n")
	write(cardFile, "old")
	read := func() string {
		text, err := os.ReadFile(cardFile)
		if err != nil {
			t.Fatal(err)
		}
		return string(text)
	}
	for _, step := range []struct {
		do   func() error
		want string
	}{
		{func() error { return acceptRun(io.Discard) }, "old"}, // nothing was run
		{func() error { return savePending("new") }, "old"},
		{func() error { write(reader, "package sight // changed\n"); return acceptRun(io.Discard) }, "old"},
		{func() error { write(reader, "package sight\n"); return acceptRun(io.Discard) }, "new"},
	} {
		if err := step.do(); err != nil || read() != step.want {
			t.Fatalf("the card is %q, want %q (%v)", read(), step.want, err)
		}
	}
}

// TestJudge: a lost move anywhere fails, a measure only in the rows that hold
// many pictures.
func TestJudge(t *testing.T) {
	t.Chdir(t.TempDir()) // nothing to accept here
	for _, c := range []struct {
		change card.Change
		worse  bool
	}{
		{card.Change{Row: "tune03", Figure: "moves right", Verdict: card.Worse, Counted: true}, true},
		{card.Change{Row: "tune03", Figure: "offset", Verdict: card.Worse}, false},
		{card.Change{Row: "tune", Figure: "offset", Verdict: card.Worse}, true},
		{card.Change{Row: "total", Figure: "offset", Verdict: card.Better}, false},
	} {
		if err := judge(io.Discard, card.Changes{c.change}); (err != nil) != c.worse {
			t.Errorf("%v: %v", c.change, err)
		}
	}
}
