// SPDX-License-Identifier: Apache-2.0

package session

import (
	"context"
	"errors"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/motion"
	"boardhand/internal/rig"
	"boardhand/internal/twin"
)

// gantryOf answers as it is told and notes what it was asked.
type gantryOf struct {
	at   float64
	err  error
	mu   *sync.Mutex
	did  *[]string
	name string
}

func (g gantryOf) note(what string) {
	g.mu.Lock()
	defer g.mu.Unlock()
	*g.did = append(*g.did, g.name+" "+what)
}

func (g gantryOf) Home(context.Context) (frame.Spot[frame.Machine], error) {
	g.note("home")
	return frame.Spot[frame.Machine]{X: g.at}, g.err
}

func (g gantryOf) Move(context.Context, motion.Stroke) (frame.Spot[frame.Machine], error) {
	g.note("move")
	return frame.Spot[frame.Machine]{X: g.at}, g.err
}

func (g gantryOf) Lift(context.Context, bool) error { g.note("lift"); return g.err }
func (g gantryOf) Halt() error                      { g.note("halt"); return g.err }

// Both gantries do everything, the first one's word counts, and a halt reaches the
// second where the first fails.
func TestMirroredGantry(t *testing.T) {
	first, second := errors.New("first"), errors.New("second")
	for _, c := range []struct{ a, b, want error }{{nil, nil, nil}, {first, nil, first}, {nil, second, second}, {first, second, first}} {
		var mu sync.Mutex
		var did []string
		m := &mirrored{gantryOf{1, c.a, &mu, &did, "a"}, gantryOf{2, c.b, &mu, &did, "b"}}
		at, err := m.Home(t.Context())
		if at.X != 1 || err != c.want {
			t.Errorf("home: %v, %v", at, err)
		}
		if at, err = m.Move(t.Context(), motion.Stroke{}); at.X != 1 || err != c.want {
			t.Errorf("move: %v, %v", at, err)
		}
		if err := m.Lift(t.Context(), true); err != c.want {
			t.Errorf("lift: %v", err)
		}
		if err := m.Halt(); err != c.want {
			t.Errorf("halt: %v", err)
		}
		if n := len(did); n != 8 || !slices.Equal(did[6:], []string{"a halt", "b halt"}) {
			t.Errorf("did %q", did)
		}
	}
}

// A controller that cannot be reached, and what is not there yet, is one sentence
// that says what to do.
func TestMotorsThatCannotBeSetUp(t *testing.T) {
	none := filepath.Join(t.TempDir(), "none")
	for _, c := range []struct{ port, source, want string }{
		{none, "twin", "none is not there: plug the controller in, or set controller.port to one of"},
		{none, "folder:pictures", "play wants a camera; watch --frames reads a folder"},
		{none, "v4l2:/dev/none", "plug the camera in"},
		{"tacho", "twin", "no motor at port outA: plug it in, or name its port in controller.motor"},
		{"", "v4l2:/dev/none", "a real camera does not see the simulated carriage"},
	} {
		r := rig.Default()
		if r.Controller.Port, r.Camera.Source = c.port, c.source; c.port != "" {
			r.Controller.Kind = "gcode"
		}
		if c.port == "tacho" {
			r.Controller.Kind, r.Controller.Motor = "tacho", map[string]string{"x": "outA", "y": "outB", "lift": "outC"}
		}
		_, err := setUpMotors(t.Context(), r, chess.Start(), twin.Options{Seed: 1}, "", func(s string) { t.Error(s) })
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v, want %q", c.source, err, c.want)
		}
	}
}
