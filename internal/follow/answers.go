// SPDX-License-Identifier: Apache-2.0

package follow

import (
	"bufio"
	"errors"
	"fmt"
	"os"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"boardhand/internal/chess"
)

// Answers are what a person said of pictures, by the names of these.
type Answers map[string]Answer

// Answer is what a person said about one picture.
type Answer struct {
	Moves     []string // that were played up to it, in UCI form, the first one first
	IsNothing bool     // nothing was played
	Back      int      // plies that were taken back before it
	Set       string   // FEN of a position that was set up before it; "" for none

	earlier []Answer // what happened before it, on pictures that were not kept
}

// nothing says that nothing was played; isNothing knows its older forms.
const nothing = "nothing"

var isNothing = map[string]bool{nothing: true, "0000": true, "-": true}

// Played is what the person said was played, as an answer is written: moves
// with blanks between, "nothing", or "" where nobody said.
func (a Answer) Played() string {
	if a.IsNothing {
		return nothing
	}
	return strings.Join(a.Moves, " ")
}

// uciForm is how a move is written.
var uciForm = regexp.MustCompile(`^[a-h][1-8][a-h][1-8][qrbn]?$`)

func isNoMove(word string) bool { return !uciForm.MatchString(word) }

// answerForms says what a line of answers may be.
const answerForms = "a line is `frame move` or several moves, `frame nothing`, `frame back N` or `frame position FEN`, like `frame_0012.jpg e2e4`"

// ReadAnswers reads a file of answers; # starts a remark. A frame may be named
// with or without its ending, and more than once: what was taken back or set
// up before it, and what was played. No path gives no answers.
func ReadAnswers(path string, frames []string) (Answers, error) {
	out := Answers{}
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
		frame, a, err := ParseAnswer(s.Text())
		if err != nil {
			return nil, fmt.Errorf("%s:%d: %w", path, n, err)
		}
		if frame == "" {
			continue
		}
		if known[frame] == "" {
			return nil, fmt.Errorf("%s:%d: no picture is named %q", path, n, frame)
		}
		out[known[frame]] = out[known[frame]].and(a)
	}
	switch {
	case errors.Is(s.Err(), bufio.ErrTooLong):
		return nil, fmt.Errorf("%s: a line is longer than %d bytes: is it a file of answers? %s", path, bufio.MaxScanTokenSize, answerForms)
	case s.Err() != nil:
		return nil, fmt.Errorf("cannot read the answers in %s: %w", path, s.Err())
	}
	return out, nil
}

// ParseAnswer reads one line; no frame when it says nothing. An error says how
// a line is written.
func ParseAnswer(text string) (frame string, a Answer, err error) {
	said, _, _ := strings.Cut(text, "#")
	w := strings.Fields(said)
	switch {
	case len(w) == 0:
		return "", a, nil
	case len(w) == 3 && w[1] == "back":
		if a.Back, err = strconv.Atoi(w[2]); err != nil || a.Back < 1 {
			return "", a, fmt.Errorf("how many moves were taken back must be 1 or more; got %q", w[2])
		}
	case len(w) > 2 && w[1] == "position":
		pos, err := chess.ParseSetUp(strings.Join(w[2:], " "))
		if err != nil {
			return "", a, err
		}
		a.Set = pos.FEN()
	case len(w) == 2 && isNothing[w[1]]:
		a.IsNothing = true
	case len(w) > 1 && !slices.ContainsFunc(w[1:], isNoMove):
		a.Moves = w[1:]
	default:
		return "", a, fmt.Errorf("%s; got %q", answerForms, text)
	}
	return w[0], a, nil
}

// and adds what another line says about the same picture.
func (a Answer) and(b Answer) Answer {
	a.Back += b.Back
	if b.IsNothing || len(b.Moves) > 0 {
		a.Moves, a.IsNothing = b.Moves, b.IsNothing
	}
	if b.Set != "" {
		a.Set = b.Set
	}
	return a
}
