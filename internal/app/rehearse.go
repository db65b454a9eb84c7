// SPDX-License-Identifier: Apache-2.0

package app

import (
	"cmp"
	"context"
	"fmt"
	"os"
	"strings"
	"time"

	"github.com/schollz/progressbar/v3"
	"github.com/spf13/cobra"

	"boardhand/internal/chess"
	"boardhand/internal/player"
	"boardhand/internal/rehearsal"
	"boardhand/internal/rig"
	"boardhand/internal/search"
	"boardhand/internal/session"
	"boardhand/internal/terminal"
	"boardhand/internal/twin"
)

type rehearseFlags struct {
	games, plies int
	seed         int64
	faults, keep string
	shard        string
	merge        bool
	rematches    int
	nodes        uint64
	through      string
	wireFaults   string
	twin         string // how it is built; "": another one each game
	isMeasured   bool
	every        bool
}

func rehearseCommand(o *terminal.Out) *cobra.Command {
	f := rehearseFlags{games: 20, plies: 200, seed: 1, nodes: 4000}
	c := &cobra.Command{
		Use:   "rehearse [RIG]",
		Short: "Play games on the twin unattended, with faults if wanted, and count what went wrong",
		Long: `Plays whole games on the simulated table and compares what the machine believed
with what truly stood there. --keep saves every picture, so that watch can read
the games again. --rematches K has the machine set the pieces up after a game and
play K more at the same table; the fault second_mind has the guest take moves
back now and then. A large rehearsal can be spread: --shard 2/5 plays the second
fifth, and --merge adds up the JSON files that the shards printed.

--through gcode or tacho plays through that driver and a simulated controller, whose
motors move the carriage of the twin; --wire-faults 1% spoils a hundredth of its
commands. No motor may move while nobody knows where the axes are.

Each game is played at another twin, drawn by chance. --twin askew has them all played
at one that was built wrong, --twin drawn at that of the seed; --measured has the machine
use what boardhand bringup measured there.`,
		Example: `  boardhand rehearse rig.toml --games 20 --seed 1
  boardhand rehearse rig.toml --games 50 --faults slip,bump_camera,light_change
  boardhand rehearse tray.toml --games 2 --rematches 4 --faults second_mind
  boardhand rehearse rig.toml --games 20 --through gcode --wire-faults 1%
  boardhand rehearse mine/rig.toml --games 2 --twin askew --measured
  boardhand rehearse --merge a.json b.json`,
		Args: cobra.ArbitraryArgs,
		RunE: func(c *cobra.Command, args []string) error { return rehearse(c.Context(), o, f, args) },
	}
	c.Flags().IntVar(&f.games, "games", f.games, "how many games")
	c.Flags().IntVar(&f.plies, "plies", f.plies, "stop a game after so many plies")
	c.Flags().Int64Var(&f.seed, "seed", f.seed, "of everything left to chance")
	c.Flags().IntVar(&f.rematches, "rematches", 0, "after each game the machine sets up, and this many more are played at the table")
	c.Flags().StringVar(&f.faults, "faults", "", "what goes wrong, of: "+strings.Join(rehearsal.FaultNames(), ", "))
	c.Flags().StringVar(&f.keep, "keep", "", "folder to save the pictures of every game in")
	c.Flags().StringVar(&f.shard, "shard", "", "K/N: play only every N-th game, from the K-th")
	c.Flags().BoolVar(&f.merge, "merge", false, "add up the JSON files given")
	c.Flags().StringVar(&f.through, "through", "", "play through a real driver and a simulated controller: gcode or tacho")
	c.Flags().StringVar(&f.wireFaults, "wire-faults", "0%", "with --through: share of the commands that come late, get lost, come twice or changed, or pull the plug")
	c.Flags().StringVar(&f.twin, "twin", "", "play all games at one twin, built: "+strings.Join(twin.Builds, ", "))
	c.Flags().BoolVar(&f.isMeasured, "measured", false, "with what bringup measured at that twin")
	c.Flags().BoolVar(&f.every, "every-picture", false, "look at every picture while a piece is carried, not only at those of a hand (slower): counts false holds")
	c.Flags().Uint64Var(&f.nodes, "nodes", f.nodes, "how far the machine's player looks, in positions a move")
	offerList(c, "faults", rehearsal.FaultNames()...)
	offer(c, "twin", twin.Builds...)
	offer(c, "through", "gcode", "tacho")
	return c
}

func rehearse(ctx context.Context, o *terminal.Out, f rehearseFlags, args []string) error {
	if f.merge {
		sum, err := rehearsal.Merge(args)
		if err != nil {
			return err
		}
		return printTally(o, sum, false)
	}
	r, err := f.rig(args)
	if err != nil {
		return err
	}
	faults, hasCuts, err := rehearsal.ParseFaults(f.faults)
	if err != nil {
		return fmt.Errorf("--faults: %w", err)
	}
	share, err := rehearsal.ParseThrough(f.through, f.wireFaults, faults, hasCuts)
	if err != nil {
		return err
	}
	one, err := f.oneTwin(r)
	if err != nil {
		return err
	}
	picks, err := f.picks()
	if err != nil {
		return err
	}
	text, err := f.rigText(r)
	if err != nil {
		return err
	}
	began, bar := time.Now(), progress(o, len(picks))
	play := func(ctx context.Context, n int) (rehearsal.Tally, error) {
		spec := rehearsal.Spec{Number: n, Seed: f.seed, Plies: f.plies, Rematches: f.rematches, Keep: f.keep, RigText: text, HasCuts: hasCuts}
		return rehearsal.Play(ctx, spec, func(ctx context.Context, seed int64) (*rehearsal.Machine, error) {
			return f.machine(ctx, r, twin.Options{Seed: seed, Faults: faults, Deviations: one.Deviations, AllPictures: f.every}, session.Through{Kind: f.through, Share: share, Seed: seed})
		})
	}
	sum, err := rehearsal.PlayAll(ctx, picks, play, func() { _ = bar.Add(1) })
	_ = bar.Finish()
	sum.Seconds, sum.Run, sum.Shard = time.Since(began).Seconds(), rehearsal.Run{Seed: f.seed, Games: f.games, Faults: f.faults, Every: f.every, Motors: f.motors(share), Twin: one.Name}, f.shard
	if sum.Games == 0 && err != nil {
		return err
	}
	if perr := printTally(o, sum, len(faults) == 0 && !hasCuts); err == nil {
		err = perr
	}
	return err
}

// rig is the one that the arguments name, or the built-in one.
func (f rehearseFlags) rig(args []string) (*rig.Rig, error) {
	switch len(args) {
	case 0:
		return rig.Default(), nil
	case 1:
		return rig.Load(args[0], rig.Machine)
	}
	return nil, fmt.Errorf("give one rig file; got %d", len(args))
}

// oneTwin finds the machine that the flags name, and gives the rig what was measured there.
func (f rehearseFlags) oneTwin(r *rig.Rig) (session.OneTwin, error) {
	if f.twin == "" && !f.isMeasured {
		return session.OneTwin{}, nil
	}
	return session.TwinMachine{Built: cmp.Or(f.twin, "drawn"), Seed: f.seed, Through: f.through}.Only(r, f.isMeasured)
}

// motors says which driver is played through, "": none.
func (f rehearseFlags) motors(share float64) string {
	if f.through == "" {
		return ""
	}
	return fmt.Sprintf("%s, %g%% of the commands spoilt", f.through, share*100)
}

// progress shows how many of the games are played.
func progress(o *terminal.Out, games int) *progressbar.ProgressBar {
	return progressbar.NewOptions(games, progressbar.OptionSetWriter(o.Err), progressbar.OptionSetVisibility(isTerminal(o.Err)),
		progressbar.OptionSetDescription("games"), progressbar.OptionClearOnFinish(), progressbar.OptionShowCount())
}

// machine puts a machine together on the twin, with the built-in player.
func (f rehearseFlags) machine(ctx context.Context, r *rig.Rig, o twin.Options, t session.Through) (*rehearsal.Machine, error) {
	b, driven, err := session.SetUpThrough(r, chess.Start(), o, t)
	if err != nil {
		return nil, err
	}
	p, err := player.Open(ctx, player.Options{Machine: chess.ColorNamed(r.Play.Side), Limits: search.Limits{Nodes: f.nodes}})
	if err != nil {
		return nil, err
	}
	return b.Rehearsed(p, driven)
}

// rigText is the text to keep with the pictures: of the rig's file, or of the
// built-in one.
func (f rehearseFlags) rigText(r *rig.Rig) ([]byte, error) {
	if f.keep == "" {
		return nil, nil
	}
	if r.Path == "" {
		return []byte(rig.DefaultText), nil
	}
	return os.ReadFile(r.Path)
}

// picks lists the numbers of the games to play, from 1.
func (f rehearseFlags) picks() ([]int, error) {
	if f.games < 1 || f.plies < 1 || f.rematches < 0 {
		return nil, fmt.Errorf("--games and --plies must be at least 1, --rematches at least 0; got %d, %d and %d", f.games, f.plies, f.rematches)
	}
	if f.games > mostGames {
		return nil, fmt.Errorf("--games must be at most %d; got %d", mostGames, f.games)
	}
	k, n, err := rehearsal.PartOf(f.shard)
	if err != nil {
		return nil, err
	}
	var out []int
	for i := k; i <= f.games; i += n {
		out = append(out, i)
	}
	return out, nil
}

// isTerminal says whether w is a terminal.
func isTerminal(w any) bool {
	f, ok := w.(*os.File)
	if !ok {
		return false
	}
	info, err := f.Stat()
	return err == nil && info.Mode()&os.ModeCharDevice != 0
}

// printTally prints the counts; the answer is "no" when the state of a game
// was lost, a move was misread or, with no faults put in, pieces collided.
func printTally(o *terminal.Out, t rehearsal.Tally, clean bool) error {
	if o.JSON {
		if err := o.Object(t); err != nil {
			return err
		}
	} else {
		o.Printf("%s", t)
	}
	if t.IsBad(clean) {
		return terminal.ErrNo
	}
	return nil
}
