// SPDX-License-Identifier: Apache-2.0

package hypothesis

import (
	"cmp"
	"math"
	"slices"

	"boardhand/internal/chess"
	"boardhand/internal/sight/nats"
	"boardhand/internal/sight/scene"
)

// Hypothesis is one explanation of a picture: what would stand on the board.
type Hypothesis struct {
	State  State
	Move   chess.Move
	Orders [][]chess.Move // of the plies of Several, all that lead to the board, the likeliest first
	Shares []float64      // of the orders, in proportion to how likely each is; nil: all alike
	After  scene.Occupancy
	Prior  nats.LogPrior

	Posterior nats.LogPosterior
	Evidence  nats.LogEvidence  // while its pieces are being placed
	Belief    nats.Probability  // once normalised
	Lag       float64           // nats by which the posterior is less than the best hypothesis's, 0 or negative, once normalised
	Gone      []bool            // by the scene's pieces: no longer where they stood
	Stood     []scene.Placement // the pieces that arrived or were nudged, where they fit best

	Attended bool // pieces set straight unnoticed are among those nudged
}

// Arrived is the piece that a hypothesis has come to a square; nil if nobody did.
func (g *Hypothesis) Arrived(on chess.Square) *scene.Placement {
	for k := range g.Stood {
		if g.Stood[k].Square == on {
			return &g.Stood[k]
		}
	}
	return nil
}

// plies are the move, or the likeliest order of several.
func (g *Hypothesis) plies() []chess.Move {
	if g.State == Several {
		return g.Orders[0]
	}
	return []chess.Move{g.Move}
}

// Promotions lists the squares on which pieces stand to which pawns were promoted, by the
// move or the likeliest order of plies, and with each the ply.
func (g *Hypothesis) Promotions() (on []chess.Square, plies []int) {
	order := g.plies()
	for k, m := range order {
		isLast := !slices.ContainsFunc(order[k+1:], func(n chess.Move) bool { return n.From() == m.To() || n.To() == m.To() })
		if m.Promotion() != chess.NoKind && isLast {
			on, plies = append(on, m.To()), append(plies, k)
		}
	}
	return on, plies
}

// IsLawful says whether a hypothesis is a finished move, or several.
func (g *Hypothesis) IsLawful() bool { return g.State == Moved || g.State == Several }

// Kin is the board after a lawful hypothesis with pawns where its promoted pieces stand: the
// same for all that differ in nothing but the kinds.
func (g *Hypothesis) Kin() scene.Occupancy {
	order := g.plies()
	promoted := map[chess.Square]bool{}
	for _, m := range order {
		was := promoted[m.From()]
		delete(promoted, m.From())
		promoted[m.To()] = was || m.Promotion() != chess.NoKind
	}
	out := g.After
	for s, is := range promoted {
		if is && out[s] != chess.NoPiece {
			out[s] = chess.MakePiece(out[s].Color(), chess.Pawn)
		}
	}
	return out
}

// OnlyKinds says whether a hypothesis differs from a lawful one in nothing but the
// kinds of pieces: outlines are too generic to break a rule by.
func (g *Hypothesis) OnlyKinds(lawful *Hypothesis) bool {
	if lawful.State == Illegal || g.After == lawful.After {
		return false
	}
	for s, p := range g.After {
		if o := lawful.After[s]; p != o && (p == chess.NoPiece || o == chess.NoPiece || p.Color() != o.Color()) {
			return false
		}
	}
	return true
}

// IsStrained says whether a hypothesis needs a piece touched who does not look it.
func (g *Hypothesis) IsStrained() bool {
	return slices.ContainsFunc(g.Stood, func(m scene.Placement) bool { return m.Nudged != nil && !m.Plain })
}

// Sort puts the likeliest first; equals keep their order.
func Sort(gs []Hypothesis) {
	slices.SortStableFunc(gs, func(a, b Hypothesis) int { return cmp.Compare(b.Posterior, a.Posterior) })
}

// Normalise turns posteriors, the best first, into beliefs.
func Normalise(gs []Hypothesis) {
	top, sum := gs[0].Posterior, nats.Probability(0)
	for i := range gs {
		gs[i].Lag = float64(gs[i].Posterior - top)
		gs[i].Belief = nats.Probability(math.Exp(gs[i].Lag))
		sum += gs[i].Belief
	}
	for i := range gs {
		gs[i].Belief /= sum
	}
}

// IsKindSeen says whether the picture tells by itself to what pawns were promoted, among all
// hypotheses: by how seldom they become anything but queens, whatever cannot be told would be one.
// True where none was.
func (g *Hypothesis) IsKindSeen(all []Hypothesis) bool {
	if on, _ := g.Promotions(); len(on) == 0 {
		return true
	}
	seen, sum := map[scene.Occupancy]float64{}, 0.0 // how much likelier than this, by the picture
	for k := range all {
		if o := &all[k]; o.IsLawful() && o.Kin() == g.Kin() {
			seen[o.After] = max(seen[o.After], math.Exp(float64(o.Posterior.Without(o.Prior)-g.Posterior.Without(g.Prior))))
		}
	}
	for _, v := range seen {
		sum += v
	}
	return sum*seenKind <= 1
}
