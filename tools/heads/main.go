// SPDX-License-Identifier: Apache-2.0

// Command heads cuts the pictures of pieces out of sessions drawn by tools/scenes
// (`-set heads`), for learn.py to learn their kinds from: the crops as the
// reader cuts them, with some room around.
package main

import (
	"bufio"
	"encoding/binary"
	"encoding/json"
	"flag"
	"fmt"
	"hash/fnv"
	"image"
	"image/jpeg"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/optics"
	"boardhand/internal/rig"
	"boardhand/internal/sight"
	"boardhand/internal/sight/classify"
	"boardhand/internal/sight/heads"
	"boardhand/internal/sight/pixels"
)

// The crops for learning: with room to turn and shift them, as finely sampled.
const (
	room = 4.0 / 3
	side = heads.Side * 4 / 3
)

func main() {
	out := flag.String("o", "out/heads.bin", "file for the crops")
	likes := flag.Bool("likes", false, "cut for likes.py instead: leaning pieces alone, as the reader cuts them")
	flag.Parse()
	work := run
	if *likes {
		work = runLikes
	}
	if err := work(*out, flag.Args()); err != nil {
		fmt.Fprintln(os.Stderr, "heads:", err)
		os.Exit(2)
	}
}

// runLikes writes the pieces for likes.py.
func runLikes(out string, dirs []string) error {
	f, err := os.Create(out)
	if err != nil {
		return err
	}
	defer func() { _ = f.Close() }()
	if err := writeLikes(f, dirs); err != nil {
		return err
	}
	return f.Close()
}

// run writes, for every piece of every settled picture and for some bare squares:
// session (uint16), kind (uint8, 0 nobody, pawn 1 to king 6), promoted just now
// (uint8), the crop's extras (float32 each), the crop (uint8 each); little-endian.
func run(out string, dirs []string) error {
	f, err := os.Create(out)
	if err != nil {
		return err
	}
	defer func() { _ = f.Close() }()
	w := bufio.NewWriter(f)
	for n, dir := range dirs {
		s, err := open(dir)
		if err != nil {
			return fmt.Errorf("%s: %w", dir, err)
		}
		for _, t := range s.frames {
			if err := s.cut(w, uint16(n), t); err != nil {
				return fmt.Errorf("%s/%s: %w", dir, t.Frame, err)
			}
		}
	}
	if err := w.Flush(); err != nil {
		return err
	}
	return f.Close()
}

// truth is a line of truth.jsonl.
type truth struct {
	Frame   string                `json:"frame"`
	State   string                `json:"state"`
	Move    string                `json:"move"`
	FEN     string                `json:"fen"`
	Offsets map[string][2]float64 `json:"offsets"`
}

// view is a pose from a frame on.
type view struct {
	From string         `json:"from_frame"`
	R    frame.Rotation `json:"camera_from_board"`
	T    [3]float64     `json:"translation_mm"`
}

// session is a folder of pictures and what is true of them.
type session struct {
	dir    string
	square float64 // metres
	set    heads.Set
	frames []truth
	camera struct {
		F     float64 `json:"f_px"`
		Cx    float64 `json:"cx_px"`
		Cy    float64 `json:"cy_px"`
		K1    float64 `json:"k1"`
		K2    float64 `json:"k2"`
		Views []view  `json:"views"`
	}
}

func open(dir string) (*session, error) {
	r, err := rig.Load(filepath.Join(dir, "rig.toml"), rig.Watching)
	if err != nil {
		return nil, err
	}
	setup, err := sight.SetupFrom(r)
	if err != nil {
		return nil, err
	}
	s := &session{dir: dir, square: setup.Square, set: classify.SetOf(setup)}
	text, err := os.ReadFile(filepath.Join(dir, "camera.json"))
	if err != nil {
		return nil, err
	}
	if err := json.Unmarshal(text, &s.camera); err != nil {
		return nil, err
	}
	f, err := os.Open(filepath.Join(dir, "truth.jsonl"))
	if err != nil {
		return nil, err
	}
	defer func() { _ = f.Close() }()
	for lines := json.NewDecoder(f); lines.More(); {
		var t truth
		if err := lines.Decode(&t); err != nil {
			return nil, err
		}
		s.frames = append(s.frames, t)
	}
	return s, nil
}

// view is the camera's when a frame was taken.
func (s *session) view(frameName string) optics.View {
	c := &s.camera
	v := optics.View{Lens: optics.Lens{Fx: c.F, Fy: c.F, Cx: c.Cx, Cy: c.Cy, K1: c.K1, K2: c.K2}}
	for _, w := range c.Views {
		if w.From <= frameName {
			v.CameraFromBoard = frame.Pose[frame.Camera, frame.Board]{R: w.R,
				T: frame.Point[frame.Camera]{X: w.T[0] / 1e3, Y: w.T[1] / 1e3, Z: w.T[2] / 1e3}}
		}
	}
	return v
}

// cut writes the pieces and some bare squares of a settled picture.
func (s *session) cut(w *bufio.Writer, number uint16, t truth) error {
	if t.State != "same" && t.State != "move" || len(t.Offsets) == 0 {
		return nil
	}
	g, pos, err := s.picture(t)
	if err != nil {
		return err
	}
	d := dice(s.dir + t.Frame)
	v := s.view(t.Frame)
	for q := range chess.NoSquare {
		off, ok := t.Offsets[q.String()]
		if !ok {
			if pos.At(q) != chess.NoPiece || d.Float64() > bareShare {
				continue // in doubt, or bare like many
			}
			stray := func() float64 { return (2*d.Float64() - 1) * bareReach * s.square * 1e3 }
			off = [2]float64{stray(), stray()}
		}
		foot := s.foot(q, off)
		c, err := s.set.Cut(g, v, foot, side, heads.Share*room)
		if err != nil {
			continue // out of the picture
		}
		if err := write(w, number, uint8(pos.At(q).Kind()), len(t.Move) == 5 && t.Move[2:4] == q.String(), c); err != nil {
			return err
		}
	}
	return nil
}

// picture is the brightness of a picture, and the position that it shows.
func (s *session) picture(t truth) (*image.Gray, chess.Position, error) {
	f, err := os.Open(filepath.Join(s.dir, t.Frame))
	if err != nil {
		return nil, chess.Position{}, err
	}
	defer func() { _ = f.Close() }()
	img, err := jpeg.Decode(f)
	if err != nil {
		return nil, chess.Position{}, err
	}
	pos, err := chess.ParseFEN(t.FEN)
	return pixels.LumaOf(img), pos, err
}

// foot is where a piece stands, mm off the middle of its square.
func (s *session) foot(q chess.Square, off [2]float64) frame.Spot[frame.Board] {
	return frame.Spot[frame.Board]{X: (float64(q.File())-3.5)*s.square + off[0]/1e3, Y: (float64(q.Rank())-3.5)*s.square + off[1]/1e3}
}

// bareShare is the share of the bare squares that are cut too, bareReach how far
// from their middles at most, in squares: a piece could stand there, and none does.
const bareShare, bareReach = 0.4, 0.3

// dice are seeded from a name: the same pictures give the same crops.
func dice(name string) *rand.Rand {
	h := fnv.New64a()
	h.Write([]byte(name))
	return rand.New(rand.NewPCG(h.Sum64(), 0x4ead5))
}

// write writes one record.
func write(w *bufio.Writer, session uint16, kind uint8, promoted bool, c *heads.Crop) error {
	grey := make([]uint8, len(c.Grey))
	for i, x := range c.Grey {
		grey[i] = uint8(math.Round(float64(x)))
	}
	for _, part := range []any{session, kind, promoted, c.Extra[:], grey} {
		if err := binary.Write(w, binary.LittleEndian, part); err != nil {
			return err
		}
	}
	return nil
}
