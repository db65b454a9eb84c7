// SPDX-License-Identifier: Apache-2.0

package hypothesis

import (
	"cmp"
	"math"
	"slices"

	"boardhand/internal/chess"
	"boardhand/internal/sight/scene"
)

// Hypothesis is one explanation of a picture: what would stand on the board.
type Hypothesis struct {
	State State // stateSame, stateMoved, statePartial or stateIllegal
	Move  chess.Move
	After scene.Occupancy
	Prior float64 // natural logarithm

	Score float64           // logarithm of the posterior, up to a constant
	Lag   float64           // score less the best hypothesis's, once the score is a probability
	Gone  []bool            // by eye.pieces: no longer where they stood
	Stood []scene.Placement // the pieces that arrived or were nudged, where they fit best

	Attended bool // pieces set straight unnoticed are among those nudged
}

// Promoted is the piece that arrived on the last square of a hypothesis's move, promoted
// or not yet; nil if nobody did.
func (g *Hypothesis) Promoted() *scene.Placement {
	for k := range g.Stood {
		if g.Stood[k].Square == g.Move.To() {
			return &g.Stood[k]
		}
	}
	return nil
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

func Sort(gs []Hypothesis) {
	slices.SortStableFunc(gs, func(a, b Hypothesis) int { return cmp.Compare(b.Score, a.Score) })
}

// Normalise turns scores into probabilities.
func Normalise(gs []Hypothesis) {
	top, sum := gs[0].Score, 0.0
	for i := range gs {
		gs[i].Lag = gs[i].Score - top
		gs[i].Score = math.Exp(gs[i].Lag)
		sum += gs[i].Score
	}
	for i := range gs {
		gs[i].Score /= sum
	}
}

// Followed is how many nats a hypothesis may lie behind and still be worth a second look.
const Followed = 25
