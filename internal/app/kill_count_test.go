// SPDX-License-Identifier: Apache-2.0

package app

import (
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"boardhand/internal/rehearsal/fixture"
	"boardhand/internal/rig"
)

// fallen counts the kills that fell in one state and what came of them.
type fallen struct{ kills, wrong, asked, stuck int }

// killCount counts kills by state.
type killCount struct {
	by       map[string]*fallen
	games    int
	finished int
}

func (c *killCount) at(state string) *fallen {
	if c.by[state] == nil {
		c.by[state] = &fallen{}
	}
	return c.by[state]
}

// String is the table that is printed.
func (c *killCount) String() string {
	var b strings.Builder
	fmt.Fprintf(&b, "%-24s %6s %6s %6s %6s\n", "killed in", "kills", "wrong", "asked", "stuck")
	var sum fallen
	for _, s := range slices.Sorted(maps.Keys(c.by)) {
		f := c.by[s]
		fmt.Fprintf(&b, "%-24s %6d %6d %6d %6d\n", s, f.kills, f.wrong, f.asked, f.stuck)
		sum.kills, sum.wrong, sum.asked, sum.stuck = sum.kills+f.kills, sum.wrong+f.wrong, sum.asked+f.asked, sum.stuck+f.stuck
	}
	fmt.Fprintf(&b, "%-24s %6d %6d %6d %6d\n", "all", sum.kills, sum.wrong, sum.asked, sum.stuck)
	fmt.Fprintf(&b, "%d games, %d played to their end", c.games, c.finished)
	return b.String()
}

// killPlan is how many kills, over how many plies a game, from which seed.
type killPlan struct {
	kills, aGame, plies int
	seed                int64
}

// mostToEnd is how many lines of the log the rest of a game may take: one that
// takes more goes round in circles.
const mostToEnd = 600

// run kills at one rig's tables until the plan is fulfilled.
func (p killPlan) run(t *testing.T, rigFile string, c *killCount) {
	for seed := p.seed; p.kills > 0; seed++ {
		n := min(p.kills, p.aGame)
		done := p.oneGame(t, newKilled(t, rigFile, p.plies, seed), n, c)
		if p.kills -= max(done, 1); t.Failed() && os.Getenv("BOARDHAND_LONG") == "" {
			return
		}
	}
}

// oneGame kills n times at one table, lets the game end, and says how often it
// was killed.
func (p killPlan) oneGame(t *testing.T, k *killed, n int, c *killCount) int {
	c.games++
	state, done := "not killed", 0
	for ; done < n; done++ {
		m := drawMoment(k.chance)
		k.start()
		isRunning := k.until(m)
		failed := k.kill()
		if p.settle(k, c, state, m.String()); !isRunning && len(failed) == 0 {
			break
		}
		var wrong []string
		wrong, state = k.wrong()
		wrong = append(wrong, failed...)
		t.Logf("seed %d, kill %d (%v): fell in %q after %d entries", k.spec.Seed, done+1, m, state, len(k.kept))
		c.at(state).kills++
		if len(wrong) > 0 {
			c.at(state).wrong++
			t.Errorf("seed %d, kill %d (%v): %s\nthe last entries: %s", k.spec.Seed, done+1, m, strings.Join(wrong, "; "), lastOf(k.kept))
		}
	}
	k.start()
	for ok := true; ok && len(k.said) < mostToEnd; {
		_, _, ok = k.next()
	}
	k.silent = k.silent || len(k.said) == mostToEnd
	p.end(k, c, state)
	return done
}

// end looks at a game that was let play to its end.
func (p killPlan) end(k *killed, c *killCount, state string) {
	failed := k.kill()
	p.settle(k, c, state, "to the end")
	wrong, _ := k.wrong()
	wrong = append(wrong, failed...)
	if code, text, errs := cli(k.t, "games", "check", "--games", k.spec.Games); code != fine {
		wrong = append(wrong, text+errs)
	}
	if len(wrong) > 0 {
		c.at(state).wrong++
		k.t.Errorf("seed %d, at the end: %s", k.spec.Seed, strings.Join(wrong, "; "))
	}
	if k.silent {
		c.at(state).stuck++
		k.t.Errorf("seed %d: the game does not end:\n%s", k.spec.Seed, lastOf(k.said))
		return
	}
	c.finished++
}

// settle counts what came of the kill before, of which state, up to now.
func (p killPlan) settle(k *killed, c *killCount, state, when string) {
	for _, line := range k.said {
		if strings.HasPrefix(line, "Please") && strings.Contains(line, "set") || strings.Contains(line, "not sure") || strings.Contains(line, "does not show") {
			c.at(state).asked++
		}
	}
	if lines := k.reported(); len(lines) > 0 {
		c.at(state).wrong++
		k.t.Errorf("seed %d, killed in %q, then %s:\n%s\nsaid: %s", k.spec.Seed, state, when, strings.Join(lines, "\n"), lastOf(k.said))
	}
}

func lastOf(notes []string) string {
	return "\n  " + strings.Join(notes[max(0, len(notes)-12):], "\n  ")
}

// Killed at random moments, the program always goes on with the position that
// truly stands there.
func TestKilledAtRandom(t *testing.T) {
	whole(t)
	p := killPlan{kills: 2, aGame: 2, plies: 5}
	if os.Getenv("BOARDHAND_LONG") != "" {
		p = killPlan{kills: 100, aGame: 10, plies: 12, seed: 1000}
	}
	if n := os.Getenv("BOARDHAND_KILLS"); n != "" {
		if _, err := fmt.Sscanf(n, "%d,%d,%d,%d", &p.kills, &p.aGame, &p.plies, &p.seed); err != nil {
			t.Fatalf("BOARDHAND_KILLS is kills,a game,plies,seed: %v", err)
		}
	}
	for _, r := range []struct {
		name, file string
		seed       int64 // whose first kills fall while homing, carrying, undoing, verifying
	}{
		{"by hand", quick(t, rig.DefaultText), 3},
		{"tray", quick(t, fixture.Tray(t, "both")), 28},
		{"chute", quick(t, chuteText(t)), 43},
	} {
		p := p
		p.seed += r.seed
		t.Run(r.name, func(t *testing.T) {
			t.Parallel()
			c := &killCount{by: map[string]*fallen{}}
			defer func() { t.Logf("from seed %d:\n%v", p.seed, c) }()
			p.run(t, r.file, c)
		})
	}
}

// quick is a rig file whose machine thinks for a moment only.
func quick(t *testing.T, text string) string {
	t.Helper()
	const slow = `time = "1 s"`
	if !strings.Contains(text, slow) {
		t.Fatalf("the rig has no %s", slow)
	}
	return write(t, filepath.Join(t.TempDir(), "rig.toml"), strings.Replace(text, slow, `time = "0.05 s"`, 1))
}
