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
	t.now.Board, t.now.Way, t.goal = standing(pos), nil, nil
	t.p.Eye.Expect(t.decided)
	scene := t.scene()
	plan, err := t.p.Planner.Move(ctx, scene, pos, t.decided)
	if err != nil {
		return Carrying, "", fmt.Errorf("no way was found for %s: %w", pos.SAN(t.decided), err)
	}
	if err := t.run(ctx, scene, plan); err != nil {
		return Carrying, "", err
	}
	return Verifying, "carried; looking whether it arrived", nil
}

// mostReplans is how often one move is planned anew because a man was set
// straight: a guest who cannot get him straight is asked to make the move.
const mostReplans = 3

// run carries out a plan, made for a scene, step by step. After a man was set
// straight, what is left is planned anew for the men as they are seen now.
func (t *Table) run(ctx context.Context, scene carry.Scene, plan carry.Plan) error {
	t.observe(Event{Plan: &plan, Scene: &scene})
	t.asking = false
	for i, s := range plan.Steps {
		if t.isHalted() {
			return errHalted
		}
		if err := t.step(ctx, s, i == len(plan.Steps)-1); err != nil {
			return fmt.Errorf("step %d of %d (%s): %w", i+1, len(plan.Steps), plan.Steps[i].Do, err)
		}
		if straightens(s) && i+1 < len(plan.Steps) && t.replans < mostReplans {
			return t.replan(ctx, plan.Steps[i+1:])
		}
	}
	return nil
}

// straightens says whether a step has a man set straight in his square.
func straightens(s carry.Step) bool {
	return s.Do == carry.Ask && len(s.Acts) == 0 && s.From == s.To && s.From < chess.NoSquare
}

// replan plans what is left anew and carries it out.
func (t *Table) replan(ctx context.Context, steps []carry.Step) error {
	t.replans++
	scene := t.scene()
	plan, err := t.rest(ctx, scene, steps)
	if err != nil {
		return fmt.Errorf("no way was found after a man was set straight: %w", err)
	}
	if err := t.record(ctx, Record{State: t.state, Text: "measured again and planned anew", JPEG: t.shown.JPEG}); err != nil {
		return err
	}
	return t.run(ctx, scene, plan)
}

func (t *Table) rest(ctx context.Context, scene carry.Scene, steps []carry.Step) (carry.Plan, error) {
	if t.decided != 0 {
		return t.p.Planner.Resume(ctx, scene, t.game.Position(), t.decided)
	}
	return t.p.Planner.Rest(ctx, scene, steps)
}

func (t *Table) step(ctx context.Context, s carry.Step, last bool) error {
	t.observe(Event{Step: &s})
	switch s.Do {
	case carry.Travel:
		return t.stroke(ctx, s)
	case carry.Carry:
		return t.carry(ctx, s)
	case carry.Grip, carry.Release:
		if err := t.p.Gantry.Lift(ctx, s.Do == carry.Grip); err != nil {
			return err
		}
		t.raised = s.Do == carry.Grip
		t.showCarriage()
		return nil
	case carry.Ask:
		t.stand(s)
		t.asking = true
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

// carry drags a man. What cannot be read off the board after a break, a man
// on his way to or from the tray, or to anywhere in a task, is on disk before
// he moves and again when he has arrived.
func (t *Table) carry(ctx context.Context, s carry.Step) error {
	w := t.way(s)
	keep := t.task.Kind != NoTask || w.From >= Slot || w.To >= Slot || w.To < 0
	if keep {
		t.now.Way = &w
		text := fmt.Sprintf("carrying the %v from %s to %s", s.Piece, t.placeWords(w.From), t.placeWords(w.To))
		if err := t.record(ctx, Record{State: t.state, Text: text}); err != nil {
			return err
		}
	}
	if err := t.stroke(ctx, s); err != nil {
		return err
	}
	t.now.Way = nil
	t.stand(s)
	if keep {
		return t.record(ctx, Record{State: t.state, Text: "it is at " + t.placeWords(w.To)})
	}
	return nil
}

// placeWords says a place as the page and the drawing name it.
func (t *Table) placeWords(p Place) string {
	if p >= Slot {
		return "slot " + carry.SlotName(int(p-Slot), len(t.s.Slots))
	}
	if p == Person {
		return "beside the board"
	}
	return p.String()
}

// scene is everything on the board, at its measured place where known, and
// whoever stands in the tray.
func (t *Table) scene() carry.Scene {
	sc := carry.Scene{Carriage: t.s.Gearing.Carriage(t.carriage)}
	for q := chess.Square(0); q < chess.NoSquare; q++ {
		p := t.now.Board[q]
		if p == chess.NoPiece {
			continue
		}
		m := t.man(p, q, t.centre(q))
		if o, ok := t.men[q]; ok {
			m.At, m.Sigma = m.At.Add(o.Delta), o.Sigma
		}
		sc.Men = append(sc.Men, m)
	}
	for _, b := range t.now.Beside {
		if k := int(b.Place - Slot); k >= 0 && k < len(t.s.Slots) {
			sc.Men = append(sc.Men, t.man(b.Piece, chess.NoSquare, t.s.Slots[k]))
		}
	}
	return sc
}

func (t *Table) man(p chess.Piece, q chess.Square, at frame.Spot[frame.Board]) carry.Man {
	return carry.Man{Piece: p, Square: q, At: at, Magnet: t.s.Carried[p.Color()],
		Foot: float64(t.s.Feet[p.Kind()]), Sigma: unmeasured * float64(t.s.Square)}
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

// astray says whether the man on q stands too far from the centre, rather than
// not: setting one straight for nothing costs seconds.
func (t *Table) astray(q chess.Square) bool {
	o, ok := t.men[q]
	return ok && math.Hypot(o.Delta.X, o.Delta.Y)-o.Sigma > offCentre*float64(t.s.Square)
}

// straightEnough is how far off the centre, as a share of the square, a man
// that was set straight by hand may stand: what careful hands do (4 %, common
// practice, no source), and half as much again.
const straightEnough = 0.06

// isStraight says whether the man on q was measured and stands well.
func (t *Table) isStraight(q chess.Square) bool {
	o, ok := t.men[q]
	return ok && math.Hypot(o.Delta.X, o.Delta.Y) <= straightEnough*float64(t.s.Square)
}
