package app

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"boardhand/internal/carry"
	"boardhand/internal/chess"
	"boardhand/internal/rig"
	"boardhand/internal/search"
	"boardhand/internal/store"
	"boardhand/internal/table"
	"boardhand/internal/twin"
	"boardhand/internal/web"
)

type playFlags struct {
	games     string
	addr      string
	remote    remote
	resume    bool
	visitor   bool
	pace      float64
	seed      int64
	leave     bool
	plies     int
	specimens bool
	player    string
	input     io.Reader // what is typed at the terminal
}

func playCommand(o *out) *cobra.Command {
	f := playFlags{games: defaultGames, addr: "127.0.0.1:8640", pace: 1, seed: 1, input: os.Stdin}
	c := &cobra.Command{
		Use:   "play [RIG]",
		Short: "Play a whole game, with the pages for the guest and the maker",
		Long: `Plays a game at the table described by the rig file (the built-in one when none
is given) and serves its pages on this machine. On the twin the guest is
simulated; with --visitor you are the guest and move the men on the page.

While it plays, type: back (takes the last two moves back), back 1 (the last
one), again (sets the men up when the game is over), stop, resume. The pages
have a button for each.

Every move is on disk before it is acted on: after a power cut or a crash,
--resume goes on with the last unfinished game.`,
		Args: cobra.MaximumNArgs(1),
		RunE: func(c *cobra.Command, args []string) error {
			f.remote.given = c.Flags().Changed("addr")
			return play(c.Context(), o, f, args)
		},
	}
	c.Flags().StringVar(&f.games, "games", f.games, "folder to keep the games in")
	c.Flags().StringVar(&f.addr, "addr", f.addr, "address of the pages; port 0 picks a free one")
	f.remote.addFlags(c)
	c.Flags().BoolVar(&f.resume, "resume", false, "go on with the last unfinished game")
	c.Flags().BoolVar(&f.visitor, "visitor", false, "you are the guest: move the men on the page")
	c.Flags().Float64Var(&f.pace, "pace", f.pace, "seconds of the twin in one real second, 0.1 to 100")
	c.Flags().Int64Var(&f.seed, "seed", f.seed, "of everything left to chance on the twin")
	c.Flags().BoolVar(&f.leave, "leave", false, "end when the game is over instead of keeping the pages up")
	c.Flags().IntVar(&f.plies, "plies", 0, "stop the game after so many plies; 0: no limit")
	c.Flags().StringVar(&f.player, "player", "", "who chooses the machine's moves: uci:COMMAND; the built-in player when not given")
	c.Flags().BoolVar(&f.specimens, "specimens", false, "serve every state of the pages with canned data at /specimens")
	_ = c.Flags().MarkHidden("specimens")
	return c
}

// evening is one `play`.
type evening struct {
	o      *out
	f      playFlags
	rig    *rig.Rig
	store  *store.Store
	id     int64
	past   table.Past
	game   *chess.Game // the one being played: past's
	bench  *bench
	server *web.Server
	table  *table.Table
	host   *host
}

func play(ctx context.Context, o *out, f playFlags, args []string) error {
	if !(f.pace >= 0.1 && f.pace <= 100) {
		return fmt.Errorf("--pace must be 0.1 to 100; got %g", f.pace)
	}
	if err := f.remote.check(); err != nil {
		return err
	}
	e := &evening{o: o, f: f, rig: rig.Default()}
	if len(args) == 1 {
		var err error
		if e.rig, err = rig.Load(args[0], rig.Machine); err != nil {
			return err
		}
	}
	var err error
	if e.store, err = store.Open(f.games); err != nil {
		return err
	}
	defer func() { _ = e.store.Close() }()
	if err := e.store.Claim(); err != nil {
		return err
	}
	if err := e.open(ctx); err != nil {
		return err
	}
	return e.run(ctx)
}

// open takes up the game: the last unfinished one, or a new one.
func (e *evening) open(ctx context.Context) error {
	e.past = table.Past{Game: chess.NewGame(chess.Start())}
	if e.f.resume {
		if err := e.takeUp(ctx); err != nil {
			return err
		}
	}
	e.game = e.past.Game
	pos := e.game.Position()
	o := twin.Options{Seed: e.f.seed, Pace: e.f.pace, Visitor: e.f.visitor, FEN: pos.FEN(), Beside: aside(e.past.Standing, carry.Slots(e.rig))}
	if e.past.Standing != nil && e.past.Task.Kind != table.NoTask {
		o.Men = e.past.Standing.Board[:]
	}
	var err error
	if e.bench, err = setUp(e.rig, pos, o); err != nil || e.id != 0 {
		return err
	}
	return e.beginGame(ctx)
}

func (e *evening) beginGame(ctx context.Context) (err error) {
	pos := e.game.Position()
	e.id, err = e.store.Begin(ctx, store.Game{Started: time.Now(), Rig: e.rig.Path, Machine: e.rig.Play.Side, Start: pos.FEN()})
	return err
}

// takeUp finds the last unfinished game, or the last one of all when the men
// were being set up after it.
func (e *evening) takeUp(ctx context.Context) error {
	games, err := e.store.Games(ctx)
	if err != nil {
		return err
	}
	for i, g := range games {
		if g.Result != string(chess.Unfinished) && i > 0 {
			continue
		}
		entries, err := e.store.Entries(ctx, g.ID)
		if err != nil {
			return err
		}
		k, err := replay(g, entries)
		if err != nil {
			return err
		}
		if g.Result != string(chess.Unfinished) && k.Task.Kind == table.NoTask {
			continue
		}
		if g.Machine != e.rig.Play.Side {
			return fmt.Errorf("game %d was begun with the machine playing %s; set play.side to it", g.ID, g.Machine)
		}
		e.id, e.past = g.ID, k.Past
		return nil
	}
	return errors.New("no unfinished game is kept here; leave out --resume to begin one")
}

func (e *evening) run(ctx context.Context) error {
	e.host = newHost(ctx, e)
	e.server = web.New(e.host)
	e.server.Specimens, e.server.Requests = e.f.specimens, e.host
	e.f.remote.open(e.server)
	ln, err := e.server.Listen(e.f.remote.address(e.f.addr))
	if err != nil {
		return fmt.Errorf("%w (flags --addr and --allow-remote)", err)
	}
	ctx, stop := context.WithCancel(ctx)
	defer stop()
	served := make(chan error, 1)
	go func() { served <- e.server.ServeOn(ctx, ln) }()
	e.o.printf("game %d, kept in %s\n", e.id, e.f.games)
	e.f.remote.announce(e.o, ln.Addr())

	p, err := openThinker(ctx, e.f.player, searchMB)
	if err != nil {
		return err
	}
	defer p.close()
	played := make(chan error, 1)
	go func() {
		played <- e.playOn(ctx, player{p, search.Limits{Time: time.Duration(float64(e.rig.Play.Time) * float64(time.Second))}})
	}()
	select {
	case err := <-played:
		return err
	case err := <-served:
		stop()
		if perr := <-played; err == nil {
			err = perr
		}
		return err
	}
}

// playOn plays game after game, as long as somebody wishes for one.
func (e *evening) playOn(ctx context.Context, think player) error {
	for listening := false; ; listening = true {
		set := settings(e.rig)
		set.MaxPlies = e.f.plies
		e.table = table.New(e.bench.parts(e.host.guest(), think, diskLog{e.store, e.id}), set, e.past, e.host.see)
		e.host.seat(e.table)
		e.host.open()
		if !listening {
			go e.listen(ctx, e.f.input)
		}
		next, err := e.playOne(ctx)
		if err != nil || !next {
			return err
		}
		standing := e.table.Standing()
		e.past = table.Past{Game: chess.NewGame(chess.Start()), Standing: &standing}
		e.game = e.past.Game
		if err := e.beginGame(ctx); err != nil {
			return err
		}
		e.o.printf("game %d\n", e.id)
	}
}

// playOne plays one game to its end, and on if moves are taken back; it says
// whether the men were set up for another one.
func (e *evening) playOne(ctx context.Context) (next bool, err error) {
	err = e.table.Run(ctx)
	for {
		if err != nil {
			return false, err
		}
		if e.table.Arranged() {
			return true, nil
		}
		o := e.game.Outcome()
		if err := e.store.Finish(ctx, e.id, string(o.Result), string(o.Reason)); err != nil {
			return false, err
		}
		if o.Over() {
			e.o.printf("%s\n", o)
		}
		if e.f.leave {
			return false, nil
		}
		e.o.printf("The pages stay up until Ctrl-C.  As PGN:  boardhand games pgn %d --games %s\n", e.id, e.f.games)
		if err := e.table.Rest(ctx); err != nil {
			return false, nil // Ctrl-C
		}
		err = e.grant(ctx)
	}
}

// grant does what was wished for when the game was over; a game with moves
// taken back is unfinished again.
func (e *evening) grant(ctx context.Context) error {
	if e.table.Wished() == table.TakeBack {
		if err := e.store.Finish(ctx, e.id, string(chess.Unfinished), ""); err != nil {
			return err
		}
	}
	return e.table.Grant(ctx)
}

// listen does what is typed at the terminal.
func (e *evening) listen(ctx context.Context, from io.Reader) {
	if from == nil {
		return
	}
	for s := bufio.NewScanner(from); s.Scan(); {
		word := strings.Join(strings.Fields(s.Text()), " ")
		var err error
		switch word {
		case "":
			continue
		case "back":
			err = e.host.Request(ctx, web.Request{For: web.ForBack, Plies: 2})
		case "back 1":
			err = e.host.Request(ctx, web.Request{For: web.ForBack, Plies: 1})
		case "again":
			err = e.host.Request(ctx, web.Request{For: web.ForNew})
		case "stop":
			err = e.host.Halt(ctx)
		case "resume":
			err = e.host.Resume(ctx)
		default:
			err = fmt.Errorf("%q is nothing to type here: %s", word, typed)
		}
		if err != nil {
			e.o.printf("%v\n", err)
		}
	}
}

// typed says what may be typed while a game is played.
const typed = "back (takes the last two moves back), back 1 (the last one), again (sets the men up when the game is over), stop, resume"
