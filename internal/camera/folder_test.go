// SPDX-License-Identifier: Apache-2.0

package camera

import (
	"bytes"
	"context"
	"errors"
	"image"
	"image/jpeg"
	"image/png"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

func picture(t *testing.T, asJPEG bool) []byte {
	t.Helper()
	var b bytes.Buffer
	img := image.NewGray(image.Rect(0, 0, 64, 48))
	var err error
	if asJPEG {
		err = jpeg.Encode(&b, img, nil)
	} else {
		err = png.Encode(&b, img)
	}
	if err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func TestFolder(t *testing.T) {
	dir := t.TempDir()
	ok := picture(t, true)
	for name, data := range map[string][]byte{
		"b.jpg": ok, "a.png": picture(t, false), "c.JPG": ok[:len(ok)/2], "d.jpeg": {}, "e.png": []byte("words"), "notes.txt": []byte("x"),
	} {
		if err := os.WriteFile(filepath.Join(dir, name), data, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	f, err := OpenFolder(dir)
	if err != nil {
		t.Fatal(err)
	}
	if got := strings.Join(f.Names(), " "); got != "a.png b.jpg c.JPG d.jpeg e.png" {
		t.Errorf("names %s", got)
	}
	want := []string{"", "", "c.JPG", "d.jpeg: the file is empty", "e.png: not a picture"}
	for i, w := range want {
		p, err := f.Look(context.Background())
		if w == "" {
			if err != nil || p.Image.Bounds().Dx() != 64 {
				t.Errorf("picture %d: %v, %v", i, p.Name, err)
			}
			continue
		}
		if err == nil || !strings.Contains(err.Error(), w) {
			t.Errorf("picture %d: error %v, want %q", i, err, w)
		}
	}
	if _, err := f.Look(context.Background()); !errors.Is(err, io.EOF) {
		t.Errorf("after the last: %v", err)
	}
}

func TestFolderErrors(t *testing.T) {
	if _, err := OpenFolder(filepath.Join(t.TempDir(), "none")); err == nil || !strings.Contains(err.Error(), "no such folder") {
		t.Error(err)
	}
	if _, err := OpenFolder(t.TempDir()); err == nil || !strings.Contains(err.Error(), "no .jpg or .png") {
		t.Error(err)
	}
}

func FuzzDecode(f *testing.F) {
	var b bytes.Buffer
	_ = jpeg.Encode(&b, image.NewGray(image.Rect(0, 0, 8, 8)), nil)
	f.Add(b.Bytes())
	f.Add([]byte("\x89PNG\r\n\x1a\n"))
	f.Fuzz(func(t *testing.T, data []byte) {
		p, err := Decode("x", data)
		if (p.Image == nil) == (err == nil) {
			t.Fatalf("picture %v with error %v", p.Image, err)
		}
	})
}
