package sight

import (
	"context"
	"errors"
	"fmt"

	"boardhand/internal/chess"
	"boardhand/internal/optics"
)

// Reader follows one game through pictures. It is deterministic, and not safe
// for use by two goroutines at once.
type Reader struct {
	setup Setup
	pos   chess.Position
	view  *optics.View
	err   error // the setup's

	eye *eye // what has been learnt of this table, nil before the first picture
}

// NewReader makes a reader of one table. A setup it cannot work with is
// reported by Read.
func NewReader(s Setup) *Reader {
	return &Reader{setup: s, pos: chess.Start(), view: s.View, err: s.check()}
}

// Begin sets the position that stands on the board before the first picture
// and forgets what was learnt of an earlier game.
func (r *Reader) Begin(pos chess.Position) {
	r.pos = pos
	r.eye = nil
	r.view = r.setup.View
}

// Position is the position the reader believes in.
func (r *Reader) Position() chess.Position { return r.pos }

// View is the lens and pose in use; false before the board has been found.
func (r *Reader) View() (optics.View, bool) {
	if r.view == nil {
		return optics.View{}, false
	}
	return *r.view, true
}

// Read says what a picture shows, given the position. It never changes the
// position: the caller decides with Accept or Resolve. After an error the
// reader is as it was before.
func (r *Reader) Read(ctx context.Context, p Picture) (Reading, error) {
	if r.err != nil {
		return Reading{}, r.err
	}
	if err := ctx.Err(); err != nil {
		return Reading{}, err
	}
	return Reading{}, fmt.Errorf("%s: %w", p.Name, errNotYet)
}

var errNotYet = errors.New("reading is not built yet")

// Accept makes a move on the reader's board: one that was read, or the
// machine's own.
func (r *Reader) Accept(m chess.Move) error {
	if !r.pos.Legal(m) {
		return fmt.Errorf("%s is not a legal move here", m)
	}
	r.pos = r.pos.After(m)
	return nil
}

// Resolve is Accept with a person's answer about the last picture: what was
// seen in it is learnt as that move, or, for the zero move, as no change.
func (r *Reader) Resolve(m chess.Move) error {
	if m == 0 {
		return nil
	}
	return r.Accept(m)
}
