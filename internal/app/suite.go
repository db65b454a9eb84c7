// SPDX-License-Identifier: Apache-2.0

package app

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"os"
	"strings"

	"boardhand/internal/chess"
	"boardhand/internal/player"
	"boardhand/internal/search"
	"boardhand/internal/terminal"
	"boardhand/internal/unit"
)

// runSuite thinks about every position of an EPD file.
func runSuite(ctx context.Context, o *terminal.Out, f thinkFlags, lim search.Limits) error {
	suite, err := readSuite(f.epd)
	if err != nil {
		return err
	}
	t, err := player.OpenThinker(ctx, f.player, f.options, f.hash)
	if err != nil {
		return err
	}
	defer t.Close()
	var sum score
	for i, e := range suite {
		r, err := t.Think(ctx, chess.NewGame(e.Position), lim)
		if err != nil {
			return fmt.Errorf("%s, position %d: %w", f.epd, i+1, err)
		}
		if ctx.Err() != nil {
			return ctx.Err()
		}
		if err := printSolved(o, e, r.Move, sum.add(e, r.Move)); err != nil {
			return err
		}
	}
	if o.JSON {
		return o.Object(sum)
	}
	o.Printf("%d of %d solved", sum.Solved, sum.Total)
	if n := sum.NotJudged; n > 0 {
		o.Printf("; %s without bm or am not judged", unit.Count(n, "position"))
	}
	o.Printf("\n")
	return nil
}

// score counts the positions of a suite.
type score struct {
	Solved    int `json:"solved"`
	Total     int `json:"total"`                // of those that can be judged
	NotJudged int `json:"not_judged,omitempty"` // neither best moves nor moves to avoid are given
}

// add counts an answer and says what it is worth.
func (s *score) add(e chess.EPD, m chess.Move) (mark string) {
	if !e.Judges() {
		s.NotJudged++
		return "not judged"
	}
	s.Total++
	if !e.Solves(m) {
		return "missed"
	}
	s.Solved++
	return "found"
}

func printSolved(o *terminal.Out, e chess.EPD, m chess.Move, mark string) error {
	san := e.Position.SAN(m)
	if o.JSON {
		return o.Object(struct {
			ID   string `json:"id"`
			Move string `json:"move"`
			SAN  string `json:"san"`
			OK   *bool  `json:"ok,omitempty"` // absent: not judged
		}{e.ID, m.String(), san, judged(mark)})
	}
	o.Printf("%-10s %-7s %s\n", e.ID, san, mark)
	return nil
}

// judged is whether an answer was right; nil where nothing tells.
func judged(mark string) *bool {
	ok := mark == "found"
	if !ok && mark != "missed" {
		return nil
	}
	return &ok
}

// longestLine is the most bytes of a line in a suite.
const longestLine = 1 << 20

func readSuite(path string) ([]chess.EPD, error) {
	file, err := os.Open(path)
	if err != nil {
		return nil, fmt.Errorf("cannot read the suite: %w", err)
	}
	defer func() { _ = file.Close() }()
	var out []chess.EPD
	s := bufio.NewScanner(file)
	s.Buffer(nil, longestLine)
	for n := 1; s.Scan(); n++ {
		text := strings.TrimSpace(s.Text())
		if text == "" || strings.HasPrefix(text, "#") {
			continue
		}
		e, err := chess.ParseEPD(text)
		if err != nil {
			return nil, fmt.Errorf("%s:%d: %w", path, n, err)
		}
		out = append(out, e)
	}
	switch {
	case errors.Is(s.Err(), bufio.ErrTooLong):
		return nil, fmt.Errorf("%s: a line is longer than %d bytes: is it a suite of positions?", path, longestLine)
	case s.Err() != nil:
		return nil, fmt.Errorf("cannot read the suite: %w", s.Err())
	case len(out) == 0:
		return nil, fmt.Errorf("%s: no positions in this file", path)
	}
	return out, nil
}
