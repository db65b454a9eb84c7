package sight

import (
	"bufio"
	"context"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
	"testing"
	"time"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/optics"
	"boardhand/internal/rig"
)

// scene is a rendered game with its truth, as tools/scenes writes it.
type scene struct {
	dir    string
	setup  Setup
	start  chess.Position
	frames []truth
	views  map[string]optics.View // from this frame on
}

// truth is what one picture shows.
type truth struct {
	Frame   string                `json:"frame"`
	State   State                 `json:"state"`
	Move    string                `json:"move"`
	FEN     string                `json:"fen"`
	Kind    string                `json:"kind"`
	Offsets map[string][2]float64 `json:"offsets"`
}

func readScene(dir string) (*scene, error) {
	r, err := rig.Load(filepath.Join(dir, "rig.toml"), rig.Watching)
	if err != nil {
		return nil, err
	}
	s := &scene{dir: dir}
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
func (s *scene) cameras() error {
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

// tallyOf scenes: what was read against what was so.
type score struct {
	confusion       map[[2]string]int
	moves, right    int
	wrong, settled  int
	unsure          int
	told, toldRight int // illegal and partial
	times           []float64
	offsets         []float64 // mm, each coordinate
	sigmas          []float64 // error over the stated σ
	said            []answer
	worst           []string
}

func newScore() *score { return &score{confusion: map[[2]string]int{}} }

// follow reads a scene with the truth as the person who is asked.
func (c *score) follow(t *testing.T, s *scene, givenView bool) {
	r := NewReader(s.setup)
	r.Begin(s.start)
	for _, f := range s.frames {
		if v, ok := s.views[f.Frame]; ok && givenView {
			r.use(v)
		}
		data, err := os.ReadFile(filepath.Join(s.dir, f.Frame))
		if err != nil {
			t.Fatal(err)
		}
		p := Picture{Name: f.Frame, JPEG: data}
		if p.Image, err = p.decode(); err != nil {
			t.Fatal(err)
		}
		began := busy()
		got, err := r.Read(context.Background(), p)
		if err != nil {
			t.Errorf("%s: %v", s.dir, err)
			c.confusion[[2]string{string(f.State), "error"}]++
			continue
		}
		took := (busy() - began).Seconds() * 1e3
		c.add(s, f, got, took)
		if want := os.Getenv("BOARDHAND_EXPLAIN"); want != "" && strings.HasSuffix(filepath.Base(s.dir)+"/"+f.Frame, want) {
			t.Log(r.Explain())
		}
		if f.State == Moved {
			m, err := pos(r).ParseUCI(f.Move)
			if err != nil {
				t.Fatal(err)
			}
			if got.State == Moved && got.Move == m {
				err = r.Accept(m)
			} else {
				err = r.Resolve(m)
			}
			if err != nil {
				t.Fatal(err)
			}
		} else if f.State == Same && got.State == Unsure {
			if err := r.Resolve(0); err != nil {
				t.Fatal(err)
			}
		}
		if f.State == Moved || f.State == Same {
			c.compare(s, f, r)
		}
	}
}

// busy is the processor time this program has used: the machine may have
// other work.
func busy() time.Duration {
	var u syscall.Rusage
	if syscall.Getrusage(syscall.RUSAGE_SELF, &u) != nil {
		return 0
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}

func pos(r *Reader) *chess.Position { p := r.Position(); return &p }

// add books one reading.
func (c *score) add(s *scene, f truth, got Reading, took float64) {
	c.confusion[[2]string{string(f.State), string(got.State)}]++
	c.times = append(c.times, took)
	right := got.State == f.State && (f.State != Moved || got.Move.String() == f.Move)
	if got.State != Unsure {
		c.said = append(c.said, answer{got.Belief, right})
	} else if len(got.Candidates) > 0 && f.State == Moved {
		best := got.Candidates[0]
		c.said = append(c.said, answer{best.Belief, best.Move.String() == f.Move})
	}
	if f.State != Hand {
		c.settled++
		if got.State == Unsure {
			c.unsure++
		}
	}
	if f.State == Moved {
		c.moves++
		if right {
			c.right++
		}
	}
	if got.State == Moved && !right {
		c.wrong++
	}
	if f.State == Partial || f.State == Illegal {
		c.told++
		if right {
			c.toldRight++
		}
	}
	if !right {
		c.worst = append(c.worst, fmt.Sprintf("%s/%s %s %s %s: read %s %s %.4f %v %v", filepath.Base(s.dir), f.Frame, f.Kind, f.State, f.Move, got.State, got.Move, got.Belief, got.Squares, got.Candidates))
	}
}

// compare books the offsets of the men.
func (c *score) compare(s *scene, f truth, r *Reader) {
	for _, o := range r.Offsets() {
		want, ok := f.Offsets[o.Square.String()]
		if !ok {
			continue
		}
		for _, e := range [2]float64{o.Delta.X*1e3 - want[0], o.Delta.Y*1e3 - want[1]} {
			c.offsets = append(c.offsets, math.Abs(e))
			c.sigmas = append(c.sigmas, math.Abs(e)/(o.Sigma*1e3))
		}
	}
}

func quantile(v []float64, q float64) float64 {
	if len(v) == 0 {
		return math.NaN()
	}
	slices.Sort(v)
	return v[int(q*float64(len(v)-1))]
}

func (c *score) report(t *testing.T) {
	states := []string{"same", "move", "hand", "partial", "illegal", "unsure", "error"}
	var b strings.Builder
	fmt.Fprintf(&b, "\n%8s", "true")
	for _, s := range states {
		fmt.Fprintf(&b, "%9s", s)
	}
	for _, s := range states[:5] {
		fmt.Fprintf(&b, "\n%8s", s)
		for _, g := range states {
			fmt.Fprintf(&b, "%9d", c.confusion[[2]string{s, g}])
		}
	}
	fmt.Fprintf(&b, "\nmoves right %d of %d, wrong moves %d, unsure %d of %d settled, partial/illegal told %d of %d\n", c.right, c.moves, c.wrong, c.unsure, c.settled, c.toldRight, c.told)
	fmt.Fprintf(&b, "time ms: median %.0f, 95 %% %.0f, most %.0f\n", quantile(c.times, 0.5), quantile(c.times, 0.95), quantile(c.times, 1))
	fmt.Fprintf(&b, "offsets mm: median %.2f, 95 %% %.2f, most %.2f; over σ: median %.2f, 95 %% %.2f\n", quantile(c.offsets, 0.5), quantile(c.offsets, 0.95), quantile(c.offsets, 1), quantile(c.sigmas, 0.5), quantile(c.sigmas, 0.95))
	fmt.Fprintf(&b, "belief:")
	for _, n := range reliability(c.said) {
		fmt.Fprintf(&b, "  %.3f: %d of %d", n.belief, n.right, n.of)
	}
	t.Log(b.String())
	for _, w := range c.worst {
		t.Log(w)
	}
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
// BOARDHAND_PLOT names a file for the picture of its beliefs (SVG).
func TestScenes(t *testing.T) {
	patterns := os.Getenv("BOARDHAND_SCENES")
	if patterns == "" {
		t.Skip("BOARDHAND_SCENES is not set")
	}
	c := newScore()
	for pattern := range strings.SplitSeq(patterns, ":") {
		dirs, err := filepath.Glob(fromRoot(pattern))
		if err != nil {
			t.Fatal(err)
		}
		for _, d := range dirs {
			s, err := readScene(d)
			if err != nil {
				t.Logf("%s: %v", d, err)
				continue
			}
			c.follow(t, s, os.Getenv("BOARDHAND_VIEW") == "true")
		}
	}
	c.report(t)
	if name := os.Getenv("BOARDHAND_PLOT"); name != "" {
		if err := os.WriteFile(fromRoot(name), plotReliability(reliability(c.said)), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}
