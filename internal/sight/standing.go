package sight

import (
	"math"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/sight/pixels"
)

// cover is one plate pixel that a man covers, how surely, and with which band
// of its height.
type cover struct {
	px    int32
	alpha float32
	band  uint8
}

// standing is a man at a place on the board, with the pixels it covers.
type standing struct {
	piece  chess.Piece
	square chess.Square
	at     frame.Spot[frame.Board]
	reach  float64 // from the camera's foot point: nearer men hide farther ones
	sigma  float64 // of each coordinate of at, metres
	covers []cover
	nudged *frame.Spot[frame.Board] // where it stood in the remembered picture, if it was only nudged
	shift  [2]float32               // and how far its picture moved since, plate pixels
	relit  bool                     // it stands where it stood, in another light
	plain  bool                     // it was plainly touched, so that its side's colours may speak for it
}

// faint is the coverage below which a pixel is not worth a thought.
const faint = 0.02

// stand puts a man on the board.
func stand(g *pixels.Plane, s *shapes, piece chess.Piece, at frame.Spot[frame.Board]) standing {
	m := standing{piece: piece, at: at}
	out := at.Sub(g.Camera.Spot())
	m.reach = out.Norm()
	u := frame.Spot[frame.Board]{X: 1}
	if m.reach > 1e-6 {
		u = out.Scale(1 / m.reach)
	}
	st := s.at(piece.Kind(), m.reach)
	m.covers = make([]cover, 0, 256)
	b := around(g, at, u, st)
	for y := b.Y0; y < b.Y1; y++ {
		for x := b.X0; x < b.X1; x++ {
			i := y*g.W + x
			qx, qy := float64(g.X[i])-at.X, float64(g.Y[i])-at.Y
			c := st.look(qx*u.X+qy*u.Y, qx*u.Y-qy*u.X)
			if c.alpha > faint {
				m.covers = append(m.covers, cover{px: int32(i), alpha: c.alpha, band: c.band})
			}
		}
	}
	return m
}

// around is the window of pixels a stamp can touch.
func around(g *pixels.Plane, at, u frame.Spot[frame.Board], st *stamp) pixels.Box {
	b := pixels.Box{X0: g.W, Y0: g.H, X1: 0, Y1: 0}
	for _, c := range [4][2]float64{{st.near, st.side}, {st.near, -st.side}, {st.far, st.side}, {st.far, -st.side}} {
		p := frame.Spot[frame.Board]{X: at.X + c[0]*u.X + c[1]*u.Y, Y: at.Y + c[0]*u.Y - c[1]*u.X}
		i, j, ok := g.Project(p.At(0))
		if !ok || math.IsNaN(i) || math.IsNaN(j) {
			continue
		}
		i, j = math.Max(-2, math.Min(i, float64(g.W)+2)), math.Max(-2, math.Min(j, float64(g.H)+2))
		b = pixels.Box{X0: min(b.X0, int(i)-1), Y0: min(b.Y0, int(j)-1), X1: max(b.X1, int(i)+3), Y1: max(b.Y1, int(j)+3)}
	}
	return pixels.Box{X0: max(b.X0, 0), Y0: max(b.Y0, 0), X1: min(b.X1, g.W), Y1: min(b.Y1, g.H)}
}
