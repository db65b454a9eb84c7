// SPDX-License-Identifier: Apache-2.0

package locate

import (
	"bytes"
	"image"
	"image/jpeg"
	"math"
	"math/rand/v2"
	"testing"

	"boardhand/internal/frame"
	"boardhand/internal/optics"
	"boardhand/internal/sight/pixels"
)

// drawing is a picture of a board for the tests: flat shading, but true
// perspective, distortion, standing pieces, wood, shadows, noise and JPEG.
type drawing struct {
	view          optics.View
	image         [2]int
	square        float64
	border        float64
	light, dark   float64 // levels of the fields
	edge          float64 // of the margin
	table         float64
	grain         float64     // levels, standard deviation
	pieces        [64]float64 // height in squares, 0: no piece; by rank × 8 + file
	tone          [64]float64 // of the pieces, levels
	foot          float64     // radius in squares
	hand          bool
	handAt        frame.Spot[frame.Board]
	shadow        float64 // 0–1: how much a soft-edged shadow takes
	shadowEdge    frame.Spot[frame.Board]
	falloff       float64 // lamp to one side: share lost over a field's length
	noise         float64 // levels
	quality       int     // of the JPEG
	cloth         float64 // contrast of a chequered tablecloth, levels
	rnd           *rand.Rand
	phase, wobble [64]float64
}

const drawSamples = 2 // each way in a pixel

// draw renders the picture.
func (d *drawing) draw(t *testing.T) *image.Gray {
	t.Helper()
	for i := range d.phase {
		d.phase[i], d.wobble[i] = 50*d.rnd.Float64(), d.rnd.NormFloat64()
	}
	w, h := d.image[0], d.image[1]
	g := image.NewGray(image.Rect(0, 0, w, h))
	eye := d.view.Camera()
	for y := range h {
		for x := range w {
			sum := 0.0
			for s := range drawSamples * drawSamples {
				px := frame.Spot[frame.Image]{X: float64(x) + (float64(s%drawSamples)+0.5)/drawSamples - 0.5,
					Y: float64(y) + (float64(s/drawSamples)+0.5)/drawSamples - 0.5}
				if p, err := d.view.OnPlane(px, 0); err == nil {
					sum += d.shade(p, eye)
				}
			}
			v := sum/drawSamples/drawSamples + d.noise*d.rnd.NormFloat64()
			g.Pix[y*g.Stride+x] = uint8(math.Max(0, math.Min(255, v+0.5)))
		}
	}
	return d.coded(t, g)
}

func (d *drawing) coded(t *testing.T, g *image.Gray) *image.Gray {
	var b bytes.Buffer
	if err := jpeg.Encode(&b, g, &jpeg.Options{Quality: d.quality}); err != nil {
		t.Fatal(err)
	}
	img, err := jpeg.Decode(&b)
	if err != nil {
		t.Fatal(err)
	}
	return pixels.LumaOf(img)
}

// shade is the brightness seen along the ray that meets the board at p.
func (d *drawing) shade(p frame.Spot[frame.Board], eye frame.Point[frame.Board]) float64 {
	lit := d.lamp(p)
	if d.hand {
		at := eye.Spot().Add(p.Sub(eye.Spot()).Scale(1 - 0.045/eye.Z))
		if q := at.Sub(d.handAt); math.Hypot(q.X, q.Y-clip(q.Y, 0.25)) < 0.04 || q.Y < 0 && math.Abs(q.X) < 0.035 {
			return 150 * lit
		}
	}
	const levels = 14
	for k := levels; k > 0; k-- {
		t := float64(k) / levels
		z := t * 2 * d.square // pieces are at most two squares high
		at := eye.Spot().Add(p.Sub(eye.Spot()).Scale(1 - z/eye.Z))
		f, r := int(math.Floor(at.X/d.square+4)), int(math.Floor(at.Y/d.square+4))
		if f < 0 || f > 7 || r < 0 || r > 7 {
			continue
		}
		i := r*8 + f
		if tall := d.pieces[i]; z < tall*d.square {
			c := math.Hypot(at.X/d.square-float64(f)+3.5, at.Y/d.square-float64(r)+3.5)
			if u := z / (tall * d.square); c < d.foot*(1-0.6*u) {
				return d.tone[i] * lit * (0.7 + 0.3*u + 0.3*(at.X/d.square-float64(f)+3.5))
			}
		}
	}
	return d.ground(p) * lit
}

func (d *drawing) lamp(p frame.Spot[frame.Board]) float64 {
	k := 1 - d.falloff*(p.X/d.square/8)
	if side := p.Sub(d.shadowEdge); side.X+0.6*side.Y > 0 {
		k *= 1 - d.shadow*math.Min(1, (side.X+0.6*side.Y)/0.012)
	}
	return k
}

// ground is the board's own brightness, without pieces.
func (d *drawing) ground(p frame.Spot[frame.Board]) float64 {
	x, y := p.X/d.square+4, p.Y/d.square+4
	f, r := math.Floor(x), math.Floor(y)
	if x < 0 || y < 0 || x >= 8 || y >= 8 {
		m := d.border / d.square
		if x > -m && y > -m && x < 8+m && y < 8+m {
			return d.edge + d.grain*math.Sin(40*y+2*math.Sin(1.3*x))
		}
		if d.cloth > 0 && (int(math.Floor(x/1.7))+int(math.Floor(y/1.7)))%2 == 0 {
			return d.table + d.cloth
		}
		return d.table + 3*math.Sin(p.X*400)*math.Sin(p.Y*300)
	}
	i := int(r)*8 + int(f)
	u, v := x-f, y-r
	if i%3 == 0 {
		u, v = v, u
	}
	wood := d.grain * (math.Sin(30*v+d.phase[i]+1.5*math.Sin(2*u+d.phase[i])) + 0.6*d.wobble[i])
	if (int(f)+int(r))%2 == 0 {
		return d.dark + wood
	}
	return d.light + wood
}

// someDrawing makes a hard but fair case: everything the contract allows.
func someDrawing(rnd *rand.Rand, image [2]int) (*drawing, Setup) {
	between := func(a, b float64) float64 { return a + (b-a)*rnd.Float64() }
	d := &drawing{image: image, rnd: rnd, square: between(0.025, 0.05), foot: between(0.25, 0.4)}
	d.border = between(0.3, 1) * d.square
	// Height and field of view so that the board fills 70–90 % of the short side.
	height := between(0.45, 0.7)
	fill := between(0.70, 0.9)
	f := fill * float64(image[1]) * height / (8*d.square + 2*d.border)
	hfov := 2 * math.Atan(float64(image[0])/2/f)
	side := []string{"bottom", "left", "top", "right"}[rnd.IntN(4)]
	v, _ := optics.Nominal(image, hfov, height, side)
	half := 4 * d.square / height
	v.Lens.K1 = -0.3 * rnd.Float64() * math.Min(1, 0.25/(half*half))
	v.Lens.K2 = 0.1 * v.Lens.K1 * between(-1, 1)
	v.Lens.Cx, v.Lens.Cy = v.Lens.Cx+between(-4, 4), v.Lens.Cy+between(-4, 4)
	tilt, way := between(0, 6)*math.Pi/180, between(0, 2*math.Pi)
	turned := frame.FromVector([3]float64{0, 0, between(-20, 20) * math.Pi / 180})
	tilted := frame.FromVector([3]float64{tilt * math.Cos(way), tilt * math.Sin(way), 0})
	v.CameraFromBoard.R = tilted.Mul(turned).Mul(v.CameraFromBoard.R)
	d.view = v
	d.aim()
	d.paint(between)
	s := Setup{Square: d.square, Border: d.border, Image: image, WhiteSide: side,
		Height: height * between(0.96, 1.04), HFOV: hfov + between(-2.5, 2.5)*math.Pi/180}
	return d, s
}

// aim shifts the camera so that the board stays in the picture.
func (d *drawing) aim() {
	v := &d.view
	for range 3 {
		mid, _ := v.Project(frame.Point[frame.Board]{})
		k := v.CameraFromBoard.T.Z / v.Lens.Fx
		v.CameraFromBoard.T.X -= 0.9 * k * (mid.X - float64(d.image[0])/2)
		v.CameraFromBoard.T.Y -= 0.9 * k * (mid.Y - float64(d.image[1])/2)
	}
	for range 40 { // and rises until all of it is seen
		if c, err := v.Cover(8*d.square, 0, d.image); err == nil && c.Margin > 3 {
			return
		}
		v.Lens.Fx *= 0.985
		v.Lens.Fy = v.Lens.Fx
	}
}

// paint chooses light, wood and pieces.
func (d *drawing) paint(between func(a, b float64) float64) {
	d.dark = between(35, 130)
	d.light = d.dark + between(22, 90)
	d.edge, d.table = between(d.dark, d.light), between(20, 200)
	d.grain = between(0, 0.12) * (d.light - d.dark)
	d.noise, d.quality = between(0.5, 3), 70+d.rnd.IntN(26)
	d.falloff, d.shadow = between(-0.3, 0.3), between(0, 0.5)
	d.shadowEdge = frame.Spot[frame.Board]{X: between(-0.1, 0.1), Y: between(-0.1, 0.1)}
	if d.rnd.IntN(3) == 0 {
		d.cloth = between(20, 80)
	}
	start := d.rnd.IntN(2) == 0
	for i := range d.pieces {
		home := i < 16 || i >= 48
		if start && !home || !start && d.rnd.IntN(3) > 0 {
			continue
		}
		d.pieces[i] = between(0.9, 1.9)
		d.tone[i] = 210
		if i >= 32 != (!start && d.rnd.IntN(3) == 0) {
			d.tone[i] = 45
		}
	}
	if !start && d.rnd.IntN(3) == 0 {
		d.hand = true
		d.handAt = frame.Spot[frame.Board]{X: between(-3, 3) * d.square, Y: between(-3, 2) * d.square}
	}
}
