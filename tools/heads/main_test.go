// SPDX-License-Identifier: Apache-2.0

package main

import (
	"bytes"
	"encoding/binary"
	"io"
	"os"
	"path/filepath"
	"testing"

	"boardhand/internal/chess"
)

// record is what learn.py reads a piece as.
type record struct {
	Session        uint16
	Kind, Promoted uint8
	Extra          [12]float32
	Grey           [side * side]uint8
}

// Every piece of every settled picture whose place is known becomes a record, in
// the order of the squares, with its kind; its crop shows something.
func TestCutsEveryPiece(t *testing.T) {
	const dir = "../../internal/sight/testdata/games/plastic"
	out := filepath.Join(t.TempDir(), "crops.bin")
	if err := run(out, []string{dir}); err != nil {
		t.Fatal(err)
	}
	text, err := os.ReadFile(out)
	if err != nil {
		t.Fatal(err)
	}
	s, err := open(dir)
	if err != nil {
		t.Fatal(err)
	}
	crops, pieces, bare := bytes.NewReader(text), 0, 0
	for _, f := range s.frames {
		if f.State != "same" && f.State != "move" {
			continue
		}
		pos, err := chess.ParseFEN(f.FEN)
		if err != nil {
			t.Fatal(err)
		}
		for q := range chess.NoSquare {
			_, told := f.Offsets[q.String()]
			if !told && pos.At(q) != chess.NoPiece {
				continue
			}
			var r record
			before := crops.Len()
			if err := binary.Read(crops, binary.LittleEndian, &r); err != nil && told {
				t.Fatalf("%s %v: %v", f.Frame, q, err)
			}
			low, high := r.Grey[0], r.Grey[0]
			for _, v := range r.Grey {
				low, high = min(low, v), max(high, v)
			}
			switch {
			case !told && r.Kind == 0 && before > 0:
				bare++
			case !told: // left out
				_, _ = crops.Seek(int64(len(text)-before), io.SeekStart)
			case chess.Kind(r.Kind) != pos.At(q).Kind() || high-low < 30:
				t.Errorf("%s %v: kind %v, want %v; brightness %d to %d", f.Frame, q, chess.Kind(r.Kind), pos.At(q).Kind(), low, high)
			default:
				pieces++
			}
		}
	}
	if bare < pieces/4 || bare > 2*pieces {
		t.Errorf("%d bare squares beside %d pieces", bare, pieces)
	}
	if crops.Len() != 0 {
		t.Errorf("%d bytes too many", crops.Len())
	}
}

// What is missing or broken is named.
func TestRefuses(t *testing.T) {
	if err := run(filepath.Join(t.TempDir(), "crops.bin"), []string{t.TempDir()}); err == nil {
		t.Error("an empty folder was taken for a session")
	}
}

// The pieces for likes.py are those that lean, of all kinds, each with its crop as the reader
// cuts it.
func TestLikes(t *testing.T) {
	var b bytes.Buffer
	if err := writeLikes(&b, []string{filepath.Join("..", "..", "internal", "sight", "testdata", "games", "towers")}); err != nil {
		t.Fatal(err)
	}
	kinds := map[uint8]int{}
	for r := bytes.NewReader(b.Bytes()); r.Len() > 0; {
		var l likeness
		if err := binary.Read(r, binary.LittleEndian, &l); err != nil {
			t.Fatal(err)
		}
		kinds[l.Kind]++
		if l.Lean < 0.1 || l.Lean > 3 || l.Square > 63 || l.Side > 1 {
			t.Fatalf("a piece of kind %d on square %d leans by %.2f bases", l.Kind, l.Square, l.Lean)
		}
	}
	if kinds[uint8(chess.Pawn)] == 0 || kinds[uint8(chess.Knight)] == 0 || kinds[uint8(chess.Rook)] == 0 {
		t.Errorf("pieces by kind: %v", kinds)
	}
}
