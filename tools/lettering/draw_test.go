// SPDX-License-Identifier: Apache-2.0

package main

import (
	"bytes"
	"image"
	"image/color"
	paint "image/draw"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"golang.org/x/image/font"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/math/fixed"
)

func face(t *testing.T, name string, size float64) font.Face {
	t.Helper()
	all, err := fonts()
	if err != nil {
		t.Fatal(err)
	}
	f, err := opentype.Parse(all[name])
	if err != nil {
		t.Fatal(err)
	}
	out, err := opentype.NewFace(f, &opentype.FaceOptions{Size: size, DPI: 72})
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// show draws text with another implementation's reader and counts ink, in
// square line widths, and whether the middle of the text is inked.
func show(t *testing.T, name, text string) (ink float64, img *image.Gray) {
	const size = 500.0
	f := face(t, name, size)
	img = image.NewGray(image.Rect(0, 0, 700, 700))
	d := font.Drawer{Dst: img, Src: image.NewUniform(color.White), Face: f, Dot: fixed.P(100, 500)}
	paint.Draw(img, img.Bounds(), image.Black, image.Point{}, paint.Src)
	d.DrawString(text)
	for _, p := range img.Pix {
		ink += float64(p) / 255
	}
	line := lineUnits / unitsPerEm * size
	return ink / line / line, img
}

// The ink of a stroke is its length times the pen and two half discs.
func TestInk(t *testing.T) {
	for name, pen := range pens {
		for _, c := range []struct {
			text   string
			length float64
		}{
			{"I", 10}, {"-", 3.4}, {"–", 5},
			{"O", 2*4 + 2*math.Pi*3}, // two straights and two half circles
		} {
			want := c.length*pen + math.Pi*pen*pen/4
			if c.text == "O" {
				want = c.length * pen // closed: no ends
			}
			got, _ := show(t, name, c.text)
			if math.Abs(got/want-1) > 0.03 { // chords of arcs and ends, see arcStep
				t.Errorf("%s %q: %.2f, want %.2f square line widths", name, c.text, got, want)
			}
		}
	}
}

// Round letters are open inside: winding, not overlap, decides what is ink.
func TestHolesStayOpen(t *testing.T) {
	f := face(t, "lettering-heavy.ttf", 500)
	for _, c := range "OQDoab0689" {
		_, img := show(t, "lettering-heavy.ttf", string(c))
		box, _, _ := f.GlyphBounds(c)
		x := 100 + (box.Min.X+box.Max.X).Round()/2
		paper := false
		for y := 200; y < 480; y++ { // from above the small letters to the base line
			inked := img.GrayAt(x, y).Y > 128
			above := img.GrayAt(x, y-20).Y > 128
			paper = paper || above && !inked
		}
		if !paper {
			t.Errorf("%q is filled", c)
		}
	}
}

func TestFiguresLineUp(t *testing.T) {
	f := face(t, "lettering.ttf", 100)
	want, _ := f.GlyphAdvance('0')
	for c := '1'; c <= '9'; c++ {
		if got, ok := f.GlyphAdvance(c); !ok || got != want {
			t.Errorf("%c is %v wide, 0 is %v", c, got, want)
		}
	}
}

// The fonts that are served are what the strokes give, byte for byte.
func TestFontsAreUpToDate(t *testing.T) {
	all, err := fonts()
	if err != nil {
		t.Fatal(err)
	}
	for name, want := range all {
		got, err := os.ReadFile(filepath.Join("../../internal/web/letters", name))
		if err != nil || !bytes.Equal(got, want) {
			t.Errorf("%s is not what the strokes give (%v); run make lettering", name, err)
		}
	}
}

func FuzzCentreLines(f *testing.F) {
	f.Add(capitals['S'])
	f.Add(";")
	f.Add("(1,2,3,4,5)")
	f.Add("0,0,0,0,1E10")
	f.Add("0,0,1,NaN,0")
	f.Fuzz(func(t *testing.T, text string) {
		lines, err := centreLines(text)
		if err == nil && strings.Count(text, ";")+1 != len(lines) {
			t.Errorf("%q gave %d strokes", text, len(lines))
		}
		for _, l := range lines {
			if most := (1 + mostTurned/arcStep) * len(text); len(l) > most {
				t.Errorf("%q gave a line of %d points", text, len(l))
			}
		}
	})
}
