package table

import (
	"context"
	"fmt"
	"math"

	"boardhand/internal/carry"
	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/notice"
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
	scene := t.scene(pos)
	plan, err := t.p.Planner.Move(ctx, scene, pos, t.decided)
	if err != nil {
		return Carrying, "", fmt.Errorf("no way was found for %s: %w", pos.SAN(t.decided), err)
	}
	t.board = standing(pos)
	if err := t.run(ctx, scene, plan); err != nil {
		return Carrying, "", err
	}
	return Verifying, "carried; looking whether it arrived", nil
}

// run carries out a plan, made for a scene, step by step.
func (t *Table) run(ctx context.Context, scene carry.Scene, plan carry.Plan) error {
	t.observe(Event{Plan: &plan, Scene: &scene})
	for i, s := range plan.Steps {
		if t.isHalted() {
			return errHalted
		}
		if err := t.step(ctx, s, i == len(plan.Steps)-1); err != nil {
			return fmt.Errorf("step %d of %d (%s): %w", i+1, len(plan.Steps), plan.Steps[i].Do, err)
		}
	}
	return nil
}

func (t *Table) step(ctx context.Context, s carry.Step, last bool) error {
	t.observe(Event{Step: &s})
	t.stand(s)
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
		return t.askStep(ctx, s, last)
	}
	return fmt.Errorf("unknown step %q", s.Do)
}

// stroke moves the carriage along a step's path.
func (t *Table) stroke(ctx context.Context, s carry.Step) error {
	k := t.s.Gearing.Stroke(s)
	at, err := t.p.Gantry.Move(ctx, k)
	t.carriage = at
	t.showCarriage()
	return err
}

// scene is everything on the board, at its measured place where known.
func (t *Table) scene(pos chess.Position) carry.Scene {
	sc := carry.Scene{Carriage: t.s.Gearing.Carriage(t.carriage)}
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
