package sight

import (
	"math"

	"boardhand/internal/frame"
	"boardhand/internal/optics"
	"boardhand/internal/sight/numeric"
)

// mark is a place on the board whose edge tells how the picture moved.
type mark struct {
	at   frame.Spot[frame.Board]
	l    float64    // brightness in the remembered picture
	step [6]float64 // its change with the six numbers of a bump
}

// bump is a small motion of the camera: turned about its axes (radians), then
// shifted along them (metres).
type bump [6]float64

// after is the view after a bump.
func (b bump) after(v optics.View) optics.View {
	r := frame.FromVector([3]float64{b[0], b[1], b[2]})
	t := frame.Pose[frame.Camera, frame.Camera]{R: r, T: frame.Point[frame.Camera]{X: b[3], Y: b[4], Z: b[5]}}
	v.CameraFromBoard = frame.Compose(t, v.CameraFromBoard)
	return v
}

const (
	alignLevels = 3    // halvings of the plate: bumps up to some ten pixels
	alignRounds = 15   // Gauss–Newton steps a level, at most
	alignMarks  = 1200 // places compared
	alignEdge   = 0.10 // least step of l to a neighbour for a mark
	alignStill  = 0.12 // plate pixels of motion that matter to nobody
	// Priors of a bump, σ: they only settle what the board cannot tell apart,
	// a small turn from a small shift.
	bumpTurn, bumpShift = 0.03, 0.02
	// alignSigma is the residual of l that counts as agreement.
	alignSigma = 0.06
	alignGood  = 0.85 // share of the marks that agree when nothing is in the way
	alignSome  = 0.55 // and with a hand or a new shadow over the board
)

// level is the brightness plane reduced once more.
type level struct {
	w, h  int
	scale float64 // plate pixels a pixel
	l     []float32
}

// levels are the first n reductions of a plate's brightness around the board,
// each without what is even over a neighbourhood: shadows and lamps come and go.
func (e *eye) levels(p *plate, n int) []level {
	out := []level{{p.w, p.h, 1, p.l}}
	for len(out) < n {
		out = append(out, out[len(out)-1].half())
	}
	for k := range out {
		out[k] = out[k].flat(e.ground.box)
	}
	return out
}

// flat is the level without what is even, within a box of the plate and as far
// around it as cameras are bumped.
func (v level) flat(b box) level {
	const even, around = 6, 16 // pixels to each side: a quarter of a square; plate pixels
	k := int(v.scale)
	b = box{max(0, (b.x0-around)/k), max(0, (b.y0-around)/k), min(v.w, (b.x1+around)/k), min(v.h, (b.y1+around)/k)}
	l := make([]float32, len(v.l))
	smooth(l, v.l, v.w, b, even)
	for i := range b.each(v.w) {
		l[i] = v.l[i] - l[i]
	}
	v.l = l
	return v
}

func (v level) half() level {
	h := level{w: v.w / 2, h: v.h / 2, scale: 2 * v.scale}
	h.l = make([]float32, h.w*h.h)
	for y := range h.h {
		a, b := v.l[2*y*v.w:], v.l[(2*y+1)*v.w:]
		for x := range h.w {
			h.l[y*h.w+x] = (a[2*x] + a[2*x+1] + b[2*x] + b[2*x+1]) / 4
		}
	}
	return h
}

// at is the brightness at plate coordinates, between pixels linear.
func (v *level) at(x, y float64) (float64, bool) {
	x, y = (x+0.5)/v.scale-0.5, (y+0.5)/v.scale-0.5
	i, j := int(x), int(y)
	if !(x >= 0 && y >= 0) || i >= v.w-1 || j >= v.h-1 {
		return 0, false
	}
	fx, fy := x-float64(i), y-float64(j)
	k := j*v.w + i
	a, b, c, d := float64(v.l[k]), float64(v.l[k+1]), float64(v.l[k+v.w]), float64(v.l[k+v.w+1])
	top, low := a+fx*(b-a), c+fx*(d-c)
	return top + fy*(low-top), true
}

// slope is the brightness and its central differences.
func (v *level) slope(x, y float64) (l, dx, dy float64, ok bool) {
	h := v.scale
	l, ok = v.at(x, y)
	left, a := v.at(x-h, y)
	right, b := v.at(x+h, y)
	above, c := v.at(x, y-h)
	below, d := v.at(x, y+h)
	return l, (right - left) / (2 * h), (below - above) / (2 * h), ok && a && b && c && d
}

// align finds how the camera moved since the remembered picture, starting
// from a guess of the view. Moved is the largest motion of the field's corners
// since then, in plate pixels; good is the share of the board that agrees.
func (e *eye) align(now *plate, from optics.View) (view optics.View, moved, good float64) {
	here := e.levels(now, alignLevels)
	var b bump
	for k := alignLevels - 1; k >= 0; k-- {
		b, good = e.refine(k, &here[k], b, from)
	}
	view = b.after(from)
	return view, e.travel(view), good
}

// settled is align for a camera that was hardly touched: within a pixel.
func (e *eye) settled(now *plate) (view optics.View, moved, good float64) {
	b, good := e.refine(0, &e.levels(now, 1)[0], bump{}, e.ground.view)
	view = b.after(e.ground.view)
	return view, e.travel(view), good
}

// refine improves a bump on one level; good is the agreement it reaches.
func (e *eye) refine(k int, here *level, b bump, from optics.View) (bump, float64) {
	marks := e.marksOf(k)
	before := agree(e.residuals(marks, here, b.after(from)))
	c := b
	for range alignRounds {
		if !e.step(marks, here, &c, from) {
			break
		}
	}
	if good := agree(e.residuals(marks, here, c.after(from))); good >= before {
		return c, good
	}
	return b, before
}

// marksOf keeps the marks of the last settled picture, as it came from the
// camera, by level.
func (e *eye) marksOf(k int) []mark {
	if e.marked != e.raw[0] {
		e.marked, e.marks = e.raw[0], [alignLevels][]mark{}
	}
	if e.marks[k] == nil {
		e.marks[k] = e.findMarks(&e.levels(e.raw[0], k+1)[k])
	}
	return e.marks[k]
}

// travel is how far the field's corners move on the plate.
func (e *eye) travel(v optics.View) float64 {
	far, f := 0.0, e.setup.field()
	to := *e.ground
	to.view = v
	for _, c := range [4]frame.Spot[frame.Board]{{X: f, Y: f}, {X: -f, Y: f}, {X: f, Y: -f}, {X: -f, Y: -f}} {
		x0, y0, _ := e.ground.plate(c.At(0))
		x1, y1, _ := to.plate(c.At(0))
		far = math.Max(far, math.Hypot(x1-x0, y1-y0))
	}
	return far
}

// findMarks picks open edges of the board, spread over it.
func (e *eye) findMarks(v *level) []mark {
	var out []mark
	bumps := e.bumps()
	reach := e.setup.field() + 0.7*e.setup.Border
	n := int(v.scale)
	b := e.ground.box
	stride := max(1, int(math.Sqrt(float64((b.x1-b.x0)*(b.y1-b.y0))/float64(n*n)/(6*alignMarks))))
	for y := b.y0 + 2*n; y < b.y1-2*n; y += n * stride {
		for x := b.x0 + 2*n; x < b.x1-2*n; x += n * stride {
			i := y*e.ground.w + x
			at := frame.Spot[frame.Board]{X: float64(e.ground.x[i]), Y: float64(e.ground.y[i])}
			if !(math.Abs(at.X) < reach && math.Abs(at.Y) < reach) || e.stack.open(int32(i)) < 0.95 {
				continue
			}
			l, dx, dy, ok := v.slope(float64(x), float64(y))
			if !ok || math.Hypot(dx, dy)*v.scale < alignEdge {
				continue
			}
			out = append(out, e.mark(&bumps, at, l, dx, dy))
		}
	}
	return out
}

const tinyBump = 1e-4 // radians and metres: a tenth of a pixel

// bumps are the grounds after a tiny bump each way.
func (e *eye) bumps() (out [len(bump{})]ground) {
	for k := range out {
		var b bump
		b[k] = tinyBump
		out[k] = *e.ground
		out[k].view = b.after(e.ground.view)
	}
	return out
}

// mark computes how the brightness at a place changes with a bump.
func (e *eye) mark(bumps *[len(bump{})]ground, at frame.Spot[frame.Board], l, dx, dy float64) mark {
	m := mark{at: at, l: l}
	x0, y0, _ := e.ground.plate(at.At(0))
	for k := range bumps {
		x, y, _ := bumps[k].plate(at.At(0))
		m.step[k] = (dx*(x-x0) + dy*(y-y0)) / tinyBump
	}
	return m
}

// residuals compares the marks with a picture under a view, less their median:
// the exposure may have changed. NaN where the mark left the picture.
func (e *eye) residuals(marks []mark, now *level, v optics.View) []float64 {
	to := *e.ground
	to.view = v
	r := make([]float64, len(marks))
	var all []float64
	for n, m := range marks {
		x, y, _ := to.plate(m.at.At(0))
		l, ok := now.at(x, y)
		if r[n] = l - m.l; !ok {
			r[n] = math.NaN()
			continue
		}
		all = append(all, r[n])
	}
	shift := numeric.Median(all)
	for n := range r {
		r[n] -= shift
	}
	return r
}

// likeness is the correlation of a picture's brightness with the remembered
// one's over the marks.
func (e *eye) likeness(now *plate) float64 {
	here := e.levels(now, 1)[0]
	var m numeric.Moments
	for _, k := range e.marksOf(0) {
		x, y, _ := e.ground.plate(k.at.At(0))
		if l, ok := here.at(x, y); ok {
			m.Add(l, k.l)
		}
	}
	return m.Correlation()
}

// agree is the share of residuals within the noise.
func agree(r []float64) float64 {
	n := 0
	for _, v := range r {
		if math.Abs(v) < 2*alignSigma {
			n++
		}
	}
	return float64(n) / math.Max(1, float64(len(r)))
}

// step improves a bump by one robust Gauss–Newton step; false when it is done.
func (e *eye) step(marks []mark, now *level, b *bump, from optics.View) bool {
	r := e.residuals(marks, now, b.after(from))
	abs := make([]float64, 0, len(r))
	for _, v := range r {
		if !math.IsNaN(v) {
			abs = append(abs, math.Abs(v))
		}
	}
	s := math.Max(alignSigma, 1.5*numeric.Median(abs))
	m := make([][]float64, 6)
	for i := range m {
		m[i] = make([]float64, 7)
		p := bumpShift
		if i < 3 {
			p = bumpTurn
		}
		m[i][i] = 1 / (p * p)
		m[i][6] = -b[i] / (p * p)
	}
	for n, v := range r {
		if math.IsNaN(v) {
			continue
		}
		z := v / s
		w := 1 / ((1 + z*z) * (1 + z*z) * alignSigma * alignSigma)
		for i := range 6 {
			for j := range 6 {
				m[i][j] += w * marks[n].step[i] * marks[n].step[j]
			}
			m[i][6] -= w * marks[n].step[i] * v
		}
	}
	d, ok := numeric.Solve(m)
	if !ok {
		return false
	}
	for i := range d {
		b[i] += d[i]
	}
	const done = 1e-5 // radians, metres: a hundredth of a pixel
	return math.Abs(d[0])+math.Abs(d[1])+math.Abs(d[2])+math.Abs(d[3])+math.Abs(d[4])+math.Abs(d[5]) > done
}
