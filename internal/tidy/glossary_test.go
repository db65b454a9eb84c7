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

// declared lists what each package under internal/ declares, by the first
// element of its path: names, and methods and fields as Type.Name.
func declared(t *testing.T) map[string]map[string]bool {
	t.Helper()
	out := map[string]map[string]bool{}
	for _, path := range sources(t) {
		rest, ok := strings.CutPrefix(filepath.ToSlash(path), "../../internal/")
		if !ok || strings.HasSuffix(path, "_test.go") {
			continue
		}
		pkg := strings.Split(rest, "/")[0]
		if out[pkg] == nil {
			out[pkg] = map[string]bool{}
		}
		file, err := parser.ParseFile(token.NewFileSet(), path, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		for _, d := range file.Decls {
			declare(out[pkg], d)
		}
	}
	return out
}

// declare adds one declaration's names.
func declare(names map[string]bool, d ast.Decl) {
	switch d := d.(type) {
	case *ast.FuncDecl:
		names[receiver(d)+d.Name.Name] = true
	case *ast.GenDecl:
		for _, s := range d.Specs {
			switch s := s.(type) {
			case *ast.TypeSpec:
				names[s.Name.Name] = true
				declareFields(names, s)
			case *ast.ValueSpec:
				for _, n := range s.Names {
					names[n.Name] = true
				}
			}
		}
	}
}

// receiver is "Type." for a method, else "".
func receiver(d *ast.FuncDecl) string {
	if d.Recv == nil {
		return ""
	}
	of := d.Recv.List[0].Type
	if p, ok := of.(*ast.StarExpr); ok {
		of = p.X
	}
	if g, ok := of.(*ast.IndexExpr); ok {
		of = g.X
	}
	if n, ok := of.(*ast.Ident); ok {
		return n.Name + "."
	}
	return "?."
}

// declareFields adds the fields of a struct.
func declareFields(names map[string]bool, s *ast.TypeSpec) {
	body, ok := s.Type.(*ast.StructType)
	if !ok {
		return
	}
	for _, f := range body.Fields.List {
		for _, n := range f.Names {
			names[s.Name.Name+"."+n.Name] = true
		}
	}
}

// glossaryRow is a row of a table in the glossary: word, meaning, unit, code.
var glossaryRow = regexp.MustCompile(`(?m)^\| (.+?) \| (.*?) \| ?(.*?) ?\| (.+?) \|$`)

// inCode is a name in the last column.
var inCode = regexp.MustCompile("`([a-z]+)\\.([A-Za-z.]+)`")

func TestGlossaryNamesWhatIsThere(t *testing.T) {
	text, err := os.ReadFile("../../docs/glossary.md")
	if err != nil {
		t.Fatal(err)
	}
	names, seen := declared(t), 0
	for _, row := range glossaryRow.FindAllStringSubmatch(string(text), -1) {
		if row[1] == "word" || row[1] == "---" {
			continue
		}
		found := inCode.FindAllStringSubmatch(row[4], -1)
		if len(found) == 0 {
			t.Errorf("%q says nowhere where the code has it", row[1])
		}
		for _, m := range found {
			seen++
			if !names[m[1]][m[2]] {
				t.Errorf("%q: the code has no %s.%s", row[1], m[1], m[2])
			}
		}
	}
	if lines := strings.Count(string(text), "\n| "); seen < lines/2 {
		t.Errorf("%d names found in %d lines: the test does not read the table", seen, lines)
	}
}
