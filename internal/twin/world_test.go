// SPDX-License-Identifier: Apache-2.0

package twin

import (
	"bytes"
	"context"
	"fmt"
	"strings"
	"testing"
	"time"

	"boardhand/internal/chess"
	"boardhand/internal/notice"
	"boardhand/internal/rig"
	"boardhand/internal/twin/mechanics"
)

// evening plays a little of everything and returns a record of it.
func record(t *testing.T, seed int64) (string, []byte) {
	t.Helper()
	w, err := New(small(), Options{Seed: seed, Faults: []Fault{Slip, LightChange, SloppyGuest}})
	must(t, err)
	ctx := context.Background()
	tell(t, w, notice.Notice{Kind: notice.YourMove})
	looks(t, w)
	must(t, tow(t, w, 0.06, 0.4, w.on("e7"), w.on("e5")))
	p, err := w.Camera().Look(ctx)
	must(t, err)
	return fmt.Sprintf("%+v", w.Truth()), p.JPEG
}

// The same seed is the same world to the last bit; another seed is another.
func TestSameSeedSameWorld(t *testing.T) {
	a, pa := record(t, 11)
	b, pb := record(t, 11)
	c, _ := record(t, 12)
	if a != b || !bytes.Equal(pa, pb) {
		t.Error("two runs with one seed differ")
	}
	if a == c {
		t.Error("two seeds gave one world")
	}
}

func TestNewSaysWhatIsWrong(t *testing.T) {
	if _, err := New(rig.Default(), Options{Faults: []Fault{"gremlins"}}); err == nil {
		t.Error("took a fault it does not know")
	}
	if _, err := New(rig.Default(), Options{FEN: "8/8"}); err == nil {
		t.Error("took half a FEN")
	}
	r := rig.Default()
	r.Lift.Grade = "N1"
	if _, err := New(r, Options{}); err == nil {
		t.Error("took a magnet grade that does not exist")
	}
	if f, err := ParseFaults("slip, bump_camera"); err != nil || len(f) != 2 {
		t.Errorf("ParseFaults: %v, %v", f, err)
	}
	if _, err := ParseFaults("slip,x"); err == nil {
		t.Error("ParseFaults took x")
	}
}

// Deviations stay within what built machines show, and nothing falls over or
// slides off its square at set-up.
func TestManySetUps(t *testing.T) {
	for seed := int64(0); seed < 40; seed++ {
		w, err := New(rig.Default(), Options{Seed: seed})
		must(t, err)
		checkBoard(t, w, chess.Start())
		if c := w.Truth().Counters; c != (Counters{}) {
			t.Errorf("seed %d: %+v before anything was done", seed, c)
		}
	}
}

// The mechanics of a full board run more than 200 times faster than the world.
func BenchmarkFullBoardSecond(b *testing.B) {
	w, err := New(rig.Default(), Options{Seed: 1})
	must(b, err)
	_, err = w.Gantry().Home(context.Background())
	must(b, err)
	must(b, stroke(b, w, 0.1, 0.4, w.on("d7")))
	must(b, w.Gantry().Lift(context.Background(), true))
	for b.Loop() {
		for range int(1 / mechanics.Step) {
			w.advance()
			w.table.WatchGrip(w.magnet())
		}
	}
}

// At pace the world keeps time with the clock, and pictures can be taken while
// the carriage runs.
func TestPace(t *testing.T) {
	w, err := New(small(), Options{Seed: 1, Pace: 10})
	must(t, err)
	ctx := context.Background()
	_, err = w.Gantry().Home(ctx)
	must(t, err)
	begun, before := time.Now(), w.Truth().Time
	done := make(chan error)
	go func() { done <- stroke(t, w, 0.1, 0.4, w.on("a1")) }()
	for range 3 {
		_, err := w.Camera().Look(ctx)
		must(t, err)
	}
	must(t, <-done)
	world, real := w.Truth().Time-before, time.Since(begun).Seconds()
	if real < world/10*0.9 {
		t.Errorf("%.2f s of the world took %.2f s at ten times its pace", world, real)
	}
}

// The twin's people play chess: a smaller field is refused in one sentence.
func TestFieldTooSmallForChess(t *testing.T) {
	r := small()
	r.Board.Ranks = 6
	if _, err := New(r, Options{Seed: 1}); err == nil || !strings.Contains(err.Error(), "has 8 × 6: set board.files to 8 and board.ranks to 8") {
		t.Errorf("%v", err)
	}
}
