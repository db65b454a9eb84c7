// SPDX-License-Identifier: Apache-2.0

package trajectory

import (
	"math"
	"testing"

	"boardhand/internal/carry/plan"
	"boardhand/internal/carry/validate"
	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/unit"
)

// A piece dragged behind a magnet on a circle ends on the smaller circle that
// the tractrix leads to: radius √(R² − lag²). The validator, which follows in
// steps, comes to the same.
func TestTrailIsTheTractrix(t *testing.T) {
	const r, lag = 0.02, 1.3e-3
	all := frame.Rect[frame.Board]{Min: spot{X: -1, Y: -1}, Max: spot{X: 1, Y: 1}}
	l := plan.Limits{Lag: lag, Lead: lag, LagSpread: 0.1e-3, Carry: evenAxes, Inside: all, Sheet: all}
	var path []spot
	for k := range 121 {
		s, c := math.Sincos(float64(k) * math.Pi / 80)
		path = append(path, spot{X: r * c, Y: r * s})
	}
	piece := Trail(path, l)
	for _, q := range piece[8 : len(piece)-3] {
		if d := math.Hypot(q.X, q.Y); math.Abs(d-math.Sqrt(r*r-lag*lag)) > 1.5*thinned {
			t.Fatalf("the piece runs at %.3f mm, want %.3f mm", d*1e3, 1e3*math.Sqrt(r*r-lag*lag))
		}
	}
	pawn := chess.MakePiece(chess.Black, chess.Pawn)
	carriage := Lead(path, l)
	p := Over(carriage, l.Carry)
	steps := Drive([]plan.Step{
		{Do: plan.Grip, Piece: pawn},
		{Do: plan.Carry, Piece: pawn, To: chess.NoSquare, Path: carriage, Time: unit.Duration(Time(carriage, l.Carry)),
			Speed: unit.Speed(p.Speed), Accel: unit.Acceleration(p.Accel), Jerk: unit.Jerk(p.Jerk)},
		{Do: plan.Release, Piece: pawn},
	}, l)
	scene := plan.Scene{Pieces: []plan.Piece{{Piece: pawn, At: path[0], Magnet: true}}, Carriage: path[0]}
	if err := validate.New(validate.Board{}, l).Check(scene, plan.Plan{Steps: steps}); err != nil {
		t.Error(err)
	}
}
