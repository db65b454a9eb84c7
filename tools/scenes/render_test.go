// SPDX-License-Identifier: Apache-2.0

package main

import (
	"bytes"
	"context"
	"image"
	"math"
	"os/exec"
	"strings"
	"testing"
)

// TestReadPPM reads a picture with comments in its head.
func TestReadPPM(t *testing.T) {
	raw := append([]byte("P6\n# drawn by hand\n2 1\n# twice\n65535\n"), 0xff, 0xff, 0, 0, 0x80, 0, 0, 0, 0, 0, 0xff, 0xff)
	p, err := readPPM(bytes.NewReader(raw))
	if err != nil {
		t.Fatal(err)
	}
	want := []float32{1, 0, 32768.0 / 65535, 0, 0, 1}
	for i, w := range want {
		if p.pix[i] != w {
			t.Errorf("value %d is %g, want %g", i, p.pix[i], w)
		}
	}
	for _, bad := range []string{"", "P5\n2 1\n65535\n", "P6\n2 1\n255\n", "P6\n2 1\n65535\nshort"} {
		if _, err := readPPM(strings.NewReader(bad)); err == nil {
			t.Errorf("%q was taken for a picture", bad)
		}
	}
}

// TestPartIsAsGoodAsTheWhole draws shots whole and in parts: away from the
// lamps' grain the pictures must be the same.
func TestPartIsAsGoodAsTheWhole(t *testing.T) {
	if testing.Short() {
		t.Skip("draws pictures")
	}
	if _, err := exec.LookPath("povray"); err != nil {
		t.Skip("povray (a Debian package) is not installed")
	}
	for _, name := range []string{"part07"} {
		d := diceFor(name)
		s, err := newSession(d, name)
		if err != nil {
			t.Fatal(err)
		}
		for i := range s.light.key {
			s.light.key[i].size = 0.01 // no grain
		}
		g, err := newGame(d, &s)
		if err != nil {
			t.Fatal(err)
		}
		shots := g.play(6)
		st, err := newStudio(d, &s, t.TempDir())
		if err != nil {
			t.Fatal(err)
		}
		const small = 0.2
		st.sheet = sheet{w: int(small * float64(st.sheet.w)), h: int(small * float64(st.sheet.h)), f: small * st.sheet.f}
		for _, sh := range shots {
			comparePart(t, st, sh)
		}
	}
}

// comparePart draws a shot both ways.
func comparePart(t *testing.T, st *studio, sh shot) {
	t.Helper()
	part, err := st.render(context.Background(), sh)
	if err != nil {
		t.Fatal(err)
	}
	whole, err := st.trace(context.Background(), st.text(sh), image.Rect(0, 0, st.sheet.w, st.sheet.h))
	if err != nil {
		t.Fatal(err)
	}
	bad := 0
	for i := range whole.pix {
		if math.Abs(float64(whole.pix[i]-part.pix[i])) > 0.02 {
			bad++
		}
	}
	if bad > len(whole.pix)/2000 {
		t.Errorf("%s %s %s: %d of %d values differ", st.s.name, sh.truth.Frame, sh.truth.Kind, bad, len(whole.pix))
	}
}
