// SPDX-License-Identifier: Apache-2.0

package follow

import (
	"bytes"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"boardhand/internal/chess"
)

func write(t *testing.T, text string) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "answers.txt")
	if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

const endgame = "8/8/4k3/8/8/4K3/4P3/8 w - - 0 1"

func TestAnswers(t *testing.T) {
	path := write(t, "# the evening of the 3rd\n\n"+
		"f1.jpg e2e4 # sure\nf2 back 2\nf2.jpg d2d4\nf3 back 1\nf3 back 1\nf4 position "+endgame+" # another game\n"+
		"f5 e2e4 e7e5\nf6 nothing\nf7 0000\n")
	got, err := ReadAnswers(path, []string{"f1.jpg", "f2.jpg", "f3.jpg", "f4.jpg", "f5.jpg", "f6.jpg", "f7.jpg"})
	if err != nil {
		t.Fatal(err)
	}
	for frame, want := range map[string]Answer{
		"f1.jpg": {Moves: []string{"e2e4"}}, "f2.jpg": {Moves: []string{"d2d4"}, Back: 2}, "f3.jpg": {Back: 2}, "f4.jpg": {Set: endgame},
		"f5.jpg": {Moves: []string{"e2e4", "e7e5"}}, "f6.jpg": {IsNothing: true}, "f7.jpg": {IsNothing: true},
	} {
		if !reflect.DeepEqual(got[frame], want) {
			t.Errorf("%s: %+v, want %+v", frame, got[frame], want)
		}
	}
}

func TestAnswersRefused(t *testing.T) {
	for text, want := range map[string]string{
		"f1":                      "a line is `frame move` or several moves, `frame nothing`, `frame back N` or `frame position FEN`",
		"f1 back":                 "a line is `frame move`",
		"f1 e2e4 e7":              "a line is `frame move`",
		"f1 e2e4 nothing":         "a line is `frame move`",
		"f1 e2e9":                 "a line is `frame move`",
		"f1 Nf3":                  "a line is `frame move`",
		"f1 back 0":               "must be 1 or more; got \"0\"",
		"f1 back many":            "must be 1 or more; got \"many\"",
		"f1 position 8/8 w - - 0": "FEN",
	} {
		if _, _, err := ParseAnswer(text); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v, want %q", text, err, want)
		}
	}
}

// What is no text is named as such.
func TestAnswersThatAreNone(t *testing.T) {
	path := filepath.Join(t.TempDir(), "answers.txt")
	if err := os.WriteFile(path, bytes.Repeat([]byte("x"), 1<<17), 0o600); err != nil {
		t.Fatal(err)
	}
	if _, err := ReadAnswers(path, nil); err == nil || !strings.Contains(err.Error(), "is it a file of answers? a line is `frame move`") {
		t.Errorf("got %v", err)
	}
}

// Whatever a line holds, it is refused or says something that can be used.
func FuzzAnswers(f *testing.F) {
	for _, s := range []string{"", "# nothing", "f1 e2e4", "f1.jpg e7e8q # yes", "f1 back 2", "f1 back -1", "f1 back 99999999999999999999", "f1 position " + endgame, "f1 position", "a b c d"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		frame, a, err := ParseAnswer(text)
		said := !reflect.DeepEqual(a, Answer{})
		switch {
		case err == nil && said != (frame != ""):
			t.Errorf("%q names picture %q and says %+v", text, frame, a)
		case err != nil && frame != "":
			t.Errorf("%q is refused, but names %q", text, frame)
		case a.Back < 0 && err == nil:
			t.Errorf("%q takes %d moves back", text, a.Back)
		}
		if err == nil && a.Set != "" {
			if _, err := chess.ParseFEN(a.Set); err != nil {
				t.Errorf("%q sets %q: %v", text, a.Set, err)
			}
		}
	})
}
