package app

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"boardhand/internal/carry"
	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/notice"
	"boardhand/internal/rig"
	"boardhand/internal/search"
	"boardhand/internal/sight"
	"boardhand/internal/table"
	"boardhand/internal/twin"
)

// gameSpec is one game of a rehearsal.
type gameSpec struct {
	rig    *rig.Rig
	n      int
	seed   int64
	faults []twin.Fault
	plies  int
	keep   string
	nodes  uint64
	cuts   bool // the power is cut now and then
	// rematches is how many more games are played at the table after a set-up.
	rematches int
}

// referee is the log, the onlooker and the umpire of one rehearsed game. It
// alone compares what the machine believes with the twin's truth.
type referee struct {
	world   *twin.World
	keep    string // folder for the pictures, "" for none
	game    *chess.Game
	table   *table.Table
	slots   []frame.Spot[frame.Board]
	setting bool // the men are being set up: no pictures of a game
	tally   tally
	named   []table.Record // the parts that the machine suspects
	answers strings.Builder
	log     strings.Builder // what happened, for people
	counted twin.Counters   // when the log was last written to
	frame   string
	failed  error
	blind   int  // pictures in a row that could not be read
	frames  int  // pictures of this game
	since   int  // pictures when the last move was finished
	unsure  bool // the newest picture left a doubt
	cuts    cuts
	stop    context.CancelFunc
}

// seedStep keeps the seeds of neighbouring games apart.
const seedStep = 1_000_003

// stuckAfter is how many pictures one move may take; a game that needs more is stuck.
const stuckAfter = 60

// blindAfter bounds how many pictures in a row may fail.
const blindAfter = 60

func rehearseGame(ctx context.Context, s gameSpec) (tally, error) {
	ctx, stop := context.WithCancel(ctx)
	defer stop()
	seed := s.seed*seedStep + int64(s.n)
	b, err := setUp(s.rig, chess.Start(), twin.Options{Seed: seed, Faults: s.faults})
	if err != nil {
		return tally{}, err
	}
	ref := &referee{world: b.world, stop: stop, slots: carry.Slots(s.rig), cuts: newCuts(b.world, seed, s.cuts)}
	think, err := openPlayer(ctx, playerOptions{machine: chess.ColorNamed(s.rig.Play.Side), limits: search.Limits{Nodes: s.nodes}})
	if err != nil {
		return tally{}, err
	}
	suspects, err := table.NewSuspects(s.rig)
	if err != nil {
		return tally{}, err
	}
	past := table.Past{}
	for k := range s.rematches + 1 {
		past.Game = chess.NewGame(chess.Start())
		if err := ref.begin(s, k, past.Game); err != nil {
			return tally{}, err
		}
		ref.cuts.begin(past.Game, chess.ColorNamed(s.rig.Play.Side))
		err = ref.sit(ctx, sitting{spec: s, bench: b, player: think, suspects: suspects, setUp: k < s.rematches}, past)
		if errors.Is(err, context.Canceled) && (ref.failed != nil || ref.tally.Stuck > 0) {
			return ref.broken()
		}
		if err != nil {
			return tally{}, err
		}
		if err := ref.end(); err != nil {
			return tally{}, err
		}
		standing := ref.table.Standing()
		past.Standing = &standing
	}
	return ref.close(), nil
}

func (s gameSpec) settings() table.Settings {
	set := settings(s.rig)
	set.MaxPlies = s.plies
	set.Patience = time.Millisecond // the twin's time does not pass while it waits
	return set
}

// begin begins the k-th game at the table.
func (r *referee) begin(s gameSpec, k int, g *chess.Game) (err error) {
	r.game, r.setting, r.since, r.frames = g, false, r.tally.Pictures, 0
	r.log.Reset()
	r.answers.Reset()
	r.keep, err = keepFolder(s.keep, fmt.Sprintf("game_%03d", s.n), s.rig)
	if k > 0 {
		r.keep, err = keepFolder(s.keep, fmt.Sprintf("game_%03d_%d", s.n, k+1), s.rig)
	}
	return err
}

// setUp has the machine set the men up for the next game.
func (r *referee) setUp(ctx context.Context) error {
	r.setting = true
	if err := r.table.Request(table.Request{Kind: table.RequestNew}); err != nil {
		return err
	}
	return r.table.Grant(ctx)
}

// searchMB is the size of the built-in player's table of positions.
const searchMB = 16

func keepFolder(dir, name string, r *rig.Rig) (string, error) {
	if dir == "" {
		return "", nil
	}
	folder := filepath.Join(dir, name)
	if err := os.MkdirAll(folder, 0o755); err != nil {
		return "", fmt.Errorf("cannot keep pictures: %w", err)
	}
	text := []byte(rig.DefaultText)
	if data, err := os.ReadFile(r.Path); err == nil && r.Path != "" {
		text = data
	}
	return folder, os.WriteFile(filepath.Join(folder, "rig.toml"), text, 0o644)
}

// Append compares a finished move with the truth.
func (r *referee) Append(_ context.Context, rec table.Record) error {
	r.countAnew()
	if err := r.cuts.keep(rec); err != nil {
		return err
	}
	fmt.Fprintf(&r.log, "%s: %s\n", rec.State, rec.Prose())
	switch rec.What {
	case table.Fetched, table.Adjusted, table.NotFollowed:
		r.tally.Recovered++
	case table.Suspected:
		r.named = append(r.named, rec)
	}
	if rec.Task != "" {
		r.since = r.tally.Pictures
		r.taskDone(rec)
	}
	if rec.Move == 0 {
		return nil
	}
	r.tally.Plies++
	r.since = r.tally.Pictures
	if r.unsure || rec.What == table.GuestNamed { // the person, or the machine that knows what it carried, has settled it
		fmt.Fprintf(&r.answers, "%s %s\n", r.frame, rec.Move)
	}
	r.compare(rec)
	if rec.By == table.ByGuest {
		return nil
	}
	if n := r.world.Guest().SecondThoughts(); n > 0 {
		_ = r.table.Request(table.Request{Kind: table.RequestBack, Plies: n}) // refused while there is nothing to take back
	}
	return nil
}

// compare counts what differs after a move: a square after the guest's move says
// that it was misread; a slot has nothing to do with what was read.
func (r *referee) compare(rec table.Record) {
	squares, slots := r.differences(r.game.Position())
	switch {
	case len(squares) > 0 && rec.By == table.ByGuest:
		r.tally.Misread++
	case len(slots) > 0 || len(squares) > 0 && !r.isGuestAhead():
		r.tally.LostState++
	}
}

// countAnew writes to the log what the twin has counted since the last line.
func (r *referee) countAnew() {
	c := r.world.Truth().Counters
	for _, n := range []struct {
		name     string
		now, was int
	}{
		{"collision", c.Collisions, r.counted.Collisions}, {"slip", c.Slips, r.counted.Slips}, {"drag", c.Drags, r.counted.Drags},
		{"stall", c.Stalls, r.counted.Stalls}, {"toppled", c.Toppled, r.counted.Toppled},
	} {
		if n.now > n.was {
			fmt.Fprintf(&r.log, "  the twin saw: %s +%d\n", n.name, n.now-n.was)
		}
	}
	r.counted = c
}

// taskDone compares the board with what a task was to bring about.
func (r *referee) taskDone(rec table.Record) {
	want := r.game.Position()
	switch rec.What {
	case table.TakenBack:
		r.tally.TakenBack++
		fmt.Fprintf(&r.answers, "%s back 1\n", r.frame)
	case table.SetUpDone:
		r.tally.SetUps++
		want = chess.Start()
	default:
		return
	}
	if squares, slots := r.differences(want); len(squares)+len(slots) > 0 {
		r.tally.LostState++
	}
}

// differences lists the squares on which the board is not as the game says,
// and the slots that do not hold the piece that the machine believes in them.
func (r *referee) differences(pos chess.Position) (squares, slots []string) {
	truth := r.world.Truth()
	for q, man := range truth.Squares {
		if want := pos.At(chess.Square(q)); man != want {
			squares = append(squares, fmt.Sprintf("%v holds %v, the game says %v", chess.Square(q), man, want))
		}
	}
	slots = misplaced(truth, r.table.Standing(), r.slots)
	if wrong := slices.Concat(squares, slots); len(wrong) > 0 {
		fmt.Fprintf(&r.log, "  WRONG: %s\n", strings.Join(wrong, "; "))
	}
	return squares, slots
}

// isGuestAhead says whether the board differs from the game only by what the
// guest is playing already: a move made, or a piece in the hand.
func (r *referee) isGuestAhead() bool {
	truth, pos := r.world.Truth(), r.game.Position()
	for _, m := range pos.LegalMoves(nil) {
		if r.isBoard(truth, pos.After(m)) {
			return true
		}
		between := truth
		if between.Squares[m.From()] == chess.NoPiece && truth.InHand != chess.NoPiece {
			between.Squares[m.From()] = pos.At(m.From())
		}
		if r.isBoard(between, pos) {
			return true
		}
	}
	return false
}

// isBoard says whether the pieces stand as in a position.
func (r *referee) isBoard(truth twin.Truth, pos chess.Position) bool {
	for q, piece := range truth.Squares {
		if piece != pos.At(chess.Square(q)) {
			return false
		}
	}
	return true
}

// see keeps pictures and counts what the guest is asked.
func (r *referee) see(e table.Event) {
	r.cuts.happens()
	switch {
	case e.Text != "" && e.State == "": // a picture that could not be read
		if r.blind++; r.blind > blindAfter {
			r.failed = fmt.Errorf("no picture could be read: %s", e.Text)
			r.stop()
		}
	case e.Picture != nil:
		r.blind = 0
		r.picture(*e.Picture)
		fmt.Fprintf(&r.log, "  %s %s %v %s %.4f\n", r.frame, e.Reading.State, e.Reading.Squares, e.Reading.Move, e.Reading.Belief)
		r.unsure = e.Reading.State == sight.Unsure
		r.listen()
	case e.Notice != nil && e.Notice.Kind == notice.PleaseTake:
		r.tally.Removals++
	case e.Notice != nil && (e.Notice.Kind == notice.PleaseMend || e.Notice.Kind == notice.PleasePut), e.Question != nil:
		r.tally.Asked++
	}
}

// listen hands to the table what the guest says unasked.
func (r *referee) listen() {
	s, ok := r.world.Guest().Says()
	if !ok {
		return
	}
	err := r.table.Request(table.Request{Kind: table.RequestKind(s.Kind), Move: s.Move})
	fmt.Fprintf(&r.log, "  the guest says: %s %v\n", s.Kind, s.Move)
	if err != nil {
		fmt.Fprintf(&r.log, "  refused: %v\n", err)
	}
	r.tally.Said++
}

func (r *referee) picture(p sight.Picture) {
	r.tally.Pictures++
	r.frames++
	r.frame = fmt.Sprintf("frame_%05d.jpg", r.frames)
	if r.keep != "" && r.failed == nil && !r.setting {
		if err := os.WriteFile(filepath.Join(r.keep, r.frame), p.JPEG, 0o644); err != nil {
			r.failed = fmt.Errorf("cannot keep a picture: %w", err)
			r.stop()
		}
	}
	if r.tally.Pictures-r.since > stuckAfter {
		r.tally.Stuck = 1
		r.stop()
	}
}

// end counts a game and writes what was kept of it.
func (r *referee) end() error {
	r.tally.Games++
	if r.tally.Results == nil {
		r.tally.Results = map[string]int{}
	}
	r.tally.Results[string(r.game.Outcome().Result)]++
	if r.keep == "" {
		return nil
	}
	r.game.SetTag("Event", "Rehearsal on the twin")
	for name, text := range map[string]string{"log.txt": r.log.String(), "game.pgn": r.game.PGN(), "answers.txt": r.answers.String()} {
		if err := os.WriteFile(filepath.Join(r.keep, name), []byte(text), 0o644); err != nil {
			return err
		}
	}
	return nil
}

// broken ends a game that could not go on.
func (r *referee) broken() (tally, error) {
	if err := r.end(); err != nil {
		return tally{}, err
	}
	return r.close(), r.failed
}

// close adds what the twin counted.
func (r *referee) close() tally {
	truth := r.world.Truth()
	c := truth.Counters
	t := r.tally
	t.count(truth.AtFault, r.named)
	t.Collisions, t.Slips, t.Drags, t.Stalls, t.Toppled = c.Collisions, c.Slips, c.Drags, c.Stalls, c.Toppled
	return t
}
