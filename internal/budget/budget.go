// SPDX-License-Identifier: Apache-2.0

// Package budget is by how much a built machine may differ from its rig file: each
// tolerance with its distribution and its source. What the rig file says counts first,
// then what bring-up measured, then what is usual.
package budget

import (
	"fmt"
	"math"
	"math/rand/v2"

	"boardhand/internal/axes"
	"boardhand/internal/magnet"
	"boardhand/internal/rig"
	"boardhand/internal/unit"
)

// Shape is the distribution of a tolerance.
type Shape string

// The shapes: GUM (JCGM 100:2008), 4.3.
const (
	Normal     Shape = "normal"
	Uniform    Shape = "uniform"
	Triangular Shape = "triangular"
)

// Key names a tolerance.
type Key int

// The tolerances of a budget.
const (
	Placement Key = iota
	Camera
	Person
	Glue
	Base
	Gap
	Field
	Hang
	Mass
	Friction
	Pads
	RemanenceLift
	RemanencePieces
	Discs
	Model
	Spring
	Motor
	count
)

// Count is how many tolerances a budget has.
const Count = int(count)

// Tolerance is one line of a budget: metres or shares.
type Tolerance struct {
	Key      string  `json:"key"`
	Title    string  `json:"title"`
	Within   float64 `json:"within"` // two standard deviations of a normal one, else the ends
	Shape    Shape   `json:"shape"`
	IsLength bool    `json:"is_length"` // metres; else a share
	IsPiece  bool    `json:"is_piece"`  // each piece has its own; else one for the whole machine
	Source   string  `json:"source"`
}

// Budget has a tolerance for each key.
type Budget [count]Tolerance

// Of is the budget of a rig: as its file or, given by measured.AsBuilt, bring-up has it, else
// what is usual.
func Of(r *rig.Rig) (Budget, error) {
	b := Budget(usual)
	b[Person].Within = personShare * float64(r.Board.Square)
	b[Person].Source = fmt.Sprintf("%.0f %% of the square, a piece set straight; common practice, no source", personShare*100)
	for _, g := range []struct {
		key   Key
		grade string
	}{{RemanenceLift, r.Lift.Grade}, {RemanencePieces, r.Pieces.Magnet.Grade}} {
		lo, hi, err := magnet.Grade(g.grade)
		if err != nil {
			return b, err
		}
		b[g.key].Within = float64((hi - lo) / (hi + lo))
		b[g.key].Source = g.grade + ", makers' tables"
	}
	b.play(r)
	b.given(r.Tolerance)
	return b, nil
}

// play adds to the carriage's place what is left of the backlash when it is taken up from
// one side, and half a count, of the worse axis, as squares since each has a cause of its
// own. Source: JCGM 100:2008 (GUM), 5.1.2.
func (b *Budget) play(r *rig.Rig) {
	most := 0.0
	for _, a := range []rig.Axis{r.Axis.X, r.Axis.Y} {
		half := 0.0
		if t, err := axes.Train(r, a); err == nil { // what is wrong with it is a line of assess
			if count, err := t.Resolution(); err == nil {
				half = float64(count) / 2
			}
		}
		most = max(most, math.Hypot(leftOver*float64(a.Backlash), half))
	}
	p := &b[Placement]
	p.Within = math.Hypot(p.Within, most)
	p.Source = fmt.Sprintf("%s; with ±%.2g mm left of backlash and counts", p.Source, most*1e3)
}

// PlacementOf is the tolerance of the carriage's own place, metres.
func PlacementOf(r *rig.Rig) unit.Length {
	b := Budget(usual)
	b.play(r)
	return r.Tolerance.Placement.Or(unit.Length(b[Placement].Within))
}

// CameraOf is by how much the camera may misjudge where a standing piece's base is, metres.
func CameraOf(r *rig.Rig) unit.Length {
	return r.Tolerance.Camera.Or(unit.Length(usual[Camera].Within))
}

// given puts in what the rig file says.
func (b *Budget) given(g rig.Tolerance) {
	for k, l := range map[Key]rig.LengthTolerance{Placement: g.Placement, Camera: g.Camera, Person: g.Person, Glue: g.Glue,
		Base: g.Base, Gap: g.Gap, Field: g.Field, Hang: g.Hang} {
		b[k] = b[k].said((*float64)(l.Within), l.Shape, l.Source)
	}
	for k, s := range map[Key]rig.ShareTolerance{Mass: g.Mass, Friction: g.Friction, Pads: g.Pads, RemanenceLift: g.Remanence,
		RemanencePieces: g.Remanence, Discs: g.Discs, Model: g.Model, Spring: g.Spring, Motor: g.Motor} {
		b[k] = b[k].said(s.Within, s.Shape, s.Source)
	}
}

// said is a tolerance as the rig file has it; one that it says nothing of stays.
func (t Tolerance) said(within *float64, shape, source string) Tolerance {
	if within != nil {
		t.Within, t.Source = *within, "rig file"
	}
	if shape != "" {
		t.Shape = Shape(shape)
	}
	if source != "" {
		t.Source = source
	}
	return t
}

// Sigma is the standard deviation, metres or a share. Source: GUM (JCGM 100:2008), 4.3.7
// (uniform: ends/√3) and 4.3.9 (triangular: ends/√6); 6.2 (normal: two of them within).
func (t Tolerance) Sigma() float64 {
	switch t.Shape {
	case Uniform:
		return t.Within / math.Sqrt(3)
	case Triangular:
		return t.Within / math.Sqrt(6)
	}
	return t.Within / 2
}

// Draw is one deviation by chance, metres or a share.
func (t Tolerance) Draw(chance *rand.Rand) float64 {
	var d float64
	switch t.Shape {
	case Uniform:
		d = t.Within * (2*chance.Float64() - 1)
	case Triangular:
		d = t.Within * (chance.Float64() - chance.Float64())
	default:
		d = t.Within / 2 * chance.NormFloat64()
	}
	if !t.IsLength {
		d = max(d, -mostFall)
	}
	return d
}

// String writes the tolerance as a maker would.
func (t Tolerance) String() string {
	if t.IsLength {
		return fmt.Sprintf("±%.3g mm", t.Within*1e3)
	}
	return fmt.Sprintf("±%.3g %%", t.Within*100)
}
