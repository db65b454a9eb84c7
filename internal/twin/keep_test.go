// SPDX-License-Identifier: Apache-2.0

package twin

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"boardhand/internal/chess"
	"boardhand/internal/notice"
	"boardhand/internal/rig"
	"boardhand/internal/twin/person"
)

// again is the world as a program finds it that starts after another was
// killed at this moment.
func again(t *testing.T, w *World, fen string) *World {
	t.Helper()
	text, err := os.ReadFile(w.opts.Keep)
	must(t, err)
	path := filepath.Join(t.TempDir(), "world")
	must(t, os.WriteFile(path, text, 0o644))
	o := w.opts
	o.Keep, o.FEN, o.Seed, o.Deviations = path, fen, 0, nil
	n, err := New(w.rig, o)
	must(t, err)
	return n
}

func keptWorld(t *testing.T, r *rig.Rig, o Options) *World {
	t.Helper()
	o.Keep = filepath.Join(t.TempDir(), "world")
	w, err := New(r, o)
	must(t, err)
	return w
}

// state is what must outlast a killed program, as text.
func (w *World) state() string {
	k := w.record()
	k.Guest, k.Camera.Taken = person.Memory{}, 0
	return fmt.Sprintf("%+v", k)
}

// A world that is read back is the world that was kept, to the last bit, and
// goes on as the other does.
func TestKeptWorldIsTheSame(t *testing.T) {
	o := Options{Seed: 7, Faults: []Fault{Slip, MagnetOffCentre, LiftStaysUp, LightChange, BumpCamera}}
	w := keptWorld(t, small(), o)
	tell(t, w, yourMove)
	looks(t, w)
	arrived(t, tow(t, w, 0.06, 0.4, w.on("e7"), w.on("e5")))
	for range 30 {
		_, err := w.Camera().Look(context.Background())
		must(t, err)
	}
	w.keep()
	p := chess.Start()
	p = p.After(w.Truth().Guest)
	n := again(t, w, p.FEN())
	if a, b := w.state(), n.state(); a != b {
		t.Fatalf("kept\n%s\nread\n%s", a, b)
	}
	for _, x := range []*World{w, n} {
		arrived(t, tow(t, x, 0.06, 0.4, x.on("d7"), x.on("d5")))
	}
	for i, a := range w.Truth().Pieces {
		if b := n.Truth().Pieces[i]; a != b {
			t.Errorf("went on differently: %+v and %+v", a, b)
		}
	}
}

// A program killed in the middle of a carry finds the piece between the
// squares and the magnet up, and the axes have no zeros.
func TestKilledInTheMiddleOfACarry(t *testing.T) {
	w := keptWorld(t, rig.Default(), Options{Seed: 1, FEN: kings})
	ctx := context.Background()
	_, err := w.Gantry().Home(ctx)
	must(t, err)
	must(t, stroke(t, w, 0.1, 0.4, w.on("d5")))
	must(t, w.Gantry().Lift(ctx, true))
	var n *World
	w.person.After(0.8, func() { n = again(t, w, kings) })
	must(t, stroke(t, w, 0.06, 0.4, w.on("d5"), w.on("d2")))
	rook := n.table.Pieces[1]
	if y := n.on("d5").Y - rook.At.Y; y < 0.02 || y > 0.06 {
		t.Errorf("the piece is %.1f mm on", y*1e3)
	}
	if n.carriage.Lift != 1 || n.table.Gripped() != rook || n.homed {
		t.Errorf("lift %v, grip %v, homed %v", n.carriage.Lift, n.table.Gripped(), n.homed)
	}
	if err := stroke(t, n, 0.06, 0.4, n.on("d2")); !errors.Is(err, ErrNoHome) {
		t.Errorf("a stroke: %v", err)
	}
	_, err = n.Gantry().Home(ctx)
	must(t, err)
}

// A guest is not killed with the program: at whatever moment of their move it
// goes, the move stands there in the end, and no other.
func TestKilledWhileTheGuestMoves(t *testing.T) {
	for seed := int64(1); seed <= 3; seed++ {
		for _, fen := range []string{"", "4k3/8/8/3p4/4P3/8/8/4K2R w K - 0 1"} {
			w := keptWorld(t, small(), Options{Seed: seed, FEN: fen})
			pos, err := startPosition(fen)
			must(t, err)
			tell(t, w, notice.Notice{Kind: notice.YourMove, FEN: pos.FEN()})
			var kills []*World
			for w.person.IsBusy() {
				w.person.Elapse(0.5)
				kills = append(kills, again(t, w, pos.FEN()))
			}
			for i, n := range kills {
				tell(t, n, notice.Notice{Kind: notice.YourMove, FEN: pos.FEN()})
				looks(t, n)
				m := n.Truth().Guest
				if !pos.Legal(m) {
					t.Fatalf("seed %d, kill %d: played %v", seed, i, m)
				}
				checkBoard(t, n, pos.After(m))
			}
		}
	}
}

// A piece that the guest held for another reason goes back to where it was.
func TestKilledWhileTheGuestHolds(t *testing.T) {
	w := keptWorld(t, small(), Options{Seed: 1, FEN: kings})
	pos, err := chess.ParseFEN(kings)
	must(t, err)
	tell(t, w, notice.Notice{Kind: notice.PleaseTake, Squares: []chess.Square{chess.SquareAt(3, 4)}})
	for w.person.Hand().Holds == nil {
		w.person.Elapse(0.1)
	}
	n := again(t, w, kings)
	looks(t, n)
	checkBoard(t, n, pos)
}

func TestKeptWorldIsRefused(t *testing.T) {
	w := keptWorld(t, small(), Options{Seed: 1, FEN: kings})
	text, err := os.ReadFile(w.opts.Keep)
	must(t, err)
	for name, bad := range map[string]string{
		"half":         string(text[:len(text)/2]),
		"empty":        "",
		"other":        strings.Replace(string(text), `"twin_world":1`, `"twin_world":9`, 1),
		"unknown":      strings.Replace(string(text), `"lift"`, `"loft"`, 1),
		"twice":        string(text) + string(text),
		"out of room":  strings.Replace(string(text), `"at":{"X":`, `"at":{"X":9`, 1),
		"held nowhere": strings.Replace(string(text), `"holds":-1`, `"holds":7`, 1),
		"squares":      strings.Replace(string(text), `"square":0.04`, `"square":0.05`, 1),
	} {
		if bad == string(text) {
			t.Fatalf("%s: nothing was changed", name)
		}
		must(t, os.WriteFile(w.opts.Keep, []byte(bad), 0o644))
		if _, err := New(small(), Options{Keep: w.opts.Keep, FEN: kings}); err == nil || !strings.Contains(err.Error(), "delete it") {
			t.Errorf("%s: %v", name, err)
		}
	}
	if _, err := New(small(), Options{Keep: filepath.Join(t.TempDir(), "none", "world")}); err == nil {
		t.Error("kept a world in a folder that is not there")
	}
}

// What is accepted can be written and is read back as the same.
func FuzzParseKept(f *testing.F) {
	w, err := New(small(), Options{Seed: 1, FEN: kings})
	must(f, err)
	text, err := json.Marshal(w.record())
	must(f, err)
	f.Add(text)
	f.Add([]byte(`{"twin_world":1}`))
	f.Fuzz(func(t *testing.T, text []byte) {
		k, err := parseKept(text)
		if err != nil {
			return
		}
		out, err := json.Marshal(k)
		must(t, err)
		back, err := parseKept(out)
		must(t, err)
		if a, b := fmt.Sprintf("%+v", k), fmt.Sprintf("%+v", back); a != b {
			t.Fatalf("%s\n%s", a, b)
		}
	})
}
