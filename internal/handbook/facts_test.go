// SPDX-License-Identifier: Apache-2.0

package handbook_test

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/pelletier/go-toml/v2"

	"boardhand/internal/assess"
	"boardhand/internal/rig"
)

// found is a number of the manual's text:
//
//	rig KEY                 what the commented rig file says
//	check ID value|limit    of that rig's line in assess
//	tuned PACKAGE.NAME UNIT a number that was set by hand, in s, ms, mm, %, or without a unit
func found(t *testing.T, name string) string {
	t.Helper()
	words := strings.Fields(name)
	switch {
	case len(words) == 2 && words[0] == "rig":
		return written(t, words[1])
	case len(words) == 3 && words[0] == "check":
		return checked(t, words[1], words[2])
	case len(words) == 3 && words[0] == "tuned":
		dot := strings.LastIndex(words[1], ".")
		return measure(t, tuned(t, words[1][:dot], words[1][dot+1:]), words[2])
	case len(words) == 2 && words[0] == "tuned":
		dot := strings.LastIndex(words[1], ".")
		return measure(t, tuned(t, words[1][:dot], words[1][dot+1:]), "")
	}
	t.Fatalf("no number is called %q", name)
	return ""
}

func written(t *testing.T, key string) string {
	t.Helper()
	var file any
	if err := toml.Unmarshal([]byte(rig.DefaultText), &file); err != nil {
		t.Fatal(err)
	}
	for part := range strings.SplitSeq(key, ".") {
		file = file.(map[string]any)[part]
	}
	return fmt.Sprint(file)
}

func checked(t *testing.T, id, which string) string {
	t.Helper()
	for _, c := range assess.Judge(rig.Default()) {
		if c.ID == id {
			v := map[string]float64{"value": c.Value, "limit": c.Limit}[which]
			return strconv.FormatFloat(v, 'g', 3, 64) + " " + c.Unit
		}
	}
	t.Fatalf("assess has no line %q", id)
	return ""
}

// measure prints a number in SI in a unit.
func measure(t *testing.T, v float64, in string) string {
	t.Helper()
	scale, ok := map[string]float64{"": 1, "s": 1, "ms": 1e3, "mm": 1e3, "%": 100}[in]
	if !ok {
		t.Fatalf("no unit %q", in)
	}
	return strings.TrimSpace(strconv.FormatFloat(v*scale, 'g', 6, 64) + " " + in)
}

// tuned is the value of a constant of a package under internal/, in SI.
func tuned(t *testing.T, pkg, name string) float64 {
	t.Helper()
	files, _ := filepath.Glob(filepath.Join("..", pkg, "*.go"))
	for _, path := range files {
		file, err := parser.ParseFile(token.NewFileSet(), path, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		for _, d := range file.Decls {
			if g, ok := d.(*ast.GenDecl); ok && g.Tok == token.CONST {
				for _, s := range g.Specs {
					v := s.(*ast.ValueSpec)
					for i, n := range v.Names {
						if n.Name == name && i < len(v.Values) {
							return value(t, pkg, v.Values[i])
						}
					}
				}
			}
		}
	}
	t.Fatalf("%s has no constant %s", pkg, name)
	return 0
}

func value(t *testing.T, pkg string, e ast.Expr) float64 {
	t.Helper()
	switch e := e.(type) {
	case *ast.BasicLit:
		v, err := strconv.ParseFloat(strings.ReplaceAll(e.Value, "_", ""), 64)
		return must(t, v, err)
	case *ast.Ident:
		return tuned(t, pkg, e.Name)
	case *ast.SelectorExpr:
		if v := map[string]float64{"Second": 1, "Millisecond": 1e-3, "Minute": 60}[e.Sel.Name]; v != 0 {
			return v
		}
	case *ast.BinaryExpr:
		a, b := value(t, pkg, e.X), value(t, pkg, e.Y)
		if v, ok := map[token.Token]float64{token.MUL: a * b, token.QUO: a / b, token.ADD: a + b, token.SUB: a - b}[e.Op]; ok {
			return v
		}
	}
	t.Fatalf("%s: a constant that this cannot work out: %T", pkg, e)
	return 0
}
