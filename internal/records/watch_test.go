// SPDX-License-Identifier: Apache-2.0

package records

import (
	"bytes"
	"context"
	"io"
	"strings"
	"testing"

	"boardhand/internal/chess"
	"boardhand/internal/follow"
	"boardhand/internal/photo"
	"boardhand/internal/rig"
	"boardhand/internal/sight"
	"boardhand/internal/terminal"
	"boardhand/internal/twin"
)

// seen is a picture of the start of a game, read as told.
func seen(r sight.Reading) follow.Sighting {
	s := follow.Sighting{Picture: photo.Picture{Name: "frame_0001.jpg"}, Reading: r, Before: chess.Start(), After: chess.Start()}
	if r.State == sight.Moved {
		s.After = s.Before.After(r.Move)
	}
	return s
}

func move(t *testing.T, text string) chess.Move {
	t.Helper()
	pos := chess.Start()
	m, err := pos.ParseUCI(text)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// Each state of a reading has its line.
func TestLinesOfReadings(t *testing.T) {
	e4, d4 := move(t, "e2e4"), move(t, "d2d4")
	back, set := seen(sight.Reading{State: sight.Same}), seen(sight.Reading{State: sight.Same})
	back.TakenBack, set.IsSetUp = 2, true
	for _, c := range []struct {
		s    follow.Sighting
		want string
	}{
		{seen(sight.Reading{State: sight.Same, Belief: 0.99}), "frame_0001.jpg       same"},
		{seen(sight.Reading{State: sight.Hand, Squares: []chess.Square{e4.To()}}), "frame_0001.jpg       hand"},
		{seen(sight.Reading{State: sight.Moved, Move: e4, Belief: 0.99999}), "frame_0001.jpg       move     e4       e2e4   belief 1.0000"},
		{seen(sight.Reading{State: sight.Illegal, Squares: []chess.Square{e4.From(), d4.To()}}), "frame_0001.jpg       illegal  differs on e2 d4"},
		{seen(sight.Reading{State: sight.Partial, Squares: []chess.Square{e4.From()}}), "frame_0001.jpg       partial  differs on e2"},
		{seen(sight.Reading{State: sight.Unsure, Candidates: []sight.Candidate{{Move: e4, Belief: 0.6}, {Move: d4, Belief: 0.3}, {Belief: 0.1}}}),
			"frame_0001.jpg       unsure   which? e4 0.60, d4 0.30, nothing 0.10"},
		{back, "frame_0001.jpg       same      taken back: 2"},
		{set, "frame_0001.jpg       same      set up"},
	} {
		if got := LineOf(c.s).Text(); got != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
}

// A belief is never printed as certain when it is not.
func TestBeliefIsRoundedDown(t *testing.T) {
	if l := LineOf(seen(sight.Reading{State: sight.Same, Belief: 0.9999999})); l.Belief != 0.99999 {
		t.Errorf("%v", l.Belief)
	}
}

// Candidates are told of a doubt alone.
func TestCandidatesOfADoubt(t *testing.T) {
	all := []sight.Candidate{{Move: move(t, "e2e4"), Belief: 0.6}}
	if l := LineOf(seen(sight.Reading{State: sight.Moved, Move: all[0].Move, Candidates: all})); len(l.Candidates) > 0 || l.SAN != "e4" || !strings.HasPrefix(l.FEN, "rnbqkbnr/pppppppp/8/8/4P3/") {
		t.Errorf("%+v", l)
	}
}

// What a person can do is said with the picture's name, and nothing where there is
// nothing to do.
func TestStuck(t *testing.T) {
	var errs bytes.Buffer
	w := &Watching{o: &terminal.Out{W: &bytes.Buffer{}, Err: &errs}}
	m := follow.Misfit{Frame: "frame_0004.jpg", Pictures: 3, Squares: []chess.Square{move(t, "e2e4").To(), move(t, "d2d4").To()}}
	if w.Stuck(m); errs.Len() > 0 {
		t.Errorf("without a hint it says %q", errs.String())
	}
	w.Hint = "write `%[1]s e2e4`"
	w.Stuck(m)
	if want := "frame_0004.jpg: 3 pictures in a row do not fit the position: see e4, d4. If this stays, write `frame_0004.jpg e2e4`\n"; errs.String() != want {
		t.Errorf("%q, want %q", errs.String(), want)
	}
}

// Pictures that all show a hand are told of though nobody answers.
func TestStuckAtAHand(t *testing.T) {
	var errs bytes.Buffer
	w := &Watching{o: &terminal.Out{W: &bytes.Buffer{}, Err: &errs}}
	w.Stuck(follow.Misfit{Frame: "frame_0014.jpg", Pictures: 10, IsHand: true})
	if want := "frame_0014.jpg: 10 pictures in a row show a hand. If there is none, light or noise is taken for one: put more light"; !strings.HasPrefix(errs.String(), want) {
		t.Errorf("%q", errs.String())
	}
}

// A picture that cannot be read is told of to people, and to programs besides.
func TestFailed(t *testing.T) {
	for _, json := range []bool{false, true} {
		var out, errs bytes.Buffer
		w := &Watching{o: &terminal.Out{W: &out, Err: &errs, JSON: json}}
		w.Failed("frame_0001.jpg", "frame_0001.jpg is no picture")
		if errs.String() != "frame_0001.jpg is no picture\n" || (out.String() == `{"error":"frame_0001.jpg is no picture","frame":"frame_0001.jpg"}`+"\n") != json {
			t.Errorf("json %v: %q and %q", json, out.String(), errs.String())
		}
	}
}

// Moves that were missed are told together, each with its belief.
func TestLateMoves(t *testing.T) {
	pos := chess.Start()
	var plies []sight.Ply
	for _, text := range []string{"e2e4", "e7e5"} {
		m, err := pos.ParseUCI(text)
		if err != nil {
			t.Fatal(err)
		}
		plies, pos = append(plies, sight.Ply{Move: m, Belief: 0.98}), pos.After(m)
	}
	s := seen(sight.Reading{State: sight.Several, Plies: plies, Belief: 0.985})
	s.After = pos
	l := LineOf(s)
	if l.State != "move" || !l.Late || l.Move != "e7e5" || l.SAN != "e4 e5" || strings.Join(l.Moves, " ") != "e2e4 e7e5" || len(l.Beliefs) != 2 || l.Beliefs[0] != 0.98 {
		t.Errorf("%+v", l)
	}
	if text := l.Text(); !strings.Contains(text, "e4 e5") || !strings.Contains(text, "2 moves") {
		t.Error(text)
	}
}

// shots are pictures of one table, one of each position.
type shots []photo.Picture

// Look takes the next one.
func (s *shots) Look(context.Context) (photo.Picture, error) {
	if len(*s) == 0 {
		return photo.Picture{}, io.EOF
	}
	p := (*s)[0]
	*s = (*s)[1:]
	return p, nil
}

// shoot takes a picture of a twin's table with each of the positions.
func shoot(t *testing.T, r *rig.Rig, fens ...string) (out shots) {
	t.Helper()
	for _, fen := range fens {
		w, err := twin.New(r, twin.Options{Seed: 1, FEN: fen})
		if err != nil {
			t.Fatal(err)
		}
		p, err := w.Camera().Look(t.Context())
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, p)
	}
	return out
}

// watched follows pictures and returns the reader with what was printed.
func watched(t *testing.T, r *rig.Rig, pos chess.Position, from shots) (eye *sight.Reader, out, errs string) {
	t.Helper()
	var o, e bytes.Buffer
	eye, w, err := NewWatch(&terminal.Out{W: &o, Err: &e}, r, "")
	if err != nil {
		t.Fatal(err)
	}
	eye.Begin(pos)
	if err := follow.New(eye, nil, w).Run(t.Context(), &from); err != nil {
		t.Fatal(err)
	}
	return eye, o.String(), e.String()
}

// What no game comes to is a board all the same: nine pawns, as a teacher sets them up, are
// watched like any others.
func TestOddSetUpIsWatched(t *testing.T) {
	var said bytes.Buffer
	pos, err := SetUp(&terminal.Out{Err: &said}, "4k3/8/8/8/8/P7/PPPPPPPP/4K3 w - -")
	if err != nil || said.String() != "boardhand: --fen: no game comes to this position: white must have at most 8 pawns; got 9; it is watched all the same\n" {
		t.Fatalf("%v; it says %q", err, said.String())
	}
	m, err := pos.ParseUCI("a3a4")
	if err != nil {
		t.Fatal(err)
	}
	then, r := pos.After(m), rig.Default()
	eye, out, errs := watched(t, r, pos, shoot(t, r, pos.FEN(), then.FEN()))
	if got := eye.Position(); got.FEN() != then.FEN() {
		t.Errorf("watched to %s, want %s\n%s%s", got.FEN(), then.FEN(), out, errs)
	}
}

// A board that is seen larger than when bring-up measured the camera is told of once.
func TestWatchTellsOfATurnedZoom(t *testing.T) {
	r := rig.Default()
	r.Path = "mine/rig.toml"
	pictures := shoot(t, r, "", "")
	eye, _, errs := watched(t, r, chess.Start(), pictures[:1])
	was, ok := eye.View()
	if !ok || errs != "" {
		t.Fatalf("found: %v; it says %q", ok, errs)
	}
	was.Lens.Fx, was.Lens.Fy = was.Lens.Fx/1.03, was.Lens.Fy/1.03
	r.Seen, r.Hung = &was, true
	const want = "% larger than when bring-up measured the camera, from the same side: if zoom or focus were turned, run `boardhand bringup mine/rig.toml --again lens`"
	if _, _, errs = watched(t, r, chess.Start(), pictures); strings.Count(errs, want) != 1 {
		t.Errorf("it says %q", errs)
	}
}
