// SPDX-License-Identifier: Apache-2.0

package lens

import (
	"math"
	"math/rand/v2"

	"boardhand/internal/frame"
	"boardhand/internal/optics"
	"boardhand/internal/rig"
	"boardhand/internal/twin/room"
	"boardhand/internal/unit"
)

// plate is the picture of the table without pieces: computed once for a camera
// pose and a light, then only darkened and covered.
type plate struct {
	w, h  int
	rgb   []uint16  // linear, full is 1.0
	x, y  []float32 // where each pixel's ray meets the board or the table, m
	table []bool    // the pixel shows the table, not the machine's top
	lamp  []uint8   // the lamp's share of the light there, of 255
	dim   []float32 // vignetting
}

// scenery is all that a plate shows and that does not move.
type scenery struct {
	rig    *rig.Rig
	height func(frame.Spot[frame.Board]) float64 // of the warped surface, m
	view   optics.View
	light  light
	finish finish
	table  colour
	grain  *grain
	tint   [64]float64 // each square's own shade
	turn   [64]float64 // and where its veneer was cut
	tableZ float64
	half   [4]float64 // the machine's top: left, right, front, back, m
}

// stage is the scenery with the plate that shows it; nil: to be exposed anew.
type stage struct {
	scene scenery
	plate *plate
}

func newScenery(r *rig.Rig, chance *rand.Rand) scenery {
	s := scenery{rig: r, tableZ: room.TableZ(r), half: room.Top(r), light: newLight(chance), grain: newGrain(chance)}
	s.finish = finishes[chance.IntN(len(finishes))]
	s.table = tables[chance.IntN(len(tables))]
	for i := range s.tint {
		s.tint[i], s.turn[i] = 1+squareTint*(chance.Float64()-0.5), chance.Float64()
	}
	return s
}

// expose computes the plate.
func (s *scenery) expose(w, h int) *plate {
	n := w * h
	p := &plate{w: w, h: h, rgb: make([]uint16, 3*n), x: make([]float32, n), y: make([]float32, n),
		table: make([]bool, n), lamp: make([]uint8, n), dim: make([]float32, n)}
	s.trace(p)
	eye := s.view.Camera()
	for v := range h {
		for u := range w {
			i := v*w + u
			p.dim[i] = float32(s.vignette(float64(u), float64(v)))
			s.paint(p, i, eye)
		}
	}
	p.blur()
	return p
}

// blur softens the plate as the lens does, along the rows and then the columns.
func (p *plate) blur() {
	blend := func(a, b, c uint16) uint16 {
		return uint16((pixelBlur[0]*uint32(a) + pixelBlur[1]*uint32(b) + pixelBlur[2]*uint32(c)) >> 8)
	}
	old := make([]uint16, 3*p.w)
	for y := range p.h {
		row := p.rgb[3*y*p.w:][:3*p.w]
		copy(old, row)
		for i := 3; i < 3*p.w-3; i++ {
			row[i] = blend(old[i-3], old[i], old[i+3])
		}
	}
	copy(old, p.rgb)
	for y := 1; y < p.h-1; y++ {
		row, next := p.rgb[3*y*p.w:][:3*p.w], p.rgb[3*(y+1)*p.w:][:3*p.w]
		for i := range row {
			v := row[i]
			row[i] = blend(old[i], v, next[i])
			old[i] = v
		}
	}
}

// vignette is the natural fall-off cos⁴ of the angle off the axis, eased as
// lenses for small sensors do.
func (s *scenery) vignette(u, v float64) float64 {
	l := s.view.Lens
	x, y := (u-l.Cx)/l.Fx, (v-l.Cy)/l.Fy
	c := 1 / (1 + x*x + y*y)
	return 1 - vignetting + vignetting*c*c
}

// trace finds where every pixel looks on the plane of the field.
func (s *scenery) trace(p *plate) {
	cols, rows := p.w/gridStep+2, p.h/gridStep+2
	node := make([]frame.Spot[frame.Board], cols*rows)
	for j := range rows {
		for i := range cols {
			at, err := s.view.OnPlane(frame.Spot[frame.Image]{X: float64(i * gridStep), Y: float64(j * gridStep)}, 0)
			if err != nil {
				at = frame.Spot[frame.Board]{X: 9, Y: 9} // no such ray: nothing of the machine is there
			}
			node[j*cols+i] = at
		}
	}
	for v := range p.h {
		for u := range p.w {
			j, i := v/gridStep, u/gridStep
			tx, ty := float64(u%gridStep)/gridStep, float64(v%gridStep)/gridStep
			k := j*cols + i
			a := node[k].Scale(1 - tx).Add(node[k+1].Scale(tx))
			b := node[k+cols].Scale(1 - tx).Add(node[k+cols+1].Scale(tx))
			q := a.Scale(1 - ty).Add(b.Scale(ty))
			p.x[v*p.w+u], p.y[v*p.w+u] = float32(q.X), float32(q.Y)
		}
	}
}

// paint computes one pixel: four samples where something ends near it, else one.
func (s *scenery) paint(p *plate, i int, eye vec) {
	at := frame.Spot[frame.Board]{X: float64(p.x[i]), Y: float64(p.y[i])}
	next := i + 1
	if (i+1)%p.w == 0 {
		next = i - 1
	}
	px := math.Max(math.Abs(float64(p.x[next]-p.x[i])), math.Abs(float64(p.y[next]-p.y[i]))) // size of a pixel there
	at = s.lifted(at, eye)
	c, onTable := s.surface(at, eye)
	if s.edgeNear(at, px) {
		c = colour{}
		for _, d := range [4][2]float64{{-1, -1}, {1, -1}, {-1, 1}, {1, 1}} {
			a, _ := s.surface(frame.Spot[frame.Board]{X: at.X + d[0]*px/4, Y: at.Y + d[1]*px/4}, eye)
			c = colour{c[0] + a[0]/4, c[1] + a[1]/4, c[2] + a[2]/4}
		}
	}
	hit := at.At(0)
	if onTable {
		p.table[i] = true
		hit = s.onTable(at, eye).At(s.tableZ)
	}
	p.x[i], p.y[i] = float32(hit.X), float32(hit.Y)
	lamp := s.light.direct(hit)
	p.lamp[i] = uint8(255 * lamp / (lamp + s.light.ambient))
	for k := range 3 {
		p.rgb[3*i+k] = stored(c[k] * float64(p.dim[i]))
	}
}

func stored(v float64) uint16 { return uint16(math.Max(0, math.Min(65535, v*full))) }

// lifted corrects a ray's place on the plane for the height of the warped board.
func (s *scenery) lifted(at frame.Spot[frame.Board], eye vec) frame.Spot[frame.Board] {
	z := s.height(at)
	return at.Add(eye.Spot().Sub(at).Scale(z / eye.Z))
}

// onTable continues the ray through a place on the field's plane to the table.
func (s *scenery) onTable(at frame.Spot[frame.Board], eye vec) frame.Spot[frame.Board] {
	return at.Add(eye.Spot().Sub(at).Scale(s.tableZ / eye.Z))
}

// edgeNear says whether a line of the board or the machine's rim is within a pixel.
func (s *scenery) edgeNear(at frame.Spot[frame.Board], px float64) bool {
	b, sq := s.rig.Board, float64(s.rig.Board.Square)
	for i, c := range [2]float64{at.X, at.Y} {
		many := float64([2]int{b.Files, b.Ranks}[i])
		line := c/sq + math.Mod(many, 2)/2 // whole numbers are lines
		d := math.Abs(line-math.Round(line)) * sq
		if math.Abs(c) < (many/2+0.2)*sq && d < 1.5*px+0.0008 {
			return true
		}
	}
	rim := func(v, e float64) bool { return math.Abs(v-e) < 1.5*px }
	x, y := b.Half()
	return rim(math.Abs(at.X), float64(x+b.Border)) || rim(math.Abs(at.Y), float64(y+b.Border)) ||
		rim(-at.X, s.half[0]) || rim(at.X, s.half[1]) || rim(-at.Y, s.half[2]) || rim(at.Y, s.half[3])
}

// surface is the light that comes from a place, and whether it is the table's.
func (s *scenery) surface(at frame.Spot[frame.Board], eye vec) (colour, bool) {
	if at.X < -s.half[0] || at.X > s.half[1] || at.Y < -s.half[2] || at.Y > s.half[3] {
		q := s.onTable(at, eye)
		return s.lit(scaled(s.table, s.tableTexture(q)), q.At(s.tableZ), s.boxShade(q)), true
	}
	p := at.At(0)
	c := s.lit(s.top(at), p, 1)
	h := unitVec(s.light.towards(p).Add(unitVec(eye.Sub(p))))
	if h.Z < noGloss {
		return c, false
	}
	shine := s.finish.gloss * math.Pow(h.Z, glossSharp) * s.light.direct(p) * glossBright
	for k := range c {
		c[k] += shine * s.light.warm[k]
	}
	return c, false
}

func (s *scenery) tableTexture(q frame.Spot[frame.Board]) float64 {
	if s.table[0] > 1.3*s.table[2] && s.table[1] > s.table[2] { // brown: a plank top
		return s.grain.wood(q.Y*0.6, q.X*0.6+3, 0.35)
	}
	return s.grain.cloth(q.X, q.Y)
}

// lit is reflectance under the lamp (seen: the share of it not hidden) and the rest.
func (s *scenery) lit(c colour, p vec, seen float64) colour {
	lamp := s.light.direct(p) * seen
	for k := range c {
		c[k] *= lamp*s.light.warm[k] + s.light.ambient*s.light.cool[k]
	}
	return c
}

// boxShade is how much of the lamp the table sees past the machine's top.
func (s *scenery) boxShade(q frame.Spot[frame.Board]) float64 {
	k := -s.tableZ / (s.light.lamp.Z - s.tableZ)
	t := q.Add(s.light.lamp.Spot().Sub(q).Scale(k)) // where the ray to the lamp passes the top's plane
	in := min(t.X+s.half[0], s.half[1]-t.X, t.Y+s.half[2], s.half[3]-t.Y)
	soft := s.light.radius*k + 1e-3
	return 1 - smooth(math.Max(0, math.Min(1, 0.5+in/(2*soft))))
}

// top is the reflectance of the machine's top: squares, inlay, border, box.
func (s *scenery) top(at frame.Spot[frame.Board]) colour {
	board, sq := s.rig.Board, float64(s.rig.Board.Square)
	f, r := math.Floor(at.X/sq+float64(board.Files)/2), math.Floor(at.Y/sq+float64(board.Ranks)/2)
	b := s.finish
	switch {
	case f >= 0 && f < float64(board.Files) && r >= 0 && r < float64(board.Ranks):
		i := int(r)*8 + int(f)
		c, grainX, grainY := b.dark, at.X, at.Y
		if (int(f)+int(r))%2 == 1 {
			c, grainX, grainY = b.light, at.Y, at.X
		}
		return scaled(c, s.tint[i]*s.grain.wood(grainX+s.turn[i], grainY+3*s.turn[i], b.contrast))
	case b.inlay && s.isWithin(at, inlayWidth):
		return scaled(b.light, 0.9)
	case s.isWithin(at, board.Border):
		return s.frame(at)
	}
	return scaled(b.box, s.grain.wood(at.X+1.7, at.Y, b.contrast*0.8))
}

// isWithin says whether a place is on the field or no farther beside it.
func (s *scenery) isWithin(at frame.Spot[frame.Board], beside unit.Length) bool {
	x, y := s.rig.Board.Half()
	return math.Abs(at.X) < float64(x+beside) && math.Abs(at.Y) < float64(y+beside)
}

// frame is the border: four strips, mitred.
func (s *scenery) frame(at frame.Spot[frame.Board]) colour {
	x, y := s.rig.Board.Half()
	if math.Abs(at.X)-float64(x) > math.Abs(at.Y)-float64(y) {
		return scaled(s.finish.border, s.grain.wood(at.Y+5, at.X, s.finish.contrast))
	}
	return scaled(s.finish.border, s.grain.wood(at.X+9, at.Y, s.finish.contrast))
}
