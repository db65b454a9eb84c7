// SPDX-License-Identifier: Apache-2.0

package diagnosis

import (
	"slices"
	"testing"
)

func TestObserve(t *testing.T) {
	knight, pawn, rook := Piece{"g8", "knight", "black"}, Piece{"e7", "pawn", "black"}, Piece{"a8", "rook", "black"}
	from, to := Spot{X: 0.1, Y: 0.14}, Spot{X: 0.06, Y: 0.06}
	at := func(p Spot) Sighting { return Sighting{At: p, Sigma: 0.3e-3} }
	did := []Motion{{Act: Travel, Path: []Spot{{}, from}}, {Act: Lift, Raised: true},
		{Act: Carry, Piece: knight, To: to, Path: []Spot{from, to}}, {Act: Lift}}
	before := Scene{knight: at(from), pawn: at(Spot{X: 0.09, Y: 0.1}), rook: at(Spot{X: -0.14, Y: 0.14})}
	w := NewWatch(square)
	for _, c := range []struct {
		name   string
		knight *Sighting
		want   Outcome
	}{
		{"arrived", &Sighting{At: to.Add(Spot{X: 2e-3}), Sigma: 0.3e-3}, Arrived},
		{"stayed", &Sighting{At: from.Add(Spot{X: 5e-3}), Sigma: 0.3e-3}, Stayed},
		{"short", &Sighting{At: Spot{X: 0.08, Y: 0.1}, Sigma: 0.3e-3}, Short},
		{"left just before its end", &Sighting{At: to.Add(Spot{Y: 0.016}), Sigma: 0.3e-3}, Short},
		{"toppled", &Sighting{At: to, Sigma: 0.3e-3, Fallen: true}, Toppled},
		{"nowhere", nil, Unseen},
	} {
		after := Scene{pawn: at(Spot{X: 0.0895, Y: 0.1004}), rook: before[rook]}
		if c.knight != nil {
			after[knight] = *c.knight
		}
		got := w.Observe(nil, did, before, after)
		if len(got) != 4 || got[0].Outcome != Done || !got[1].Raised || got[2].Outcome != c.want || got[2].Piece != knight || got[2].From != from {
			t.Errorf("%s: %+v", c.name, got)
		}
	}
	did[2].Hidden = true
	if got := w.Observe(nil, did, before, Scene{}); got[2].Outcome != Done {
		t.Errorf("it went where nobody can see it, and that is told as %s", got[2].Outcome)
	}
	did[2].Hidden = false
	short := []Motion{{Act: Carry, Piece: knight, To: to, Path: []Spot{to.Add(Spot{X: 4e-3}), to}}}
	for _, off := range []float64{0, 3e-3, 6e-3} { // where it was to be set straight by 4 mm
		got := w.Observe(nil, short, Scene{knight: at(to.Add(Spot{X: 4e-3}))}, Scene{knight: at(to.Add(Spot{X: off}))})
		if len(got) != 1 || got[0].Outcome != Done {
			t.Errorf("set straight, and seen %.0f mm off: %+v", off*1e3, got)
		}
	}
	after := Scene{knight: at(to), pawn: at(Spot{X: 0.095, Y: 0.103}), rook: at(Spot{X: -0.14, Y: 0.13})}
	got := w.Observe(nil, did, before, after)
	i := slices.IndexFunc(got, func(s Symptom) bool { return s.Outcome == Pushed })
	if i < 0 || len(got) != 5 || got[i].Piece != pawn || got[i].Carrier != knight || got[i].Act != Carry || len(got[i].Ways) != 2 {
		t.Errorf("a pawn beside the way moved, a rook far off was moved by a person: %+v", got)
	}
	did = append(did, Motion{Handed: pawn})
	if got := w.Observe(nil, did, before, after); len(got) != 4 {
		t.Errorf("a person moved the pawn: %+v", got)
	}
}

// Who stands beside the way of a carry may be looked at only after a later motion: the carry
// is among the ways that may have pushed them, and the piece that was carried is not pushed.
func TestAnEarlierCarryMayHavePushed(t *testing.T) {
	at := func(p Spot) Sighting { return Sighting{At: p, Sigma: 0.3e-3} }
	queen, pawn := Piece{"d8", "queen", "black"}, Piece{"h2", "pawn", "white"}
	from, slot := Spot{X: 0.06, Y: -0.06}, Spot{X: 0.2, Y: -0.07}
	carried := []Motion{{Act: Carry, Piece: queen, To: slot, Path: []Spot{from, slot}}}
	home := []Motion{{Act: Travel, Path: []Spot{slot, {X: 0.06, Y: 0.02}}}}
	before := Scene{queen: at(from), pawn: at(Spot{X: 0.14, Y: -0.09})}
	after := Scene{queen: at(slot), pawn: at(Spot{X: 0.14, Y: -0.098})}
	w := NewWatch(square)
	got := w.Observe(carried, home, before, after)
	if len(got) != 2 || got[1].Outcome != Pushed || got[1].Piece != pawn || len(got[1].Ways) != 2 || got[1].Carrier != queen {
		t.Errorf("told is %+v", got)
	}
}

// Pictures with noise alone push nobody, in ten thousand comparisons.
func TestNoiseIsNoPush(t *testing.T) {
	s := newStream(9)
	did := []Motion{{Act: Travel, Path: []Spot{{X: -0.14, Y: 0}, {X: 0.14, Y: 0}}}}
	pushed, w := 0, NewWatch(square)
	for range 500 {
		before, after := Scene{}, Scene{}
		for i, p := range s.pieces {
			at := Spot{X: 0.02 * float64(i-8), Y: 0.01}
			before[p], after[p] = Sighting{At: s.blur(at, s.sigma), Sigma: s.sigma}, Sighting{At: s.blur(at, s.sigma), Sigma: s.sigma}
		}
		pushed += len(w.Observe(nil, did, before, after)) - 1
	}
	if pushed > 1 {
		t.Errorf("%d pushes of noise", pushed)
	}
}
