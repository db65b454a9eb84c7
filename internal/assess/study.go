// SPDX-License-Identifier: Apache-2.0

package assess

import (
	"fmt"
	"math"

	"boardhand/internal/axes"
	"boardhand/internal/budget"
	"boardhand/internal/coupling"
	"boardhand/internal/drag"
	"boardhand/internal/game"
	"boardhand/internal/magnet"
	"boardhand/internal/rig"
	"boardhand/internal/unit"
)

// piece is one kind of piece with its shape.
type piece struct {
	kind game.Kind
	name string
	*rig.Piece
}

// study is one rig with what several checks share, computed once.
type study struct {
	coupling.Coupling
	pieces []piece
	table  *magnet.Map
	err    error // why nothing about the magnets can be said

	// remanences over those of Pair, least and most
	driveSpread, feetSpread [2]float64

	hold   Check // the coupling, on which most others wait
	lags   drag.Lags
	surge  unit.Length // largest offset in motion, worst piece
	torn   bool        // and some piece has none: it is left behind
	soft   float64     // by which share the pull falls with the gap, per metre
	stray  float64     // how much farther a piece is off its path where friction is off by its reserve, m
	settle drag.Settling
	tips   *tipping
	beside *besides
}

// newStudy computes what is shared; from, when not nil, may lend its table.
func newStudy(r *rig.Rig, from *study) *study {
	s := &study{pieces: piecesOf(r), tips: &tipping{}, beside: &besides{feet: map[unit.Length][3]float64{}}}
	if s.err = s.couple(r, from); s.err == nil {
		s.err = s.stand(s.pieces[0]).Check()
	}
	if s.err == nil {
		s.soft = s.Softness()
	}
	s.hold = s.judgeHold()
	if s.carries() {
		if err := s.motion(); err != nil {
			s.hold = s.hold.Failed(err)
		}
	}
	return s
}

func pieceOf(r *rig.Rig, k game.Kind) piece {
	return piece{k, r.Pieces.Kinds().Name(k), r.Pieces.Of(k)}
}

func piecesOf(r *rig.Rig) (out []piece) {
	for _, k := range r.Pieces.Kinds().All() {
		out = append(out, pieceOf(r, k))
	}
	return out
}

// couple reads the rig's magnets and makes, or takes over, the force table.
func (s *study) couple(r *rig.Rig, from *study) (err error) {
	s.Coupling, err = coupling.Of(r)
	s.Pull, s.Reach = nil, offsetsTo
	if err != nil {
		return err
	}
	for _, g := range []struct {
		grade string
		to    *[2]float64
	}{{r.Lift.Grade, &s.driveSpread}, {r.Pieces.Magnet.Grade, &s.feetSpread}} {
		lo, hi, err := magnet.Grade(g.grade)
		if err != nil {
			return err
		}
		*g.to = [2]float64{float64(2 * lo / (lo + hi)), float64(2 * hi / (lo + hi))}
	}
	if s.Spread.Near < unit.MM(leastGap) || s.Spread.Far > unit.MM(mostGap) {
		return fmt.Errorf("the gap between the magnets is %v to %v over the warp; forces are computed for %g–%g mm: check board.thickness, lift.air, pieces.magnet.recess and board.warp",
			s.Spread.Near, s.Spread.Far, leastGap, mostGap)
	}
	if from != nil && from.lends(s) {
		s.table = from.table
		if from.Pair != s.Pair {
			s.table = s.table.Scaled(strength(s.Pair) / strength(from.Pair))
		}
	} else if s.table, err = magnet.NewMap(s.Pair.Lower, s.Pair.Upper, magnet.MapRange{
		GapFrom: max(s.nearest()-unit.MM(2), unit.MM(leastGap)), GapTo: s.deepest() + unit.MM(20),
		OffsetTo: offsetsTo * 1.001, Gaps: tableGaps, Offsets: tableOffsets}); err != nil {
		return err
	}
	s.Pull = s.table
	return nil
}

// lends says whether the study's table does for another one: of the same discs, at whatever
// remanence, and over its gaps.
func (s *study) lends(to *study) bool {
	if s.table == nil || !s.covers(to.nearest(), to.deepest()) {
		return false
	}
	alike := func(a, b magnet.Cylinder) bool { return a.WithBr(b.Br) == b && a.Br > 0 }
	return alike(s.Pair.Lower, to.Pair.Lower) && alike(s.Pair.Upper, to.Pair.Upper)
}

// strength is the product of two remanences, to which their pulls are proportional.
func strength(p drag.Pair) float64 { return float64(p.Lower.Br) * float64(p.Upper.Br) }

// nearest is the least gap where the sheet bows down by half of its warp and no spring gives
// way.
func (s *study) nearest() unit.Length {
	near, _ := coupling.Bowed(s.Rig, 0)
	return max(near, unit.MM(leastGap))
}

// deepest is the largest gap any check asks for: lowered all the way.
func (s *study) deepest() unit.Length { return s.Spread.Far + max(s.Rig.Lift.Drop, unit.MM(60)) }

func (s *study) covers(near, far unit.Length) bool {
	r := s.table.Range()
	return near >= r.GapFrom && far <= r.GapTo
}

// stand is a piece over the raised magnet.
func (s *study) stand(m piece) drag.Stand { return s.Stand(m.kind) }

// lightest is the lightest piece.
func (s *study) lightest() piece { return pieceOf(s.Rig, s.Lightest()) }

// extremes are the lightest and the heaviest piece.
func (s *study) extremes() (out []piece) {
	for _, k := range s.Extremes() {
		out = append(out, pieceOf(s.Rig, k))
	}
	return out
}

// motion computes lags, surge and settling of all pieces.
func (s *study) motion() error {
	m, err := s.Moves()
	s.lags, s.settle, s.surge, s.torn = m.Lags, m.Settle, m.Surge, m.IsTorn // drag.surge reports who is torn off
	if err == nil {
		s.stray, err = builds{s}.drift()
	}
	return err
}

// carries says whether the magnet moves the pieces of the machine as drawn.
func (s *study) carries() bool { return s.err == nil && s.hold.Value >= 1 }

// placement is the error of the carriage's own place: that of the budget, and skew, added as
// squares since each has a cause of its own. Source: JCGM 100:2008 (GUM), 5.1.2.
func (s *study) placement() unit.Length {
	return unit.Length(math.Hypot(float64(budget.PlacementOf(s.Rig)), float64(axes.Skew(s.Rig))))
}

// doubt is the error of where the camera takes a standing piece to be: that of the budget.
func doubt(r *rig.Rig) unit.Length { return budget.CameraOf(r) }

// lagSpread is how far a carried piece may be off its planned path.
func (s *study) lagSpread() unit.Length { return (s.lags.Most - s.lags.Least) / 2 }

// widest is the piece that takes the widest room.
func (s *study) widest() piece {
	out := s.pieces[0]
	for _, m := range s.pieces {
		if m.Across() > out.Across() {
			out = m
		}
	}
	return out
}

func mm(l unit.Length) float64 { return float64(l) * 1e3 }
