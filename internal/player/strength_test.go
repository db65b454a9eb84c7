// SPDX-License-Identifier: Apache-2.0

package player

import (
	"strings"
	"testing"

	"boardhand/internal/chess"
	"boardhand/internal/rig"
	"boardhand/internal/search"
	"boardhand/internal/uci/fake"
)

// playerOf is the built-in player at the table.
func playerOf(t *testing.T, strength string, chance uint64) *Player {
	t.Helper()
	p, err := Open(t.Context(), Options{Limits: search.Limits{Nodes: 2000}, Strength: strength, Chance: chance})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(p.Close)
	return p
}

// opened are the first moves that a player makes for both sides.
func opened(t *testing.T, p *Player) string {
	t.Helper()
	g := chess.NewGame(chess.Start())
	choose(t, p, g, 6)
	return strings.Join(g.SANs(), " ")
}

// The rig file knows the player's rungs, and no others.
func TestRigKnowsTheRungs(t *testing.T) {
	text := strings.ReplaceAll(rig.DefaultText, "\r", "")
	of := func(name string) (*rig.Rig, error) {
		return rig.Parse("rig.toml", []byte(strings.Replace(text, `strength = "pencil"`, `strength = "`+name+`"`, 1)), rig.Machine)
	}
	for _, name := range search.StrengthNames() {
		if r, err := of(name); err != nil || r.Play.Strength != name {
			t.Errorf("%s: %v", name, err)
		}
	}
	if _, err := of("granite"); err == nil || !strings.Contains(err.Error(), "play.strength") || strings.Count(err.Error(), `"`) < 2*len(search.Ladder) {
		t.Errorf("an unknown strength: %v", err)
	}
}

// The same chance gives the same games, another one, and the next game, others.
func TestGamesDifferByChance(t *testing.T) {
	for _, name := range search.StrengthNames() {
		seen := map[string]bool{}
		for chance := range uint64(4) {
			game := opened(t, playerOf(t, name, chance))
			if again := opened(t, playerOf(t, name, chance)); again != game {
				t.Errorf("%s, chance %d: %s, then %s", name, chance, game, again)
			}
			seen[game] = true
		}
		if len(seen) < 3 {
			t.Errorf("%s: four evenings gave %v", name, seen)
		}
	}
	p := playerOf(t, "pen", 1)
	first := opened(t, p)
	p.NextGame()
	if next := opened(t, p); next == first {
		t.Errorf("two games of an evening are the same: %s", first)
	}
	if a, b := opened(t, playerOf(t, "", 1)), opened(t, playerOf(t, "", 2)); a != b {
		t.Errorf("without a strength nothing is left to chance: %s, %s", a, b)
	}
}

// A strength that is set counts from the next move on; an outside player has its own.
func TestStrengthIsSet(t *testing.T) {
	p := playerOf(t, "chalk", 1)
	if err := p.SetStrength("needle"); err != nil || p.Strength() != "needle" {
		t.Errorf("now %q, %v", p.Strength(), err)
	}
	if err := p.SetStrength("granite"); err == nil || p.Strength() != "needle" {
		t.Errorf("now %q, %v", p.Strength(), err)
	}
	out, _ := relievedPlayer(t, fake.Plain)
	if err := out.SetStrength("chalk"); err == nil || out.HasStrengths() {
		t.Errorf("an outside player took a strength: %v", err)
	}
}

// What is advised is sound, whatever the player's own strength: a mate in two
// (F. Reinfeld, Win at Chess, 1958, number 1).
func TestAdvice(t *testing.T) {
	pos, err := chess.ParseFEN("2rr3k/pp3pp1/1nnqbN1p/3pN3/2pP4/2P3Q1/PPB4P/R4RK1 w - - 0 1")
	if err != nil {
		t.Fatal(err)
	}
	if m, err := playerOf(t, "chalk", 1).Advise(t.Context(), chess.NewGame(pos)); err != nil || m.String() != "g3g6" {
		t.Errorf("%s, %v", m, err)
	}
}
