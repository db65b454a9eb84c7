package app

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io"
	"math"
	"os"
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
never advanced on a doubtful picture unless --answers says what was played.`,
		Args: cobra.NoArgs,
		RunE: func(c *cobra.Command, _ []string) error { return watch(c.Context(), o, f) },
	}
	c.Flags().StringVar(&f.rig, "rig", "", "rig file (board, men and camera are enough)")
	c.Flags().StringVar(&f.frames, "frames", "", "folder of pictures")
	c.Flags().StringVar(&f.fen, "fen", "", "position before the first picture; the start of a game when not given")
	c.Flags().StringVar(&f.answers, "answers", "", "file with lines `frame move`: what the person said when asked")
	_ = c.MarkFlagRequired("rig")
	_ = c.MarkFlagRequired("frames")
	return c
}

// watcher follows one folder.
type watcher struct {
	o       *out
	eye     *sight.Reader
	answers map[string]string
	doubt   bool // the last settled picture was unsure and nobody has answered yet
	broken  int
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
	Answered   string          `json:"answered,omitempty"` // what the person said, made before the next picture
}

type candidateLine struct {
	Move   string  `json:"move"` // "" for "nothing happened"
	SAN    string  `json:"san,omitempty"`
	Belief float64 `json:"belief"`
}

func watch(ctx context.Context, o *out, f watchFlags) error {
	r, err := rig.Load(f.rig, rig.Watching)
	if err != nil {
		return err
	}
	pos, err := position(f.fen)
	if err != nil {
		return err
	}
	folder, err := camera.OpenFolder(f.frames)
	if err != nil {
		return err
	}
	setup, err := sight.SetupFrom(r)
	if err != nil {
		return fmt.Errorf("%s: %w", f.rig, err)
	}
	w := &watcher{o: o, eye: sight.NewReader(setup)}
	if w.answers, err = readAnswers(f.answers, folder.Names()); err != nil {
		return err
	}
	w.eye.Begin(pos)
	return w.run(ctx, folder)
}

func (w *watcher) run(ctx context.Context, folder *camera.Folder) error {
	for {
		pic, err := folder.Look(ctx)
		if errors.Is(err, io.EOF) {
			break
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
			continue
		}
		if err := w.show(pic.Name, r); err != nil {
			return err
		}
	}
	if w.broken > 0 {
		return fmt.Errorf("%d of %d pictures could not be read", w.broken, len(folder.Names()))
	}
	return nil
}

// complain tells of a picture that cannot be read; the position stays.
func (w *watcher) complain(name string, err error) {
	w.broken++
	text := err.Error()
	if !strings.HasPrefix(text, name) {
		text = name + ": " + text
	}
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
	if r.State == sight.Moved {
		l.Move, l.SAN = r.Move.String(), before.SAN(r.Move)
		if err := w.eye.Accept(r.Move); err != nil {
			return l, err
		}
	}
	if r.State == sight.Unsure {
		for _, c := range r.Candidates {
			l.Candidates = append(l.Candidates, candidate(before, c))
		}
	}
	after := w.eye.Position()
	l.FEN = after.FEN()
	return l, w.answer(&l, r)
}

// answer uses what the person said, where the reader was in doubt.
func (w *watcher) answer(l *line, r sight.Reading) error {
	switch r.State {
	case sight.Unsure:
		w.doubt = true
	case sight.Same, sight.Moved:
		w.doubt = false
	}
	text, given := w.answers[l.Frame]
	if !given || !w.doubt {
		return nil
	}
	pos := w.eye.Position()
	m := chess.Move(0)
	if text != "0000" && text != "-" {
		var err error
		if m, err = pos.ParseUCI(text); err != nil {
			return fmt.Errorf("the answer for %s: %w", l.Frame, err)
		}
	}
	w.doubt = false
	l.Answered = text
	return w.eye.Resolve(m)
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

// readAnswers reads lines "frame move"; # starts a remark. A frame may be
// named with or without its ending.
func readAnswers(path string, frames []string) (map[string]string, error) {
	out := map[string]string{}
	if path == "" {
		return out, nil
	}
	f, err := os.Open(path)
	if err != nil {
		return nil, fmt.Errorf("cannot read the answers: %w", err)
	}
	defer func() { _ = f.Close() }()
	known := map[string]string{}
	for _, n := range frames {
		known[n] = n
		known[strings.TrimSuffix(n, n[strings.LastIndex(n, "."):])] = n
	}
	s := bufio.NewScanner(f)
	for n := 1; s.Scan(); n++ {
		text, _, _ := strings.Cut(s.Text(), "#")
		w := strings.Fields(text)
		if len(w) == 0 {
			continue
		}
		if len(w) != 2 {
			return nil, fmt.Errorf("%s:%d: a line is `frame move`, like `frame_0012.jpg e2e4`; got %q", path, n, s.Text())
		}
		if known[w[0]] == "" {
			return nil, fmt.Errorf("%s:%d: no picture is named %s", path, n, w[0])
		}
		out[known[w[0]]] = w[1]
	}
	return out, s.Err()
}
