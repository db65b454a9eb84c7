// SPDX-License-Identifier: Apache-2.0

package tidy

import (
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// questionRow is a row of the table of questions: question, place, test.
var questionRow = regexp.MustCompile(`(?m)^\| (.+\?) \| (.+) \| (.+) \|$`)

// mapRow is a row of the map of the code: package, what it holds, where to start.
var mapRow = regexp.MustCompile("(?m)^\\| `([a-z/]+)` \\| .* \\| (.*) \\|$")

// inTicks is a name in a document.
var inTicks = regexp.MustCompile("`([^`]+)`")

// fileName is a file of ours in a document.
var fileName = regexp.MustCompile(`^[a-z_/]+\.(go|toml)$`)

// lost are the files named in a text that are not below a folder, and how many there are.
func lost(text, below string) (out []string, named int) {
	for _, m := range inTicks.FindAllStringSubmatch(text, -1) {
		if !fileName.MatchString(m[1]) {
			continue
		}
		named++
		if _, err := os.Stat(filepath.Join(below, m[1])); err != nil {
			out = append(out, m[1])
		}
	}
	return out, named
}

// hasTest says whether a test, named by package and name, is there.
func hasTest(t *testing.T, named string) bool {
	t.Helper()
	dot := strings.LastIndex(named, ".")
	files, err := filepath.Glob(filepath.Join("..", named[:max(dot, 0)], "*_test.go"))
	if err != nil {
		t.Fatal(err)
	}
	return slices.ContainsFunc(files, func(file string) bool {
		text, err := os.ReadFile(file)
		return err == nil && strings.Contains(string(text), "\nfunc "+named[dot+1:]+"(t *testing.T)")
	})
}

// Each question has its place, and a test.
func TestQuestionsLeadSomewhere(t *testing.T) {
	text, err := os.ReadFile("../../CONTRIBUTING.md")
	if err != nil {
		t.Fatal(err)
	}
	rows := questionRow.FindAllStringSubmatch(string(text), -1)
	if len(rows) < 10 {
		t.Fatalf("%d questions found: the test does not read the table", len(rows))
	}
	for _, row := range rows {
		gone, named := lost(row[2], "..")
		if named == 0 || len(gone) > 0 {
			t.Errorf("%s names %d places, of which are not there: %q", row[1], named, gone)
		}
		tests := inTicks.FindAllStringSubmatch(row[3], -1)
		if len(tests) == 0 {
			t.Errorf("%s names no test", row[1])
		}
		for _, m := range tests {
			if !hasTest(t, m[1]) {
				t.Errorf("%s names the test %s, which is not there", row[1], m[1])
			}
		}
	}
}

// Where the map says to start in a package, there is a file.
func TestMapStartsAtFiles(t *testing.T) {
	text, err := os.ReadFile("../../ARCHITECTURE.md")
	if err != nil {
		t.Fatal(err)
	}
	all := 0
	for _, row := range mapRow.FindAllStringSubmatch(string(text), -1) {
		gone, named := lost(row[2], filepath.Join("..", row[1]))
		if all += named; len(gone) > 0 {
			t.Errorf("%s has no %q", row[1], gone)
		}
	}
	if all < 60 {
		t.Errorf("%d files found: the test does not read the map", all)
	}
}

// A file that is not there is found to be lost, and so is a test.
func TestLostPlacesAreFound(t *testing.T) {
	gone, named := lost("`tidy/arrows.go`, `tidy/nowhere.go`, `make check`", "..")
	if named != 2 || !slices.Equal(gone, []string{"tidy/nowhere.go"}) {
		t.Errorf("%d named, lost %q", named, gone)
	}
	if !hasTest(t, "tidy.TestRings") || hasTest(t, "tidy.TestNothing") {
		t.Error("tests are not found where they are")
	}
}
