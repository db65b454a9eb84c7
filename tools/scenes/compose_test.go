// SPDX-License-Identifier: Apache-2.0

package main

import (
	"context"
	"image"
	"math"
	"os/exec"
	"testing"
)

// TestComposedIsAsTraced puts a body between lamp and board together from
// layers, and has povray trace the same body in the scene: the lamp's light must
// be the same but at the trimmings' edges and in the lamp's grain.
func TestComposedIsAsTraced(t *testing.T) {
	if testing.Short() {
		t.Skip("draws pictures")
	}
	if _, err := exec.LookPath("povray"); err != nil {
		t.Skip("povray (a Debian package) is not installed")
	}
	name := "roomt01"
	d := diceFor(name)
	s, shots, err := planSession(d, options{}, name)
	if err != nil {
		t.Fatal(err)
	}
	s.board.gloss = 0 // mirrored pieces are not shaded
	st, err := newStudio(d, s, t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	const small = 0.25
	st.sheet = sheet{w: int(small * float64(st.sheet.w)), h: int(small * float64(st.sheet.h)), f: small * st.sheet.f}
	sh := shots[0]
	l := s.light.key[0]
	sh.light = illumination{lamps: []float64{1}, people: s.leanIn(d, l, 0.5)}
	r := &darkroom{st: st, layers: []*layer{{lamps: []int{0}}}}
	e := r.expose(context.Background(), sh)
	if e.err != nil {
		t.Fatal(e.err)
	}
	got := r.compose(sh, e.lit)
	text := st.text(sh) + r.text(r.layers[0])
	for _, c := range sh.light.people {
		text += body{unseen: true, text: unseenBone(c)}.object()
	}
	want, err := st.trace(context.Background(), text, image.Rect(0, 0, st.sheet.w, st.sheet.h))
	if err != nil {
		t.Fatal(err)
	}
	bad, sum := 0, 0.0
	for i := range want.pix {
		diff := math.Abs(float64(got.pix[i] - want.pix[i]/dimming))
		sum += diff
		if diff > 0.12 {
			bad++
		}
	}
	if n := len(want.pix); bad > n/50 || sum/float64(n) > 0.02 {
		t.Errorf("%d of %d values differ by more than 0.12, all by %.4f", bad, n, sum/float64(n))
	}
}

// unseenBone is povray's text of a body's part that only throws a shadow.
func unseenBone(c capsule) string {
	f := "union{sphere{" + c.a.String() + "," + number(c.ra) + "} sphere{" + c.b.String() + "," + number(c.rb) + "}"
	if c.a != c.b {
		f += " cone{" + c.a.String() + "," + number(c.ra) + "," + c.b.String() + "," + number(c.rb) + "}"
	}
	return f + " no_image no_reflection pigment{rgb 0.3}}\n"
}
