// SPDX-License-Identifier: Apache-2.0

package judging

import (
	"bytes"
	"context"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"boardhand/internal/rig"
	"boardhand/internal/terminal"
)

// asked writes rig files of the default's text with an end of their own, and asks.
func asked(t *testing.T, q Question, ends ...string) (string, error) {
	t.Helper()
	var paths []string
	for i, end := range ends {
		path := filepath.Join(t.TempDir(), string(rune('a'+i))+".toml")
		if err := os.WriteFile(path, []byte(rig.DefaultText+end), 0o600); err != nil {
			t.Fatal(err)
		}
		paths = append(paths, path)
	}
	var out bytes.Buffer
	err := q.Answer(context.Background(), &terminal.Out{W: &out, Err: &out}, paths)
	return out.String(), err
}

// What cannot be answered is said in one error, before anything is printed or written.
func TestRefused(t *testing.T) {
	wrong := "\n[accept]\nlift.romo = \"it will do\"\n"
	const unknown = "[accept] names lift.romo, and there is no such check; nearest: lift.room"
	for _, c := range []struct {
		q    Question
		ends []string
		want string
	}{
		{Question{Set: []string{"lift.dorp=6mm"}}, []string{""}, "there is no key lift.dorp; nearest: lift.drop"},
		{Question{Sweep: "lift.dorp=6:8:1mm"}, []string{""}, "--sweep: there is no key lift.dorp; nearest: lift.drop"},
		{Question{Sweep: "lift.drop=6:8:1"}, []string{""}, `--sweep: lift.drop: "6" has no unit`},
		{Question{}, []string{wrong}, unknown},
		{Question{}, []string{"", wrong}, unknown},
		{Question{Sweep: "lift.drop=6:8:1mm"}, []string{wrong}, unknown},
		{Question{Set: []string{"accept.lift.romo=later"}}, []string{""}, unknown},
		{Question{Report: "rig.txt"}, []string{""}, "--report: rig.txt must end in .html or .pdf"},
		{Question{Stock: "stock.toml"}, []string{"", ""}, "take it without --set, --sweep and a second rig"},
		{Question{IsCSV: true}, []string{""}, "--csv is the table of a --sweep"},
		{Question{Sweep: "lift.drop=6:8:1mm"}, []string{"", ""}, "--explain, --report, --yield and --sweep take one"},
	} {
		text, err := asked(t, c.q, c.ends...)
		if err == nil || errors.Is(err, terminal.ErrNo) || !strings.Contains(err.Error(), c.want) || text != "" {
			t.Errorf("want %q, got %v, printed %q", c.want, err, text)
		}
	}
}

// A change that makes a line fail is told and answered with "no"; one that does not is not.
func TestSetAnswers(t *testing.T) {
	text, err := asked(t, Question{Set: []string{"lift.drop=6mm"}}, "")
	if !errors.Is(err, terminal.ErrNo) || !strings.Contains(text, "lift.drop  20 mm  → 6 mm") || !strings.Contains(text, "fail  neighbours.lowered") {
		t.Errorf("%v\n%s", err, text)
	}
	if text, err = asked(t, Question{Set: []string{"lift.drop=19mm"}}, ""); err != nil || strings.Contains(text, "fail ") {
		t.Errorf("%v\n%s", err, text)
	}
}
