package app

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"maps"
	"os"
	"runtime"
	"slices"
	"strings"
	"sync"
	"time"

	"github.com/schollz/progressbar/v3"
	"github.com/spf13/cobra"
	"golang.org/x/sync/errgroup"

	"boardhand/internal/rig"
	"boardhand/internal/twin"
	"boardhand/internal/unit"
)

type rehearseFlags struct {
	games, plies int
	seed         int64
	faults, keep string
	shard        string
	merge        bool
	rematches    int
	nodes        uint64
}

func rehearseCommand(o *out) *cobra.Command {
	f := rehearseFlags{games: 20, plies: 200, seed: 1, nodes: 4000}
	c := &cobra.Command{
		Use:   "rehearse [RIG]",
		Short: "Play games on the twin unattended, with faults if wanted, and count what went wrong",
		Long: `Plays whole games on the simulated table and compares what the machine believed
with what truly stood there. --keep saves every picture, so that watch can read
the games again. --rematches K has the machine set the men up after a game and
play K more at the same table; the fault second_mind has the guest take moves
back now and then. A large rehearsal can be spread: --shard 2/5 plays the second
fifth, and --merge adds up the JSON files that the shards printed.`,
		Example: `  boardhand rehearse rig.toml --games 20 --seed 1
  boardhand rehearse rig.toml --games 50 --faults slip,bump_camera,light_change
  boardhand rehearse tray.toml --games 2 --rematches 4 --faults second_mind
  boardhand rehearse --merge a.json b.json`,
		Args: cobra.ArbitraryArgs,
		RunE: func(c *cobra.Command, args []string) error { return rehearse(c.Context(), o, f, args) },
	}
	c.Flags().IntVar(&f.games, "games", f.games, "how many games")
	c.Flags().IntVar(&f.plies, "plies", f.plies, "stop a game after so many plies")
	c.Flags().Int64Var(&f.seed, "seed", f.seed, "of everything left to chance")
	c.Flags().IntVar(&f.rematches, "rematches", 0, "after each game the machine sets up, and this many more are played at the table")
	c.Flags().StringVar(&f.faults, "faults", "", "what goes wrong, of: "+faultNames())
	c.Flags().StringVar(&f.keep, "keep", "", "folder to save the pictures of every game in")
	c.Flags().StringVar(&f.shard, "shard", "", "K/N: play only every N-th game, from the K-th")
	c.Flags().BoolVar(&f.merge, "merge", false, "add up the JSON files given")
	c.Flags().Uint64Var(&f.nodes, "nodes", f.nodes, "how far the machine's player looks, in positions a move")
	return c
}

func faultNames() string {
	var names []string
	for _, f := range twin.Faults() {
		names = append(names, string(f))
	}
	return strings.Join(append(names, string(powerCut)), ", ")
}

// tally is what a rehearsal counts.
type tally struct {
	Games      int            `json:"games"`
	Plies      int            `json:"plies"`
	Misread    int            `json:"misread"`    // guest's moves taken for another
	Asked      int            `json:"asked"`      // questions and requests to mend, captures not counted
	Removals   int            `json:"removals"`   // captured men the guest was asked to take off
	Collisions int            `json:"collisions"` // men touched by another on the way
	Slips      int            `json:"slips"`      // men the magnet lost
	Drags      int            `json:"drags"`      // men moved that should have stayed
	Stalls     int            `json:"stalls"`
	Toppled    int            `json:"toppled"`
	Recovered  int            `json:"recovered"`  // men fetched or set straight by the machine itself
	LostState  int            `json:"lost_state"` // times the game and the board differed after a finished move
	Stuck      int            `json:"stuck"`      // games that did not come to an end
	PowerCuts  int            `json:"power_cuts"` // times the power went, and the program with it
	TakenBack  int            `json:"taken_back"` // plies taken back
	SetUps     int            `json:"set_ups"`    // times the machine set the men up for a next game
	Said       int            `json:"said"`       // times the guest named the move, or called the board right
	AtFault    int            `json:"at_fault"`   // parts that truly were at fault, and showed it often enough to be named
	Unshown    int            `json:"unshown"`    // parts at fault that showed it less often
	Named      int            `json:"named"`      // of those at fault, named rightly
	Misnamed   int            `json:"misnamed"`   // parts named though they were not at fault
	Causes     map[string]int `json:"causes"`     // what was named, how often
	Results    map[string]int `json:"results"`
	Pictures   int            `json:"pictures"`
	Seconds    float64        `json:"seconds"`
	Run        runOf          `json:"run"`
	Shard      string         `json:"shard,omitempty"` // of the run, K/N
}

// runOf says which rehearsal a count is of: shards of one may be added up.
type runOf struct {
	Seed   int64  `json:"seed"`
	Games  int    `json:"games"` // of all shards
	Faults string `json:"faults"`
}

func (r runOf) String() string {
	return fmt.Sprintf("seed %d, %s, faults %q", r.Seed, unit.Count(r.Games, "game"), r.Faults)
}

func (t *tally) add(u tally) {
	t.Games += u.Games
	t.Plies += u.Plies
	t.Misread += u.Misread
	t.Asked += u.Asked
	t.Removals += u.Removals
	t.Collisions += u.Collisions
	t.Slips += u.Slips
	t.Drags += u.Drags
	t.Stalls += u.Stalls
	t.Toppled += u.Toppled
	t.Recovered += u.Recovered
	t.LostState += u.LostState
	t.Stuck += u.Stuck
	t.PowerCuts += u.PowerCuts
	t.TakenBack += u.TakenBack
	t.SetUps += u.SetUps
	t.Said += u.Said
	t.AtFault += u.AtFault
	t.Unshown += u.Unshown
	t.Named += u.Named
	t.Misnamed += u.Misnamed
	t.Pictures += u.Pictures
	t.Seconds += u.Seconds
	if t.Results == nil {
		t.Results = map[string]int{}
	}
	for k, v := range u.Results {
		t.Results[k] += v
	}
	if t.Causes == nil {
		t.Causes = map[string]int{}
	}
	for k, v := range u.Causes {
		t.Causes[k] += v
	}
}

func rehearse(ctx context.Context, o *out, f rehearseFlags, args []string) error {
	if f.merge {
		return mergeTallies(o, args)
	}
	if len(args) > 1 {
		return fmt.Errorf("give one rig file; got %d", len(args))
	}
	r := rig.Default()
	if len(args) == 1 {
		var err error
		if r, err = rig.Load(args[0], rig.Machine); err != nil {
			return err
		}
	}
	faults, cuts, err := parseFaults(f.faults)
	if err != nil {
		return fmt.Errorf("--faults: %w", err)
	}
	picks, err := f.picks()
	if err != nil {
		return err
	}
	began := time.Now()
	sum, err := playAll(ctx, o, picks, func(ctx context.Context, n int) (tally, error) {
		return rehearseGame(ctx, gameSpec{rig: r, n: n, seed: f.seed, faults: faults, cuts: cuts, plies: f.plies, keep: f.keep, nodes: f.nodes, rematches: f.rematches})
	})
	sum.Seconds, sum.Run, sum.Shard = time.Since(began).Seconds(), runOf{f.seed, f.games, f.faults}, f.shard
	if sum.Games == 0 && err != nil {
		return err
	}
	if perr := printTally(o, sum, len(faults) == 0 && !cuts); err == nil {
		err = perr
	}
	return err
}

// mostGames bounds a rehearsal: more than a year of one core.
const mostGames = 10_000_000

// picks lists the numbers of the games to play, from 1.
func (f rehearseFlags) picks() ([]int, error) {
	if f.games < 1 || f.plies < 1 || f.rematches < 0 {
		return nil, fmt.Errorf("--games and --plies must be at least 1, --rematches at least 0; got %d, %d and %d", f.games, f.plies, f.rematches)
	}
	if f.games > mostGames {
		return nil, fmt.Errorf("--games must be at most %d; got %d", mostGames, f.games)
	}
	k, n, err := partOf(f.shard)
	if err != nil {
		return nil, err
	}
	var out []int
	for i := k; i <= f.games; i += n {
		out = append(out, i)
	}
	return out, nil
}

// playAll plays the games on all cores. When ctx ends, what was finished is
// still added up.
func playAll(ctx context.Context, o *out, picks []int, play func(context.Context, int) (tally, error)) (tally, error) {
	bar := progressbar.NewOptions(len(picks), progressbar.OptionSetWriter(o.err), progressbar.OptionSetVisibility(terminal(o.err)),
		progressbar.OptionSetDescription("games"), progressbar.OptionClearOnFinish(), progressbar.OptionShowCount())
	var sum tally
	var mu sync.Mutex
	g, ctx := errgroup.WithContext(ctx)
	g.SetLimit(runtime.GOMAXPROCS(0))
	for _, n := range picks {
		g.Go(func() error {
			t, err := play(ctx, n)
			if err != nil {
				return fmt.Errorf("game %d: %w", n, err)
			}
			mu.Lock()
			defer mu.Unlock()
			sum.add(t)
			_ = bar.Add(1)
			return nil
		})
	}
	err := g.Wait()
	_ = bar.Finish()
	return sum, err
}

// terminal says whether w is a terminal.
func terminal(w any) bool {
	f, ok := w.(*os.File)
	if !ok {
		return false
	}
	info, err := f.Stat()
	return err == nil && info.Mode()&os.ModeCharDevice != 0
}

// printTally prints the counts; the answer is "no" when the state of a game
// was lost, a move was misread or, with no faults put in, men collided.
func printTally(o *out, t tally, clean bool) error {
	if o.json {
		if err := o.object(t); err != nil {
			return err
		}
	} else {
		o.printf("%s, %s, %s in %.0f s\n", unit.Count(t.Games, "game"), unit.Count(t.Plies, "ply"), unit.Count(t.Pictures, "picture"), t.Seconds)
		o.printf("  misread     %4d   lost state %4d   stuck     %4d\n", t.Misread, t.LostState, t.Stuck)
		o.printf("  collisions  %4d   drags      %4d   toppled   %4d\n", t.Collisions, t.Drags, t.Toppled)
		o.printf("  slips       %4d   stalls     %4d   recovered %4d\n", t.Slips, t.Stalls, t.Recovered)
		o.printf("  asked       %4d   removals   %4d   said      %4d\n", t.Asked, t.Removals, t.Said)
		if t.AtFault+t.Unshown+t.Misnamed > 0 {
			o.printf("  at fault    %4d   named      %4d   misnamed  %4d   (parts that showed it thrice, against the twin's truth)\n", t.AtFault, t.Named, t.Misnamed)
			o.printf("  not shown   %4d\n", t.Unshown)
		}
		for _, k := range slices.Sorted(maps.Keys(t.Causes)) {
			o.printf("  %-24s %d\n", k, t.Causes[k])
		}
		if t.TakenBack+t.SetUps > 0 {
			o.printf("  taken back  %4d   set-ups    %4d\n", t.TakenBack, t.SetUps)
		}
		if t.PowerCuts > 0 {
			o.printf("  power cuts  %4d\n", t.PowerCuts)
		}
		for _, k := range []string{"1-0", "0-1", "1/2-1/2", "*"} {
			if t.Results[k] > 0 {
				o.printf("  %-8s %d\n", resultWords[k], t.Results[k])
			}
		}
	}
	if t.Misread > 0 || t.LostState > 0 || t.Stuck > 0 || clean && t.Collisions > 0 {
		return errNo
	}
	return nil
}

// resultWords say the results in the last rows.
var resultWords = map[string]string{"1-0": "1-0", "0-1": "0-1", "1/2-1/2": "drawn", "*": "not ended"}

func mergeTallies(o *out, files []string) error {
	if len(files) == 0 {
		return fmt.Errorf("--merge needs the JSON files that the shards printed")
	}
	var sum, first tally
	seen := map[string]bool{}
	for _, name := range files {
		data, err := os.ReadFile(name)
		if err != nil {
			return fmt.Errorf("cannot read a shard: %w", err)
		}
		var t tally
		d := json.NewDecoder(bytes.NewReader(data))
		d.DisallowUnknownFields()
		if err := d.Decode(&t); err != nil || t.Games < 1 || t.isNegative() {
			return fmt.Errorf("%s is not what `boardhand rehearse --json` prints", name)
		}
		if seen[t.Shard] && t.Shard != "" {
			return fmt.Errorf("%s is shard %s, which another file is too: give each shard once", name, t.Shard)
		}
		seen[t.Shard] = true
		if t.Run != first.Run && first.Run != (runOf{}) {
			return fmt.Errorf("%s is of another rehearsal (%v) than the first file (%v)", name, t.Run, first.Run)
		}
		if first.Games == 0 {
			first = t
		}
		sum.add(t)
	}
	sum.Run = first.Run
	return printTally(o, sum, false)
}

// isNegative says whether any count is below nothing.
func (t tally) isNegative() bool {
	return min(t.Games, t.Plies, t.Misread, t.Asked, t.Removals, t.Collisions, t.Slips, t.Drags, t.Stalls, t.Toppled,
		t.Recovered, t.LostState, t.Stuck, t.PowerCuts, t.TakenBack, t.SetUps, t.Said, t.AtFault, t.Unshown, t.Named, t.Misnamed, t.Pictures) < 0
}
