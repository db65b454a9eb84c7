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
	Trouble   State = "trouble"   // a part of the machine failed
	Over      State = "over"      // the game has ended
)

// Record is one line of the log.
type Record struct {
	State   State
	Move    chess.Move // when this record finishes a move
	Decided chess.Move // when the machine has chosen a move
	Text    string
	JPEG    []byte // the picture that the record rests on, if any
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
	board    [64]chess.Piece // men as the running plan has left them
	mended   bool            // a correction was tried after the current move
	first    sight.Reading   // the reading that woke Reading
	shown    sight.Picture
	failure  error // why Trouble
	failures int   // in a row
	lastMove chess.Move

	mu     sync.Mutex
	halted bool
	resume chan struct{}
}

// New sets a table. g is the game so far, decided the machine's move that was
// chosen but perhaps not carried out when an earlier session ended (zero if
// none). observe may be nil; it is called from Run's goroutine.
func New(p Parts, s Settings, g *chess.Game, decided chess.Move, observe func(Event)) *Table {
	if observe == nil {
		observe = func(Event) {}
	}
	t := &Table{p: p, s: s, observe: observe, game: g, decided: decided, state: Setting,
		men: map[chess.Square]sight.Offset{}, resume: make(chan struct{}, 1)}
	if n := len(g.Moves); n > 0 {
		t.lastMove = g.Moves[n-1]
	}
	return t
}

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
	Trouble:   (*Table).trouble,
}

// Run plays until the game is over or ctx ends. Every transition is on disk
// before it is acted on. It returns an error only when it cannot go on at all
// (ctx ended, the log cannot be written).
func (t *Table) Run(ctx context.Context) error {
	if err := t.enter(ctx, Setting, "the table is set"); err != nil {
		return err
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
	return t.over(ctx)
}

// logError says that the log could not be written: nothing may go on, or the
// game would be lost.
type logError struct{ error }

func (e *logError) Unwrap() error { return e.error }

// record writes to the log and shows the line.
func (t *Table) record(ctx context.Context, r Record) error {
	if err := t.p.Log.Append(ctx, r); err != nil {
		return &logError{fmt.Errorf("the game's log cannot be written, so the machine stops here: %w", err)}
	}
	t.observe(Event{State: r.State, Text: r.Text, Game: t.game})
	return nil
}

// enter makes a transition.
func (t *Table) enter(ctx context.Context, s State, why string) error {
	t.state = s
	return t.record(ctx, Record{State: s, Text: why})
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
	if err := t.game.Push(m); err != nil {
		return err
	}
	t.lastMove, t.decided, t.mended = m, 0, false
	text := fmt.Sprintf("%s: %s", by, san)
	if by == "guest" {
		text += fmt.Sprintf(" (belief %.4f)", belief)
	}
	return t.record(ctx, Record{State: t.state, Move: m, Text: text, JPEG: t.shown.JPEG})
}

// next is the state of a game in which the side to move is about to act.
func (t *Table) next() (State, string) {
	if t.ended() {
		return Over, t.game.Outcome().String()
	}
	pos := t.game.Position()
	if pos.SideToMove() == t.s.Machine {
		return Thinking, "the machine is to move"
	}
	return Guesting, "the guest is to move"
}

// over tells how the game ended.
func (t *Table) over(ctx context.Context) error {
	o := t.game.Outcome()
	return t.tell(ctx, notice.Notice{Kind: notice.GameOver, Move: t.lastMove, Text: overSentence(o, t.s.Machine)})
}
