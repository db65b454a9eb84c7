// SPDX-License-Identifier: Apache-2.0

package app

import (
	"context"
	"fmt"
	"io"
	"runtime"
	"runtime/debug"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"boardhand/internal/camera"
	"boardhand/internal/chess"
	"boardhand/internal/follow"
	"boardhand/internal/records"
	"boardhand/internal/rig"
	"boardhand/internal/session"
	"boardhand/internal/terminal"
	"boardhand/internal/unit"
)

type watchFlags struct {
	rig, frames, fen, answers, overlay string
	square                             unit.Length // in place of a rig file
	white                              string      // picture side where White sits
	jobs                               int
}

func watchCommand(o *terminal.Out) *cobra.Command {
	var f watchFlags
	c := &cobra.Command{
		Use:   "watch (--rig RIG | --square LENGTH) --frames DIR",
		Short: "Read the moves of a game from a folder of pictures",
		Long: `Reads JPEG and PNG pictures in name order and prints a line for each: what it
shows, the move if one was finished, and how sure that is. The position is
never advanced on a doubtful picture unless --answers says what was played.

In place of a rig file --square will do, the side of a square, and a rig file
may leave out all but that: where the camera hangs, how wide it sees, where
White sits and how high the pieces are is found in the first picture then, and
said with how sure it is.

Lines of --answers say what a person knows of a picture. They count whatever
the reader makes of it:

  FRAME MOVE          this was played up to this picture, like e2e4; of several
  FRAME MOVE MOVE     moves the first one first; one read already is not made again
  FRAME nothing       nothing was: the position is right as it is
  FRAME back N        from this picture on, N moves are taken back
  FRAME position FEN  from this picture on, this position is set up`,
		Args: cobra.NoArgs,
		RunE: func(c *cobra.Command, _ []string) error { return watch(c.Context(), o, f) },
	}
	c.Flags().StringVar(&f.rig, "rig", "", "rig file; board.square is enough")
	c.Flags().TextVar(&f.square, "square", f.square, "side of a square, like 28mm, in place of a rig file")
	c.Flags().StringVar(&f.white, "white-side", "", "side of the picture where White sits: bottom, left, top or right")
	c.Flags().StringVar(&f.frames, "frames", "", "folder of pictures, or the http:// address of a motion JPEG camera")
	c.Flags().StringVar(&f.fen, "fen", "", "position before the first picture; the start of a game when not given")
	c.Flags().StringVar(&f.overlay, "overlay", "", "folder to write the pictures to with what the reader saw drawn on them")
	c.Flags().StringVar(&f.answers, "answers", "", "file of what the person said when asked; lines as above")
	c.Flags().IntVar(&f.jobs, "jobs", 0, "cores to use for a folder: pictures are unpacked ahead of the reading; 0: all there are")
	c.MarkFlagsOneRequired("rig", "square")
	c.MarkFlagsMutuallyExclusive("rig", "square")
	_ = c.MarkFlagRequired("frames")
	return c
}

func watch(ctx context.Context, o *terminal.Out, f watchFlags) error {
	debug.SetMemoryLimit(watchMemory)
	if f.jobs < 0 {
		return fmt.Errorf("--jobs %d: give a number of cores, or 0 for all there are", f.jobs)
	}
	r, err := f.table()
	if err != nil {
		return err
	}
	pos, err := records.SetUp(o, f.fen)
	if err != nil {
		return err
	}
	from, names, err := openPictures(ctx, f.frames)
	if err != nil {
		return err
	}
	eye, w, err := records.NewWatch(o, r, f.overlay)
	if err != nil {
		return err
	}
	answers, err := follow.ReadAnswers(f.answers, names)
	if err != nil {
		return err
	}
	w.Hint = answersHint
	if names == nil {
		w.Hint = streamHint
	}
	eye.Begin(pos)
	if folder, ok := from.(*camera.Folder); ok {
		from = camera.NewAhead(folder, f.ahead(), eye.Preparer().Prepare)
	}
	return follow.New(eye, answers, w).Run(ctx, from)
}

// ahead is how many pictures other cores unpack ahead of the reading.
func (f watchFlags) ahead() int {
	if f.jobs == 0 {
		f.jobs = runtime.GOMAXPROCS(0)
	}
	return min(f.jobs-1, mostAhead)
}

// table is the rig file, or what stands for it.
func (f watchFlags) table() (*rig.Rig, error) {
	var r *rig.Rig
	var err error
	if f.rig != "" {
		r, err = rig.Load(f.rig, rig.Watching)
	} else {
		r, err = rig.Parse("--square", fmt.Appendf(nil, "[board]\nsquare = %q\n", f.square.String()), rig.Watching)
		if err == nil {
			r.Path = "--square"
		}
	}
	if err == nil && f.white != "" {
		if !slices.Contains([]string{"bottom", "left", "top", "right"}, f.white) {
			return nil, fmt.Errorf("--white-side takes bottom, left, top or right; got %q", f.white)
		}
		r.Camera.WhiteSide = f.white
	}
	if err == nil && f.rig != "" && r.Camera.Source != "twin" { // pictures do not say of which twin they are
		err = session.TakeMeasured(&terminal.Out{W: io.Discard}, r, 0)
	}
	return r, err
}

// openPictures opens a folder or a stream; a stream has no names.
func openPictures(ctx context.Context, where string) (follow.Source, []string, error) {
	if strings.HasPrefix(where, "http://") || strings.HasPrefix(where, "https://") {
		s, err := camera.OpenStream(ctx, where)
		return s, nil, err
	}
	f, err := camera.OpenFolder(where)
	if err != nil {
		return nil, nil, err
	}
	return f, f.Names(), nil
}

// What a person can do when the position does not fit any more.
const (
	answersHint = "write into a file for --answers what was played, `%[1]s e2e4`, or two moves, `%[1]s e2e4 e7e5`, or that nothing was, `%[1]s nothing`, or what stands there, `%[1]s position FEN`"
	streamHint  = "end this with Ctrl-C and begin again with --fen and what stands there now; pictures kept in a folder can be read with --answers"
)

// position reads a FEN; "" is the start of a game.
func position(fen string) (chess.Position, error) {
	if fen == "" {
		return chess.Start(), nil
	}
	p, err := chess.ParseFEN(fen)
	if err != nil {
		return p, fmt.Errorf("--fen: %w", err)
	}
	return p, nil
}
