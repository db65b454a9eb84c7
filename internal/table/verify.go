package table

import (
	"context"
	"slices"

	"boardhand/internal/carry"
	"boardhand/internal/chess"
	"boardhand/internal/notice"
	"boardhand/internal/sight"
)

// verifying looks whether the machine's move stands on the board. A man that
// slipped is fetched once; then the guest is asked.
func (t *Table) verifying(ctx context.Context) (State, string, error) {
	t.p.Eye.Expect(t.decided) // after a break it may not know
	asked := false
	for {
		r, err := t.settled(ctx)
		if err != nil {
			return Verifying, "", err
		}
		switch {
		case t.isHalted():
			return Verifying, "", errHalted
		case r.State == sight.Moved && r.Move == t.decided, t.believed(r):
			return t.arrived(ctx, r)
		case r.State == sight.Same && !t.mended:
			t.mended = true
			return Carrying, "the man did not come along; once more", nil
		case !t.mended:
			t.mended = true
			if err := t.fetch(ctx); err == nil {
				continue
			} else if ctx.Err() != nil || t.isHalted() {
				return Verifying, "", err
			}
		}
		if !asked {
			asked = true
			if err := t.askMend(ctx, r); err != nil {
				return Verifying, "", err
			}
		}
	}
}

// likelier is the belief from which a move is likelier than everything else
// together, men that slipped on the way included.
const likelier = 0.5

// believed says whether a doubtful picture is still the machine's own move:
// it knows what it carried, so this need only be likelier than not.
func (t *Table) believed(r sight.Reading) bool {
	return r.State == sight.Unsure && len(r.Candidates) > 0 &&
		r.Candidates[0].Move == t.decided && r.Candidates[0].Belief > likelier
}

// arrived sets the man straight if need be and finishes the move.
func (t *Table) arrived(ctx context.Context, r sight.Reading) (State, string, error) {
	if t.astray(t.decided.To()) && !t.mended {
		t.mended = true
		t.now.Board = standing(t.after())
		scene := t.scene()
		plan, err := t.straighten(ctx, scene, t.decided.To())
		if err == nil {
			if err := t.run(ctx, scene, plan); err != nil {
				return Verifying, "", err
			}
			return Verifying, "it stands off centre; set straight", nil
		}
	}
	m := t.decided
	if err := t.p.Eye.Accept(m); err != nil {
		return Verifying, "", err
	}
	if err := t.finish(ctx, m, r.Belief); err != nil {
		return Verifying, "", err
	}
	s, why := t.next()
	return s, "arrived; " + why, nil
}

// straighten plans to bring the man on a square to its centre.
func (t *Table) straighten(ctx context.Context, sc carry.Scene, q chess.Square) (carry.Plan, error) {
	for i, m := range sc.Men {
		if m.Square == q {
			return t.p.Planner.Straighten(ctx, sc, i, q)
		}
	}
	return carry.Plan{}, errNoMan
}

// fetch goes to a man that slipped on the way and brings it to its square.
func (t *Table) fetch(ctx context.Context) error {
	pos := t.game.Position()
	t.now.Board = standing(pos)
	var gone []chess.Square
	if victim, at := pos.Captured(t.decided); victim != chess.NoPiece { // it was taken off before
		gone = append(gone, at)
		t.now.Board[at] = chess.NoPiece
	}
	sc := t.scene()
	i := slices.IndexFunc(sc.Men, func(m carry.Man) bool { return m.Square == t.decided.From() })
	stray, seen := t.p.Eye.Seek(t.decided.From(), gone)
	if i < 0 || !seen {
		return errNoMan
	}
	sc.Men[i].At, sc.Men[i].Sigma, sc.Men[i].Square = stray.At, stray.Sigma, chess.NoSquare
	plan, err := t.p.Planner.Straighten(ctx, sc, i, t.decided.To())
	if err != nil {
		return err
	}
	if err := t.record(ctx, Record{State: Verifying, Text: "it slipped; fetching it", JPEG: t.shown.JPEG}); err != nil {
		return err
	}
	return t.run(ctx, sc, plan)
}

// askMend asks the guest to set the board as it should be after the move.
func (t *Table) askMend(ctx context.Context, r sight.Reading) error {
	t.helped = true
	after := t.after()
	pos := t.game.Position()
	n := notice.Notice{Kind: notice.PleaseMend, Move: t.decided, Squares: r.Squares, FEN: after.FEN(),
		Text: mendOwnSentence(pos, t.decided)}
	if err := t.record(ctx, Record{State: Verifying, Text: n.Text, JPEG: t.shown.JPEG}); err != nil {
		return err
	}
	return t.tell(ctx, n)
}
