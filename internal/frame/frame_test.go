// SPDX-License-Identifier: Apache-2.0

package frame

import (
	"go/ast"
	"go/importer"
	"go/parser"
	"go/token"
	"go/types"
	"math"
	"math/rand/v2"
	"strings"
	"testing"
)

// What checks what: the rotation matrix of a vector against a published
// matrix; vector and matrix against each other; Inverse against Apply;
// Compose against two Applies; and the frames against the type checker.

// exact is the rounding of a few dozen float64 operations on numbers near 1.
const exact = 1e-12

// OpenCV's sample view 1: rotation vector and the matrix of cv2.Rodrigues
// (OpenCV 4.6.0), printed to eight digits.
func TestFromVectorPublished(t *testing.T) {
	r := FromVector([3]float64{0.16866673, 0.27567195, 0.01346367})
	want := Rotation{
		{0.96224278, 0.00981623, 0.27201559},
		{0.03627647, 0.98580950, -0.16390131},
		{-0.26976445, 0.16758061, 0.94823198},
	}
	for i := range 3 {
		for j := range 3 {
			if math.Abs(r[i][j]-want[i][j]) > 1e-8 { // the printed digits
				t.Errorf("R[%d][%d] = %.9f, want %.8f", i, j, r[i][j], want[i][j])
			}
		}
	}
}

func TestVectorRoundTrip(t *testing.T) {
	const seed = 7
	rng := rand.New(rand.NewPCG(seed, 0))
	angles := []float64{0, 1e-9, 1e-5, 1e-3, 1, 3, math.Pi - 1e-5, math.Pi - 1e-9}
	for _, th := range angles {
		for range 50 {
			v := [3]float64{rng.NormFloat64(), rng.NormFloat64(), rng.NormFloat64()}
			n := math.Sqrt(v[0]*v[0] + v[1]*v[1] + v[2]*v[2])
			for i := range v {
				v[i] *= th / n
			}
			w, err := FromVector(v).Vector()
			if err != nil {
				t.Fatalf("seed %d angle %g: %v", seed, th, err)
			}
			back := FromVector(w)
			for i := range 3 {
				for j := range 3 {
					// near π the axis comes from a square root: half the digits
					if d := math.Abs(back[i][j] - FromVector(v)[i][j]); d > 1e-7 {
						t.Fatalf("seed %d angle %g: off by %g", seed, th, d)
					}
				}
			}
		}
	}
	if _, err := (Rotation{{2}}).Vector(); err != ErrNotRotation {
		t.Errorf("a stretched matrix gave %v", err)
	}
}

func TestComposeAndInverse(t *testing.T) {
	cameraFromBoard := Pose[Camera, Board]{FromVector([3]float64{3, 0.1, -0.2}), Point[Camera]{0.1, 0.2, 0.6}}
	boardFromMachine := Pose[Board, Machine]{FromVector([3]float64{0, 0, 0.02}), Point[Board]{-0.15, -0.15, 0}}
	m := Point[Machine]{0.1, 0.07, 0.01}
	one := Compose(cameraFromBoard, boardFromMachine).Apply(m)
	two := cameraFromBoard.Apply(boardFromMachine.Apply(m))
	if one.Sub(two).Norm() > exact {
		t.Errorf("composed %v, in two steps %v", one, two)
	}
	back := boardFromMachine.Inverse().Apply(boardFromMachine.Apply(m))
	if back.Sub(m).Norm() > exact {
		t.Errorf("there and back: %v, want %v", back, m)
	}
}

// Mixing frames must not compile: the type checker says so.
func TestMixedFramesDoNotCompile(t *testing.T) {
	const good = `package p
import . "boardhand/internal/frame"
func f(c Pose[Camera, Board], b Pose[Board, Machine], m Point[Machine]) Point[Camera] {
	return Compose(c, b).Apply(m)
}`
	if err := check(t, good); err != nil {
		t.Fatalf("the right program does not compile: %v", err)
	}
	for name, wrong := range map[string]string{
		"composing in the wrong order": strings.Replace(good, "Compose(c, b)", "Compose(b, c)", 1),
		"a machine point on the board": strings.Replace(good, "Compose(c, b).Apply(m)", "c.Apply(m)", 1),
		"adding points of two frames": `package p
import . "boardhand/internal/frame"
func f(a Point[Board], b Point[Machine]) Point[Board] { return a.Add(b) }`,
		"a pixel as a place on the board": `package p
import . "boardhand/internal/frame"
func f(a Spot[Image]) Spot[Board] { return a }`,
	} {
		if check(t, wrong) == nil {
			t.Errorf("%s compiles", name)
		}
	}
}

func check(t *testing.T, src string) error {
	t.Helper()
	fset := token.NewFileSet()
	file, err := parser.ParseFile(fset, "p.go", src, 0)
	if err != nil {
		t.Fatal(err)
	}
	conf := types.Config{Importer: importer.ForCompiler(fset, "source", nil)}
	_, err = conf.Check("p", fset, []*ast.File{file}, nil)
	return err
}
