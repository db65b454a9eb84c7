// SPDX-License-Identifier: Apache-2.0

package silhouette

import (
	"math"
	"slices"
	"testing"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/game"
	"boardhand/internal/optics"
	"boardhand/internal/sight/pixels"
)

// tableView is a lens with distortion over a small board, a little tilted.
func tableView(t *testing.T) optics.View {
	t.Helper()
	v, err := optics.Nominal([2]int{1280, 720}, 1.08, 0.6, "bottom")
	if err != nil {
		t.Fatal(err)
	}
	v.Lens.K1, v.Lens.K2 = -0.2, 0.03
	tilt := frame.Pose[frame.Camera, frame.Camera]{R: frame.FromVector([3]float64{0.03, -0.02, 0.05}),
		T: frame.Point[frame.Camera]{X: 0.004, Y: -0.003}}
	v.CameraFromBoard = frame.Compose(tilt, v.CameraFromBoard)
	return v
}

// tablePieces are pieces of six heights, metres.
func tablePieces() (out game.ByKind[Shape]) {
	for k := chess.Pawn; k <= chess.King; k++ {
		out[k] = Shape{Height: 0.026 + 0.005*float64(k), Base: 0.015}
	}
	return out
}

// Pieces of other measures have other outlines, in whatever build: what was cut before for
// others is not taken for them.
func TestRedressedInOtherMeasures(t *testing.T) {
	v, pieces := tableView(t), tablePieces()
	g := pixels.NewPlane(v, [2]int{1280, 720}, pixels.Reduction(v), 0.216)
	at, build := frame.Spot[frame.Board]{X: 0.1, Y: 0.06}, Uniform(Build{1, 1})
	before := NewOutlines(pieces, g.Camera.Z, build).Redressed(pieces, g.Camera.Z, build)
	first, _ := before.Cover(g, chess.King, at)
	wide := pieces
	wide[chess.King].Base *= 2
	after, _ := before.Redressed(wide, g.Camera.Z, build).Cover(g, chess.King, at)
	fresh, _ := NewOutlines(wide, g.Camera.Z, build).Cover(g, chess.King, at)
	if !slices.Equal(after, fresh) || len(after) < 2*len(first) {
		t.Errorf("a king twice as wide covers %d pixels, cut afresh %d, as it was %d", len(after), len(fresh), len(first))
	}
}

// TestOutlineAgainstProjectedRings: the pixels a piece covers by the outline are
// those inside some ring of its profile projected point by point through the
// lens: another way to the same outline.
func TestOutlineAgainstProjectedRings(t *testing.T) {
	v, pieces := tableView(t), tablePieces()
	g := pixels.NewPlane(v, [2]int{1280, 720}, pixels.Reduction(v), 0.216)
	sh := NewOutlines(pieces, g.Camera.Z, Uniform(Build{1, 1}))
	for _, k := range []chess.Kind{chess.Pawn, chess.Rook, chess.King} {
		for _, at := range []frame.Spot[frame.Board]{{X: 0.003, Y: -0.002}, {X: 0.1, Y: 0.06}, {X: -0.14, Y: 0.14}} {
			covers, _ := sh.Cover(g, k, at)
			all := rings(g, sh, k, at)
			covered := map[int32]float32{}
			for _, c := range covers {
				covered[c.Pixel] = c.Alpha
			}
			wrong, area := 0, 0
			for y := range g.H {
				for x := range g.W {
					in := insideRings(&all, float64(x), float64(y))
					a := covered[int32(y*g.W+x)]
					if in > 0.6 {
						area++
					}
					if in > 0.6 && a < 0.5 || in < -0.6 && a > 0.5 {
						wrong++
					}
				}
			}
			if area < 50 || wrong > area/50 {
				t.Errorf("%s at %v: %d of %d pixels differ from the projected rings", k, at, wrong, area)
			}
		}
	}
}

// projectedRing is one circle of a piece's profile, projected onto the image.
type projectedRing struct {
	cx, cy float64
	points [48][2]float64
}

// rings projects the profile of a piece, point by point.
func rings(g *pixels.Plane, sh *Outlines, k chess.Kind, at frame.Spot[frame.Board]) (out [101]projectedRing) {
	for i := range out {
		z := float64(i) / 100
		h, r, o := z*sh.Pieces[k].Height, sh.Radius(k, z), &out[i]
		o.cx, o.cy, _ = g.Project(at.At(h))
		for j := range o.points {
			a := 2 * math.Pi * float64(j) / float64(len(o.points))
			x, y, _ := g.Project(frame.Point[frame.Board]{X: at.X + r*math.Cos(a), Y: at.Y + r*math.Sin(a), Z: h})
			o.points[j] = [2]float64{x, y}
		}
	}
	return out
}

// insideRings is how far a pixel lies inside the projected rings, in
// pixels; negative outside. The rings are taken as circles around their
// projected centres with the local scale: exact to a few per cent this near
// the axis.
func insideRings(all *[101]projectedRing, x, y float64) float64 {
	best := math.Inf(-1)
	for i := range all {
		o := &all[i]
		far := math.Hypot(x-o.cx, y-o.cy)
		if far > 40 {
			continue
		}
		dy, dx := math.Sincos(math.Atan2(x-o.cx, y-o.cy))
		// the ring's point nearest to the pixel's direction, found by trying
		edge := 0.0
		for _, p := range o.points {
			edge = math.Max(edge, (p[0]-o.cx)*dx+(p[1]-o.cy)*dy)
		}
		best = math.Max(best, edge-far)
	}
	return best
}

// TestLeanOfStamp: the head of a piece leans by r h/(H − h), the published
// relief displacement.
func TestLeanOfStamp(t *testing.T) {
	pieces := tablePieces()
	sh := NewOutlines(pieces, 0.6, Uniform(Build{1, 1}))
	const reach = 0.16
	st := sh.at(chess.King, reach)
	lean, err := optics.Lean(pieces[chess.King].Height, reach, 0.6)
	if err != nil {
		t.Fatal(err)
	}
	far := 0.0
	for rho := 0.0; rho < 0.08; rho += 1e-4 {
		if st.look(rho, 0).alpha > 0.5 {
			far = rho
		}
	}
	if tip := lean + sh.Radius(chess.King, 1); math.Abs(far-tip) > 1.5e-3 {
		t.Errorf("the outline ends %.1f mm out, the lean says %.1f mm", far*1e3, tip*1e3)
	}
}

// A kind that the reader knows no profile of is a cylinder, in its own measures.
func TestUnknownKindIsACylinder(t *testing.T) {
	const disc = game.Kind(game.MostKinds)
	pieces := tablePieces()
	pieces[disc] = Shape{Height: 0.01, Base: 0.03}
	s := NewOutlines(pieces, 0.6, Uniform(Build{Body: 1, Head: 1}))
	for _, share := range []float64{0, 0.3, 1} {
		if r := s.Radius(disc, share); math.Abs(r-0.015) > 1e-12 {
			t.Errorf("at %g of its height its radius is %g m, want 0.015", share, r)
		}
	}
}
