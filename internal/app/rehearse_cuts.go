package app

import (
	"context"
	"errors"
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"

	"boardhand/internal/carry"
	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/gamelog"
	"boardhand/internal/store"
	"boardhand/internal/table"
	"boardhand/internal/twin"
)

// powerCut is the fault that the rehearsal makes itself: the twin cuts the
// machine's power, and the program goes with it.
const powerCut twin.Fault = "power_cut"

// parseFaults reads --faults: those of the twin, and whether the power is cut.
func parseFaults(text string) (faults []twin.Fault, cuts bool, err error) {
	names := strings.Split(text, ",")
	others := slices.DeleteFunc(names, func(n string) bool { return strings.TrimSpace(n) == string(powerCut) })
	faults, err = twin.ParseFaults(strings.Join(others, ","))
	if err != nil {
		err = fmt.Errorf("%w, or %s", err, powerCut)
	}
	return faults, len(others) < len(names), err
}

// errCut says that the power went.
var errCut = errors.New("the power was cut")

// cuts lets the power go at random moments of a game, and keeps in memory what
// would be on disk. The zero value never does.
type cuts struct {
	chance  *rand.Rand // nil: the power stays
	world   *twin.World
	left    int // happenings until the next cut
	isCut   bool
	end     context.CancelCauseFunc // of the session
	heading store.Game
	entries []store.Entry
}

// Between two cuts lie that many happenings: a move of each side has some
// forty, so that most games of a few dozen plies are cut in every state.
const leastBetween, mostBetween = 3, 120

// longestArmed bounds how much motion, s, is waited for when the power is to go
// while something moves: a carry takes some 5 s.
const longestArmed = 8.0

// newCuts is the supply of one rehearsed game.
func newCuts(w *twin.World, seed int64, isOn bool) cuts {
	c := cuts{world: w}
	if isOn {
		c.chance = rand.New(rand.NewPCG(uint64(seed), streamCuts))
	}
	return c
}

// streamCuts keeps chance apart from the twin's streams.
const streamCuts = 1000

// begin begins a game's log.
func (c *cuts) begin(g *chess.Game, machine chess.Color) {
	c.heading, c.entries = store.Game{ID: 1, Machine: machine.String(), Start: g.Start.FEN(), Result: store.Unfinished}, nil
}

// on gives the power back to a session that end ends.
func (c *cuts) on(end context.CancelCauseFunc) {
	c.isCut, c.end = false, end
	if c.chance != nil {
		c.left = leastBetween + c.chance.IntN(mostBetween-leastBetween)
	}
}

// happens counts; half of the cuts fall at once, half while something moves.
func (c *cuts) happens() {
	if c.chance == nil || c.isCut {
		return
	}
	if c.left--; c.left > 0 {
		return
	}
	c.left = mostBetween
	if c.chance.IntN(2) == 0 {
		c.world.PowerCutAfter(longestArmed * (1 - c.chance.Float64()))
		return
	}
	c.world.PowerCut()
	c.cut()
}

func (c *cuts) cut() {
	c.isCut = true
	c.end(errCut)
}

// keep writes a record down; one that the cut is quicker than is lost.
func (c *cuts) keep(r table.Record) error {
	if c.happens(); c.isCut {
		return errCut
	}
	if c.chance != nil {
		e := gamelog.EntryOf(r)
		e.N = len(c.entries) + 1
		c.entries = append(c.entries, e)
	}
	return nil
}

// gantry is the twin's, which tells the supply when the power went under way.
type cutGantry struct {
	table.Gantry
	cuts *cuts
}

func (g cutGantry) noted(err error) error {
	if errors.Is(err, twin.ErrPowerCut) && !g.cuts.isCut {
		g.cuts.cut()
	}
	return err
}

// Home finds the zeros.
func (g cutGantry) Home(ctx context.Context) (frame.Spot[frame.Machine], error) {
	at, err := g.Gantry.Home(ctx)
	return at, g.noted(err)
}

// Move runs a stroke.
func (g cutGantry) Move(ctx context.Context, s carry.Stroke) (frame.Spot[frame.Machine], error) {
	at, err := g.Gantry.Move(ctx, s)
	return at, g.noted(err)
}

// Lift raises or lowers the magnet.
func (g cutGantry) Lift(ctx context.Context, raised bool) error {
	return g.noted(g.Gantry.Lift(ctx, raised))
}

// sitting is a table in a rehearsal, which the power may leave.
type sitting struct {
	spec     gameSpec
	bench    *bench
	player   table.Player
	suspects *table.Suspects
	setUp    bool // the pieces are set up for another game in the end
}

// sit plays a game to its end, through every cut.
func (r *referee) sit(ctx context.Context, s sitting, past table.Past) error {
	for {
		inner, end := context.WithCancelCause(ctx)
		r.cuts.on(end)
		err := r.session(inner, s, past)
		end(nil)
		if !errors.Is(context.Cause(inner), errCut) {
			return err
		}
		if past, err = r.takeUp(s); err != nil {
			return err
		}
		if s.suspects, err = table.NewSuspects(s.spec.rig); err != nil {
			return err
		}
	}
}

// session plays until the game is over or the power goes.
func (r *referee) session(ctx context.Context, s sitting, past table.Past) error {
	set := s.spec.settings()
	set.Suspects = s.suspects
	parts := s.bench.parts(r.world.Guest(), s.player, r)
	parts.Gantry = cutGantry{parts.Gantry, &r.cuts}
	r.table = table.New(parts, set, past, r.see)
	err := r.table.Run(ctx)
	for err == nil && r.table.IsWanted() { // the last move is taken back
		err = r.table.Grant(ctx)
	}
	if err == nil && s.setUp && !r.table.Arranged() {
		err = r.setUp(ctx)
	}
	return err
}

// takeUp is what the next session goes on with: what the log kept, with a
// reader that knows nothing. A log that does not fit the table is a state lost.
func (r *referee) takeUp(s sitting) (table.Past, error) {
	r.tally.PowerCuts++
	r.since = r.tally.Pictures
	k, err := gamelog.Replay(r.cuts.heading, r.cuts.entries)
	if err != nil {
		return k.Past, err
	}
	fmt.Fprintf(&r.log, "  the power was cut; %d plies, decided %v, %s\n", len(k.Game.Moves), k.Decided, k.Task)
	if wrong := differing(r.world.Truth(), goingOn(k.Past, chess.ColorNamed(s.spec.rig.Play.Side))); len(wrong) > 0 {
		fmt.Fprintf(&r.log, "  WRONG: %s\n", strings.Join(wrong, "; "))
		r.tally.LostState++
	}
	if s.bench.eye, err = newEye(s.spec.rig); err != nil {
		return k.Past, err
	}
	s.bench.eye.Begin(k.Game.Position())
	r.game = k.Game
	return k.Past, nil
}
