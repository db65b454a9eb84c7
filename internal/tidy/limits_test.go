// SPDX-License-Identifier: Apache-2.0

package tidy

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"go/types"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// What one package, one interface and one knot of files may come to. Words
// (the first layer) do not count as imports: everybody speaks them.
const (
	mostLines   = 2500 // of a package, tests aside
	mostFiles   = 20   // of a package, tests aside
	mostImports = 6    // of our packages, words aside
	mostMethods = 4    // of an interface, embedded ones counted
	mostKnotted = 6    // files of a package that use each other's names in a ring
	mostOfOne   = 40   // methods of one receiver
)

// checker reads our packages from source; what the standard library and other
// modules hold is not looked into, so what it says of types is partial.
type checker struct {
	fset *token.FileSet
	done map[string]*checked
}

// checked is one package with what its names stand for.
type checked struct {
	pkg   *types.Package
	info  *types.Info
	files []*ast.File
	lines int
}

// Import gives our own packages their types and others an empty shell.
func (c *checker) Import(path string) (*types.Package, error) {
	node, ours := strings.CutPrefix(path, module)
	if !ours {
		shell := types.NewPackage(path, filepath.Base(path))
		shell.MarkComplete()
		return shell, nil
	}
	p, err := c.check(node)
	return p.pkg, err
}

func (c *checker) check(node string) (*checked, error) {
	if p := c.done[node]; p != nil {
		return p, nil
	}
	p := &checked{info: &types.Info{Uses: map[*ast.Ident]types.Object{}}}
	names, err := filepath.Glob(filepath.Join("..", node, "*.go"))
	if err != nil {
		return p, err
	}
	for _, name := range names {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		src, err := os.ReadFile(name)
		if err != nil {
			return p, err
		}
		file, err := parser.ParseFile(c.fset, name, src, 0)
		if err != nil {
			return p, err
		}
		p.files, p.lines = append(p.files, file), p.lines+strings.Count(string(src), "\n")
	}
	config := types.Config{Importer: c, Error: func(error) {}} // the shells lack everything
	p.pkg, _ = config.Check(module+node, c.fset, p.files, p.info)
	c.done[node] = p
	return p, nil
}

// knots are the sets of files of which each uses names of the next, largest
// first; files that stand alone are left out.
func (c *checker) knots(p *checked) [][]string {
	uses := map[string]map[string]bool{}
	for id, obj := range p.info.Uses {
		if obj.Pkg() != p.pkg || !obj.Pos().IsValid() {
			continue
		}
		from, to := c.file(id.Pos()), c.file(obj.Pos())
		if uses[from] == nil {
			uses[from] = map[string]bool{}
		}
		uses[from][to] = true
	}
	return rings(uses)
}

func (c *checker) file(p token.Pos) string { return filepath.Base(c.fset.Position(p).Filename) }

// rings are the strongly connected components of two or more, largest first.
func rings(uses map[string]map[string]bool) (out [][]string) {
	reach := map[string]map[string]bool{}
	for from := range uses {
		reach[from] = map[string]bool{}
		for todo := []string{from}; len(todo) > 0; {
			next := todo[0]
			todo = todo[1:]
			for to := range uses[next] {
				if !reach[from][to] {
					reach[from][to] = true
					todo = append(todo, to)
				}
			}
		}
	}
	seen := map[string]bool{}
	for _, a := range slices.Sorted(maps.Keys(reach)) {
		var ring []string
		for _, b := range slices.Sorted(maps.Keys(reach)) {
			if !seen[b] && reach[a][b] && reach[b][a] {
				ring, seen[b] = append(ring, b), true
			}
		}
		if len(ring) > 1 {
			out = append(out, ring)
		}
	}
	slices.SortStableFunc(out, func(a, b []string) int { return len(b) - len(a) })
	return out
}

// methods counts those of each interface of a package, embedded ones too, and
// of each other type its own.
func (p *checked) methods(node string) map[string]int {
	out := map[string]int{}
	for _, name := range p.pkg.Scope().Names() {
		t, ok := p.pkg.Scope().Lookup(name).(*types.TypeName)
		if !ok {
			continue
		}
		if i, ok := t.Type().Underlying().(*types.Interface); ok {
			out["methods of "+node+"."+name] = i.NumMethods()
		} else if n, ok := t.Type().(*types.Named); ok {
			out["receiver "+node+"."+name] = n.NumMethods()
		}
	}
	return out
}

// measures are what is limited, by what it is of.
func measures(t *testing.T) map[string]int {
	t.Helper()
	c := &checker{fset: token.NewFileSet(), done: map[string]*checked{}}
	out := map[string]int{}
	for node, tos := range imports(t) {
		p, err := c.check(node)
		if err != nil {
			t.Fatal(err)
		}
		out["lines of "+node], out["files of "+node] = p.lines, len(p.files)
		for to := range tos {
			if layerOf(to) > 0 {
				out["imports of "+node]++
			}
		}
		maps.Copy(out, p.methods(node))
		if k := c.knots(p); len(k) > 0 {
			out["knot in "+node] = len(k[0])
		}
	}
	return out
}

// limitOf is the most that a measure may be.
func limitOf(measure string) int {
	switch kind, _, _ := strings.Cut(measure, " "); kind {
	case "lines":
		return mostLines
	case "files":
		return mostFiles
	case "imports":
		return mostImports
	case "methods":
		return mostMethods
	case "receiver":
		return mostOfOne
	}
	return mostKnotted
}

// beyond says what of the measures is over its limit without leave, and which
// leave is no longer needed.
func beyond(measures map[string]int, leaves map[string]leave) (out []string) {
	for what, n := range measures {
		l := leaves[what]
		switch limit := limitOf(what); {
		case l.reason == "" && n > limit:
			out = append(out, fmt.Sprintf("%s: %d, at most %d; split it", what, n, limit))
		case l.reason != "" && n > l.most:
			out = append(out, fmt.Sprintf("%s: %d, tidy/limits.go gives leave for %d; split it", what, n, l.most))
		}
	}
	for what, l := range leaves {
		if measures[what] <= limitOf(what) || l.reason == "" {
			out = append(out, fmt.Sprintf("tidy/limits.go gives leave for %s, which needs none", what))
		}
	}
	slices.Sort(out)
	return out
}

func TestPackagesKeepTheirLimits(t *testing.T) {
	m := measures(t)
	if m["lines of chess"] < 1000 || m["methods of drag.Puller"] != 1 || m["receiver chess.Position"] < 50 || m["knot in chess"] == 0 {
		t.Fatalf("measured %d lines of chess, %d methods of drag.Puller, %d of chess.Position, a knot of %d in chess: the test looks in the wrong place",
			m["lines of chess"], m["methods of drag.Puller"], m["receiver chess.Position"], m["knot in chess"])
	}
	if testing.Verbose() {
		t.Log(figures(t, m))
	}
	for _, wrong := range beyond(m, leaves) {
		t.Error(wrong)
	}
}

// What is over a limit is found, and so is leave that nobody needs.
func TestLimitsBite(t *testing.T) {
	m := map[string]int{"lines of a": 2501, "files of a": 20, "methods of a.B": 5, "knot in a": 9, "imports of a": 7, "receiver a.C": 41}
	given := map[string]leave{"knot in a": {8, "it grew"}, "imports of a": {7, "it is a door"}, "files of a": {22, "no more"}}
	if got := beyond(m, given); len(got) != 5 {
		t.Errorf("got %q, want five complaints", got)
	}
}

// A ring is found through others, and a chain is none.
func TestRings(t *testing.T) {
	on := func(names ...string) map[string]bool {
		m := map[string]bool{}
		for _, n := range names {
			m[n] = true
		}
		return m
	}
	got := rings(map[string]map[string]bool{"a": on("b"), "b": on("c", "d"), "c": on("a"), "d": on("e"), "e": on("e"), "f": on("g"), "g": on("f")})
	if fmt.Sprint(got) != "[[a b c] [f g]]" {
		t.Errorf("got %v", got)
	}
}
