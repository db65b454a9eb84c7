package sight

import (
	"math"
	"slices"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/sight/numeric"
	"boardhand/internal/sight/pixels"
)

// The three grounds of a board.
const (
	darkGround = iota
	lightGround
	marginGround
	grounds
	mixedGround = grounds     // on a line between two of them
	noGround    = grounds + 1 // beside the board
)

// kindOf says what the bare board is at a pixel, and false off the board and
// on the lines between squares, where the classes mix.
func (e *eye) kindOf(i int32) (int, bool) {
	x, y := float64(e.ground.X[i]), float64(e.ground.Y[i])
	f, q := e.setup.field(), e.setup.Square
	line := 0.7 * e.ground.Pitch
	if math.Abs(x) > f || math.Abs(y) > f {
		return marginGround, math.Max(math.Abs(x), math.Abs(y)) < f+e.setup.Border-2*line && math.Max(math.Abs(x), math.Abs(y)) > f+line
	}
	u, v := (x+f)/q, (y+f)/q
	fu, fv := u-math.Floor(u), v-math.Floor(v)
	mixed := math.Min(math.Min(fu, 1-fu), math.Min(fv, 1-fv))*q < line
	return (int(u) + int(v)) & 1, !mixed
}

// coat is the smooth colour of one ground over the board.
type coat struct {
	l      [6]float64 // 1, x, y, x², xy, y² of the plate
	a, b   [3]float64
	spread float64 // σ of l about it: grain of the wood, shadows of men
}

func (c *coat) at(p *pixels.Image, i int) (l, a, b float32) {
	x, y, _ := p.Place(i)
	l = float32(c.l[0] + x*(c.l[1]+x*c.l[3]+y*c.l[4]) + y*(c.l[2]+y*c.l[5]))
	return l, float32(c.a[0] + x*c.a[1] + y*c.a[2]), float32(c.b[0] + x*c.b[1] + y*c.b[2])
}

// paint fits the coat of one ground to the pixels where it lies open, robustly:
// a hand or a man where none should be must not colour the board.
func (e *eye) paint(p *pixels.Image, kind int) (coat, bool) {
	var where []int32
	for _, i := range e.samples {
		if k, ok := e.kindOf(i); ok && k == kind && e.stack.Open(i) > 0.97 {
			where = append(where, i)
		}
	}
	var c coat
	if len(where) < 40 {
		return c, false
	}
	c.l[0] = numeric.MedianOf(where, func(i int32) float64 { return float64(p.L[i]) })
	c.a[0] = numeric.MedianOf(where, func(i int32) float64 { return float64(p.A[i]) })
	c.b[0] = numeric.MedianOf(where, func(i int32) float64 { return float64(p.B[i]) })
	f := fit{now: p, where: where, weights: make([]float64, len(where))}
	second := func(i int32, v []float64) {
		x, y, _ := p.Place(int(i))
		v[0], v[1], v[2], v[3], v[4], v[5] = 1, x, y, x*x, x*y, y*y
	}
	first := func(i int32, v []float64) {
		x, y, _ := p.Place(int(i))
		v[0], v[1], v[2] = 1, x, y
	}
	for range lampPasses {
		c.spread = f.trust(&c)
		f.solve(c.l[:], func(i int32) float64 { return float64(p.L[i]) }, second)
		f.solve(c.a[:], func(i int32) float64 { return float64(p.A[i]) }, first)
		f.solve(c.b[:], func(i int32) float64 { return float64(p.B[i]) }, first)
	}
	return c, true
}

// trust gives every sample its Cauchy weight about the coat and returns the
// robust σ of the brightness.
func (f *fit) trust(c *coat) float64 {
	r := make([]float64, len(f.where))
	light := make([]float64, len(f.where))
	for n, i := range f.where {
		l, a, b := c.at(f.now, int(i))
		dl, da, db := float64(f.now.L[i]-l), float64(f.now.A[i]-a), float64(f.now.B[i]-b)
		r[n] = math.Sqrt(dl*dl + da*da + db*db)
		light[n] = math.Abs(dl)
	}
	s := math.Max(lampLeast, numeric.Median(append([]float64(nil), r...)))
	for n := range r {
		z := r[n] / (lampTail * s)
		f.weights[n] = 1 / ((1 + z*z) * (1 + z*z))
	}
	return math.Max(lampLeast, 1.4826*numeric.Median(light)) // σ from the median absolute deviation
}

// imagine paints the bare board everywhere from its open places.
func (e *eye) imagine(p *pixels.Image) bool {
	var coats [grounds]coat
	for k := range coats {
		c, ok := e.paint(p, k)
		if !ok {
			if k != marginGround {
				return false
			}
			c = coats[lightGround]
			c.spread = 0.5 // nothing known of the margin
		}
		coats[k] = c
	}
	n := len(p.L)
	m := &memory{plate: pixels.Blank(p), spread: make([]float32, n)}
	for y := e.ground.Box.Y0; y < e.ground.Box.Y1; y++ {
		for i := y*p.W + e.ground.Box.X0; i < y*p.W+e.ground.Box.X1; i++ {
			k, _ := e.kindOf(int32(i))
			m.plate.L[i], m.plate.A[i], m.plate.B[i] = coats[k].at(p, i)
			m.spread[i] = float32(coats[k].spread)
		}
	}
	m.slopes(e.ground.Box)
	e.coat, e.bare, e.bareN = m, m.clone(), make([]uint8, n)
	e.inherit()
	e.air.flat = e.swatches.flat()
	e.air.tint, _ = e.tinge(p, m.plate)
	e.shading = newShading(&e.swatches)
	e.study(e.shading, p, 0)
	return true
}

// inherit takes over the bare board as far as a former eye saw it.
func (e *eye) inherit() {
	if e.former == nil {
		return
	}
	from, to := e.former.bare, e.bare
	for i, n := range e.former.bareN {
		if n > 0 {
			to.plate.L[i], to.plate.A[i], to.plate.B[i] = from.plate.L[i], from.plate.A[i], from.plate.B[i]
			to.spread[i], e.bareN[i] = 0, n
		}
	}
	to.slopes(e.ground.Box)
}

// tinge finds how the colours change in a shadow: the lamp and the light from
// the room differ in colour. From the shadows on the open board that lit does
// not have; false when there are too few.
func (e *eye) tinge(p, lit *pixels.Image) ([2]float64, bool) {
	const deep, few = -0.15, 30 // a clear shadow; fewer pixels say nothing
	var a, b []float64
	for _, i := range e.samples {
		k, ok := e.kindOf(i)
		if !ok || k == marginGround || e.stack.Open(i) < 0.97 {
			continue
		}
		if fall := float64(p.L[i] - lit.L[i]); fall < deep && fall > shadeDeepest {
			a = append(a, float64(p.A[i]-lit.A[i])/fall)
			b = append(b, float64(p.B[i]-lit.B[i])/fall)
		}
	}
	if len(a) < few {
		return [2]float64{}, false
	}
	const most = 0.4 // no two household lamps differ more
	return [2]float64{math.Max(-most, math.Min(most, numeric.Median(a))), math.Max(-most, math.Min(most, numeric.Median(b)))}, true
}

// clone is a memory that can change on its own; the slopes are shared until
// they are computed anew.
func (m *memory) clone() *memory {
	c := *m
	p := *m.plate
	p.L, p.A, p.B = slices.Clone(p.L), slices.Clone(p.A), slices.Clone(p.B)
	c.plate, c.spread = &p, slices.Clone(m.spread)
	return &c
}

// meetSides learns the colours of both sides from the men of the board, and
// once more without the men that look like the board or like the other side:
// somebody may have moved them before the first picture.
func (e *eye) meetSides(p *pixels.Image) {
	honest := make([]bool, len(e.men))
	for k := range honest {
		honest[k] = true
	}
	bare := e.compare(e.bare, p, &e.air)
	e.count(p, honest, nil, 0)
	for range 3 {
		for k := range e.men {
			honest[k] = e.fits(p, k, bare)
		}
		e.count(p, honest, bare, 0)
	}
}

// fits says whether a man's pixels look more like its side than like the
// board or the other side.
func (e *eye) fits(p *pixels.Image, k int, bare *likeness) bool {
	side := e.men[k].piece.Color()
	var own, other, board float64
	for _, c := range e.men[k].covers {
		if o := e.stack.At(c.Pixel); len(o) == 0 || int(o[0].Piece) != k || c.Alpha < 0.9 {
			continue
		}
		cell := e.swatches.cell(p.L[c.Pixel], p.A[c.Pixel], p.B[c.Pixel])
		own += numeric.Log(e.palettes[side][c.Band].density[cell])
		other += numeric.Log(e.palettes[side.Other()][c.Band].density[cell])
		board += numeric.Log(bare.at(int(c.Pixel), false))
	}
	return own >= other && own >= board
}

// count adds the colours of the men's pixels to the tallies (after fading
// them to share keep) and smooths them to palettes. With bare given, a pixel
// counts as surely as it shows the man and not the board beside it.
func (e *eye) count(p *pixels.Image, honest []bool, bare *likeness, keep float32) {
	for c := range e.tallies {
		for b := range e.tallies[c] {
			if e.tallies[c][b] == nil {
				e.tallies[c][b] = newTally()
			}
			e.tallies[c][b].fade(keep)
		}
	}
	for k := range e.men {
		if honest != nil && !honest[k] {
			continue
		}
		side := e.men[k].piece.Color()
		for _, c := range e.men[k].covers {
			o := e.stack.At(c.Pixel)
			if len(o) == 0 || int(o[0].Piece) != k || c.Alpha < 0.8 {
				continue
			}
			cell := e.swatches.cell(p.L[c.Pixel], p.A[c.Pixel], p.B[c.Pixel])
			w := c.Alpha
			if bare != nil {
				board := bare.at(int(c.Pixel), false)
				own := c.Alpha * e.palettes[side][c.Band].density[cell]
				w = own / (own + (1.02-c.Alpha)*board)
			}
			e.tallies[side][c.Band].add(cell, w)
		}
	}
	for c := range e.tallies {
		for b := range e.tallies[c] {
			e.palettes[c][b] = e.tallies[c][b].palette(&e.swatches)
		}
	}
}

// colour-model memory from picture to picture.
const (
	keepColours = 0.9 // of the tallies per settled picture: ten pictures' memory
	bareMost    = 12  // pictures averaged in the bare board
)

// remember makes a settled picture, with what is known to stand in it, the
// one to compare with, and learns from it.
func (e *eye) remember(p, raw *pixels.Image, board men, at map[chess.Square]frame.Spot[frame.Board]) {
	e.board = board
	e.place(at)
	e.around = true
	if e.last == nil {
		e.raw[0] = raw
	}
	e.raw = [2]*pixels.Image{raw, e.raw[0]}
	e.last = &memory{plate: p}
	e.last.slopes(e.ground.Box)
	for y := e.ground.Box.Y0; y < e.ground.Box.Y1; y++ {
		for i := y*p.W + e.ground.Box.X0; i < y*p.W+e.ground.Box.X1; i++ {
			if e.stack.Open(int32(i)) > 0.99 {
				e.bareHere(p, i)
			}
		}
	}
	e.bare.slopes(e.ground.Box)
	e.study(e.shading, p, keepColours)
	e.count(p, nil, e.compare(e.bare, p, &e.air), keepColours)
}

// bareHere averages a pixel of bare board into the memory.
func (e *eye) bareHere(p *pixels.Image, i int) {
	n := e.bareN[i]
	if n < bareMost {
		n++
		e.bareN[i] = n
	}
	k := 1 / float32(n)
	m := e.bare.plate
	m.L[i] += k * (p.L[i] - m.L[i])
	m.A[i] += k * (p.A[i] - m.A[i])
	m.B[i] += k * (p.B[i] - m.B[i])
	e.bare.spread[i] = 0
}
