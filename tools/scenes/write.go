// SPDX-License-Identifier: Apache-2.0

package main

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"image/jpeg"
	"os"
	"path/filepath"
	"strings"

	"boardhand/internal/frame"
)

// drawSession draws one session into its folder; truth.jsonl comes last.
func drawSession(ctx context.Context, o options, name string) error {
	d := diceFor(name)
	s, shots, err := planSession(d, o, name)
	if err != nil {
		return err
	}
	dir := filepath.Join(o.out, name)
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return err
	}
	if err := s.writeFixed(dir, shots); err != nil {
		return err
	}
	if err := takeAll(ctx, o, d, s, shots); err != nil {
		return err
	}
	return writeTruth(filepath.Join(dir, "truth.jsonl"), shots)
}

// planSession draws what a session shows, without its pictures.
func planSession(d dice, o options, name string) (*session, []shot, error) {
	s, err := newSession(d, name)
	if err != nil {
		return nil, nil, err
	}
	g, err := newGame(d, &s)
	if err != nil {
		return nil, nil, err
	}
	n := o.frames
	switch {
	case s.room != nil:
		if n == 0 {
			n = 18 + d.IntN(5)
		}
		return &s, g.playRoom(n), nil
	case s.crowded():
		n = 1
	case s.promotions != nil:
		if n == 0 {
			n = 10 + d.IntN(3)
		}
		return &s, g.playPromotions(n), nil
	case s.limits != nil:
		if n == 0 {
			n = 20 + d.IntN(5)
		}
		return &s, g.playLimits(n), nil
	case n == 0:
		n = 18 + d.IntN(10)
	}
	return &s, g.play(n), nil
}

// takeAll renders and stores the pictures.
func takeAll(ctx context.Context, o options, d dice, s *session, shots []shot) error {
	work, err := os.MkdirTemp("", "scenes-")
	if err != nil {
		return err
	}
	if o.keep {
		work = filepath.Join(o.out, s.name)
	} else {
		defer func() { _ = os.RemoveAll(work) }()
	}
	st, err := newStudio(d, s, work)
	if err != nil {
		return err
	}
	st.fast = o.fast
	if o.jpeg > 0 {
		s.sensor.quality = o.jpeg
	}
	ctx, stop := context.WithCancel(ctx)
	defer stop()
	develop := st.render
	if s.room != nil {
		develop = newDarkroom(ctx, st, shots).render
	}
	var first picture
	ts := taps(st.sheet, s.view.lens)
	for i, sh := range shots {
		light, err := develop(ctx, sh)
		if err != nil {
			return fmt.Errorf("%s: %w", sh.truth.Frame, err)
		}
		if i == 0 {
			first = light
		}
		gain := sh.gain * s.sensor.exposure(first, light)
		img := s.sensor.take(d, warp(light, sh.view.lens, ts), gain, sh.white)
		var b bytes.Buffer
		if err := jpeg.Encode(&b, img, &jpeg.Options{Quality: s.sensor.quality}); err != nil {
			return err
		}
		if err := os.WriteFile(filepath.Join(o.out, s.name, sh.truth.Frame), b.Bytes(), 0o644); err != nil {
			return err
		}
	}
	return nil
}

// writeTruth writes a line a frame.
func writeTruth(path string, shots []shot) error {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	for _, s := range shots {
		if err := e.Encode(s.truth); err != nil {
			return err
		}
	}
	return os.WriteFile(path, b.Bytes(), 0o644)
}

// writeFixed writes the rig file, the true camera and the first position.
func (s *session) writeFixed(dir string, shots []shot) error {
	c, err := json.MarshalIndent(s.camera(shots), "", " ")
	if err != nil {
		return err
	}
	for name, text := range map[string]string{"rig.toml": s.rig(), "camera.json": string(c) + "\n", "start.fen": s.start + "\n"} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
			return err
		}
	}
	return nil
}

// rig is the least rig file that watch needs, with the nominal values.
func (s *session) rig() string {
	var b strings.Builder
	fmt.Fprintf(&b, "[board]\nsquare = \"%g mm\"\nborder = \"%g mm\"\n\n[pieces]\n", s.square, s.border)
	for _, k := range kinds {
		sh := s.pieces.of[k]
		fmt.Fprintf(&b, "%-6s = { height = \"%g mm\", base = \"%g mm\", mass = \"10 g\" }\n", k, s.believed(k), sh.base)
	}
	fmt.Fprintf(&b, "\n[camera]\nimage = [%d, %d]\nhfov = \"%g deg\"\nheight = \"%g mm\"\nwhite_side = %q\n",
		s.view.w, s.view.h, s.fov, s.height, s.side)
	return b.String()
}

// trueView is a pose from a frame on.
type trueView struct {
	From     string        `json:"from_frame"`
	Rotation [3][3]float64 `json:"camera_from_board"`
	Shift    [3]float64    `json:"translation_mm"`
	Corners  [4][2]float64 `json:"corners_px"` // of the field: a1, h1, h8, a8
}

// trueCamera is camera.json.
type trueCamera struct {
	Width  int        `json:"width_px"`
	Height int        `json:"height_px"`
	F      float64    `json:"f_px"`
	CX     float64    `json:"cx_px"`
	CY     float64    `json:"cy_px"`
	K1     float64    `json:"k1"`
	K2     float64    `json:"k2"`
	Views  []trueView `json:"views"`
	About  string     `json:"about"`
}

// camera tells the truth about the camera.
func (s *session) camera(shots []shot) trueCamera {
	v := s.view
	c := trueCamera{Width: v.w, Height: v.h, F: v.f, CX: v.cx, CY: v.cy, K1: v.k1, K2: v.k2}
	c.About = fmt.Sprintf("%s%s; pieces %s and %s; light: %s; table: %s", s.room.about(), s.board.name, s.pieces.white.name, s.pieces.black.name, s.light.name, s.board.tableKind)
	var last frame.Pose[frame.Camera, frame.Board]
	for i, sh := range shots {
		p := sh.view.pose
		if i > 0 && p == last {
			continue
		}
		last = p
		t := trueView{From: sh.truth.Frame, Rotation: p.R, Shift: [3]float64{p.T.X, p.T.Y, p.T.Z}}
		h := 4 * s.square
		for j, q := range [4][2]float64{{-h, -h}, {h, -h}, {h, h}, {-h, h}} {
			t.Corners[j][0], t.Corners[j][1] = sh.view.project(q[0], q[1], 0)
		}
		c.Views = append(c.Views, t)
	}
	return c
}
