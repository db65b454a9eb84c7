// SPDX-License-Identifier: Apache-2.0

package table

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"sync"
	"time"

	"boardhand/internal/carry"
	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/notice"
	"boardhand/internal/sight"
	"boardhand/internal/unit"
)

// Parts are what a table is made of.
type Parts struct {
	Camera  Camera
	Gantry  Gantry
	Guest   Guest
	Eye     Eye
	Planner Planner
	Player  Player
	Log     Log
}

// Settings are what the table knows of the machine.
type Settings struct {
	Machine  chess.Color    // the machine's side
	Gearing  *carry.Gearing // from the board to the motors
	Square   unit.Length
	Feet     [chess.King + 1]unit.Length // base diameters by kind
	Carried  [2]bool                     // by side: bases with magnets
	Slots    []frame.Spot[frame.Board]   // the tray's
	Chute    *frame.Spot[frame.Board]    // its mouth; nil: there is none
	Patience time.Duration               // between tries when the camera is silent
	Slow     time.Duration               // a reading that takes longer is told of; 0: never
	MaxPlies int                         // stop there; 0: no limit
	Suspects *Suspects                   // of this machine; nil: none is kept
}

// Event is something an onlooker may show. Only the fields that changed are set.
type Event struct {
	State     State
	Text      string // log line
	Record    *Record
	Notice    *notice.Notice
	Question  *notice.Question
	Answered  bool
	Picture   *sight.Picture
	Reading   *sight.Reading
	Slow      bool // the reading of a picture takes long
	Plan      *carry.Plan
	Scene     *carry.Scene // that Plan was made for
	Step      *carry.Step  // that begins now
	Carriage  *frame.Spot[frame.Board]
	Lift      Lift // with Carriage
	Game      *chess.Game
	Standing  *Standing     // where the pieces are now
	Ways      []RequestKind // what a person may ask for now, when it has changed
	Suspicion string        // the part to look at, for the maker
}

// Past is how an earlier session left a game.
type Past struct {
	Game     *chess.Game
	Decided  chess.Move // chosen but perhaps not carried out; zero if none
	Task     Task       // begun and not ended
	Standing *Standing  // nil: nobody is beside the board
}

// Table is one game being played.
type Table struct {
	p       Parts
	s       Settings
	observe func(Event)

	game     *chess.Game
	state    State
	decided  chess.Move // chosen and not yet finished on the board
	pieces   map[chess.Square]sight.Offset
	carriage frame.Spot[frame.Machine]
	lift     Lift
	now      Standing            // where the pieces are, as the running plan has left them
	number   map[chess.Piece]int // of pieces, on and beside the board
	kept     string              // the standing last put on disk
	showing  string              // and last shown
	claim    claim               // what the standing rests on
	offered  Place               // the slot for a piece that the guest takes; Person: none
	replans  int                 // of the current move
	tries    int                 // of the current move to mend itself
	first    sight.Reading       // the reading that woke Reading
	shown    sight.Picture
	blinds   int   // pictures in a row that did not come
	failure  error // why Trouble
	failures int   // since the last finished move
	lostPics int   // pictures that could not be kept
	lastMove chess.Move
	lastSaid string // by the last record
	asked    uint64 // number of the last question
	doubts   doubts
	squares  *occupancy       // of the last picture, once they were looked at
	taken    []Beside         // out of the tray by somebody; to be asked for
	vouched  map[Place]bool   // where a piece came by a person's word: a slot that shows none is not asked about again
	ids      map[Place]string // names of pieces that have left where they began
	unlisted []string         // transitions that the state table does not have

	mu      sync.Mutex
	motors  Motors
	resume  chan struct{}
	wake    chan struct{}      // something was asked for, or stopped
	moving  context.CancelFunc // ends the motion under way
	pending []Request          // wait to be granted
	ways    []RequestKind      // what may be asked for now
	job     job
	players []string // that have taken over, to be told
	plies   int      // of the game
}

// New sets a table for a game as it was left. observe may be nil; it is called
// from Run's goroutine.
func New(p Parts, s Settings, past Past, observe func(Event)) *Table {
	if observe == nil {
		observe = func(Event) {}
	}
	t := &Table{p: p, s: s, observe: observe, game: past.Game, decided: past.Decided, state: Setting, offered: Person,
		pieces: map[chess.Square]sight.Offset{}, resume: make(chan struct{}, 1), wake: make(chan struct{}, 1), ids: origins(past.Game), vouched: map[Place]bool{}}
	t.job, t.motors, t.claim, t.lift = resumed(past.Task), Running, known, Lowered
	t.now = StandingOf(t.game.Position())
	if past.Standing != nil {
		t.now = past.Standing.clone()
		t.kept = t.now.String()
	}
	if past.Task.Kind == NoTask && !t.isInMove() {
		t.now.Board = standing(t.game.Position())
	}
	t.number = t.now.count()
	t.moved()
	return t
}

// isInMove says whether the pieces are kept as the decided move has left them
// so far: each square it touches as before it, as after it or empty, all others
// as in the game.
func (t *Table) isInMove() bool {
	if t.decided == 0 || t.kept == "" {
		return false
	}
	pos, next := t.game.Position(), t.after()
	of := touched(pos, t.decided)
	for q, p := range t.now.Board {
		s := chess.Square(q)
		if p != pos.At(s) && (!slices.Contains(of, s) || p != next.At(s) && p != chess.NoPiece) {
			return false
		}
	}
	return true
}

// moved notes the last move of the game as it is now.
func (t *Table) moved() {
	t.mu.Lock()
	defer t.mu.Unlock()
	t.plies, t.lastMove = len(t.game.Moves), 0
	if t.plies > 0 {
		t.lastMove = t.game.Moves[t.plies-1]
	}
}

// Game is the game so far.
func (t *Table) Game() *chess.Game { return t.game }

// Unlisted lists transitions made that the state table does not have: a fault
// of the program, for tests.
func (t *Table) Unlisted() []string { return t.unlisted }

// handler does what one state does and says what comes next, and why.
type handler func(t *Table, ctx context.Context) (Turn, error)

var handlers = map[State]handler{
	Setting:   (*Table).setting,
	Guesting:  (*Table).guesting,
	Reading:   (*Table).reading,
	Thinking:  (*Table).thinking,
	Carrying:  (*Table).carrying,
	Verifying: (*Table).verifying,
	Undoing:   (*Table).undoing,
	Arranging: (*Table).arranging,
	Trouble:   (*Table).trouble,
}

// Run plays until the game is over or ctx ends. Every transition is on disk
// before it is acted on. It returns an error only when it cannot go on at all
// (ctx ended, the log cannot be written).
func (t *Table) Run(ctx context.Context) error {
	if err := t.record(ctx, Record{State: Setting, What: TableSet}); err != nil {
		return err
	}
	t.state = Setting
	return t.loop(ctx)
}

// Rest waits, after the game is over, for somebody to ask for more, and grants
// it: after a move was taken back the game goes on to its next end; after a
// set-up the pieces stand where the next game begins, and Arranged says so.
func (t *Table) Rest(ctx context.Context) error {
	t.offer()
	for {
		if err := t.attend(ctx); err != nil {
			return t.redirected(ctx, err)
		}
		select {
		case <-ctx.Done():
			return ctx.Err()
		case <-t.wake:
		}
	}
}

// Grant grants what was asked for while the game was over, without waiting.
func (t *Table) Grant(ctx context.Context) error {
	t.offer()
	return t.redirected(ctx, t.attend(ctx))
}

// IsWanted says whether a request waits that can be granted now.
func (t *Table) IsWanted() bool { return t.isWanted() }

func (t *Table) redirected(ctx context.Context, err error) error {
	var r *redirect
	if !errors.As(err, &r) {
		return err
	}
	if err := t.enter(ctx, r.Turn); err != nil {
		return err
	}
	return t.loop(ctx)
}

// loop goes from state to state until the game is over.
func (t *Table) loop(ctx context.Context) error {
	t.offer()
	for t.state != Over {
		next, err := t.turn(ctx)
		if err != nil {
			t.retire()
			return err
		}
		if err := t.enter(ctx, next); err != nil {
			t.retire()
			return err
		}
	}
	t.offer()
	return t.over(ctx)
}

// turn lets the state do its work. The error is one that ends the session.
func (t *Table) turn(ctx context.Context) (Turn, error) {
	next, err := Turn{}, t.attend(ctx)
	if err == nil || errors.Is(err, errRight) {
		next, err = handlers[t.state](t, ctx)
	}
	if ctx.Err() != nil {
		return next, ctx.Err()
	}
	var fatal *logError
	var r *redirect
	switch {
	case err == nil:
		return next, nil
	case errors.As(err, &fatal):
		return next, err
	case errors.As(err, &r):
		return r.Turn, nil
	case errors.Is(err, errRight): // nothing here needs a person's word
		return Turn{To: t.state}, nil
	case errors.Is(err, errHalted) || t.isHalted():
		t.failure = errHalted
		return to(Trouble, Stopped), nil
	}
	t.failure = err
	return Turn{Trouble, Record{What: Failed, Said: err.Error(), Cause: string(partOf(err))}}, nil
}

// retire leaves the machine at rest when the session ends: axes stopped, the
// magnet lowered, whatever ended it.
func (t *Table) retire() {
	ctx, cancel := context.WithTimeout(context.Background(), retireTime)
	defer cancel()
	if t.lift == Raised && !t.isHalted() {
		_ = t.p.Gantry.Lift(ctx, false) // the session is ending: there is nobody left to tell
	}
	_ = t.p.Gantry.Halt()
}

// retireTime bounds how long a session that ends waits for the lift.
const retireTime = 5 * time.Second

// logError says that the log could not be written: nothing may go on, or the
// game would be lost.
type logError struct{ error }

func (e *logError) Unwrap() error { return e.error }

// record writes to the log and shows the line.
func (t *Table) record(ctx context.Context, r Record) error {
	if r.Move != 0 || r.Task != "" {
		t.claim = known
	}
	now := t.now.String()
	if t.claim == promised { // nobody has done it yet
		now = t.kept
	}
	if now != t.kept && (t.now.Way != nil || len(t.now.Beside) > 0 || t.kept != "") {
		r.Standing, t.kept = now, now
	}
	r.Slots, t.lastSaid = len(t.s.Slots), r.Said
	err := t.p.Log.Append(ctx, r)
	var lost *PictureError
	if errors.As(err, &lost) {
		err = t.lostPicture(ctx, lost)
	}
	if err != nil {
		return &logError{fmt.Errorf("the game's log cannot be written, so the machine stops here: %w", err)}
	}
	e := Event{State: r.State, Text: r.Prose(), Record: &r, Game: t.game}
	if now != t.showing && t.claim == known {
		is := t.now.clone()
		t.showing, e.Standing = now, &is
	}
	t.observe(e)
	return nil
}

// lostPicture tells of the first picture that could not be kept: pictures are
// evidence, the game goes on without.
func (t *Table) lostPicture(ctx context.Context, lost *PictureError) error {
	t.lostPics++
	if t.lostPics > 1 {
		return nil
	}
	text := fmt.Sprintf("Pictures cannot be kept any more; the game goes on: %v", lost.Err)
	t.observe(Event{Suspicion: text})
	return t.p.Log.Append(ctx, Record{State: t.state, What: PictureLost, Said: text})
}

// enter makes a transition. The picture that showed the table ready is kept.
func (t *Table) enter(ctx context.Context, next Turn) error {
	if next.Rec.What == "" { // it stays where it is
		return nil
	}
	if !listed(t.state, next) {
		t.unlisted = append(t.unlisted, fmt.Sprintf("%s: %s → %s", t.state, next.Rec.What, next.To))
	}
	r := next.Rec
	r.State = next.To
	if t.state == Setting && next.To != Trouble {
		r.JPEG = t.shown.JPEG
	}
	t.state = next.To
	t.offer()
	return t.record(ctx, r)
}

// offer says what may be asked for in this state.
func (t *Table) offer() {
	t.mu.Lock()
	ways := slices.Clone(WaysOn[t.state])
	if t.state == Trouble && !t.motors.isAwaiting() {
		ways = nil
	}
	if t.plies == 0 {
		ways = slices.DeleteFunc(ways, func(k RequestKind) bool { return k == RequestBack })
	}
	if t.machineMoves() {
		ways = slices.DeleteFunc(ways, func(k RequestKind) bool { return k == RequestPlayed })
	}
	same := slices.Equal(ways, t.ways)
	t.ways = ways
	t.pending = slices.DeleteFunc(t.pending, func(r Request) bool { return !slices.Contains(ways, r.Kind) }) // they have lost their meaning
	t.mu.Unlock()
	if !same {
		t.observe(Event{Ways: append([]RequestKind{}, ways...)})
	}
}

// tell says one sentence to the guest.
func (t *Table) tell(ctx context.Context, n notice.Notice) error {
	if n.FEN == "" {
		p := t.game.Position()
		n.FEN = p.FEN()
	}
	t.observe(Event{Notice: &n})
	if n.Text != t.lastSaid { // it is on record already as a request
		if err := t.record(ctx, Record{State: t.state, What: Told, Said: n.Text, Squares: n.Squares}); err != nil {
			return err
		}
	}
	return t.p.Guest.Tell(ctx, n)
}

// ask puts a question to the guest. It ends without an answer when a person
// stops the machine or asks for something else.
func (t *Table) ask(ctx context.Context, q notice.Question) (int, error) {
	for {
		i, err := t.askOnce(ctx, &q)
		if !errors.Is(err, errRoused) {
			return i, err
		}
		if t.isHalted() {
			return 0, errHalted
		}
		if err := t.attend(ctx); err != nil {
			return 0, err
		}
	}
}

// errRoused says that a wait was ended by a request or a stop.
var errRoused = errors.New("something else was asked for")

func (t *Table) askOnce(ctx context.Context, q *notice.Question) (int, error) {
	t.asked++
	q.Number = t.asked
	if err := t.record(ctx, Record{State: t.state, What: Questioned, Said: q.Text, Choices: q.Choices}); err != nil {
		return 0, err
	}
	t.observe(Event{Question: q})
	defer t.observe(Event{Answered: true})
	var i int
	err := t.while(ctx, func(ctx context.Context) (err error) {
		i, err = t.p.Guest.Ask(ctx, *q)
		return err
	})
	if err == nil && (i < 0 || i >= len(q.Choices)) {
		err = fmt.Errorf("the answer %d is none of the %d choices", i, len(q.Choices))
	}
	if err != nil {
		return 0, err
	}
	return i, t.record(ctx, Record{State: t.state, What: Answered, Choices: q.Choices, Choice: i})
}

// while does something that waits; it is called off, with errRoused, when a
// request comes or a person stops the machine.
func (t *Table) while(ctx context.Context, do func(context.Context) error) error {
	if t.isWanted() || t.isHalted() {
		return errRoused
	}
	inner, cancel := context.WithCancel(ctx)
	defer cancel()
	done := make(chan error, 1)
	go func() { done <- do(inner) }()
	for {
		select {
		case err := <-done:
			return err
		case <-t.wake:
			if !t.isWanted() && !t.isHalted() {
				continue
			}
			cancel()
			<-done
			return errRoused
		}
	}
}

// machineMoves says whether the machine is to move.
func (t *Table) machineMoves() bool {
	pos := t.game.Position()
	return pos.SideToMove() == t.s.Machine
}
