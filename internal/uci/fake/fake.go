// SPDX-License-Identifier: Apache-2.0

// Package fake holds outside players for tests: each speaks the protocol as
// its document describes it, or breaks it in one way that real programs do. A
// test binary that finds Manner in its environment becomes one of them.
package fake

import (
	"bufio"
	"cmp"
	"fmt"
	"io"
	"os"
	"os/exec"
	"strings"

	"boardhand/internal/chess"
)

// What a test puts into the environment of a player.
const (
	Manner = "FAKE_PLAYER_MANNER" // one of the manners below
	Once   = "FAKE_PLAYER_ONCE"   // a file: it is made, and from then on the player is Plain
	Alive  = "FAKE_PLAYER_ALIVE"  // a named pipe: held open by the player and what it starts
)

// The manners.
const (
	Plain      = "plain"       // chooses the last legal move
	Muses      = "muses"       // thinks until it is told to stop
	Hangs      = "hangs"       // is deaf from go on
	Dumb       = "dumb"        // never says a word
	Bare       = "bare"        // bestmove without a move
	Null       = "null"        // bestmove 0000
	None       = "none"        // bestmove (none)
	Cheats     = "cheats"      // a move that is not legal
	Slips      = "slips"       // bestmove without a move, at the first go only
	Garbage    = "garbage"     // no words at all
	LongLine   = "long line"   // a line of 5 MB, then its answer
	Floods     = "floods"      // info for ever
	Crashes    = "crashes"     // ends at go, with an error
	CrashesNow = "crashes now" // ends at once, with an error
	Closes     = "closes"      // closes its output at go, and stays
	Double     = "double"      // a second answer that would fit the next question
	Chatters   = "chatters"    // talks before uciok and after its answer
	Stubborn   = "stubborn"    // does not quit
	Family     = "family"      // starts a program of its own, and is stubborn
	Coloured   = "coloured"    // writes control characters into its name and answer
	Deep       = "deep"        // knows no limit of nodes or depth, and says how far it is
)

// Become turns the program into a player when the environment says so.
func Become() {
	manner := os.Getenv(Manner)
	if manner == "" {
		return
	}
	if path := os.Getenv(Once); path != "" {
		f, err := os.OpenFile(path, os.O_CREATE|os.O_EXCL, 0o600)
		if err != nil {
			manner = Plain
		} else {
			_ = f.Close()
		}
	}
	hold()
	p := &player{manner: manner, game: chess.NewGame(chess.Start()), out: os.Stdout}
	os.Exit(p.run(os.Stdin))
}

// hold keeps the named pipe open as long as this program lives.
func hold() {
	if path := os.Getenv(Alive); path != "" {
		if _, err := os.OpenFile(path, os.O_WRONLY, 0); err != nil {
			panic(err)
		}
	}
}

// player is the one that runs.
type player struct {
	manner string
	game   *chess.Game
	goes   int
	nodes  string // to tell, as it was set
	out    io.Writer
}

// run answers until it is told to quit, and returns the exit status.
func (p *player) run(in io.Reader) int {
	if p.manner == CrashesNow {
		fmt.Fprintln(os.Stderr, "cannot load the network\x1b[31m")
		return 3
	}
	if p.manner == Family {
		child := exec.Command(os.Args[0])
		child.Env = append(os.Environ(), Manner+"="+Stubborn)
		if err := child.Start(); err != nil {
			panic(err)
		}
	}
	for s := bufio.NewScanner(in); s.Scan(); {
		f := strings.Fields(s.Text())
		if len(f) == 0 || p.manner == Dumb {
			continue
		}
		if quit, code := p.hear(f); quit {
			return code
		}
	}
	if p.manner == Stubborn || p.manner == Family || p.manner == Hangs || p.manner == Dumb {
		select {}
	}
	return 0
}

// hear does what one line says.
func (p *player) hear(f []string) (quit bool, code int) {
	switch f[0] {
	case "uci":
		p.greet()
	case "setoption":
		if n := len(f) - 1; strings.EqualFold(strings.Join(f[1:n], " "), "name Told Nodes value") {
			p.nodes = f[n]
		}
	case "isready":
		p.say("readyok")
	case "position":
		p.game = placed(f)
	case "go":
		return p.think()
	case "stop":
		if p.manner == Muses || p.manner == Deep {
			p.say("bestmove " + Last(p.game).String())
		}
	case "quit":
		return p.manner != Stubborn && p.manner != Family, 0
	}
	return false, 0
}

func (p *player) say(text string) { _, _ = fmt.Fprintln(p.out, text) }

func (p *player) greet() {
	if p.manner == Chatters {
		p.say("good evening\ninfo string warming up\nbestmove e2e4\nreadyok")
	}
	name := "A Stranger"
	if p.manner == Coloured {
		name = "\x1b[31mRed\x1b[0m"
	}
	p.say("id name " + name + "\nid author nobody\noption name Ponder type check default false\n" +
		"option name Told Nodes type spin default 1234 min 1 max 9999\noption name Clear Hash type button\nuciok")
}

// think answers go, or does not.
func (p *player) think() (quit bool, code int) {
	best := Last(p.game).String()
	if p.goes++; p.goes == 1 && p.manner == Slips {
		p.say("bestmove")
		return false, 0
	}
	if wrong, ok := map[string]string{Bare: "", Null: "0000", None: "(none)", Cheats: "e1e8", Garbage: "\xff\x00\x1b[2J zzzz",
		Coloured: "\x1b[2Ja1"}[p.manner]; ok {
		p.say("bestmove " + wrong)
		return false, 0
	}
	if ends, quit, code := p.misbehave(); ends {
		return quit, code
	}
	p.answer(best)
	return false, 0
}

// misbehave does at go what its manner is; ends says that no answer follows.
func (p *player) misbehave() (ends, quit bool, code int) {
	switch p.manner {
	case Hangs:
		_, _ = fmt.Fprintln(os.Stderr, "waiting for a lock")
		select {}
	case Muses:
		p.say("info string musing")
		return true, false, 0
	case Deep:
		p.say("info depth 1 nodes 100\ninfo depth 9 nodes 90000")
		return true, false, 0
	case Floods:
		for {
			p.say("info depth 1 score cp 1")
		}
	case Crashes:
		_, _ = fmt.Fprintln(os.Stderr, "out of memory\x1b[31m")
		return true, true, 7
	case Closes:
		_ = os.Stdout.Close()
		return true, false, 0
	case LongLine:
		p.say("info string " + strings.Repeat("x", 5<<20))
	}
	return false, false, 0
}

// answer says a move, and what its manner has it say after that.
func (p *player) answer(best string) {
	p.say("info string hello depth 99\ninfo depth 3 seldepth 9 multipv 1 score cp -17 nodes " + cmp.Or(p.nodes, "1234") + " nps 5 pv " + best + " x")
	p.say("bestmove " + best + " ponder e2e4")
	switch p.manner {
	case Double:
		after := p.game.Position()
		after = after.After(Last(p.game))
		for _, m := range after.LegalMoves(nil)[:1] {
			p.say("bestmove " + m.String())
		}
	case Chatters:
		p.say("info string that was a good one\nbestmove\n")
	}
}

// placed reads a position command with the six fields of a FEN.
func placed(f []string) *chess.Game {
	pos, err := chess.ParseFEN(strings.Join(f[2:8], " "))
	if err != nil {
		panic(err)
	}
	g := chess.NewGame(pos)
	for i := 9; i < len(f); i++ {
		now := g.Position()
		m, err := now.ParseUCI(f[i])
		if err != nil {
			panic(err)
		}
		if err := g.Push(m); err != nil {
			panic(err)
		}
	}
	return g
}

// Last is the last of the legal moves.
func Last(g *chess.Game) chess.Move {
	pos := g.Position()
	moves := pos.LegalMoves(nil)
	return moves[len(moves)-1]
}
