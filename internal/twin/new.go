// SPDX-License-Identifier: Apache-2.0

package twin

import (
	"fmt"
	"math/rand/v2"

	"boardhand/internal/chess"
	"boardhand/internal/rig"
	"boardhand/internal/twin/mechanics"
	"boardhand/internal/twin/physics"
	"boardhand/internal/unit"
)

// New sets the table: pieces on their squares (as a person would put them), the
// carriage lowered somewhere, the camera looking.
func New(r *rig.Rig, o Options) (*World, error) {
	if err := r.Plays(chess.Board, chess.Kinds); err != nil {
		return nil, err
	}
	pos, err := startPosition(o.FEN)
	if err != nil {
		return nil, err
	}
	faults, err := newFaultSet(o.Faults)
	if err != nil {
		return nil, err
	}
	var old *kept
	if old, err = readKept(o.Keep); err != nil {
		return nil, err
	}
	if old != nil {
		o.Seed, o.Deviations = old.Seed, &old.Deviations
		o.Deviations.DriveBr, o.Deviations.BaseBr = unit.FluxDensity(old.Magnets[0]), unit.FluxDensity(old.Magnets[1])
	}
	w := &World{rig: r, opts: o, faults: faults, ills: map[*physics.Piece]Fault{}, sources: map[uint64]*rand.PCG{}}
	w.chance = w.stream(streamWorld)
	if err := w.build(); err != nil {
		return nil, err
	}
	if old != nil {
		return w, w.restore(old, pos)
	}
	w.setPieces(pos, o)
	w.afflict()
	w.person = newPerson(w, pos)
	w.setAside(o.Beside)
	w.settle()
	w.count = Counters{}
	w.keep()
	return w, w.unkept
}

// build puts the machine and the room together.
func (w *World) build() (err error) {
	if err = w.drawDeviations(); err != nil {
		return err
	}
	r := w.rig
	w.acted, w.left = map[Fault]int{}, map[*physics.Piece]bool{}
	w.power.chance = w.stream(streamPower)
	q := w.deviations
	w.carriage, err = mechanics.New(r, mechanics.Build{Shift: q.MachineShift, Turn: q.MachineTurn, Skew: q.Skew, Stretch: q.Stretch, Play: q.Play,
		Skewed: w.diceIf(AxesSkewed), Scaled: w.diceIf(AxesScaled), StaysUp: w.diceIf(LiftStaysUp), StaysDown: w.diceIf(LiftStaysDown)})
	if err != nil {
		return err
	}
	if w.table, err = newTable(w); err != nil {
		return err
	}
	w.studio, err = newStudio(w)
	return err
}

func startPosition(fen string) (chess.Position, error) {
	if fen == "" {
		return chess.Start(), nil
	}
	p, err := chess.ParseSetUp(fen)
	if err != nil {
		return p, fmt.Errorf("the position to set up: %w", err)
	}
	return p, nil
}

func (w *World) drawDeviations() error {
	if w.opts.Deviations != nil {
		w.deviations = *w.opts.Deviations
		return nil
	}
	q, err := DrawDeviations(w.rig, w.stream(streamBuild))
	w.deviations = q
	delete(w.sources, streamBuild) // drawn from once
	return err
}

// setPieces puts the pieces of a position on their squares, as a person would.
func (w *World) setPieces(pos chess.Position, o Options) {
	for s := chess.Square(0); s < chess.NoSquare; s++ {
		p := pos.At(s)
		if int(s) < len(o.Pieces) {
			p = o.Pieces[s]
		}
		if p != chess.NoPiece {
			b := w.table.Turn(p)
			b.At, b.Origin = w.table.Around(w.table.Centre(s), w.deviations.Placement), s
		}
	}
	for _, b := range w.table.Pieces {
		w.table.MakeRoom(b)
	}
}

// setAside puts pieces in the tray, and others into the guest's keeping.
func (w *World) setAside(pieces []Aside) {
	for _, m := range pieces {
		b := w.table.Turn(m.Piece)
		if m.At != nil {
			b.At = *m.At
			continue
		}
		b.Place = physics.Beside
		b.At, b.Z = w.person.Shelf(b)
	}
}
