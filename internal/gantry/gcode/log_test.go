// SPDX-License-Identifier: Apache-2.0

package gcode

import (
	"bytes"
	"io"
	"os"
	"path/filepath"
	"testing"
	"testing/synctest"

	"boardhand/internal/gantry"
	"boardhand/internal/gantry/playback"
)

// evening is what is recorded: homing, two strokes, the lift.
func evening(t *testing.T, g *Gantry) {
	t.Helper()
	_, err := g.Home(t.Context())
	must(t, err)
	_, err = g.Move(t.Context(), across())
	must(t, err)
	must(t, g.Lift(t.Context(), true))
	s := across()
	s.Path[0], s.Path[2] = s.Path[2], s.Path[0]
	_, err = g.Move(t.Context(), s)
	must(t, err)
	must(t, g.Lift(t.Context(), false))
}

// A recorded log is played back: the driver writes what it wrote then, byte by
// byte. BOARDHAND_ACCEPT=1 records anew.
func TestRecordedEvening(t *testing.T) {
	path := filepath.Join("testdata", "evening.log")
	if os.Getenv("BOARDHAND_ACCEPT") == "1" {
		var log bytes.Buffer
		synctest.Test(t, func(t *testing.T) {
			_, wire := newPeer()
			g, err := New(benchRig(t), func() (io.ReadWriteCloser, error) { return gantry.Record(wire, &log), nil }, nil)
			must(t, err)
			evening(t, g)
			must(t, os.WriteFile(path, log.Bytes(), 0o644))
			finish(g)
		})
	}
	log, err := os.ReadFile(path)
	must(t, err)
	synctest.Test(t, func(t *testing.T) {
		p, err := playback.New(bytes.NewReader(log))
		must(t, err)
		g, err := New(benchRig(t), func() (io.ReadWriteCloser, error) { return p, nil }, nil)
		must(t, err)
		evening(t, g)
		must(t, p.Err())
		finish(g)
	})
}
