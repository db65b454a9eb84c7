// SPDX-License-Identifier: Apache-2.0

package tidy

import (
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// The tail is policed, not the average: a function aims for under 30 lines, a
// file for under 400, a list of parameters for at most 4. Twice that fails; where
// code has come to be better, less.
const (
	longestFunction = 50
	longestTest     = 60
	longestFile     = 500
	mostParameters  = 8
)

// sources lists the Go files that people read and write, tests included.
func sources(t *testing.T) []string {
	t.Helper()
	var out []string
	for _, root := range []string{"../../cmd", "../../internal", "../../tools"} {
		err := filepath.WalkDir(root, func(path string, d os.DirEntry, err error) error {
			if err == nil && strings.HasSuffix(path, ".go") {
				out = append(out, path)
			}
			return err
		})
		if err != nil && !os.IsNotExist(err) {
			t.Fatal(err)
		}
	}
	if len(out) < 50 {
		t.Fatalf("only %d files found: the test looks in the wrong place", len(out))
	}
	return out
}

func TestNothingGrowsTooLong(t *testing.T) {
	for _, path := range sources(t) {
		fset := token.NewFileSet()
		file, err := parser.ParseFile(fset, path, nil, parser.ParseComments)
		if err != nil {
			t.Error(err)
			continue
		}
		if n := fset.File(file.FileStart).LineCount(); n > longestFile {
			t.Errorf("%s has %d lines; split it", path, n)
		}
		longest := longestFunction
		if strings.HasSuffix(path, "_test.go") {
			longest = longestTest
		}
		for _, d := range file.Decls {
			f, ok := d.(*ast.FuncDecl)
			if !ok || f.Body == nil {
				continue
			}
			if n := fset.Position(f.End()).Line - fset.Position(f.Pos()).Line + 1; n > longest {
				t.Errorf("%s: %s has %d lines; give its parts names", path, f.Name.Name, n)
			}
			if n := f.Type.Params.NumFields(); n > mostParameters {
				t.Errorf("%s: %s takes %d parameters; make a struct of them", path, f.Name.Name, n)
			}
		}
	}
}

// Every package says what it is for.
func TestPackagesHaveComments(t *testing.T) {
	said := map[string]bool{}
	for _, path := range sources(t) {
		if strings.HasSuffix(path, "_test.go") {
			continue
		}
		dir := filepath.Dir(path)
		file, err := parser.ParseFile(token.NewFileSet(), path, nil, parser.PackageClauseOnly|parser.ParseComments)
		if err != nil {
			t.Error(err)
			continue
		}
		said[dir] = said[dir] || file.Doc != nil
	}
	for dir, ok := range said {
		if !ok {
			t.Errorf("package %s has no package comment", dir)
		}
	}
}

// ARCHITECTURE.md names every package, and no dead one.
func TestMapIsComplete(t *testing.T) {
	text, err := os.ReadFile("../../ARCHITECTURE.md")
	if err != nil {
		t.Fatal(err)
	}
	named := map[string]bool{}
	for _, m := range regexp.MustCompile("(?m)^\\| `([a-z/]+)` \\|").FindAllStringSubmatch(string(text), -1) {
		named[m[1]] = true
	}
	for p := range imports(t) {
		if !named[p] {
			t.Errorf("ARCHITECTURE.md does not name internal/%s", p)
		}
		delete(named, p)
	}
	for name := range named {
		t.Errorf("ARCHITECTURE.md names %s, which is not there", name)
	}
}

// foreign are words that must stand nowhere in the project: paths of one
// machine and what is nobody's business here.
var foreign = regexp.MustCompile(`/(root|home|tmp|Users)/[a-z]`)

func TestNoMachinePaths(t *testing.T) {
	for _, path := range sources(t) {
		if strings.Contains(path, "tidy") {
			continue
		}
		text, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		if m := foreign.Find(text); m != nil {
			t.Errorf("%s contains %q: a path of one machine", path, m)
		}
	}
}
