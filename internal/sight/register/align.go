// SPDX-License-Identifier: Apache-2.0

package register

import (
	"math"

	"boardhand/internal/frame"
	"boardhand/internal/optics"
	"boardhand/internal/sight/numeric"
	"boardhand/internal/sight/pixels"
)

// Reference is the picture against which others are registered.
type Reference struct {
	Plane  *pixels.Plane
	Image  *pixels.Image
	Open   func(pixel int32) float32 // how much of the board is seen at a pixel of the plane, 0–1
	Field  float64                   // half the side of the playing field, metres
	Border float64                   // margin around the field, metres
	Kept   *Keypoints                // found once, kept by the caller from call to call
}

// Keypoints are those of one reference image; none yet when zero.
type Keypoints struct {
	of     *pixels.Image
	levels [levels][]keypoint
}

// keypoint is a place on the board whose edge tells how the picture moved.
type keypoint struct {
	at   frame.Spot[frame.Board]
	l    float64    // brightness in the reference
	step [6]float64 // its change with the six numbers of a motion
}

// Motion is a small motion of the camera: turned about its axes (radians), then
// shifted along them (metres).
type Motion [6]float64

// After is the view after the motion.
func (b Motion) After(v optics.View) optics.View {
	r := frame.FromVector([3]float64{b[0], b[1], b[2]})
	t := frame.Pose[frame.Camera, frame.Camera]{R: r, T: frame.Point[frame.Camera]{X: b[3], Y: b[4], Z: b[5]}}
	v.CameraFromBoard = frame.Compose(t, v.CameraFromBoard)
	return v
}

// Align finds how the camera moved since the reference, starting
// from a supposed view. Moved is the largest motion of the field's corners
// since then, in pixels; good is the share of the board that agrees.
func (ref *Reference) Align(now *pixels.Image, from optics.View) (view optics.View, moved, good float64) {
	here := pixels.Levels(now, levels, ref.Plane.Box)
	var b Motion
	for k := levels - 1; k >= 0; k-- {
		b, good = ref.refine(k, &here[k], b, from)
	}
	view = b.After(from)
	return view, ref.Travel(view), good
}

// AlignStill is Align for a camera that was hardly touched: within a pixel.
func (ref *Reference) AlignStill(now *pixels.Image) (view optics.View, moved, good float64) {
	b, good := ref.refine(0, &pixels.Levels(now, 1, ref.Plane.Box)[0], Motion{}, ref.Plane.View)
	view = b.After(ref.Plane.View)
	return view, ref.Travel(view), good
}

// refine improves a motion on one level; good is the agreement it reaches.
func (ref *Reference) refine(k int, here *pixels.Level, b Motion, from optics.View) (Motion, float64) {
	points := ref.keypoints(k)
	left := ref.residuals(points, here, b.After(from))
	before := agree(left)
	c := b
	for k, isDone := 0, false; k < rounds && !isDone; k++ {
		isDone = !step(points, left, &c)
		left = ref.residuals(points, here, c.After(from))
	}
	if good := agree(left); good >= before {
		return c, good
	}
	return b, before
}

// keypoints keeps those of the reference, by level.
func (ref *Reference) keypoints(k int) []keypoint {
	kept := ref.Kept
	if kept.of != ref.Image {
		*kept = Keypoints{of: ref.Image}
	}
	if kept.levels[k] == nil {
		kept.levels[k] = ref.findKeypoints(&pixels.Levels(ref.Image, k+1, ref.Plane.Box)[k])
	}
	return kept.levels[k]
}

// Travel is how far the field's corners move on the image.
func (ref *Reference) Travel(v optics.View) float64 {
	far, f := 0.0, ref.Field
	to := *ref.Plane
	to.View = v
	for _, c := range [4]frame.Spot[frame.Board]{{X: f, Y: f}, {X: -f, Y: f}, {X: f, Y: -f}, {X: -f, Y: -f}} {
		x0, y0, _ := ref.Plane.Project(c.At(0))
		x1, y1, _ := to.Project(c.At(0))
		far = math.Max(far, math.Hypot(x1-x0, y1-y0))
	}
	return far
}

// findKeypoints picks open edges of the board, spread over it.
func (ref *Reference) findKeypoints(v *pixels.Level) []keypoint {
	var out []keypoint
	bumps := ref.bumps()
	reach := ref.Field + 0.7*ref.Border
	n := int(v.Scale)
	b := ref.Plane.Box
	stride := max(1, int(math.Sqrt(float64((b.X1-b.X0)*(b.Y1-b.Y0))/float64(n*n)/(6*mostKeypoints))))
	for y := b.Y0 + 2*n; y < b.Y1-2*n; y += n * stride {
		for x := b.X0 + 2*n; x < b.X1-2*n; x += n * stride {
			i := y*ref.Plane.W + x
			at := frame.Spot[frame.Board]{X: float64(ref.Plane.X[i]), Y: float64(ref.Plane.Y[i])}
			if !(math.Abs(at.X) < reach && math.Abs(at.Y) < reach) || ref.Open(int32(i)) < 0.95 {
				continue
			}
			l, dx, dy, ok := v.Slope(float64(x), float64(y))
			if !ok || math.Hypot(dx, dy)*v.Scale < leastEdge {
				continue
			}
			out = append(out, ref.keypoint(&bumps, at, l, dx, dy))
		}
	}
	return out
}

// bumps are the planes after a tiny motion each way.
func (ref *Reference) bumps() (out [len(Motion{})]pixels.Plane) {
	for k := range out {
		var b Motion
		b[k] = tinyMotion
		out[k] = *ref.Plane
		out[k].View = b.After(ref.Plane.View)
	}
	return out
}

// keypoint computes how the brightness at a place changes with a motion.
func (ref *Reference) keypoint(bumps *[len(Motion{})]pixels.Plane, at frame.Spot[frame.Board], l, dx, dy float64) keypoint {
	m := keypoint{at: at, l: l}
	x0, y0, _ := ref.Plane.Project(at.At(0))
	for k := range bumps {
		x, y, _ := bumps[k].Project(at.At(0))
		m.step[k] = (dx*(x-x0) + dy*(y-y0)) / tinyMotion
	}
	return m
}

// residuals compares the keypoints with a picture under a view, less their median:
// the exposure may have changed. NaN where the keypoint left the picture.
func (ref *Reference) residuals(points []keypoint, now *pixels.Level, v optics.View) []float64 {
	to := *ref.Plane
	to.View = v
	r := make([]float64, len(points))
	var all []float64
	for n, m := range points {
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

// Correlation is the correlation of a picture's brightness with the reference's over the keypoints.
func (ref *Reference) Correlation(now *pixels.Image) float64 {
	here := pixels.Levels(now, 1, ref.Plane.Box)[0]
	var m numeric.Moments
	for _, k := range ref.keypoints(0) {
		x, y, _ := ref.Plane.Project(k.at.At(0))
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
		if math.Abs(v) < 2*residualSigma {
			n++
		}
	}
	return float64(n) / math.Max(1, float64(len(r)))
}

// step improves a motion, of which the residuals are given, by one robust Gauss–Newton step;
// false when it is done.
func step(points []keypoint, r []float64, b *Motion) bool {
	abs := make([]float64, 0, len(r))
	for _, v := range r {
		if !math.IsNaN(v) {
			abs = append(abs, math.Abs(v))
		}
	}
	s := math.Max(residualSigma, 1.5*numeric.Median(abs))
	var m [6][7]float64
	for i := range m {
		p := shiftSigma
		if i < 3 {
			p = turnSigma
		}
		m[i][i] = 1 / (p * p)
		m[i][6] = -b[i] / (p * p)
	}
	for n, v := range r {
		if math.IsNaN(v) {
			continue
		}
		z := v / s
		w := 1 / (numeric.RobustDivisor(z) * residualSigma * residualSigma)
		for i, step := range points[n].step {
			row, ws := &m[i], w*step
			for j, other := range points[n].step {
				row[j] += ws * other
			}
			row[6] -= ws * v
		}
	}
	var rows [6][]float64
	for i := range m {
		rows[i] = m[i][:]
	}
	d, ok := numeric.Solve(rows[:])
	if !ok {
		return false
	}
	for i := range d {
		b[i] += d[i]
	}
	return math.Abs(d[0])+math.Abs(d[1])+math.Abs(d[2])+math.Abs(d[3])+math.Abs(d[4])+math.Abs(d[5]) > tinyMotion/10
}
