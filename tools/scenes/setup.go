// SPDX-License-Identifier: Apache-2.0

package main

import (
	"errors"
	"math"
	"strings"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
)

// session is everything that stays the same in a session's pictures.
type session struct {
	name   string
	square float64 // mm
	border float64 // mm
	thick  float64 // mm, board over the table
	pieces piecesSet
	board  boardLook
	light  lighting
	sensor sensor
	view   view
	side   string // picture side where White sits
	fov    float64
	height float64 // nominal, mm
	start  string  // FEN
	props  string  // other things on the table, povray text
	room   *room   // nil but in the rooms' sets

	promotions *promotions            // nil but in the promotions' sets
	limits     *limits                // nil but in the limits' sets
	measure    map[chess.Kind]float64 // height that the rig file gives, shares of the true one; nil: 1
}

// errNoView says that no camera was found that sees the whole board.
var errNoView = errors.New("no camera sees the whole board: loosen the ranges")

// newSession draws a session.
func newSession(d dice, name string) (session, error) {
	if r := roomOf(name); r != nil {
		return newRoom(d, name, r)
	}
	s := session{name: name, start: drawStart(d), promotions: promotionsOf(name), limits: limitsOf(name)}
	switch {
	case s.crowded():
		s.start = crowd(d)
	case s.promotions != nil:
		s.start = s.promotions.drawStart(d)
	}
	if err := s.drawGeometry(d); err != nil {
		return s, err
	}
	s.board = s.drawLooks(d)
	s.light = drawLight(d)
	s.sensor = drawSensor(d)
	s.pieces.white, s.pieces.black = drawFinishes(d)
	s.props = drawProps(d, s)
	if s.promotions != nil && s.promotions.isMismeasured() {
		s.measure = mismeasure(d)
	}
	return s, nil
}

// drawLooks draws how the board looks.
func (s *session) drawLooks(d dice) boardLook {
	if s.limits != nil {
		return s.limits.drawBoard(d)
	}
	return drawBoard(d)
}

// crowded says whether the session is one picture of a crowded board.
func (s *session) crowded() bool { return strings.HasPrefix(s.name, heads) }

// drawGeometry draws board, pieces and camera until the camera sees the board.
func (s *session) drawGeometry(d dice) error {
	for range 2000 {
		s.square = math.Round(d.in(25, 50)*2) / 2
		s.border = math.Round(d.in(3, 28))
		s.thick = d.in(4, 45)
		s.pieces = drawPieces(d, s.square)
		switch {
		case s.crowded():
			s.pieces.drawOdd(d, s.square)
		case s.promotions != nil:
			s.promotions.drawPieces(d, &s.pieces)
		case s.limits != nil:
			s.limits.drawPieces(d, &s.pieces, s.square)
		}
		if s.limits != nil {
			s.limits.drawCamera(d, s)
		} else {
			s.drawCamera(d)
		}
		if s.lensSees() {
			return nil
		}
	}
	return errNoView
}

// drawCamera draws the lens, its place and the values a maker would believe.
func (s *session) drawCamera(d dice) {
	size := one(d, [2]int{1280, 720}, [2]int{1280, 720}, [2]int{1280, 720}, [2]int{1280, 720}, [2]int{1920, 1080}, [2]int{960, 720})
	l := lens{w: size[0], h: size[1]}
	hfov := d.in(55, 78) * math.Pi / 180
	l.f = float64(l.w) / 2 / math.Tan(hfov/2)
	l.cx = float64(l.w-1)/2 + d.bell(4, 10)
	l.cy = float64(l.h-1)/2 + d.bell(4, 10)
	l.k1 = -0.25 * d.Float64()
	l.k2 = d.in(0, 0.03) * (l.k1 / -0.25)
	h := d.in(450, 700)
	s.side = one(d, "bottom", "left", "top", "right")
	s.view = view{l, drawPose(d, s.side, h)}
	s.fov = math.Round(hfov*180/math.Pi*10+d.in(-20, 20)) / 10
	s.height = math.Round(h * (1 + d.in(-0.03, 0.03)))
}

// drawPose hangs a camera h mm over the board, White on the given side,
// turned by a few degrees and tilted by up to four.
func drawPose(d dice, side string, h float64) frame.Pose[frame.Camera, frame.Board] {
	turn := quarters(side) + d.bell(2, 5)*math.Pi/180
	return hang(d, turn, math.Abs(d.bell(1.8, 4))*math.Pi/180, h)
}

// quarters is the picture's turn that has White on a side, radians.
func quarters(side string) float64 {
	return map[string]float64{"bottom": 0, "right": 1, "top": 2, "left": 3}[side] * math.Pi / 2
}

// hang hangs a camera about over the board's middle, tilted any way.
func hang(d dice, turn, tilt, h float64) frame.Pose[frame.Camera, frame.Board] {
	dir := d.in(0, 2*math.Pi)
	down := frame.Rotation{{1, 0, 0}, {0, -1, 0}, {0, 0, -1}}
	r := frame.FromVector([3]float64{0, 0, -turn}).Mul(down)
	r = frame.FromVector([3]float64{tilt * math.Cos(dir), tilt * math.Sin(dir), 0}).Mul(r)
	axis := r.Transpose() // columns: the camera's axes in the board frame
	fx, fy, fz := axis[0][2], axis[1][2], axis[2][2]
	eye := frame.Point[frame.Board]{
		X: fx/fz*h + d.bell(6, 14),
		Y: fy/fz*h + d.bell(6, 14),
		Z: h,
	}
	return poseFrom(r, eye)
}

// poseFrom joins a rotation and the eye's place in the board frame.
func poseFrom(r frame.Rotation, eye frame.Point[frame.Board]) frame.Pose[frame.Camera, frame.Board] {
	p := frame.Pose[frame.Camera, frame.Board]{R: r}
	t := p.Apply(eye)
	p.T = frame.Point[frame.Camera]{X: -t.X, Y: -t.Y, Z: -t.Z}
	return p
}

// lensSees says whether the field's corners and the tops of pieces on the
// corner squares are inside the picture, and the field is not lost in it.
func (s *session) lensSees() bool {
	v := s.view
	if !v.usable() {
		return false
	}
	const rim = 14.0 // pixels, so that a bump does not push the corner out
	top := s.pieces.of[chess.King].height
	for _, c := range [4][2]float64{{-1, -1}, {1, -1}, {1, 1}, {-1, 1}} {
		for _, p := range [2][2]float64{{4, 0}, {3.55, top * 0.72}} {
			a, b := v.project(c[0]*p[0]*s.square, c[1]*p[0]*s.square, p[1])
			if a < rim || b < rim || a > float64(v.w)-rim || b > float64(v.h)-rim {
				return false
			}
		}
	}
	return v.f*8*s.square/v.eye().Z > 0.62*float64(v.h)
}

// framePoint types a board point.
func framePoint(v vec) frame.Point[frame.Board] {
	return frame.Point[frame.Board]{X: v[0], Y: v[1], Z: v[2]}
}
