// SPDX-License-Identifier: Apache-2.0

package app

import (
	"fmt"
	"math/rand/v2"
	"os"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"boardhand/internal/rehearsal"
	"boardhand/internal/search"
	"boardhand/internal/service"
	"boardhand/internal/session"
	"boardhand/internal/terminal"
	"boardhand/internal/twin"
)

func playCommand(o *terminal.Out) *cobra.Command {
	f := session.Options{Games: defaultGames, Addr: "127.0.0.1:8640", Keep: defaultKeep, Pace: 1, Seed: 1, Input: os.Stdin, Up: service.Run}
	c := &cobra.Command{
		Use:   "play [RIG]",
		Short: "Play a whole game, with the pages for the guest and the maker",
		Long: `Plays a game at the table described by the rig file (the built-in one when none
is given) and serves its pages on this machine. With
controller.kind = "gcode" and a camera in camera.source it is played at a real
board: the pages say what the machine says and ask what it asks. With camera.source
= "twin" pieces and pictures are those of the simulated table, and the motors, if
there are any, do at the same time what its carriage does; the guest is simulated,
or, with --visitor, is you, moving the pieces on the page.

While it plays, type help for what may be typed. The game goes on when the
terminal is closed or not read; Ctrl-C and SIGTERM end it cleanly.

Every move is on disk before it is acted on: after a power cut or a crash,
--resume goes on with the last unfinished game, --resume=N with game N.
--continue, for a program that starts at boot, goes on with the last unfinished
game and begins a new one where there is none.`,
		Args: resumeArgs,
		RunE: func(c *cobra.Command, args []string) error {
			f.Remote.Given = c.Flags().Changed("addr")
			if f.Chance = uint64(f.Seed); !c.Flags().Changed("seed") { // no evening like the other
				f.Chance = rand.Uint64()
			}
			return session.Play(c.Context(), o, f, args)
		},
	}
	addPlayFlags(c, &f)
	return c
}

// addPlayFlags adds the flags of play.
func addPlayFlags(c *cobra.Command, f *session.Options) {
	c.Flags().StringVar(&f.Games, "games", f.Games, "folder to keep the games in")
	c.Flags().StringVar(&f.Addr, "addr", f.Addr, "address of the pages; port 0 picks a free one")
	addRemoteFlags(c, &f.Remote)
	c.Flags().StringVar(&f.FEN, "fen", "", "position from which the game begins, in Forsyth-Edwards notation")
	c.Flags().StringVar(&f.Side, "side", "", "the machine's side, white or black; the rig's when not given")
	c.Flags().StringVar(&f.Resume, "resume", "", "go on with the last unfinished game; --resume=N with game N")
	c.Flags().Lookup("resume").NoOptDefVal = session.LastGame
	c.Flags().BoolVar(&f.GoOn, "continue", false, "go on with the last unfinished game, or begin one")
	c.Flags().StringVar(&f.Keep, "keep-pictures", f.Keep, "room for pictures; those of the oldest games go first, those of unfinished ones never")
	c.Flags().BoolVar(&f.Visitor, "visitor", false, "you are the guest: move the pieces on the page")
	c.Flags().Float64Var(&f.Pace, "pace", f.Pace, "seconds of the twin in one real second, 0.1 to 100")
	c.Flags().Int64Var(&f.Seed, "seed", f.Seed, "of everything left to chance on the twin, and of the machine's choice among moves; when not given, that choice is another each time")
	c.Flags().BoolVar(&f.Leave, "leave", false, "end when the game is over instead of keeping the pages up")
	c.Flags().IntVar(&f.Plies, "plies", 0, "stop the game after so many plies; 0: no limit")
	c.Flags().StringVar(&f.Player, "player", "", "who chooses the machine's moves: uci:COMMAND; the built-in player when not given")
	playerOptions(c, &f.PlayerSet)
	c.Flags().StringVar(&f.Strength, "strength", "", "how strongly the machine plays, the weakest first: "+strings.Join(search.StrengthNames(), ", "))
	c.Flags().StringVar(&f.MotorLog, "record-motors", "", "file for every byte to and from the motor controller")
	c.Flags().StringVar(&f.World, "world", "", "file that keeps the twin's table as it truly stands, for the next start")
	_ = c.Flags().MarkHidden("world")
	c.Flags().BoolVar(&f.Specimens, "specimens", false, "serve every state of the pages with canned data at /specimens")
	_ = c.Flags().MarkHidden("specimens")
}

// resumeArgs takes a rig file, and says how to name a game.
func resumeArgs(c *cobra.Command, args []string) error {
	if f := c.Flags().Lookup("resume"); f != nil && f.Value.String() == session.LastGame && len(args) > 0 {
		last := args[len(args)-1]
		_, err := strconv.Atoi(last)
		if _, missing := os.Stat(last); err == nil && missing != nil {
			return fmt.Errorf("to go on with game %s write --resume=%s", last, last)
		}
	}
	return cobra.MaximumNArgs(1)(c, args)
}

// addRemoteFlags adds --allow-remote and --code.
func addRemoteFlags(c *cobra.Command, r *session.Remote) {
	c.Flags().BoolVar(&r.Allow, "allow-remote", false, "serve the pages to other machines too, at all addresses of this one unless --addr names one")
	c.Flags().StringVar(&r.Code, "code", "", "access code for --allow-remote; a new one at each start when not given")
}

// bringUpCommand is what comes before the first game.
func bringUpCommand(o *terminal.Out) *cobra.Command {
	f := session.BringUpOptions{Twin: session.TwinMachine{Built: "drawn", Seed: 1}, Input: os.Stdin}
	c := &cobra.Command{
		Use:   "bringup RIG",
		Short: "Start the machine up step by step, and measure how it was truly built",
		Long: `Leads through the first start of a machine: cautions, controller, lens (by a printed
checkerboard), camera, homing, travel and cables, which way each axis goes; then the machine carries a piece over a
pattern of squares while the camera measures it, which tells what the axes go for what
they count, how square they are, where the board lies on them, backlash and lag; then how
well pieces are set down, how well the carriage comes back, how fast it may go, and how
near a piece may pass another.

Nothing moves before you have said yes; Ctrl-C stops all motion. With --page all of it is
asked and shown on a page in the browser, with the camera's picture and a stop. Each part is kept, with its
date, in bringup.toml beside the rig file as soon as it is measured: stop when you like, and
run bringup again to go on. play takes axes and lens from there. The rig file is never
written.`,
		Example: `  boardhand bringup mine/rig.toml
  boardhand bringup mine/rig.toml --page
  boardhand bringup mine/rig.toml --again axes
  boardhand bringup mine/rig.toml --yes      # on the twin
  boardhand bringup mine/rig.toml --yes --twin askew --through gcode`,
		Args: cobra.ExactArgs(1),
		RunE: func(c *cobra.Command, args []string) error {
			if _, err := rehearsal.ParseThrough(f.Twin.Through, "0%", nil, false); err != nil {
				return err
			}
			return session.BringUp(c.Context(), o, f, args[0])
		},
	}
	c.Flags().Int64Var(&f.Twin.Seed, "seed", f.Twin.Seed, "which twin: of everything left to chance there")
	c.Flags().StringVar(&f.Twin.Built, "twin", f.Twin.Built, "how the twin is built: "+strings.Join(twin.Builds, ", "))
	c.Flags().StringVar(&f.Twin.Through, "through", "", "bring the twin up through a real driver and a simulated controller: gcode or tacho")
	c.Flags().BoolVar(&f.Yes, "yes", false, "answer yes to everything; on the twin only")
	c.Flags().StringVar(&f.Again, "again", "", "measure a step again, by its name in bringup.toml")
	c.Flags().BoolVar(&f.Page, "page", false, "answer on a page in the browser instead of here")
	c.Flags().StringVar(&f.Addr, "addr", "127.0.0.1:8640", "where the page is served; this machine only")
	c.Flags().Float64Var(&f.Pace, "pace", 0, "seconds of the twin in one real second; 0: as fast as it computes")
	return c
}
