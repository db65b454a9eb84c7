// SPDX-License-Identifier: Apache-2.0

package video

import (
	"bytes"
	"image"
	"image/color"
	"image/jpeg"
	"testing"
)

// split takes the Huffman tables out of a JPEG file.
func split(t *testing.T, data []byte) (without, tables []byte) {
	t.Helper()
	at := bytes.Index(data, []byte{0xff, huffman})
	if at < 0 {
		t.Fatal("no tables")
	}
	n := 2 + int(data[at+2])<<8 + int(data[at+3])
	return bytes.Join([][]byte{data[:at], data[at+n:]}, nil), data[at : at+n]
}

// The tables are those that Go's encoder writes, which are the standard's typical
// ones; a picture without them is the same with ours.
func TestTablesAreTheStandards(t *testing.T) {
	img := image.NewRGBA(image.Rect(0, 0, 40, 24))
	for k := range img.Pix {
		img.Pix[k] = byte(k * k / 7)
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, img, nil); err != nil {
		t.Fatal(err)
	}
	without, tables := split(t, b.Bytes())
	order := map[byte]int{}
	sorted := func(seg []byte) (out [4]string) { // by class and number
		for k := 4; k < len(seg); {
			n := 17
			for _, c := range seg[k+1 : k+17] {
				n += int(c)
			}
			out[seg[k]&1|seg[k]>>4<<1] = string(seg[k : k+n])
			order[seg[k]]++
			k += n
		}
		return out
	}
	if sorted(tables) != sorted(standardTables()) || len(order) != 4 {
		t.Error("the tables differ from those of image/jpeg")
	}
	f := Frame{Format: MJPG, Data: without}
	whole, err := f.JPEG()
	if err != nil {
		t.Fatal(err)
	}
	got, err := jpeg.Decode(bytes.NewReader(whole))
	if err != nil {
		t.Fatal(err)
	}
	want, _ := jpeg.Decode(&b)
	if !bytes.Equal(got.(*image.YCbCr).Y, want.(*image.YCbCr).Y) {
		t.Error("another picture")
	}
	if again, _ := (Frame{Format: MJPG, Data: whole}).JPEG(); !bytes.Equal(again, whole) {
		t.Error("tables were put in twice")
	}
	for _, junk := range [][]byte{nil, {0xff}, {0xff, 0xd8, 0xff, 0xe0}, {0xff, 0xd8, 0xff, 0xe0, 0xff, 0xff, 0xff}} {
		if out, _ := (Frame{Format: MJPG, Data: junk}).JPEG(); !bytes.Equal(out, junk) {
			t.Errorf("%x became %x", junk, out)
		}
	}
}

// Colour bars of ITU-R BT.601 (75 % amplitude, the recommendation's table of digital
// values, from memory): white 180 128 128, yellow 162 44 142, cyan 131 156 44.
func TestYUYV(t *testing.T) {
	f := Frame{Format: YUYV, Width: 6, Height: 2, Stride: 14, Data: bytes.Repeat([]byte{180, 128, 180, 128, 162, 44, 162, 142, 131, 156, 131, 44, 0, 0}, 2)}
	img, err := f.image()
	if err != nil {
		t.Fatal(err)
	}
	for x, want := range map[int]color.RGBA{0: {191, 191, 191, 255}, 2: {191, 191, 0, 255}, 5: {0, 191, 191, 255}} {
		r, g, b, _ := img.At(x, 1).RGBA()
		for k, v := range [3]uint32{r >> 8, g >> 8, b >> 8} {
			if d := int(v) - int([3]byte{want.R, want.G, want.B}[k]); d < -2 || d > 2 {
				t.Errorf("column %d is %d %d %d, want %v", x, r>>8, g>>8, b>>8, want)
			}
		}
	}
	f.Data = f.Data[:20]
	if _, err := f.JPEG(); err == nil {
		t.Error("a torn frame made a picture")
	}
}
