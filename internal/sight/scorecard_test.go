package sight

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"boardhand/tools/score/card"
)

// The gate's games and what the reader makes of them.
var (
	gateGames = filepath.Join("testdata", "gate")
	gateCard  = filepath.Join(gateGames, "scorecard.md")
	gateLines = filepath.Join(gateGames, "readings.txt")
)

// gateHead stands over the committed card.
const gateHead = `# What the reader makes of the gate's games

Written by ` + "`make score-accept`" + `; TestScorecard compares with it. docs/sensitivity.md tells what each number of the reader does to it.

`

// TestScorecard reads the gate's games and compares with the committed card:
// red when reading became worse, and when it became better and the card is
// still the old one. BOARDHAND_ACCEPT=true writes the card anew,
// BOARDHAND_ONLY=gate06,gate22 reads these games alone, BOARDHAND_CARD names a
// file for what was measured (JSON, for tools/score).
func TestScorecard(t *testing.T) {
	dirs, err := filepath.Glob(filepath.Join(gateGames, "gate*"))
	if err != nil || len(dirs) == 0 {
		t.Fatalf("no games in %s: %v", gateGames, err)
	}
	only := os.Getenv("BOARDHAND_ONLY")
	names := strings.Split(only, ",")
	if only != "" {
		dirs = slices.DeleteFunc(dirs, func(d string) bool { return !slices.Contains(names, filepath.Base(d)) })
	}
	got := readScenes(t, dirs).result(func(name string) string { return name })
	for i := range got.Card {
		got.Card[i].CPU = 0 // no test compares times
	}
	if name := os.Getenv("BOARDHAND_CARD"); name != "" {
		if err := got.Save(fromRoot(name)); err != nil {
			t.Fatal(err)
		}
	}
	if os.Getenv("BOARDHAND_ACCEPT") == "true" {
		accept(t, got)
		return
	}
	want := committed(t)
	if only != "" {
		want.Card, got.Card = want.Card.Only(names), got.Card.Only(names)
		want.Readings = slices.DeleteFunc(want.Readings, func(l string) bool { return !slices.Contains(names, strings.Split(l, "/")[0]) })
	}
	judgeCard(t, want, got)
}

// accept writes the card anew.
func accept(t *testing.T, got card.Result) {
	t.Helper()
	for name, text := range map[string]string{gateCard: gateHead + got.Card.String(), gateLines: strings.Join(got.Readings, "\n") + "\n"} {
		if err := os.WriteFile(name, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// committed is the card that stands in the tree.
func committed(t *testing.T) card.Result {
	t.Helper()
	text, err := os.ReadFile(gateCard)
	if err != nil {
		t.Fatalf("there is no card yet: write it with make score-accept (%v)", err)
	}
	c, err := card.Parse(string(text))
	if err != nil {
		t.Fatalf("%s: %v", gateCard, err)
	}
	lines, err := os.ReadFile(gateLines)
	if err != nil {
		t.Fatal(err)
	}
	return card.Result{Card: c, Readings: strings.Split(strings.TrimSpace(string(lines)), "\n")}
}

// judgeCard fails when a run is not the committed one.
func judgeCard(t *testing.T, want, got card.Result) {
	t.Helper()
	if text := card.Judge(want, got); text != "" {
		t.Error(text)
	}
}
