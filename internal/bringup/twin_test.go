// SPDX-License-Identifier: Apache-2.0

package bringup

import (
	"context"
	"math"
	"testing"
	"time"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/measured"
	"boardhand/internal/rig"
	"boardhand/internal/twin"
)

// obedient does on the twin what it is asked, and says yes.
type obedient struct {
	t     *testing.T
	world *twin.World
}

func (o *obedient) Tell(text string) { o.t.Log(text) }

func (o *obedient) Ask(_ context.Context, r Request) (bool, error) {
	hand := o.world.Visitor()
	if r.Asking == Put {
		if err := hand.PutPiece(r.Piece, r.On); err != nil {
			return false, err
		}
		hand.Finish()
	}
	return true, nil
}

// wrongly is a twin that differs from its rig file as the issue of bring-up has it.
func wrongly(t *testing.T, r *rig.Rig) twin.Deviations {
	t.Helper()
	q, err := twin.NoDeviations(r)
	if err != nil {
		t.Fatal(err)
	}
	q.Skew, q.Stretch, q.Play = 0.7*math.Pi/180, [2]float64{0.012, -0.012}, [2]float64{0.4e-3, 0.4e-3}
	q.MachineShift, q.MachineTurn = frame.Spot[frame.Machine]{X: 2.4e-3, Y: -1.8e-3}, -0.5*math.Pi/180
	q.CameraShift = frame.Point[frame.Board]{X: 9e-3, Y: -9e-3, Z: 8e-3}
	q.HomeScatter = 0.05e-3
	q.Placement = 0.04
	q.BaseScatter, q.FrictionScale = 0.01, 0.10
	q.Bow = [4]float64{0.5, -0.3, 0.6, 0.2}
	return q
}

func bare() []chess.Piece {
	out := make([]chess.Piece, 64)
	for i := range out {
		out[i] = chess.NoPiece
	}
	return out
}

func TestBringUpOfAWrongTwin(t *testing.T) {
	r := rig.Default()
	q := wrongly(t, r)
	w, err := twin.New(r, twin.Options{Seed: 1, Deviations: &q, Visitor: true, Pieces: bare()})
	if err != nil {
		t.Fatal(err)
	}
	began := time.Now()
	s, err := New(Parts{Rig: r, Machine: measured.Twin(1), Gantry: w.Gantry(), Camera: w.Camera(), Maker: &obedient{t, w},
		Save: func(*measured.File) error { t.Log(time.Since(began)); return nil }, Now: time.Now}, &measured.File{})
	if err != nil {
		t.Fatal(err)
	}
	if err := s.Run(t.Context()); err != nil {
		t.Fatal(err)
	}
	a := s.File.Axes
	for _, c := range []struct {
		name             string
		got, want, allow float64
	}{
		{"x travel over the field, mm", 320 * (a.Scale[0] - 1), 320 * q.Stretch[0], 0.15},
		{"y travel over the field, mm", 320 * (a.Scale[1] - 1), 320 * q.Stretch[1], 0.15},
		{"skew, deg", a.Skew.Degrees(), q.Skew * 180 / math.Pi, 0.05},
		{"turn, deg", a.Turn.Degrees(), q.MachineTurn * 180 / math.Pi, 0.05},
		{"centre x, mm", a.Centre[0].MM() - r.Axis.X.Origin.MM(), q.MachineShift.X * 1e3, 0.15},
		{"centre y, mm", a.Centre[1].MM() - r.Axis.Y.Origin.MM(), q.MachineShift.Y * 1e3, 0.15},
		{"backlash x, mm", a.Backlash[0].MM(), r.Axis.X.Backlash.MM() + q.Play[0]*1e3, 0.15},
		{"backlash y, mm", a.Backlash[1].MM(), r.Axis.Y.Backlash.MM() + q.Play[1]*1e3, 0.15},
	} {
		t.Logf("%-30s %8.3f, truly %8.3f: %+.3f", c.name, c.got, c.want, c.got-c.want)
		if math.Abs(c.got-c.want) > c.allow {
			t.Errorf("%s: %.3f, truly %.3f", c.name, c.got, c.want)
		}
	}
	truth := w.Truth().View.Camera()
	c := s.File.Camera
	t.Logf("camera %.2f %.2f %.2f, truly %.2f %.2f %.2f", c.X.MM(), c.Y.MM(), c.Height.MM(), truth.X*1e3, truth.Y*1e3, truth.Z*1e3)
	t.Log("σ", a.ScaleSigma, a.SkewSigma, a.TurnSigma, a.CentreSigma, a.BacklashSigma, a.LagSigma, time.Since(began))
}
