package app

import (
	"bytes"
	"encoding/json"
	"fmt"
	"image"
	"image/png"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"boardhand/internal/chess"
	"boardhand/internal/rig"
	"boardhand/internal/sight"
)

// watching is a watcher with answers that is shown readings, not pictures.
func watching(t *testing.T, answers string) (*watcher, *bytes.Buffer, *bytes.Buffer) {
	t.Helper()
	var said, errs bytes.Buffer
	w, err := newWatcher(&out{w: &said, err: &errs}, rig.Default(), "")
	if err != nil {
		t.Fatal(err)
	}
	w.answers = map[string]answer{}
	for text := range strings.SplitSeq(answers, ";") {
		frame, a, err := parseAnswer(text)
		if err != nil {
			t.Fatal(err)
		}
		w.answers[frame] = w.answers[frame].and(a)
	}
	w.eye.Begin(chess.Start())
	return w, &said, &errs
}

func uciMove(text string) chess.Move {
	square := func(s string) chess.Square { return chess.SquareAt(int(s[0]-'a'), int(s[1]-'1')) }
	return chess.MakeMove(square(text[:2]), square(text[2:4]), chess.NoKind)
}

// reading is a reading in short: "illegal", "move e2e4", "unsure e2e4 d2d4 -".
func reading(text string) sight.Reading {
	f := strings.Fields(text)
	r := sight.Reading{State: sight.State(f[0]), Belief: 0.9}
	for _, w := range f[1:] {
		m := chess.Move(0)
		if w != "-" {
			m = uciMove(w)
		}
		if r.State == sight.Moved {
			r.Move = m
		} else {
			r.Candidates = append(r.Candidates, sight.Candidate{Move: m, Belief: 0.5})
		}
	}
	return r
}

// What a person says of a picture counts, whatever the reader makes of it.
func TestWordOfAPerson(t *testing.T) {
	for _, c := range []struct {
		readings, answers string
		moves             string // of the game in the end
		answered          string // pictures on which the word was needed
	}{
		{"same, move e2e4, same, move e7e5", "", "e2e4 e7e5", ""},
		{"unsure e2e4 d2d4 -", "f1 d2d4", "d2d4", "f1"},
		{"unsure e2e4 d2d4 -", "f1 nothing", "", "f1"},
		{"unsure e2e4 d2d4 -", "f1 a2a3", "a2a3", "f1"},
		{"unsure e2e4 -, hand", "f2 e2e4", "e2e4", "f2"},
		{"illegal, illegal", "f2 e2e4", "e2e4", "f2"},
		{"illegal", "f1 e2e4 e7e5", "e2e4 e7e5", "f1"},
		{"illegal", "f1 nothing", "", "f1"},
		{"partial", "f1 e2e4", "e2e4", "f1"},
		{"partial, move e7e5", "f1 e2e4", "e2e4 e7e5", "f1"},
		{"same", "f1 e2e4", "e2e4", "f1"},
		{"hand", "f1 e2e4 e7e5", "e2e4 e7e5", "f1"},
		{"same, hand", "f1 nothing;f2 -", "", ""},
		{"move e2e4", "f1 e2e4", "e2e4", ""},                 // as read
		{"move e2e4", "f1 e2e4 e7e5", "e2e4 e7e5", "f1"},     // and one more
		{"move e2e4", "f1 d2d4", "d2d4", "f1"},               // otherwise
		{"move e2e4", "f1 nothing", "", "f1"},                // not at all
		{"move e2e4, same", "f2 e2e4", "e2e4", ""},           // read before
		{"move e2e4, move e7e5", "f2 e2e4", "e2e4 e7e5", ""}, // read before, and the next is read
		{"move e2e4, illegal", "f2 e2e4 e7e5 g1f3", "e2e4 e7e5 g1f3", "f2"},
		{"move e2e4, illegal, move g1f3", "f2 back 1;f2 d2d4 e7e5", "d2d4 e7e5 g1f3", "f2"},
	} {
		w, said, _ := watching(t, c.answers)
		for i, text := range strings.Split(c.readings, ", ") {
			name := "f" + string(rune('1'+i))
			if err := w.before(name); err != nil {
				t.Fatalf("%s; %s: %v", c.readings, c.answers, err)
			}
			if err := w.show(name, reading(text)); err != nil {
				t.Fatalf("%s; %s: %v", c.readings, c.answers, err)
			}
		}
		var moves []string
		pos := chess.Start()
		for _, p := range w.past {
			moves = append(moves, p.move.String())
			pos = pos.After(p.move)
		}
		now := w.eye.Position()
		if got := strings.Join(moves, " "); got != c.moves || now.FEN() != pos.FEN() {
			t.Errorf("%s; %s: played %q, want %q, at %s", c.readings, c.answers, got, c.moves, now.FEN())
		}
		var answered []string
		for line := range strings.Lines(said.String()) {
			if strings.Contains(line, "answered:") {
				answered = append(answered, strings.Fields(line)[0])
			}
		}
		if got := strings.Join(answered, " "); got != c.answered {
			t.Errorf("%s; %s: answered on %q, want %q", c.readings, c.answers, got, c.answered)
		}
	}
}

// A move that cannot be is refused, with what else can be said.
func TestWordThatCannotBe(t *testing.T) {
	w, _, _ := watching(t, "f1 e2e4 e2e4")
	err := w.show("f1", reading("illegal"))
	if err == nil || !strings.Contains(err.Error(), "the answer for f1: ") || !strings.Contains(err.Error(), "`f1 position FEN`") {
		t.Errorf("said %v", err)
	}
}

// A board that stays odd is told of once, with the ways out.
func TestWaysOutAreToldOnce(t *testing.T) {
	w, _, errs := watching(t, "f7 nothing")
	w.stuck.hint = answersHint
	for i, text := range strings.Fields("illegal illegal hand illegal partial illegal illegal illegal illegal hand illegal") {
		if err := w.show("f"+string(rune('1'+i)), reading(text)); err != nil {
			t.Fatal(err)
		}
	}
	lines := strings.Split(strings.TrimSuffix(errs.String(), "\n"), "\n")
	if len(lines) != 2 || !strings.HasPrefix(lines[0], "f4: 3 pictures in a row") || !strings.HasPrefix(lines[1], "f;: 3 pictures") {
		t.Fatalf("said\n%s", errs)
	}
	for _, way := range []string{"`f4 e2e4`", "`f4 e2e4 e7e5`", "`f4 nothing`", "`f4 position FEN`"} {
		if !strings.Contains(lines[0], way) {
			t.Errorf("%s is not among the ways out: %s", way, lines[0])
		}
		if _, _, err := parseAnswer(strings.NewReplacer("`", "", "FEN", endgame).Replace(way)); err != nil {
			t.Errorf("%s is no answer: %v", way, err)
		}
	}
}

// An evening goes on: pictures that show nothing cost only themselves, and after
// two plies that no picture shows, the word of a person gets the reader out.
func TestWatchAfterAGap(t *testing.T) {
	whole(t)
	keep := t.TempDir()
	if code, out, errs := cli(t, "rehearse", "--games", "1", "--plies", "4", "--seed", "4", "--keep", keep); code != fine {
		t.Fatalf("exit code %d: %s%s", code, out, errs)
	}
	game := filepath.Join(keep, "game_001")
	watch := []string{"watch", "--rig", filepath.Join(game, "rig.toml"), "--frames", game, "--json"}
	code, out, errs := cli(t, watch...)
	if code != fine {
		t.Fatalf("exit code %d: %s", code, errs)
	}
	want, all := movesOf(t, out), linesOf(t, out)
	var at []int // lines with a move
	for i, l := range all {
		if l.Move != "" {
			at = append(at, i)
		}
	}
	for i := at[0]; i < at[1]; i++ {
		if err := os.Remove(filepath.Join(game, all[i].Frame)); err != nil {
			t.Fatal(err)
		}
	}
	spoil(t, game, all[at[2]].Frame)
	code, out, errs = cli(t, watch...)
	if code != badInput || strings.Count(errs, "position FEN`") != 1 || !strings.Contains(errs, "4 of ") {
		t.Errorf("without a word: exit code %d, said\n%s", code, errs)
	}
	if got := movesOf(t, out); got == want {
		return // the reader finds two plies by itself
	}
	answers := write(t, filepath.Join(t.TempDir(), "answers.txt"), fmt.Sprintf("%s %s %s\n", all[at[1]].Frame, all[at[0]].Move, all[at[1]].Move))
	_, out, errs = cli(t, append(watch, "--answers", answers)...)
	lines := linesOf(t, out)
	if got := lines[len(lines)-1].FEN; got != all[len(all)-1].FEN {
		t.Errorf("the game ends at %s, want %s\n%s\n%s", got, all[len(all)-1].FEN, out, errs)
	}
}

// spoil puts pictures that show nothing among those of a game: no file behind
// the name, none of its bytes, black, and of another size.
func spoil(t *testing.T, dir, before string) {
	t.Helper()
	stem := filepath.Join(dir, strings.TrimSuffix(before, ".jpg"))
	if err := os.Symlink("nowhere", filepath.Join(dir, "frame_00000.jpg")); err != nil {
		t.Fatal(err)
	}
	write(t, stem+".b.jpg", "")
	for name, size := range map[string]image.Point{stem + ".c.png": {1280, 720}, stem + ".d.png": {64, 48}} {
		var b bytes.Buffer
		if err := png.Encode(&b, image.NewGray(image.Rectangle{Max: size})); err != nil {
			t.Fatal(err)
		}
		write(t, name, b.String())
	}
}

// linesOf are the lines that watch printed of pictures it could read.
func linesOf(t *testing.T, out string) (lines []line) {
	t.Helper()
	for text := range strings.Lines(out) {
		var l line
		if err := json.Unmarshal([]byte(text), &l); err != nil {
			t.Fatal(err)
		}
		if l.State != "" {
			lines = append(lines, l)
		}
	}
	return lines
}
