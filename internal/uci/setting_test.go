// SPDX-License-Identifier: Apache-2.0

package uci

import (
	"context"
	"strings"
	"testing"

	"boardhand/internal/chess"
	"boardhand/internal/uci/fake"
)

// As in the protocol's own examples (S. Meyer-Kahlen, UCI protocol, April 2006, setoption).
func TestSettingsAsTheProtocolHasThem(t *testing.T) {
	for text, want := range map[string]string{
		"Nullmove=true":                   "setoption name Nullmove value true",
		"Selectivity = 3":                 "setoption name Selectivity value 3",
		"Style=Risky":                     "setoption name Style value Risky",
		"Clear Hash":                      "setoption name Clear Hash",
		`NalimovPath=c:\chess\tb\4;a=b c`: `setoption name NalimovPath value c:\chess\tb\4;a=b c`,
	} {
		if s, err := parseSetting(text); err != nil || s.command() != want {
			t.Errorf("%q: %q, %v; want %q", text, s.command(), err, want)
		}
	}
	for _, text := range []string{"", "=2", "Hash=", "Hash=1\nquit"} {
		if s, err := parseSetting(text); err == nil || !strings.Contains(err.Error(), "NAME=VALUE") {
			t.Errorf("%q: %+v, %v", text, s, err)
		}
	}
}

// The player hears its settings, again when it was started anew; one that it does not
// have is refused with those that it has.
func TestPlayerIsSet(t *testing.T) {
	t.Setenv(fake.Manner, fake.Plain)
	k, err := Keep(t.Context(), self(), passing(), "told nodes=7", "Clear Hash")
	if err != nil {
		t.Fatal(err)
	}
	defer k.Close()
	for range 2 {
		th, err := k.Think(context.Background(), chess.NewGame(chess.Start()), Limits{Nodes: 1000})
		if err != nil || th.Nodes != 7 { // as it was set
			t.Errorf("thought %+v, %v", th, err)
		}
		k.Kill()
	}
	_, err = Start(t.Context(), self(), passing(), "Salt=1")
	checkError(t, err, []string{`it has no option "Salt"`, "Told Nodes", "Clear Hash"})
}
