// SPDX-License-Identifier: Apache-2.0

package trajectory

import (
	"math"

	"boardhand/internal/carry/plan"
	"boardhand/internal/frame"
)

// Lead is the carriage's path for a path of the piece: it runs on past the end by the
// lag, so that the piece, which trails behind, stands centred. There the magnet
// is lowered; where that would draw the piece after it, the carriage first
// comes back under the piece.
func Lead(piece []frame.Spot[frame.Board], l plan.Limits) []frame.Spot[frame.Board] {
	path := tidy(piece)
	n := len(path)
	if n < 2 {
		return path
	}
	end := path[n-1]
	path = append(path, ahead(end, heading(path[n-2], end), l.Lead))
	if l.Back {
		path = append(path, end)
	}
	return tidy(path)
}

// led is where a carriage's path brings the piece: the end of the way it leads.
func led(path []spot, l plan.Limits) spot {
	n := len(path)
	if l.Back || n < 2 {
		return path[n-1]
	}
	return ahead(path[n-1], heading(path[n-2], path[n-1]), -l.Lead)
}

func heading(a, b spot) float64 { return math.Atan2(b.Y-a.Y, b.X-a.X) }

func ahead(p spot, angle, by float64) spot {
	return spot{X: p.X + by*math.Cos(angle), Y: p.Y + by*math.Sin(angle)}
}

// Drive gives each step of a plan the drive of its path, and the way of the
// piece behind it.
func Drive(steps []plan.Step, l plan.Limits) []plan.Step {
	for i := range steps {
		switch s := &steps[i]; s.Do {
		case plan.Travel:
			*s = s.Driven(Samples(s.Path, l.Travel))
		case plan.Carry:
			*s = s.Driven(Samples(s.Path, l.Carry))
			s.PiecePath = Trail(s.Path, l)
		}
	}
	return steps
}

// tidy drops corners closer together than a nanometre.
func tidy(path []spot) []spot {
	out := path[:0:0]
	for _, p := range path {
		if len(out) == 0 || out[len(out)-1].Distance(p) > 1e-9 {
			out = append(out, p)
		}
	}
	return out
}

// trailStep is the longest stretch of the carriage's path for which a piece's
// way is drawn as one line, metres, and thinned how far the drawing may leave
// that way.
const (
	trailStep = 1e-3
	thinned   = 10e-6
)

// Trail is the way of a piece dragged along the carriage's path: it moves
// straight towards the magnet and stays lag behind it (a tractrix). On a round
// of radius R it runs on one of √(R² − lag²), lag²/2R further in. It ends where
// the path is meant to bring it.
func Trail(path []frame.Spot[frame.Board], l plan.Limits) []frame.Spot[frame.Board] {
	path = tidy(path)
	if len(path) < 2 {
		return path
	}
	piece, lag := path[0], l.Lag
	out := []spot{piece}
	for i := 1; i < len(path); i++ {
		a, b := path[i-1], path[i]
		n := math.Ceil(a.Distance(b) / trailStep)
		for k := range int(n) {
			from := a.Add(b.Sub(a).Scale(float64(k) / n))
			to := a.Add(b.Sub(a).Scale(float64(k+1) / n))
			piece = dragged(piece, from, to, lag)
			out = append(out, piece)
		}
	}
	return thin(append(tidy(out), led(path, l)))
}

// dragged is where a piece comes when the magnet goes straight from a to b: it
// rests while the magnet is nearer than lag; then the angle φ between its line
// to the magnet and the magnet's way falls as tan(φ/2) ~ exp(−s/lag) over the way s. Exact.
// Source: the tractrix, textbook.
func dragged(piece, a, b spot, lag float64) spot {
	path, dir := a.Distance(b), heading(a, b)
	off := a.Sub(piece)
	along := off.X*math.Cos(dir) + off.Y*math.Sin(dir)
	across := off.Y*math.Cos(dir) - off.X*math.Sin(dir)
	if math.Abs(across) >= lag {
		across = math.Copysign(lag*(1-1e-12), across)
	}
	taut := math.Sqrt(lag*lag - across*across) // how far ahead it pulls
	s := path - math.Max(0, taut-along)
	if s <= 0 {
		return piece
	}
	tan := math.Tan(math.Atan2(across, math.Max(taut, along))/2) * math.Exp(-s/lag)
	return ahead(b, dir+2*math.Atan(tan), -lag)
}

// thin leaves out the places that are within thinned of the line without
// them: first and last stay, then the farthest from the line between, and so
// on (Ramer 1972, Douglas and Peucker 1973, from memory).
func thin(path []spot) []spot {
	if len(path) < 3 {
		return path
	}
	first, last := path[0], path[len(path)-1]
	far, most := 0, thinned
	for i := 1; i < len(path)-1; i++ {
		if d := offLine(first, last, path[i]); d > most {
			far, most = i, d
		}
	}
	if far == 0 {
		return []spot{first, last}
	}
	return append(thin(path[:far+1]), thin(path[far:])[1:]...)
}

// offLine is the distance of c from the straight piece between a and b, metres.
func offLine(a, b, c spot) float64 {
	u, v := b.Sub(a), c.Sub(a)
	share := 0.0
	if l := u.Dot(u); l > 0 {
		share = math.Max(0, math.Min(1, v.Dot(u)/l))
	}
	return v.Sub(u.Scale(share)).Norm()
}
