package app

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"image/jpeg"
	"io"
	"math"
	"os"
	"path/filepath"
	"runtime/debug"
	"strings"

	"github.com/spf13/cobra"

	"boardhand/internal/camera"
	"boardhand/internal/chess"
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
	c.Flags().StringVar(&f.rig, "rig", "", "rig file (board, men and camera are enough)")
	c.Flags().StringVar(&f.frames, "frames", "", "folder of pictures, or the http:// address of a motion JPEG camera")
	c.Flags().StringVar(&f.fen, "fen", "", "position before the first picture; the start of a game when not given")
	c.Flags().StringVar(&f.overlay, "overlay", "", "folder to write the pictures to with what the reader saw drawn on them")
	c.Flags().StringVar(&f.answers, "answers", "", "file of what the person said when asked; lines as above")
	_ = c.MarkFlagRequired("rig")
	_ = c.MarkFlagRequired("frames")
	return c
}

// watcher follows one folder.
type watcher struct {
	o       *out
	eye     *sight.Reader
	answers map[string]answer
	past    []played // the moves that were read or told
	stuck   stuck    // pictures in a row that the position does not explain
	overlay string
	seen    int
	broken  int
	said    string // the last complaint, if nothing was read since
}

// played is a move of the game.
type played struct {
	before chess.Position
	move   chess.Move
}

// pictures is where watch's pictures come from; io.EOF ends them.
type pictures interface {
	Look(ctx context.Context) (sight.Picture, error)
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
	w, err := newWatcher(o, r, f.overlay)
	if err != nil {
		return err
	}
	if w.answers, err = readAnswers(f.answers, names); err != nil {
		return err
	}
	w.stuck.hint = answersHint
	if names == nil {
		w.stuck.hint = streamHint
	}
	w.eye.Begin(pos)
	return w.run(ctx, from)
}

// openPictures opens a folder or a stream; a stream has no names.
func openPictures(ctx context.Context, where string) (pictures, []string, error) {
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

func newWatcher(o *out, r *rig.Rig, overlay string) (*watcher, error) {
	eye, err := newEye(r)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", r.Name(), err)
	}
	if overlay != "" {
		if err := os.MkdirAll(overlay, 0o755); err != nil {
			return nil, fmt.Errorf("--overlay: %w", err)
		}
	}
	return &watcher{o: o, eye: eye, overlay: overlay}, nil
}

func (w *watcher) run(ctx context.Context, from pictures) error {
	for ; ; w.seen++ {
		pic, err := from.Look(ctx)
		if errors.Is(err, io.EOF) {
			break
		}
		if rerr := w.before(pic.Name); rerr != nil {
			return rerr
		}
		var r sight.Reading
		if err == nil {
			r, err = w.eye.Read(ctx, pic)
		}
		if ctx.Err() != nil {
			return ctx.Err()
		}
		if err != nil {
			w.complain(pic.Name, err)
			if err := w.happened(pic.Name, answer{move: w.answers[pic.Name].move}); err != nil {
				return err
			}
			continue
		}
		w.said = ""
		if err := w.show(pic.Name, r); err != nil {
			return err
		}
		if err := w.draw(pic, r); err != nil {
			return err
		}
	}
	if w.broken > 0 {
		return fmt.Errorf("%d of %d pictures could not be read", w.broken, w.seen)
	}
	return nil
}

// draw writes the picture with what the reader saw.
func (w *watcher) draw(pic sight.Picture, r sight.Reading) error {
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

// complain tells of a picture that cannot be read; the position stays. A camera
// that stays away is told of once.
func (w *watcher) complain(name string, err error) {
	text := err.Error()
	if !strings.HasPrefix(text, name) {
		text = name + ": " + text
	}
	if text == w.said {
		w.seen--
		return
	}
	w.broken++
	w.said = text
	if w.o.json {
		_ = w.o.object(map[string]string{"frame": name, "error": text})
	}
	_, _ = fmt.Fprintln(w.o.err, text)
}

// show advances the position where the picture or the person says so, and
// prints the line.
func (w *watcher) show(name string, r sight.Reading) error {
	l, err := w.line(name, r)
	if err != nil {
		return err
	}
	if w.o.json {
		return w.o.object(l)
	}
	w.o.printf("%s\n", l.text())
	return nil
}

func (w *watcher) line(name string, r sight.Reading) (line, error) {
	before := w.eye.Position()
	l := line{Frame: name, State: string(r.State), Belief: rounded(r.Belief), Squares: squareNames(r.Squares)}
	l.Back, l.Set = w.answers[name].back, w.answers[name].set != ""
	if r.State == sight.Moved {
		l.Move, l.SAN = r.Move.String(), before.SAN(r.Move)
	}
	if r.State == sight.Unsure {
		for _, c := range r.Candidates {
			l.Candidates = append(l.Candidates, candidate(before, c))
		}
	}
	told, err := w.follow(name, r)
	if told {
		l.Answered = w.answers[name].move
	}
	after := w.eye.Position()
	l.FEN = after.FEN()
	w.count(name, r, told)
	return l, err
}

func candidate(p chess.Position, c sight.Candidate) candidateLine {
	if c.Move == 0 {
		return candidateLine{Belief: rounded(c.Belief)}
	}
	return candidateLine{Move: c.Move.String(), SAN: p.SAN(c.Move), Belief: rounded(c.Belief)}
}

// rounded keeps five digits of a probability, and never rounds a doubt away.
func rounded(p float64) float64 { return math.Floor(p*1e5) / 1e5 }

func squareNames(s []chess.Square) []string {
	names := make([]string, len(s))
	for i := range s {
		names[i] = s[i].String()
	}
	return names
}

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
