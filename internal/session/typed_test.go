// SPDX-License-Identifier: Apache-2.0

package session

import (
	"errors"
	"strings"
	"testing"
	"time"

	"boardhand/internal/chess"
	"boardhand/internal/table/journal"
)

func TestTypedWords(t *testing.T) {
	start := chess.Start()
	move := func(text string) chess.Move {
		m, err := start.ParseUCI(text)
		if err != nil {
			t.Fatal(err)
		}
		return m
	}
	const fen = "4k3/8/8/8/8/8/8/4K3 w - - 0 1"
	for line, want := range map[string]journal.Request{
		"back":                   {Kind: journal.RequestBack, Plies: 2},
		" back  1 ":              {Kind: journal.RequestBack, Plies: 1},
		"BACK 2":                 {Kind: journal.RequestBack, Plies: 2},
		"again":                  {Kind: journal.RequestNew},
		"new":                    {Kind: journal.RequestNew},
		"new white":              {Kind: journal.RequestNew, Side: "white"},
		"new black 500ms":        {Kind: journal.RequestNew, Side: "black", Time: 500 * time.Millisecond},
		"again 2 s":              {Kind: journal.RequestNew, Time: 2 * time.Second},
		"strength Chalk":         {Kind: journal.RequestStrength, Strength: "chalk"},
		"new odds queen":         {Kind: journal.RequestNew, Odds: "queen"},
		"new white 2s odds pawn": {Kind: journal.RequestNew, Side: "white", Time: 2 * time.Second, Odds: "pawn"},
		"new position 4k3/8/8/8/8/8/8/4K2R w K -": {Kind: journal.RequestNew, FEN: "4k3/8/8/8/8/8/8/4K2R w K - 0 1"},
		"resign":              {Kind: journal.RequestResign},
		"draw":                {Kind: journal.RequestDraw},
		"hint":                {Kind: journal.RequestHint},
		"resume":              {Kind: journal.RequestResume},
		"nothing":             {Kind: journal.RequestPlayed},
		"right":               {Kind: journal.RequestRight},
		"afresh":              {Kind: journal.RequestAfresh},
		"played e2e4":         {Kind: journal.RequestPlayed, Move: move("e2e4")},
		"played Nf3":          {Kind: journal.RequestPlayed, Move: move("g1f3")},
		"position " + fen:     {Kind: journal.RequestPosition, FEN: fen},
		"position  " + fen[:]: {Kind: journal.RequestPosition, FEN: fen},
	} {
		if got, stop, err := parseTyped(line, start); err != nil || stop || got != want {
			t.Errorf("%q gave %+v, %v, %v", line, got, stop, err)
		}
	}
	if _, stop, err := parseTyped("stop", start); !stop || err != nil {
		t.Errorf("stop gave %v, %v", stop, err)
	}
	if _, _, err := parseTyped("help", start); !errors.Is(err, errHelp) {
		t.Errorf("help gave %v", err)
	}
}

// What is typed wrongly is answered with what to type.
func TestTypedWrongly(t *testing.T) {
	start := chess.Start()
	for line, want := range map[string]string{
		"":              "type help",
		"back 3":        "nothing to type here",
		"back 2 3":      "nothing to type here",
		"stop now":      "nothing to type here",
		"played":        "nothing to type here",
		"played e2e5":   `"e2e5" is no legal move now`,
		"new green":     "like \"new white 5s\"",
		"new white -5s": "like \"new white 5s\"",
		"new odds king": "odds are a queen",
		"new odds":      "like \"new white 5s\"",
		"new position 7k/5Q2/6K1/8/8/8/8/8 b - - 0 1": "it is over there",
		"position nowhere":                            "FEN",
		"strength":                                    "nothing to type here",
		"jump":                                        "nothing to type here",
	} {
		if got, stop, err := parseTyped(line, start); err == nil || stop || !strings.Contains(err.Error(), want) {
			t.Errorf("%q gave %+v, %v", line, got, err)
		}
	}
}

func FuzzTyped(f *testing.F) {
	for _, line := range []string{"back 1", "new white 5s", "played Nf3", "position 4k3/8/8/8/8/8/8/4K3 w - - 0 1", "stop"} {
		f.Add(line)
	}
	start := chess.Start()
	f.Fuzz(func(t *testing.T, line string) {
		r, stop, err := parseTyped(line, start)
		if err == nil && !stop && r.Kind == "" {
			t.Errorf("%q is neither a request nor refused", line)
		}
		if r.Kind == journal.RequestPlayed && err == nil && r.Move != 0 && !start.Legal(r.Move) {
			t.Errorf("%q gave the move %s, which is not legal", line, r.Move)
		}
	})
}
