// Command scenes draws validation pictures of a board game through the ray
// tracer povray (a Debian package): boards, men, light, lens, hands, shadows
// and half-done states that neither the twin nor the reader drew.
//
// A session is one board, one set of men, one light and one camera, with a
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
)

// options are the command line.
type options struct {
	out    string // folder that gets a folder a session
	set    string // "tune", "valid" or "heads": first part of the sessions' names
	from   int    // first session number
	to     int    // last session number
	frames int    // pictures a session, about; 0: drawn per session
	keep   bool   // keep povray's input beside the pictures
	fast   bool   // no antialiasing, for a quick look
}

func main() {
	var o options
	flag.StringVar(&o.out, "o", "scenes", "folder for the sessions")
	flag.StringVar(&o.set, "set", "tune", "set: tune, valid (never tune on valid), or heads: single pictures of crowded boards to learn the men's kinds from")
	flag.IntVar(&o.from, "from", 1, "first session")
	flag.IntVar(&o.to, "to", 3, "last session")
	flag.IntVar(&o.frames, "frames", 0, "pictures a session; 0: 16-28, drawn per session")
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
	if o.set != "tune" && o.set != "valid" && o.set != heads {
		return fmt.Errorf("-set must be tune, valid or heads; got %q", o.set)
	}
	if o.from < 1 || o.to > 999 || o.to < o.from {
		return errors.New("-from and -to must be 1-999, in order")
	}
	for n := o.from; n <= o.to; n++ {
		name := fmt.Sprintf("%s%02d", o.set, n)
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
