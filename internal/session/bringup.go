// SPDX-License-Identifier: Apache-2.0

package session

import (
	"bufio"
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"boardhand/internal/bringup"
	"boardhand/internal/chess"
	"boardhand/internal/commission"
	"boardhand/internal/measured"
	"boardhand/internal/rehearsal"
	"boardhand/internal/rig"
	"boardhand/internal/terminal"
	"boardhand/internal/twin"
)

// BringUpOptions are the flags of a bring-up.
type BringUpOptions struct {
	Twin  TwinMachine
	Yes   bool      // everything asked is answered with yes; on the twin only
	Again string    // a step to do again
	Input io.Reader // where answers are typed
	Page  bool      // answers are given on a page instead
	Addr  string    // of the page
	Pace  float64   // of the twin: its seconds in a real one; 0: as fast as it computes
}

// MachineName says which machine a rig is, for what is measured there.
func MachineName(r *rig.Rig, seed int64) string {
	switch r.Controller.Kind {
	case "gcode":
		return "gcode at " + r.Controller.Port
	case "twin":
		return measured.Twin(seed)
	}
	return r.Controller.Kind
}

// BringUp starts a machine up and keeps what it measures beside the rig file.
func BringUp(ctx context.Context, o *terminal.Out, f BringUpOptions, path string) error {
	r, err := rig.Load(path, rig.Machine)
	if err != nil {
		return err
	}
	if f.Yes && (r.Controller.Kind != "twin" || r.Camera.Source != "twin") {
		return errors.New("--yes answers for the maker on the twin only: at a real machine each motion waits for your word")
	}
	if err := f.check(); err != nil {
		return err
	}
	file, err := measured.Load(path)
	if err != nil {
		return err
	}
	if err := forget(file, f.Again); err != nil {
		return err
	}
	parts, end, err := f.parts(ctx, o, r)
	if err != nil {
		return err
	}
	defer end()
	parts.Save = func(m *measured.File) error { return m.Save(path) }
	if f.Page {
		return f.byPage(ctx, o, parts, file)
	}
	s, err := bringup.New(parts, file)
	if err != nil {
		return err
	}
	if err := s.Run(ctx); err != nil {
		return err
	}
	if o.JSON {
		return errors.Join(writeRecord(&terminal.Out{W: io.Discard}, r, s.File, path), o.Object(s.File))
	}
	return writeRecord(o, r, s.File, path)
}

// parts puts the machine together that is brought up; end lets it go.
func (f BringUpOptions) parts(ctx context.Context, o *terminal.Out, r *rig.Rig) (p bringup.Parts, end func(), err error) {
	none := slices.Repeat([]chess.Piece{chess.NoPiece}, int(chess.NoSquare))
	setUp := twin.Options{Seed: f.Twin.Seed, Pace: f.Pace, Visitor: r.Camera.Source == "twin", Pieces: none}
	isTwin := r.Controller.Kind == "twin" && r.Camera.Source == "twin"
	switch {
	case isTwin:
		setUp.Deviations, err = f.Twin.Deviations(r)
	case f.Twin.Through != "" || f.Twin.Built != "drawn":
		err = fmt.Errorf(`%s: --through and --twin are for the twin: set controller.kind = "twin" and camera.source = "twin"`, r.Name())
	}
	if err != nil {
		return p, nil, err
	}
	p = bringup.Parts{Rig: r, Machine: MachineName(r, f.Twin.Seed), Now: time.Now}
	var b *Bench
	if isTwin {
		p.Machine, end = f.Twin.Name(), func() {}
		var d *rehearsal.Driven
		if f.Twin.Through != "" {
			setUp.Pace = 0 // the controller's time has the pace
		}
		if b, d, err = SetUpThrough(r, chess.Start(), setUp, Through{Kind: f.Twin.Through, Seed: f.Twin.Seed, Pace: f.Pace}); err != nil {
			return p, nil, err
		}
		p.Gantry, p.Camera = b.motors(), b.pictures()
		if d != nil {
			a := d.Attended(p.Camera)
			p.Gantry, p.Camera, end = a, a, d.Close
		}
	} else {
		if b, err = setUpMotors(ctx, r, chess.Start(), setUp, "", func(text string) { o.Complain("%s", text) }); err != nil {
			return p, nil, err
		}
		p.Gantry, p.Camera, end = b.motors(), b.pictures(), func() { _ = b.Close() }
	}
	p.Maker = &atTerminal{out: o, lines: bufio.NewScanner(f.Input), yes: f.Yes, rig: r, world: b.World}
	return p, end, nil
}

// writeRecord writes the commissioning record beside the rig, as a page and for paper.
func writeRecord(o *terminal.Out, r *rig.Rig, f *measured.File, path string) error {
	d := commission.Record(r, f)
	var names []string
	for ending, write := range map[string]func(io.Writer) error{".html": d.HTML, ".pdf": d.PDF} {
		name := filepath.Join(filepath.Dir(path), "commissioning"+ending)
		var b bytes.Buffer
		if err := errors.Join(write(&b), os.WriteFile(name, b.Bytes(), 0o644)); err != nil {
			return fmt.Errorf("cannot write the commissioning record: %w", err)
		}
		names = append(names, name)
	}
	slices.Sort(names)
	for _, l := range commission.Lines(r, f) {
		if l.IsOff() {
			o.Printf("\n%s: %.4g, planned %.4g %s. Likely: %s.", l.What, l.Measured, l.Planned, l.Unit, l.Cause)
		}
	}
	o.Printf("\nWhat was measured is in %s, and play takes the axes from there; the record is in %s.\n", measured.Beside(path), strings.Join(names, " and "))
	return nil
}

// forget drops a step, so that it is done again.
func forget(f *measured.File, name string) error {
	if name == "" || f.Forget(name) {
		return nil
	}
	var names []string
	for _, s := range bringup.Steps {
		names = append(names, s.Name)
	}
	return fmt.Errorf("--again %s: no such step; these are: %s", name, strings.Join(names, ", "))
}

// atTerminal is the maker at a terminal. On the twin a hand does what is asked.
type atTerminal struct {
	out   *terminal.Out
	lines *bufio.Scanner
	yes   bool
	rig   *rig.Rig
	world *twin.World // nil: a real board
}

// Tell prints what is said.
func (m *atTerminal) Tell(text string) {
	if !m.out.JSON {
		m.out.Printf("%s\n", text)
	}
}

// Count prints how far a step is, now and then.
func (m *atTerminal) Count(done, of int, what string) {
	if done%8 == 0 {
		m.Tell(fmt.Sprintf("  %d of %d %s", done, of, what))
	}
}

// Ask waits for a yes or no.
func (m *atTerminal) Ask(ctx context.Context, r bringup.Request) (bool, error) {
	if !m.yes {
		isYes, err := m.answer(ctx, r.Text)
		if err != nil || !isYes {
			return false, err
		}
	}
	if m.world == nil {
		return true, nil
	}
	return true, obey(m.world, m.rig, r)
}

// obey does on the twin's table what was asked.
func obey(w *twin.World, on *rig.Rig, r bringup.Request) error {
	hand := w.Visitor()
	hand.DropSheet()
	var err error
	switch r.Asking {
	case bringup.HoldSheet:
		hand.HoldSheet(r.Hold.Place(on))
	case bringup.Put:
		err = hand.PutPiece(r.Piece, r.On)
	case bringup.Clear:
		for on := range chess.NoSquare {
			_ = hand.MovePiece(on, chess.NoSquare) // where nothing stands there is nothing to take
		}
	}
	hand.Finish()
	return err
}

// answer reads yes or no from the terminal.
func (m *atTerminal) answer(ctx context.Context, question string) (bool, error) {
	for {
		m.out.Printf("  %s (yes/no) ", question)
		line, err := m.line(ctx)
		if err != nil {
			return false, err
		}
		switch strings.ToLower(strings.TrimSpace(line)) {
		case "yes", "y":
			return true, nil
		case "no", "n":
			return false, nil
		}
	}
}

// line reads a line, not longer than ctx.
func (m *atTerminal) line(ctx context.Context) (string, error) {
	got := make(chan bool, 1)
	go func() { got <- m.lines.Scan() }()
	select {
	case <-ctx.Done():
		return "", ctx.Err()
	case ok := <-got:
		if !ok {
			return "", errors.New("nobody answers: run bringup at a terminal, or with --yes on the twin")
		}
		return m.lines.Text(), nil
	}
}
