// SPDX-License-Identifier: Apache-2.0

package app

import (
	"encoding/json"
	"path/filepath"
	"strings"
	"testing"
)

// Games of a file are thought about where they end.
func TestThinkAboutAGame(t *testing.T) {
	const (
		mateInOne = "[White \"A\"]\n\n1. e4 e5 2. Bc4 Nc6 3. Qh5 Nf6 *\n" // Qxf7 mates
		mated     = "1. f3 e5 2. g4 Qh4# 0-1\n"
		broken    = "1. e4 e5 2. Ke3 *\n"
	)
	path := func(text string) string { return write(t, filepath.Join(t.TempDir(), "games.pgn"), text) }
	for _, args := range [][]string{{path(mateInOne)}, {path(mated + "\n" + mateInOne), "--game", "2"}, {path(mateInOne + "\n" + broken), "--game", "1"}} {
		code, out, errs := cli(t, append([]string{"think", "--depth", "2", "--json", "--pgn"}, args...)...)
		var got thought
		if err := json.Unmarshal([]byte(out), &got); code != fine || err != nil || got.SAN != "Qxf7#" {
			t.Errorf("%q: exit code %d, %v: %s%s", args[1:], code, err, out, errs)
		}
	}
	for _, c := range []struct {
		args []string
		want string
	}{
		{[]string{path(broken)}, "game 1, line 1: "},
		{[]string{path("")}, "no game in this file"},
		{[]string{path(mated + "\n" + mateInOne)}, "holds 2 games: say which with --game"},
		{[]string{path(mateInOne), "--game", "2"}, "--game must be 1 to 1"},
		{[]string{path(mateInOne), "--game", "-1"}, "--game must be 1 to 1"},
		{[]string{filepath.Join(t.TempDir(), "none.pgn")}, "cannot read the games"},
		{[]string{path(mateInOne), "--fen", "8/8/8/8/8/8/8/8 w"}, "exclude each other"},
	} {
		if code, _, errs := cli(t, append([]string{"think", "--depth", "2", "--pgn"}, c.args...)...); code != badInput || !strings.Contains(errs, c.want) {
			t.Errorf("%q gave exit code %d: %s", c.want, code, errs)
		}
	}
	if code, _, errs := cli(t, "think", "--pgn", path(mated)); code != no || !strings.Contains(errs, "the game is over (black wins by checkmate)") {
		t.Errorf("a game that is over gave exit code %d: %s", code, errs)
	}
	if code, _, errs := cli(t, "think", "--depth", "2", "--game", "2"); code != badInput || !strings.Contains(errs, "--game goes with --pgn") {
		t.Errorf("--game alone gave exit code %d: %s", code, errs)
	}
}
