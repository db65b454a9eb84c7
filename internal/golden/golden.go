// SPDX-License-Identifier: Apache-2.0

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
	File(t, filepath.Join("testdata", "golden", name), got)
}

// File is Compare for a text that is kept somewhere else, such as a page of the manual.
func File(t testing.TB, path, got string) {
	t.Helper()
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

// Of many changes the first and the last are printed: summaries stand at the
// end. Of a long one only the beginning.
const (
	firstShown = 12
	lastShown  = 8
	linesShown = 6
)

// shown prints changes, each under the heading that it stands under.
func shown(changes []change) string {
	var b strings.Builder
	under := ""
	for i, c := range changes {
		if left := len(changes) - firstShown - lastShown; left > 0 && i >= firstShown && i < firstShown+left {
			if i == firstShown {
				fmt.Fprintf(&b, "  … %d places more …\n", left)
			}
			continue
		}
		if c.heading != "" && c.heading != under {
			under = c.heading
			fmt.Fprintf(&b, "  %s\n", under)
		}
		c.show(&b)
	}
	return b.String()
}

// show prints one change: line beside line where as many came as went.
func (c change) show(b *strings.Builder) {
	if len(c.kept) == len(c.now) {
		for k := range min(len(c.now), linesShown) {
			fmt.Fprintf(b, "− %s\n+ %s\n", c.kept[k], c.now[k])
			if words := changedWords(c.kept[k], c.now[k]); words != "" {
				fmt.Fprintf(b, "    %s\n", words)
			}
		}
	} else {
		for _, side := range []struct {
			mark  string
			lines []string
		}{{"−", c.kept}, {"+", c.now}} {
			for _, l := range side.lines[:min(len(side.lines), linesShown)] {
				fmt.Fprintf(b, "%s %s\n", side.mark, l)
			}
		}
	}
	if n := max(len(c.kept), len(c.now)) - linesShown; n > 0 {
		fmt.Fprintf(b, "  … %d lines more here …\n", n)
	}
}
