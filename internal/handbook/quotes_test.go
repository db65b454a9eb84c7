// SPDX-License-Identifier: Apache-2.0

package handbook_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// What the manual says that the program says, in “…”, the program says. Where it fills in a
// name or a number the page has “…”.
func TestSentencesAreTheProgramsOwn(t *testing.T) {
	said := literals(t)
	quote := regexp.MustCompile(`“([^”]*)”`)
	text := strings.Join(strings.Fields(read(t, filepath.Join(docs, "troubleshooting.md"))), " ")
	all := quote.FindAllStringSubmatch(text, -1)
	if len(all) < 20 {
		t.Fatalf("%d sentences found: the test looks in the wrong place", len(all))
	}
	for _, m := range all {
		for part := range strings.SplitSeq(m[1], "…") {
			if part = strings.TrimSpace(part); !strings.Contains(said, part) {
				t.Errorf("the program never says %q", part)
			}
		}
	}
}

// Every cause that the program can name stands in the manual.
func TestEveryCauseIsThere(t *testing.T) {
	text := read(t, filepath.Join(docs, "troubleshooting.md"))
	source := read(t, "../diagnosis/cause.go")
	causes := regexp.MustCompile(`Cause = "([a-z_]+)"`).FindAllStringSubmatch(source, -1)
	if len(causes) < 10 {
		t.Fatalf("%d causes found: the test looks in the wrong place", len(causes))
	}
	for _, m := range causes {
		if !strings.Contains(text, "`"+m[1]+"`") {
			t.Errorf("docs/troubleshooting.md does not name %s", m[1])
		}
	}
}

// literals are all texts of the program, one a line; those that are put together stand as one.
func literals(t *testing.T) string {
	t.Helper()
	var out strings.Builder
	err := filepath.WalkDir("..", func(path string, _ fs.DirEntry, err error) error {
		if err != nil || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
			return err
		}
		file, err := parser.ParseFile(token.NewFileSet(), path, nil, 0)
		if err != nil {
			return err
		}
		ast.Inspect(file, func(n ast.Node) bool {
			if e, ok := n.(ast.Expr); ok {
				if text, isText := joined(e); isText {
					out.WriteString(strings.Join(strings.Fields(text), " ") + "\n")
					return false
				}
			}
			return true
		})
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return out.String()
}

// joined is a literal, or literals with pluses between them; what else is added is "…".
func joined(e ast.Expr) (text string, isText bool) {
	switch e := e.(type) {
	case *ast.BasicLit:
		if e.Kind == token.STRING {
			text, _ = strconv.Unquote(e.Value)
			return text, true
		}
	case *ast.BinaryExpr:
		a, isA := joined(e.X)
		b, isB := joined(e.Y)
		if e.Op == token.ADD && (isA || isB) {
			return a + b, true
		}
	}
	return "", false
}
