// SPDX-License-Identifier: Apache-2.0

package session

import (
	"io"
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"boardhand/internal/bringup"
	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/measured"
	"boardhand/internal/optics"
	"boardhand/internal/rig"
	"boardhand/internal/sight"
	"boardhand/internal/terminal"
	"boardhand/internal/twin"
)

// lensOf measures lens and camera of a twin, as bring-up does, and nothing else.
func lensOf(t *testing.T, r *rig.Rig, q *twin.Deviations) *measured.File {
	t.Helper()
	w, err := twin.New(r, twin.Options{Seed: 1, Deviations: q, Visitor: true, Pieces: slices.Repeat([]chess.Piece{chess.NoPiece}, 64)})
	if err != nil {
		t.Fatal(err)
	}
	f := &measured.File{}
	s, err := bringup.New(bringup.Parts{Rig: r, Machine: "this twin", Gantry: w.Gantry(), Camera: w.Camera(), Now: time.Now,
		Maker: &atTerminal{out: &terminal.Out{W: io.Discard}, yes: true, rig: r, world: w}, Save: func(*measured.File) error { return nil }}, f)
	if err != nil {
		t.Fatal(err)
	}
	for _, step := range bringup.Steps {
		if step.Name == "lens" || step.Name == "camera" {
			if err := s.Do(t.Context(), step); err != nil {
				t.Fatal(err)
			}
		}
	}
	return f
}

// seenBy is how a reader of the rig sees a picture of the start, by how many pixels it is off from
// the truth at most, on the board and at the height of a king over it, and by how much its pieces' offsets are in the mean square.
func seenBy(t *testing.T, r *rig.Rig, w *twin.World) (px, offset float64) {
	t.Helper()
	eye, err := NewEye(r)
	if err != nil {
		t.Fatal(err)
	}
	eye.Begin(chess.Start())
	var read sight.Reading
	for range 2 {
		p, err := w.Camera().Look(t.Context())
		if err != nil {
			t.Fatal(err)
		}
		if read, err = eye.Read(t.Context(), p); err != nil {
			t.Fatal(err)
		}
	}
	if read.State != sight.Same {
		t.Errorf("the start is read as %v", read.State)
	}
	truth := w.Truth()
	view, _ := eye.View()
	for _, z := range []float64{0, float64(r.Pieces.Of(chess.King).Height)} {
		px = max(px, apart(view, truth.View, float64(r.Board.Square), z))
	}
	for _, o := range read.Offsets {
		for _, p := range truth.Pieces {
			if p.Square == o.Square {
				is := p.At.Sub(r.Board.Centre(o.Square.File(), o.Square.Rank()))
				off := o.Delta.Distance(is)
				offset += off * off / float64(len(read.Offsets))
			}
		}
	}
	return px, math.Sqrt(offset)
}

// apart is by how many pixels two views of the corners of the squares differ at most, at a height.
func apart(a, b optics.View, square, z float64) (most float64) {
	for k := range 81 {
		at := frame.Point[frame.Board]{X: float64(k%9-4) * square, Y: float64(k/9-4) * square, Z: z}
		p, _ := a.Project(at)
		q, _ := b.Project(at)
		most = max(most, p.Distance(q))
	}
	return most
}

// A lens that bends strongly is seen through as bring-up measured it: better than by the one picture.
func TestReaderTakesTheLensThatWasMeasured(t *testing.T) {
	r := rig.Default()
	q, err := twin.NoDeviations(r)
	if err != nil {
		t.Fatal(err)
	}
	q.K1, q.K2, q.PrincipalX, q.PrincipalY = -0.30, 0.09, 9, -7
	q.CameraShift, q.CameraTurn, q.FocalScale = frame.Point[frame.Board]{X: 0.012, Y: -0.009, Z: 0.008}, [3]float64{0.02, -0.015, 0.01}, 1.02
	f := lensOf(t, r, &q)
	w, err := twin.New(r, twin.Options{Seed: 1, Deviations: &q})
	if err != nil {
		t.Fatal(err)
	}
	plain, plainOffset := seenBy(t, r, w)
	if text := f.Apply(r, "this twin"); r.Seen == nil || text == "" {
		t.Fatalf("the lens is not taken: %q", text)
	}
	with, withOffset := seenBy(t, r, w)
	t.Logf("off by %.2f px and %.3f mm by the picture alone, %.2f px and %.3f mm with the lens measured", plain, plainOffset*1e3, with, withOffset*1e3)
	const spread = 0.12e-3 // m: of an rms of 1 mm over the 32 pieces, 1/√64 of it
	if with > 0.5 || with > plain/2 || withOffset > plainOffset+spread {
		t.Errorf("with the lens measured it is off by %.2f px, without by %.2f px", with, plain)
	}
	q.K1, q.K2 = 0, 0 // another lens was screwed in since
	if w, err = twin.New(r, twin.Options{Seed: 1, Deviations: &q}); err != nil {
		t.Fatal(err)
	}
	other, _ := seenBy(t, r, w)
	r.Seen = nil
	if plain, _ = seenBy(t, r, w); math.Abs(other-plain) > 0.2 { // the lens of before would move corners by ten
		t.Errorf("another lens is off by %.2f px with that of before, %.2f px without", other, plain)
	}
}

// firstSight is a reader that has read a picture of a twin's start.
func firstSight(t *testing.T, r *rig.Rig, q *twin.Deviations) *sight.Reader {
	t.Helper()
	w, err := twin.New(r, twin.Options{Seed: 1, Deviations: q})
	if err != nil {
		t.Fatal(err)
	}
	eye, err := NewEye(r)
	if err != nil {
		t.Fatal(err)
	}
	eye.Begin(chess.Start())
	p, err := w.Camera().Look(t.Context())
	if err == nil {
		_, err = eye.Read(t.Context(), p)
	}
	if err != nil {
		t.Fatal(err)
	}
	return eye
}

// A zoom that was turned since bring-up is noticed by the first picture, and another lens; a camera
// that hangs where it hung, or that was bumped or moved, is not accused.
func TestZoomTurnedSinceBringUpIsNoticed(t *testing.T) {
	r := rig.Default()
	r.Path = "mine/rig.toml"
	is, err := twin.Build("drawn", r, 1)
	if err != nil {
		t.Fatal(err)
	}
	if text := lensOf(t, r, &is).Apply(r, "this twin"); r.Seen == nil || !r.Hung || text == "" {
		t.Fatalf("the lens is not taken: %q", text)
	}
	for _, c := range []struct {
		name   string
		change func(*twin.Deviations)
		larger float64 // 0: nothing is said
		words  string
	}{
		{"as it was", func(*twin.Deviations) {}, 0, ""},
		{"zoomed in by 3 %", func(q *twin.Deviations) { q.FocalScale *= 1.03 }, 0.03, "larger than when bring-up measured the camera, from the same side: if zoom or focus were turned, run `boardhand bringup mine/rig.toml --again lens`"},
		{"zoomed out by 3 %", func(q *twin.Deviations) { q.FocalScale /= 1.03 }, 1/1.03 - 1, "smaller than when"},
		{"bumped", func(q *twin.Deviations) {
			q.CameraShift = q.CameraShift.Add(frame.Point[frame.Board]{X: 0.008, Y: -0.005, Z: -0.010})
			q.CameraTurn[0], q.CameraTurn[1] = q.CameraTurn[0]+0.008, q.CameraTurn[1]-0.006
		}, 0, ""},
		{"moved along its arm, which sagged", func(q *twin.Deviations) {
			q.CameraShift = q.CameraShift.Add(frame.Point[frame.Board]{X: 0.012, Z: -0.009})
		}, 0, ""},
		{"turned", func(q *twin.Deviations) { q.CameraTurn[2] += 0.03 }, 0, ""},
		{"another lens", func(q *twin.Deviations) { q.K1, q.K2 = -0.30, 0.09 }, 1, "bends otherwise than bring-up measured it"},
	} {
		t.Run(c.name, func(t *testing.T) {
			q := is
			c.change(&q)
			eye := firstSight(t, r, &q)
			view, _ := eye.View()
			got, isChanged := r.LensChanged(view)
			t.Logf("%v %+v; k1 %.3f, measured %.3f", isChanged, got, view.Lens.K1, r.Seen.Lens.K1)
			if isChanged != (c.larger != 0) || isChanged && !strings.Contains(got.Words(r.Path), c.words) || isChanged && !got.IsOther && math.Abs(got.Larger-c.larger) > 0.003 {
				t.Errorf("changed: %v, %+v", isChanged, got)
			}
			if got.IsOther == (view.Lens == r.Seen.Lens) {
				t.Errorf("the lens is seen through as measured: %v; another one: %v", view.Lens == r.Seen.Lens, got.IsOther)
			}
			var check LensCheck
			if said, again := check.Words(r, eye), check.Words(r, eye); again != "" || isChanged && !strings.Contains(said, c.words) || !isChanged && said != "" {
				t.Errorf("first it says %q, then %q", said, again)
			}
		})
	}
}
