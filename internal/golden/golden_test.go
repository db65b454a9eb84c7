// SPDX-License-Identifier: Apache-2.0

package golden

import (
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// teller is a test that only notes what it is told.
type teller struct {
	testing.TB
	told []string
}

func (t *teller) Helper()                   {}
func (t *teller) Name() string              { return "TestOf/a part" }
func (t *teller) Logf(string, ...any)       {}
func (t *teller) Errorf(f string, a ...any) { t.told = append(t.told, fmt.Sprintf(f, a...)) }

// told is what Compare says of a text.
func told(t *testing.T, got string) []string {
	t.Helper()
	n := &teller{TB: t}
	Compare(n, "a.txt", got)
	return n.told
}

func TestComparedAndAccepted(t *testing.T) {
	t.Chdir(t.TempDir())
	t.Setenv(Accept, "")
	const first = "plan one\n  carry 12.34 mm, 3 bends\n  free 1.50 mm\nplan two\n  carry 7.00 mm\n"
	if said := told(t, first); len(said) != 1 || !strings.Contains(said[0], "BOARDHAND_ACCEPT=1") || !strings.Contains(said[0], "-run '^TestOf$'") {
		t.Errorf("a missing text: %q", said)
	}
	t.Setenv(Accept, "1")
	if said := told(t, first); said != nil {
		t.Errorf("accepting: %q", said)
	}
	t.Setenv(Accept, "")
	if said := told(t, first); said != nil {
		t.Errorf("the same text: %q", said)
	}
	if said := told(t, strings.Replace(first, "12.34", "12.33", 1)); said != nil {
		t.Errorf("rounded otherwise: %q", said)
	}
	said := told(t, strings.Replace(first, "7.00", "7.02", 1))
	if len(said) != 1 || !strings.Contains(said[0], "  plan two\n−   carry 7.00 mm\n+   carry 7.02 mm\n    7.00 → 7.02\n") || strings.Contains(said[0], "plan one") {
		t.Errorf("one number: %q", said)
	}
	if said := told(t, strings.Replace(first, "plan two", "plan 2", 1)); len(said) != 1 || strings.Contains(said[0], "plan one") {
		t.Errorf("a heading changed: %q", said)
	}
	if said := told(t, strings.Replace(first, "3 bends", "4 bends", 1)); len(said) != 1 {
		t.Errorf("a whole number one off: %q", said)
	}
}

// Of very many changes the last are shown, for sums stand at the end.
func TestSummariesAreShown(t *testing.T) {
	t.Chdir(t.TempDir())
	t.Setenv(Accept, "1")
	text := func(by int) string {
		var b strings.Builder
		for i := range 200 {
			fmt.Fprintf(&b, "part %d\n  length %d\n", i, i+by)
		}
		return b.String() + fmt.Sprintf("summary\n  all %d\n", by)
	}
	told(t, text(0))
	t.Setenv(Accept, "")
	said := told(t, text(1000))
	if len(said) != 1 || !strings.Contains(said[0], "  summary\n−   all 0\n+   all 1000\n") || strings.Count(said[0], "\n") > 120 {
		t.Errorf("%q", said)
	}
}

// Accepting leaves alone what only rounds otherwise.
func TestAcceptingKeepsRounding(t *testing.T) {
	t.Chdir(t.TempDir())
	t.Setenv(Accept, "1")
	told(t, "a 1.00\nb 2.00\n")
	told(t, "a 1.01\nnew\nb 2.05\n")
	text, err := os.ReadFile(filepath.Join("testdata", "golden", "a.txt"))
	if err != nil || string(text) != "a 1.00\nnew\nb 2.05\n" {
		t.Errorf("%q, %v", text, err)
	}
}

func TestWordsAgree(t *testing.T) {
	for _, c := range []struct {
		a, b string
		same bool
	}{
		{"1.00", "1.01", true}, {"1.00", "1.02", false}, {"−0.01", "0.00", true}, {"-0.01", "-0.02", true}, {"1.0", "1.00", false},
		{"12", "13", false}, {"9.99", "10.00", true}, {"(1.00,2.00)", "(1.01,1.99)", true}, {"(1.00,2.00)", "(1.00;2.00)", false}, {"e4", "e5", false},
	} {
		if got := agrees(c.a, c.b); got != c.same {
			t.Errorf("%s and %s: %v", c.a, c.b, got)
		}
	}
}

// The changes turn the kept text into the new one.
func TestChangesAreComplete(t *testing.T) {
	const seed = 1
	rnd := rand.New(rand.NewPCG(seed, 1))
	for range 300 {
		text := func() (out []string) {
			for range rnd.IntN(12) {
				out = append(out, string(rune('a'+rnd.IntN(4))))
			}
			return out
		}
		kept, now := text(), text()
		common := len(pairs(kept, now))
		var gone, come int
		for _, c := range compared(kept, now) {
			gone, come = gone+len(c.kept), come+len(c.now)
		}
		if gone != len(kept)-common || come != len(now)-common || !slices.Equal(merged(kept, now), now) {
			t.Fatalf("seed %d: %v and %v: %d gone, %d come, %d common", seed, kept, now, gone, come, common)
		}
	}
}
