// SPDX-License-Identifier: Apache-2.0

// Command scenes draws validation pictures of a board game through the ray
// tracer povray (a Debian package): boards, pieces, light, lens, hands, shadows
// and half-done states that neither the twin nor the reader drew.
//
// A session is one board, one set of pieces, one light and one camera, with a
// short game. Its name is its seed: the same name gives the same pictures.
package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"os"
	"os/signal"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
)

// options are the command line.
type options struct {
	out    string // folder that gets a folder a session
	set    string // one of sets: first part of the sessions' names
	from   int    // first session number
	to     int    // last session number
	frames int    // pictures a session, about; 0: drawn per session
	jpeg   int    // JPEG quality; 0: drawn per session
	only   string // session numbers, separated by commas; empty: from -from to -to
	list   bool   // tell what the sessions hold instead of drawing them
	keep   bool   // keep povray's input beside the pictures
	fast   bool   // no antialiasing, for a quick look
}

// sets are the sets of sessions, each with seeds of its own.
var sets = []string{"tune", "valid", "gate", heads, roomTune, roomValid, promoTune, promoValid, limitTune, limitValid}

func main() {
	var o options
	flag.StringVar(&o.out, "o", "scenes", "folder for the sessions")
	flag.StringVar(&o.set, "set", "tune", "set: tune, valid (never tune on valid), gate (the short games of the reader's own test), heads: single pictures of crowded boards to learn the pieces' kinds from, roomt and roomv (kept apart): rooms in which the light on the board changes, limt and limv (kept apart): several conditions at their limits at once, or promot and promov (kept apart): games that are mainly promotions, by sets of pieces that nothing was learnt of")
	flag.IntVar(&o.from, "from", 1, "first session")
	flag.IntVar(&o.to, "to", 3, "last session")
	flag.IntVar(&o.frames, "frames", 0, "pictures a session; 0: 16-28, drawn per session")
	flag.IntVar(&o.jpeg, "jpeg", 0, "JPEG quality of the pictures, 1-100; 0: 75-92, drawn per session")
	flag.StringVar(&o.only, "only", "", "sessions by number, separated by commas, instead of -from and -to")
	flag.BoolVar(&o.list, "list", false, "tell what the sessions hold, and draw nothing")
	flag.BoolVar(&o.keep, "keep", false, "keep povray's input beside the pictures")
	flag.BoolVar(&o.fast, "fast", false, "coarse pictures for a quick look")
	flag.Parse()
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	defer stop()
	if err := run(ctx, o); err != nil {
		fmt.Fprintln(os.Stderr, "scenes:", err)
		os.Exit(2)
	}
}

// run draws the sessions one after the other; a session whose truth file is
// there already is left alone, so that a stopped run goes on.
func run(ctx context.Context, o options) error {
	numbers, err := o.numbers()
	if err != nil {
		return err
	}
	for _, n := range numbers {
		name := fmt.Sprintf("%s%02d", o.set, n)
		if o.list {
			if err := listSession(os.Stdout, o, name); err != nil {
				return fmt.Errorf("%s: %w", name, err)
			}
			continue
		}
		dir := filepath.Join(o.out, name)
		if _, err := os.Stat(filepath.Join(dir, "truth.jsonl")); err == nil {
			continue
		}
		if err := drawSession(ctx, o, name); err != nil {
			return fmt.Errorf("%s: %w", name, err)
		}
		fmt.Println(dir)
	}
	return nil
}

// numbers are the sessions asked for.
func (o options) numbers() ([]int, error) {
	if !slices.Contains(sets, o.set) {
		return nil, fmt.Errorf("-set must be one of %s; got %q", strings.Join(sets, ", "), o.set)
	}
	if o.jpeg < 0 || o.jpeg > 100 {
		return nil, fmt.Errorf("-jpeg must be 1-100, or 0 for what the session draws; got %d", o.jpeg)
	}
	var out []int
	if o.only == "" {
		if o.from < 1 || o.to > 999 || o.to < o.from {
			return nil, errors.New("-from and -to must be 1-999, in order")
		}
		for n := o.from; n <= o.to; n++ {
			out = append(out, n)
		}
		return out, nil
	}
	for field := range strings.SplitSeq(o.only, ",") {
		n, err := strconv.Atoi(strings.TrimSpace(field))
		if err != nil || n < 1 || n > 999 {
			return nil, fmt.Errorf("-only takes numbers of 1-999, separated by commas; got %q", field)
		}
		out = append(out, n)
	}
	return out, nil
}
