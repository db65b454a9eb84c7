// SPDX-License-Identifier: Apache-2.0

package handbook_test

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"math"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"syscall"
	"testing"

	"github.com/pelletier/go-toml/v2"

	"boardhand/internal/assess"
	"boardhand/internal/rig"
)

// found is what a mark names: a number of the manual's text:
//
//	rig KEY                 what the commented rig file says
//	check ID value|limit    of that rig's line in assess
//	tuned PACKAGE.NAME UNIT a number that was set by hand, in s, ms, mm, %, ° or without a unit;
//	                        a bound that a test holds too; acos: the angle of a cosine
//	ended SIGNAL            the exit code of what a signal ended, by a shell's custom
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
	if code, ok := map[string]string{"ended INT": fmt.Sprint(128 + int(syscall.SIGINT)), "ended TERM": fmt.Sprint(128 + int(syscall.SIGTERM))}[name]; ok {
		return code
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
	switch in {
	case "acos":
		return fmt.Sprintf("%.0f°", math.Acos(v)*180/math.Pi)
	case "°":
		return strconv.FormatFloat(v*180/math.Pi, 'g', 4, 64) + "°"
	}
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
			if g, ok := d.(*ast.GenDecl); ok && (g.Tok == token.CONST || g.Tok == token.VAR) {
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
	case *ast.CallExpr: // unit.Length(…), of an SI number, or unit.MM(…)
		if len(e.Args) == 1 {
			if f, ok := e.Fun.(*ast.SelectorExpr); ok && f.Sel.Name == "MM" {
				return value(t, pkg, e.Args[0]) / 1e3
			}
			return value(t, pkg, e.Args[0])
		}
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

// advised are numbers that no code has: what a person is told to do, what others published,
// names with a number in them.
var advised = []string{
	"1:1", "100 %", "F9", "200 mm", "12 to 24 V DC", "version 1.1", "10 to 15 percent", "must be 0", "to depth 5", "less than 10 %", "15 %", "0.30, sliding 75 %", "99 of 100 builds", "19 of 20",
	"by 20 to 40 degrees", "10–90 %", "0–1", "(0, 0)", "rank 1 to 8", "rank 1 up", "(bit 0)", "error 33", "Debian 12 with slurm-wlm 22.05",
	"SOR/2011-17", "Schedule 10", "Annex 7", "ISO 53/54", "Phys. 78", "SoftwareX 11", "8 mm and 9.6 mm are from hobby sources", "127.0.0.1:8640",
}

// What the guides say in numbers comes from the code, or is in the list above.
func TestNumbersAreMarked(t *testing.T) {
	for _, name := range []string{"first-evening", "first-week", "first-month", "first-guest", "reading", "carrying", "computed", "adding", "troubleshooting",
		"manual", "controllers", "glossary", "scale-out"} {
		text := read(t, filepath.Join(docs, name+".md"))
		for _, without := range []string{"(?ms)^```.*?^```$", `(?s)<!-- made.*?<!-- end -->`, `<!--= .*?<!--/-->`, "`[^`]*`", `\]\([^)]*\)`, `(?m)^\d+\. `} {
			text = regexp.MustCompile(without).ReplaceAllString(text, "")
		}
		for _, a := range advised {
			text = strings.ReplaceAll(text, a, "")
		}
		text = regexp.MustCompile(`\b[a-h][1-8]\b|\b[LR]1\b`).ReplaceAllString(text, "") // squares and slots
		text = regexp.MustCompile(`\b(19|20)\d\d\b`).ReplaceAllString(text, "")
		for line := range strings.Lines(text) {
			if strings.ContainsAny(line, "0123456789") {
				t.Errorf("%s.md: no code says the number in %q: mark it <!--= …-->", name, line)
			}
		}
	}
}
