// SPDX-License-Identifier: Apache-2.0

package classify

import (
	"math"
	"slices"

	"boardhand/internal/chess"
	"boardhand/internal/sight/heads"
	"boardhand/internal/sight/numeric"
)

// likeness tells of what kind a piece is by the pieces of its own set that are known.
type likeness struct {
	known []Known
	share float64 // of what it says that counts: as far as it names the known pieces rightly
	unmet float64 // nats of a kind that has not been met
}

// likenessOf compares with some pieces, and finds out how far that is to be trusted.
func likenessOf(known []Known) likeness {
	l := likeness{known: known}
	l.unmet = l.strange()
	top := math.Inf(-1)
	for _, f := range [...]float64{1, 0.7, 0.5, 0.35, 0.2, 0} {
		sum := -unlikeCost * (1 - f) * (1 - f)
		for k := range known {
			if !known[k].isNear {
				sum += l.names(&known[k], f)
			}
		}
		if sum > top {
			l.share, top = f, sum
		}
	}
	return l
}

// strange is how many nats stand for a kind that has not been met: pieces of one kind look more
// alike in some sets than in others, and in some light.
func (l likeness) strange() float64 {
	var each []float64
	for k := range l.known {
		m := &l.known[k]
		if says, met := l.weigh(m.look, m.side, m.square); !m.isNear && met[m.kind] {
			each = append(each, says[m.kind])
		}
	}
	if len(each) == 0 {
		return heads.Unmet()
	}
	return max(heads.Unmet(), numeric.Median(each)-unlikeMet)
}

// names is the logarithm of the probability that a known piece is what it is, told from all
// but itself, if a share of what likeness says counts; 0 where there is nothing to tell by.
func (l likeness) names(m *Known, share float64) float64 {
	says, met := l.weigh(m.look, m.side, m.square)
	if !met[m.kind] {
		return 0
	}
	var among []chess.Kind
	for k, is := range met {
		if is {
			among = append(among, chess.Kind(k))
		}
	}
	return shares(&says, among, share)[m.kind]
}

// weigh says how well each kind fits a look, in nats, by the known pieces that stand not on a
// square; met are the kinds that there are any of. Those that hardly lean are asked where a kind
// has no others.
func (l likeness) weigh(look heads.Look, side chess.Color, not chess.Square) (says [chess.King + 1]float64, met [chess.King + 1]bool) {
	var far, near alikes
	for k := range l.known {
		m := &l.known[k]
		if m.square == not {
			continue
		}
		if d := heads.Alike(&look, &m.look, m.side == side); m.isNear {
			near.add(m.kind, nearShare*d)
		} else {
			far.add(m.kind, d)
		}
	}
	for k := range says {
		switch {
		case far.n[k] > 0:
			says[k], met[k] = far.mean(k), true
		case near.n[k] > 0:
			says[k], met[k] = near.mean(k), true
		default:
			says[k] = l.unmet
		}
	}
	return says, met
}

// alikes gathers by kind how alike a piece is to some.
type alikes struct{ sum, n [chess.King + 1]float64 }

func (a *alikes) add(k chess.Kind, nats float64) {
	a.sum[k] += math.Exp(nats)
	a.n[k]++
}

// mean is how alike it is to those of a kind, in nats.
func (a *alikes) mean(k int) float64 { return math.Log(a.sum[k]/a.n[k] + math.Exp(leastAlike)) }

// says is what counts of what likeness says of a piece, in nats by kind.
func (l likeness) says(look heads.Look, side chess.Color) [chess.King + 1]float64 {
	own, _ := l.weigh(look, side, chess.NoSquare)
	for k := range own {
		own[k] *= l.share * likeGain
	}
	return own
}

// hasMet says whether a kind has been met.
func (l likeness) hasMet(k chess.Kind) bool {
	return slices.ContainsFunc(l.known, func(m Known) bool { return m.kind == k })
}

// covers is the share of some kinds that have been met.
func (l likeness) covers(kinds []chess.Kind) float64 {
	n := 0.0
	for _, k := range kinds {
		if l.hasMet(k) {
			n++
		}
	}
	return n / float64(len(kinds))
}
