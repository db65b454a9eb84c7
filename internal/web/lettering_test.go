// SPDX-License-Identifier: Apache-2.0

package web

import (
	"io/fs"
	"net/http"
	"testing"

	"golang.org/x/image/font/sfnt"
)

// fontFiles are the fonts served, read by another implementation.
func fontFiles(t *testing.T) map[string]*sfnt.Font {
	t.Helper()
	files, err := lettering.ReadDir("letters")
	if err != nil {
		t.Fatal(err)
	}
	out := map[string]*sfnt.Font{}
	for _, f := range files {
		text, err := lettering.ReadFile("letters/" + f.Name())
		if err != nil {
			t.Fatal(err)
		}
		if out[f.Name()], err = sfnt.Parse(text); err != nil {
			t.Errorf("%s: %v", f.Name(), err)
		}
	}
	if len(out) != 2 {
		t.Fatalf("%d fonts, want two weights", len(out))
	}
	return out
}

// Whatever the pages write themselves must be in the lettering.
func TestThePagesUseNoLetterWeLack(t *testing.T) {
	for name, font := range fontFiles(t) {
		have := map[rune]bool{'\n': true, '\t': true, '`': true, '^': true} // in the source, never shown
		files, _ := fs.Sub(pages, "page")
		err := fs.WalkDir(files, ".", func(path string, d fs.DirEntry, err error) error {
			if err != nil || d.IsDir() {
				return err
			}
			text, err := fs.ReadFile(files, path)
			for _, c := range string(text) {
				if have[c] {
					continue
				}
				have[c] = true
				if glyph, err := font.GlyphIndex(nil, c); err != nil || glyph == 0 {
					t.Errorf("%s: %q (%U) is not drawn in %s", path, c, c, name)
				}
			}
			return err
		})
		if err != nil {
			t.Fatal(err)
		}
	}
}

func TestLetteringIsServed(t *testing.T) {
	h := New(nil).Handler()
	for name := range fontFiles(t) {
		w := call(h, http.MethodGet, "/letters/"+name, "")
		if w.Code != 200 || w.Header().Get("Content-Type") != "font/ttf" || w.Body.Len() == 0 {
			t.Errorf("%s: %d", name, w.Code)
		}
	}
	for _, name := range []string{"other.ttf", "..%2Fpage%2Fgame.js", "."} {
		if w := call(h, http.MethodGet, "/letters/"+name, ""); w.Code == 200 {
			t.Errorf("%s: %d", name, w.Code)
		}
	}
}
