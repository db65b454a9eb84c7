// SPDX-License-Identifier: Apache-2.0

package lens

import (
	"math"

	"boardhand/internal/frame"
)

// sprite is a piece's picture from where it stands: premultiplied colour and
// cover, and its shadow on what it stands on.
type sprite struct {
	x0, y0, w, h int
	rgb          []uint16
	cover        []uint8
	shade        shadow
	far          float64 // from the camera, m: who covers which
}

// corner of a piece's surface, as the picture needs it.
type vertex struct {
	u, v, depth float64
	normal      vec
	at          vec
	tone        float64
}

// draw makes a piece's sprite; nil when the camera does not see it.
func (s *stage) draw(b *Piece) *sprite {
	mesh, rows := s.mesh(b)
	if mesh == nil {
		return &sprite{}
	}
	box := bounds(mesh)
	x0, y0 := max(0, int(box[0])-1), max(0, int(box[1])-1)
	x1, y1 := min(s.plate.w, int(box[2])+3), min(s.plate.h, int(box[3])+3)
	sp := &sprite{x0: x0, y0: y0, w: x1 - x0, h: y1 - y0}
	eye := s.scene.view.Camera()
	sp.far = eye.Sub(b.At.At(b.Z + b.Height/2)).Norm()
	sp.shade = s.shadowOf(b)
	if sp.w <= 0 || sp.h <= 0 {
		return &sprite{shade: sp.shade}
	}
	c := newCanvas(sp.w, sp.h)
	c.x0, c.y0, c.paint = float64(x0), float64(y0), s.varnish(b, eye)
	for j := range rows - 1 {
		for i := range turns {
			k, l := j*turns+i, j*turns+(i+1)%turns
			quad := [4]*vertex{&mesh[k], &mesh[l], &mesh[l+turns], &mesh[k+turns]}
			c.triangle(quad[0], quad[1], quad[2])
			c.triangle(quad[0], quad[2], quad[3])
		}
	}
	c.resolve(sp, s.plate)
	return sp
}

// mesh sets out a piece's surface in the board frame and projects it; nil when
// a part of it is out of the lens's field.
func (s *stage) mesh(b *Piece) ([]vertex, int) {
	rings := profiles[b.Piece.Kind()]
	mesh := make([]vertex, len(rings)*turns)
	stand := posture(b)
	for j, r := range rings {
		for i := range turns {
			a := 2 * math.Pi * float64(i) / turns
			at := stand.Apply(frame.Point[own]{X: b.Base * (r.off + r.along*math.Cos(a)), Y: b.Base * r.across * math.Sin(a), Z: r.z * b.Height})
			c := s.scene.view.CameraFromBoard.Apply(at)
			px, ok := s.scene.view.Lens.Project(c)
			if !ok {
				return nil, 0
			}
			streak := s.scene.grain.at(float64(b.ID*13)+a*1.4, 3*float64(b.ID)+r.z*2.5)
			mesh[j*turns+i] = vertex{u: px.X, v: px.Y, depth: c.Z, at: at, tone: b.Shade * (1 + s.scene.finish.contrast*0.5*(streak-0.5))}
		}
	}
	shape(mesh, len(rings))
	return mesh, len(rings)
}

// own is a piece's own frame: z up its axis, x where it looks.
type own struct{}

// posture is how a piece stands, leans or lies.
func posture(b *Piece) frame.Pose[frame.Board, own] {
	r := frame.FromVector([3]float64{0, 0, b.Yaw})
	tilt := [3]float64{-b.Lean.Y, b.Lean.X, 0}
	if b.Rock > 0 {
		tilt[0], tilt[1] = tilt[0]+b.Heading.Y*b.Rock, tilt[1]-b.Heading.X*b.Rock
	}
	up := 0.0
	if b.Fallen {
		h := b.Heading.Unit()
		tilt = [3]float64{h.Y * math.Pi / 2, -h.X * math.Pi / 2, 0}
		up = b.Base
	}
	return frame.Pose[frame.Board, own]{R: frame.FromVector(tilt).Mul(r), T: b.At.At(b.Z + up)}
}

// shape finds the normals from the neighbours of each corner.
func shape(mesh []vertex, rows int) {
	for j := range rows {
		up, down := min(j+1, rows-1), max(j-1, 0)
		for i := range turns {
			left, right := (i+turns-1)%turns, (i+1)%turns
			along := mesh[up*turns+i].at.Sub(mesh[down*turns+i].at)
			around := mesh[j*turns+right].at.Sub(mesh[j*turns+left].at)
			mesh[j*turns+i].normal = unitVec(cross(around, along))
		}
	}
}

func bounds(mesh []vertex) [4]float64 {
	b := [4]float64{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}
	for _, v := range mesh {
		b[0], b[1] = math.Min(b[0], v.u), math.Min(b[1], v.v)
		b[2], b[3] = math.Max(b[2], v.u), math.Max(b[3], v.v)
	}
	return b
}

// varnish gives the light that a place on a piece sends to the camera.
func (s *stage) varnish(b *Piece, eye vec) func(height float64, normal vec, tone float64) colour {
	f, l := &s.scene.finish, &s.scene.light
	base := f.white
	if b.Piece.Color() != 0 {
		base = f.black
	}
	mid := b.At.At(b.Z + b.Height/2)
	lamp, power := l.towards(mid), l.direct(mid)*pieceBright
	half := unitVec(lamp.Add(unitVec(eye.Sub(mid))))
	return func(z float64, n vec, tone float64) colour {
		face := math.Max(0, dot(n, lamp)) / math.Max(lamp.Z, leastRise)
		open := (openSide + (1-openSide)*n.Z) * (openLow + (1-openLow)*math.Min(1, (z-b.Z)/(openHeight*b.Height)))
		shine := f.polish * math.Pow(math.Max(0, dot(n, half)), f.sharp) * power * shineBright
		sky := skyShine * f.polish * math.Max(0, n.Z)
		var c colour
		for k := range c {
			c[k] = tone*base[k]*(power*face*l.warm[k]*diffuse+l.ambient*open*l.cool[k]) + shine*l.warm[k] + sky
		}
		return c
	}
}
