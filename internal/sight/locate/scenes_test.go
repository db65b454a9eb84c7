// SPDX-License-Identifier: Apache-2.0

package locate

import (
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"sort"
	"testing"

	"github.com/pelletier/go-toml/v2"

	"boardhand/internal/frame"
	"boardhand/internal/optics"
	"boardhand/internal/sight/pixels"
	"boardhand/internal/unit"
)

// stage is one evening of pictures with the truth about its camera.
type stage struct {
	name  string
	setup Setup
	lens  optics.Lens
	poses []stagePose
	files []string
}

type stagePose struct {
	From string        `json:"from_frame"`
	R    [3][3]float64 `json:"camera_from_board"`
	T    [3]float64    `json:"translation_mm"`
}

// view is the true view of a picture.
func (s *stage) view(file string) optics.View {
	v := optics.View{Lens: s.lens}
	for _, p := range s.poses {
		if p.From <= filepath.Base(file) {
			v.CameraFromBoard.R = p.R
			v.CameraFromBoard.T = frame.Point[frame.Camera]{X: p.T[0] / 1e3, Y: p.T[1] / 1e3, Z: p.T[2] / 1e3}
		}
	}
	return v
}

func readStage(dir string) (*stage, error) {
	s := &stage{name: filepath.Base(dir)}
	text, err := os.ReadFile(filepath.Join(dir, "rig.toml"))
	if err != nil {
		return nil, err
	}
	var r struct {
		Board  struct{ Square, Border unit.Length }
		Camera struct {
			Image     [2]int
			HFOV      unit.Angle
			Height    unit.Length
			WhiteSide string `toml:"white_side"`
		}
	}
	if err := toml.Unmarshal(text, &r); err != nil {
		return nil, err
	}
	s.setup = Setup{Square: float64(r.Board.Square), Border: float64(r.Board.Border), Image: r.Camera.Image,
		HFOV: float64(r.Camera.HFOV), Height: float64(r.Camera.Height), WhiteSide: r.Camera.WhiteSide}
	if text, err = os.ReadFile(filepath.Join(dir, "camera.json")); err != nil {
		return nil, err
	}
	var c struct {
		F     float64 `json:"f_px"`
		Cx    float64 `json:"cx_px"`
		Cy    float64 `json:"cy_px"`
		K1    float64 `json:"k1"`
		K2    float64 `json:"k2"`
		Views []stagePose
	}
	if err := json.Unmarshal(text, &c); err != nil {
		return nil, err
	}
	s.lens, s.poses = optics.Lens{Fx: c.F, Fy: c.F, Cx: c.Cx, Cy: c.Cy, K1: c.K1, K2: c.K2}, c.Views
	s.files, err = filepath.Glob(filepath.Join(dir, "frame_*.jpg"))
	sort.Strings(s.files)
	return s, err
}

// fieldMiss is the root mean square and the largest distance in px between
// where two views put the field's 81 corners.
func fieldMiss(a, b optics.View, square float64) (rms, worst float64) {
	for _, n := range fieldNodes() {
		p := frame.Point[frame.Board]{X: float64(n.i) * square, Y: float64(n.j) * square}
		pa, _ := a.Project(p)
		pb, _ := b.Project(p)
		d := pa.Distance(pb)
		rms, worst = rms+d*d/81, math.Max(worst, d)
	}
	return math.Sqrt(rms), worst
}

// Pictures drawn by an independent ray tracer: set BOARDHAND_SCENES to a glob
// of scene folders. Every first picture must be located, every other one
// located or, under a hand, tracked; field corners within half a pixel RMS.
func TestLocateScenes(t *testing.T) {
	pattern := os.Getenv("BOARDHAND_SCENES")
	if pattern == "" {
		t.Skip("set BOARDHAND_SCENES to a glob of scene folders made by tools/scenes to run this check")
	}
	if !filepath.IsAbs(pattern) {
		pattern = filepath.Join("..", "..", "..", pattern) // as somebody at the repository's root means it
	}
	dirs, err := filepath.Glob(pattern)
	if err != nil || len(dirs) == 0 {
		t.Fatalf("no folder fits %q (%v)", pattern, err)
	}
	for _, dir := range dirs {
		s, err := readStage(dir)
		if err != nil {
			t.Fatal(err)
		}
		s.check(t)
	}
}

// check locates and tracks every picture of an evening.
func (s *stage) check(t *testing.T) {
	t.Helper()
	setup, found, most := s.setup, 0, 0.0
	for i, f := range s.files {
		img, v := pixels.LumaOf(openPicture(t, f)), s.view(f)
		l, err := Find(img, s.setup)
		if err == nil {
			found++
			rms, worst := fieldMiss(l.View, v, s.setup.Square)
			most = math.Max(most, rms)
			if rms > 0.5 {
				t.Errorf("%s: field corners %.2f px RMS off, worst %.2f", f, rms, worst)
			}
		}
		if i == 0 {
			if err != nil {
				t.Errorf("%s: %v", f, err)
				return
			}
			setup.Prior = &l.View
			continue
		}
		k, err := Track(img, setup)
		if err != nil {
			t.Errorf("%s: not tracked: %v", f, err)
			continue
		}
		if rms, worst := fieldMiss(k.View, v, s.setup.Square); rms > 0.5 {
			t.Errorf("%s: tracked field corners %.2f px RMS off, worst %.2f", f, rms, worst)
		}
	}
	t.Logf("%s: located in %d of %d pictures, at most %.3f px RMS off", s.name, found, len(s.files), most)
}
