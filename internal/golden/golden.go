// Package golden holds computed values against text that is kept under
// testdata/golden. Only tests import it. BOARDHAND_ACCEPT=1 writes the text anew.
package golden

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// Accept is the environment variable that has golden text written anew.
const Accept = "BOARDHAND_ACCEPT"

// Compare fails t where got is not the text kept in testdata/golden/name, and
// prints what changed. A number printed with decimals may differ by one unit in
// its last place, since other processors round otherwise; a whole number may
// not. With BOARDHAND_ACCEPT=1 it keeps got instead, but leaves lines that only
// round otherwise as they are.
func Compare(t testing.TB, name, got string) {
	t.Helper()
	path := filepath.Join("testdata", "golden", name)
	kept, err := os.ReadFile(path)
	if err != nil && !os.IsNotExist(err) {
		t.Fatal(err)
	}
	changes := compared(lines(string(kept)), lines(got))
	if len(changes) == 0 && err == nil {
		return
	}
	if os.Getenv(Accept) == "1" {
		keep(t, path, merged(lines(string(kept)), lines(got)))
		return
	}
	t.Errorf("%s: %d places changed (− kept, + now).\n%s\nIf that is meant, look at each change and accept it:\n\t%s=1 go test ./%s -run '^%s$'",
		path, len(changes), shown(changes), Accept, packageDir(), topTest(t))
}

func keep(t testing.TB, path string, text []string) {
	t.Helper()
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, []byte(strings.Join(text, "\n")+"\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	t.Logf("wrote %s", path)
}

// lines are the lines of a text; the break at its end begins none.
func lines(text string) []string {
	if text == "" {
		return nil
	}
	return strings.Split(strings.TrimSuffix(text, "\n"), "\n")
}

// packageDir is the tested package as go test takes it from the module's root.
func packageDir() string {
	dir, err := os.Getwd()
	if err != nil {
		return "..."
	}
	for root := dir; root != filepath.Dir(root); root = filepath.Dir(root) {
		if _, err := os.Stat(filepath.Join(root, "go.mod")); err == nil {
			if rel, err := filepath.Rel(root, dir); err == nil {
				return filepath.ToSlash(rel)
			}
		}
	}
	return "..."
}

// topTest is the name of the test function that t runs under.
func topTest(t testing.TB) string {
	name, _, _ := strings.Cut(t.Name(), "/")
	return name
}

// mostShown is how many changed places are printed.
const mostShown = 25

// shown prints changes, each under the heading that it stands under.
func shown(changes []change) string {
	var b strings.Builder
	under := ""
	for i, c := range changes {
		if i == mostShown {
			fmt.Fprintf(&b, "  … and %d more places\n", len(changes)-i)
			break
		}
		if c.heading != under {
			under = c.heading
			fmt.Fprintf(&b, "  %s\n", under)
		}
		for _, l := range c.kept {
			fmt.Fprintf(&b, "− %s\n", l)
		}
		for _, l := range c.now {
			fmt.Fprintf(&b, "+ %s\n", l)
		}
		for k := 0; len(c.kept) == len(c.now) && k < len(c.now); k++ {
			if words := changedWords(c.kept[k], c.now[k]); words != "" {
				fmt.Fprintf(&b, "    %s\n", words)
			}
		}
	}
	return b.String()
}
