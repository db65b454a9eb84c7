// SPDX-License-Identifier: Apache-2.0

package main

import (
	"bufio"
	"encoding/binary"
	"io"
	"math"

	"boardhand/internal/chess"
	"boardhand/internal/sight/heads"
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
	g, pos, err := s.picture(t)
	if err != nil {
		return err
	}
	v := s.view(t.Frame)
	eye := v.Camera()
	for q := range chess.NoSquare {
		off, ok := t.Offsets[q.String()]
		if !ok || pos.At(q) == chess.NoPiece {
			continue
		}
		foot := s.foot(q, off)
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
