// SPDX-License-Identifier: Apache-2.0

package main

import (
	"math"
	"strconv"
	"strings"

	"boardhand/internal/chess"
)

// The sets of rooms in which the light on the board changes.
const (
	roomTune  = "roomt"
	roomValid = "roomv"
)

// roomKind is what is hard about a room.
type roomKind int

// The kinds of rooms; sessions have them in turn.
const (
	lowLamp roomKind = iota
	lampSwitched
	movingGlare
	sunBars
	wideLens
	poorCamera
	wornBoard
	bothHands
	roomKinds
)

// String names a kind as the truth files do.
func (k roomKind) String() string {
	return [roomKinds]string{"low-lamp", "lamp-switched", "moving-glare", "sun-bars", "wide-lens", "poor-camera", "worn-board", "both-hands"}[k]
}

// room is what a session of the rooms' sets has beyond other sessions.
type room struct {
	kind   roomKind
	number int    // of the session
	window window // between the first lamp, the sun, and the board
	mirror mirror // how the board reflects a bright pane
	wear   *wear  // of the board's face; nil: none
}

// roomOf is the room that a session's name asks for; nil for other sets.
func roomOf(name string) *room {
	number, ok := strings.CutPrefix(name, roomTune)
	if !ok {
		number, ok = strings.CutPrefix(name, roomValid)
	}
	n, err := strconv.Atoi(number)
	if !ok || err != nil || n < 1 {
		return nil
	}
	return &room{kind: roomKind(n-1) % roomKinds, number: n}
}

// promotes says whether a session begins near a promotion: one of six, of
// another kind each time.
func (r *room) promotes() bool {
	return (r.number+(r.number-1)/int(roomKinds)*3)%6 == 1
}

// newRoom draws a session of the rooms' sets.
func newRoom(d dice, name string, r *room) (session, error) {
	s := session{name: name, room: r, start: r.drawStart(d)}
	if err := s.drawRoomGeometry(d); err != nil {
		return s, err
	}
	s.board = r.drawBoard(d)
	s.drawRoomLight(d)
	s.sensor = drawSensor(d)
	s.pieces.white, s.pieces.black = drawFinishes(d)
	s.props = drawProps(d, s)
	switch r.kind {
	case wideLens:
		s.props = drawClutter(d, s)
	case bothHands:
		s.props = "" // things come and go in the game
	case poorCamera:
		s.sensor.spoil(d)
	case wornBoard:
		r.wear = drawWear(d, s)
		if r.number/int(roomKinds)%2 == 0 {
			s.measure = mismeasure(d)
		}
	}
	return s, nil
}

// drawRoomGeometry draws board, pieces and camera until the camera sees the
// board.
func (s *session) drawRoomGeometry(d dice) error {
	for range 4000 {
		s.square = math.Round(d.in(25, 50)*2) / 2
		s.border = math.Round(d.in(3, 28))
		if s.room.kind == wornBoard || s.room.kind == bothHands {
			s.border = math.Round(d.in(16, 28))
		}
		s.thick = d.in(4, 45)
		s.pieces = drawPieces(d, s.square)
		if s.room.kind == wornBoard {
			s.pieces.drawPlain(d)
		}
		if s.drawRoomCamera(d); s.lensSees() {
			return nil
		}
	}
	return errNoView
}

// drawRoomCamera draws the camera, with the size and angle of the room's kind.
func (s *session) drawRoomCamera(d dice) {
	s.drawCamera(d)
	size := one(d, [2]int{1280, 720}, [2]int{960, 720}, [2]int{1024, 576}, [2]int{1024, 576}, [2]int{800, 600})
	hfov := d.in(55, 78) * math.Pi / 180
	switch s.room.kind {
	case wideLens:
		hfov = d.in(70, 80) * math.Pi / 180
	case poorCamera:
		size = [2]int{640, 480}
	}
	l := &s.view.lens
	l.w, l.h = size[0], size[1]
	l.f = float64(l.w) / 2 / math.Tan(hfov/2)
	l.cx = float64(l.w-1)/2 + d.bell(4, 10)
	l.cy = float64(l.h-1)/2 + d.bell(4, 10)
	s.fov = math.Round(hfov*180/math.Pi*10+d.in(-20, 20)) / 10
}

// drawStart draws where the game begins.
func (r *room) drawStart(d dice) string {
	if r.promotes() {
		return one(d, nearPromotion...)
	}
	if d.chance(0.55) {
		return startFEN
	}
	return one(d, middleGames...)
}

// drawBoard draws the board's looks: polished where it must shine, of little
// contrast where it is worn.
func (r *room) drawBoard(d dice) boardLook {
	b := drawBoard(d)
	switch r.kind {
	case movingGlare:
		b.gloss = one(d, 0.5, 0.7, 1)
	case lowLamp, sunBars:
		b.gloss = one(d, 0, 0, 0.15, 0.35)
	case wornBoard:
		b.gloss, b.letters = one(d, 0, 0.15), true
		b.name = "worn " + b.name
		for i := range b.dark {
			b.dark[i] += (b.light[i] - b.dark[i]) * d.in(0.35, 0.6)
		}
		b.border = b.dark.times(d.in(0.8, 1.2))
	}
	return b
}

// mismeasure draws by how much a maker misjudges the heights of the pieces: up
// to 20 %, most of it common to all.
func mismeasure(d dice) map[chess.Kind]float64 {
	m := map[chess.Kind]float64{}
	all := one(d, -1.0, 1.0) * d.in(0.05, 0.15)
	for _, k := range kinds {
		m[k] = 1 + all + d.in(-0.05, 0.05)
	}
	return m
}

// believed is a kind's height as the rig file gives it, mm.
func (s *session) believed(k chess.Kind) float64 {
	h := s.pieces.of[k].height
	if s.measure != nil {
		h = math.Round(h*s.measure[k]*2) / 2
	}
	return h
}
