// SPDX-License-Identifier: Apache-2.0

package optics

import (
	"math"
	"math/rand/v2"
	"testing"
)

// roomPrior is what a maker's rig file says: 3 % of height, 2 deg of field.
func roomPrior(v View) Prior {
	return Prior{Lens: v.Lens, Sigma: Lens{Fx: 0.04 * v.Lens.Fx, Cx: 5, Cy: 5, K1: 0.2, K2: 0.1}, Square: true,
		Height: v.CameraFromBoard.T.Z, HeightSigma: 0.03 * v.CameraFromBoard.T.Z}
}

// The stated error is the true one: over many noisy fits, the miss of the
// predicted corners divided by SpotSigma has unit spread, and so has the
// height's, the focal length's and k1's.
func TestFitStatesItsError(t *testing.T) {
	const seed, runs = 15, 300
	rnd := rand.New(rand.NewPCG(seed, 0))
	var spot, height, focal, radial float64
	for range runs {
		nominal, _ := Nominal([2]int{1280, 720}, 1.1, 0.55, "bottom")
		prior := roomPrior(nominal)
		truth := nominal
		w := make([]float64, 6)
		for i := range 3 {
			w[i] = 0.1 * (rnd.Float64() - 0.5)
		}
		truth.CameraFromBoard = turned(truth.CameraFromBoard, w)
		truth.CameraFromBoard.T.Z += prior.HeightSigma * rnd.NormFloat64()
		truth.Lens.Fx += prior.Sigma.Fx * rnd.NormFloat64()
		truth.Lens.Fy = truth.Lens.Fx
		truth.Lens.Cx, truth.Lens.Cy = truth.Lens.Cx+5*rnd.NormFloat64(), truth.Lens.Cy+5*rnd.NormFloat64()
		truth.Lens.K1, truth.Lens.K2 = -0.15+0.05*rnd.NormFloat64(), 0.05*rnd.NormFloat64()
		prior.Lens.K1, prior.Sigma.K1, prior.Sigma.K2 = -0.15, 0.05, 0.05
		f, err := Fit(nominal, lookAt(t, truth, rnd, 0.2), prior)
		if err != nil {
			t.Fatal(err)
		}
		p := brd(0.112*(2*rnd.Float64()-1), 0.112*(2*rnd.Float64()-1), 0)
		a, _ := f.View.Project(p)
		b, _ := truth.Project(p)
		s := f.SpotSigma(p)
		spot += a.Distance(b) * a.Distance(b) / (2 * s * s)
		height += math.Pow((f.View.Camera().Z-truth.Camera().Z)/f.HeightSigma(), 2)
		focal += math.Pow((f.View.Lens.Fx-truth.Lens.Fx)/f.Sigma.Fx, 2)
		radial += math.Pow((f.View.Lens.K1-truth.Lens.K1)/f.Sigma.K1, 2)
	}
	// A mean of 300 squares of unit spread is 1 ± 0.08; SpotSigma is the worse
	// direction's, so the spot's mean lies somewhat below 1.
	for name, v := range map[string]float64{"height": height, "focal length": focal, "k1": radial} {
		if v /= runs; v < 0.72 || v > 1.28 {
			t.Errorf("seed %d: %s: mean square of error over stated error %v, want 1", seed, name, v)
		}
	}
	if spot /= runs; spot < 0.55 || spot > 1.2 {
		t.Errorf("seed %d: spots: %v, want a little below 1", seed, spot)
	}
}

// A nominal that is wrong by 3 % and 2 deg, a quarter of the corners hidden:
// the fit comes within a tenth of a pixel of the true places.
func TestFitFromNominal(t *testing.T) {
	const seed = 16
	rnd := rand.New(rand.NewPCG(seed, 0))
	for range 50 {
		nominal, _ := Nominal([2]int{1280, 720}, 62*pi/180, 0.55, "left")
		truth, _ := Nominal([2]int{1280, 720}, 64*pi/180, 0.5335, "left")
		truth.Lens.K1 = -0.3 * rnd.Float64()
		truth.CameraFromBoard = turned(truth.CameraFromBoard, []float64{0.1 * rnd.NormFloat64(), 0.1 * rnd.NormFloat64(), 0.2 * rnd.NormFloat64(), 0.01, 0.005, 0})
		all := lookAt(t, truth, rnd, 0.1)
		rnd.Shuffle(len(all), func(i, j int) { all[i], all[j] = all[j], all[i] })
		start, err := PoseFromPlane(nominal.Lens, all[:36])
		if err != nil {
			t.Fatal(err)
		}
		f, err := Fit(start, all[:36], roomPrior(nominal))
		if err != nil {
			t.Fatal(err)
		}
		for _, c := range all {
			a, _ := f.View.Project(c.Board)
			b, _ := truth.Project(c.Board)
			if a.Distance(b) > 0.3 {
				t.Fatalf("seed %d: corner %v predicted %.3f px off (rms %v)", seed, c.Board, a.Distance(b), f.RMS)
			}
		}
	}
}

func TestFitRefuses(t *testing.T) {
	v, _ := Nominal([2]int{1280, 720}, 1.1, 0.5, "bottom")
	if _, err := Fit(v, nil, roomPrior(v)); err == nil {
		t.Error("fits a pose to nothing")
	}
	one := Corner{Board: brd(0, 0, 0), Seen: pix(640, 360)}
	if _, err := Fit(v, []Corner{one, one, one, one}, Prior{Lens: v.Lens}); err == nil {
		t.Error("fits a pose to one corner four times")
	}
}

func BenchmarkFit49(b *testing.B) {
	v, _ := Nominal([2]int{1280, 720}, 1.1, 0.5, "bottom")
	rnd := rand.New(rand.NewPCG(1, 1))
	var seen []Corner
	for i := -3.0; i <= 3; i++ {
		for j := -3.0; j <= 3; j++ {
			p := brd(i*0.032, j*0.032, 0)
			px, _ := v.Project(p)
			seen = append(seen, Corner{Board: p, Seen: px.Add(pix(0.1*rnd.NormFloat64(), 0.1*rnd.NormFloat64())), Sigma: 0.1})
		}
	}
	start := v
	start.CameraFromBoard = turned(v.CameraFromBoard, []float64{0.02, 0.01, 0.03, 0.004, 0.003, 0.02})
	for b.Loop() {
		if _, err := Fit(start, seen, roomPrior(v)); err != nil {
			b.Fatal(err)
		}
	}
}

// Places on edges, each measured across the edge only, give the view as well
// as corners do; moving a place along its own edge changes nothing.
func TestFitFromEdges(t *testing.T) {
	const seed = 17
	rnd := rand.New(rand.NewPCG(seed, 0))
	nominal, _ := Nominal([2]int{1280, 720}, 1.08, 0.55, "top")
	truth := nominal
	truth.Lens.K1 = -0.12
	truth.CameraFromBoard = turned(truth.CameraFromBoard, []float64{0.05, -0.04, 0.1, 0.01, 0.005, 0.01})
	var seen []Corner
	for i := -4.0; i <= 4; i++ {
		for j := -3.5; j <= 3.5; j++ {
			for _, p := range [][2]float64{{i, j}, {j, i}} {
				at := brd(p[0]*0.032, p[1]*0.032, 0)
				next := at.Add(brd(0, 1e-5, 0))
				if p[0] == j {
					next = at.Add(brd(1e-5, 0, 0))
				}
				a, _ := truth.Project(at)
				b, _ := truth.Project(next)
				along := b.Sub(a).Scale(1 / b.Distance(a))
				slid := a.Add(along.Scale(rnd.NormFloat64()))
				seen = append(seen, Corner{Board: at, Seen: slid, Sigma: 0.1, Normal: pix(-along.Y, along.X)})
			}
		}
	}
	f, err := Fit(nominal, seen, roomPrior(nominal))
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range seen {
		a, _ := f.View.Project(c.Board)
		b, _ := truth.Project(c.Board)
		if a.Distance(b) > 0.02 { // the prior pulls a little
			t.Fatalf("seed %d: %v predicted %.3f px off", seed, c.Board, a.Distance(b))
		}
	}
}
