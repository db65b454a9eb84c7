package sight

import (
	"context"

	"boardhand/internal/chess"
)

// Glance takes a picture for Present and Strangers without weighing moves.
func (r *Reader) Glance(ctx context.Context, p Picture) (Reading, error) { return r.Read(ctx, p) }

// Reposition sets a position that no move leads to.
func (r *Reader) Reposition(pos chess.Position) { r.Begin(pos) }
