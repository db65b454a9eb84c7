// SPDX-License-Identifier: Apache-2.0

package session

import (
	"bytes"
	"context"
	"io"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"boardhand/internal/carry"
	"boardhand/internal/carry/plan"
	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/gantry/built"
	"boardhand/internal/gantry/clock"
	"boardhand/internal/gantry/firmware"
	numbered "boardhand/internal/gantry/firmware/settings"
	"boardhand/internal/gantry/gcode"
	"boardhand/internal/gantry/wire"
	"boardhand/internal/motion"
	"boardhand/internal/photo"
	"boardhand/internal/rig"
	"boardhand/internal/sight"
	"boardhand/internal/table/desk"
	"boardhand/internal/table/journal"
	"boardhand/internal/table/lookout"
	"boardhand/internal/table/model"
	"boardhand/internal/table/view"
	"boardhand/internal/twin"
)

// stamped is a wire that notes when a feed hold was written to it.
type stamped struct {
	io.ReadWriteCloser
	at *atomic.Int64
}

func (w stamped) Write(p []byte) (int, error) {
	n, err := w.ReadWriteCloser.Write(p)
	if bytes.IndexByte(p, '!') >= 0 {
		w.at.Store(time.Now().UnixNano())
	}
	return n, err
}

// timed is the reader, which notes when it has read a hand.
type timed struct {
	*sight.Reader
	done time.Time
}

func (r *timed) InWay(ctx context.Context, p photo.Picture, w sight.Way) (sight.Obstacle, error) {
	o, err := r.Reader.InWay(ctx, p, w)
	if o.IsHand {
		r.done = time.Now()
	}
	return o, err
}

// script shows pictures while a motion runs: the first once it is under way.
type script struct {
	pictures []photo.Picture
	came     time.Time // when the first one did
}

func (s *script) During(ctx context.Context, motion func(context.Context) error, look func(context.Context, photo.Picture, error)) error {
	ended := make(chan error, 1)
	go func() { ended <- motion(ctx) }()
	time.Sleep(300 * time.Millisecond)
	for i, p := range s.pictures {
		if i == 0 {
			s.came = time.Now()
		}
		look(ctx, p, nil)
		time.Sleep(100 * time.Millisecond)
	}
	return <-ended
}

// handPictures are a picture of a hand over the board, and two clear ones; the reader has
// seen the board before.
func handPictures(b *testing.B, bench *Bench) []photo.Picture {
	b.Helper()
	ctx, eye := b.Context(), bench.World.Camera()
	look := func() photo.Picture {
		p, err := eye.Look(ctx)
		if err != nil {
			b.Fatal(err)
		}
		return p
	}
	for range 2 {
		if r, err := bench.Eye.Read(ctx, look()); err != nil || r.State != sight.Same {
			b.Fatal(r.State, err)
		}
	}
	clear := []photo.Picture{look(), look()}
	from, to := chess.SquareAt(4, 1), chess.SquareAt(4, 3)
	for range 10 { // visits, of which each is seen once, at any moment
		if err := bench.World.Visitor().MovePiece(from, to); err != nil {
			b.Fatal(err)
		}
		from, to = to, from
		p := look()
		if o, err := bench.Eye.InWay(ctx, p, sight.Way{}); err == nil && o.IsHand {
			return append([]photo.Picture{p}, clear...)
		}
		bench.World.Visitor().Finish()
	}
	b.Fatal("no picture shows the hand")
	return nil
}

// lineMotors is a G-code driver on a simulated controller, homed.
func lineMotors(b *testing.B, at *atomic.Int64) (*gcode.Gantry, *rig.Rig) {
	b.Helper()
	text := strings.NewReplacer(`kind = "twin"               #`, "kind = \"gcode\"\nport = \"none\"\n#", `drive = "rack"`, "drive = \"belt\"\npitch = \"2 mm\"",
		"teeth = 16", "teeth = 20", "module = \"1 mm\"\n", "", "counts = 360 ", "counts = 3200 ", "counts = 360\n", "counts = 3200\n").Replace(rig.DefaultText)
	r, err := rig.Parse("rig.toml", []byte(text), rig.Machine)
	if err != nil {
		b.Fatal(err)
	}
	set := map[int]float64{numbered.SoftLimits: 1, numbered.Homing: 1, numbered.HomingSide: 7, numbered.HomingFeed: 100, numbered.HomingSeek: 3000, numbered.PullOff: 2,
		100: 80, 101: 80, 102: 400, 110: 7200, 111: 7200, 112: 2400, 120: 400, 121: 400, 122: 400, 130: 338, 131: 338, 132: 30}
	m := built.New(built.Axis{PerMM: 80, Length: 340, Start: 20, SwitchAt: 0.5}, built.Axis{PerMM: 80, Length: 340, Start: 20, SwitchAt: 0.5}, built.Axis{PerMM: 400, Length: 40, Start: 9, SwitchAt: 0.5})
	port := &wire.Port{Serve: firmware.NewServer(firmware.New(firmware.Motors{Machine: m}, firmware.Options{Settings: set}), clock.New(1)).Serve}
	g, err := gcode.New(r, func() (io.ReadWriteCloser, error) {
		w, err := port.Open(port.Names()[0])
		return stamped{w, at}, err
	}, func(s string) { b.Log(s) })
	if err != nil {
		b.Fatal(err)
	}
	if _, err := g.Home(b.Context()); err != nil {
		b.Fatal(err)
	}
	b.Cleanup(func() { _ = g.Close() })
	return g, r
}

// BenchmarkHandToFeedHold measures, in the middle of strokes, from the moment a picture
// with a hand has come to the feed hold on the controller's wire: reading-ms is what the
// reader takes, rest-ms all else on the way, both on average; rest-most-ms at most.
func BenchmarkHandToFeedHold(b *testing.B) {
	bench, err := SetUp(rig.Default(), chess.Start(), twin.Options{Seed: 2, Visitor: true})
	if err != nil {
		b.Fatal(err)
	}
	var at atomic.Int64
	pictures, eye := handPictures(b, bench), &timed{Reader: bench.Eye}
	g, r := lineMotors(b, &at)
	m := model.NewModel(settings(r).Machine, journal.Past{Game: chess.NewGame(chess.Start())})
	r2 := &reaching{stop: func() {}}
	d := desk.NewDesk(m, r2, r2, "")
	watch, gearing := &script{pictures: pictures}, carry.NewGearing(r, r.MachineFromBoard())
	look := lookout.New(lookout.Parts{Watch: watch, Guard: eye, Holder: g, OnBoard: gearing.Carriage}, d, m, view.NewView(view.Sources{Witness: bench.Eye}, d, m))
	ends := []frame.Spot[frame.Board]{{X: -0.05}, {X: 0.05}}
	var reading, rest, most time.Duration
	for i := 0; b.Loop(); i++ {
		from, to := ends[i%2], ends[(i+1)%2]
		step := plan.Step{Do: plan.Carry, Piece: chess.MakePiece(chess.Black, chess.Rook), Path: ends, PiecePath: []frame.Spot[frame.Board]{from, to}, From: chess.NoSquare, To: chess.NoSquare}
		s := motion.Stroke{Path: []frame.Spot[frame.Machine]{g.At(), r.MachineFromBoard().Apply(to.At(0)).Spot()}, Speed: 0.06, Accel: 0.4, Jerk: 4, Blend: motion.Blend}
		err := look.While(b.Context(), step, func(ctx context.Context) error {
			_, err := g.Move(ctx, s)
			return err
		})
		if err != nil {
			b.Fatal(err)
		}
		held := time.Unix(0, at.Load()).Sub(eye.done)
		reading, rest, most = reading+eye.done.Sub(watch.came), rest+held, max(most, held)
	}
	n := float64(b.N)
	b.ReportMetric(float64(reading)/n/1e6, "reading-ms")
	b.ReportMetric(float64(rest)/n/1e6, "rest-ms")
	b.ReportMetric(float64(most)/1e6, "rest-most-ms")
}
