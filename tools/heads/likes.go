// SPDX-License-Identifier: Apache-2.0

package main

import (
	"bufio"
	"encoding/binary"
	"image/jpeg"
	"io"
	"math"
	"os"
	"path/filepath"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/sight/heads"
	"boardhand/internal/sight/pixels"
)

// leaning is how far from the camera's foot point, in squares, the pieces stand whose likeness
// is learnt, about as far as the reader looks at (internal/sight/classify).
const leaning = 2.2

// likeness is one record for likes.py: a piece of a session on a square, of a kind (pawn 1 to
// king 6) and side (white 0), its lean and its crop; little-endian.
type likeness struct {
	Session            uint16
	Square, Kind, Side uint8
	Lean               float32
	Grey               [heads.Side * heads.Side]uint8
}

// writeLikes writes every leaning piece of every settled picture of some sessions.
func writeLikes(to io.Writer, dirs []string) error {
	w := bufio.NewWriter(to)
	for n, dir := range dirs {
		s, err := open(dir)
		if err != nil {
			return err
		}
		for _, t := range s.frames {
			if t.State != "same" && t.State != "move" {
				continue
			}
			if err := s.writeLikes(w, uint16(n), t); err != nil {
				return err
			}
		}
	}
	return w.Flush()
}

// writeLikes writes the leaning pieces of one picture.
func (s *session) writeLikes(w io.Writer, number uint16, t truth) error {
	f, err := os.Open(filepath.Join(s.dir, t.Frame))
	if err != nil {
		return err
	}
	defer func() { _ = f.Close() }()
	img, err := jpeg.Decode(f)
	if err != nil {
		return err
	}
	pos, err := chess.ParseFEN(t.FEN)
	if err != nil {
		return err
	}
	g, v := pixels.LumaOf(img), s.view(t.Frame)
	eye := v.Camera()
	for q := range chess.NoSquare {
		off, ok := t.Offsets[q.String()]
		if !ok || pos.At(q) == chess.NoPiece {
			continue
		}
		foot := frame.Spot[frame.Board]{X: (float64(q.File())-3.5)*s.square + off[0]/1e3, Y: (float64(q.Rank())-3.5)*s.square + off[1]/1e3}
		if math.Hypot(foot.X-eye.X, foot.Y-eye.Y) < leaning*s.square {
			continue
		}
		c, err := s.set.Cut(g, v, foot, heads.Side, heads.Share)
		if err != nil {
			continue // out of the picture
		}
		r := likeness{Session: number, Square: uint8(q), Kind: uint8(pos.At(q).Kind()), Side: uint8(pos.At(q).Color()), Lean: c.Lean}
		for i, x := range c.Grey {
			r.Grey[i] = uint8(math.Round(float64(x)))
		}
		if err := binary.Write(w, binary.LittleEndian, &r); err != nil {
			return err
		}
	}
	return nil
}
