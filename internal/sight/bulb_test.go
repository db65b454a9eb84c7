package sight

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
)

// blocked says whether a man is in the way of the light from a bulb to a place
// on the board: the ray followed upwards, another way than throwing the man's
// rings down.
func blocked(b *bulb, s *shapes, k chess.Kind, at frame.Spot[frame.Board], x, y float64) bool {
	const steps = 60
	h := s.men[k].Height
	for j := range steps {
		z := h * float64(j) / (steps - 1)
		t := z / b.at.Z
		if math.Hypot(x+(b.at.X-x)*t-at.X, y+(b.at.Y-y)*t-at.Y) < s.radius(k, z/h) {
			return true
		}
	}
	return false
}

// TestShades: a man's shadow is where he is in the light's way, but for a
// millimetre at its edge.
func TestShades(t *testing.T) {
	e := newEye(tableSetup(), tableView(t), men{})
	rng := rand.New(rand.NewPCG(5, 6))
	at := frame.Spot[frame.Board]{X: 0.03, Y: -0.05}
	wrong, all := 0, 0
	for range 200 {
		b := &bulb{at: frame.Point[frame.Board]{X: rng.NormFloat64(), Y: rng.NormFloat64(), Z: 0.5 + 2*rng.Float64()}}
		k := chess.Kind(int(chess.Pawn) + rng.IntN(6))
		shadow := b.throw(e.shapes, k, at)
		for range 100 {
			x, y := at.X+0.1*(rng.Float64()-0.5), at.Y+0.1*(rng.Float64()-0.5)
			if math.Hypot(at.X-b.at.X, at.Y-b.at.Y) > 2*b.at.Z {
				continue // a lamp at the horizon
			}
			all++
			if shadow.covers(x, y) != blocked(b, e.shapes, k, at, x, y) {
				wrong++
			}
		}
	}
	if all < 10000 || wrong*100 > all {
		t.Errorf("%d of %d places are shaded otherwise than the rays say", wrong, all)
	}
}

// shadyTable is a table with men, lit by a bulb whose shadows are drawn ray by
// ray, a little noise on everything.
func shadyTable(t *testing.T, b *bulb) *eye {
	t.Helper()
	pos, err := chess.ParseFEN("r3k2r/1b3p2/2n5/3q4/3Q4/2N2B2/P5P1/R3K2R w KQkq - 0 20")
	if err != nil {
		t.Fatal(err)
	}
	e := newEye(tableSetup(), tableView(t), menOf(&pos))
	n := e.ground.w * e.ground.h
	flat := func() *memory {
		p := &plate{w: e.ground.w, h: e.ground.h, reduce: e.reduce, l: make([]float32, n)}
		return &memory{plate: p}
	}
	e.coat, e.last = flat(), flat()
	darken(e, b, e.last.plate, e.men)
	return e
}

// darken draws the shadows of some men on a plate.
func darken(e *eye, b *bulb, p *plate, stood []standing) {
	rng := rand.New(rand.NewPCG(7, 8))
	for i := range p.l {
		p.l[i] = float32(0.04 * rng.NormFloat64())
		x, y := float64(e.ground.x[i]), float64(e.ground.y[i])
		for _, m := range stood {
			if math.Hypot(x-m.at.X, y-m.at.Y) < 0.1 && blocked(b, e.shapes, m.piece.Kind(), m.at, x, y) {
				p.l[i] -= 0.35
				break
			}
		}
	}
}

// TestFindBulb: the bulb is found from the shadows, to a few degrees at the
// board's middle.
func TestFindBulb(t *testing.T) {
	for _, at := range []frame.Point[frame.Board]{{X: 0.5, Y: 0.4, Z: 0.8}, {X: -1.2, Y: 0.3, Z: 1.6}, {X: 0.2, Y: -1.1, Z: 2}} {
		b := shadyTable(t, &bulb{at: at}).findBulb()
		if b == nil {
			t.Fatalf("no bulb is found where one hangs at %v", at)
		}
		v, w := [3]float64{at.X, at.Y, at.Z}, [3]float64{b.at.X, b.at.Y, b.at.Z}
		dot, vv, ww := 0.0, 0.0, 0.0
		for k := range v {
			dot, vv, ww = dot+v[k]*w[k], vv+v[k]*v[k], ww+w[k]*w[k]
		}
		if angle := math.Acos(dot/math.Sqrt(vv*ww)) * 180 / math.Pi; angle > 5 {
			t.Errorf("the bulb at %v is found at %v, %.1f degrees off, match %.2f", at, b.at, angle, b.match)
		}
	}
	if b := shadyTable(t, &bulb{at: frame.Point[frame.Board]{Z: 1e6}}); b.findBulb() != nil && b.findBulb().match > 0.6 {
		t.Errorf("a lamp straight above throws no shadows, yet one is found at %v, match %.2f", b.findBulb().at, b.findBulb().match)
	}
}

// TestShadowsTellKinds: of the kinds a pawn may have become, the one that threw
// the shadow is likeliest by it.
func TestShadowsTellKinds(t *testing.T) {
	truth := &bulb{at: frame.Point[frame.Board]{X: 0.5, Y: 0.7, Z: 0.9}}
	e := shadyTable(t, truth)
	m := chess.MakeMove(chess.SquareAt(6, 6), chess.SquareAt(6, 7), chess.NoKind)
	all := []chess.Kind{chess.Queen, chess.Rook, chess.Bishop, chess.Knight}
	for _, kind := range all {
		p := &plate{w: e.ground.w, h: e.ground.h, l: make([]float32, len(e.coat.plate.l))}
		g := &glance{eye: e, plate: p, base: make([]float32, len(p.l))}
		man := func(k chess.Kind) standing {
			return g.standAt(chess.MakePiece(chess.White, k), m.To(), e.setup.centre(m.To()))
		}
		darken(e, truth, p, append([]standing{man(kind)}, e.men...))
		var guesses []*guess
		for _, k := range all {
			guesses = append(guesses, &guess{move: m, gone: make([]bool, len(e.men)), stood: []standing{man(k)}})
		}
		got := (&inquiry{glance: g}).shadows(guesses)
		best, own := slices.Max(got), got[slices.Index(all, kind)]
		if own < best-1 { // a bishop is 5 mm taller than a knight here
			t.Errorf("a %s's shadow is %.1f nats less likely his than another's: %v", kind, best-own, got)
		}
		if far := all[1-min(1, slices.Index(all, kind))]; own < got[slices.Index(all, far)]+1 { // queen and rook
			t.Errorf("a %s's shadow is no less likely a %s's: %v", kind, far, got)
		}
	}
}
