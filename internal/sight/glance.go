package sight

// behold brings a picture into the remembered light and compares it with what
// is remembered; in the first picture of a game, with what the models expect.
func (e *eye) behold(raw *plate) *glance {
	p := raw
	if e.last != nil {
		k := relight(raw, e.last.plate, e.samples)
		p = k.relit(raw, e.ground.box)
	}
	n := len(p.l)
	g := &glance{eye: e, plate: p, cells: make([]int32, n), extra: make([]arrival, n*depthExtra), extraCount: make([]uint8, n), mark: make([]bool, n)}
	b := e.ground.box
	for y := b.y0; y < b.y1; y++ {
		for i := y*p.w + b.x0; i < y*p.w+b.x1; i++ {
			g.cells[i] = int32(e.swatches.cell(p.l[i], p.a[i], p.b[i]))
		}
	}
	g.bare = e.bare.compare(p, b, e.air)
	if e.last != nil {
		g.same = e.last.compare(p, b, e.air).density
	} else {
		g.same = g.expected()
	}
	return g
}

// expected is the density of every pixel under the models alone.
func (g *glance) expected() []float32 {
	e := g.eye
	same := make([]float32, len(g.cells))
	b := e.ground.box
	for y := b.y0; y < b.y1; y++ {
		for i := y*e.ground.w + b.x0; i < y*e.ground.w+b.x1; i++ {
			open, d := float32(1), float32(0)
			for _, o := range e.stack.at(int32(i)) {
				d += open * o.alpha * g.man(int32(i), e.men[o.man].piece, o.band)
				open *= 1 - o.alpha
			}
			same[i] = d + open*g.bare.density[i]
		}
	}
	return same
}
