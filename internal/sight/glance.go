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
	g.expect(b)
	return g
}

// Shares of what a pixel of board can be taken from: the last picture, the
// bare board as remembered, and the even coat of its ground, which knows
// neither grain nor shadows and so is right where a shadow went away.
const (
	stillLast, stillBare, stillCoat = 0.65, 0.20, 0.15
	baredBare, baredCoat            = 0.70, 0.30
)

// expect fills the densities of the pixels of the box.
func (g *glance) expect(b box) {
	e := g.eye
	n := len(g.cells)
	bare, coat := e.bare.compare(g.plate, b, e.air).density, e.coat.compare(g.plate, b, e.air).density
	g.same, g.still, g.bared, g.base = make([]float32, n), make([]float32, n), make([]float32, n), make([]float32, n)
	if e.last != nil {
		g.same = e.last.compare(g.plate, b, e.air).density
	}
	for y := b.y0; y < b.y1; y++ {
		for i := y*g.plate.w + b.x0; i < y*g.plate.w+b.x1; i++ {
			g.bared[i] = baredBare*bare[i] + baredCoat*coat[i]
			if e.last == nil {
				g.still[i] = g.bared[i]
				g.model(int32(i))
				continue
			}
			g.still[i] = stillLast*g.same[i] + stillBare*bare[i] + stillCoat*coat[i]
			open := e.stack.open(int32(i))
			g.base[i] = (1-open)*g.same[i] + open*g.still[i]
		}
	}
}

// model sets the density of a pixel from the models alone: the colours of the
// men over it and the board between them.
func (g *glance) model(px int32) {
	open, d := float32(1), float32(0)
	for _, o := range g.eye.stack.at(px) {
		d += open * o.alpha * g.man(px, g.eye.men[o.man].piece, o.band)
		open *= 1 - o.alpha
	}
	if open < 1 {
		g.same[px] = d / (1 - open)
	}
	g.base[px] = d + open*g.still[px]
}

// remodel sets the densities as if there had been no picture before.
func (g *glance) remodel() {
	b := g.eye.ground.box
	for y := b.y0; y < b.y1; y++ {
		for i := y*g.plate.w + b.x0; i < y*g.plate.w+b.x1; i++ {
			g.model(int32(i))
		}
	}
}
