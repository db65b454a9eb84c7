// SPDX-License-Identifier: Apache-2.0

package twin

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"math"
	"os"

	"boardhand/internal/chess"
	"boardhand/internal/twin/mechanics"
	"boardhand/internal/twin/physics"
)

// readKept reads a kept world; nil when there is none.
func readKept(path string) (*kept, error) {
	if path == "" {
		return nil, nil
	}
	text, err := os.ReadFile(path)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, fmt.Errorf("the kept world cannot be read: %w", err)
	}
	k, err := parseKept(text)
	if err != nil {
		return nil, fmt.Errorf("%s is not a kept world: %w; delete it to begin with a new table", path, err)
	}
	return k, nil
}

// mostPieces is how many pieces a kept world has at most: two sets, and every
// pawn promoted.
const mostPieces = 2*32 + 16

// parseKept reads a kept world strictly: one that could not be is refused.
func parseKept(text []byte) (*kept, error) {
	var k kept
	d := json.NewDecoder(bytes.NewReader(text))
	d.DisallowUnknownFields()
	if err := d.Decode(&k); err != nil {
		return nil, err
	}
	if _, err := d.Token(); err != io.EOF {
		return nil, errors.New("something follows the world")
	}
	switch {
	case k.Version != keptVersion:
		return nil, fmt.Errorf("version %d; this program knows %d", k.Version, keptVersion)
	case len(k.Pieces) > mostPieces:
		return nil, fmt.Errorf("%d pieces; %d are the most", len(k.Pieces), mostPieces)
	case !(k.Lift >= 0 && k.Lift <= 1):
		return nil, fmt.Errorf("the lift is at %g of its way", k.Lift)
	case k.Guest.Holds < -1 || k.Guest.Holds >= len(k.Pieces):
		return nil, fmt.Errorf("the guest holds piece %d of %d", k.Guest.Holds, len(k.Pieces))
	}
	for i, p := range k.Pieces {
		if err := p.check(i == k.Guest.Holds); err != nil {
			return nil, fmt.Errorf("piece %d: %w", i, err)
		}
	}
	return &k, k.checkRest()
}

// farthest is how far from the board's middle anything of the world may be, m.
const farthest = 5.0

func near(v float64) bool { return math.Abs(v) <= farthest }

func (p keptPiece) check(held bool) error {
	k := p.Piece.Kind()
	switch {
	case p.Piece == chess.NoPiece || k < chess.Pawn || k > chess.King || p.Piece.Color() > chess.Black:
		return fmt.Errorf("%d is no piece", p.Piece)
	case p.Place > physics.Gone || (p.Place == physics.InHand) != held:
		return fmt.Errorf("place %d does not fit", p.Place)
	case !near(p.At.X) || !near(p.At.Y) || !near(p.Z):
		return errors.New("it is out of the room")
	case !(p.Static >= 0 && p.Static < 10 && p.Kinetic >= 0 && p.Kinetic < 10):
		return fmt.Errorf("friction of %g and %g", p.Static, p.Kinetic)
	case math.Abs(p.Strength) > 10 || math.Abs(p.Astray) > 0.1 || !near(p.Shade) || math.Abs(p.Yaw) > 1e6:
		return errors.New("a value out of range")
	case p.Origin > chess.NoSquare || p.Shelf < -1 || p.Shelf > mostPieces:
		return errors.New("it stood nowhere")
	}
	return nil
}

func (k *kept) checkRest() error {
	for _, br := range k.Magnets {
		if !(br > 0 && br < 3) {
			return fmt.Errorf("a magnet of %g T", br)
		}
	}
	for _, a := range k.Axes {
		if !near(a.Motor) || !near(a.Lost) || !near(a.Slack) {
			return errors.New("an axis is out of the room")
		}
	}
	for _, fen := range []string{k.Guest.Game, k.Guest.Before} {
		if _, err := chess.ParseFEN(fen); err != nil {
			return fmt.Errorf("the guest's game: %w", err)
		}
	}
	c := k.Camera
	if c.Taken < 0 || !near(c.Lamp.Norm()) || !(c.Radius > 0 && c.Power > 0 && c.Rest > 0) || !near(c.Pose.T.Norm()) {
		return errors.New("camera or light out of the room")
	}
	return nil
}

// restore puts the world as a file has it; the game is what the guest hears.
func (w *World) restore(k *kept, pos chess.Position) error {
	if k.Square != float64(w.rig.Board.Square) {
		return fmt.Errorf("the kept world %s has squares of %.1f mm, the rig %.1f mm: use its rig, or delete it", w.opts.Keep, k.Square*1e3, w.rig.Board.Square.MM())
	}
	w.now, w.count = k.Now, k.Counters
	w.carriage.Restore(mechanics.State{Lift: k.Lift, Raises: k.Raises, Axes: k.Axes})
	for _, p := range k.Pieces {
		b := w.table.Turn(p.Piece)
		b.Place, b.At, b.Z, b.Yaw, b.Fallen, b.Heading, b.Lean = p.Place, p.At, p.Z, p.Yaw, p.Fallen, p.Heading, p.Lean
		b.Shade, b.Static, b.Kinetic, b.Strength, b.Magnet = p.Shade, p.Static, p.Kinetic, p.Strength, p.Magnet
		b.Astray, b.Origin = p.Astray, p.Origin
		if p.Ill != "" {
			w.ills[b] = p.Ill
		}
	}
	w.person = newPerson(w, pos)
	w.studio.Restore(k.Camera)
	for part, state := range k.Chance {
		if source := w.sources[part]; source != nil {
			if err := source.UnmarshalBinary(state); err != nil {
				return fmt.Errorf("the kept world %s: stream %d: %w; delete it to begin with a new table", w.opts.Keep, part, err)
			}
		}
	}
	shelves := make([]int, len(k.Pieces))
	for i, p := range k.Pieces {
		shelves[i] = p.Shelf
	}
	w.person.Remember(k.Guest, shelves, pos)
	w.table.TakeGrip(w.magnet())
	w.keep()
	return w.unkept
}
