package carry

import (
	"math"

	"boardhand/internal/lanes"
)

// lead is the carriage's path that makes a man trailing by lag follow the
// given path: a dragged man moves straight towards the magnet and stays lag
// behind it (a tractrix), so the magnet runs lag ahead along the tangent. At
// a corner it swings round the resting man. It ends settle beyond the end and
// comes back, so that the man stands centred over it when it is lowered.
func lead(path []lanes.Spot, lag, settle float64) []lanes.Spot {
	path = tidy(path)
	if len(path) < 2 {
		return path
	}
	out := []lanes.Spot{path[0]}
	last := heading(path[0], path[1])
	out = append(out, ahead(path[0], last, lag))
	for i := 1; i < len(path)-1; i++ {
		next := heading(path[i], path[i+1])
		out = swing(out, path[i], last, math.Remainder(next-last, 2*math.Pi), lag)
		last = next
	}
	end := path[len(path)-1]
	return tidy(append(out, ahead(end, last, settle), end))
}

func heading(a, b lanes.Spot) float64 { return math.Atan2(b.Y-a.Y, b.X-a.X) }

// swingStep is the largest turn of the magnet about a resting man between two
// corners of its path, radians: at 2 mm it cuts the arc by 3 µm. A smaller
// turn is one corner, half way round: on an arc of the man's way the corners
// then lie evenly on an arc too.
const swingStep = 0.1

// swing turns the magnet about a man resting at p from the old direction.
func swing(out []lanes.Spot, p lanes.Spot, from, turn, lag float64) []lanes.Spot {
	if math.Abs(turn) < swingStep {
		return append(out, ahead(p, from+turn/2, lag))
	}
	n := math.Ceil(math.Abs(turn) / swingStep)
	for k := range int(n) + 1 {
		out = append(out, ahead(p, from+turn*float64(k)/n, lag))
	}
	return out
}

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
