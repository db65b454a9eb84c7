// SPDX-License-Identifier: Apache-2.0

package session

import (
	"fmt"

	"boardhand/internal/carry"
	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/rig"
	"boardhand/internal/sight"
	"boardhand/internal/table"
	"boardhand/internal/table/carriage"
	"boardhand/internal/table/lookout"
	"boardhand/internal/table/places"
	"boardhand/internal/table/view"
	"boardhand/internal/twin"
)

// Bench is one machine put together: the twin, the twin with real motors beside it,
// or a real machine.
type Bench struct {
	rig     *rig.Rig
	World   *twin.World     // the twin; nil: pieces, pictures and guest are real
	camera  view.Camera     // nil: the twin's
	gantry  carriage.Gantry // nil: the twin's
	holder  lookout.Holder  // of the gantry's strokes; nil: the twin's
	isQuick bool            // the twin's time passes as fast as it computes
	close   func() error    // nil: nothing is to be closed
	Eye     *sight.Reader
	planner *carry.Planner
}

// SetUp builds the twin of a rig, and the eye and the planner for it.
func SetUp(r *rig.Rig, pos chess.Position, o twin.Options) (*Bench, error) {
	if r.Controller.Kind != "twin" || r.Camera.Source != "twin" {
		return nil, fmt.Errorf(`%s: this runs on the twin only; set controller.kind = "twin" and camera.source = "twin"`, r.Name())
	}
	return assemble(r, pos, o)
}

// assemble is SetUp whatever drives the rig's motors.
func assemble(r *rig.Rig, pos chess.Position, o twin.Options) (*Bench, error) {
	b, err := withoutWorld(r, pos)
	if err != nil {
		return nil, err
	}
	b.isQuick = o.Pace == 0
	if b.World, err = twin.New(r, o); err != nil {
		return nil, fmt.Errorf("%s: %w", r.Name(), err)
	}
	return b, nil
}

// withoutWorld has what is the same for the twin and for a real machine.
func withoutWorld(r *rig.Rig, pos chess.Position) (*Bench, error) {
	eye, err := NewEye(r)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", r.Name(), err)
	}
	planner, err := carry.NewPlanner(r)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", r.Name(), err)
	}
	b := &Bench{rig: r, Eye: eye, planner: planner}
	b.Eye.Begin(pos)
	return b, nil
}

// NewEye is a reader that has seen nothing yet, and knows where pieces may stand.
func NewEye(r *rig.Rig) (*sight.Reader, error) {
	setup, err := sight.SetupFrom(r)
	if err != nil {
		return nil, err
	}
	setup.Slots = r.Slots()
	return sight.NewReader(setup), nil
}

// parts joins the bench to a guest, a player and a log.
func (b *Bench) parts(g table.Guest, p table.Player, l table.Log) table.Parts {
	return table.Parts{Camera: b.pictures(), Gantry: b.motors(), Guest: g,
		Eye:     table.Eye{Reader: b.Eye, Witness: b.Eye, Follower: b.Eye, Learner: b.Eye, Gauge: b.Eye.BaseFactor},
		Planner: table.Planner{Drafter: b.planner, Mender: b.planner}, Player: p, Log: l, Lookout: b.lookout()}
}

// lookout is what watches the board while a piece is carried. Where nobody waits for
// real time the twin tells itself when a picture is due.
func (b *Bench) lookout() table.Lookout {
	l := table.Lookout{Watch: view.Stream{Camera: b.pictures()}, Guard: b.Eye, Holder: b.holder}
	if l.Holder == nil {
		l.Holder = b.World.Gantry()
	}
	if b.isQuick {
		l.Watch = b.World.Camera()
	}
	return l
}

// pictures is what sees the board.
func (b *Bench) pictures() view.Camera {
	if b.camera != nil {
		return b.camera
	}
	return b.World.Camera()
}

// motors is what moves the carriage.
func (b *Bench) motors() carriage.Gantry {
	if b.gantry != nil {
		return b.gantry
	}
	return b.World.Gantry()
}

// Close ends the conversation with a controller.
func (b *Bench) Close() error {
	if b.close == nil {
		return nil
	}
	return b.close()
}

// Aside are the pieces of a standing that are not on the board, for the twin.
func Aside(s *places.Standing, slots []frame.Spot[frame.Board]) (out []twin.Aside) {
	if s == nil {
		return nil
	}
	add := func(p chess.Piece, at places.Place) {
		m := twin.Aside{Piece: p}
		if k := int(at - places.Slot); k >= 0 && k < len(slots) {
			m.At = &slots[k]
		}
		out = append(out, m)
	}
	for _, b := range s.Beside {
		add(b.Piece, b.Place)
	}
	return out
}

// settings takes what the table must know out of a rig.
func settings(r *rig.Rig) table.Settings {
	p := r.Pieces
	m := table.Machine{
		Side: chess.ColorNamed(r.Play.Side), Layout: places.Layout{Square: r.Board.Square, Slots: r.Slots(), Chute: chuteOf(r)},
		Carried: [2]bool{chess.White: p.Carries("white"), chess.Black: p.Carries("black")},
	}
	for _, kind := range p.Kinds().All() {
		m.Bases[kind] = p.Of(kind).Base
	}
	return table.Settings{
		Machine:  m,
		Gearing:  carry.GearingOf(r),
		Patience: patience,
		Slow:     slow,
	}
}

// chuteOf is the middle of the chute's mouth; nil for a machine without one.
func chuteOf(r *rig.Rig) *frame.Spot[frame.Board] {
	if r.Removal.Mode != "chute" {
		return nil
	}
	return &frame.Spot[frame.Board]{X: float64(r.Removal.Chute[0]), Y: float64(r.Removal.Chute[1])}
}
