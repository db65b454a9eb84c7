// SPDX-License-Identifier: Apache-2.0

package tidy

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

const module = "boardhand/internal/"

// nodeOf is the path under internal/ of the package that a file here is in.
func nodeOf(path string) string {
	return strings.TrimPrefix(filepath.ToSlash(filepath.Dir(path)), "../")
}

// imports lists, for each package under internal/, the packages of ours that
// its non-test files import, with one file that does so.
func imports(t *testing.T) map[string]map[string]string {
	t.Helper()
	out := map[string]map[string]string{}
	for _, path := range ourFiles(t) {
		file, err := parser.ParseFile(token.NewFileSet(), path, nil, parser.ImportsOnly)
		if err != nil {
			t.Fatal(err)
		}
		from := nodeOf(path)
		if out[from] == nil {
			out[from] = map[string]string{}
		}
		for _, i := range file.Imports {
			p, _ := strconv.Unquote(i.Path.Value)
			if to, ok := strings.CutPrefix(p, module); ok {
				out[from][to] = path
			}
		}
	}
	return out
}

// ourFiles are the Go files under internal/ that are no tests.
func ourFiles(t *testing.T) []string {
	t.Helper()
	var out []string
	err := filepath.WalkDir("..", func(path string, d os.DirEntry, err error) error {
		if err == nil && !d.IsDir() && strings.HasSuffix(path, ".go") && !strings.HasSuffix(path, "_test.go") {
			out = append(out, path)
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return out
}

func layerOf(pkg string) int {
	for i, l := range layers {
		for _, p := range l {
			if p == pkg {
				return i
			}
		}
	}
	return -1
}

// wrongArrow says what is wrong with an import, or "".
func wrongArrow(from, to string) string {
	a, b := layerOf(from), layerOf(to)
	switch {
	case from == to:
		return ""
	case slices.Contains(testOnly, to):
		return fmt.Sprintf("%s imports %s: only tests may", from, to)
	case a < 0:
		return from + " is in no layer; put it in tidy/arrows.go"
	case b < 0:
		return to + " is in no layer; put it in tidy/arrows.go"
	case b > a:
		return fmt.Sprintf("%s imports %s: an arrow against the layers", from, to)
	case b == a && sideways[from+" -> "+to] == "":
		return fmt.Sprintf("%s imports %s: a sideways arrow without a reason in tidy/arrows.go", from, to)
	}
	return ""
}

func TestArrows(t *testing.T) {
	packages := imports(t)
	used := map[string]bool{}
	for from, tos := range packages {
		if slices.Contains(testOnly, from) {
			continue
		}
		if layerOf(from) < 0 {
			t.Errorf("%s is in no layer; put it in tidy/arrows.go", from)
		}
		for to, file := range tos {
			used[from+" -> "+to] = true
			if w := wrongArrow(from, to); w != "" {
				t.Errorf("%s: %s", file, w)
			}
		}
	}
	if len(used) == 0 {
		t.Fatal("no arrows found: the test looks in the wrong place")
	}
	for arrow, reason := range forbidden {
		from, to, _ := strings.Cut(arrow, " -> ")
		if way := wayTo(packages, from, to, nil); way != nil {
			t.Errorf("%s: %s", strings.Join(way, " imports "), reason)
		}
	}
	for _, u := range unusedRules(packages, used) {
		t.Error(u)
	}
}

// wayTo is a chain of imports from one package to another, nil when there is
// none; seen are those already looked at.
func wayTo(packages map[string]map[string]string, from, to string, seen map[string]bool) []string {
	if from == to {
		return []string{to}
	}
	if seen == nil {
		seen = map[string]bool{}
	}
	seen[from] = true
	for next := range packages[from] {
		if seen[next] {
			continue
		}
		if way := wayTo(packages, next, to, seen); way != nil {
			return append([]string{from}, way...)
		}
	}
	return nil
}

// unusedRules says which rules of arrows.go hold for nothing that is there.
func unusedRules(packages map[string]map[string]string, used map[string]bool) []string {
	var out []string
	for _, p := range append(slices.Concat(layers...), testOnly...) {
		if packages[p] == nil {
			out = append(out, fmt.Sprintf("tidy/arrows.go lists %s, which is not there", p))
		}
	}
	for arrow := range forbidden {
		if from, to, _ := strings.Cut(arrow, " -> "); packages[from] == nil || packages[to] == nil {
			out = append(out, fmt.Sprintf("tidy/arrows.go forbids %s, one of which is not there", arrow))
		}
	}
	for arrow, reason := range sideways {
		from, to, _ := strings.Cut(arrow, " -> ")
		switch {
		case !used[arrow]:
			out = append(out, fmt.Sprintf("tidy/arrows.go allows %s, which nothing uses", arrow))
		case layerOf(from) != layerOf(to) || reason == "":
			out = append(out, fmt.Sprintf("tidy/arrows.go: %s is no sideways arrow with a reason", arrow))
		}
	}
	return out
}

// The rule itself must bite.
func TestArrowsRule(t *testing.T) {
	for _, c := range []struct {
		from, to string
		ok       bool
	}{
		{"sight", "frame", true}, {"sight", "rig", true}, {"table", "sight", true},
		{"frame", "sight", false}, {"twin", "table", false}, {"lanes", "rig", false}, {"lanes", "sight", false}, {"nowhere", "unit", false}, {"carry", "golden", false},
		{"carry", "carry/validate", true}, {"carry/validate", "carry", false}, {"carry/validate", "carry/trajectory", false},
		{"sight/classify", "sight/heads", true}, {"sight/heads", "sight", false}, {"uci", "uci/fake", false}, {"sight/nowhere", "unit", false},
	} {
		if got := wrongArrow(c.from, c.to) == ""; got != c.ok {
			t.Errorf("%s -> %s allowed: %v, want %v", c.from, c.to, got, c.ok)
		}
	}
}

// A forbidden package is found behind others too.
func TestForbiddenIsFoundBehindOthers(t *testing.T) {
	packages := map[string]map[string]string{"a": {"b": "", "c": ""}, "b": {"a": ""}, "c": {"d": ""}}
	if got := wayTo(packages, "a", "d", nil); !slices.Equal(got, []string{"a", "c", "d"}) {
		t.Errorf("got %q", got)
	}
	if got := wayTo(packages, "d", "a", nil); got != nil {
		t.Errorf("against the arrows: %q", got)
	}
}

// A rule that nothing uses is found.
func TestUnusedRulesAreFound(t *testing.T) {
	packages, used := map[string]map[string]string{}, map[string]bool{}
	for _, p := range append(slices.Concat(layers...), testOnly...) {
		packages[p] = map[string]string{}
	}
	for arrow := range sideways {
		used[arrow] = true
	}
	if got := unusedRules(packages, used); got != nil {
		t.Errorf("all used, yet %q", got)
	}
	delete(packages, "frame")
	delete(used, "carry -> lanes")
	if got := unusedRules(packages, used); len(got) != 2 {
		t.Errorf("got %q, want two unused rules", got)
	}
}

// idlePackages are what arithmetic has no use for.
var idlePackages = []string{"os", "net", "net/http", "io/fs", "os/exec", "database/sql", "log", "sync", "sync/atomic"}

// hidden are the functions of a package that bring in time or chance from outside.
var hidden = map[string]func(name string) bool{
	"time": func(name string) bool {
		return slices.Contains([]string{"Now", "Since", "Until", "Sleep", "After", "AfterFunc", "Tick", "NewTimer", "NewTicker"}, name)
	},
	"math/rand/v2": isCommonChance,
	"math/rand":    isCommonChance,
	"crypto/rand":  func(string) bool { return true },
}

// isCommonChance says whether a name of a package of chance is of the one source that all
// share: all but types and what makes a source of its own.
func isCommonChance(name string) bool {
	return !strings.HasPrefix(name, "New") && !slices.Contains([]string{"Rand", "Source", "PCG", "ChaCha8", "Zipf"}, name)
}

// The formulas are arithmetic: no files, no clock, no network, no goroutines.
func TestFormulasAreArithmetic(t *testing.T) {
	for _, pkg := range slices.Concat(layers[0], layers[1]) {
		files, _ := filepath.Glob("../" + pkg + "/*.go")
		for _, path := range files {
			if strings.HasSuffix(path, "_test.go") {
				continue
			}
			file, err := parser.ParseFile(token.NewFileSet(), path, nil, 0)
			if err != nil {
				t.Fatal(err)
			}
			for _, what := range beyondArithmetic(file) {
				t.Errorf("%s %s: formulas do no input or output; time and chance come in as arguments", path, what)
			}
		}
	}
}

// beyondArithmetic is what a file does that is none.
func beyondArithmetic(file *ast.File) (out []string) {
	paths := map[string]string{} // of the packages that it imports, by the name there
	for _, i := range file.Imports {
		p, _ := strconv.Unquote(i.Path.Value)
		name := strings.TrimSuffix(p, "/v2")
		name = name[strings.LastIndex(name, "/")+1:]
		if i.Name != nil {
			name = i.Name.Name
		}
		if paths[name] = p; slices.Contains(idlePackages, p) {
			out = append(out, "imports "+p)
		}
	}
	ast.Inspect(file, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.GoStmt:
			out = append(out, "starts a goroutine")
		case *ast.SelectorExpr:
			if x, ok := n.X.(*ast.Ident); ok && hidden[paths[x.Name]] != nil && hidden[paths[x.Name]](n.Sel.Name) {
				out = append(out, "uses "+x.Name+"."+n.Sel.Name)
			}
		}
		return true
	})
	return out
}

// The rule itself must bite, and on nothing else.
func TestArithmeticRule(t *testing.T) {
	for text, want := range map[string]string{
		"import \"os\"":                                                        "imports os",
		"import \"sync\"":                                                      "imports sync",
		"func f() { go g() }":                                                  "starts a goroutine",
		"func f() { go func() {}() }":                                          "starts a goroutine",
		"import \"time\"; var t = time.Since(t0)":                              "uses time.Since",
		"import \"math/rand/v2\"; var x = rand.IntN(3)":                        "uses rand.IntN",
		"import dice \"math/rand/v2\"; var x = dice.Float64()":                 "uses dice.Float64",
		"import \"math/rand/v2\"; func f(r *rand.Rand) int { return r.Int() }": "",
		"import \"math/rand/v2\"; var r = rand.New(rand.NewPCG(1, 2))":         "",
		"import \"time\"; func f(d time.Duration) time.Time { return t }":      "",
	} {
		file, err := parser.ParseFile(token.NewFileSet(), "x.go", "package x; "+text, 0)
		if err != nil {
			t.Fatal(err)
		}
		if got := strings.Join(beyondArithmetic(file), ", "); got != want {
			t.Errorf("%s: %q, want %q", text, got, want)
		}
	}
}

// The session must not see the twin's truth: only a rehearsal, which counts what
// went wrong, may ask for it.
func TestTruthStaysWithRehearsal(t *testing.T) {
	for _, f := range ourFiles(t) {
		family, _, _ := strings.Cut(nodeOf(f), "/")
		if family == "twin" || family == "tidy" || family == "rehearsal" {
			continue
		}
		src, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		if strings.Contains(string(src), ".Truth()") {
			t.Errorf("%s asks the twin for its truth; only rehearsal may", f)
		}
	}
}
