// SPDX-License-Identifier: Apache-2.0

package sight

import (
	"bytes"
	"context"
	"encoding/binary"
	"hash/crc32"
	"slices"
	"strings"
	"testing"

	"boardhand/internal/chess"
	"boardhand/internal/photo"
)

// An illegal board that stays is not searched anew for every picture, but now
// and then.
func TestAlikeIsNotSearchedAnew(t *testing.T) {
	s := game(t)
	k := slices.IndexFunc(s.frames, func(f truth) bool { return f.State == Moved })
	other, err := chess.ParseFEN(strings.Replace(s.start.FEN(), " w ", " b ", 1))
	if err != nil {
		t.Fatal(err)
	}
	r := NewReader(s.setup)
	r.Begin(other)
	read := func(k int) Reading {
		got, err := r.Read(context.Background(), s.picture(t, k))
		if err != nil {
			t.Fatal(err)
		}
		return got
	}
	read(0)
	first := read(k)
	if first.State != Illegal {
		t.Fatalf("a move out of turn is read as %s", first.State)
	}
	const pictures = 12
	searches, searched := 0, r.pending
	for range pictures {
		if got := read(k); got.State != Illegal {
			t.Fatalf("the same picture again is read as %s", got.State)
		}
		if r.pending != searched {
			searches, searched = searches+1, r.pending
		}
	}
	if searches < pictures/(againMost+1)-1 || searches > pictures/2 {
		t.Errorf("%d pictures that look the same were searched %d times", pictures, searches)
	}
}

// A picture that says it is larger than the camera's is not unpacked.
func TestLargePicturesAreNotUnpacked(t *testing.T) {
	var b bytes.Buffer
	b.WriteString("\x89PNG\r\n\x1a\n")
	header := append([]byte("IHDR"), 0, 0, 0x27, 0xd8, 0, 0, 0x27, 0xd8, 16, 2, 0, 0, 0)
	for _, part := range []any{uint32(13), header, crc32.ChecksumIEEE(header)} {
		if err := binary.Write(&b, binary.BigEndian, part); err != nil {
			t.Fatal(err)
		}
	}
	_, err := NewReader(game(t).setup).Read(context.Background(), photo.Picture{JPEG: b.Bytes()})
	if err == nil || !strings.Contains(err.Error(), "10200 × 10200") {
		t.Errorf("got %v", err)
	}
}
