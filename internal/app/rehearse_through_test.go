// SPDX-License-Identifier: Apache-2.0

package app

import (
	"encoding/json"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"boardhand/internal/measured"
	"boardhand/internal/rehearsal"
	"boardhand/internal/rig"
	"boardhand/internal/unit"
)

// through plays a short game through a driver, over a wire that spoils a share of its
// commands.
func through(t *testing.T, kind string, plies int, seed, faults string) rehearsal.Tally {
	t.Helper()
	code, out, errs := cli(t, "rehearse", "--games", "1", "--plies", strconv.Itoa(plies), "--seed", seed, "--through", kind, "--wire-faults", faults, "--json")
	var sum rehearsal.Tally
	if err := json.Unmarshal([]byte(out), &sum); code != fine || err != nil {
		t.Fatalf("exit code %d, %v: %s%s", code, err, out, errs)
	}
	if sum.Plies < plies || sum.Misread+sum.LostState+sum.Collisions+sum.Stuck != 0 || sum.Through.Guessed+sum.Through.Starved+sum.Misnamed != 0 {
		t.Errorf("%s: %+v", kind, sum)
	}
	sum.Seconds = 0
	return sum
}

// A short game through each driver, over a wire that spoils three commands of a hundred:
// what is on the board stays what the game has, and no motor moves on a guess. The same
// seed gives the same game again, to the last command.
func TestRehearseThrough(t *testing.T) {
	whole(t)
	for kind, seed := range map[string]string{"gcode": "3", "tacho": "1"} {
		sum := through(t, kind, 2, seed, "3%")
		if c := sum.Through; c.Commands < 100 || len(c.Ills) < 2 || c.Unknown == 0 || kind == "gcode" && (c.Resets == 0 || c.Rehomed == 0) {
			t.Errorf("%s: nothing was put to the test: %+v", kind, c)
		}
		if kind != "gcode" {
			continue
		}
		if again := through(t, kind, 2, seed, "3%"); !maps.Equal(sum.Through.Ills, again.Through.Ills) || fmt.Sprint(sum) != fmt.Sprint(again) {
			t.Errorf("%+v, then %+v", sum, again)
		}
	}
}

// What cannot be rehearsed through a driver is one sentence that says what to do.
func TestRehearseThroughRefuses(t *testing.T) {
	for _, c := range []struct {
		args []string
		want string
	}{
		{[]string{"--through", "serial"}, "--through must be gcode or tacho"},
		{[]string{"--wire-faults", "1%"}, "add --through gcode or --through tacho"},
		{[]string{"--through", "gcode", "--wire-faults", "1"}, "like 1%"},
		{[]string{"--through", "gcode", "--wire-faults", "30%"}, "from 0% to 20%"},
		{[]string{"--through", "tacho", "--faults", "power_cut"}, "leave them out"},
		{[]string{"--through", "tacho", "--faults", "fast"}, "leave them out"},
	} {
		code, _, errs := cli(t, slices.Concat([]string{"rehearse", "--games", "1", "--plies", "1"}, c.args)...)
		if code != badInput || !strings.Contains(errs, c.want) {
			t.Errorf("%v: exit code %d, %s", c.args, code, errs)
		}
	}
}

// Games are played with what was measured at that very machine, or not at all.
func TestRehearseMeasuredRefuses(t *testing.T) {
	dir := t.TempDir()
	at := filepath.Join(dir, "rig.toml")
	if err := os.WriteFile(at, []byte(rig.DefaultText), 0o600); err != nil {
		t.Fatal(err)
	}
	refused := func(want string, args ...string) {
		t.Helper()
		code, _, errs := cli(t, slices.Concat([]string{"rehearse", "--games", "1", "--plies", "1"}, args)...)
		if code != badInput || !strings.Contains(errs, want) {
			t.Errorf("%v: exit code %d, %s", args, code, errs)
		}
	}
	refused("give the rig file", "--measured")
	refused("write drawn, exact, askew", at, "--twin", "crooked")
	refused("first: boardhand bringup "+at+" --twin askew --through gcode", at, "--measured", "--twin", "askew", "--through", "gcode")
	f := &measured.File{Machine: measured.Twin(1), Axes: &measured.Axes{Scale: [2]float64{1, 1}, Centre: [2]unit.Length{unit.MM(168), unit.MM(168)}}}
	if err := f.Save(at); err != nil {
		t.Fatal(err)
	}
	refused("is of another machine (twin, seed 1; this is twin, built askew)", at, "--measured", "--twin", "askew")
	refused("is of another machine (twin, seed 1; this is twin, seed 2)", at, "--measured", "--seed", "2")
}
