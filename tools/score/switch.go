// SPDX-License-Identifier: Apache-2.0

package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"go/ast"
	"go/importer"
	"go/parser"
	"go/token"
	"go/types"
	"io"
	"os"
	"os/exec"
	"path"
	"path/filepath"
	"slices"
	"sort"
	"strconv"
)

// switchFile is the source that the switched reader has beside its own: the
// factors of all numbers, one of which the environment sets.
const switchFile = `package %s

import (
	"os"
	"strconv"
)

// varied are the factors, by number.
var varied = func() (v [%d]float64) {
	for i := range v {
		v[i] = 1
	}
	if i, err := strconv.Atoi(os.Getenv("BOARDHAND_NUMBER")); err == nil {
		v[i], _ = strconv.ParseFloat(os.Getenv("BOARDHAND_FACTOR"), 64)
	}
	return v
}()
`

// edit puts text in the place of a file's bytes.
type edit struct {
	from, to int
	text     string
}

// switcher rewrites the reader so that one program holds all variants: each
// use of a number is multiplied by its factor. It saves building a program a
// variant. Numbers that the language wants to be constant stay as they are.
type switcher struct {
	set     *token.FileSet
	info    *types.Info
	own     *types.Package
	texts   map[string][]byte // by base name
	index   map[token.Pos]int // of the value's place → number
	fixed   map[types.Object]bool
	edits   map[string][]edit
	numbers []number
	whole   map[ast.Expr]types.Type // types of names inside constant arithmetic
}

// switched rewrites the reader's packages. It returns the files that change,
// by path, and which numbers can be switched.
func switched(numbers []number) (map[string][]byte, []bool, error) {
	exports, err := exportData()
	if err != nil {
		return nil, nil, err
	}
	files, err := readerFiles()
	if err != nil {
		return nil, nil, err
	}
	packages := map[string][]string{}
	for _, f := range files {
		packages[path.Dir(f)] = append(packages[path.Dir(f)], f)
	}
	out, can := map[string][]byte{}, make([]bool, len(numbers))
	for dir, files := range packages {
		s := &switcher{set: token.NewFileSet(), texts: map[string][]byte{}, index: map[token.Pos]int{}, fixed: map[types.Object]bool{},
			edits: map[string][]edit{}, numbers: numbers, whole: map[ast.Expr]types.Type{}}
		parsed, err := s.check(dir, files, exports)
		if err != nil {
			return nil, nil, err
		}
		s.plan(parsed, can)
		out[filepath.Join(readerDir, dir, "varied.go")] = fmt.Appendf(nil, switchFile, s.own.Name(), len(numbers))
		for name, edits := range s.edits {
			out[filepath.Join(readerDir, name)] = apply(s.texts[name], edits)
		}
	}
	return out, can, nil
}

// check parses a package and finds the types.
func (s *switcher) check(dir string, files []string, exports map[string]string) ([]*ast.File, error) {
	var parsed []*ast.File
	for _, name := range files {
		text, err := os.ReadFile(filepath.Join(readerDir, name))
		if err != nil {
			return nil, err
		}
		f, err := parser.ParseFile(s.set, name, text, 0)
		if err != nil {
			return nil, err
		}
		s.texts[name] = text
		parsed = append(parsed, f)
		start := s.set.File(f.FileStart)
		for i, n := range s.numbers {
			if n.File == name {
				s.index[start.Pos(n.from)] = i
			}
		}
	}
	s.info = &types.Info{Types: map[ast.Expr]types.TypeAndValue{}, Defs: map[*ast.Ident]types.Object{}, Uses: map[*ast.Ident]types.Object{}}
	config := types.Config{Importer: importer.ForCompiler(s.set, "gc", func(path string) (io.ReadCloser, error) {
		if exports[path] == "" {
			return nil, fmt.Errorf("no export data of %s", path)
		}
		return os.Open(exports[path])
	})}
	var err error
	s.own, err = config.Check(path.Join("boardhand", readerDir, dir), s.set, parsed, s.info)
	return parsed, err
}

// exportData lists the compiled packages that the reader needs.
func exportData() (map[string]string, error) {
	c := exec.Command("go", "list", "-export", "-deps", "-json=ImportPath,Export", "./"+readerDir+"/...")
	c.Stderr = os.Stderr
	text, err := c.Output()
	if err != nil {
		return nil, fmt.Errorf("go list: %w", err)
	}
	out := map[string]string{}
	for d := json.NewDecoder(bytes.NewReader(text)); ; {
		var p struct{ ImportPath, Export string }
		if err := d.Decode(&p); errors.Is(err, io.EOF) {
			return out, nil
		} else if err != nil {
			return nil, err
		}
		out[p.ImportPath] = p.Export
	}
}

// plan decides what is multiplied where, and marks what can be.
func (s *switcher) plan(parsed []*ast.File, can []bool) {
	constants := map[types.Object]int{}
	for _, f := range parsed {
		s.declarations(f, constants)
	}
	for _, f := range parsed {
		s.arithmetic(f)
		s.demands(f)
	}
	for obj, i := range constants {
		can[i] = !s.fixed[obj] && !s.isShared(obj)
	}
	for _, f := range parsed {
		ast.Inspect(f, func(n ast.Node) bool {
			switch n := n.(type) {
			case *ast.Ident:
				if i, ok := constants[s.info.Uses[n]]; ok && can[i] {
					s.multiply(n, i)
				}
			case *ast.GenDecl:
				if n.Tok == token.VAR {
					s.variables(n, can)
				}
			}
			return true
		})
	}
}

// isShared says whether other packages may use a constant: there it would
// stay as it is.
func (s *switcher) isShared(obj types.Object) bool {
	return obj.Exported() && obj.Parent() == s.own.Scope()
}

// declarations finds the constants that are numbers.
func (s *switcher) declarations(f *ast.File, constants map[types.Object]int) {
	ast.Inspect(f, func(n ast.Node) bool {
		d, ok := n.(*ast.GenDecl)
		if !ok || d.Tok != token.CONST {
			return true
		}
		for _, spec := range d.Specs {
			spec := spec.(*ast.ValueSpec)
			for k, v := range spec.Values {
				if i, ok := s.index[v.Pos()]; ok && k < len(spec.Names) {
					constants[s.info.Defs[spec.Names[k]]] = i
				}
			}
		}
		return true
	})
}

// demands finds the constants that must stay constant: those in other
// constants, in the lengths of arrays, beside text, and in shifts.
func (s *switcher) demands(f *ast.File) {
	mark := func(n ast.Node) {
		ast.Inspect(n, func(n ast.Node) bool {
			if id, ok := n.(*ast.Ident); ok {
				s.fixed[s.info.Uses[id]] = true
			}
			return true
		})
	}
	ast.Inspect(f, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.GenDecl:
			if n.Tok == token.CONST {
				for _, spec := range n.Specs {
					for _, v := range spec.(*ast.ValueSpec).Values {
						mark(v)
					}
				}
			}
		case *ast.ArrayType:
			if n.Len != nil {
				mark(n.Len)
			}
		case *ast.Ident:
			if s.info.Uses[n] != nil && !(s.isPlain(n) && s.canName(f, s.typeOf(n))) {
				s.fixed[s.info.Uses[n]] = true
			}
		}
		return true
	})
}

// arithmetic gives the names inside constant arithmetic, which the compiler
// leaves without a type, the type of the whole.
func (s *switcher) arithmetic(f *ast.File) {
	ast.Inspect(f, func(n ast.Node) bool {
		e, ok := n.(ast.Expr)
		if !ok || s.info.Types[e].Value == nil || !isNumber(s.info.TypeOf(e)) {
			return true
		}
		ast.Inspect(e, func(n ast.Node) bool {
			if id, ok := n.(*ast.Ident); ok && s.whole[id] == nil && !isNumber(s.info.TypeOf(id)) {
				s.whole[id] = s.info.TypeOf(e)
			}
			return true
		})
		return true
	})
}

// canName says whether a file can write a type's name: it is predeclared, the
// package's own, or of a package that the file imports.
func (s *switcher) canName(f *ast.File, t types.Type) bool {
	named, ok := t.(*types.Named)
	if !ok || named.Obj().Pkg() == nil || named.Obj().Pkg() == s.own {
		return true
	}
	return slices.ContainsFunc(f.Imports, func(i *ast.ImportSpec) bool {
		return i.Name == nil && i.Path.Value == strconv.Quote(named.Obj().Pkg().Path())
	})
}

// typeOf is the type that an expression has once the compiler is done with it.
func (s *switcher) typeOf(e ast.Expr) types.Type {
	if t := s.whole[e]; t != nil {
		return t
	}
	return s.info.TypeOf(e)
}

// isPlain says whether an expression ends as a number with a type.
func (s *switcher) isPlain(e ast.Expr) bool { return isNumber(s.typeOf(e)) }

// isNumber says whether a type is one of numbers, and not left open.
func isNumber(t types.Type) bool {
	if t == nil {
		return false
	}
	basic, ok := t.Underlying().(*types.Basic)
	return ok && basic.Info()&types.IsNumeric != 0 && basic.Info()&types.IsUntyped == 0
}

// variables multiplies the values of a var declaration.
func (s *switcher) variables(d *ast.GenDecl, can []bool) {
	ast.Inspect(d, func(n ast.Node) bool {
		e, ok := n.(ast.Expr)
		if !ok {
			return true
		}
		if i, ok := s.index[e.Pos()]; ok && s.isPlain(e) && s.set.Position(e.End()).Offset == s.numbers[i].to {
			s.multiply(e, i)
			can[i] = true
			return false
		}
		return true
	})
}

// multiply wraps an expression: its factor times it, in its own type.
func (s *switcher) multiply(e ast.Expr, i int) {
	from := s.set.Position(e.Pos())
	to := s.set.Position(e.End()).Offset
	text := string(s.texts[from.Filename][from.Offset:to])
	name := types.TypeString(s.typeOf(e), func(p *types.Package) string {
		if p == s.own {
			return ""
		}
		return p.Name()
	})
	s.edits[from.Filename] = append(s.edits[from.Filename], edit{from.Offset, to, fmt.Sprintf("%s(varied[%d]*float64(%s))", name, i, text)})
}

// apply makes the edits, none of which overlap.
func apply(text []byte, edits []edit) []byte {
	sort.Slice(edits, func(i, j int) bool { return edits[i].from < edits[j].from })
	var out []byte
	at := 0
	for _, e := range edits {
		if e.from < at {
			continue
		}
		out = append(append(out, text[at:e.from]...), e.text...)
		at = e.to
	}
	return append(out, text[at:]...)
}
