package table

import (
	"context"
	"fmt"
	"math"

	"boardhand/internal/carry"
	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/notice"
	"boardhand/internal/sight"
)

// thinking has the player choose; the choice is on disk before anything moves.
func (t *Table) thinking(ctx context.Context) (State, string, error) {
	if t.decided == 0 {
		if err := t.tell(ctx, notice.Notice{Kind: notice.Wait, Text: "I am thinking."}); err != nil {
			return Thinking, "", err
		}
		m, err := t.p.Player.Choose(ctx, t.game)
		if err != nil {
			return Thinking, "", fmt.Errorf("no move was found: %w", err)
		}
		pos := t.game.Position()
		if !pos.Legal(m) {
			return Thinking, "", fmt.Errorf("the player chose %s, which is not legal here", m)
		}
		t.decided = m
		if err := t.record(ctx, Record{State: Thinking, Decided: m, Text: "decided: " + pos.SAN(m)}); err != nil {
			return Thinking, "", err
		}
	}
	return Carrying, "carrying out " + t.decided.String(), nil
}

// carrying plans the move for the men as they stand and carries it out.
func (t *Table) carrying(ctx context.Context) (State, string, error) {
	pos := t.game.Position()
	text := fmt.Sprintf("I play %s. Hands off, please.", moveWords(pos, t.decided))
	if err := t.tell(ctx, notice.Notice{Kind: notice.Wait, Text: text}); err != nil {
		return Carrying, "", err
	}
	plan, err := t.p.Planner.Move(ctx, t.scene(pos), pos, t.decided)
	if err != nil {
		return Carrying, "", fmt.Errorf("no way was found for %s: %w", pos.SAN(t.decided), err)
	}
	t.mended = false
	if err := t.run(ctx, plan); err != nil {
		return Carrying, "", err
	}
	return Verifying, "carried; looking whether it arrived", nil
}

// run carries out a plan step by step.
func (t *Table) run(ctx context.Context, plan carry.Plan) error {
	t.observe(Event{Plan: &plan})
	for i := range plan.Steps {
		if t.isHalted() {
			return errHalted
		}
		if err := t.step(ctx, plan.Steps[i]); err != nil {
			return fmt.Errorf("step %d of %d (%s): %w", i+1, len(plan.Steps), plan.Steps[i].Do, err)
		}
	}
	return nil
}

func (t *Table) step(ctx context.Context, s carry.Step) error {
	t.observe(Event{Step: &s})
	switch s.Do {
	case carry.Travel, carry.Carry:
		return t.stroke(ctx, s)
	case carry.Grip, carry.Release:
		if err := t.p.Gantry.Lift(ctx, s.Do == carry.Grip); err != nil {
			return err
		}
		t.raised = s.Do == carry.Grip
		t.showCarriage()
		return nil
	case carry.Ask:
		return t.askStep(ctx, s)
	}
	return fmt.Errorf("unknown step %q", s.Do)
}

// stroke moves the carriage along a step's path.
func (t *Table) stroke(ctx context.Context, s carry.Step) error {
	k := carry.Stroke{Speed: s.Speed, Accel: s.Accel}
	for _, p := range s.Path {
		k.Path = append(k.Path, t.s.MachineFromBoard.Apply(p.At(0)).Spot())
	}
	t.observe(Event{Stroke: &k})
	at, err := t.p.Gantry.Move(ctx, k)
	t.carriage = at
	t.showCarriage()
	return err
}

// askStep tells the guest what to do and waits until the picture shows it.
// What cannot be seen yet (a promoted man) is left to verifying.
func (t *Table) askStep(ctx context.Context, s carry.Step) error {
	if err := t.enter(ctx, Removal, s.Text); err != nil {
		return err
	}
	kind, square := notice.PleaseTake, s.From
	if s.From == chess.NoSquare || s.To != chess.NoSquare {
		kind, square = notice.PleasePut, s.To
	}
	n := notice.Notice{Kind: kind, Text: s.Text, Piece: s.Piece, Squares: []chess.Square{square}, Move: t.decided}
	if kind == notice.PleasePut {
		after := t.after()
		n.FEN = after.FEN()
	}
	if err := t.tell(ctx, n); err != nil {
		return err
	}
	if kind == notice.PleaseTake {
		if err := t.awaitGone(ctx, square); err != nil {
			return err
		}
	}
	return t.enter(ctx, Carrying, "done; going on")
}

// after is the position once the decided move is finished.
func (t *Table) after() chess.Position {
	pos := t.game.Position()
	return pos.After(t.decided)
}

// awaitGone looks until the man on a square has been taken off: the picture
// then shows the beginning of the decided move, with that square among those
// that differ.
func (t *Table) awaitGone(ctx context.Context, q chess.Square) error {
	for {
		r, err := t.settled(ctx)
		if err != nil {
			return err
		}
		if t.isHalted() {
			return errHalted
		}
		if r.State == sight.Partial && len(r.Squares) == 1 && r.Squares[0] == q {
			return nil
		}
		if r.State == sight.Illegal && len(r.Squares) > 0 {
			if err := t.tell(ctx, takeNotice(q, r, t.game.Position())); err != nil {
				return err
			}
		}
	}
}

// scene is everything on the board, at its measured place where known.
func (t *Table) scene(pos chess.Position) carry.Scene {
	sc := carry.Scene{Carriage: t.s.MachineFromBoard.Inverse().Apply(t.carriage.At(0)).Spot()}
	for q := chess.Square(0); q < chess.NoSquare; q++ {
		p := pos.At(q)
		if p == chess.NoPiece {
			continue
		}
		m := carry.Man{Piece: p, Square: q, At: t.centre(q), Magnet: t.s.Carried[p.Color()],
			Foot: float64(t.s.Feet[p.Kind()]), Sigma: unmeasured * float64(t.s.Square)}
		if o, ok := t.men[q]; ok {
			m.At, m.Sigma = m.At.Add(o.Delta), o.Sigma
		}
		sc.Men = append(sc.Men, m)
	}
	return sc
}

// unmeasured is the standard deviation, as a share of the square, of a man
// that no picture has measured: people put men within a few hundredths of a
// square of the centre (common practice, no source).
const unmeasured = 0.05

// centre is the middle of a square, board frame.
func (t *Table) centre(q chess.Square) frame.Spot[frame.Board] {
	s := float64(t.s.Square)
	return frame.Spot[frame.Board]{X: (float64(q.File()) - 3.5) * s, Y: (float64(q.Rank()) - 3.5) * s}
}

// offCentre is how far from its square's centre, as a share of the square, an
// own man may stand before it is set straight: half of the 12 % that lanes
// are planned to cope with.
const offCentre = 0.06

// astray says whether the man on q stands too far from the centre.
func (t *Table) astray(q chess.Square) bool {
	o, ok := t.men[q]
	return ok && math.Hypot(o.Delta.X, o.Delta.Y)-2*o.Sigma > offCentre*float64(t.s.Square)
}
