// SPDX-License-Identifier: Apache-2.0

// Package session is what `play` does: it puts a machine, its pages and the log
// together and plays game after game. Only here is it known which machine is the twin.
package session

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"sync/atomic"

	"boardhand/internal/chess"
	"boardhand/internal/gamelog"
	"boardhand/internal/host"
	"boardhand/internal/measured"
	"boardhand/internal/rig"
	"boardhand/internal/search"
	"boardhand/internal/store"
	"boardhand/internal/table"
	"boardhand/internal/table/journal"
	"boardhand/internal/table/places"
	"boardhand/internal/terminal"
	"boardhand/internal/twin"
	"boardhand/internal/unit"
	"boardhand/internal/web"
)

type Options struct {
	Games     string
	Addr      string
	Remote    Remote
	FEN       string // where the game begins; "": from the usual position
	Side      string // the machine's; "": the rig's
	Resume    string // "": a new game; "last", or the number of a game
	GoOn      bool   // go on with the unfinished game, or begin one
	Keep      string // room for pictures
	Visitor   bool
	Pace      float64
	Seed      int64
	Leave     bool
	Plies     int
	Specimens bool
	Player    string
	Strength  string                         // how strongly the machine plays; "": as the game that goes on was, or as the rig says
	Chance    uint64                         // of the player's choice among moves; the next game has another
	PlayerSet []string                       // options of an outside player, each NAME=VALUE
	World     string                         // file of the twin's table
	MotorLog  string                         // file for what is said to a motor controller and what it says; "": none
	Input     io.Reader                      // what is typed at the terminal
	Told      func(*Session, journal.Record) // of each record once it is kept; nil: nobody
	// Up runs beside the game once the pages are served; alive returns unless the game hangs. nil: nothing.
	Up func(ctx context.Context, alive func())
}

// Session is one `play`.
type Session struct {
	Out     *terminal.Out
	Options Options
	Rig     *rig.Rig
	RigText string
	Store   *store.Store
	Heading store.Game // of the game being played; ID 0: it has not begun in the store
	ended   store.Game // after which the pieces were set up when the program ended; ID 0: none
	log     *gamelog.Log
	Past    journal.Past
	Game    *chess.Game // the one being played: past's
	Bench   *Bench
	server  *web.Server
	Table   *table.Table
	Host    *host.Host
	now     atomic.Pointer[chess.Position] // for what is typed
	lens    LensCheck
}

// checkFlags refuses what makes no sense, and reads the room for pictures.
func (e *Session) checkFlags() (keep int64, err error) {
	f := e.Options
	switch {
	case !(f.Pace >= 0.1 && f.Pace <= 100):
		return 0, fmt.Errorf("--pace must be 0.1 to 100; got %g", f.Pace)
	case f.Plies < 0:
		return 0, fmt.Errorf("--plies must be 0 (no limit) or more; got %d", f.Plies)
	case f.GoOn && f.Resume != "":
		return 0, errors.New("--continue and --resume do the same; give one of them")
	}
	if f.FEN != "" {
		if err := journal.CheckStart(f.FEN); err != nil {
			return 0, fmt.Errorf("--fen: %w", err)
		}
	}
	if f.Side != "" && f.Side != "white" && f.Side != "black" {
		return 0, fmt.Errorf("--side must be white or black, the machine's; got %q", f.Side)
	}
	if (f.FEN != "" || f.Side != "") && (f.GoOn || f.Resume != "") {
		return 0, errors.New("--fen and --side are for a new game: one that goes on has its own; leave out --resume and --continue")
	}
	if _, err := search.StrengthNamed(f.Strength); f.Strength != "" && err != nil {
		return 0, fmt.Errorf("--strength: %w", err)
	}
	return ParseSize(f.Keep)
}

// loadRig reads the rig file and its text, which is kept with the game.
func (e *Session) loadRig(path string) (err error) {
	if e.Rig, err = rig.Load(path, rig.Machine); err != nil {
		return err
	}
	text, err := os.ReadFile(path)
	e.RigText = string(text)
	if err != nil {
		return err
	}
	return TakeMeasured(e.Out, e.Rig, e.Options.Seed)
}

// takeSide has the machine play the side that was asked for.
func (e *Session) takeSide() error {
	side := e.Options.Side
	if side == "" {
		return nil
	}
	if !e.Rig.Pieces.Carries(side) {
		return fmt.Errorf("--side %s: the machine cannot play %s on this rig: those pieces hold no magnets (pieces.carried)", side, side)
	}
	e.Rig.Play.Side = side
	return nil
}

// TakeMeasured gives a rig what bring-up measured at its machine, on the twin that of a seed.
func TakeMeasured(o *terminal.Out, r *rig.Rig, seed int64) error {
	f, err := measured.Load(r.Path)
	if err != nil {
		return err
	}
	if text := f.Apply(r, MachineName(r, seed)); text != "" && !o.JSON {
		o.Printf("%s\n", text)
	}
	return nil
}

// warn tells the maker something that does not stop the game, at the terminal
// and on Bench.
func (e *Session) warn(text string) {
	e.Out.Complain("%s", text)
	if e.server != nil {
		e.server.Publish(web.Event{Log: []web.Line{{Text: text}}})
	}
}

// Open takes up the game: an unfinished one, or a new one.
func (e *Session) Open(ctx context.Context) error {
	e.Past = journal.Past{Game: chess.NewGame(journal.Task{Start: e.Options.FEN}.Position())}
	var err error
	if e.Options.Resume != "" || e.Options.GoOn {
		err = e.TakeUp(ctx)
	} else {
		err = e.mentionUnfinished(ctx)
	}
	if err != nil && !(e.Options.GoOn && errors.Is(err, errNoneOpen)) {
		return err
	}
	e.Game = e.Past.Game
	pos := e.Game.Position()
	if e.Heading.ID == 0 {
		e.Heading = e.newHeading()
	}
	if e.ended.ID != 0 {
		if err := e.beginAfter(ctx, e.ended); err != nil {
			return err
		}
	}
	o := twin.Options{Seed: e.Options.Seed, Pace: e.Options.Pace, Visitor: e.Options.Visitor, Keep: e.Options.World, FEN: pos.FEN(), Beside: Aside(e.Past.Standing, e.Rig.Slots())}
	if e.Past.Standing != nil && e.Past.Task.Kind != journal.NoTask {
		o.Pieces = e.Past.Standing.Board[:]
	}
	e.Bench, err = setUpMotors(ctx, e.Rig, pos, o, e.Options.MotorLog, e.warn)
	return err
}

// newHeading is that of a game which begins now.
func (e *Session) newHeading() store.Game {
	pos := e.Game.Position()
	return store.Game{Rig: e.Rig.Path, RigText: e.RigText, Machine: e.Rig.Play.Side, Start: pos.FEN()}
}

// keepLog makes the log of the game that is played now.
func (e *Session) keepLog() {
	standing := ""
	if e.Past.Standing != nil {
		standing = e.Past.Standing.String()
	}
	e.log = &gamelog.Log{Standing: standing, Store: e.Store, Heading: e.Heading, Game: e.Game, Warn: e.warn, Begun: func(g store.Game) {
		e.Heading = g
		e.Out.Printf("game %d, kept in %s\n", g.ID, e.Options.Games)
	}}
	pos := e.Game.Position()
	e.now.Store(&pos)
}

// Append writes a record down, and remembers the position for what is typed.
func (e *Session) Append(ctx context.Context, r journal.Record) error {
	pos := e.Game.Position()
	e.now.Store(&pos)
	err := e.log.Append(ctx, r)
	if e.Options.Told != nil && err == nil {
		e.Options.Told(e, r)
	}
	return err
}

// strengths are the rungs of the player's ladder, as the pages show them.
func strengths() (out []web.Rung) {
	for _, s := range search.Ladder {
		out = append(out, web.Rung{Name: s.Name, For: s.For})
	}
	return out
}

// hosting is what the host of this session must know.
func (e *Session) hosting() host.Options {
	b := e.Bench
	o := host.Options{Rig: e.Rig, Seat: host.Simulated, IsLast: e.Options.Leave, Pace: e.Options.Pace, Planner: b.planner, View: b.Eye.View, Strengths: strengths(),
		Tell: func(s journal.State, text string) { e.Out.Printf("%-10s %s\n", s, text) }}
	switch {
	case b.World == nil:
		o.Seat, o.Pace = host.AtTheBoard, 1
		return o
	case e.Options.Visitor:
		o.Seat = host.AtThePage
	}
	hand := b.World.Visitor()
	o.Guest, o.Fingers, o.Linger, o.Offer = b.World.Guest(), hand, hand.Finish, hand.Offer
	return o
}

// follow makes the past that of a game about to begin on a board that was set up.
func (e *Session) follow(standing places.Standing, next journal.Task) {
	if next.Side != "" {
		e.Rig.Play.Side = next.Side
	}
	if next.Time > 0 {
		e.Rig.Play.Time = unit.Duration(next.Time.Seconds())
	}
	e.Past = journal.Past{Game: chess.NewGame(next.Position()), Standing: &standing}
}

func Play(ctx context.Context, o *terminal.Out, f Options, args []string) error {
	e := &Session{Out: o, Options: f, Rig: rig.Default(), RigText: rig.DefaultText}
	keep, err := e.checkFlags()
	if err != nil {
		return err
	}
	if err := f.Remote.check(f.Addr); err != nil {
		return err
	}
	if len(args) == 1 {
		if err := e.loadRig(args[0]); err != nil {
			return err
		}
	}
	if err := e.takeSide(); err != nil {
		return err
	}
	if e.Store, err = store.Open(f.Games); err != nil {
		return err
	}
	defer func() { _ = e.Store.Close() }()
	e.Store.Warn, e.Store.KeepPictures = e.warn, max(keep, 1)
	if err := e.Store.Claim(); err != nil {
		return err
	}
	outliveTerminal()
	said, complained := terminal.NewScreen(o.W), terminal.NewScreen(o.Err)
	defer complained.Close()
	defer said.Close()
	e.Out = &terminal.Out{W: said, Err: complained, JSON: o.JSON}
	if err := e.Open(ctx); err != nil {
		return err
	}
	defer func() { _ = e.Bench.Close() }()
	return e.Run(ctx)
}
