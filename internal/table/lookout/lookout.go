// SPDX-License-Identifier: Apache-2.0

// Package lookout watches the board while the carriage carries a piece: a hand that
// reaches in holds the feed until it is gone, and what lies on the way then has
// the stroke given up.
package lookout

import (
	"context"

	"boardhand/internal/carry/plan"
	"boardhand/internal/frame"
	"boardhand/internal/photo"
	"boardhand/internal/sight"
	"boardhand/internal/table/desk"
	"boardhand/internal/table/model"
	"boardhand/internal/table/view"
)

// Holder is a gantry that can stop in the middle of a stroke and go on. Its methods are
// called while Move runs. A hold is no halt: the place stays known, the lift stays, and
// nothing is homed.
type Holder interface {
	// Hold brings the stroke to rest on its way, as gently as it runs, and keeps it there;
	// a stroke that begins meanwhile waits at its start.
	Hold() error
	// Resume lets the stroke go on.
	Resume() error
	// At is where the axes were heard to be last.
	At() frame.Spot[frame.Machine]
}

// Watch shows the pictures that come while a motion runs.
type Watch interface {
	// During runs a motion and has look see each picture that comes meanwhile, or why
	// none came. It returns what the motion says.
	During(ctx context.Context, motion func(context.Context) error, look func(context.Context, photo.Picture, error)) error
}

// Guard tells what reaches or lies over the board in a picture.
type Guard interface {
	// InWay compares a picture with the last one that was clear, and learns nothing.
	InWay(ctx context.Context, p photo.Picture, w sight.Way) (sight.Obstacle, error)
}

// Parts are what a lookout works with.
type Parts struct {
	Watch   Watch
	Guard   Guard
	Holder  Holder
	OnBoard func(frame.Spot[frame.Machine]) frame.Spot[frame.Board] // where the magnet is when the axes say that
}

// Lookout watches the board while a piece is carried. A nil one watches nothing.
type Lookout struct {
	Parts
	desk  *desk.Desk
	model *model.Model
	view  *view.View
}

// New watches for a desk; nil where a part is missing: a gantry may not be able to hold.
func New(p Parts, d *desk.Desk, m *model.Model, v *view.View) *Lookout {
	if p.Watch == nil || p.Guard == nil || p.Holder == nil {
		return nil
	}
	return &Lookout{Parts: p, desk: d, model: m, view: v}
}

// While runs the stroke of a step and watches the board meanwhile. Its error is a *InWay
// when the stroke was given up on its way.
func (l *Lookout) While(ctx context.Context, s plan.Step, stroke func(context.Context) error) error {
	if l == nil || s.Do != plan.Carry {
		return stroke(ctx)
	}
	inner, end := context.WithCancel(ctx)
	defer end()
	k := &vigil{Lookout: l, step: s, end: end}
	err := l.Watch.During(inner, stroke, k.look)
	if k.isHolding { // whatever ended it, nothing stays held
		_ = l.Holder.Resume() // a wire that is broken is told of by the stroke
	}
	switch {
	case k.failed != nil:
		return k.failed
	case err != nil && k.isGivenUp && ctx.Err() == nil:
		return &InWay{}
	}
	return err
}

// InWay says that a stroke was given up because something stays in its way.
type InWay struct{}

func (*InWay) Error() string { return "something stays over the board: clear it, and I plan anew" }
