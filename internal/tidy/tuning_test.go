// SPDX-License-Identifier: Apache-2.0

package tidy

import (
	"go/ast"
	"go/parser"
	"go/token"
	"path/filepath"
	"strings"
	"testing"
)

// Every number in a tuning.go has a comment of its own, or stands in a group that has
// one; the file holds nothing but numbers.
func TestTunedNumbersSayWhatTheyAre(t *testing.T) {
	files := 0
	for _, path := range sources(t) {
		if filepath.Base(path) != "tuning.go" || strings.Contains(filepath.ToSlash(path), "/sight/") { // the reader's: docs/sensitivity.md
			continue
		}
		files++
		set := token.NewFileSet()
		f, err := parser.ParseFile(set, path, nil, parser.ParseComments)
		if err != nil {
			t.Fatal(err)
		}
		for _, d := range f.Decls {
			g, ok := d.(*ast.GenDecl)
			if !ok || g.Tok == token.TYPE {
				t.Errorf("%s: more than numbers stands there; a file of its own is for that", set.Position(d.Pos()))
				continue
			}
			for _, name := range silent(set, g) {
				t.Errorf("%s: %s has no comment; say its unit, its meaning and how it was found", set.Position(g.Pos()), name)
			}
		}
	}
	if files < 40 {
		t.Errorf("only %d tuning files were found", files)
	}
}

// silent are the names of a declaration that nothing is said of: neither of them, nor
// of the line just above.
func silent(set *token.FileSet, g *ast.GenDecl) (out []string) {
	if g.Doc != nil || g.Tok == token.IMPORT {
		return nil
	}
	said := 0 // line up to which something is said
	for _, s := range g.Specs {
		v := s.(*ast.ValueSpec)
		if v.Doc == nil && v.Comment == nil && set.Position(v.Pos()).Line > said+1 {
			for _, n := range v.Names {
				out = append(out, n.Name)
			}
			continue
		}
		said = set.Position(v.End()).Line
	}
	return out
}
