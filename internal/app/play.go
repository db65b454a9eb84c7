// SPDX-License-Identifier: Apache-2.0

package app

import (
	"bufio"
	"cmp"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"strings"
	"sync/atomic"
	"time"

	"github.com/spf13/cobra"

	"boardhand/internal/carry"
	"boardhand/internal/chess"
	"boardhand/internal/gamelog"
	"boardhand/internal/host"
	"boardhand/internal/player"
	"boardhand/internal/rig"
	"boardhand/internal/search"
	"boardhand/internal/store"
	"boardhand/internal/table"
	"boardhand/internal/twin"
	"boardhand/internal/unit"
	"boardhand/internal/web"
)

type playFlags struct {
	games     string
	addr      string
	remote    remote
	resume    string // "": a new game; "last", or the number of a game
	goOn      bool   // go on with the unfinished game, or begin one
	keep      string // room for pictures
	visitor   bool
	pace      float64
	seed      int64
	leave     bool
	plies     int
	specimens bool
	player    string
	world     string                       // file of the twin's table
	input     io.Reader                    // what is typed at the terminal
	told      func(*evening, table.Record) // of each record once it is kept; nil: nobody
}

func playCommand(o *out) *cobra.Command {
	f := playFlags{games: defaultGames, addr: "127.0.0.1:8640", keep: defaultKeep, pace: 1, seed: 1, input: os.Stdin}
	c := &cobra.Command{
		Use:   "play [RIG]",
		Short: "Play a whole game, with the pages for the guest and the maker",
		Long: `Plays a game at the table described by the rig file (the built-in one when none
is given) and serves its pages on this machine. It works on the twin only, the
simulated table with its camera: motor controllers and real cameras are not
driven yet. The twin's guest is simulated; with --visitor you are the guest and
move the pieces on the page.

While it plays, type help for what may be typed. The game goes on when the
terminal is closed or not read; Ctrl-C and SIGTERM end it cleanly.

Every move is on disk before it is acted on: after a power cut or a crash,
--resume goes on with the last unfinished game, --resume=N with game N.
--continue, for a program that starts at boot, goes on with the last unfinished
game and begins a new one where there is none.`,
		Args: resumeArgs,
		RunE: func(c *cobra.Command, args []string) error {
			f.remote.given = c.Flags().Changed("addr")
			return play(c.Context(), o, f, args)
		},
	}
	c.Flags().StringVar(&f.games, "games", f.games, "folder to keep the games in")
	c.Flags().StringVar(&f.addr, "addr", f.addr, "address of the pages; port 0 picks a free one")
	f.remote.addFlags(c)
	c.Flags().StringVar(&f.resume, "resume", "", "go on with the last unfinished game; --resume=N with game N")
	c.Flags().Lookup("resume").NoOptDefVal = lastGame
	c.Flags().BoolVar(&f.goOn, "continue", false, "go on with the last unfinished game, or begin one")
	c.Flags().StringVar(&f.keep, "keep-pictures", f.keep, "room for pictures; those of the oldest games go first, those of unfinished ones never")
	c.Flags().BoolVar(&f.visitor, "visitor", false, "you are the guest: move the pieces on the page")
	c.Flags().Float64Var(&f.pace, "pace", f.pace, "seconds of the twin in one real second, 0.1 to 100")
	c.Flags().Int64Var(&f.seed, "seed", f.seed, "of everything left to chance on the twin")
	c.Flags().BoolVar(&f.leave, "leave", false, "end when the game is over instead of keeping the pages up")
	c.Flags().IntVar(&f.plies, "plies", 0, "stop the game after so many plies; 0: no limit")
	c.Flags().StringVar(&f.player, "player", "", "who chooses the machine's moves: uci:COMMAND; the built-in player when not given")
	c.Flags().StringVar(&f.world, "world", "", "file that keeps the twin's table as it truly stands, for the next start")
	_ = c.Flags().MarkHidden("world")
	c.Flags().BoolVar(&f.specimens, "specimens", false, "serve every state of the pages with canned data at /specimens")
	_ = c.Flags().MarkHidden("specimens")
	return c
}

// evening is one `play`.
type evening struct {
	o       *out
	f       playFlags
	rig     *rig.Rig
	rigText string
	store   *store.Store
	heading store.Game // of the game being played; ID 0: it has not begun in the store
	ended   store.Game // after which the pieces were set up when the program ended; ID 0: none
	log     *gamelog.Log
	past    table.Past
	game    *chess.Game // the one being played: past's
	bench   *bench
	server  *web.Server
	table   *table.Table
	host    *host.Host
	now     atomic.Pointer[chess.Position] // for what is typed
}

func play(ctx context.Context, o *out, f playFlags, args []string) error {
	e := &evening{o: o, f: f, rig: rig.Default(), rigText: rig.DefaultText}
	keep, err := e.checkFlags()
	if err != nil {
		return err
	}
	if err := f.remote.check(f.addr); err != nil {
		return err
	}
	if len(args) == 1 {
		if err := e.loadRig(args[0]); err != nil {
			return err
		}
	}
	if e.store, err = store.Open(f.games); err != nil {
		return err
	}
	defer func() { _ = e.store.Close() }()
	e.store.Warn, e.store.KeepPictures = e.warn, max(keep, 1)
	if err := e.store.Claim(); err != nil {
		return err
	}
	outliveTerminal()
	said, complained := newScreen(o.w), newScreen(o.err)
	defer complained.close()
	defer said.close()
	e.o = &out{w: said, err: complained, json: o.json}
	if err := e.open(ctx); err != nil {
		return err
	}
	return e.run(ctx)
}

// checkFlags refuses what makes no sense, and reads the room for pictures.
func (e *evening) checkFlags() (keep int64, err error) {
	f := e.f
	switch {
	case !(f.pace >= 0.1 && f.pace <= 100):
		return 0, fmt.Errorf("--pace must be 0.1 to 100; got %g", f.pace)
	case f.plies < 0:
		return 0, fmt.Errorf("--plies must be 0 (no limit) or more; got %d", f.plies)
	case f.goOn && f.resume != "":
		return 0, errors.New("--continue and --resume do the same; give one of them")
	}
	return parseSize(f.keep)
}

// loadRig reads the rig file and its text, which is kept with the game.
func (e *evening) loadRig(path string) (err error) {
	if e.rig, err = rig.Load(path, rig.Machine); err != nil {
		return err
	}
	text, err := os.ReadFile(path)
	e.rigText = string(text)
	return err
}

// warn tells the maker something that does not stop the game, at the terminal
// and on Bench.
func (e *evening) warn(text string) {
	e.o.complain("%s", text)
	if e.server != nil {
		e.server.Publish(web.Event{Log: []web.Line{{Text: text}}})
	}
}

// open takes up the game: an unfinished one, or a new one.
func (e *evening) open(ctx context.Context) error {
	e.past = table.Past{Game: chess.NewGame(chess.Start())}
	var err error
	if e.f.resume != "" || e.f.goOn {
		err = e.takeUp(ctx)
	} else {
		err = e.mentionUnfinished(ctx)
	}
	if err != nil && !(e.f.goOn && errors.Is(err, errNoneOpen)) {
		return err
	}
	e.game = e.past.Game
	pos := e.game.Position()
	if e.heading.ID == 0 {
		e.heading = e.newHeading()
	}
	if e.ended.ID != 0 {
		if err := e.beginAfter(ctx, e.ended); err != nil {
			return err
		}
	}
	o := twin.Options{Seed: e.f.seed, Pace: e.f.pace, Visitor: e.f.visitor, Keep: e.f.world, FEN: pos.FEN(), Beside: aside(e.past.Standing, carry.Slots(e.rig))}
	if e.past.Standing != nil && e.past.Task.Kind != table.NoTask {
		o.Pieces = e.past.Standing.Board[:]
	}
	e.bench, err = setUp(e.rig, pos, o)
	return err
}

// newHeading is that of a game which begins now.
func (e *evening) newHeading() store.Game {
	pos := e.game.Position()
	return store.Game{Rig: e.rig.Path, RigText: e.rigText, Machine: e.rig.Play.Side, Start: pos.FEN()}
}

// keepLog makes the log of the game that is played now.
func (e *evening) keepLog() {
	standing := ""
	if e.past.Standing != nil {
		standing = e.past.Standing.String()
	}
	e.log = &gamelog.Log{Standing: standing, Store: e.store, Heading: e.heading, Game: e.game, Warn: e.warn, Begun: func(g store.Game) {
		e.heading = g
		e.o.printf("game %d, kept in %s\n", g.ID, e.f.games)
	}}
	pos := e.game.Position()
	e.now.Store(&pos)
}

// Append writes a record down, and remembers the position for what is typed.
func (e *evening) Append(ctx context.Context, r table.Record) error {
	pos := e.game.Position()
	e.now.Store(&pos)
	err := e.log.Append(ctx, r)
	if e.f.told != nil && err == nil {
		e.f.told(e, r)
	}
	return err
}

// hosting is what the host of this evening must know.
func (e *evening) hosting() host.Options {
	b := e.bench
	return host.Options{Rig: e.rig, IsVisitor: e.f.visitor, IsLast: e.f.leave, Pace: e.f.pace,
		Guest: b.world.Guest(), Fingers: b.world.Visitor(), Linger: b.world.Visitor().Finish, Offer: b.world.Visitor().Offer, Planner: b.planner, View: b.eye.View,
		Tell: func(s table.State, text string) { e.o.printf("%-10s %s\n", s, text) }}
}

func (e *evening) run(ctx context.Context) error {
	e.host = host.New(ctx, e.hosting())
	e.server = web.New(e.host)
	e.host.Publish = e.server.Publish
	e.server.Specimens, e.server.Requests = e.f.specimens, e.host
	e.f.remote.open(e.server)
	ln, err := e.server.Listen(e.f.remote.address(e.f.addr))
	if err != nil {
		return fmt.Errorf("--addr: %w", err)
	}
	ctx, stop := context.WithCancel(ctx)
	defer stop()
	served := make(chan error, 1)
	go func() { served <- e.server.ServeOn(ctx, ln) }()

	p, err := player.Open(ctx, player.Options{Name: e.f.player, Machine: chess.ColorNamed(e.rig.Play.Side), Tell: e.tellSubstitution,
		Limits: search.Limits{Time: e.thinkingTime()}})
	if err != nil {
		return err
	}
	defer p.Close()
	if e.heading.ID != 0 {
		e.o.printf("game %d, kept in %s\n", e.heading.ID, e.f.games)
	}
	e.f.remote.announce(e.o, ln.Addr())
	played := make(chan error, 1)
	go func() { played <- e.playOn(ctx, p) }()
	select {
	case err = <-played:
	case err = <-served:
		stop()
		err = cmp.Or(err, <-played)
	}
	return err
}

// tellSubstitution tells the people at the table, and with the cause the maker,
// that somebody else chooses the moves now.
func (e *evening) tellSubstitution(s player.Substitution) {
	e.table.ChangePlayer(s.Said)
	if s.Cause != nil {
		e.warn(fmt.Sprintf("%s (%v)", s.Said, s.Cause))
	}
}

// playOn plays game after game, as long as somebody wishes for one.
func (e *evening) playOn(ctx context.Context, think *player.Player) error {
	suspects, err := table.NewSuspects(e.rig)
	if err != nil {
		return err
	}
	for listening := false; ; listening = true {
		set := settings(e.rig)
		set.MaxPlies, set.Suspects = e.f.plies, suspects
		e.keepLog()
		e.table = table.New(e.bench.parts(e.host.Guest(), think, e), set, e.past, e.see)
		e.host.Open(e.table, e.past)
		if !listening {
			e.log.WarnLow()
			go e.listen(ctx, e.f.input)
		}
		next, err := e.playOne(ctx)
		if err != nil || !next {
			return err
		}
		if err := e.nextGame(ctx); err != nil {
			return err
		}
		think.SetTime(e.thinkingTime())
	}
}

// see shows what happens, and hands in what the twin's guest says unasked.
func (e *evening) see(ev table.Event) {
	e.host.See(ev)
	if ev.Picture == nil || e.f.visitor {
		return
	}
	s, ok := e.bench.world.Guest().Says()
	if !ok {
		return
	}
	e.o.printf("%-10s the guest says: %s\n", "", sayingWords(s))
	if err := e.table.Request(table.Request{Kind: table.RequestKind(s.Kind), Move: s.Move}); err != nil {
		e.o.printf("%v\n", err)
	}
}

// sayingWords is what the twin's guest says, in words.
func sayingWords(s twin.Saying) string {
	switch {
	case s.Kind == twin.SaysRight:
		return "it is right as it stands"
	case s.Move == 0:
		return "nothing was played"
	}
	return "I played " + s.Move.String()
}

// thinkingTime is that of a move of the machine.
func (e *evening) thinkingTime() time.Duration {
	return time.Duration(float64(e.rig.Play.Time) * float64(time.Second))
}

// nextGame begins a game at the board as it was set up. It is in the store at
// once: who stands beside the board is part of it.
func (e *evening) nextGame(ctx context.Context) error {
	if err := e.log.Abandon(ctx); err != nil {
		return err
	}
	e.follow(e.table.Standing(), e.table.Next())
	e.game = e.past.Game
	e.heading = e.newHeading()
	e.keepLog()
	return e.log.BeginSetUp(ctx)
}

// follow makes the past that of a game about to begin on a board that was set up.
func (e *evening) follow(standing table.Standing, next table.Task) {
	if next.Side != "" {
		e.rig.Play.Side = next.Side
	}
	if next.Time > 0 {
		e.rig.Play.Time = unit.Duration(next.Time.Seconds())
	}
	e.past = table.Past{Game: chess.NewGame(chess.Start()), Standing: &standing}
}

// beginAfter begins the game for which the pieces were set up when the program
// ended.
func (e *evening) beginAfter(ctx context.Context, last store.Game) error {
	if last.Open() {
		if err := e.store.Finish(ctx, last.ID, store.Unfinished, store.Abandoned); err != nil {
			return err
		}
	}
	e.keepLog()
	return e.log.BeginSetUp(ctx)
}

// playOne plays one game to its end, and on if moves are taken back; it says
// whether the pieces were set up for another one.
func (e *evening) playOne(ctx context.Context) (next bool, err error) {
	err = e.table.Run(ctx)
	for {
		if err != nil {
			return false, err
		}
		if e.table.Arranged() {
			return true, nil
		}
		if err := e.log.Close(ctx); err != nil {
			return false, err
		}
		if o := e.game.Outcome(); o.Over() {
			e.o.printf("%s\n", o)
		}
		if e.f.leave {
			return false, nil
		}
		e.o.printf("The pages stay up until Ctrl-C.  As PGN:  boardhand games pgn %d --games %s\n", e.heading.ID, e.f.games)
		err = e.table.Rest(ctx)
	}
}

// listen does what is typed at the terminal.
func (e *evening) listen(ctx context.Context, from io.Reader) {
	if from == nil {
		return
	}
	for s := bufio.NewScanner(from); s.Scan(); {
		if strings.TrimSpace(s.Text()) == "" {
			continue
		}
		r, stop, err := parseTyped(s.Text(), *e.now.Load())
		switch {
		case err != nil:
		case stop:
			if err = e.host.Halt(ctx); err == nil {
				e.o.printf("stopped: the motors stand still; type resume to let the machine go on\n")
			}
		default:
			if err = e.host.Desk().Request(r); err == nil && r.Kind == table.RequestResume {
				e.o.printf("going on\n")
			}
		}
		if err != nil {
			e.o.printf("%v\n", err)
		}
	}
}
