// SPDX-License-Identifier: Apache-2.0

package sight

import (
	"bufio"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/optics"
	"boardhand/internal/rig"
	"boardhand/internal/sight/scene"
)

// recording is a rendered game with its truth, as tools/scenes writes it.
type recording struct {
	dir    string
	setup  scene.Setup
	start  chess.Position
	frames []truth
	views  map[string]optics.View // from this frame on
	light  *otherLight            // laid over the pictures; nil for none
}

// truth is what one picture shows.
type truth struct {
	Frame   string                `json:"frame"`
	State   State                 `json:"state"`
	Move    string                `json:"move"`
	FEN     string                `json:"fen"`
	Kind    string                `json:"kind"`
	Room    string                `json:"room"` // the kind of its light; empty for an ordinary one
	Offsets map[string][2]float64 `json:"offsets"`
}

func readScene(dir string) (*recording, error) {
	r, err := rig.Load(filepath.Join(dir, "rig.toml"), rig.Watching)
	if err != nil {
		return nil, err
	}
	s := &recording{dir: dir}
	if s.setup, err = SetupFrom(r); err != nil {
		return nil, err
	}
	fen, err := os.ReadFile(filepath.Join(dir, "start.fen"))
	if err != nil {
		return nil, err
	}
	if s.start, err = chess.ParseFEN(strings.TrimSpace(string(fen))); err != nil {
		return nil, err
	}
	f, err := os.Open(filepath.Join(dir, "truth.jsonl"))
	if err != nil {
		return nil, err
	}
	defer f.Close()
	for lines := bufio.NewScanner(f); lines.Scan(); {
		var t truth
		if err := json.Unmarshal(lines.Bytes(), &t); err != nil {
			return nil, err
		}
		s.frames = append(s.frames, t)
	}
	return s, s.cameras()
}

// cameras reads the true lens and poses.
func (s *recording) cameras() error {
	text, err := os.ReadFile(filepath.Join(s.dir, "camera.json"))
	if err != nil {
		return err
	}
	var c struct {
		F     float64 `json:"f_px"`
		Cx    float64 `json:"cx_px"`
		Cy    float64 `json:"cy_px"`
		K1    float64 `json:"k1"`
		K2    float64 `json:"k2"`
		Views []struct {
			From string         `json:"from_frame"`
			R    frame.Rotation `json:"camera_from_board"`
			T    [3]float64     `json:"translation_mm"`
		} `json:"views"`
	}
	if err := json.Unmarshal(text, &c); err != nil {
		return err
	}
	s.views = map[string]optics.View{}
	for _, v := range c.Views {
		t := frame.Point[frame.Camera]{X: v.T[0] / 1e3, Y: v.T[1] / 1e3, Z: v.T[2] / 1e3}
		s.views[v.From] = optics.View{
			Lens:            optics.Lens{Fx: c.F, Fy: c.F, Cx: c.Cx, Cy: c.Cy, K1: c.K1, K2: c.K2},
			CameraFromBoard: frame.Pose[frame.Camera, frame.Board]{R: v.R, T: t},
		}
	}
	return nil
}

// fromRoot is a path as somebody at the repository's root means it.
func fromRoot(path string) string {
	if filepath.IsAbs(path) {
		return path
	}
	return filepath.Join("..", "..", path)
}

// TestScenes reads rendered games: BOARDHAND_SCENES names folders (patterns,
// separated by colons), BOARDHAND_VIEW=true gives the reader the true camera,
// BOARDHAND_SQUARE=true tells it nothing but the size of a square,
// BOARDHAND_HEIGHTS=1.2 tells it heights wrong by that factor (recording.mistell),
// BOARDHAND_PLOT names a file for the picture of its beliefs (SVG),
// BOARDHAND_CARD one for the card (JSON, for tools/score).
func TestScenes(t *testing.T) {
	patterns := os.Getenv("BOARDHAND_SCENES")
	if patterns == "" {
		t.Skip("BOARDHAND_SCENES is not set")
	}
	var dirs []string
	for pattern := range strings.SplitSeq(patterns, ":") {
		more, err := filepath.Glob(fromRoot(pattern))
		if err != nil {
			t.Fatal(err)
		}
		dirs = append(dirs, more...)
	}
	m := readScenes(t, dirs)
	m.total.report(t)
	if name := os.Getenv("BOARDHAND_CARD"); name != "" {
		if err := m.result(setOf).Save(fromRoot(name)); err != nil {
			t.Fatal(err)
		}
	}
	if name := os.Getenv("BOARDHAND_PLOT"); name != "" {
		if err := os.WriteFile(fromRoot(name), plotReliability(reliability(m.total.said)), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}
