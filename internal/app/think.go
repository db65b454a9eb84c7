// SPDX-License-Identifier: Apache-2.0

package app

import (
	"context"
	"errors"
	"fmt"
	"time"

	"github.com/spf13/cobra"

	"boardhand/internal/chess"
	"boardhand/internal/player"
	"boardhand/internal/search"
	"boardhand/internal/terminal"
	"boardhand/internal/unit"
)

type thinkFlags struct {
	fen, epd string
	pgn      string
	game     int // of pgn, from 1; 0: the only one
	player   string
	options  []string // of the player
	time     time.Duration
	depth    int
	nodes    uint64
	perft    int
	hash     int
}

// errNoMove is the answer "no".
var errNoMove = errors.New("there is no move to find")

func thinkCommand(o *terminal.Out) *cobra.Command {
	f := thinkFlags{hash: thinkMB}
	c := &cobra.Command{
		Use:   "think --fen F",
		Short: "Find the best move in a position with the built-in player",
		Example: `  boardhand think --fen "8/8/8/8/8/2k5/1R6/K7 w - - 0 1" --time 2s
  boardhand think --epd suite.epd --time 1s
  boardhand think --pgn games.pgn --game 3
  boardhand think --perft 5`,
		Args: cobra.NoArgs,
		RunE: func(c *cobra.Command, _ []string) error {
			err := think(c.Context(), o, f)
			if errors.Is(err, errNoMove) {
				o.Complain("%v", err)
				return terminal.ErrNo
			}
			return err
		},
	}
	c.Flags().StringVar(&f.fen, "fen", "", "the position; the start of a game when not given")
	c.Flags().DurationVar(&f.time, "time", 0, "how long to think, like 2s or 500ms (1s when no limit is given)")
	c.Flags().IntVar(&f.depth, "depth", 0, "look so many plies ahead")
	c.Flags().Uint64Var(&f.nodes, "nodes", 0, "look at so many positions")
	c.Flags().StringVar(&f.epd, "epd", "", "file of positions with best moves: run them all")
	c.Flags().StringVar(&f.pgn, "pgn", "", "PGN file: think about the last position of its game")
	c.Flags().IntVar(&f.game, "game", 0, "which game of --pgn, from 1, where there are several")
	c.Flags().IntVar(&f.perft, "perft", 0, "count the positions so many plies ahead instead")
	c.Flags().StringVar(&f.player, "player", "", "an outside player instead of the built-in one: uci:COMMAND")
	playerOptions(c, &f.options)
	c.Flags().IntVar(&f.hash, "hash", f.hash, "memory for positions seen, MB")
	c.MarkFlagsMutuallyExclusive("fen", "epd", "pgn")
	return c
}

// playerOptions is the flag for what an outside player lets set.
func playerOptions(c *cobra.Command, to *[]string) {
	c.Flags().StringArrayVar(to, "player-option", nil, "an option of the outside player, NAME=VALUE, as often as wanted: memory, strength, as it names them")
}

// check says which of the flags cannot be.
func (f thinkFlags) check() error {
	switch {
	case f.time < 0 || f.depth < 0 || f.perft < 0:
		return fmt.Errorf("--time, --depth and --perft must not be negative")
	case f.game != 0 && f.pgn == "":
		return errors.New("--game goes with --pgn")
	case f.perft > 12:
		return fmt.Errorf("--perft must be 1 to 12; got %d", f.perft)
	}
	if err := search.CheckMemory(f.hash); err != nil {
		return fmt.Errorf("--hash: %w", err)
	}
	return nil
}

func think(ctx context.Context, o *terminal.Out, f thinkFlags) error {
	if err := f.check(); err != nil {
		return err
	}
	lim := search.Limits{Time: f.time, Depth: f.depth, Nodes: f.nodes}
	if lim == (search.Limits{}) {
		lim.Time = thinkTime
	}
	if f.epd != "" {
		return runSuite(ctx, o, f, lim)
	}
	g, err := f.asked()
	if err != nil {
		return err
	}
	pos := g.Position()
	if f.perft > 0 {
		return breakOff(ctx, func() error { return perft(o, pos, f.perft) })
	}
	if len(pos.LegalMoves(nil)) == 0 {
		return fmt.Errorf("the game is over: %w in %s", errNoMove, pos.FEN())
	}
	t, err := player.OpenThinker(ctx, f.player, f.options, f.hash)
	if err != nil {
		return err
	}
	defer t.Close()
	r, err := t.Think(ctx, g, lim)
	if err != nil {
		return err
	}
	return printThought(o, pos, r)
}

func perft(o *terminal.Out, pos chess.Position, depth int) error {
	began := time.Now()
	n := pos.Perft(depth)
	s := time.Since(began).Seconds()
	if o.JSON {
		return o.Object(struct {
			Nodes   uint64  `json:"nodes"`
			Seconds float64 `json:"seconds"`
		}{n, s})
	}
	o.Printf("%d positions %s ahead, %.3f s, %s\n", n, unit.Count(depth, "ply"), s, unit.Rate(float64(n)/s))
	return nil
}

// thought is what think prints for programs.
type thought struct {
	Move  string   `json:"move"`
	SAN   string   `json:"san"`
	Score *int     `json:"score_cp,omitempty"`
	Mate  *int     `json:"mate,omitempty"` // moves; negative: gets mated
	Depth int      `json:"depth"`
	Nodes uint64   `json:"nodes"`
	NPS   uint64   `json:"nps"`
	PV    []string `json:"pv"`
}

func printThought(o *terminal.Out, pos chess.Position, r search.Result) error {
	t := thought{Move: r.Move.String(), SAN: pos.SAN(r.Move), Depth: r.Depth, Nodes: r.Nodes}
	if s := r.Time.Seconds(); s > 0 {
		t.NPS = uint64(float64(r.Nodes) / s)
	}
	if r.Mate != 0 {
		t.Mate = &r.Mate
	} else {
		t.Score = &r.ScoreCP
	}
	words := ""
	for _, m := range r.PV {
		t.PV = append(t.PV, m.String())
		words += " " + pos.SAN(m)
		pos.Make(m)
	}
	if o.JSON {
		return o.Object(t)
	}
	o.Printf("%s  (%s)  %s, %s deep, %s, %s\n line:%s\n",
		t.SAN, t.Move, r.Worth(), unit.Count(t.Depth, "ply"), unit.Count(int(t.Nodes), "position"), unit.Rate(float64(t.NPS)), words)
	return nil
}
