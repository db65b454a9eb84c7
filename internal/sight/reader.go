package sight

import (
	"context"
	"errors"
	"fmt"
	"image"
	"sync"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/optics"
)

// Reader follows one game through pictures. It is deterministic, and not safe
// for use by two goroutines at once.
type Reader struct {
	setup Setup
	pos   chess.Position
	view  *optics.View
	err   error // the setup's

	due  chess.Move // the machine's move under way
	eye  *eye       // what has been learnt of this table, nil before the first picture
	rest rest       // the last hand
	seen *verdict   // of the last picture, until it is accepted
}

// NewReader makes a reader of one table. A setup it cannot work with is
// reported by Read.
func NewReader(s Setup) *Reader {
	return &Reader{setup: s, pos: chess.Start(), view: s.View, err: s.check()}
}

// Begin sets the position that stands on the board before the first picture
// and forgets what was learnt of an earlier game.
func (r *Reader) Begin(pos chess.Position) {
	*r = Reader{setup: r.setup, pos: pos, view: r.setup.View, err: r.err}
}

// Position is the position the reader believes in.
func (r *Reader) Position() chess.Position { return r.pos }

// View is the lens and pose in use; false before the board has been found.
func (r *Reader) View() (optics.View, bool) {
	if r.view == nil {
		return optics.View{}, false
	}
	return *r.view, true
}

// use sets the view, known from elsewhere.
func (r *Reader) use(v optics.View) {
	r.view = &v
	if r.eye != nil {
		r.eye.turn(v)
	}
	r.seen = nil
}

// Read says what a picture shows, given the position. It never changes the
// position: the caller decides with Accept or Resolve. After an error the
// reader is as it was before.
func (r *Reader) Read(ctx context.Context, p Picture) (Reading, error) {
	if r.err != nil {
		return Reading{}, r.err
	}
	img, err := r.check(p)
	if err != nil {
		return Reading{}, named(p, err)
	}
	if err := ctx.Err(); err != nil {
		return Reading{}, err
	}
	raw, err := r.focus(img)
	if err != nil {
		return Reading{}, named(p, err)
	}
	over, hand, err := r.follow(img, raw)
	if err != nil {
		return Reading{}, named(p, err)
	}
	if hand != nil && !r.rests(raw, p.Taken) {
		return r.hand(hand), nil
	}
	got, err := r.read(ctx, img, raw)
	if err != nil {
		return Reading{}, err
	}
	if over, ok := r.eye.reached(over); ok && r.seen.lawless && hand == nil && !r.rests(raw, p.Taken) {
		return r.hand(&over), nil
	}
	return got, nil
}

// hand is the reading of a hand, from which nothing is learnt.
func (r *Reader) hand(over *spill) Reading {
	r.seen = nil
	return Reading{State: Hand, Belief: trust, Squares: over.squares}
}

// focus brings the picture onto the plate and the eye behind it: the board is
// found, or found again after a bump.
func (r *Reader) focus(img image.Image) (*plate, error) {
	view, known := r.View()
	if !known {
		v, err := r.setup.find(img, nil)
		if err != nil {
			return nil, err
		}
		view = v
	}
	reduce := reduction(view)
	if r.eye != nil && r.eye.last != nil {
		reduce = r.eye.reduce
	}
	raw := newPlate(img, reduce)
	if err := raw.usable(); err != nil {
		return nil, err
	}
	if r.eye == nil || r.eye.last == nil {
		e, err := r.first(raw, view)
		if err != nil {
			return nil, err
		}
		r.eye, r.view = e, &view
		return raw, nil
	}
	return raw, nil
}

// follow finds the board again if the camera was bumped, and says whether a
// hand is over it, and what else.
func (r *Reader) follow(img image.Image, raw *plate) (over []spill, hand *spill, err error) {
	if r.eye.last == nil {
		return nil, nil, nil // nothing to compare with
	}
	const nothing = 0.15 // correlation with the remembered board: chance alone
	v, moved, good := r.eye.settled(raw)
	if moved <= alignStill && good >= alignSome {
		if over, hand := r.eye.busy(raw); hand != nil || good >= alignGood {
			return over, hand, nil
		}
	}
	if good < alignGood {
		v, moved, good = r.eye.align(raw, r.eye.ground.view)
	}
	if good < alignGood {
		found, err := r.setup.find(img, r.view)
		if err != nil && r.eye.likeness(raw) < nothing {
			return nil, nil, err // nothing of the board is left: not even a hand over it
		}
		if err == nil && r.eye.travel(found) > alignStill {
			if again, far, better := r.eye.align(raw, found); better > good {
				v, moved, good = again, far, better
			}
		}
	}
	if moved > alignStill && good >= alignSome {
		r.use(v)
	}
	over, hand = r.eye.busy(raw)
	return over, hand, nil
}

// check decodes a picture and compares its size with the rig's.
func (r *Reader) check(p Picture) (image.Image, error) {
	img, err := p.decode()
	if err != nil {
		return nil, err
	}
	if b := img.Bounds(); b.Dx() != r.setup.Image[0] || b.Dy() != r.setup.Image[1] {
		return nil, fmt.Errorf("the picture is %d × %d pixels, camera.image says %d × %d", b.Dx(), b.Dy(), r.setup.Image[0], r.setup.Image[1])
	}
	return img, nil
}

func named(p Picture, err error) error {
	if p.Name == "" {
		return err
	}
	return fmt.Errorf("%s: %w", p.Name, err)
}

// first learns the table from the first picture, if it shows the position.
func (r *Reader) first(raw *plate, view optics.View) (*eye, error) {
	e := newEye(r.setup, view, menOf(&r.pos))
	e.swatches = newSwatches(raw, e.samples)
	if !e.imagine(raw) {
		return nil, errors.New("too little of the board is in the picture: move the camera")
	}
	e.meetSides(raw)
	e.settleDown(raw)
	return e, nil
}

// read judges a plate.
func (r *Reader) read(ctx context.Context, img image.Image, raw *plate) (Reading, error) {
	if err := ctx.Err(); err != nil {
		return Reading{}, err
	}
	r.seen = nil
	g := r.eye.behold(raw)
	g.grey = sync.OnceValue(func() *image.Gray { return LumaOf(img) })
	v := judge(g, &r.pos, r.due)
	r.seen = v
	if v.reading.State == Same {
		v.learn(&v.guesses[0])
		v.reading.Offsets = r.Offsets()
	}
	return v.reading, nil
}

// learn makes the picture of a verdict the remembered one, as a guess says.
func (v *verdict) learn(g *guess) {
	e := v.glance.eye
	q := newInquiry(v.glance)
	q.attend(g)
	at := map[chess.Square]frame.Spot[frame.Board]{}
	for k := range e.men {
		if !g.gone[k] {
			at[e.men[k].square] = e.men[k].at
		}
	}
	sigma := e.sigmas()
	for k, m := range g.stood {
		at[m.square] = m.at
		sigma[m.square] = q.sharpness(g, k)
	}
	first := e.last == nil
	if first {
		q.survey(g.after, at, sigma)
	}
	e.remember(v.glance.plate, v.glance.raw, g.after, at)
	if first {
		e.met = v.glance.meet(nil)
	}
	e.setSigmas(sigma)
}

// Expect says which move the machine is making: to what it promotes a pawn
// need not be told from the picture alone. It holds until a move is accepted.
func (r *Reader) Expect(m chess.Move) { r.due = m }

// Accept makes a move on the reader's board: one that was read, or the
// machine's own. If the last picture shows it, the reader learns from it.
func (r *Reader) Accept(m chess.Move) error {
	if !r.pos.Legal(m) {
		return fmt.Errorf("%s is not a legal move here", m)
	}
	r.settle(m, false)
	r.pos, r.due = r.pos.After(m), 0
	return nil
}

// settle learns from the last picture, if it can show the move: if it was read
// so, or somebody who was asked says so.
func (r *Reader) settle(m chess.Move, said bool) {
	v := r.seen
	r.seen = nil
	if v == nil || v.reading.State == Hand {
		return
	}
	if s := v.reading.State; !said && s != Moved && s != Same {
		return
	}
	for i := range v.guesses {
		if g := &v.guesses[i]; g.move == m && (g.state == Moved || m == 0 && g.state == Same) {
			v.learn(g)
			return
		}
	}
}

// Resolve is Accept with a person's answer about the last picture: what was
// seen in it is learnt as that move, or, for the zero move, as no change.
func (r *Reader) Resolve(m chess.Move) error {
	if m != 0 && !r.pos.Legal(m) {
		return fmt.Errorf("%s is not a legal move here", m)
	}
	r.settle(m, true)
	if m != 0 {
		r.pos, r.due = r.pos.After(m), 0
	}
	return nil
}
