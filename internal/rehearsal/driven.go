// SPDX-License-Identifier: Apache-2.0

package rehearsal

import (
	"context"
	"errors"
	"maps"
	"time"

	"boardhand/internal/frame"
	"boardhand/internal/gantry"
	"boardhand/internal/gantry/bed"
	"boardhand/internal/motion"
	"boardhand/internal/photo"
	"boardhand/internal/table"
)

// Bed is a simulated controller with a machine on its motors.
type Bed interface {
	// IsKnown says whether the place of the axes is truly known.
	IsKnown() bool
	// Homed tells it that the driver believes in a zero.
	Homed()
	// Counts are what it has counted.
	Counts() bed.Counts
	// Close ends it.
	Close()
}

// Motors are those of the twin, which hang on the bed.
type Motors interface {
	// Begin notes that a motion begins; without a path it is homing, or the lift's.
	Begin(motion.Stroke)
	// End notes that it has ended.
	End()
}

// Holder is a driver that can stop in the middle of a stroke and go on, as a lookout needs it.
type Holder interface {
	Hold() error
	Resume() error
	// At is where the axes were heard to be last.
	At() frame.Spot[frame.Machine]
}

// Glimpses are the pictures that come while the motors turn.
type Glimpses interface {
	// Glimpse is the picture that is due now; false: there is nothing to see on it.
	Glimpse() (photo.Picture, bool, error)
}

// Driven is the gantry of a real driver that drives a simulated controller, whose motors
// are the twin's.
type Driven struct {
	Driver interface {
		table.Gantry
		Close() error
	}
	Holder   // of the driver's strokes
	Pictures Glimpses
	Clock    gantry.Clock
	Born     time.Time // when the clock began
	Motors   Motors
	Bed      Bed
	// IsStrict says that any failure of a motion leaves the place unknown.
	IsStrict bool

	failed  bool      // a motion did since the last homing
	since   time.Time // when the place was lost
	isLost  bool
	unknown time.Duration
	homed   int // homings that the driver brought to their end
	guessed int
}

// Through is what a rehearsal counts of a simulated controller.
type Through struct {
	Commands int            `json:"commands"`           // sent to the controller
	Ills     map[string]int `json:"wire_faults"`        // commands spoilt on the wire, by what befell them
	Resets   int            `json:"resets"`             // of the controller
	Rehomed  int            `json:"re_homings"`         // homings after the first one
	Plugs    int            `json:"reconnected"`        // times a plug was pulled and put in again
	Unknown  float64        `json:"position_unknown_s"` // in which nobody knew where the axes are
	Guessed  int            `json:"moves_unknown"`      // motions made meanwhile, homing aside
	Starved  int            `json:"planner_ran_dry"`    // times the controller ran out of lines within a stroke, the wire in time
	Delayed  int            `json:"planner_kept_dry"`   // times it did because a line or an answer came late
	Missed   float64        `json:"steps_lost_mm"`      // that motors turned in vain
	Resumed  int            `json:"resumed"`            // times a person had to let the machine go on
	Seconds  float64        `json:"controller_s"`       // of the controller's time
}

// add adds what another game or shard counted.
func (t *Through) add(u Through) {
	t.Commands += u.Commands
	t.Resets += u.Resets
	t.Rehomed += u.Rehomed
	t.Plugs += u.Plugs
	t.Unknown += u.Unknown
	t.Guessed += u.Guessed
	t.Starved += u.Starved
	t.Delayed += u.Delayed
	t.Missed += u.Missed
	t.Resumed += u.Resumed
	t.Seconds += u.Seconds
	if t.Ills == nil && u.Ills != nil {
		t.Ills = map[string]int{}
	}
	for k, n := range u.Ills {
		t.Ills[k] += n
	}
}

// counts is what was counted until now.
func (d *Driven) counts() Through {
	c := d.Bed.Counts()
	t := Through{Commands: c.Commands, Ills: maps.Clone(c.Ills), Resets: c.Resets, Rehomed: max(0, d.homed-1), Plugs: c.Reconnected, Unknown: d.unknown.Seconds(),
		Guessed: d.guessed, Starved: c.Starved, Delayed: c.Delayed, Missed: c.Missed, Seconds: d.Clock.Now().Sub(d.Born).Seconds()}
	return t
}

// Join has a session move by this gantry, and see by its time.
func (d *Driven) Join(p *table.Parts) {
	p.Gantry, p.Camera = d, d.SeenBy(p.Camera)
	p.Lookout.Watch, p.Lookout.Holder = d, d
}

// Home has the driver home; the first time, and after a failure, the place was unknown.
func (d *Driven) Home(ctx context.Context) (frame.Spot[frame.Machine], error) {
	d.look()
	d.Motors.Begin(motion.Stroke{})
	at, err := d.Driver.Home(ctx)
	d.Motors.End()
	if err == nil {
		d.Bed.Homed()
		d.homed++
		d.failed = false
	}
	d.look()
	return at, err
}

// Move has the driver run a stroke.
func (d *Driven) Move(ctx context.Context, s motion.Stroke) (at frame.Spot[frame.Machine], err error) {
	err = d.motion(s, func() (err error) { at, err = d.Driver.Move(ctx, s); return err })
	return at, err
}

// Lift has the driver raise or lower the magnet.
func (d *Driven) Lift(ctx context.Context, raised bool) error {
	return d.motion(motion.Stroke{}, func() error { return d.Driver.Lift(ctx, raised) })
}

// Halt stops everything.
func (d *Driven) Halt() error { return d.Driver.Halt() }

// During runs a motion and shows look the pictures that come meanwhile, in the
// controller's time, so that the same seed gives the same run.
func (d *Driven) During(ctx context.Context, motion func(context.Context) error, look func(context.Context, photo.Picture, error)) (err error) {
	ended := make(chan struct{})
	d.Clock.Go(func() {
		defer close(ended)
		err = motion(ctx)
	})
	for d.Clock.Wait(pictureTime, ended) < 0 {
		if pic, ok, err := d.Pictures.Glimpse(); ok {
			look(ctx, pic, err)
		}
	}
	return err
}

// motion counts a motion that is begun, and done, though nobody knows where the axes are.
func (d *Driven) motion(s motion.Stroke, run func() error) error {
	wasLost := d.look()
	d.Motors.Begin(s)
	err := run()
	d.Motors.End()
	if wasLost && err == nil {
		d.guessed++
	}
	var lag *motion.Lag
	d.failed = d.failed || d.IsStrict && err != nil && !errors.As(err, &lag) && !errors.Is(err, context.Canceled)
	d.look()
	return err
}

// look says whether the place is unknown, and counts for how long.
func (d *Driven) look() bool {
	is, now := d.failed || !d.Bed.IsKnown(), d.Clock.Now()
	if d.isLost {
		d.unknown += now.Sub(d.since)
	}
	d.isLost, d.since = is, now
	return is
}

// Close ends the conversation, and what lives in the controller's time.
func (d *Driven) Close() {
	_ = d.Driver.Close() // a wire that is out cannot be ended
	d.Bed.Close()
}

// Camera is what takes pictures.
type Camera interface {
	Look(ctx context.Context) (photo.Picture, error)
}

// SeenBy are a camera's pictures, the controller's time passing from one to the next.
func (d *Driven) SeenBy(c Camera) Camera { return waitingCamera{c, d.Clock} }

type waitingCamera struct {
	camera Camera
	clock  gantry.Clock
}

// Look waits for the next picture.
func (c waitingCamera) Look(ctx context.Context) (photo.Picture, error) {
	c.clock.Wait(pictureTime)
	return c.camera.Look(ctx)
}
