// SPDX-License-Identifier: Apache-2.0

package assess

import (
	"fmt"

	"boardhand/internal/drag"
	"boardhand/internal/magnet"
	"boardhand/internal/rig"
	"boardhand/internal/unit"
)

// piece is one kind of piece.
type piece struct {
	name string
	rig.Piece
}

// figure is the piece as tipping sees it.
func (m piece) figure(recess unit.Length) drag.Figure {
	return drag.Figure{Mass: m.Mass, Foot: m.Base, Balance: m.Height * unit.Length(m.Balance), Recess: recess}
}

// study is one rig with what several checks share, computed once.
type study struct {
	rig    *rig.Rig
	pieces []piece
	pair   drag.Pair // at the middle of both grades
	spread drag.Spread
	table  *magnet.Map
	err    error // why nothing about the magnets can be said

	hold   Check // the coupling, on which most others wait
	lags   drag.Lags
	surge  unit.Length // largest offset in motion, worst piece
	settle drag.Settling
	tips   *tipping
}

// newStudy computes what is shared; from, when not nil, may lend its table.
func newStudy(r *rig.Rig, from *study) *study {
	s := &study{rig: r, pieces: piecesOf(r), tips: &tipping{}}
	if s.err = s.couple(from); s.err == nil {
		s.err = s.stand(s.pieces[0]).Check()
	}
	s.hold = s.judgeHold()
	if s.hold.Verdict != Fail {
		if err := s.motion(); err != nil {
			s.hold = s.hold.failed(err)
		}
	}
	return s
}

func piecesOf(r *rig.Rig) []piece {
	p := r.Pieces
	return []piece{{"king", p.King}, {"queen", p.Queen}, {"bishop", p.Bishop}, {"knight", p.Knight}, {"rook", p.Rook}, {"pawn", p.Pawn}}
}

// choose sets the pair and how far the product of both remanences may be off.
func (s *study) choose() error {
	r := s.rig
	lower, wideL, err := middle(r.Lift.Grade, r.Lift.Diameter, r.Lift.Thickness)
	if err != nil {
		return fmt.Errorf("lift.grade: %w", err)
	}
	upper, wideU, err := middle(r.Pieces.Magnet.Grade, r.Pieces.Magnet.Diameter, r.Pieces.Magnet.Thickness)
	if err != nil {
		return fmt.Errorf("pieces.magnet.grade: %w", err)
	}
	s.pair = drag.Pair{Lower: lower, Upper: upper}
	s.spread = drag.Spread{Weak: (1 - wideL) * (1 - wideU), Strong: (1 + wideL) * (1 + wideU)}
	return nil
}

// couple sets the pair, its spread and the force table.
func (s *study) couple(from *study) error {
	if err := s.choose(); err != nil {
		return err
	}
	r := s.rig
	half := r.Board.Warp / 2
	s.spread.Near, s.spread.Far = r.Gap()-half, r.Gap()+half
	if s.spread.Near < unit.MM(leastGap) || s.spread.Far > unit.MM(mostGap) {
		return fmt.Errorf("the gap between the magnets is %v to %v over the warp; forces are computed for %g–%g mm: check board.thickness, lift.air, pieces.magnet.recess and board.warp",
			s.spread.Near, s.spread.Far, leastGap, mostGap)
	}
	if from != nil && from.table != nil && from.pair == s.pair && from.covers(s.spread.Near, s.deepest()) {
		s.table = from.table
		return nil
	}
	var err error
	s.table, err = magnet.NewMap(s.pair.Lower, s.pair.Upper, magnet.MapRange{
		GapFrom: max(s.spread.Near-unit.MM(2), unit.MM(leastGap)), GapTo: s.deepest() + unit.MM(20),
		OffsetTo: offsetsTo * 1.001, Gaps: tableGaps, Offsets: tableOffsets})
	return err
}

// deepest is the largest gap any check asks for: lowered all the way.
func (s *study) deepest() unit.Length { return s.spread.Far + max(s.rig.Lift.Drop, unit.MM(60)) }

func (s *study) covers(near, far unit.Length) bool {
	r := s.table.Range()
	return near >= r.GapFrom && far <= r.GapTo
}

// middle is a magnet at the middle of its grade, and the grade's half width as
// a share.
func middle(grade string, d, t unit.Length) (magnet.Cylinder, float64, error) {
	lo, hi, err := magnet.Grade(grade)
	return magnet.Cylinder{Diameter: d, Thickness: t, Br: (lo + hi) / 2}, float64((hi - lo) / (hi + lo)), err
}

// stand is a piece over the raised magnet.
func (s *study) stand(m piece) drag.Stand {
	mu := s.rig.Board.Friction
	k := s.rig.Board.Kinetic
	if k == 0 {
		k = drag.KineticShare * mu
	}
	return drag.Stand{Pull: s.table, Gap: s.rig.Gap(), Mass: m.Mass, Static: mu, Kinetic: min(k, mu), Reach: offsetsTo}
}

// lightest and heaviest piece.
func (s *study) lightest() piece {
	out := s.pieces[0]
	for _, m := range s.pieces {
		if m.Mass < out.Mass {
			out = m
		}
	}
	return out
}

func (s *study) heaviest() piece {
	out := s.pieces[0]
	for _, m := range s.pieces {
		if m.Mass > out.Mass {
			out = m
		}
	}
	return out
}

// extremes are the lightest and the heaviest piece: between them every quantity
// of a piece over a magnet lies, since it changes one way with the mass.
func (s *study) extremes() []piece {
	if s.lightest().Mass == s.heaviest().Mass {
		return []piece{s.heaviest()}
	}
	return []piece{s.lightest(), s.heaviest()}
}

// acceleration of the carriage along its path: the smaller of the two axes',
// since a path may run along either.
func (s *study) acceleration() unit.Acceleration {
	return min(s.rig.Axis.X.Acceleration, s.rig.Axis.Y.Acceleration)
}

func (s *study) speed() unit.Speed { return min(s.rig.Axis.X.Speed, s.rig.Axis.Y.Speed) }

// motion computes lags, surge and settling of all pieces.
func (s *study) motion() error {
	var rests drag.Lags
	for i, m := range s.extremes() {
		st := s.stand(m)
		l, err := st.LagRange(s.spread, st.Kinetic, 0)
		if err != nil {
			return err
		}
		t, err := st.SettleOver(s.spread, s.acceleration())
		if err != nil {
			return err
		}
		if i == 0 {
			s.lags, s.settle = l, t
			rests = drag.Lags{Least: t.Lead - t.Error, Most: t.Lead + t.Error}
		}
		s.lags = drag.Lags{Least: min(s.lags.Least, l.Least), Most: max(s.lags.Most, l.Most)}
		rests = drag.Lags{Least: min(rests.Least, t.Lead-t.Error), Most: max(rests.Most, t.Lead+t.Error)}
		x, err := st.WorstSurge(s.spread, s.speed())
		if err != nil {
			x = rests.Most // drag.surge reports it
		}
		s.surge = max(s.surge, x)
	}
	mid := (rests.Least + rests.Most) / 2
	s.settle = drag.Settling{Lead: mid, Back: mid, Stick: s.settle.Stick, Error: rests.Most - mid}
	return nil
}

// lagSpread is how far a carried piece may be off its planned path.
func (s *study) lagSpread() unit.Length { return (s.lags.Most - s.lags.Least) / 2 }

// widest is the largest foot of all pieces.
func (s *study) widest() piece {
	out := s.pieces[0]
	for _, m := range s.pieces {
		if m.Base > out.Base {
			out = m
		}
	}
	return out
}

// tallest piece.
func (s *study) tallest() piece {
	out := s.pieces[0]
	for _, m := range s.pieces {
		if m.Height > out.Height {
			out = m
		}
	}
	return out
}

func mm(l unit.Length) float64 { return float64(l) * 1e3 }
