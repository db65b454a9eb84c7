// SPDX-License-Identifier: Apache-2.0

package app

import (
	"bytes"
	"os"
	"strings"
	"syscall"
	"testing"

	"boardhand/internal/rehearsal"
)

// What is wrong with the words and flags of a command is said in our words.
func TestUsageErrors(t *testing.T) {
	for args, want := range map[string]string{
		"assess":             "assess needs a rig file: boardhand assess rig.toml",
		"assess a b c":       "assess takes a rig file and another one to set beside it only; got 3 words: a b c",
		"new":                "new needs a folder: boardhand new mine",
		"games log":          "games log needs the number of a game: boardhand games log 1",
		"games lo":           `unknown command "lo"; did you mean log?`,
		"asess":              `unknown command "asess"; did you mean assess?`,
		"dance":              "unknown command \"dance\"; `boardhand --help` lists them",
		"think now":          `think takes nothing but flags; got "now"`,
		"magnet --gap 5mm":   "magnet needs --lower and --upper: boardhand magnet --lower",
		"route":              "route needs --move or --setup",
		"think --time 1":     `--time takes a time with its unit, like 2s or 500ms; got "1"`,
		"think --depth deep": `--depth takes a whole number; got "deep"`,
		"think --nodes -1":   `--nodes takes a whole number, 0 or more; got "-1"`,
		"think --fen":        "--fen needs a value: the position",
		"think --deep 3":     "there is no flag --deep here; `boardhand think --help` lists them",
		"think -d":           "there is no flag -d here",
		"think --hash 8000":  "--hash: the player's memory must be 1 to 4096 MB; got 8000",
		"think --hash 9000":  "--hash: the player's memory must be 1 to 4096 MB; got 9000",
		"magnet --lower 10mmx5mm,N42 --upper 6mmx2mm,N42 --gap 0mm": "gap must be 0.0001 mm to 500 mm; got 0 mm",
		"route --move e2e4 --setup":                                 "--move and --setup exclude each other",
		"route --setup --back":                                      "--back and --setup exclude each other",
		"route --move O-O":                                          "--move: move \"O-O\" is not legal: ",
		"route --move e2e4 --beside K@L1":                           "--beside: \"K@L1\": a king is never captured",
		"propose":                                                   "propose needs one rig file",
		"propose a --stock b --shard 1/2x":                          "a: no such file",
	} {
		code, _, errs := cli(t, strings.Fields(args)...)
		if code != badInput || !strings.HasPrefix(errs, "boardhand: "+want) || strings.Count(errs, "\n") != 1 {
			t.Errorf("%s: exit code %d, said\n%swant one line with %q", args, code, errs, want)
		}
	}
	if code, out, errs := cli(t); code != fine || !strings.Contains(out, "Start with:") {
		t.Errorf("no words: exit code %d: %s%s", code, out, errs)
	}
}

func TestShards(t *testing.T) {
	for _, bad := range []string{"1/2x", "1/2/3", "3/2", "0/2", "x", "1/", "-1/2", "1/ 2", "+1/2"} {
		if k, n, err := rehearsal.PartOf(bad); err == nil || !strings.Contains(err.Error(), "--shard must be K/N") {
			t.Errorf("%q: %d of %d, %v", bad, k, n, err)
		}
	}
	if k, n, err := rehearsal.PartOf("2/5"); k != 2 || n != 5 || err != nil {
		t.Errorf("2/5: %d of %d, %v", k, n, err)
	}
}

// Ctrl-C ends every command with the code that a shell expects of it.
func TestInterrupts(t *testing.T) {
	for signal, want := range map[syscall.Signal]int{syscall.SIGINT: 130, syscall.SIGTERM: 143} {
		for _, work := range []func() error{func() error { select {} }, func() error { return nil }} {
			ctx, stop := untilInterrupted()
			if err := syscall.Kill(os.Getpid(), signal); err != nil {
				t.Fatal(err)
			}
			<-ctx.Done()
			var errs bytes.Buffer
			code := exitCode(ctx, &errs, breakOff(ctx, work))
			if code != want || errs.String() != "boardhand: stopped\n" {
				t.Errorf("%v: exit code %d, said %q", signal, code, errs.String())
			}
			stop()
		}
	}
}

// The shell completes what a flag may be, by cobra's own door for it.
func TestCompletion(t *testing.T) {
	for _, c := range []struct{ args, want, not string }{
		{"assess rig.toml --explain drag.", "drag.slip", "lanes.foot"},
		{"rehearse --faults ", "weak_magnet", ""},
		{"rehearse --faults slip,gl", "slip,glare", "slip,slip"},
		{"rehearse --twin ", "askew", ""},
		{"rehearse --through ", "tacho", ""},
		{"assess ", "toml\n:8\n", ""}, // cobra's ShellCompDirectiveFilterFileExt
	} {
		words := strings.Split(c.args, " ")
		code, out, errs := cli(t, append([]string{"__complete"}, words...)...)
		if code != fine || !strings.Contains(out, c.want) || c.not != "" && strings.Contains(out, c.not) {
			t.Errorf("%q: exit code %d, offers\n%s%s", c.args, code, out, errs)
		}
	}
}
