// SPDX-License-Identifier: Apache-2.0

package app

import (
	"encoding/json"
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"
	"testing"

	"boardhand/internal/rehearsal"
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
	if sum.Plies < plies || sum.Misread+sum.LostState+sum.Collisions+sum.Stuck != 0 || sum.Through.Guessed != 0 {
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
