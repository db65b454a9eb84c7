// SPDX-License-Identifier: Apache-2.0

package camera

import (
	"bytes"
	"context"
	"encoding/binary"
	"errors"
	"hash/crc32"
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

// A small file that claims a huge picture is refused by its header: here the
// pixels themselves are left out.
func TestHugePicturesAreNotUnpacked(t *testing.T) {
	for _, c := range []struct {
		side, depth, colours int // colours by ISO/IEC 15948, table 11.1: 0 greyscale, 2 truecolour, 6 with alpha
		isTooLarge           bool
	}{
		{8000, 8, 2, true}, {7000, 8, 2, false}, {7000, 16, 2, true}, {5000, 16, 6, false}, {5200, 16, 6, true}, {7000, 16, 0, false},
	} {
		h := []byte("IHDR\x00\x00\x00\x00\x00\x00\x00\x00" + string([]byte{byte(c.depth), byte(c.colours), 0, 0, 0}))
		binary.BigEndian.PutUint32(h[4:], uint32(c.side))
		binary.BigEndian.PutUint32(h[8:], uint32(c.side))
		data := append([]byte("\x89PNG\r\n\x1a\n\x00\x00\x00\x0d"), h...)
		data = binary.BigEndian.AppendUint32(data, crc32.ChecksumIEEE(h))
		_, err := Decode("x", data)
		if err == nil || strings.Contains(err.Error(), "is too large") != c.isTooLarge {
			t.Errorf("%+v: %v", c, err)
		}
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
