// SPDX-License-Identifier: Apache-2.0

package main

import (
	"fmt"
	"strings"

	"boardhand/internal/chess"
)

// piece is a piece in its place.
type piece struct {
	piece   chess.Piece
	x, y, z float64 // mm, board frame, of the foot's centre
	yaw     float64 // degrees
	toppled bool    // lies on its side, pointing along yaw
}

// object is the povray text of a piece.
func (m piece) object(set piecesSet) string {
	sh := set.of[m.piece.Kind()]
	lie := ""
	if m.toppled {
		lie = fmt.Sprintf("rotate x*-90 translate <0,%.2f,%.2f>", -sh.height*0.4, sh.base/2)
	}
	side := "White_men"
	if m.piece.Color() == chess.Black {
		side = "Black_men"
	}
	return fmt.Sprintf("object{Man_%c texture{%s} %s rotate z*%.1f translate <%.3f,%.3f,%.3f>}\n",
		m.piece.Kind().Letter(), side, lie, m.yaw, m.x, m.y, m.z)
}

// objects is the povray text of all pieces.
func objects(pieces []piece, set piecesSet) string {
	var b strings.Builder
	for _, m := range pieces {
		b.WriteString(m.object(set))
	}
	return b.String()
}

// centre is the middle of a square, mm.
func (s *session) centre(q chess.Square) (x, y float64) {
	return (float64(q.File()) - 3.5) * s.square, (float64(q.Rank()) - 3.5) * s.square
}

// The placement of a piece by hand: spread and limit in shares of the square.
const (
	placing = 0.05
	astray  = 0.12
)

// place puts a piece on a square as a person does: not quite in the middle.
func (g *game) place(p chess.Piece, q chess.Square) piece {
	x, y := g.s.centre(q)
	m := piece{piece: p, yaw: g.d.in(0, 360)}
	m.x = x + g.d.bell(placing, astray)*g.s.square
	m.y = y + g.d.bell(placing, astray)*g.s.square
	if p.Kind() == chess.Knight || p.Kind() == chess.King {
		m.yaw = g.d.bell(14, 40)
		if p.Color() == chess.Black {
			m.yaw += 180
		}
	}
	if g.s.crowded() && g.d.chance(0.5) { // not everybody turns them to face the other side
		m.yaw = g.d.in(0, 360)
	}
	return m
}
