package sight

import (
	"math"
	"testing"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
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
	return bump{0.03, -0.02, 0.05, 0.004, -0.003, 0}.after(v)
}

func tableSetup() Setup {
	s := Setup{Square: 0.04, Border: 0.012, Image: [2]int{1280, 720}, HFOV: 1.08, Height: 0.6, White: "bottom"}
	for k := chess.Pawn; k <= chess.King; k++ {
		s.Men[k] = Shape{Height: 0.026 + 0.005*float64(k), Base: 0.015}
	}
	return s
}

// TestOutlineAgainstProjectedRings: the pixels a man covers by the stamp are
// those inside some ring of its profile projected point by point through the
// lens: another way to the same outline.
func TestOutlineAgainstProjectedRings(t *testing.T) {
	s := tableSetup()
	e := newEye(s, tableView(t), men{}, nil)
	for _, k := range []chess.Kind{chess.Pawn, chess.Rook, chess.King} {
		for _, at := range []frame.Spot[frame.Board]{{X: 0.003, Y: -0.002}, {X: 0.1, Y: 0.06}, {X: -0.14, Y: 0.14}} {
			m := stand(e.ground, e.shapes, chess.MakePiece(chess.White, k), at)
			all := rings(e, k, at)
			covered := map[int32]float32{}
			for _, c := range m.covers {
				covered[c.px] = c.alpha
			}
			wrong, area := 0, 0
			for y := range e.ground.H {
				for x := range e.ground.W {
					in := insideRings(&all, float64(x), float64(y))
					a := covered[int32(y*e.ground.W+x)]
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

// projectedRing is one circle of a piece's profile, projected onto the plate.
type projectedRing struct {
	cx, cy float64
	points [48][2]float64
}

// rings projects the profile of a piece, point by point.
func rings(e *eye, k chess.Kind, at frame.Spot[frame.Board]) (out [101]projectedRing) {
	for i := range out {
		z := float64(i) / 100
		h, r, o := z*e.setup.Men[k].Height, e.shapes.radius(k, z), &out[i]
		o.cx, o.cy, _ = e.ground.Project(at.At(h))
		for j := range o.points {
			a := 2 * math.Pi * float64(j) / float64(len(o.points))
			x, y, _ := e.ground.Project(frame.Point[frame.Board]{X: at.X + r*math.Cos(a), Y: at.Y + r*math.Sin(a), Z: h})
			o.points[j] = [2]float64{x, y}
		}
	}
	return out
}

// insideRings is how far a plate pixel lies inside the projected rings, in
// plate pixels; negative outside. The rings are taken as circles around their
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

// TestLeanOfStamp: the head of a man leans by r h/(H − h), the published
// relief displacement.
func TestLeanOfStamp(t *testing.T) {
	s := tableSetup()
	sh := newShapes(s.Men, 0.6, alike(build{1, 1}))
	const reach = 0.16
	st := sh.at(chess.King, reach)
	lean, err := optics.Lean(s.Men[chess.King].Height, reach, 0.6)
	if err != nil {
		t.Fatal(err)
	}
	far := 0.0
	for rho := 0.0; rho < 0.08; rho += 1e-4 {
		if st.look(rho, 0).alpha > 0.5 {
			far = rho
		}
	}
	if tip := lean + sh.radius(chess.King, 1); math.Abs(far-tip) > 1.5e-3 {
		t.Errorf("the outline ends %.1f mm out, the lean says %.1f mm", far*1e3, tip*1e3)
	}
}

// TestGroundBetweenNodes: the interpolated ground agrees with the lens model.
func TestGroundBetweenNodes(t *testing.T) {
	v := tableView(t)
	g := pixels.NewPlane(v, [2]int{1280, 720}, 2, 0.25)
	for y := g.Box.Y0; y < g.Box.Y1; y += 37 {
		for x := g.Box.X0; x < g.Box.X1; x += 41 {
			want, err := v.OnPlane(g.Pixel(float64(x), float64(y)), 0)
			if err != nil {
				t.Fatal(err)
			}
			i := y*g.W + x
			if d := math.Hypot(float64(g.X[i])-want.X, float64(g.Y[i])-want.Y); d > 0.1*g.Pitch {
				t.Errorf("pixel (%d, %d) is %.3f mm off", x, y, d*1e3)
			}
		}
	}
}
