// SPDX-License-Identifier: Apache-2.0

package propose

import (
	"slices"

	"boardhand/internal/assess"
	"boardhand/internal/rig"
)

// depends says on which slots a check's outcome depends; forces marks those
// that also need what the magnets do, fits those that tell whether something goes in,
// reaches or is in the picture: a millimetre more of that makes no machine better, and
// is no margin. A check that is not named here is taken to depend on everything.
type depends struct {
	on     []slot
	forces bool
	fits   bool
}

var dependence = map[string]depends{
	"pull.hold":          {[]slot{ballast}, true, false},
	"drag.slip":          {[]slot{ballast, acceleration}, true, false},
	"drag.surge":         {[]slot{ballast, speed, acceleration}, true, false},
	"drag.settle":        {[]slot{ballast, acceleration, gear, motor, square}, true, false},
	"neighbours.raised":  {[]slot{ballast, gear, motor, square}, true, false},
	"neighbours.lowered": {[]slot{ballast, drop}, true, false},
	"neighbours.feet":    {[]slot{ballast, gear, motor, square}, true, false},
	"neighbours.lift":    {[]slot{ballast, square}, true, false},
	"lanes.foot":         {[]slot{ballast, feet, gear, motor, square}, true, false},
	"tip.foot":           {[]slot{ballast, feet, speed, acceleration}, true, false},
	"lift.contact":       {nil, true, false},
	"lift.room":          {[]slot{drop}, false, true},
	"lift.force":         {nil, true, false},
	"lift.steel":         {nil, true, false},
	"board.held":         {[]slot{gear, motor, square}, false, true},
	"board.pressed":      {[]slot{gear, motor, square}, true, false},
	"board.steel":        {[]slot{ballast, feet}, true, false},
	"removal.slots":      {[]slot{ballast, feet, gear, motor, square}, true, true},
	"removal.sheet":      {[]slot{ballast, feet, gear, motor, square}, true, true},
	"play.carried":       {nil, false, true},
	"drive.x":            {[]slot{ballast, gear, motor, supply, speed, acceleration}, true, false},
	"drive.y":            {[]slot{ballast, gear, motor, supply, speed, acceleration}, true, false},
	"drive.resolution":   {[]slot{gear, motor}, false, false},
	"drive.backlash":     {[]slot{gear}, false, false},
	"drive.skew":         {[]slot{gear}, false, false},
	"drive.time":         {[]slot{speed, acceleration, drop, square}, false, true},
	"reach.field":        {[]slot{ballast, acceleration, gear, motor, square}, true, true},
	"reach.removal":      {[]slot{ballast, acceleration, gear, motor, square}, true, true},
	"cables.length":      {[]slot{gear, motor, square}, false, true},
	"cables.ports":       {nil, false, true},
	"camera.coverage":    {[]slot{feet, lens, square, height}, false, true},
	"camera.scale":       {[]slot{lens, square, height}, false, true},
	"camera.focus":       {[]slot{feet, lens, square, height}, false, true},
	"camera.lean":        {[]slot{feet, lens, square, height}, false, true},
	"camera.hidden":      {[]slot{feet, lens, square, height}, false, true},
	"materials.walls":    {[]slot{gear, motor, square}, false, true},
	"power.current":      {[]slot{motor, gear, supply, speed, acceleration}, false, false},
	"power.voltage":      {[]slot{supply}, false, false},
	"power.motors":       {[]slot{motor, supply}, false, false},
	"caution.flux":       {nil, true, false},
	"caution.implant":    {nil, true, false},
}

func dependsOf(id string) depends {
	if d, ok := dependence[id]; ok {
		return d
	}
	return depends{[]slot{ballast, feet, gear, motor, supply, lens, speed, acceleration, drop, square, height}, true, false}
}

// cell is what a search keeps of one outcome.
type cell struct {
	known   bool
	verdict assess.Verdict
	share   float64
	value   float64
	applies bool
}

func cellOf(c assess.Check) cell {
	return cell{true, c.Verdict, c.Share, c.Value, c.Applies()}
}

// cells are the outcomes of one check for all it depends on.
type cells struct {
	line   int
	on     []slot
	stride []int
	of     []cell
}

func (s *Space) newCells(line int, on []slot) cells {
	c := cells{line: line, on: on, stride: make([]int, len(on))}
	n := 1
	for i, k := range slices.Backward(on) {
		c.stride[i] = n
		n *= len(s.options[k])
	}
	c.of = make([]cell, n)
	return c
}

// at is where a choice's outcome lies.
func (c *cells) at(ch *choice) int {
	n := 0
	for i, k := range c.on {
		n += ch[k] * c.stride[i]
	}
	return n
}

// only keeps a choice's magnets and what the check depends on, and takes the
// first option of all else.
func (c *cells) only(ch *choice) choice {
	var out choice
	copy(out[:coupled], ch[:coupled])
	for _, k := range c.on {
		out[k] = ch[k]
	}
	return out
}

// group judges all candidates that share magnets and sheet.
type group struct {
	space   *Space
	lines   []cells
	studies map[[3]int]*assess.Study // by ballast, speed and acceleration
	like    *assess.Study            // the last of them
}

// newGroup lends the outcomes that no magnet changes from shared.
func (s *Space) newGroup(shared []cells) *group {
	g := &group{space: s, studies: map[[3]int]*assess.Study{}}
	for i, c := range shared {
		if c.of == nil {
			c = s.newCells(i, c.on)
		}
		g.lines = append(g.lines, c)
	}
	return g
}

// look gives the outcome of one line for a choice.
func (g *group) look(c *cells, ch *choice) *cell {
	at := &c.of[c.at(ch)]
	if !at.known {
		pick := c.only(ch)
		r := g.space.build(pick)
		*at = cellOf(g.study(pick).With(r).Line(c.line))
	}
	return at
}

// study is that of the magnets with one ballast, speed and acceleration; all share a force
// table.
func (g *group) study(ch choice) *assess.Study {
	key := [3]int{ch[ballast], ch[speed], ch[acceleration]}
	if s := g.studies[key]; s != nil {
		return s
	}
	var pick choice
	copy(pick[:coupled], ch[:coupled])
	pick[ballast], pick[speed], pick[acceleration] = key[0], key[1], key[2]
	s := assess.Begin(g.space.build(pick), g.like)
	g.studies[key], g.like = s, s
	return s
}

// shared computes the outcomes that no magnet changes; those that one may
// change have no cells yet.
func (s *Space) shared() []cells {
	var out []cells
	study := assess.Begin(s.base, nil)
	for i, id := range assess.Lines() {
		d := dependsOf(id)
		if d.forces {
			out = append(out, cells{line: i, on: d.on})
			continue
		}
		c := s.newCells(i, d.on)
		for n := range c.of {
			c.of[n] = cellOf(study.With(s.rigOf(&c, n)).Line(i))
		}
		out = append(out, c)
	}
	return out
}

// rigOf builds the n-th rig that a check without magnets tells apart.
func (s *Space) rigOf(c *cells, n int) *rig.Rig {
	var ch choice
	for i, k := range c.on {
		ch[k] = n / c.stride[i] % len(s.options[k])
	}
	return s.build(ch)
}
