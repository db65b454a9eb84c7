// SPDX-License-Identifier: Apache-2.0

package diagnosis

import (
	"math"
	"strings"
	"testing"

	"boardhand/internal/rig"
)

// bases are machines whose pieces stand on wider bases than the rig file says: a
// carry in seven pushes somebody beside its way, by as much as the bases overlap,
// and pictures see every piece beside its middle, the more the farther out.
func bases() []world {
	return []world{{BaseTooWide, 70, func(s *stream) func() Symptom {
		var next *Symptom
		return func() Symptom {
			if next != nil {
				c := *next
				next = nil
				return c
			}
			c := s.carry()
			c.Found = c.Found.Add(Spot{X: -0.015 * c.To.X, Y: -4e-3 - 0.01*c.To.Y})
			if s.rnd.Float64() > 1.0/7 {
				return c
			}
			d := c.To.Sub(c.From)
			side := Spot{X: -d.Y, Y: d.X}.Scale(1 / d.Norm())
			at := c.From.Add(d.Scale(s.rnd.Float64())).Add(side.Scale(0.02))
			next = &c
			return Symptom{Act: Carry, Outcome: Pushed, Piece: s.pieces[s.rnd.IntN(16)], Carrier: c.Piece, From: at, To: s.blur(at.Add(side.Scale(0.008)), 1e-3),
				Sigma: 1e-3, Path: c.Path, End: c.To, Ways: []Way{{Act: Carry, Carrier: c.Piece, Path: c.Path}}}
		}
	}}}
}

// Bases that a picture measures to be wider than told are named at once, with by how much.
func TestMeasuredBasesAreNamed(t *testing.T) {
	c, err := NewCase(rig.Default())
	if err != nil {
		t.Fatal(err)
	}
	for range 30 {
		c.Add(Symptom{Act: Look, Outcome: Done})
	}
	if got := c.Named(); len(got) != 0 {
		t.Fatalf("before anything was seen %v is named", got)
	}
	c.Add(Symptom{Act: Look, Outcome: WideBases, Amount: 1.9})
	got := c.Named()
	if len(got) != 1 || got[0].Cause != BaseTooWide || got[0].Piece != "" || !strings.Contains(got[0].Sentence, "1.9 times as wide") {
		t.Errorf("after bases 1.9 times as wide were measured %+v is named", got)
	}
}

// Pictures that are sharper than they say are believed as far as they were seen to
// be, by the pieces that nothing came near; a guess is never sharper.
func TestWatchLearnsHowWellPicturesMeasure(t *testing.T) {
	s, w := newStream(3), NewWatch(square)
	way := []Motion{{Act: Carry, Piece: s.pieces[0], To: Spot{X: 0.14, Y: 0.14}, Path: []Spot{{X: -0.14, Y: 0.14}, {X: 0.14, Y: 0.14}}}}
	stated := 5e-3
	look := func(shift Spot, isGuess bool) Scene {
		out := Scene{s.pieces[0]: {At: Spot{X: -0.14, Y: 0.14}, Sigma: 1e-3}}
		for i, p := range s.pieces[1:] {
			out[p] = Sighting{At: s.blur(Spot{X: 0.02 * float64(i-7), Y: -0.1}, 0.2*stated), Sigma: stated}
		}
		out[s.pieces[1]] = Sighting{At: Spot{X: 0, Y: 0.12}.Add(shift), Sigma: stated, IsGuess: isGuess}
		return out
	}
	told := func(isGuess bool) (n int) {
		for _, y := range w.Observe(nil, way, look(Spot{}, isGuess), look(Spot{Y: -0.012}, false)) {
			if y.Outcome == Pushed {
				n++
			}
		}
		return n
	}
	if n := told(true); n != 0 {
		t.Errorf("a push of 12 mm of a piece that nobody had measured is told %d times", n)
	}
	for range 20 {
		told(false)
	}
	if got := w.noise(Sighting{Sigma: stated}, Sighting{Sigma: stated}) / (math.Sqrt2 * stated); got < 0.15 || got > 0.3 {
		t.Errorf("pictures are taken to be wrong by %.2f of what they say, want 0.2", got)
	}
	if n := told(false); n != 1 {
		t.Errorf("a push of 12 mm is told %d times, by pictures that are wrong by 1 mm", n)
	}
	if n := told(true); n != 0 {
		t.Errorf("a push of 12 mm of a piece that nobody had measured is told %d times", n)
	}
}
