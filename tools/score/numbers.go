// SPDX-License-Identifier: Apache-2.0

package main

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"sort"
	"strconv"
	"strings"
)

// number is one tuned number of the reader: where its value stands.
type number struct {
	File  string // from the reader's folder
	Name  string // of the constant or variable; function.name inside a function
	Value string // as written
	Line  int
	from  int // byte offsets of the value
	to    int
}

// key names a number among all.
func (n number) key() string { return n.File + ":" + n.Name }

// asides are files that draw and tell what was read, and read nothing.
var asides = []string{"explain.go", "overlay.go"}

// readerFiles are the reader's sources, its packages' included, tests left
// out, in order: names from the reader's folder.
func readerFiles() ([]string, error) {
	var out []string
	err := filepath.WalkDir(readerDir, func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() && d.Name() == "testdata" {
			return filepath.SkipDir
		}
		if strings.HasSuffix(path, ".go") && !strings.HasSuffix(path, "_test.go") {
			name, err := filepath.Rel(readerDir, path)
			out = append(out, filepath.ToSlash(name))
			return err
		}
		return nil
	})
	sort.Strings(out)
	return out, err
}

// sources is a short name of what the reader's sources are.
func sources() (string, error) {
	files, err := readerFiles()
	if err != nil {
		return "", err
	}
	h := sha256.New()
	for _, f := range files {
		text, err := os.ReadFile(filepath.Join(readerDir, f))
		if err != nil {
			return "", err
		}
		_, _ = fmt.Fprintf(h, "%s %d\n", f, len(text))
		h.Write(text)
	}
	return hex.EncodeToString(h.Sum(nil))[:8], nil
}

// allNumbers finds the numbers of the reader.
func allNumbers(literals bool) ([]number, error) {
	files, err := readerFiles()
	if err != nil {
		return nil, err
	}
	var out []number
	for _, f := range files {
		if slices.Contains(asides, filepath.Base(f)) {
			continue
		}
		text, err := os.ReadFile(filepath.Join(readerDir, f))
		if err != nil {
			return nil, err
		}
		some, err := numbersOf(f, text, literals)
		if err != nil {
			return nil, err
		}
		out = append(out, some...)
	}
	return out, nil
}

// numbersOf finds the numbers of one file: values of constants and variables
// that are written with digits, wherever they are declared, and on request
// the digits in functions. Enumerations are none, nor zeros, nor tables of
// tables, which draw a shape.
func numbersOf(file string, text []byte, literals bool) ([]number, error) {
	f := finder{file: file, text: text, set: token.NewFileSet(), names: map[string]int{}}
	parsed, err := parser.ParseFile(f.set, file, text, 0)
	if err != nil {
		return nil, err
	}
	for _, d := range parsed.Decls {
		prefix := ""
		if fn, ok := d.(*ast.FuncDecl); ok {
			prefix = fn.Name.Name + "."
		}
		ast.Inspect(d, func(n ast.Node) bool {
			switch n := n.(type) {
			case *ast.GenDecl:
				f.declared(prefix, n)
				return false
			case *ast.BasicLit:
				if literals && prefix != "" && isTuned(n) {
					f.add(fmt.Sprintf("%s%s", prefix, n.Value), n)
				}
			}
			return true
		})
	}
	return f.out, nil
}

// isTuned says whether digits in a function may be a choice: not nothing,
// one, two, which are mostly arithmetic.
func isTuned(n *ast.BasicLit) bool {
	return n.Kind == token.FLOAT || n.Kind == token.INT && len(n.Value) > 0 && !strings.Contains("0 1 2", n.Value)
}

// finder gathers the numbers of one file.
type finder struct {
	file  string
	text  []byte
	set   *token.FileSet
	names map[string]int
	out   []number
}

// declared takes the numbers of a const or var declaration.
func (f *finder) declared(prefix string, d *ast.GenDecl) {
	if d.Tok != token.CONST && d.Tok != token.VAR || isEnumeration(d) {
		return
	}
	for _, s := range d.Specs {
		spec, ok := s.(*ast.ValueSpec)
		if !ok {
			continue
		}
		for i, v := range spec.Values {
			if i < len(spec.Names) && spec.Names[i].Name != "_" {
				f.value(prefix+spec.Names[i].Name, v)
			}
		}
	}
}

// isEnumeration says whether constants number things: iota, or 0, 1, 2.
func isEnumeration(d *ast.GenDecl) bool {
	counted := len(d.Specs) > 1
	for i, s := range d.Specs {
		spec, ok := s.(*ast.ValueSpec)
		if !ok || len(spec.Values) != 1 {
			counted = false
			continue
		}
		if id, ok := spec.Values[0].(*ast.Ident); ok && id.Name == "iota" {
			return true
		}
		lit, ok := spec.Values[0].(*ast.BasicLit)
		counted = counted && ok && lit.Value == strconv.Itoa(i)
	}
	return counted
}

// value takes a declared value, or each number of a flat composite one.
func (f *finder) value(name string, v ast.Expr) {
	c, ok := v.(*ast.CompositeLit)
	if !ok {
		f.number(name, v)
		return
	}
	for i, e := range c.Elts {
		key := fmt.Sprint(i)
		if kv, ok := e.(*ast.KeyValueExpr); ok {
			key, e = string(f.text[f.at(kv.Key.Pos()):f.at(kv.Key.End())]), kv.Value
		}
		f.number(fmt.Sprintf("%s[%s]", name, key), e)
	}
}

// number takes an expression that is one.
func (f *finder) number(name string, e ast.Expr) {
	if lit, ok := e.(*ast.BasicLit); ok {
		if v, err := strconv.ParseFloat(lit.Value, 64); err == nil && v == 0 {
			return
		}
	}
	if has, arithmetic := digits(e); has && arithmetic {
		f.add(name, e)
	}
}

// digits says whether an expression is written with digits, and whether it is
// nothing but arithmetic with constants.
func digits(e ast.Expr) (has, arithmetic bool) {
	arithmetic = true
	ast.Inspect(e, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.BasicLit:
			if n.Kind == token.INT || n.Kind == token.FLOAT {
				has = true
			} else {
				arithmetic = false
			}
		case *ast.Ident:
			arithmetic = arithmetic && n.Name != "iota"
		case *ast.FuncLit, *ast.CallExpr, *ast.CompositeLit, *ast.IndexExpr:
			arithmetic = false
		}
		return true
	})
	return has, arithmetic
}

// at is a byte offset.
func (f *finder) at(p token.Pos) int { return f.set.Position(p).Offset }

// add books a number; a name that comes again is counted.
func (f *finder) add(name string, e ast.Expr) {
	if f.names[name]++; f.names[name] > 1 {
		name = fmt.Sprintf("%s#%d", name, f.names[name])
	}
	n := number{File: f.file, Name: name, Line: f.set.Position(e.Pos()).Line, from: f.at(e.Pos()), to: f.at(e.End())}
	n.Value = string(f.text[n.from:n.to])
	f.out = append(f.out, n)
}

// times is the file's text with the number halved or doubled. An integer is
// halved as a real number where whole is false, and as one where it is true.
func (n number) times(text []byte, factor float64, whole bool) []byte {
	by := " * 2"
	if factor < 1 {
		by = " / 2.0"
		if whole {
			by = " / 2"
		}
	}
	var out []byte
	out = append(out, text[:n.from]...)
	out = append(out, "(("+n.Value+")"+by+")"...)
	return append(out, text[n.to:]...)
}
