// SPDX-License-Identifier: Apache-2.0

package session

import (
	"context"
	"io"
	"math"
	"os"
	"slices"
	"strconv"
	"testing"
	"time"

	"boardhand/internal/bringup"
	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/measured"
	"boardhand/internal/player"
	"boardhand/internal/rehearsal"
	"boardhand/internal/rig"
	"boardhand/internal/search"
	"boardhand/internal/terminal"
	"boardhand/internal/twin"
)

// builtWrong is a twin that differs from its rig file by what a bring-up must find.
func builtWrong(t *testing.T, r *rig.Rig) *twin.Deviations {
	t.Helper()
	q, err := twin.NoDeviations(r)
	if err != nil {
		t.Fatal(err)
	}
	q.Skew, q.Stretch, q.Play = 0.7*math.Pi/180, [2]float64{0.012, -0.012}, [2]float64{0.4e-3, 0.4e-3}
	q.MachineShift, q.MachineTurn = frame.Spot[frame.Machine]{X: 2.4e-3, Y: -1.8e-3}, -0.5*math.Pi/180
	q.CameraShift = frame.Point[frame.Board]{X: 9e-3, Y: -9e-3, Z: 8e-3}
	q.HomeScatter, q.Placement, q.BaseScatter, q.FrictionScale = 0.05e-3, 0.04, 0.01, 0.10
	q.Bow = [4]float64{0.5, -0.3, 0.6, 0.2}
	return &q
}

// broughtUp measures a twin as far as its axes.
func broughtUp(t *testing.T, r *rig.Rig, q *twin.Deviations) *measured.File {
	t.Helper()
	w, err := twin.New(r, twin.Options{Seed: 1, Deviations: q, Visitor: true, Pieces: slices.Repeat([]chess.Piece{chess.NoPiece}, 64)})
	if err != nil {
		t.Fatal(err)
	}
	f := &measured.File{Lead: &measured.Lead{}, Returns: &measured.Returns{}, Speed: &measured.Speed{}}
	s, err := bringup.New(bringup.Parts{Rig: r, Machine: "this twin", Gantry: w.Gantry(), Camera: w.Camera(), Now: time.Now,
		Maker: &atTerminal{out: &terminal.Out{W: io.Discard}, yes: true, rig: r, world: w}, Save: func(*measured.File) error { return nil }}, f)
	if err != nil {
		t.Fatal(err)
	}
	if err := s.Run(t.Context()); err != nil {
		t.Fatal(err)
	}
	return f
}

// played counts games at a twin.
func played(t *testing.T, r *rig.Rig, q *twin.Deviations, games, plies int) (sum rehearsal.Tally) {
	t.Helper()
	for n := 1; n <= games; n++ {
		one, err := rehearsal.Play(t.Context(), rehearsal.Spec{Number: n, Seed: 1, Plies: plies}, func(ctx context.Context, seed int64) (*rehearsal.Machine, error) {
			b, err := SetUp(r, chess.Start(), twin.Options{Seed: seed, Deviations: q})
			if err != nil {
				return nil, err
			}
			p, err := player.Open(ctx, player.Options{Machine: chess.ColorNamed(r.Play.Side), Limits: search.Limits{Nodes: 500}})
			if err != nil {
				return nil, err
			}
			return b.Rehearsed(p, nil)
		})
		if err != nil {
			t.Fatal(err)
		}
		sum.Add(one)
	}
	return sum
}

// A machine that was built wrong plays clean games once it was brought up, and dirty ones
// before: pieces are touched, dragged along, lost, or set down so that they must be put right.
func TestGamesBeforeAndAfterBringUp(t *testing.T) {
	if testing.Short() {
		t.Skip("two games and a bring-up: minutes under the race detector, and nothing of them is concurrent but what shorter games are")
	}
	games, plies := 1, 14
	if n, err := strconv.Atoi(os.Getenv("BOARDHAND_GAMES")); err == nil {
		games, plies = n, 200
	}
	r := rig.Default()
	q := builtWrong(t, r)
	f := broughtUp(t, r, q)
	before := played(t, r, q, games, plies)
	f.Apply(r, "this twin")
	after := played(t, r, q, games, plies)
	trouble := func(t rehearsal.Tally) int {
		return t.Collisions + t.Drags + t.Toppled + t.Slips + t.Recovered + t.LostState + t.Misread + t.Stuck
	}
	t.Logf("before: %+v", before)
	t.Logf("after:  %+v", after)
	if trouble(before) == 0 {
		t.Error("the machine plays clean games though it was built wrong: bring-up proves nothing")
	}
	if trouble(after) > 0 {
		t.Errorf("%d troubles after bring-up", trouble(after))
	}
}
