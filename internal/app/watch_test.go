// SPDX-License-Identifier: Apache-2.0

package app

import (
	"bytes"
	"encoding/json"
	"fmt"
	"image"
	"image/png"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"boardhand/internal/chess"
	"boardhand/internal/follow"
	"boardhand/internal/records"
	"boardhand/internal/rig"
	"boardhand/internal/sight"
	"boardhand/internal/terminal"
)

// What is said of a board that stays odd names the ways out, and each of them
// can be read from a file of answers.
func TestWaysOutCanBeSaid(t *testing.T) {
	var errs bytes.Buffer
	_, w, err := records.NewWatch(&terminal.Out{W: io.Discard, Err: &errs}, rig.Default(), "")
	if err != nil {
		t.Fatal(err)
	}
	w.Stuck(follow.Misfit{Frame: "f4", Pictures: 3})
	if errs.Len() > 0 {
		t.Errorf("without a way out it says %s", errs.String())
	}
	w.Hint = answersHint
	w.Stuck(follow.Misfit{Frame: "f4", Pictures: 3, Squares: []chess.Square{sq("e4"), sq("d5")}})
	const want = "f4: 3 pictures in a row do not fit the position: see e4, d5. If this stays, write into "
	if !strings.HasPrefix(errs.String(), want) || strings.Count(errs.String(), "\n") != 1 {
		t.Fatalf("said\n%s", errs.String())
	}
	for _, way := range []string{"`f4 e2e4`", "`f4 e2e4 e7e5`", "`f4 nothing`", "`f4 position FEN`"} {
		if !strings.Contains(errs.String(), way) {
			t.Errorf("%s is not among the ways out: %s", way, errs.String())
		}
		const endgame = "8/8/4k3/8/8/4K3/4P3/8 w - - 0 1"
		if _, _, err := follow.ParseAnswer(strings.NewReplacer("`", "", "FEN", endgame).Replace(way)); err != nil {
			t.Errorf("%s is no answer: %v", way, err)
		}
	}
}

// The word of a person stands in the line of a picture.
func TestLineOfAnAnswer(t *testing.T) {
	for _, c := range []struct {
		sighting follow.Sighting
		want     string
	}{
		{follow.Sighting{Answered: follow.Answer{Moves: []string{"e2e4", "e7e5"}}}, "f1                   illegal  differs on e4  answered: e2e4 e7e5"},
		{follow.Sighting{Answered: follow.Answer{IsNothing: true}, TakenBack: 2}, "f1                   illegal  differs on e4  answered: nothing  taken back: 2"},
		{follow.Sighting{IsSetUp: true}, "f1                   illegal  differs on e4  set up"},
	} {
		c.sighting.Picture.Name = "f1"
		c.sighting.Reading = sight.Reading{State: sight.Illegal, Squares: []chess.Square{sq("e4")}}
		if got := records.LineOf(c.sighting).Text(); got != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
}

// An evening goes on: pictures that show nothing cost only themselves, and after
// two plies that no picture shows, the word of a person gets the reader out.
func TestWatchAfterAGap(t *testing.T) {
	whole(t)
	game, watch, out := rehearsed(t, "4", "")
	all := linesOf(t, out)
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
	code, out, errs := cli(t, watch...)
	if code != badInput || !strings.Contains(errs, "4 of ") {
		t.Errorf("without a word: exit code %d, said\n%s", code, errs)
	}
	end := func() string {
		lines := linesOf(t, out)
		return lines[len(lines)-1].FEN
	}
	if got := end(); got != all[len(all)-1].FEN || !strings.Contains(out, `"late":true`) {
		t.Errorf("the game ends at %s, want %s\n%s\n%s", got, all[len(all)-1].FEN, out, errs)
	}
	answers := write(t, filepath.Join(t.TempDir(), "answers.txt"), fmt.Sprintf("%s %s %s\n", all[at[1]].Frame, all[at[0]].Move, all[at[1]].Move))
	if _, out, errs = cli(t, append(watch, "--answers", answers)...); end() != all[len(all)-1].FEN {
		t.Errorf("with a person's word the game ends at %s\n%s\n%s", end(), out, errs)
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
func linesOf(t *testing.T, out string) (lines []records.Line) {
	t.Helper()
	for text := range strings.Lines(out) {
		var l records.Line
		if err := json.Unmarshal([]byte(text), &l); err != nil {
			t.Fatal(err)
		}
		if l.State != "" {
			lines = append(lines, l)
		}
	}
	return lines
}
