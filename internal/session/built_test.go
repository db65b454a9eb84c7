// SPDX-License-Identifier: Apache-2.0

package session

import (
	"context"
	"io"
	"math"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"boardhand/internal/axes"
	"boardhand/internal/bringup"
	"boardhand/internal/chess"
	"boardhand/internal/measured"
	"boardhand/internal/player"
	"boardhand/internal/rehearsal"
	"boardhand/internal/rig"
	"boardhand/internal/search"
	"boardhand/internal/terminal"
	"boardhand/internal/twin"
)

// broughtUp measures a twin as far as its axes.
func broughtUp(t *testing.T, r *rig.Rig, q *twin.Deviations) *measured.File {
	t.Helper()
	w, err := twin.New(r, twin.Options{Seed: 1, Deviations: q, Visitor: true, Pieces: slices.Repeat([]chess.Piece{chess.NoPiece}, 64)})
	if err != nil {
		t.Fatal(err)
	}
	f := &measured.File{Lens: &measured.Lens{}, Gap: &measured.Gap{}, Lead: &measured.Lead{}, Returns: &measured.Returns{}, Speed: &measured.Speed{}}
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
	q, err := twin.Askew(r)
	if err != nil {
		t.Fatal(err)
	}
	f := broughtUp(t, r, &q)
	before := played(t, r, &q, games, plies)
	f.Apply(r, "this twin")
	after := played(t, r, &q, games, plies)
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

// Through a real driver and a simulated controller a bring-up finds what it finds at the twin.
// Where the field lies is found to half a count worse, for nearer no controller finds its zeros.
func TestBringUpThrough(t *testing.T) {
	if testing.Short() {
		t.Skip("two bring-ups of a hundred pictures each")
	}
	r := rig.Default()
	q, err := twin.Askew(r)
	if err != nil {
		t.Fatal(err)
	}
	for _, kind := range []string{"gcode", "tacho"} {
		a, c := broughtUpThrough(t, r, kind)
		train, err := axes.Train(r, r.Axis.X)
		if err != nil {
			t.Fatal(err)
		}
		count, err := train.Resolution()
		if err != nil {
			t.Fatal(err)
		}
		for _, v := range []struct {
			name             string
			got, want, allow float64
		}{
			{"x travel over the field, mm", 320 * (a.Scale[0] - 1), 320 * q.Stretch[0], 0.15},
			{"y travel over the field, mm", 320 * (a.Scale[1] - 1), 320 * q.Stretch[1], 0.15},
			{"skew, deg", a.Skew.Degrees(), q.Skew * 180 / math.Pi, 0.05},
			{"turn, deg", a.Turn.Degrees(), q.MachineTurn * 180 / math.Pi, 0.05},
			{"centre x, mm", a.Centre[0].MM() - r.Axis.X.Origin.MM(), q.MachineShift.X * 1e3, 0.15 + count.MM()/2},
			{"centre y, mm", a.Centre[1].MM() - r.Axis.Y.Origin.MM(), q.MachineShift.Y * 1e3, 0.15 + count.MM()/2},
			{"backlash x, mm", a.Backlash[0].MM(), r.Axis.X.Backlash.MM() + q.Play[0]*1e3, 0.15},
			{"backlash y, mm", a.Backlash[1].MM(), r.Axis.Y.Backlash.MM() + q.Play[1]*1e3, 0.15},
			{"camera height, mm", c.Height.MM(), r.Camera.Height.MM() + q.CameraShift.Z*1e3, 0.15},
		} {
			t.Logf("%s: %-28s %8.3f, truly %8.3f: %+.3f", kind, v.name, v.got, v.want, v.got-v.want)
			if math.Abs(v.got-v.want) > v.allow {
				t.Errorf("%s: %s: %.3f, truly %.3f", kind, v.name, v.got, v.want)
			}
		}
	}
}

// broughtUpThrough measures the twin that was built wrong through a driver.
func broughtUpThrough(t *testing.T, r *rig.Rig, kind string) (*measured.Axes, *measured.Camera) {
	t.Helper()
	o := BringUpOptions{Twin: TwinMachine{Built: "askew", Seed: 1, Through: kind}, Yes: true, Input: strings.NewReader("")}
	parts, end, err := o.parts(t.Context(), &terminal.Out{W: io.Discard}, r)
	if err != nil {
		t.Fatal(err)
	}
	defer end()
	parts.Save = func(*measured.File) error { return nil }
	f := &measured.File{}
	s, err := bringup.New(parts, f)
	if err != nil {
		t.Fatal(err)
	}
	if err := s.Run(t.Context()); err != nil {
		t.Fatalf("%s: %v", kind, err)
	}
	if f.Machine != "twin, built askew, through "+kind || f.Gap == nil || f.Speed == nil {
		t.Errorf("%s: %+v", kind, f)
	}
	return f.Axes, f.Camera
}
