package tidy

import (
	"fmt"
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

const module = "boardhand/internal/"

// imports lists, for each package under internal/, the packages of ours that
// its non-test files import, with one file that does so.
func imports(t *testing.T) map[string]map[string]string {
	t.Helper()
	out := map[string]map[string]string{}
	err := filepath.WalkDir("..", func(path string, d os.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
			return err
		}
		file, err := parser.ParseFile(token.NewFileSet(), path, nil, parser.ImportsOnly)
		if err != nil {
			return err
		}
		from := strings.Split(filepath.ToSlash(path), "/")[1]
		if out[from] == nil {
			out[from] = map[string]string{}
		}
		for _, i := range file.Imports {
			p, _ := strconv.Unquote(i.Path.Value)
			if rest, ok := strings.CutPrefix(p, module); ok {
				out[from][strings.Split(rest, "/")[0]] = path
			}
		}
		return nil
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
	seen := map[string]bool{}
	for from, tos := range imports(t) {
		if from == "tidy" {
			continue
		}
		for to, file := range tos {
			seen[from+" -> "+to] = true
			if w := wrongArrow(from, to); w != "" {
				t.Errorf("%s: %s", file, w)
			}
		}
	}
	if len(seen) == 0 {
		t.Fatal("no arrows found: the test looks in the wrong place")
	}
}

// The rule itself must bite.
func TestArrowsRule(t *testing.T) {
	for _, c := range []struct {
		from, to string
		ok       bool
	}{
		{"sight", "frame", true}, {"sight", "rig", true}, {"table", "sight", true},
		{"frame", "sight", false}, {"twin", "table", false}, {"lanes", "sight", false}, {"nowhere", "unit", false}, {"carry", "golden", false},
	} {
		if got := wrongArrow(c.from, c.to) == ""; got != c.ok {
			t.Errorf("%s -> %s allowed: %v, want %v", c.from, c.to, got, c.ok)
		}
	}
}

// ioPackages are what arithmetic has no use for.
var ioPackages = []string{"os", "net", "net/http", "io/fs", "os/exec", "database/sql", "log"}

// The formulas are arithmetic: no files, no clock, no network, no goroutines.
func TestFormulasAreArithmetic(t *testing.T) {
	for _, pkg := range append(append([]string{}, layers[0]...), layers[1]...) {
		files, _ := filepath.Glob("../" + pkg + "/*.go")
		for _, f := range files {
			if !strings.HasSuffix(f, "_test.go") {
				checkArithmetic(t, f)
			}
		}
	}
}

func checkArithmetic(t *testing.T, path string) {
	t.Helper()
	src, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	file, err := parser.ParseFile(token.NewFileSet(), path, src, 0)
	if err != nil {
		t.Fatal(err)
	}
	for _, i := range file.Imports {
		p, _ := strconv.Unquote(i.Path.Value)
		for _, bad := range ioPackages {
			if p == bad {
				t.Errorf("%s imports %s: formulas do no input or output", path, p)
			}
		}
	}
	for _, bad := range []string{"time.Now(", "\tgo func", "rand.Int(", "rand.Float64()"} {
		if strings.Contains(string(src), bad) && !strings.Contains(string(src), "rng."+strings.TrimPrefix(bad, "rand.")) {
			t.Errorf("%s uses %s: time and chance come in as arguments", path, strings.TrimSpace(bad))
		}
	}
}

// The session must not see the twin's truth: only the wiring may touch it, and
// in the wiring only the files that count a rehearsal's faults.
func TestTruthStaysWithRehearsal(t *testing.T) {
	files, _ := filepath.Glob("../*/*.go")
	for _, f := range files {
		dir := filepath.Base(filepath.Dir(f))
		if dir == "twin" || strings.HasSuffix(f, "_test.go") || strings.HasPrefix(filepath.Base(f), "rehearse") || dir == "tidy" {
			continue
		}
		src, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		if strings.Contains(string(src), ".Truth()") {
			t.Errorf("%s asks the twin for its truth; only rehearse may", f)
		}
	}
}
