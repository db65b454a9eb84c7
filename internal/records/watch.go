// SPDX-License-Identifier: Apache-2.0

package records

import (
	"bytes"
	"fmt"
	"image/jpeg"
	"math"
	"os"
	"path/filepath"
	"strings"

	"boardhand/internal/chess"
	"boardhand/internal/follow"
	"boardhand/internal/photo"
	"boardhand/internal/rig"
	"boardhand/internal/session"
	"boardhand/internal/sight"
	"boardhand/internal/terminal"
)

// Line is what watch prints of one picture.
type Line struct {
	Frame      string          `json:"frame"`
	State      string          `json:"state"`
	Move       string          `json:"move,omitempty"`
	SAN        string          `json:"san,omitempty"`
	Moves      []string        `json:"moves,omitempty"`   // several that this picture shows at once, Move the last of them
	Beliefs    []float64       `json:"beliefs,omitempty"` // of each of them, in this order
	Late       bool            `json:"late,omitempty"`    // some of them were missed before
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

// Watching prints what the follower finds.
type Watching struct {
	o       *terminal.Out
	eye     *sight.Reader
	rig     *rig.Rig
	lens    session.LensCheck
	overlay string // folder for pictures with what the reader saw; "": none
	told    int    // so many sentences of what the reader found have been printed
	Hint    string // what a person can do when stuck, with %[1]s for the picture's name; "": nothing is said
}

func NewWatch(o *terminal.Out, r *rig.Rig, overlay string) (*sight.Reader, *Watching, error) {
	if err := r.Plays(chess.Board, chess.Kinds); err != nil {
		return nil, nil, fmt.Errorf("%s: %w", r.Name(), err)
	}
	eye, err := session.NewEye(r)
	if err != nil {
		return nil, nil, fmt.Errorf("%s: %w", r.Name(), err)
	}
	if overlay != "" {
		if err := os.MkdirAll(overlay, 0o755); err != nil {
			return nil, nil, fmt.Errorf("--overlay: %w", err)
		}
	}
	return eye, &Watching{o: o, eye: eye, rig: r, overlay: overlay}, nil
}

// SetUp is what stands on a board before its first picture, by the FEN of --fen; "" is the start of
// a game. No game need come to it: only what the rules cannot run on is refused.
func SetUp(o *terminal.Out, fen string) (chess.Position, error) {
	if fen == "" {
		return chess.Start(), nil
	}
	pos, err := chess.ParseSetUp(fen)
	if err != nil {
		return pos, fmt.Errorf("--fen: %w", err)
	}
	if odd := chess.Unreachable(&pos); odd != nil {
		o.Complain("--fen: no game comes to this position: %v; it is watched all the same", odd)
	}
	return pos, nil
}

// Saw prints the line of a picture, and draws on it if that is wanted.
func (w *Watching) Saw(s follow.Sighting) error {
	l := LineOf(s)
	w.tellFound()
	if text := w.lens.Words(w.rig, w.eye); text != "" {
		w.o.Complain("%s", text)
	}
	if !w.o.JSON {
		w.o.Printf("%s\n", l.Text())
	} else if err := w.o.Object(l); err != nil {
		return err
	}
	return w.draw(s.Picture, s.Reading)
}

// tellFound prints, once each, what the reader found because nobody had said it; beside the
// lines that a program reads.
func (w *Watching) tellFound() {
	to := w.o.W
	if w.o.JSON {
		to = w.o.Err
	}
	found := w.eye.Found()
	for _, text := range found[min(w.told, len(found)):] {
		_, _ = fmt.Fprintln(to, text)
	}
	w.told = len(found)
}

// Failed prints the complaint about a picture.
func (w *Watching) Failed(frame, text string) {
	if w.o.JSON {
		_ = w.o.Object(map[string]string{"frame": frame, "error": text})
	}
	_, _ = fmt.Fprintln(w.o.Err, text)
}

// Stuck prints the ways out.
func (w *Watching) Stuck(m follow.Misfit) {
	if m.IsHand {
		_, _ = fmt.Fprintf(w.o.Err, "%s: %d pictures in a row show a hand. If there is none, light or noise is taken for one: put more light on the board, evenly, and see what `boardhand camera` says of the picture.\n", m.Frame, m.Pictures)
		return
	}
	if w.Hint == "" {
		return
	}
	hint, squares := strings.ReplaceAll(w.Hint, "%[1]s", m.Frame), ""
	if len(m.Squares) > 0 {
		squares = ": see " + strings.Join(chess.SquareNames(m.Squares), ", ")
	}
	_, _ = fmt.Fprintf(w.o.Err, "%s: %d pictures in a row do not fit the position%s. If this stays, %s\n", m.Frame, m.Pictures, squares, hint)
}

// Frozen prints what to do about a camera that hangs.
func (w *Watching) Frozen(frame string, pictures int) {
	_, _ = fmt.Fprintf(w.o.Err, "%s: %d pictures in a row are the same to the byte: the camera hangs, and no move is seen. Unplug it and plug it in again.\n", frame, pictures)
}

// draw writes the picture with what the reader saw.
func (w *Watching) draw(pic photo.Picture, r sight.Reading) error {
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

func LineOf(s follow.Sighting) Line {
	r := s.Reading
	l := Line{Frame: s.Picture.Name, State: string(r.State), Belief: rounded(r.Belief), Squares: chess.SquareNames(r.Squares),
		FEN: s.After.FEN(), Answered: s.Answered.Played(), Back: s.TakenBack, Set: s.IsSetUp}
	if r.State == sight.Moved {
		l.Move, l.SAN = r.Move.String(), s.Before.SAN(r.Move)
	}
	if r.State == sight.Several {
		l.catchUp(s.Before, r.Plies)
	}
	if r.State == sight.Unsure {
		for _, c := range r.Candidates {
			l.Candidates = append(l.Candidates, candidate(s.Before, c))
		}
	}
	return l
}

// catchUp fills in several moves.
func (l *Line) catchUp(pos chess.Position, plies []sight.Ply) {
	var sans []string
	for _, p := range plies {
		l.Move = p.Move.String()
		sans = append(sans, pos.SAN(p.Move))
		l.Moves, l.Beliefs = append(l.Moves, l.Move), append(l.Beliefs, rounded(p.Belief))
		pos = pos.After(p.Move)
	}
	l.State, l.SAN, l.Late = string(sight.Moved), strings.Join(sans, " "), true
}

func candidate(p chess.Position, c sight.Candidate) candidateLine {
	if c.Move == 0 {
		return candidateLine{Belief: rounded(c.Belief)}
	}
	return candidateLine{Move: c.Move.String(), SAN: p.SAN(c.Move), Belief: rounded(c.Belief)}
}

// rounded keeps five digits of a probability, and never rounds a doubt away.
func rounded(p float64) float64 { return math.Floor(p*1e5) / 1e5 }

// which tells of an unsure line what was found, or where, when hardly any move is believed.
func (l Line) which() string {
	var c []string
	for _, x := range l.Candidates {
		name := x.SAN
		if x.Move == "" {
			name = "nothing"
		}
		c = append(c, fmt.Sprintf("%s %.2f", name, x.Belief))
	}
	if len(c) == 0 {
		return " differs on " + strings.Join(l.Squares, " ")
	}
	return " which? " + strings.Join(c, ", ")
}

// Text is the line for people.
func (l Line) Text() string {
	s := fmt.Sprintf("%-20s %-8s", l.Frame, l.State)
	switch l.State {
	case "move":
		s += fmt.Sprintf(" %-8s %-6s belief %.4f", l.SAN, l.Move, l.Belief)
		if l.Late {
			s += fmt.Sprintf("  %d moves: a picture of those before was missing or told nothing", len(l.Moves))
		}
	case "unsure":
		s += l.which()
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
