// SPDX-License-Identifier: Apache-2.0

package tidy

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"maps"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// figure is what a package comes to, beside its measures.
type figure struct {
	tests, comments int    // lines of its tests, and of comments in its code
	function        int    // lines of its longest function, tests aside
	receiver        string // with most methods
}

// figures is a table of what each package comes to.
func figures(t *testing.T, m map[string]int) string {
	t.Helper()
	of := map[string]figure{}
	for what, n := range m {
		if kind, name, _ := strings.Cut(what, " "); kind == "receiver" {
			node, _, _ := strings.Cut(name, ".")
			f := of[node]
			if most := m["receiver "+f.receiver]; n > most || n == most && name < f.receiver {
				f.receiver = name
			}
			of[node] = f
		}
	}
	var b strings.Builder
	fmt.Fprintf(&b, "\n%-24s %5s %5s %6s %8s %5s %7s %7s %9s\n", "package", "files", "lines", "tests", "comments", "knot", "imports", "longest", "receiver")
	var sum figure
	lines := 0
	for _, node := range slices.Sorted(maps.Keys(imports(t))) {
		f := of[node]
		f.read(t, filepath.Join("..", node))
		n := m["lines of "+node]
		sum.tests, sum.comments, sum.function, lines = sum.tests+f.tests, sum.comments+f.comments, max(sum.function, f.function), lines+n
		_, receiver, _ := strings.Cut(f.receiver, ".")
		fmt.Fprintf(&b, "%-24s %5d %5d %6.2f %7d%% %5d %7d %7d %5d %s\n", node, m["files of "+node], n, float64(f.tests)/float64(n), 100*f.comments/n,
			m["knot in "+node], m["imports of "+node], f.function, m["receiver "+f.receiver], receiver)
	}
	fmt.Fprintf(&b, "%-24s %5s %5d %6.2f %7d%% %21d\n", "all", "", lines, float64(sum.tests)/float64(lines), 100*sum.comments/lines, sum.function)
	return b.String()
}

// read adds up the files of a folder.
func (f *figure) read(t *testing.T, dir string) {
	t.Helper()
	names, err := filepath.Glob(filepath.Join(dir, "*.go"))
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range names {
		fset := token.NewFileSet()
		file, err := parser.ParseFile(fset, name, nil, parser.ParseComments)
		if err != nil {
			t.Fatal(err)
		}
		if strings.HasSuffix(name, "_test.go") {
			f.tests += fset.File(file.FileStart).LineCount() - 1
			continue
		}
		long := func(n ast.Node) int { return fset.Position(n.End()).Line - fset.Position(n.Pos()).Line + 1 }
		for _, c := range file.Comments {
			f.comments += long(c)
		}
		for _, d := range file.Decls {
			if d, ok := d.(*ast.FuncDecl); ok {
				f.function = max(f.function, long(d))
			}
		}
	}
}
