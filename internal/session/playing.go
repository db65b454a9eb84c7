// SPDX-License-Identifier: Apache-2.0

package session

import (
	"bufio"
	"cmp"
	"context"
	"errors"
	"fmt"
	"io"
	"strings"
	"time"

	"boardhand/internal/chess"
	"boardhand/internal/host"
	"boardhand/internal/office"
	"boardhand/internal/player"
	"boardhand/internal/search"
	"boardhand/internal/store"
	"boardhand/internal/table"
	"boardhand/internal/table/journal"
	"boardhand/internal/twin"
	"boardhand/internal/web"
)

func (e *Session) Run(ctx context.Context) error {
	e.Host = host.New(ctx, e.hosting())
	e.server = web.New(e.Host)
	e.Host.Publish = e.server.Publish
	e.server.Specimens, e.server.Requests = e.Options.Specimens, e.Host
	e.openOffice()
	e.Options.Remote.open(e.server)
	ln, err := e.server.Listen(e.Options.Remote.address(e.Options.Addr))
	if err != nil {
		return fmt.Errorf("--addr: %w", err)
	}
	ctx, stop := context.WithCancel(ctx)
	defer stop()
	served := make(chan error, 1)
	go func() { served <- e.server.ServeOn(ctx, ln) }()

	p, err := player.Open(ctx, player.Options{Name: e.Options.Player, Set: e.Options.PlayerSet, Machine: chess.ColorNamed(e.Rig.Play.Side), Tell: e.tellSubstitution,
		Limits: search.Limits{Time: e.ThinkingTime()}, Chance: e.Options.Chance})
	if err != nil {
		return err
	}
	defer p.Close()
	if err := e.strengthen(p); err != nil {
		return err
	}
	if e.Heading.ID != 0 {
		e.Out.Printf("game %d, kept in %s\n", e.Heading.ID, e.Options.Games)
	}
	e.Options.Remote.announce(e.Out, ln.Addr())
	if e.Options.Up != nil {
		go e.Options.Up(ctx, func() { e.Host.IsBusy() }) // whose lock everything that happens takes
	}
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

// openOffice has the rig in play on a page of its own, where nothing can be changed. A game goes on
// without it.
func (e *Session) openOffice() {
	o, err := office.Of(e.Rig.Name(), []byte(e.RigText))
	if err != nil {
		e.warn(fmt.Sprintf("there is no Drawing office: %v", err))
		return
	}
	e.server.Office = o.Handler()
	e.server.Publish(o.Event())
}

// strengthen has the player begin as strongly as was asked for, or as it played
// when the game was left, or as the rig says.
func (e *Session) strengthen(p *player.Player) error {
	if p.HasStrengths() {
		return p.SetStrength(cmp.Or(e.Options.Strength, e.Past.Strength, e.Rig.Play.Strength))
	}
	if e.Options.Strength != "" {
		return errors.New("--strength is for the built-in player: set that of another one with --player-option")
	}
	return nil
}

// tellSubstitution tells the people at the table, and with the cause the maker,
// that somebody else chooses the moves now.
func (e *Session) tellSubstitution(s player.Substitution) {
	e.Table.ChangePlayer(s.Said)
	if s.Cause != nil {
		e.warn(fmt.Sprintf("%s (%v)", s.Said, s.Cause))
	}
}

// playOn plays game after game, as long as somebody asks for one.
func (e *Session) playOn(ctx context.Context, think *player.Player) error {
	suspects, err := table.NewSuspects(e.Rig)
	if err != nil {
		return err
	}
	for listening := false; ; listening = true {
		set := settings(e.Rig)
		set.MaxPlies, set.Suspects, set.Strength = e.Options.Plies, suspects, think.Strength()
		e.keepLog()
		e.Table = table.New(e.Bench.parts(e.Host.Guest(), think, e), set, e.Past, e.see)
		e.Past.Strength = set.Strength
		e.Host.Open(e.Table, e.Past)
		if !listening {
			e.log.WarnLow()
			go e.listen(ctx, e.Options.Input)
		}
		next, err := e.playOne(ctx)
		if err != nil || !next {
			return err
		}
		if err := e.nextGame(ctx); err != nil {
			return err
		}
		think.SetTime(e.ThinkingTime())
		think.NextGame()
	}
}

// see shows what happens, and hands in what the twin's guest says unasked.
func (e *Session) see(ev table.Event) {
	e.Host.See(ev)
	if text := e.lens.Words(e.Rig, e.Bench.Eye); text != "" {
		e.warn(text)
	}
	if ev.Picture == nil || e.Options.Visitor || e.Bench.World == nil {
		return
	}
	s, ok := e.Bench.World.Guest().Says()
	if !ok {
		return
	}
	e.Out.Printf("%-10s the guest says: %s\n", "", sayingWords(s))
	if err := e.Table.Request(journal.Request{Kind: journal.RequestKind(s.Kind), Move: s.Move}); err != nil {
		e.Out.Printf("%v\n", err)
	}
}

// sayingWords is what the twin's guest says, in words.
func sayingWords(s twin.Saying) string {
	switch {
	case s.Kind == twin.SaysAfresh:
		return "there is no hand; look afresh"
	case s.Kind == twin.SaysRight:
		return "it is right as it stands"
	case s.Move == 0:
		return "nothing was played"
	}
	return "I played " + s.Move.String()
}

// ThinkingTime is that of a move of the machine.
func (e *Session) ThinkingTime() time.Duration {
	return time.Duration(float64(e.Rig.Play.Time) * float64(time.Second))
}

// nextGame begins a game at the board as it was set up. It is in the store at
// once: who stands beside the board is part of it.
func (e *Session) nextGame(ctx context.Context) error {
	if err := e.log.Abandon(ctx); err != nil {
		return err
	}
	e.follow(e.Table.Standing(), e.Table.Next())
	e.Game = e.Past.Game
	e.Heading = e.newHeading()
	e.keepLog()
	return e.log.BeginSetUp(ctx)
}

// beginAfter begins the game for which the pieces were set up when the program
// ended.
func (e *Session) beginAfter(ctx context.Context, last store.Game) error {
	if last.Open() {
		if err := e.Store.Finish(ctx, last.ID, store.Unfinished, store.Abandoned); err != nil {
			return err
		}
	}
	e.keepLog()
	return e.log.BeginSetUp(ctx)
}

// playOne plays one game to its end, and on if moves are taken back; it says
// whether the pieces were set up for another one.
func (e *Session) playOne(ctx context.Context) (next bool, err error) {
	err = e.Table.Run(ctx)
	for {
		if err != nil {
			return false, err
		}
		if e.Table.Arranged() {
			return true, nil
		}
		if err := e.log.Close(ctx); err != nil {
			return false, err
		}
		if o := e.Game.Outcome(); o.Over() {
			e.Out.Printf("%s\n", o)
		}
		if e.Options.Leave {
			return false, nil
		}
		e.Out.Printf("The pages stay up until Ctrl-C.  As PGN:  boardhand games pgn %d --games %s\n", e.Heading.ID, e.Options.Games)
		err = e.Table.Rest(ctx)
	}
}

// listen does what is typed at the terminal.
func (e *Session) listen(ctx context.Context, from io.Reader) {
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
			if err = e.Host.Halt(ctx); err == nil {
				e.Out.Printf("stopped: the motors stand still; type resume to let the machine go on\n")
			}
		default:
			if err = e.Host.Desk().Request(r); err == nil && r.Kind == journal.RequestResume {
				e.Out.Printf("going on\n")
			}
		}
		if err != nil {
			e.Out.Printf("%v\n", err)
		}
	}
}
