// SPDX-License-Identifier: Apache-2.0

package gauge_test

import (
	"image"
	"math"
	"math/rand/v2"
	"testing"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/linear"
	"boardhand/internal/optics"
	"boardhand/internal/rig"
	"boardhand/internal/sight"
	"boardhand/internal/sight/gauge"
	"boardhand/internal/sight/pixels"
	"boardhand/internal/twin"
)

func TestGauge(t *testing.T) {
	r := rig.Default()
	pawn := chess.MakePiece(chess.Black, chess.Pawn)
	for seed := int64(1); seed <= 5; seed++ {
		var truth optics.View
		picture := func(at []frame.Spot[frame.Board]) sight.Picture {
			o := twin.Options{Seed: seed, Pieces: make([]chess.Piece, 64)}
			for i := range at {
				o.Beside = append(o.Beside, twin.Aside{Piece: pawn, At: &at[i]})
			}
			for i := range o.Pieces {
				o.Pieces[i] = chess.NoPiece
			}
			w, err := twin.New(r, o)
			if err != nil {
				t.Fatal(err)
			}
			truth = w.Truth().View
			p, err := w.Camera().Look(t.Context())
			if err != nil {
				t.Fatal(err)
			}
			return p
		}
		setup, err := sight.SetupFrom(r)
		if err != nil {
			t.Fatal(err)
		}
		first := picture(nil)
		v, err := sight.FindBoard(setup, first.Image, nil)
		if err != nil {
			t.Fatal(err)
		}
		g := gauge.New(v, pixels.LumaOf(first.Image), float64(r.Pieces.Of(chess.Pawn).Base))
		rnd := rand.New(rand.NewPCG(uint64(seed), 0))
		cam := v.Camera()
		t.Log("lens", v.Lens, "truth", truth.Lens)
		t.Log("camera", cam, "truth", truth.Camera())
		for _, x := range []float64{-0.14, 0, 0.14} {
			for _, y := range []float64{-0.14, 0, 0.14} {
				px, _ := truth.Project(frame.Point[frame.Board]{X: x, Y: y})
				b, _ := v.OnPlane(px, 0)
				t.Logf("%5.0f %5.0f: %6.3f %6.3f mm", x*1e3, y*1e3, (b.X-x)*1e3, (b.Y-y)*1e3)
			}
		}
		var spots []frame.Spot[frame.Board]
		for y := -3.0; y <= 4; y += 2 {
			for x := -3.0; x <= 4; x += 2 {
				sq := r.Board.Centre(int(x)+3, int(y)+4)
				spots = append(spots, frame.Spot[frame.Board]{X: sq.X + 0.004*rnd.NormFloat64(), Y: sq.Y + 0.004*rnd.NormFloat64()})
			}
		}
		p := picture(spots)
		for pass := range 2 {
			var bases []float64
			var sr, st float64
			var rows [3][]float64
			var fx, fy [3]float64
			m := linear.NewSymmetric(3)
			for _, at := range spots {
				s, err := g.Measure(pixels.LumaOf(p.Image), at.Add(frame.Spot[frame.Board]{X: 0.003, Y: -0.004}), 0.012)
				if err != nil {
					t.Error(at, err)
					continue
				}
				bases = append(bases, s.Base)
				out := at.Sub(cam.Spot())
				r := out.Norm()
				u := out.Scale(1 / r)
				d := s.At.Sub(at)
				rad, tan := d.Dot(u)*1e3, (d.X*u.Y-d.Y*u.X)*1e3
				sr += rad * rad
				st += tan * tan
				row := [3]float64{1, at.X, at.Y}
				for i := range row {
					fx[i] += row[i] * d.X
					fy[i] += row[i] * d.Y
					for j := range row {
						m.Row(i)[j] += row[i] * row[j]
					}
				}
				if testing.Verbose() && seed == 200 {
					t.Logf("%6.1f %6.1f r %5.1f: %6.3f %6.3f radial %6.3f tangential %6.3f σ %.2f base %.2f edge %.2f", at.X*1e3, at.Y*1e3, r*1e3, d.X*1e3, d.Y*1e3, rad, tan, s.Sigma*1e3, s.Base*1e3, s.Edge)
				}
			}
			_ = rows
			root, err := m.Factor()
			if err != nil {
				t.Fatal(err)
			}
			root.Solve(fx[:])
			root.Solve(fy[:])
			n := float64(len(bases))
			t.Logf("seed %d pass %d rms radial %.3f tangential %.3f; shift %.3f %.3f mm, matrix %.3f %.3f %.3f %.3f per mille", seed, pass, math.Sqrt(sr/n), math.Sqrt(st/n),
				fx[0]*1e3, fy[0]*1e3, fx[1]*1e3, fx[2]*1e3, fy[1]*1e3, fy[2]*1e3)
			near := make([]frame.Spot[frame.Board], len(spots))
			all := make([]*image.Gray, len(spots))
			for i := range near {
				near[i], all[i] = spots[i].Add(frame.Spot[frame.Board]{X: 0.003, Y: -0.004}), pixels.LumaOf(p.Image)
			}
			if err := g.Learn(all, near, 0.012); err != nil {
				t.Fatal(err)
			}
			t.Log(g.Base)
		}
	}
}
