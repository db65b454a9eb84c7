// SPDX-License-Identifier: Apache-2.0

package conform_test

import (
	"io"
	"math"
	"math/rand/v2"
	"os"
	"testing"
	"time"

	"boardhand/internal/gantry/bed"
	"boardhand/internal/gantry/clock"
	"boardhand/internal/gantry/conform"
	"boardhand/internal/gantry/gcode"
	"boardhand/internal/gantry/wire"
	"boardhand/internal/motion"
	"boardhand/internal/unit"
)

// trail is a world that notes how far the carriage comes off a way.
type trail struct {
	way  []conform.Spot
	at   conform.Spot
	lift float64
	off  float64 // m, at most
}

func (w *trail) Turn(to conform.Spot, lift, _ float64) {
	w.at, w.lift = to, lift
	if len(w.way) == 0 {
		return
	}
	off := math.Inf(1)
	for i, b := range w.way[1:] {
		a := w.way[i]
		ab := b.Sub(a)
		share := max(0, min(1, to.Sub(a).Dot(ab)/ab.Dot(ab)))
		off = min(off, to.Distance(a.Add(ab.Scale(share))))
	}
	w.off = max(w.off, off)
}

// damager spoils one write of those that come.
type damager struct {
	io.ReadWriteCloser
	left  int // until the one; below 0: none
	ill   wire.Ill
	spoil *wire.Commands
	sent  string
}

func (d *damager) Write(p []byte) (int, error) {
	out := p
	if d.left--; d.left == 0 {
		out = d.spoil.Spoil(p, d.ill)
		d.sent = string(out)
	}
	if len(out) > 0 {
		if _, err := d.ReadWriteCloser.Write(out); err != nil {
			return 0, err
		}
	}
	return len(p), nil
}

// Whatever is lost, doubled or changed of one line of a carry: the magnet, raised, stays
// on its way until all stands still. A coordinate that was damaged is found before
// anything moves there.
func TestDamagedCarriesKeepToTheirWay(t *testing.T) {
	const seed, most = 11, 0.5e-3
	t.Log("seed", seed)
	runs := 120
	if os.Getenv("BOARDHAND_LONG") != "" {
		runs = 3000
	}
	rnd := rand.New(rand.NewPCG(seed, 0))
	worst, failed := 0.0, 0
	for range runs {
		ill := []wire.Ill{wire.Lost, wire.Doubled, wire.Changed, wire.Changed}[rnd.IntN(4)]
		w, d, err := damaged(t, ill, rnd)
		if err != nil {
			failed++
		}
		if worst = max(worst, w.off); w.off > most {
			t.Errorf("%s: %q took the magnet %.1f mm off its way (%v)", ill, d.sent, w.off*1e3, err)
		}
	}
	t.Logf("%d of %d carries broken off; %.3f mm off the way at most", failed, runs, worst*1e3)
	if failed < runs/3 || failed == runs {
		t.Error("nothing was put to the test")
	}
}

// damaged is one carry with one of its lines spoilt.
func damaged(t *testing.T, ill wire.Ill, rnd *rand.Rand) (*trail, *damager, error) {
	t.Helper()
	w, c := &trail{}, clock.NewVirtual()
	axis := bed.Axis{PerMM: 80, Travel: 336, Speed: 120, Accel: 400, Start: 5}
	l := bed.NewLines(bed.Build{Axes: [2]bed.Axis{axis, axis}, Drop: 20, Speed: 40, Lift: "axis", Baud: 115200}, w, c, wire.NewCommands(0, 1))
	defer l.Close()
	d := &damager{ill: ill, spoil: wire.NewCommands(0, rnd.Uint64())}
	r := lineRig(t)
	g, err := gcode.New(r, func() (_ io.ReadWriteCloser, err error) { d.ReadWriteCloser, err = l.Open(); return d, err }, nil)
	if err != nil {
		t.Fatal(err)
	}
	g.By(c)
	defer func() { _ = g.Close() }()
	path := []conform.Spot{{X: 0.1, Y: 0.1}, {X: 0.1, Y: 0.13}, {X: 0.18, Y: 0.21}, {X: 0.18, Y: 0.26}}
	carry := motion.Stroke{Path: path, Speed: 0.165, Accel: 0.5, Jerk: unit.Jerk(5), Blend: motion.Blend}
	at, err := g.Home(t.Context())
	if err == nil {
		travel := carry
		travel.Path = []conform.Spot{at, path[0]}
		_, err = g.Move(t.Context(), travel)
	}
	if err == nil {
		err = g.Lift(t.Context(), true)
	}
	if err != nil {
		t.Fatal(err)
	}
	w.way, d.left = path, 1+rnd.IntN(60)
	_, err = g.Move(t.Context(), carry)
	c.Wait(3 * time.Second)
	w.way = nil
	return w, d, err
}
