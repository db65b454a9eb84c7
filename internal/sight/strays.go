package sight

import "boardhand/internal/chess"

// strays are the standing men that the best guess puts where no rule does:
// slipped on the way, or set down on a wrong square.
func (v *verdict) strays() []Stray {
	best := &v.guesses[0]
	if best.state != Illegal || v.reading.State != Illegal && v.reading.State != Unsure {
		return nil
	}
	q := newInquiry(v.glance)
	var out []Stray
	for k, m := range best.stood {
		if m.nudged != nil || best.after[m.square] == chess.NoPiece { // in its square, or fallen
			continue
		}
		top := q.score(best.gone, best.stood)
		out = append(out, Stray{Side: m.piece.Color(), At: m.at, Sigma: q.sharpness(best.gone, best.stood, k, top)})
	}
	return out
}
