// SPDX-License-Identifier: Apache-2.0

package uci

import (
	"slices"
	"strings"
	"testing"
)

func TestWords(t *testing.T) {
	for text, want := range map[string][]string{
		"/usr/games/player":         {"/usr/games/player"},
		"  player  -t 2\tx ":        {"player", "-t", "2", "x"},
		`'my player' "a b"c`:        {"my player", "a bc"},
		`my\ player --net='a"b\'`:   {"my player", `--net=a"b\`},
		`player "" "say \"hello\""`: {"player", "", `say "hello"`},
	} {
		got, err := Words(text)
		if err != nil || !slices.Equal(got, want) {
			t.Errorf("%s: %q, %v; want %q", text, got, err, want)
		}
	}
}

func TestWordsRefused(t *testing.T) {
	for text, want := range map[string]string{
		"":           "needs the command",
		" \t":        "needs the command",
		`player "x`:  `a " without its partner`,
		"it's":       "a ' without its partner",
		`player x\ `: "", // an escaped blank is a word's
		`player \`:   `ends in \`,
	} {
		_, err := Words(text)
		if want == "" && err != nil || want != "" && (err == nil || !strings.Contains(err.Error(), want)) {
			t.Errorf("%q: %v, want %q", text, err, want)
		}
	}
}

// A word that is quoted comes back as it was, whatever it holds.
func FuzzWords(f *testing.F) {
	f.Add("a b", `c"d`)
	f.Add(`\`, "'")
	quoted := func(s string) string {
		return `"` + strings.NewReplacer(`\`, `\\`, `"`, `\"`).Replace(s) + `"`
	}
	f.Fuzz(func(t *testing.T, a, b string) {
		a, b = strings.ToValidUTF8(a, "?"), strings.ToValidUTF8(b, "?")
		got, err := Words(quoted(a) + " " + quoted(b))
		if err != nil || !slices.Equal(got, []string{a, b}) {
			t.Errorf("%q %q came back as %q, %v", a, b, got, err)
		}
		_, _ = Words(a) // must not panic
	})
}
