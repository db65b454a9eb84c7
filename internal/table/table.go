package table

import (
	"context"
	"errors"
	"fmt"
	"sync"
	"time"

	"boardhand/internal/carry"
	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/notice"
	"boardhand/internal/sight"
	"boardhand/internal/unit"
)

// State is what the game at the table is doing.
type State string

// The states.
const (
	Setting   State = "setting"   // homing, and looking whether the board shows the position
	Guesting  State = "guest"     // the guest is to move
	Reading   State = "reading"   // something has moved; working out what
	Thinking  State = "thinking"  // choosing the answer
	Removal   State = "removal"   // asking the guest to take or put a man
	Carrying  State = "carrying"  // the carriage is at work
	Verifying State = "verifying" // looking whether the man arrived
	Undoing   State = "undoing"   // taking moves back
	Arranging State = "arranging" // setting the men up for the next game
	Trouble   State = "trouble"   // a part of the machine failed
	Over      State = "over"      // the game has ended
)

// Record is one line of the log.
type Record struct {
	State   State
	Move    chess.Move // when this record finishes a move
	Decided chess.Move // when the machine has chosen a move
	Back    chess.Move // when this record takes a move back
	Task    string     // when a task begins, gets on or ends: see Task
	// Standing is where the men are, when one beside the board has changed.
	Standing string
	Text     string
	JPEG     []byte // the picture that the record rests on, if any
}

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
	Feet     [chess.King + 1]unit.Length // foot diameters by kind
	Carried  [2]bool                     // by side: feet with magnets
	Slots    []frame.Spot[frame.Board]   // the tray's
	Patience time.Duration               // between tries when the camera is silent
	MaxPlies int                         // stop there; 0: no limit
}

// Event is something an onlooker may show. Only the fields that changed are set.
type Event struct {
	State    State
	Text     string // log line
	Notice   *notice.Notice
	Question *notice.Question
	Answered bool
	Picture  *sight.Picture
	Reading  *sight.Reading
	Plan     *carry.Plan
	Scene    *carry.Scene // that Plan was made for
	Step     *carry.Step  // that begins now
	Carriage *frame.Spot[frame.Board]
	Raised   bool // with Carriage
	Game     *chess.Game
	Standing *Standing // where the men are now

	Ways      []RequestKind // what may be asked for now; set whenever it changed
	Slow      bool          // a reading has taken more than 3 s
	Suspicion string        // a sentence for the maker, naming the part to look at
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
	men      map[chess.Square]sight.Offset
	carriage frame.Spot[frame.Machine]
	raised   bool
	now      Standing            // where the men are, as the running plan has left them
	number   map[chess.Piece]int // of men, on and beside the board
	kept     string              // the standing last put on disk
	showing  string              // and last shown
	asking   bool                // a person has been asked, and it is not seen to be done yet
	offered  Place               // the slot for a man that the guest takes; Person: none
	goal     *chess.Position     // that the running task leads to
	arranged bool                // the men stand where the next game begins
	broken   bool                // the task was broken off: look first
	replans  int                 // of the current move
	mended   bool                // a correction was tried after the current move
	helped   bool                // the guest was asked to finish the current move
	first    sight.Reading       // the reading that woke Reading
	shown    sight.Picture
	failure  error // why Trouble
	failures int   // in a row
	lastMove chess.Move

	mu      sync.Mutex
	halted  bool
	resume  chan struct{}
	task    Task // being done
	wish    Task // waiting to be granted
	busy    bool // a task is being done
	resting bool // the game is over, and more may be wished
	plies   int  // of the game
	wished  chan struct{}
}

// New sets a table for a game as it was left. observe may be nil; it is called
// from Run's goroutine.
func New(p Parts, s Settings, past Past, observe func(Event)) *Table {
	if observe == nil {
		observe = func(Event) {}
	}
	t := &Table{p: p, s: s, observe: observe, game: past.Game, decided: past.Decided, state: Setting, offered: Person,
		men: map[chess.Square]sight.Offset{}, resume: make(chan struct{}, 1), wished: make(chan struct{}, 1)}
	t.setTask(past.Task)
	t.broken = past.Task.Kind != NoTask
	t.now = StandingOf(t.game.Position())
	if past.Standing != nil {
		t.now = past.Standing.clone()
		t.kept = t.now.String()
	}
	t.number = t.now.count()
	if past.Task.Kind == NoTask {
		t.now.Board = standing(t.game.Position())
	}
	t.moved()
	return t
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

// Arranged says whether the men stand where the next game begins.
func (t *Table) Arranged() bool { return t.arranged }

// Game is the game so far.
func (t *Table) Game() *chess.Game { return t.game }

// handler does what one state does and says which comes next, and why.
type handler func(t *Table, ctx context.Context) (State, string, error)

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
	if err := t.record(ctx, Record{State: Setting, Text: "the table is set"}); err != nil {
		return err
	}
	return t.loop(ctx, Setting, "")
}

// loop goes from state to state until the game is over.
func (t *Table) loop(ctx context.Context, from State, why string) error {
	t.state = from
	t.setResting(false)
	defer t.setResting(true)
	if why != "" {
		if err := t.enter(ctx, from, why); err != nil {
			return err
		}
	}
	for t.state != Over {
		next, why, err := handlers[t.state](t, ctx)
		if ctx.Err() != nil {
			return ctx.Err()
		}
		var fatal *logError
		if errors.As(err, &fatal) {
			_ = t.p.Gantry.Halt()
			return err
		}
		if err != nil {
			t.failure, next, why = err, Trouble, err.Error()
		} else if t.state != Trouble {
			t.failures = 0
		}
		if err := t.enter(ctx, next, why); err != nil {
			return err
		}
	}
	t.setTask(Task{})
	return t.over(ctx)
}

// logError says that the log could not be written: nothing may go on, or the
// game would be lost.
type logError struct{ error }

func (e *logError) Unwrap() error { return e.error }

// record writes to the log and shows the line.
func (t *Table) record(ctx context.Context, r Record) error {
	t.asking = t.asking && r.Move == 0 && r.Task == ""
	now := t.now.String()
	if t.asking { // nobody has done it yet
		now = t.kept
	}
	if now != t.kept && (t.now.Way != nil || len(t.now.Beside) > 0 || t.kept != "") {
		r.Standing, t.kept = now, now
	}
	if err := t.p.Log.Append(ctx, r); err != nil {
		return &logError{fmt.Errorf("the game's log cannot be written, so the machine stops here: %w", err)}
	}
	e := Event{State: r.State, Text: r.Text, Game: t.game}
	if now != t.showing && !t.asking {
		is := t.now.clone()
		t.showing, e.Standing = now, &is
	}
	t.observe(e)
	return nil
}

// enter makes a transition. The picture that showed the table ready is kept.
func (t *Table) enter(ctx context.Context, s State, why string) error {
	r := Record{State: s, Text: why}
	if t.state == Setting && s != Trouble {
		r.JPEG = t.shown.JPEG
	}
	t.state = s
	return t.record(ctx, r)
}

// tell says one sentence to the guest.
func (t *Table) tell(ctx context.Context, n notice.Notice) error {
	if n.FEN == "" {
		p := t.game.Position()
		n.FEN = p.FEN()
	}
	t.observe(Event{Notice: &n})
	return t.p.Guest.Tell(ctx, n)
}

// ask puts a question to the guest.
func (t *Table) ask(ctx context.Context, q notice.Question) (int, error) {
	t.observe(Event{Question: &q})
	i, err := t.p.Guest.Ask(ctx, q)
	t.observe(Event{Answered: true})
	if err == nil && (i < 0 || i >= len(q.Choices)) {
		err = fmt.Errorf("the answer %d is none of the %d choices", i, len(q.Choices))
	}
	return i, err
}

// ended says whether the game has ended with the last move. The machine
// claims the draws that may be claimed: its player has seen them coming.
func (t *Table) ended() bool {
	o := t.game.Outcome()
	if !o.Over() && o.Claim != chess.NoReason {
		_ = t.game.ClaimDraw() // there is one to claim
		o = t.game.Outcome()
	}
	return o.Over() || t.s.MaxPlies > 0 && len(t.game.Moves) >= t.s.MaxPlies
}

// finish makes a move that stands on the board part of the game.
func (t *Table) finish(ctx context.Context, m chess.Move, belief float64) error {
	pos := t.game.Position()
	san := pos.SAN(m)
	by := "guest"
	if pos.SideToMove() == t.s.Machine {
		by = "machine"
	}
	t.settleMen(pos, m)
	if err := t.game.Push(m); err != nil {
		return err
	}
	t.decided, t.mended, t.helped, t.replans = 0, false, false, 0
	t.moved()
	text := fmt.Sprintf("%s: %s", by, san)
	if by == "guest" {
		text += fmt.Sprintf(" (belief %.4f)", belief)
	}
	return t.record(ctx, Record{State: t.state, Move: m, Text: text, JPEG: t.shown.JPEG})
}

// next is the state of a game in which the side to move is about to act.
func (t *Table) next() (State, string) {
	if t.ended() {
		return Over, t.end()
	}
	pos := t.game.Position()
	if pos.SideToMove() == t.s.Machine {
		return Thinking, "the machine is to move"
	}
	return Guesting, "the guest is to move"
}

// end says how the game ended.
func (t *Table) end() string {
	if o := t.game.Outcome(); o.Over() {
		return o.String()
	}
	return fmt.Sprintf("it stops here, after %d plies", len(t.game.Moves))
}

// over tells how the game ended.
func (t *Table) over(ctx context.Context) error {
	o := t.game.Outcome()
	if t.state == Over && t.arranged {
		return nil
	}
	return t.tell(ctx, notice.Notice{Kind: notice.GameOver, Move: t.lastMove, Text: overSentence(o, t.s.Machine)})
}
