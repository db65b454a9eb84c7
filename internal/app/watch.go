// SPDX-License-Identifier: Apache-2.0

package app

import (
	"bytes"
	"context"
	"fmt"
	"image/jpeg"
	"math"
	"os"
	"path/filepath"
	"runtime/debug"
	"strings"

	"github.com/spf13/cobra"

	"boardhand/internal/camera"
	"boardhand/internal/chess"
	"boardhand/internal/follow"
	"boardhand/internal/rig"
	"boardhand/internal/sight"
)

type watchFlags struct{ rig, frames, fen, answers, overlay string }

func watchCommand(o *out) *cobra.Command {
	var f watchFlags
	c := &cobra.Command{
		Use:   "watch --rig RIG --frames DIR",
		Short: "Read the moves of a game from a folder of pictures",
		Long: `Reads JPEG and PNG pictures in name order and prints a line for each: what it
shows, the move if one was finished, and how sure that is. The position is
never advanced on a doubtful picture unless --answers says what was played.

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
	c.Flags().StringVar(&f.rig, "rig", "", "rig file (board, pieces and camera are enough)")
	c.Flags().StringVar(&f.frames, "frames", "", "folder of pictures, or the http:// address of a motion JPEG camera")
	c.Flags().StringVar(&f.fen, "fen", "", "position before the first picture; the start of a game when not given")
	c.Flags().StringVar(&f.overlay, "overlay", "", "folder to write the pictures to with what the reader saw drawn on them")
	c.Flags().StringVar(&f.answers, "answers", "", "file of what the person said when asked; lines as above")
	_ = c.MarkFlagRequired("rig")
	_ = c.MarkFlagRequired("frames")
	return c
}

// line is what watch prints of one picture.
type line struct {
	Frame      string          `json:"frame"`
	State      string          `json:"state"`
	Move       string          `json:"move,omitempty"`
	SAN        string          `json:"san,omitempty"`
	Belief     float64         `json:"belief"`
	Squares    []string        `json:"squares"`
	FEN        string          `json:"fen"`
	Candidates []candidateLine `json:"candidates,omitempty"`
	Answered   string          `json:"answered,omitempty"`   // what the person said, made before the next picture
	Back       int             `json:"taken_back,omitempty"` // moves that the person said were taken back before this picture
	Set        bool            `json:"set_up,omitempty"`     // a position that the person said was set up before it
}

type candidateLine struct {
	Move   string  `json:"move"` // "" for "nothing happened"
	SAN    string  `json:"san,omitempty"`
	Belief float64 `json:"belief"`
}

// watchMemory is the soft limit of the heap while pictures are read, bytes: a
// picture makes many short-lived arrays, and a small computer has other work.
const watchMemory = 125 << 20

func watch(ctx context.Context, o *out, f watchFlags) error {
	debug.SetMemoryLimit(watchMemory)
	r, err := rig.Load(f.rig, rig.Watching)
	if err != nil {
		return err
	}
	pos, err := position(f.fen)
	if err != nil {
		return err
	}
	from, names, err := openPictures(ctx, f.frames)
	if err != nil {
		return err
	}
	eye, w, err := newWatch(o, r, f.overlay)
	if err != nil {
		return err
	}
	answers, err := follow.ReadAnswers(f.answers, names)
	if err != nil {
		return err
	}
	w.hint = answersHint
	if names == nil {
		w.hint = streamHint
	}
	eye.Begin(pos)
	return follow.New(eye, answers, w).Run(ctx, from)
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

// watching prints what the follower finds.
type watching struct {
	o       *out
	eye     *sight.Reader
	overlay string // folder for pictures with what the reader saw; "": none
	hint    string // what a person can do when stuck, with %[1]s for the picture's name; "": nothing is said
}

func newWatch(o *out, r *rig.Rig, overlay string) (*sight.Reader, *watching, error) {
	eye, err := newEye(r)
	if err != nil {
		return nil, nil, fmt.Errorf("%s: %w", r.Name(), err)
	}
	if overlay != "" {
		if err := os.MkdirAll(overlay, 0o755); err != nil {
			return nil, nil, fmt.Errorf("--overlay: %w", err)
		}
	}
	return eye, &watching{o: o, eye: eye, overlay: overlay}, nil
}

// Saw prints the line of a picture, and draws on it if that is wanted.
func (w *watching) Saw(s follow.Sighting) error {
	l := lineOf(s)
	if !w.o.json {
		w.o.printf("%s\n", l.text())
	} else if err := w.o.object(l); err != nil {
		return err
	}
	return w.draw(s.Picture, s.Reading)
}

// Failed prints the complaint about a picture.
func (w *watching) Failed(frame, text string) {
	if w.o.json {
		_ = w.o.object(map[string]string{"frame": frame, "error": text})
	}
	_, _ = fmt.Fprintln(w.o.err, text)
}

// What a person can do when the position does not fit any more.
const (
	answersHint = "write into a file for --answers what was played, `%[1]s e2e4`, or two moves, `%[1]s e2e4 e7e5`, or that nothing was, `%[1]s nothing`, or what stands there, `%[1]s position FEN`"
	streamHint  = "end this with Ctrl-C and begin again with --fen and what stands there now; pictures kept in a folder can be read with --answers"
)

// Stuck prints the ways out.
func (w *watching) Stuck(m follow.Misfit) {
	if w.hint == "" {
		return
	}
	hint, squares := strings.ReplaceAll(w.hint, "%[1]s", m.Frame), ""
	if len(m.Squares) > 0 {
		squares = ": see " + strings.Join(chess.SquareNames(m.Squares), ", ")
	}
	_, _ = fmt.Fprintf(w.o.err, "%s: %d pictures in a row do not fit the position%s. If this stays, %s\n", m.Frame, m.Pictures, squares, hint)
}

// draw writes the picture with what the reader saw.
func (w *watching) draw(pic sight.Picture, r sight.Reading) error {
	if w.overlay == "" {
		return nil
	}
	img, err := w.eye.Overlay(pic, r)
	if err != nil {
		return err
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, img, &jpeg.Options{Quality: overlayQuality}); err != nil {
		return err
	}
	name := strings.TrimSuffix(pic.Name, filepath.Ext(pic.Name)) + ".jpg"
	if err := os.WriteFile(filepath.Join(w.overlay, name), b.Bytes(), 0o644); err != nil {
		return fmt.Errorf("--overlay: %w", err)
	}
	return nil
}

// overlayQuality keeps thin lines clean.
const overlayQuality = 92

func lineOf(s follow.Sighting) line {
	r := s.Reading
	l := line{Frame: s.Picture.Name, State: string(r.State), Belief: rounded(r.Belief), Squares: chess.SquareNames(r.Squares),
		FEN: s.After.FEN(), Answered: s.Answered.Played(), Back: s.TakenBack, Set: s.IsSetUp}
	if r.State == sight.Moved {
		l.Move, l.SAN = r.Move.String(), s.Before.SAN(r.Move)
	}
	if r.State == sight.Unsure {
		for _, c := range r.Candidates {
			l.Candidates = append(l.Candidates, candidate(s.Before, c))
		}
	}
	return l
}

func candidate(p chess.Position, c sight.Candidate) candidateLine {
	if c.Move == 0 {
		return candidateLine{Belief: rounded(c.Belief)}
	}
	return candidateLine{Move: c.Move.String(), SAN: p.SAN(c.Move), Belief: rounded(c.Belief)}
}

// rounded keeps five digits of a probability, and never rounds a doubt away.
func rounded(p float64) float64 { return math.Floor(p*1e5) / 1e5 }

// text is the line for people.
func (l line) text() string {
	s := fmt.Sprintf("%-20s %-8s", l.Frame, l.State)
	switch l.State {
	case "move":
		s += fmt.Sprintf(" %-8s %-6s belief %.4f", l.SAN, l.Move, l.Belief)
	case "unsure":
		var c []string
		for _, x := range l.Candidates {
			name := x.SAN
			if x.Move == "" {
				name = "nothing"
			}
			c = append(c, fmt.Sprintf("%s %.2f", name, x.Belief))
		}
		s += " which? " + strings.Join(c, ", ")
	case "partial", "illegal":
		s += " differs on " + strings.Join(l.Squares, " ")
	}
	if l.Answered != "" {
		s += "  answered: " + l.Answered
	}
	if l.Back > 0 {
		s += fmt.Sprintf("  taken back: %d", l.Back)
	}
	if l.Set {
		s += "  set up"
	}
	return strings.TrimRight(s, " ")
}

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
