// SPDX-License-Identifier: Apache-2.0

package app

import (
	"bytes"
	"encoding/json"
	"math"
	"net"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"boardhand/internal/magnet"
	"boardhand/internal/rehearsal"
	"boardhand/internal/rig"
	"boardhand/internal/terminal"
)

// cli runs the program as from a shell.
func cli(t *testing.T, args ...string) (code int, stdout, stderr string) {
	t.Helper()
	var o, e bytes.Buffer
	code = Main(args, &o, &e)
	return code, o.String(), e.String()
}

func write(t *testing.T, path, text string) string {
	t.Helper()
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

// Bad input: one clear line on the error stream, exit code 2, nothing else.
func TestBadInput(t *testing.T) {
	dir := t.TempDir()
	good := write(t, filepath.Join(dir, "good.toml"), rig.DefaultText)
	typo := write(t, filepath.Join(dir, "typo.toml"), strings.Replace(rig.DefaultText, "square =", "sqare =", 1))
	frames := filepath.Join(dir, "frames")
	write(t, filepath.Join(frames, "a.jpg"), "this is no picture")
	empty := filepath.Join(dir, "empty")
	write(t, filepath.Join(empty, "notes.txt"), "x")
	answers := write(t, filepath.Join(dir, "answers.txt"), "nosuch.jpg e2e4\n")
	taken, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = taken.Close() }()
	for _, c := range []struct {
		args []string
		want string
	}{
		{[]string{"watch", "--rig", "nowhere.toml", "--frames", frames}, "nowhere.toml: no such file; `boardhand new DIR` writes one"},
		{[]string{"watch", "--rig", typo, "--frames", frames}, "typo.toml:8: unknown key board.sqare; known here: square"},
		{[]string{"watch", "--rig", good, "--frames", filepath.Join(dir, "none")}, "no such folder of pictures"},
		{[]string{"watch", "--rig", good, "--frames", empty}, "no .jpg or .png pictures"},
		{[]string{"watch", "--rig", good, "--frames", frames, "--fen", "x"}, "--fen: "},
		{[]string{"watch", "--rig", good, "--frames", frames, "--answers", answers}, "answers.txt:1: no picture is named \"nosuch.jpg\""},
		{[]string{"watch", "--rig", good}, "watch needs --frames: boardhand watch (--rig RIG | --square LENGTH) --frames DIR"},
		{[]string{"route", "--move", "e2e5"}, "--move: "},
		{[]string{"route", "--move", "e2e4", "--fen", "8/8/8/8/8/8/8/8 w - - 0 1"}, "--fen: "},
		{[]string{"think", "--fen", "8/8/8/8 w"}, "--fen: "},
		{[]string{"think", "--player", "nobody"}, "--player must be uci:COMMAND"},
		{[]string{"think", "--player", "uci:/nowhere/player"}, "cannot be started"},
		{[]string{"think", "--player-option", "Hash=64"}, "--player-option is for an outside player"},
		{[]string{"think", "--epd", "none.epd"}, "cannot read the suite"},
		{[]string{"think", "--perft", "99"}, "--perft must be 1 to 12"},
		{[]string{"magnet", "--lower", "10mm", "--upper", "6mm×2mm,N42"}, "--lower: \"10mm\" should look like"},
		{[]string{"magnet", "--lower", "10×5mm,Z9", "--upper", "6mm×2mm,N42"}, "--lower: "},
		{[]string{"magnet", "--lower", "10×5,N42", "--upper", "6mm×2mm,N42"}, "has no unit"},
		{[]string{"magnet", "--lower", "10×5mm,N42", "--upper", "6mm×2mm,N42", "--gap", "5"}, "has no unit"},
		{[]string{"rehearse", "--faults", "ghosts"}, `"ghosts" is not a fault; these are: weak_magnet, fast, wide_foot`},
		{[]string{"rehearse", "--shard", "3/2"}, "--shard must be K/N"},
		{[]string{"rehearse", "--merge", good}, "is not what `boardhand rehearse --json` prints"},
		{[]string{"games", "--games", dir}, "no games are kept here"},
		{[]string{"play", "--games", filepath.Join(dir, "g"), "--resume"}, "no unfinished game is kept here"},
		{[]string{"play", "--games", filepath.Join(dir, "g"), "--pace", "0"}, "--pace must be"},
		{[]string{"play", "--games", filepath.Join(dir, "g"), "--addr", taken.Addr().String()}, taken.Addr().String()},
		{[]string{"play", "--games", filepath.Join(dir, "g"), "--addr", "0.0.0.0:0"}, "allow-remote"},
		{[]string{"dance"}, `unknown command "dance"`},
	} {
		code, out, errs := cli(t, c.args...)
		if code != badInput {
			t.Errorf("%v: exit code %d, want %d (%s)", c.args, code, badInput, errs)
		}
		if !strings.Contains(errs, c.want) || strings.Count(errs, "\n") != 1 {
			t.Errorf("%v: said\n%s\nwant one line with %q", c.args, errs, c.want)
		}
		if out != "" {
			t.Errorf("%v: printed %q besides", c.args, out)
		}
	}
}

// Each broken picture gets its line; the others are still read.
func TestWatchBrokenPictures(t *testing.T) {
	dir := t.TempDir()
	good := write(t, filepath.Join(dir, "rig.toml"), rig.DefaultText)
	frames := filepath.Join(dir, "frames")
	write(t, filepath.Join(frames, "a.jpg"), "this is no picture")
	write(t, filepath.Join(frames, "b.png"), "")
	code, _, errs := cli(t, "watch", "--rig", good, "--frames", frames)
	if code != badInput || !strings.Contains(errs, "a.jpg: not a picture") || !strings.Contains(errs, "b.png: the file is empty") {
		t.Errorf("exit code %d, said\n%s", code, errs)
	}
}

func TestNew(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "mine")
	if code, out, errs := cli(t, "new", dir); code != fine || !strings.Contains(out, "rig.toml") {
		t.Fatalf("exit code %d: %s%s", code, out, errs)
	}
	if _, err := rig.Load(filepath.Join(dir, "rig.toml"), rig.Machine); err != nil {
		t.Error(err)
	}
	if code, _, errs := cli(t, "new", dir); code != badInput || !strings.Contains(errs, "is there already") {
		t.Errorf("a second `new` gave %d: %s", code, errs)
	}
}

// The forces of two D10×L5 discs of 1.29 T at a gap of 4 mm and an offset of
// 5 mm: computed independently by direct integration over the charged discs.
func TestMagnetCommand(t *testing.T) {
	code, out, errs := cli(t, "magnet", "--lower", "10mm×5mm,1.29T", "--upper", "10x5mm,1.29T", "--gap", "4mm", "--offset", "5mm", "--json")
	if code != fine {
		t.Fatal(errs)
	}
	var f struct {
		Axial   float64 `json:"axial_N"`
		Lateral float64 `json:"lateral_N"`
	}
	if err := json.Unmarshal([]byte(out), &f); err != nil {
		t.Fatal(err)
	}
	const tolerance = 1e-4 // N: the contract's relative 1e-4 of about 3 N, rounded down
	if d := f.Axial - 3.17736; d > tolerance || d < -tolerance {
		t.Errorf("axial %g N", f.Axial)
	}
	if d := f.Lateral - 3.12765; d > tolerance || d < -tolerance {
		t.Errorf("lateral %g N", f.Lateral)
	}
}

func TestThinkCommand(t *testing.T) {
	// Mate in two: F. Reinfeld, Win at Chess (1958), no. 1.
	code, out, errs := cli(t, "think", "--fen", "2rr3k/pp3pp1/1nnqbN1p/3pN3/2pP4/2P3Q1/PPB4P/R4RK1 w - - 0 1", "--nodes", "60000", "--json")
	if code != fine {
		t.Fatal(errs)
	}
	var th thought
	if err := json.Unmarshal([]byte(out), &th); err != nil || th.Move != "g3g6" || th.Mate == nil || *th.Mate != 2 {
		t.Errorf("thought %s (%v)", out, err)
	}
	if _, out, _ := cli(t, "think", "--perft", "3"); !strings.HasPrefix(out, "8902 ") {
		t.Errorf("perft 3 from the start: %s", out)
	}
	// The fool's mate: asked what to play there, the answer is "no".
	code, out, errs = cli(t, "think", "--fen", "rnb1kbnr/pppp1ppp/8/4p3/6Pq/5P2/PPPPP2P/RNBQKBNR w KQkq - 1 3")
	if code != no || out != "" || !strings.HasPrefix(errs, "boardhand: the game is over: there is no move to find in rnb1kbnr/") {
		t.Errorf("mated: exit code %d, %q, %q", code, out, errs)
	}
}

func TestMergeAddsShards(t *testing.T) {
	dir := t.TempDir()
	a := write(t, filepath.Join(dir, "a"), `{"games":2,"plies":10,"misread":0,"results":{"1-0":2}}`)
	b := write(t, filepath.Join(dir, "b"), `{"games":1,"plies":7,"misread":1,"results":{"1-0":1}}`)
	for name, text := range map[string]string{
		"same shard":      `{"games":1,"shard":"1/2"}`,
		"negative":        `{"games":1,"misread":-3}`,
		"unknown key":     `{"games":1,"Misread2":1}`,
		"other rehearsal": `{"games":1,"run":{"seed":7,"games":3,"faults":""}}`,
	} {
		one := write(t, filepath.Join(dir, "one"), `{"games":1,"shard":"1/2","run":{"seed":1,"games":2,"faults":""}}`)
		bad := write(t, filepath.Join(dir, "bad"), text)
		if code, _, errs := cli(t, "rehearse", "--merge", one, bad); code != badInput {
			t.Errorf("%s: exit code %d, %q", name, code, errs)
		}
	}
	code, out, errs := cli(t, "rehearse", "--merge", a, b, "--json")
	var sum rehearsal.Tally
	if err := json.Unmarshal([]byte(out), &sum); err != nil {
		t.Fatal(err, errs)
	}
	if code != no || sum.Games != 3 || sum.Plies != 17 || sum.Misread != 1 || sum.Results["1-0"] != 3 {
		t.Errorf("exit code %d, sum %+v", code, sum)
	}
}

// A shard that failed is found by the merge and named: its file lacks, is empty, or says that it
// was broken off.
func TestMergeNamesTheShardThatFailed(t *testing.T) {
	dir := t.TempDir()
	shard := func(k, games string) string {
		return write(t, filepath.Join(dir, k+".json"), `{"games":`+games+`,"shard":"`+k+`/3","run":{"seed":1,"games":5,"faults":""}}`)
	}
	one, two, three := shard("1", "2"), shard("2", "2"), shard("3", "1")
	empty := write(t, filepath.Join(dir, "2-again.json"), "")
	if code, _, errs := cli(t, "rehearse", "--merge", one, two, three); code != fine {
		t.Fatalf("all three: exit code %d, %s", code, errs)
	}
	for name, c := range map[string]struct {
		files []string
		want  string
	}{
		"missing":    {[]string{one, three}, "shard 2/3 is missing"},
		"two":        {[]string{three}, "shards 1/3, 2/3 are missing"},
		"empty":      {[]string{one, empty, three}, "2-again.json is empty: its shard failed; shard 2/3 is missing"},
		"broken off": {[]string{one, shard("2", "1"), three}, "ended after 1 of 2 games: shard 2/3"},
		"no file":    {[]string{one, filepath.Join(dir, "none"), three}, "shard 2/3 is missing"},
	} {
		if code, out, errs := cli(t, append([]string{"rehearse", "--merge"}, c.files...)...); code != badInput || out != "" || !strings.Contains(errs, c.want) {
			t.Errorf("%s: exit code %d, %q%q", name, code, out, errs)
		}
	}
}

// The overview places every command at a stage of the work.
func TestHelpPlacesEveryCommand(t *testing.T) {
	_, out, _ := cli(t, "--help")
	stages, _, _ := strings.Cut(out, "Usage:")
	for _, c := range commands(&terminal.Out{}).Commands() {
		isAside := slices.Contains([]string{"version", "licences", "manual", "completion", "help"}, c.Name())
		if !c.Hidden && !isAside && !regexp.MustCompile(`\b`+c.Name()+`\b`).MatchString(stages) {
			t.Errorf("the overview does not place %s", c.Name())
		}
	}
}

// A magnet that is read has forces, or the formula says what is wrong with it.
func FuzzMagnet(f *testing.F) {
	for _, s := range []string{"10mm×5mm,N42", "10x5mm,1.29T", "10mm*5mm,n52sh", "-1mm×5mm,N42", "1e300mm×5mm,N42", "×,", "10mm×5mm"} {
		f.Add(s)
	}
	other := magnet.Cylinder{Diameter: 0.005, Thickness: 0.002, Br: 1.3}
	f.Fuzz(func(t *testing.T, text string) {
		m, err := parseMagnet("--lower", text)
		if err != nil {
			return
		}
		for _, c := range []magnet.Cylinder{m.lo, m.mid, m.hi} {
			if force, err := magnet.Force(c, other, 0.005, 0.002); err == nil && math.IsNaN(force.Axial+force.Lateral) {
				t.Errorf("%q was read as %+v, whose force is %+v", text, c, force)
			}
		}
	})
}
