// SPDX-License-Identifier: Apache-2.0

package sheets

import (
	"encoding/xml"
	"errors"
	"io"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// tool is a program of another project that reads our files; where it is not installed the test
// is left out, but for CI, which installs it.
func tool(t *testing.T, name string, args ...string) {
	t.Helper()
	if exec.Command(name, args...).Run() == nil {
		return
	}
	if os.Getenv("CI") != "" {
		t.Fatalf("%s is not installed", name)
	}
	t.Skipf("%s is not installed: apt-get install poppler-utils python3-ezdxf", name)
}

// written files of one rig, in a folder.
func filesOf(t *testing.T, name string) string {
	t.Helper()
	o := orderOf(machines(t)[name], Papers[0])
	all, err := Draw(o)
	if err != nil {
		t.Fatal(err)
	}
	files, err := Files(o, all)
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	for _, f := range files {
		if err := os.WriteFile(filepath.Join(dir, f.Name), f.Data, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	return dir
}

// pathOf is the straight lines of an SVG that pdftocairo wrote, mm: M and L of its paths with
// their matrices, which for our pages are no more than scale and shift.
var (
	pathOf   = regexp.MustCompile(`<path[^>]* d="([^"]*)"(?: transform="matrix\(([^)]*)\)")?`)
	numberOf = regexp.MustCompile(`-?[0-9.]+`)
)

func cairoLines(t *testing.T, svg string) (out [][4]float64) {
	t.Helper()
	const point = 25.4 / 72
	for _, m := range pathOf.FindAllStringSubmatch(svg, -1) {
		matrix := [6]float64{1, 0, 0, 1, 0, 0}
		for k, n := range numberOf.FindAllString(m[2], 6) {
			matrix[k], _ = strconv.ParseFloat(n, 64)
		}
		var last [2]float64
		fields := strings.Fields(m[1])
		for k := 0; k+2 < len(fields); k++ {
			cmd := fields[k]
			if cmd != "M" && cmd != "L" {
				continue
			}
			x, _ := strconv.ParseFloat(fields[k+1], 64)
			y, _ := strconv.ParseFloat(fields[k+2], 64)
			p := [2]float64{(matrix[0]*x + matrix[2]*y + matrix[4]) * point, (matrix[1]*x + matrix[3]*y + matrix[5]) * point}
			if cmd == "L" {
				out = append(out, [4]float64{last[0], last[1], p[0], p[1]})
			}
			last = p
		}
	}
	return out
}

// The printed page, read by poppler: the ruler is 100 mm, the squares are as large as the rig has
// them, to 0.05 mm.
func TestPDFIsTrueToScale(t *testing.T) {
	tool(t, "pdftocairo", "-v")
	dir := filesOf(t, "default")
	svg := filepath.Join(dir, "read.svg")
	if said, err := exec.Command("pdftocairo", "-svg", "-noshrink", "-f", "1", "-l", "1", filepath.Join(dir, "board.pdf"), svg).CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, said)
	}
	text, err := os.ReadFile(svg)
	if err != nil {
		t.Fatal(err)
	}
	ruler, ticks := 0.0, map[float64]bool{}
	for _, l := range cairoLines(t, string(text)) {
		if l[1] == l[3] && math.Abs(math.Abs(l[2]-l[0])-100) < 1 {
			ruler = math.Abs(l[2] - l[0])
		}
		if l[0] == l[2] && math.Abs(l[3]-l[1]) > 200 { // the field's lines between files
			ticks[math.Round(l[0]*100)/100] = true
		}
	}
	if math.Abs(ruler-100) > 0.05 {
		t.Errorf("the ruler is %.3f mm long, want 100.00", ruler)
	}
	n := 0
	for a := range ticks {
		for b := range ticks {
			if d := b - a; math.Abs(d-40) < 1 {
				n++
				if math.Abs(d-40) > 0.05 {
					t.Errorf("two lines of the field are %.3f mm apart, want 40", d)
				}
			}
		}
	}
	if n < 3 {
		t.Errorf("only %d pairs of the field's lines were found on the first tile", n)
	}
}

// The picture of the whole board, read as XML: squares to 0.05 mm, and as many as the rig has.
func TestSVGIsTrueToScale(t *testing.T) {
	f, err := os.Open(filepath.Join(filesOf(t, "club"), "board.svg"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close() //nolint:errcheck // read only
	xs := map[float64]bool{}
	for dec := xml.NewDecoder(f); ; {
		tok, err := dec.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			t.Fatal(err)
		}
		e, ok := tok.(xml.StartElement)
		if !ok || e.Name.Local != "polyline" {
			continue
		}
		for _, a := range e.Attr {
			n := numberOf.FindAllString(a.Value, -1)
			if a.Name.Local == "points" && len(n) == 4 && n[0] == n[2] {
				y0, _ := strconv.ParseFloat(n[1], 64)
				y1, _ := strconv.ParseFloat(n[3], 64)
				if math.Abs(math.Abs(y1-y0)-400) < 0.05 {
					x, _ := strconv.ParseFloat(n[0], 64)
					xs[x] = true
				}
			}
		}
	}
	if len(xs) != 9 {
		t.Fatalf("%d lines between files, want 9", len(xs))
	}
	first := math.Inf(1)
	for x := range xs {
		first = min(first, x)
	}
	for k := range 9 {
		near := false
		for x := range xs {
			near = near || math.Abs(x-first-50*float64(k)) < 0.05
		}
		if !near {
			t.Errorf("no line %d mm from the first", 50*k)
		}
	}
}

// readDXF prints what ezdxf, a reader of another project, finds in a file: the entities by layer
// and the box around those that are cut; a trapdoor is a circle.
const readDXF = `
import sys, ezdxf
d = ezdxf.readfile(sys.argv[1])
assert not d.audit().errors
n, xs, ys = {}, [], []
for e in d.modelspace():
    key = e.dxf.layer + " " + e.dxftype()
    n[key] = n.get(key, 0) + 1
    if e.dxf.layer == "CUT" and e.dxftype() == "LINE":
        xs += [e.dxf.start.x, e.dxf.end.x]; ys += [e.dxf.start.y, e.dxf.end.y]
print(max(xs) - min(xs), max(ys) - min(ys), n["CUT LINE"], n.get("CUT CIRCLE", 0), n["MARK LINE"] > 17)
`

func TestDXFIsReadByAnother(t *testing.T) {
	tool(t, "/usr/bin/python3", "-c", "import ezdxf")
	for file, want := range map[string]string{"default/board": "344 344 4 0 True", "chute/board": "440 440 4 1 True",
		"example club/underside": "584 584 4 8 True", "example pocket/plate": "32 36 4 5 False"} {
		name, sheet, _ := strings.Cut(file, "/")
		said, err := exec.Command("/usr/bin/python3", "-c", readDXF, filepath.Join(filesOf(t, name), sheet+".dxf")).CombinedOutput()
		if err != nil {
			t.Fatalf("%s: %v: %s", name, err, said)
		}
		got := strings.Fields(string(said))
		for k, w := range strings.Fields(want) {
			g, errG := strconv.ParseFloat(got[k], 64)
			v, errW := strconv.ParseFloat(w, 64)
			if errG != nil || errW != nil {
				if got[k] != w {
					t.Errorf("%s: read %s, want %s", name, got, want)
				}
			} else if math.Abs(g-v) > 0.001 {
				t.Errorf("%s: read %s, want %s", name, got, want)
			}
		}
	}
}
