package sight

import (
	"math"

	"boardhand/internal/frame"
	"boardhand/internal/optics"
	"boardhand/internal/sight/numeric"
	"boardhand/internal/sight/pixels"
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

// align finds how the camera moved since the remembered picture, starting
// from a guess of the view. Moved is the largest motion of the field's corners
// since then, in plate pixels; good is the share of the board that agrees.
func (e *eye) align(now *pixels.Image, from optics.View) (view optics.View, moved, good float64) {
	here := pixels.Levels(now, alignLevels, e.ground.Box)
	var b bump
	for k := alignLevels - 1; k >= 0; k-- {
		b, good = e.refine(k, &here[k], b, from)
	}
	view = b.after(from)
	return view, e.travel(view), good
}

// settled is align for a camera that was hardly touched: within a pixel.
func (e *eye) settled(now *pixels.Image) (view optics.View, moved, good float64) {
	b, good := e.refine(0, &pixels.Levels(now, 1, e.ground.Box)[0], bump{}, e.ground.View)
	view = b.after(e.ground.View)
	return view, e.travel(view), good
}

// refine improves a bump on one level; good is the agreement it reaches.
func (e *eye) refine(k int, here *pixels.Level, b bump, from optics.View) (bump, float64) {
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
		e.marks[k] = e.findMarks(&pixels.Levels(e.raw[0], k+1, e.ground.Box)[k])
	}
	return e.marks[k]
}

// travel is how far the field's corners move on the plate.
func (e *eye) travel(v optics.View) float64 {
	far, f := 0.0, e.setup.field()
	to := *e.ground
	to.View = v
	for _, c := range [4]frame.Spot[frame.Board]{{X: f, Y: f}, {X: -f, Y: f}, {X: f, Y: -f}, {X: -f, Y: -f}} {
		x0, y0, _ := e.ground.Project(c.At(0))
		x1, y1, _ := to.Project(c.At(0))
		far = math.Max(far, math.Hypot(x1-x0, y1-y0))
	}
	return far
}

// findMarks picks open edges of the board, spread over it.
func (e *eye) findMarks(v *pixels.Level) []mark {
	var out []mark
	bumps := e.bumps()
	reach := e.setup.field() + 0.7*e.setup.Border
	n := int(v.Scale)
	b := e.ground.Box
	stride := max(1, int(math.Sqrt(float64((b.X1-b.X0)*(b.Y1-b.Y0))/float64(n*n)/(6*alignMarks))))
	for y := b.Y0 + 2*n; y < b.Y1-2*n; y += n * stride {
		for x := b.X0 + 2*n; x < b.X1-2*n; x += n * stride {
			i := y*e.ground.W + x
			at := frame.Spot[frame.Board]{X: float64(e.ground.X[i]), Y: float64(e.ground.Y[i])}
			if !(math.Abs(at.X) < reach && math.Abs(at.Y) < reach) || e.stack.Open(int32(i)) < 0.95 {
				continue
			}
			l, dx, dy, ok := v.Slope(float64(x), float64(y))
			if !ok || math.Hypot(dx, dy)*v.Scale < alignEdge {
				continue
			}
			out = append(out, e.mark(&bumps, at, l, dx, dy))
		}
	}
	return out
}

const tinyBump = 1e-4 // radians and metres: a tenth of a pixel

// bumps are the grounds after a tiny bump each way.
func (e *eye) bumps() (out [len(bump{})]pixels.Plane) {
	for k := range out {
		var b bump
		b[k] = tinyBump
		out[k] = *e.ground
		out[k].View = b.after(e.ground.View)
	}
	return out
}

// mark computes how the brightness at a place changes with a bump.
func (e *eye) mark(bumps *[len(bump{})]pixels.Plane, at frame.Spot[frame.Board], l, dx, dy float64) mark {
	m := mark{at: at, l: l}
	x0, y0, _ := e.ground.Project(at.At(0))
	for k := range bumps {
		x, y, _ := bumps[k].Project(at.At(0))
		m.step[k] = (dx*(x-x0) + dy*(y-y0)) / tinyBump
	}
	return m
}

// residuals compares the marks with a picture under a view, less their median:
// the exposure may have changed. NaN where the mark left the picture.
func (e *eye) residuals(marks []mark, now *pixels.Level, v optics.View) []float64 {
	to := *e.ground
	to.View = v
	r := make([]float64, len(marks))
	var all []float64
	for n, m := range marks {
		x, y, _ := to.Project(m.at.At(0))
		l, ok := now.At(x, y)
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
func (e *eye) likeness(now *pixels.Image) float64 {
	here := pixels.Levels(now, 1, e.ground.Box)[0]
	var m numeric.Moments
	for _, k := range e.marksOf(0) {
		x, y, _ := e.ground.Project(k.at.At(0))
		if l, ok := here.At(x, y); ok {
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
func (e *eye) step(marks []mark, now *pixels.Level, b *bump, from optics.View) bool {
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
