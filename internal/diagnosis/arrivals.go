// SPDX-License-Identifier: Apache-2.0

package diagnosis

import (
	"fmt"
	"math"
	"slices"

	"boardhand/internal/linear"
)

// arrival is where a carried piece stands against where it was to go.
type arrival struct {
	piece   Piece
	at      Spot // where it was to go, m
	off     Spot // how far it stands from there, m
	heading Spot // direction in which it came, a unit vector
	noise   float64
	beside  bool // it was to go beside the field
}

// The coefficients of the machine's place on the board: an arrival at (x, y) is
// off by
//
//	shift x + (scale x + seen) · x − turn · y + shear · y/2
//	shift y + (scale y + seen) · y + turn · x + shear · x/2
//
// and seen is what pictures add, which see all places so much farther from the field's middle.
// The axes meet at 90° less the shear. Scatter, place and size of the errors
// are metres, radians and shares.
const (
	shiftX = iota
	shiftY
	turn
	scaleX
	scaleY
	shear
	seen
	coefficients
)

// usual is the standard deviation of each coefficient on a machine that was
// put together with care: a rule, a square, a homing switch (common practice); and of
// what pictures add: in 40 sound games of the twin the mean of both scales was −1.3 ± 1.7 in
// a thousand, of which fits of so few places leave 1 open, and where there were ten or more
// the scales differed by less than the fit's error of 2.
var usual = [coefficients]float64{0.5e-3, 0.5e-3, 1.5e-3, 0.6e-3, 0.6e-3, 1e-3, 1.9e-3}

// faulty is the same where the cause is at work. A wrong scale or angle grows
// from the switches, where the machine was set to the board (variant 0), or from
// the middle of the field, where somebody has set it right by hand (variant 1).
// Where all bases are wider than the rig file says, pictures measure them
// beside their middles, towards or away from the light: 4 mm in the twin, where the
// bases were 1.9 times as wide; and in some variants of it more towards one side.
var faulty = map[Cause][]wide{
	BaseTooWide:     {{shiftX, 3e-3}, {shiftY, 3e-3}},
	PlaceShifted:    {{shiftX, 3e-3}, {shiftY, 3e-3}, {turn, 12e-3}},
	AxesOutOfSquare: {{shear, 10e-3}, {turn, 6e-3}},
	AxesScaleWrong:  {{scaleX, 10e-3}},
}

// leaning is what pictures add to that where they are taken from close above: in the
// twin wide bases were seen by up to 2 % of the way to the field's middle off.
var leaning = []wide{{seen, 20e-3}}

// widened lists the coefficients that are less sure under a hypothesis.
func (h hypothesis) widened() []wide {
	if h.cause == BaseTooWide && h.variant >= len(touches) {
		return slices.Concat(faulty[h.cause], leaning)
	}
	return faulty[h.cause]
}

// wide is one coefficient's standard deviation under a cause.
type wide struct {
	which int
	sigma float64
}

// Ways in which a magnet off the base's axis shows: always on the same side;
// behind the way it came, since a dragged piece turns until its magnet leads;
// anyhow.
const (
	offFixed = iota
	offTrailing
	offAnyhow
	offWays

	offRead // the magnet is sound, but pictures see this piece beside its place
)

// fit is the least-squares answer under a set of hypotheses.
type fit struct {
	evidence float64   // logarithm of the density of all offsets, with the coefficients integrated out
	value    []float64 // of the coefficients, then of the pieces' columns
	sigma    []float64
}

// design is a set of hypotheses as columns of a linear model.
type design struct {
	sigma   []float64 // prior standard deviation of each column
	columns []hypothesis
	anyhow  map[Piece]bool
	beyond  int                // the first of two columns: what pictures have wrong of the scale beside the field
	from    [coefficients]Spot // where the error is nothing, from the field's centre, reversed: added to the place
}

// newDesign takes a set of hypotheses, and the bias of the pictures, m, which
// looks like a shift.
func newDesign(set []hypothesis, bias float64) design {
	d := design{sigma: slices.Clone(usual[:]), anyhow: map[Piece]bool{}}
	for _, k := range []int{shiftX, shiftY} {
		d.sigma[k] = math.Hypot(d.sigma[k], bias)
	}
	for _, h := range set {
		for _, w := range h.widened() {
			if h.cause == AxesScaleWrong && h.axis == "y" {
				w.which = scaleY
			}
			if h.cause != PlaceShifted && h.variant == 0 {
				d.from[w.which] = h.place
			}
			d.sigma[w.which] = math.Max(d.sigma[w.which], w.sigma)
		}
		if h.cause != MagnetOffCentre {
			continue
		}
		switch h.variant {
		case offFixed:
			d.columns, d.sigma = append(d.columns, h, h), append(d.sigma, offSigma, offSigma)
		case offTrailing:
			d.columns, d.sigma = append(d.columns, h), append(d.sigma, math.Sqrt2*offSigma)
		case offAnyhow:
			d.anyhow[h.piece] = true
		case offRead:
			d.columns, d.sigma = append(d.columns, h, h), append(d.sigma, bias, bias)
		}
	}
	d.beyond = len(d.sigma)
	d.sigma = append(d.sigma, beyond, beyond)
	return d
}

// rows fills in the two rows of an arrival, x and y, over the prior sigmas.
func (d design) rows(a arrival, x, y []float64) {
	clear(x)
	clear(y)
	x[seen], y[seen] = a.at.X, a.at.Y
	x[shiftX], x[scaleX], x[turn], x[shear] = 1, a.at.X+d.from[scaleX].X, -a.at.Y-d.from[turn].Y, (a.at.Y+d.from[shear].Y)/2
	y[shiftY], y[scaleY], y[turn], y[shear] = 1, a.at.Y+d.from[scaleY].Y, a.at.X+d.from[turn].X, (a.at.X+d.from[shear].X)/2
	isSecond := false
	for i, h := range d.columns {
		k := coefficients + i
		switch {
		case h.variant == offTrailing && h.piece == a.piece:
			x[k], y[k] = -a.heading.X, -a.heading.Y
		case h.isFixed() && h.piece == a.piece && !isSecond:
			x[k] = 1
		case h.isFixed() && h.piece == a.piece:
			y[k] = 1
		}
		isSecond = h.isFixed() && !isSecond
	}
	if a.beside {
		x[d.beyond], y[d.beyond+1] = a.at.X, a.at.Y
	}
	for k, s := range d.sigma {
		x[k], y[k] = x[k]*s, y[k]*s
	}
}

// isFixed says whether an offset always lies on the same side.
func (h hypothesis) isFixed() bool { return h.variant == offFixed || h.variant == offRead }

// variances of an arrival's offset along x and y, m².
func (d design) variances(a arrival) (x, y float64) {
	v := a.noise * a.noise
	if d.anyhow[a.piece] {
		v += offSigma * offSigma
	}
	switch {
	case !a.beside:
		return v, v
	case math.Abs(a.at.X) > math.Abs(a.at.Y):
		return v + outwards*outwards, v + alongside*alongside
	}
	return v + alongside*alongside, v + outwards*outwards
}

// solve fits a set of hypotheses to the arrivals: Bayesian linear regression
// with normal priors, outliers first weighed down and then left out. bias is how
// far pictures are wrong in the same way, metres per coordinate.
func solve(arrivals []arrival, set []hypothesis, bias float64) fit {
	d := newDesign(set, bias)
	weight := make([]float64, len(arrivals))
	for i := range weight {
		weight[i] = 1
	}
	var f fit
	for round := range 8 {
		var resid []float64
		f, resid = d.fitted(arrivals, weight)
		if isSettled := d.weigh(weight, arrivals, resid, round < 2); isSettled && round >= 2 {
			break
		}
	}
	for i := range weight {
		if weight[i] == 0 {
			f.evidence += math.Log(stragglers / (math.Pi * straggle * straggle))
		}
	}
	return f
}

// weigh gives every arrival its weight by its residual: gentle in the first
// rounds, then all or nothing. It says whether nothing has changed.
func (d design) weigh(weight []float64, arrivals []arrival, resid []float64, isGentle bool) bool {
	isSettled := true
	for i, r := range resid {
		w := linear.Huber(r, huber)
		if !isGentle {
			w = 1
			if d.isStraggler(arrivals[i], r) {
				w = 0
			}
		}
		isSettled = isSettled && w == weight[i]
		weight[i] = w
	}
	return isSettled
}

// isStraggler says whether an arrival r standard deviations off is likelier to
// be an outlier.
func (d design) isStraggler(a arrival, r float64) bool {
	vx, vy := d.variances(a)
	usual := math.Log((1-stragglers)/(2*math.Pi*math.Sqrt(vx*vy))) - r*r/2
	return usual < math.Log(stragglers/(math.Pi*straggle*straggle))
}

// equations are the whitened normal equations (1 + JᵀV⁻¹J) b = JᵀV⁻¹y, with
// yᵀV⁻¹y and the logarithm of the determinant of 2πV.
type equations struct {
	normal       linear.Symmetric
	right        []float64
	square, logs float64
}

func (d design) equations(arrivals []arrival, weight []float64) equations {
	n := len(d.sigma)
	e := equations{normal: linear.NewSymmetric(n), right: make([]float64, n)}
	x, y := make([]float64, n), make([]float64, n)
	for i := range n {
		e.normal.Row(i)[i] = 1
	}
	for i, a := range arrivals {
		if weight[i] == 0 {
			continue
		}
		vx, vy := d.variances(a)
		vx, vy = vx/weight[i], vy/weight[i]
		d.rows(a, x, y)
		e.square += a.off.X*a.off.X/vx + a.off.Y*a.off.Y/vy
		e.logs += math.Log(2*math.Pi*vx) + math.Log(2*math.Pi*vy)
		for j := range n {
			e.right[j] += x[j]*a.off.X/vx + y[j]*a.off.Y/vy
			for k := range j + 1 {
				e.normal.Row(j)[k] += x[j]*x[k]/vx + y[j]*y[k]/vy
			}
		}
	}
	return e
}

// fitted solves the normal equations and returns the residuals in standard
// deviations.
func (d design) fitted(arrivals []arrival, weight []float64) (f fit, resid []float64) {
	n := len(d.sigma)
	e := d.equations(arrivals, weight)
	f.value, f.sigma, resid = make([]float64, n), slices.Clone(d.sigma), make([]float64, len(arrivals))
	root, err := e.normal.Factor()
	if err != nil { // one plus a sum of squares has a root, unless a number is none
		f.evidence = math.Inf(-1)
		return f, resid
	}
	b, unit := slices.Clone(e.right), make([]float64, n)
	root.Solve(b)
	f.evidence = -e.logs/2 - (e.square-linear.Dot(b, e.right))/2 - root.LogDeterminant()
	for j := range n {
		clear(unit)
		unit[j] = 1
		root.Solve(unit)
		f.sigma[j] *= math.Sqrt(unit[j])
		f.value[j] = d.sigma[j] * b[j]
	}
	x, y := make([]float64, n), make([]float64, n)
	for i, a := range arrivals {
		d.rows(a, x, y)
		vx, vy := d.variances(a)
		resid[i] = math.Hypot((a.off.X-linear.Dot(x, b))/math.Sqrt(vx), (a.off.Y-linear.Dot(y, b))/math.Sqrt(vy))
	}
	return f, resid
}

// anyPlace is a machine of which nothing is sure about its place on the board.
var anyPlace = []hypothesis{{cause: PlaceShifted}, {cause: AxesOutOfSquare}, {cause: AxesScaleWrong, axis: "x"}, {cause: AxesScaleWrong, axis: "y"}}

// scale is one answer to how far pieces scatter about the best frame, as a share of what
// pictures state for their sigmas. What pictures get wrong in the same way everywhere (a
// shadow, an outline) is part of a sigma and no scatter; bias is that part, metres per coordinate.
type scale struct {
	arrivals []arrival
	bias     float64
	fits     map[string]fit
}

// scalesOf weighs how far pieces scatter against one another: the few arrivals of a first
// evening leave that open, and what is then told of the frame holds for each answer as far
// as that is likely. Those with which not even anyPlace explains the arrivals are left out.
func scalesOf(arrivals []arrival) (out []scale) {
	best := math.Inf(-1)
	evidence := make([]float64, len(scatters))
	all := make([]scale, len(scatters))
	for i, by := range scatters {
		all[i] = scaled(arrivals, by)
		evidence[i] = all[i].fit(anyPlace).evidence
		best = max(best, evidence[i])
	}
	for i, s := range all {
		if evidence[i] >= best-unlikely {
			out = append(out, s)
		}
	}
	return out
}

// scaled gives all arrivals the noise with which they scatter.
func scaled(arrivals []arrival, by float64) scale {
	s := scale{arrivals: slices.Clone(arrivals), fits: map[string]fit{}}
	for i := range s.arrivals {
		a := &s.arrivals[i]
		s.bias += a.noise * math.Sqrt(max(0, 1-by*by)) / float64(len(arrivals))
		a.noise *= by
	}
	return s
}

// fit remembers the fits it has made.
func (s scale) fit(geometry []hypothesis) fit {
	key := keyOf(geometry)
	f, ok := s.fits[key]
	if !ok {
		f = solve(s.arrivals, geometry, s.bias)
		f.evidence -= s.readOff(geometry)
		s.fits[key] = f
	}
	return f
}

// readOff is what the pictures' bias explains, in nats, of the pieces whose
// magnets are thought to be off their centres: they must explain more than that.
func (s scale) readOff(geometry []hypothesis) float64 {
	var plain, read []hypothesis
	for _, h := range geometry {
		if h.cause != MagnetOffCentre {
			plain, read = append(plain, h), append(read, h)
			continue
		}
		if h.variant == offRead {
			return 0
		}
		h.variant = offRead
		read = append(read, h)
	}
	if len(plain) == len(read) || s.bias == 0 {
		return 0
	}
	return math.Max(0, s.fit(read).evidence-s.fit(plain).evidence)
}

// keyOf tells sets of hypotheses apart.
func keyOf(geometry []hypothesis) (key string) {
	for _, h := range geometry {
		key += fmt.Sprint(h.cause, h.piece, h.axis, h.variant, ";")
	}
	return key
}
