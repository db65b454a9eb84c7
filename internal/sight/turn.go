package sight

import (
	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/optics"
)

// turn takes the eye to another view, after a bump: everything remembered by
// pixel is carried over through the board plane, and for the men through a
// plane at half their height.
func (e *eye) turn(v optics.View) {
	old := e.ground
	const slight = 0.5                          // plate pixels: the table, a little lower, moves about as far as the board
	e.around = e.around && e.travel(v) < slight // and otherwise after more
	at := e.spots()
	e.look(v)
	if e.last == nil {
		e.place(at)
		return
	}
	low, high := e.warp(old, 0), e.warp(old, e.setup.middle())
	sigma := e.sigmas()
	e.place(at)
	e.setSigmas(sigma)
	e.last = e.carry(e.last, func(i int) [2]float32 {
		if e.stack.open(int32(i)) < 0.5 {
			return high[i]
		}
		return low[i]
	})
	for k, p := range e.raw {
		e.raw[k] = p.resampled(func(i int) [2]float32 { return low[i] })
	}
	e.bare = e.carry(e.bare, func(i int) [2]float32 { return low[i] })
	e.coat = e.carry(e.coat, func(i int) [2]float32 { return low[i] })
	n := make([]uint8, len(e.bareN))
	for i, p := range low {
		if x, y := int(p[0]+0.5), int(p[1]+0.5); x >= 0 && y >= 0 && x < old.w && y < old.h {
			n[i] = e.bareN[y*old.w+x]
		}
	}
	e.bareN = n
}

// spots is where the men stand.
func (e *eye) spots() map[chess.Square]frame.Spot[frame.Board] {
	at := map[chess.Square]frame.Spot[frame.Board]{}
	for _, m := range e.men {
		at[m.square] = m.at
	}
	return at
}

// sigmas is how sure the men's places are, by square.
func (e *eye) sigmas() map[chess.Square]float64 {
	sigma := map[chess.Square]float64{}
	for _, m := range e.men {
		sigma[m.square] = m.sigma
	}
	return sigma
}

// setSigmas says how sure the men's places are, by square.
func (e *eye) setSigmas(sigma map[chess.Square]float64) {
	for k := range e.men {
		e.men[k].sigma = sigma[e.men[k].square]
	}
}

// middle is half the height of a middling man, metres.
func (s Setup) middle() float64 { return s.Men[chess.Knight].Height / 2 }

// warp gives for every pixel of the present ground where the same place, z
// above the board, lay on the old plate. Exact every lattice pixels, linear
// between.
func (e *eye) warp(old *ground, z float64) [][2]float32 {
	g := e.ground
	cols, rows := (g.w-1)/lattice+2, (g.h-1)/lattice+2
	nodes := make([][2]float32, cols*rows)
	for j := range rows {
		for i := range cols {
			nodes[j*cols+i] = [2]float32{-1, -1}
			at, err := g.view.OnPlane(g.pixel(float64(i*lattice), float64(j*lattice)), z)
			if err != nil {
				continue
			}
			if x, y, ok := old.plate(at.At(z)); ok {
				nodes[j*cols+i] = [2]float32{float32(x), float32(y)}
			}
		}
	}
	out := make([][2]float32, g.w*g.h)
	for y := range g.h {
		j, fy := y/lattice, float32(y%lattice)/lattice
		for x := range g.w {
			i, fx := x/lattice, float32(x%lattice)/lattice
			a, b := nodes[j*cols+i], nodes[j*cols+i+1]
			c, d := nodes[(j+1)*cols+i], nodes[(j+1)*cols+i+1]
			for k := range 2 {
				out[y*g.w+x][k] = (1-fy)*((1-fx)*a[k]+fx*b[k]) + fy*((1-fx)*c[k]+fx*d[k])
			}
		}
	}
	return out
}

// carry resamples a memory.
func (e *eye) carry(m *memory, from func(int) [2]float32) *memory {
	n := &memory{plate: m.plate.resampled(from)}
	if m.spread != nil {
		n.spread = make([]float32, len(m.spread))
		for i := range n.spread {
			n.spread[i] = m.plate.between(from(i)).of(m.spread)
		}
	}
	n.slopes(e.ground.box)
	return n
}

// resampled is the plate whose pixel i shows what this one shows at from(i).
func (p *plate) resampled(from func(int) [2]float32) *plate {
	n := blankPlate(p)
	n.noise = make([]float32, len(p.noise)) // none of the bare board
	for i := range p.l {
		t := p.between(from(i))
		n.l[i], n.a[i], n.b[i] = t.of(p.l), t.of(p.a), t.of(p.b)
		if len(p.noise) > 0 {
			n.noise[i] = t.of(p.noise)
		}
	}
	return n
}

// tap is a place between four pixels.
type tap struct {
	k, w   int
	fx, fy float32
}

func (p *plate) between(xy [2]float32) tap {
	x := max(0, min(xy[0], float32(p.w)-1.001))
	y := max(0, min(xy[1], float32(p.h)-1.001))
	return tap{int(y)*p.w + int(x), p.w, x - float32(int(x)), y - float32(int(y))}
}

func (t tap) of(v []float32) float32 {
	top := (1-t.fx)*v[t.k] + t.fx*v[t.k+1]
	return (1-t.fy)*top + t.fy*((1-t.fx)*v[t.k+t.w]+t.fx*v[t.k+t.w+1])
}
