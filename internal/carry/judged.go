package carry

import (
	"fmt"
	"math"

	"boardhand/internal/chess"
	"boardhand/internal/lanes"
)

// asked does in the judge's scene what a person was asked to do.
func (j *judge) asked(s Step) error {
	if j.held >= 0 {
		return fmt.Errorf("a person is asked to reach in while the %v is held", j.men[j.held].Piece)
	}
	if s.Text == "" {
		return fmt.Errorf("a question without words")
	}
	if s.From >= chess.NoSquare {
		if k := j.on(s.To); k >= 0 {
			j.takeAway(k)
		}
		j.men, j.moved = append(j.men, j.p.man(s.Piece, s.To)), append(j.moved, true)
		return nil
	}
	k := j.on(s.From)
	if k < 0 || j.men[k].Piece != s.Piece {
		return fmt.Errorf("there is no %v on %v to ask about", s.Piece, s.From)
	}
	if s.To >= chess.NoSquare {
		j.takeAway(k)
		return nil
	}
	if o := j.on(s.To); o >= 0 && o != k {
		return fmt.Errorf("the %v still stands on %v", j.men[o].Piece, s.To)
	}
	j.men[k].Square, j.men[k].At, j.men[k].Sigma = s.To, j.p.Centre(s.To), handSigma
	j.moved[k] = true
	return nil
}

func (j *judge) on(sq chess.Square) int {
	for k, m := range j.men {
		if m.Square == sq && sq < chess.NoSquare {
			return k
		}
	}
	return -1
}

func (j *judge) takeAway(k int) {
	j.men = append(j.men[:k], j.men[k+1:]...)
	j.moved = append(j.moved[:k], j.moved[k+1:]...)
}

// ends compares the replayed scene with a position: every man that was moved
// near the middle of its square, every square as the position has it.
func (j *judge) ends(want *chess.Position) error {
	have, twice := bySquare(j.men)
	if twice < chess.NoSquare {
		return fmt.Errorf("two men would stand on %v", twice)
	}
	for k, m := range j.men {
		if m.Square >= chess.NoSquare || !j.moved[k] {
			continue
		}
		if off := gapBetween(m.At, j.p.Centre(m.Square)); off > judgeCentre*j.p.side {
			return fmt.Errorf("the %v would end %.1f mm off the middle of %v", m.Piece, off*1e3, m.Square)
		}
	}
	for sq := chess.Square(0); sq < 64; sq++ {
		if have[sq] != want.At(sq) {
			return fmt.Errorf("%v would hold %v, not %v", sq, have[sq], want.At(sq))
		}
	}
	return nil
}

// closest is the exact distance of c from a polyline, and where it is reached:
// the number of the place before, with the share of the way to the next.
func closest(path []lanes.Spot, c lanes.Spot) (distance, place float64) {
	least := math.Inf(1) // square of the distance
	for i := 0; i+1 < len(path); i++ {
		ux, uy := path[i+1].X-path[i].X, path[i+1].Y-path[i].Y
		dx, dy := c.X-path[i].X, c.Y-path[i].Y
		f := 0.0
		if l := ux*ux + uy*uy; l > 0 { // projection of c on the piece
			f = math.Max(0, math.Min(1, (dx*ux+dy*uy)/l))
		}
		dx, dy = dx-f*ux, dy-f*uy
		if d := dx*dx + dy*dy; d < least {
			least, place = d, float64(i)+f
		}
	}
	return math.Sqrt(least), place
}

func gapBetween(a, b lanes.Spot) float64 { return math.Hypot(a.X-b.X, a.Y-b.Y) }

func lengthOf(path []lanes.Spot) float64 {
	l := 0.0
	for i := 1; i < len(path); i++ {
		l += gapBetween(path[i-1], path[i])
	}
	return l
}

func mm(s lanes.Spot) string { return fmt.Sprintf("(%.1f, %.1f) mm", s.X*1e3, s.Y*1e3) }
