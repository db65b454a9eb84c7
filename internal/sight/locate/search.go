// SPDX-License-Identifier: Apache-2.0

package locate

import (
	"image"
	"math"
	"sort"

	"boardhand/internal/frame"
	"boardhand/internal/optics"
	"boardhand/internal/sight/pixels"
)

// search is one attempt to find the board in one picture.
type search struct {
	g       *image.Gray
	s       Setup
	nominal optics.View
	prior   optics.Prior
	greys   map[float64]*image.Gray // the picture reduced, by zoom
	saddles map[float64][]saddle
}

// fragment is a patch on a level: corners in pixels of the full picture.
type fragment struct {
	at   map[node]corner
	zoom float64
}

// step is the nominal side of a square in px.
func (k *search) step() float64 { return k.nominal.Lens.Fx * k.s.Square / k.s.Height }

// zooms lists the reductions to search: squares of 20–40 px first, where the
// ring covers a good part of a field and grain is averaged away.
func (k *search) zooms() []float64 {
	best := 1.0
	for k.step()/best > 44 {
		best *= 2
	}
	out := []float64{best}
	if k.step()/best/2 > 13 {
		out = append(out, 2*best)
	}
	if best > 1 {
		out = append(out, best/2)
	}
	return out
}

// grey returns the picture reduced, lightly smoothed.
func (k *search) grey(zoom float64) *image.Gray {
	if g, ok := k.greys[zoom]; ok {
		return g
	}
	g := k.g
	for z := 1.0; z < zoom; z *= 2 {
		g = pixels.Halved(g)
	}
	if k.greys == nil {
		k.greys, k.saddles = map[float64]*image.Gray{}, map[float64][]saddle{}
	}
	k.greys[zoom] = pixels.Smoothed(g)
	return k.greys[zoom]
}

// found returns the saddles of a reduction.
func (k *search) found(zoom float64) []saddle {
	g := k.grey(zoom)
	s, ok := k.saddles[zoom]
	if !ok {
		s = findSaddles(g)
		k.saddles[zoom] = s
	}
	return s
}

// patchesAt finds the pieces of lattice on one reduction, largest first.
func (k *search) patchesAt(zoom float64) []fragment {
	step := k.step() / zoom
	w := newLattice(k.found(zoom), leastStep*step, mostStep*step)
	var out []fragment
	for _, p := range w.patches() {
		q := fragment{at: map[node]corner{}, zoom: zoom}
		for n, i := range p {
			q.at[n] = corner{at: w.s[i].full(zoom)}
		}
		out = append(out, q)
	}
	return out
}

// try fits a view to a piece of lattice, grows it over the board, places the
// field on it and verifies.
func (k *search) try(p fragment) (Board, error) {
	m, ok := k.start(p)
	if !ok {
		return Board{}, ErrNoBoard
	}
	for round := range fitRounds {
		m.see(round)
		if err := m.refit(); err != nil {
			return Board{}, ErrNoBoard
		}
	}
	if len(m.seen) < leastCorners {
		return Board{}, ErrNoBoard
	}
	if err := m.place(); err != nil {
		return Board{}, err
	}
	return m.finish()
}

// start gives a piece's nodes the board's directions and fits a first view,
// its origin on the node nearest to the piece's middle.
func (k *search) start(p fragment) (*mapping, bool) {
	turned := k.turnOf(p)
	m := &mapping{k: k, zoom: p.zoom, far: true, seen: map[node]corner{}, empty: map[node]frame.Spot[frame.Image]{}}
	var mid frame.Spot[frame.Image]
	for n, c := range p.at {
		m.seen[turned(n)] = c
		mid = mid.Add(c.at.Scale(1 / float64(len(p.at))))
	}
	origin, near := node{}, math.Inf(1)
	for _, n := range nodesOf(m.seen) {
		if d := m.seen[n].at.Distance(mid); d < near {
			origin, near = n, d
		}
	}
	m.shift(origin)
	lens := k.prior.Lens
	view, err := optics.PoseFromPlane(lens, m.corners())
	if err != nil {
		return nil, false
	}
	m.fitted.View = view
	return m, m.refit() == nil && m.plausible()
}

// turnOf returns the map from a piece's directions to the board's: x and y of
// the board as they run in the picture by white_side, to the nearest quarter.
func (k *search) turnOf(p fragment) func(node) node {
	var along frame.Spot[frame.Image] // mean step along i
	for n, c := range p.at {
		if d, ok := p.at[node{n.i + 1, n.j}]; ok {
			along = along.Add(d.at.Sub(c.at))
		}
		if d, ok := p.at[node{n.i, n.j + 1}]; ok { // j is i turned clockwise
			e := d.at.Sub(c.at)
			along = along.Add(frame.Spot[frame.Image]{X: e.Y, Y: -e.X})
		}
	}
	r := k.nominal.CameraFromBoard.R
	want := math.Atan2(r[1][0], r[0][0]) // where the board's x runs in the picture
	quarters := int(math.Round((want-math.Atan2(along.Y, along.X))/(math.Pi/2))+8) % 4
	return func(n node) node {
		// x of the board is i turned clockwise so many quarters; y is x turned back.
		x := [4]node{{n.i, n.j}, {n.j, -n.i}, {-n.i, -n.j}, {-n.j, n.i}}[quarters]
		return node{x.i, -x.j}
	}
}

// mapping is a lattice with board directions: node (i, j) lies at
// (i, j) squares from the view's origin.
type mapping struct {
	k      *search
	zoom   float64
	seen   map[node]corner
	empty  map[node]frame.Spot[frame.Image] // where nothing was found
	sides  []side                           // measured places on the squares' sides
	fitted optics.Fitted
	light  bool // the field to the right and above the origin is light
	inner  bool // the origin is the field's centre: only its inner corners count
	far    bool // the view is rough: the corners may lie several px off
	blind  bool // no saddles were looked for: measure at the predictions
}

// shift makes a node the origin.
func (m *mapping) shift(origin node) {
	seen := map[node]corner{}
	for n, c := range m.seen {
		seen[node{n.i - origin.i, n.j - origin.j}] = c
	}
	m.seen = seen
	empty := map[node]frame.Spot[frame.Image]{}
	for n, p := range m.empty {
		empty[node{n.i - origin.i, n.j - origin.j}] = p
	}
	m.empty = empty
}

// corners lists what was seen for the fit, places on sides too.
func (m *mapping) corners() []optics.Corner {
	out := make([]optics.Corner, 0, len(m.seen))
	for _, n := range nodesOf(m.seen) {
		c := m.seen[n]
		out = append(out, optics.Corner{Board: m.board(n), Seen: c.at, Sigma: math.Max(c.sigma, roughSigma(c))})
	}
	for _, s := range m.sides {
		out = append(out, s.Corner)
	}
	return out
}

// roughSigma is the error of a saddle that was not measured yet: a pixel.
func roughSigma(c corner) float64 {
	if c.sigma == 0 {
		return 1
	}
	return 0
}

// board is a node's place in the mapping's own frame.
func (m *mapping) board(n node) frame.Point[frame.Board] {
	return frame.Point[frame.Board]{X: float64(n.i) * m.k.s.Square, Y: float64(n.j) * m.k.s.Square}
}

// refit fits the view to the corners and throws out those that do not belong.
func (m *mapping) refit() error {
	for {
		f, err := optics.Fit(m.fitted.View, m.corners(), m.k.prior)
		if err != nil {
			return err
		}
		m.fitted = f
		if !m.dropWorst() {
			return nil
		}
	}
}

// dropWorst removes stray corners, at most a tenth at a time; false if none.
func (m *mapping) dropWorst() bool {
	type miss struct {
		n node
		d float64
	}
	var all []miss
	for _, n := range nodesOf(m.seen) {
		px, _ := m.fitted.View.Project(m.board(n))
		all = append(all, miss{n, px.Distance(m.seen[n].at)})
	}
	if len(all) < leastPatch {
		return false
	}
	sort.SliceStable(all, func(a, b int) bool { return all[a].d > all[b].d })
	limit := math.Max(strayLeast, strayFactor*all[len(all)/2].d)
	dropped := false
	for _, a := range all[:1+len(all)/10] {
		if a.d > limit && len(m.seen) > leastPatch {
			delete(m.seen, a.n)
			dropped = true
		}
	}
	return dropped
}

// plausible says whether the fit stayed near the nominal values.
func (m *mapping) plausible() bool {
	const most = 5 // standard deviations
	v, p := m.fitted.View, m.k.prior
	return math.Abs(v.Lens.Fx-p.Lens.Fx) <= most*math.Max(p.Sigma.Fx, 1e-9) &&
		v.Tilt() < mostTilt && math.Abs(v.Camera().Z-m.k.s.Height) < most*m.k.s.heightSigma()
}
