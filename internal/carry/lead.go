package carry

import (
	"math"

	"boardhand/internal/lanes"
)

// lead is the carriage's path along a way: it runs on beyond the end by the
// lag, so that the man, who trails behind, stands centred. There the magnet is
// lowered; where that would draw the man after it, the carriage first comes
// back under him.
func (l Limits) lead(way []lanes.Spot) []lanes.Spot {
	path := tidy(way)
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

// led is where a carriage's path brings the man: the end of the way it leads.
func (l Limits) led(path []lanes.Spot) lanes.Spot {
	n := len(path)
	if l.Back || n < 2 {
		return path[n-1]
	}
	return ahead(path[n-1], heading(path[n-2], path[n-1]), -l.Lead)
}

func heading(a, b lanes.Spot) float64 { return math.Atan2(b.Y-a.Y, b.X-a.X) }

func ahead(p lanes.Spot, angle, by float64) lanes.Spot {
	return lanes.Spot{X: p.X + by*math.Cos(angle), Y: p.Y + by*math.Sin(angle)}
}

// tidy drops corners closer together than a nanometre.
func tidy(path []lanes.Spot) []lanes.Spot {
	out := path[:0:0]
	for _, p := range path {
		if len(out) == 0 || out[len(out)-1].Distance(p) > 1e-9 {
			out = append(out, p)
		}
	}
	return out
}

// trailStep is the longest stretch of the carriage's path for which a man's
// way is drawn as one line, metres, and thinned how far the drawing may leave
// his way.
const (
	trailStep = 1e-3
	thinned   = 10e-6
)

// trail is the way of a man dragged along the carriage's path: he moves
// straight towards the magnet and stays lag behind it (a tractrix). On a round
// of radius R he runs on one of √(R² − lag²), lag²/2R further in. It ends where
// the path is meant to bring him.
func (l Limits) trail(path []lanes.Spot) []lanes.Spot {
	path = tidy(path)
	if len(path) < 2 {
		return path
	}
	man, lag := path[0], l.Lag
	out := []lanes.Spot{man}
	for i := 1; i < len(path); i++ {
		a, b := path[i-1], path[i]
		n := math.Ceil(a.Distance(b) / trailStep)
		for k := range int(n) {
			from := a.Add(b.Sub(a).Scale(float64(k) / n))
			to := a.Add(b.Sub(a).Scale(float64(k+1) / n))
			man = dragged(man, from, to, lag)
			out = append(out, man)
		}
	}
	return thin(append(tidy(out), l.led(path)))
}

// dragged is where a man comes when the magnet goes straight from a to b: he
// rests while it is nearer than lag; then the angle φ between his line to the
// magnet and its way falls as tan(φ/2) ~ exp(−s/lag) over the way s. Exact.
// Source: the tractrix, textbook.
func dragged(man, a, b lanes.Spot, lag float64) lanes.Spot {
	way, dir := a.Distance(b), heading(a, b)
	off := a.Sub(man)
	along := off.X*math.Cos(dir) + off.Y*math.Sin(dir)
	across := off.Y*math.Cos(dir) - off.X*math.Sin(dir)
	if math.Abs(across) >= lag {
		across = math.Copysign(lag*(1-1e-12), across)
	}
	taut := math.Sqrt(lag*lag - across*across) // how far ahead it pulls
	s := way - math.Max(0, taut-along)
	if s <= 0 {
		return man
	}
	tan := math.Tan(math.Atan2(across, math.Max(taut, along))/2) * math.Exp(-s/lag)
	return ahead(b, dir+2*math.Atan(tan), -lag)
}

// thin leaves out the places that are within thinned of the line without
// them: first and last stay, then the farthest from the line between, and so
// on (Ramer 1972, Douglas and Peucker 1973, from memory).
func thin(path []lanes.Spot) []lanes.Spot {
	if len(path) < 3 {
		return path
	}
	ends := []lanes.Spot{path[0], path[len(path)-1]}
	far, most := 0, thinned
	for i := 1; i < len(path)-1; i++ {
		if d, _ := closest(ends, path[i]); d > most {
			far, most = i, d
		}
	}
	if far == 0 {
		return ends
	}
	return append(thin(path[:far+1]), thin(path[far:])[1:]...)
}
