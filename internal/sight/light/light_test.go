// SPDX-License-Identifier: Apache-2.0

package light

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"boardhand/internal/sight/pixels"
)

const side = 30.0 // pixels a square

// table is a picture of a board with grain: squares of two browns; seed draws the camera's noise.
func table(seed uint64) *pixels.Image {
	const w, h = 240, 240
	grain, noise := rand.New(rand.NewPCG(1, 1)), rand.New(rand.NewPCG(seed, 2))
	p := &pixels.Image{W: w, H: h, Reduce: 1}
	p.L, p.A, p.B, p.Noise = make([]float32, w*h), make([]float32, w*h), make([]float32, w*h), make([]float32, w*h)
	for i := range p.L {
		l := 4.0
		if (int(float64(i%w)/side)+int(float64(i/w)/side))%2 == 0 {
			l = 4.7
		}
		p.L[i] = float32(l + 0.06*grain.NormFloat64() + 0.01*noise.NormFloat64())
		p.A[i], p.B[i] = 0.25, -0.3
		p.Noise[i] = 0.015
	}
	return p
}

// lit is the picture in a light given by pixel: a logarithm, and grey light on top, of 255.
func lit(p *pixels.Image, at func(x, y float64) (times, plus float64)) *pixels.Image {
	q := *p
	q.L, q.A, q.B = slices.Clone(p.L), slices.Clone(p.A), slices.Clone(p.B)
	for i := range q.L {
		times, plus := at(float64(i%p.W), float64(i/p.W))
		var l [3]float64
		for c, v := range linear(p, i) {
			l[c] = float64(logarithm(v*float32(math.Exp(gamma*times)) + float32(plus)))
		}
		q.L[i], q.A[i], q.B[i] = float32((l[0]+l[1]+l[2])/3), float32(l[0]-l[1]), float32(l[2]-l[1])
	}
	return &q
}

func whole(p *pixels.Image) pixels.Box { return pixels.Box{X0: 0, Y0: 0, X1: p.W, Y1: p.H} }

// left is the median and the 95 % of what is left of a change, over pixels where something
// is told and that lie inside.
func left(q, then *pixels.Image, inside func(x, y int) bool) (median, most float64) {
	var v []float64
	for i := range q.L {
		if !q.IsBlind(i) && inside(i%q.W, i/q.W) {
			v = append(v, math.Abs(float64(q.L[i]-then.L[i])))
		}
	}
	slices.Sort(v)
	return v[len(v)/2], v[len(v)*95/100]
}

// Not the rim: half of a window there is missing.
func inner(x, y int) bool { return x > 15 && y > 15 && x < 225 && y < 225 }

// TestLightsAreTakenOut: a hard shadow, a soft one, and a reflection.
func TestLightsAreTakenOut(t *testing.T) {
	then := table(1)
	for name, at := range map[string]func(x, y float64) (float64, float64){
		"hard shadow": func(x, y float64) (float64, float64) {
			if x+y/2 > 170 {
				return -1.3, 0
			}
			return 0, 0
		},
		"soft shadow": func(x, y float64) (float64, float64) { return -1.5 / (1 + math.Exp((x-120)/15)), 0 },
		"reflection": func(x, y float64) (float64, float64) {
			return 0, 70 / (1 + math.Exp((math.Hypot(x-120, y-120)-70)/8))
		},
	} {
		now := lit(table(2), at)
		before, _ := left(now, then, func(x, y int) bool { a, b := at(float64(x), float64(y)); return a < -0.5 || b > 30 })
		q := Between(now, now, then, side).Relit(now, then, whole(now))
		median, most := left(q, then, inner)
		if before < 0.3 || median > 0.03 || most > 0.2 {
			t.Errorf("%s: %.3f was changed; %.3f is left, 95 %% %.3f", name, before, median, most)
		}
	}
}

// TestPieceIsNoLight: what is no larger than a piece stays as it is, in a shadow too.
func TestPieceIsNoLight(t *testing.T) {
	then := table(3)
	piece := func(x, y int) bool { return math.Hypot(float64(x)-105, float64(y)-105) < 0.3*side }
	now := lit(table(4), func(x, y float64) (float64, float64) {
		if x > 60 {
			return -1, 0
		}
		return 0, 0
	})
	for i := range now.L {
		if piece(i%now.W, i/now.W) {
			now.L[i] = 2.6 // dark wood
		}
	}
	q := Between(now, now, then, side).Relit(now, then, whole(now))
	if median, _ := left(q, then, piece); median < 0.5 {
		t.Errorf("a piece is left only %.2f from the board", median)
	}
	if median, _ := left(q, then, func(x, y int) bool { return inner(x, y) && math.Hypot(float64(x)-105, float64(y)-105) > side }); median > 0.05 {
		t.Errorf("the board around it is left %.3f off", median)
	}
}

// TestExplained: light explains a shadow and a reflection, another thing it does not.
func TestExplained(t *testing.T) {
	then, other := table(5), table(6)
	for i := range other.L { // cloth
		other.L[i] = float32(4.3 + 0.2*rand.New(rand.NewPCG(uint64(i), 3)).NormFloat64())
		other.A[i] += 0.3
	}
	now := lit(table(7), func(x, y float64) (float64, float64) {
		if y < 60 {
			return -1, 0
		}
		return 0, 0
	})
	for i := range now.L {
		if y := i / now.W; y >= 60 && y < 120 { // a faint veil, by level
			l := now.Levels(i)
			for c, v := range l {
				l[c] = float32(math.Log(float64(v) + 90 + pixels.Black))
			}
			now.L[i], now.A[i], now.B[i] = (l[0]+l[1]+l[2])/3, l[0]-l[1], l[2]-l[1]
		}
		if i/now.W >= 150 {
			now.L[i], now.A[i] = other.L[i], other.A[i]
		}
	}
	var told, of [3]int
	cols := now.W / CellSide
	odd := slices.Repeat([]bool{true}, cols*(now.H/CellSide))
	Explained(now, then, odd)
	for k, is := range odd {
		is = !is
		y := k / cols * CellSide
		part := 2 // the edges, where both are seen
		switch {
		case y < 110:
			part = 0
		case y >= 170:
			part = 1
		}
		of[part]++
		if is {
			told[part]++
		}
	}
	if float64(told[0]) < 0.9*float64(of[0]) || float64(told[1]) > 0.05*float64(of[1]) {
		t.Errorf("explained: %d of %d cells in other light, %d of %d under a cover", told[0], of[0], told[1], of[1])
	}
}

// TestWeightedMedians compares the running median with one that sorts.
func TestWeightedMedians(t *testing.T) {
	d := rand.New(rand.NewPCG(11, 4))
	const cols, rows, r = 17, 13, 3
	v, w := make([]float32, cols*rows), make([]float32, cols*rows)
	for k := range v {
		v[k], w[k] = float32(d.Float64()*4-2), float32(d.IntN(3))
	}
	got, _ := weightedMedians(v, w, cols, r, 0)
	for k := range v {
		var near []int
		total := float32(0)
		for j := range v {
			if abs(float32(j%cols-k%cols)) <= r && abs(float32(j/cols-k/cols)) <= r {
				near = append(near, j)
				total += w[j]
			}
		}
		slices.SortFunc(near, func(a, b int) int { return int(math.Copysign(1, float64(v[a]-v[b]))) })
		sum, want := float32(0), float32(0)
		for _, j := range near {
			if sum += w[j]; sum >= total/2 {
				want = v[j]
				break
			}
		}
		if math.Abs(float64(got[k]-want)) > 1.5/perBin {
			t.Errorf("at %d: %.3f, sorting gives %.3f", k, got[k], want)
		}
	}
}

// TestLightsAtAnEdge: where a shadow ends suddenly a pixel may be in several lights, and in
// one of them it looks as it did.
func TestLightsAtAnEdge(t *testing.T) {
	then := table(8)
	now := lit(table(9), func(x, _ float64) (float64, float64) {
		if x > 121 {
			return -1.2, 0
		}
		return 0, 0
	})
	q := Between(now, now, then, side).Relit(now, then, whole(now))
	doubtful, fit := 0, 0
	for y := 30; y < 210; y++ {
		for x := 119; x < 124; x++ {
			i := y*now.W + x
			if !q.IsDoubtful(i) {
				continue
			}
			doubtful++
			miss := abs(q.L[i] - then.L[i])
			for _, o := range q.Lights {
				miss = min(miss, abs(o.L[i]-then.L[i]))
			}
			if miss < 0.1 {
				fit++
			}
		}
	}
	if doubtful < 500 || fit < doubtful*9/10 {
		t.Errorf("%d of 900 pixels are doubtful, %d of them fit in a light", doubtful, fit)
	}
}

// TestDarkAboveAReflection: a black piece before a reflection is left as it is, and white
// ones are seen in the light they are in.
func TestDarkAboveAReflection(t *testing.T) {
	then := table(10)
	piece := func(x, y int) bool { return math.Hypot(float64(x)-105, float64(y)-105) < 0.3*side }
	now := lit(table(11), func(x, y float64) (float64, float64) {
		if math.Hypot(x-120, y-120) < 80 && !piece(int(x), int(y)) {
			return 0, 70
		}
		return 0, 0
	})
	for i := range now.L {
		if piece(i%now.W, i/now.W) {
			now.L[i] = 2.3
		}
	}
	q := Between(now, now, then, side).Relit(now, then, whole(now))
	for i := range q.L {
		if piece(i%now.W, i/now.W) && (q.IsBlind(i) || q.Weight[i] != 1 || abs(q.L[i]-2.3) > 0.01) {
			t.Fatalf("at %d, %d: blind %v, weight %.1f, %.2f", i%now.W, i/now.W, q.IsBlind(i), q.Weight[i], q.L[i])
		}
	}
}

// TestSlatsDrown: under a pane seen through slats nothing is told of what is brighter; a
// piece's own brightness is told.
func TestSlatsDrown(t *testing.T) {
	then := table(12)
	now := lit(table(13), func(x, y float64) (float64, float64) {
		if x > 60 && x < 140 && y > 60 && y < 150 && int(y)%9 < 5 {
			return 0, 160
		}
		return 0, 0
	})
	for i := range now.L {
		if x, y := i%now.W, i/now.W; math.Hypot(float64(x)-195, float64(y)-195) < 0.3*side {
			now.L[i] += 0.8
		}
	}
	q := Between(now, now, then, side).Relit(now, then, whole(now))
	drowned, slats, seen := 0, 0, 0
	for i := range q.L {
		switch x, y := i%now.W, i/now.W; {
		case x > 64 && x < 136 && y > 64 && y < 146 && y%9 < 5:
			slats++
			if q.IsUntold(i) {
				drowned++
			}
		case math.Hypot(float64(x)-195, float64(y)-195) < 0.2*side && !q.IsBlind(i) && q.L[i]-then.L[i] > 0.5:
			seen++
		}
	}
	if drowned < slats*8/10 || seen < 60 { // of 113
		t.Errorf("%d of %d pixels under slats tell nothing, %d of a piece do", drowned, slats, seen)
	}
}
