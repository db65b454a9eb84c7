// SPDX-License-Identifier: Apache-2.0

// Command score tells how well internal/sight reads pictures, and what each of
// its tuned numbers does to that.
//
//	score run      reads the ray-traced sessions, compares with docs/scorecard.md
//	score accept   makes the last run the card
//	score vary     halves and doubles each number, writes docs/sensitivity.md
//	score mutants  shows that doubling the ten most sensitive turns the gate red
//
// It is run at the root of the repository. Exit code 1: reading is worse, or a
// mutant lives; 2: it could not be told.
package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"os"
	"os/signal"
	"path/filepath"
	"syscall"
)

// Where things stand, from the repository's root.
const (
	readerDir     = "internal/sight"
	scenesDir     = "out/scenes"
	workDir       = "out/score"
	cardFile      = "docs/scorecard.md"
	sensitiveFile = "docs/sensitivity.md"
)

// errWorse says that the answer is no; what is worse has been printed.
var errWorse = errors.New("worse")

// sets are the sets of tools/scenes that may be scored.
var sets = [4]string{"tune", "valid", "roomt", "roomv"}

// options are the command line.
type options struct {
	asked    [len(sets)]int // sessions of each set; all 0: those of the card
	games    string         // the gate's games to run variants on, separated by commas
	match    string         // numbers to vary, a regular expression
	jobs     int            // processes at a time
	most     int            // variants to run before ending
	literals bool           // also numbers without a name
}

func main() {
	var o options
	for i, set := range sets {
		flag.IntVar(&o.asked[i], set, 0, "run: sessions of the set "+set+"; 0 for all sets: those of the card")
	}
	flag.StringVar(&o.games, "games", "", "vary: games of the gate to read, such as gate06,gate22; empty: all")
	flag.StringVar(&o.match, "match", "", "vary: only numbers whose file:name fits this regular expression")
	flag.IntVar(&o.jobs, "jobs", 2, "vary, mutants: processes at a time")
	flag.IntVar(&o.most, "most", 0, "vary: stop after so many variants; 0: when all are done")
	flag.BoolVar(&o.literals, "literals", false, "vary: also numbers without a name, inside functions")
	flag.Usage = func() {
		_, _ = fmt.Fprintln(flag.CommandLine.Output(), "score [flags] run|accept|vary|mutants")
		flag.PrintDefaults()
	}
	flag.Parse()
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	switch err := o.do(ctx, flag.Arg(0)); {
	case errors.Is(err, errWorse):
		os.Exit(1)
	case err != nil:
		fmt.Fprintln(os.Stderr, "score:", err)
		os.Exit(2)
	}
}

// do runs one command.
func (o options) do(ctx context.Context, command string) error {
	if _, err := os.Stat(filepath.Join(readerDir, "reader.go")); err != nil {
		return fmt.Errorf("run it at the root of the repository (%w)", err)
	}
	if err := os.MkdirAll(workDir, 0o755); err != nil {
		return err
	}
	switch command {
	case "run":
		return o.run(ctx)
	case "accept":
		return acceptRun(os.Stdout)
	case "vary":
		return o.vary(ctx)
	case "mutants":
		return o.mutants(ctx)
	}
	return fmt.Errorf("say run, accept, vary or mutants; got %q", command)
}
