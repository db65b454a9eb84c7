// SPDX-License-Identifier: Apache-2.0

package sight

import (
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"boardhand/internal/sight/hypothesis"
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

// TestSurprise works a mean out by hand: ln 2 for a true answer believed by
// half, ln 10 for a wrong one that left a tenth to the others, and never more
// than ln 1000.
func TestSurprise(t *testing.T) {
	c := newScore()
	c.said = []answer{{0.5, true}, {0.9, false}, {1, false}}
	want := (math.Ln2 + math.Ln10 + 3*math.Ln10) / 3
	if got := c.surprise(); math.Abs(got-want) > 1e-12 {
		t.Errorf("%v, want %v", got, want)
	}
	if got := newScore().surprise(); got != 0 {
		t.Errorf("of nothing: %v", got)
	}
}

// TestLead: explanations that say the same do not count against each other.
func TestLead(t *testing.T) {
	v := &decision{hypotheses: []hypothesis.Hypothesis{{State: Moved, Move: 5}, {State: Moved, Move: 5, Lag: -1}, {State: Moved, Move: 6, Lag: -7}, {State: Same, Lag: -9}}}
	if got, ok := v.lead(); !ok || got != 7 {
		t.Errorf("%v, %v", got, ok)
	}
	v.hypotheses = v.hypotheses[:2]
	if _, ok := v.lead(); ok {
		t.Error("a lead over nothing")
	}
}

// TestCandidates: each move stands there once, with all that is believed of it, and none of which
// nothing is.
func TestCandidates(t *testing.T) {
	v := &decision{hypotheses: []hypothesis.Hypothesis{{State: Moved, Move: 5, Belief: 0.4}, {State: Same, Belief: 0.3}, {State: Illegal, Belief: 0.105},
		{State: Same, Belief: 0.15}, {State: Moved, Move: 6, Belief: 0.042}, {State: Partial, Move: 7, Belief: 0.001}, {State: Moved, Move: 8, Belief: 0.002}}}
	want := []Candidate{{0, 0.45}, {5, 0.4}, {6, 0.042}}
	if got := v.candidates(); !slices.EqualFunc(got, want, func(a, b Candidate) bool { return a.Move == b.Move && math.Abs(a.Belief-b.Belief) < 1e-9 }) {
		t.Errorf("%v, want %v", got, want)
	}
}

// TestRows: groups and scenes have rows of their own, and add up.
func TestRows(t *testing.T) {
	one := func(right int) *score {
		c := newScore()
		c.moves, c.right, c.readings, c.times = 3, right, []string{"a", "b"}, []float64{10, 30}
		c.confusion[[2]string{string(Hand), string(Hand)}] = 2
		c.confusion[[2]string{string(Hand), string(Illegal)}] = 1
		return c
	}
	m := &measured{names: []string{"tune01", "tune02", "valid01"}, scores: map[string]*score{"tune01": one(3), "tune02": one(2), "valid01": one(1)}, total: newScore()}
	for _, n := range m.names {
		m.total.join(m.scores[n])
	}
	got := m.result(setOf)
	for name, want := range map[string]card.Row{
		"tune":    {Pictures: 4, Moves: card.Count{Is: 5, Of: 6}, Hands: card.Count{Is: 4, Of: 6}, CPU: 20},
		"total":   {Pictures: 6, Moves: card.Count{Is: 6, Of: 9}, Hands: card.Count{Is: 6, Of: 9}, CPU: 20},
		"valid01": {Pictures: 2, Moves: card.Count{Is: 1, Of: 3}, Hands: card.Count{Is: 2, Of: 3}, CPU: 20},
	} {
		want.Name = name
		if r := got.Card.Row(name); r == nil || *r != want {
			t.Errorf("%s: %+v, want %+v", name, r, want)
		}
	}
	if len(got.Card) != 6 || len(got.Readings) != 6 {
		t.Errorf("%d rows, %d readings", len(got.Card), len(got.Readings))
	}
}
