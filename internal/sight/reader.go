// SPDX-License-Identifier: Apache-2.0

package sight

import (
	"context"
	"fmt"
	"image"
	"slices"
	"time"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/optics"
	"boardhand/internal/photo"
	"boardhand/internal/sight/background"
	"boardhand/internal/sight/classify"
	"boardhand/internal/sight/hypothesis"
	"boardhand/internal/sight/inference"
	"boardhand/internal/sight/likelihood"
	"boardhand/internal/sight/occlusion"
	"boardhand/internal/sight/pixels"
	"boardhand/internal/sight/register"
	"boardhand/internal/sight/scene"
	"boardhand/internal/sight/tracking"
)

// Reader follows one game through pictures. It is deterministic, and not safe
// for use by two goroutines at once.
type Reader struct {
	setup scene.Setup
	pos   chess.Position
	view  *optics.View
	err   error // the setup's

	due      chess.Move              // the machine's move under way
	tracker  *tracking.Tracker       // what has been learnt of this table, nil before the first picture
	former   *tracking.Tracker       // and of the position before, of which light and ground still hold
	looks    []*tracking.Tracker     // how the table looked in other lights, the last first
	static   staticObject            // the last hand
	pending  *decision               // of the last picture, until it is accepted
	last     *lastPicture            // the last picture that was read
	stall    stall                   // how long no rule has explained the pictures
	doubted  chess.Position          // the last position of which a picture was left in doubt; zero: none since it was seen
	several  int                     // up to so many plies are looked for where none explains a picture; 0: none
	preparer *Preparer               // of the pictures to come
	reduced  reduced                 // the picture being read
	compared compared                // the last comparison
	observed *likelihood.Observation // the last one, whose room the next takes
	glimpses []*tracking.Glimpse     // pictures since the last accepted position that were not agreed upon
	vain     *pixels.Image           // the last picture that was judged by its own light in vain
	hands    int                     // pictures in a row that showed a hand against the former board

	things []frame.Spot[frame.Board] // what a first picture showed that might be a piece too many
	found  []string                  // what the first picture told that the setup did not say
	told   float64                   // the base of a king as the setup gave it, metres; 0: it did not
	known  []classify.Known          // this game's pieces as they looked where their kinds were known
}

// NewReader makes a reader of one table. A setup it cannot work with is
// reported by Read.
func NewReader(s scene.Setup) *Reader {
	return &Reader{setup: s, pos: chess.Start(), view: s.View, told: s.Pieces[chess.King].Base, err: s.CheckSaid(), preparer: new(Preparer)}
}

// Begin sets the position that stands on the board before the first picture
// and forgets what was learnt of an earlier game.
func (r *Reader) Begin(pos chess.Position) {
	*r = Reader{setup: r.setup, pos: pos, view: r.setup.View, err: r.err, several: r.several, preparer: r.preparer, told: r.told}
}

// Position is the position the reader believes in.
func (r *Reader) Position() chess.Position { return r.pos }

// Preparer is what prepares pictures for the reader.
func (r *Reader) Preparer() *Preparer { return r.preparer }

// Found tells, in a sentence each, what the reader found in the first picture because its
// setup did not say it, and how surely; nothing before that picture. What lies on the board and
// is no piece comes after it, once a move is read beside it.
func (r *Reader) Found() []string { return r.found }

// BaseFactor is how many times as wide as the setup says the bases of the pieces are, by a first
// picture that could not be read otherwise, to about a fifth; 1: as said.
func (r *Reader) BaseFactor() float64 {
	if r.told == 0 {
		return 1
	}
	return r.setup.Pieces[chess.King].Base / r.told
}

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
	if r.tracker != nil {
		r.tracker.TurnTo(v)
	}
	r.pending = nil
}

// Read says what a picture shows, given the position. It never changes the
// position: the caller decides with Accept or Resolve. After an error the
// reader is as it was before.
func (r *Reader) Read(ctx context.Context, p photo.Picture) (Reading, error) {
	if r.err != nil {
		return Reading{}, r.err
	}
	img, err := r.check(p)
	if err != nil {
		return Reading{}, withName(p, err)
	}
	if err := ctx.Err(); err != nil {
		return Reading{}, err
	}
	r.recall()
	r.reduced = reducedOf(p)
	keep := r.save()
	got, err := r.look(ctx, img, p.Taken)
	if err == nil {
		err = ctx.Err()
	}
	if err != nil {
		r.restore(keep)
		if ctx.Err() != nil {
			return Reading{}, ctx.Err()
		}
		return Reading{}, withName(p, err)
	}
	r.settleOn(got)
	return got, nil
}

// recall keeps what is known of this game's pieces, whatever becomes of the tracker.
func (r *Reader) recall() {
	if r.tracker != nil && len(r.tracker.Known) > 0 {
		r.known = r.tracker.Known[max(0, len(r.tracker.Known)-mostKnown):]
	}
}

// look reads a picture of the right size.
func (r *Reader) look(ctx context.Context, img image.Image, taken time.Time) (Reading, error) {
	if got, ok := r.again(img); ok {
		return got, nil
	}
	if r.unproved() {
		return r.readFirst(ctx, img)
	}
	raw := r.reduce(img, r.tracker.Reduce)
	if err := raw.Check(); err != nil {
		return Reading{}, err
	}
	over, hand, err := r.follow(img, raw)
	if err != nil {
		return Reading{}, err
	}
	r.last = &lastPicture{tracker: r.tracker, img: img, raw: raw}
	if hand != nil && !r.isStatic(raw, taken) { // at the rim, too: it may still hold what it moves
		if got, ok := r.readPast(ctx, img, raw, over); ok {
			return got, nil
		}
		return r.recover(ctx, r.hand(hand))
	}
	got := r.read(ctx, img, raw, hand != nil)
	if ctx.Err() != nil { // nothing is pending
		return Reading{}, ctx.Err()
	}
	if hand == nil {
		got = r.lookAgain(ctx, img, raw, got)
	}
	if over, ok := occlusion.Reaching(&r.tracker.Scene, over); ok && r.pending.isLawless && hand == nil && !r.isStatic(raw, taken) {
		got = r.hand(&over)
	}
	return r.recover(ctx, got)
}

// hand is the reading of a hand, from which nothing is learnt.
func (r *Reader) hand(over *occlusion.Occluder) Reading {
	r.pending, r.last.decision, r.last.hand = nil, nil, over
	r.observed = likelihood.RoomOf(r.observed)
	return Reading{State: Hand, Belief: trust, Squares: over.Squares}
}

// follow finds the board again if the camera was bumped, and says whether a
// hand is over it, and what else.
func (r *Reader) follow(img image.Image, raw *pixels.Image) (over []occlusion.Occluder, hand *occlusion.Occluder, err error) {
	const nothing = 0.15 // correlation with the remembered board: chance alone
	v, moved, good := r.tracker.Settled(raw)
	if moved <= register.Still && good >= register.Some {
		if over, hand := r.tracker.Detector().Find(raw); hand != nil || good >= register.Good {
			return over, hand, nil
		}
	}
	if good < register.Good {
		v, moved, good = r.tracker.Align(raw, r.tracker.Plane.View)
	}
	if good < register.Good {
		found, err := FindBoard(r.setup, img, r.view)
		if err != nil && r.tracker.Marks().Correlation(raw) < nothing {
			return nil, nil, err // nothing of the board is left: not even a hand over it
		}
		if err == nil && r.tracker.Travel(found) > register.Still {
			if again, far, better := r.tracker.Align(raw, found); better > good {
				v, moved, good = again, far, better
			}
		}
	}
	if moved > register.Still && good >= register.Some {
		r.use(v)
	}
	over, hand = r.tracker.Detector().Find(raw)
	return over, hand, nil
}

// check compares a picture's size with the rig's and decodes it: what is larger
// than it may be is not unpacked.
func (r *Reader) check(p photo.Picture) (image.Image, error) {
	if w, h, err := size(p); err != nil {
		return nil, err
	} else if r.setup.Image != [2]int{} && (w != r.setup.Image[0] || h != r.setup.Image[1]) {
		return nil, fmt.Errorf("the picture is %d × %d pixels, camera.image says %d × %d", w, h, r.setup.Image[0], r.setup.Image[1])
	}
	return decode(p)
}

func withName(p photo.Picture, err error) error {
	if p.Name == "" {
		return err
	}
	return fmt.Errorf("%s: %w", p.Name, err)
}

// read judges a rectified image of a table that is known; covered says that something lies
// over the board.
func (r *Reader) read(ctx context.Context, img image.Image, raw *pixels.Image, covered bool) Reading {
	g := r.observe(raw, covered)
	g.TakeRoom(r.observed)
	r.observed = g
	g.See(ctx, img)
	v := decide(r.tracker, g, &r.pos, r.due)
	v.pursue(&r.pos, r.several)
	v.weighEarlier(&r.pos, r.glimpses)
	v.addLying(&r.pos)
	if r.doubted == r.pos {
		v.checkStaying()
	}
	if ctx.Err() != nil {
		return Reading{}
	}
	if !v.reading.isFinished() { // or it may become the reference
		g.Image.Slim()
	}
	r.pending, r.last.decision = v, v
	if v.reading.State == Same {
		if v.isUncontested() {
			v.learn(&v.hypotheses[0])
		}
		v.reading.Offsets = r.Offsets()
	}
	return v.reading
}

// isUncontested says whether no move comes near the reading that nothing changed.
func (v *decision) isUncontested() bool {
	for i := range v.hypotheses {
		if g := &v.hypotheses[i]; g.State != Same && g.Lag > -contested {
			return false
		}
	}
	return true
}

// learn makes the picture of a decision the remembered one, as a hypothesis says.
func (v *decision) learn(g *hypothesis.Hypothesis) {
	e := v.tracker
	q := inference.New(v.observation)
	q.Attend(g)
	at := map[chess.Square]frame.Spot[frame.Board]{}
	for k := range e.Pieces {
		if !g.Gone[k] {
			at[e.Pieces[k].Square] = e.Pieces[k].At
		}
	}
	sigma := e.Sigmas()
	for k, m := range g.Stood {
		at[m.Square] = m.At
		sigma[m.Square] = q.PlacedSigma(g, k)
	}
	first := e.Phase() == background.Meeting
	if first {
		q.Survey(g.After, at, sigma)
	}
	e.Former = nil
	e.Remember(v.observation.Image, v.observation.Raw, g.After, at)
	if first {
		e.Known = slices.Concat(e.Known, classify.KnownPieces(v.observation, nil))
	}
	e.SetSigmas(sigma)
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
	r.settle(m)
	r.pos, r.due, r.glimpses = r.pos.After(m), 0, nil
	return nil
}

// LookFor lets the reader look for up to so many plies at once where no single move explains
// a picture: some were played that no picture showed. Its readings can be Several then.
func (r *Reader) LookFor(plies int) { r.several = plies }

// AcceptAll makes several moves on the reader's board, as they were read.
func (r *Reader) AcceptAll(plies []Ply) error {
	next := r.pos
	for _, p := range plies {
		if !next.Legal(p.Move) {
			return fmt.Errorf("%s is not a legal move there", p.Move)
		}
		next = next.After(p.Move)
	}
	v := r.pending
	r.pending = nil
	if v != nil && v.reading.State == Several && v.hypotheses[0].After == scene.OccupancyOf(&next) {
		v.learn(&v.hypotheses[0])
	}
	r.pos, r.due, r.stall, r.glimpses = next, 0, stall{}, nil
	return nil
}

// settle learns from the last picture, if it was read as the move.
func (r *Reader) settle(m chess.Move) {
	v := r.pending
	r.pending = nil
	if v == nil || v.reading.State != Moved && v.reading.State != Same {
		return
	}
	if g := v.hypothesisOf(m); g != nil {
		v.learn(g)
	}
}

// hypothesisOf is the hypothesis of a finished move, or of none; nil if there is none.
func (v *decision) hypothesisOf(m chess.Move) *hypothesis.Hypothesis {
	for i := range v.hypotheses {
		if g := &v.hypotheses[i]; g.Move == m && (g.State == Moved || m == 0 && g.State == Same) {
			return g
		}
	}
	return nil
}

// Resolve is Accept with a person's answer about the last picture, whatever it
// was read as: what was seen in it is learnt as that move, or, for the zero
// move, as no change.
func (r *Reader) Resolve(m chess.Move) error {
	if m != 0 && !r.pos.Legal(m) {
		return fmt.Errorf("%s is not a legal move here", m)
	}
	next := r.pos
	if m != 0 {
		next = r.pos.After(m)
	}
	v := r.pending
	if v == nil || v.reading.State == Illegal || v.reading.State == Partial || v.hypothesisOf(m) == nil {
		r.Agree(next)
		return nil
	}
	v.learn(v.hypothesisOf(m))
	r.pending, r.stall = nil, stall{}
	if m != 0 {
		r.pos, r.due = next, 0
	}
	r.glimpses = nil
	return nil
}

// Offsets says where every piece stands in its square, by the last settled
// picture; nothing before the first.
func (r *Reader) Offsets() []Offset {
	if r.tracker == nil {
		return nil
	}
	var out []Offset
	for s := range chess.NoSquare {
		for _, m := range r.tracker.Pieces {
			if m.Square == s {
				out = append(out, Offset{Square: s, Delta: m.At.Sub(r.setup.Centre(s)), Sigma: m.Sigma})
			}
		}
	}
	return out
}
