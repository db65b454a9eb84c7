package app

import (
	"bufio"
	"context"
	"fmt"
	"os"
	"strings"

	"boardhand/internal/chess"
	"boardhand/internal/search"
)

// runSuite thinks about every position of an EPD file.
func runSuite(ctx context.Context, o *out, f thinkFlags, lim search.Limits) error {
	suite, err := readSuite(f.epd)
	if err != nil {
		return err
	}
	t, err := openThinker(ctx, f.player, f.hash)
	if err != nil {
		return err
	}
	defer t.close()
	solved := 0
	for i, e := range suite {
		r, err := t.think(ctx, chess.NewGame(e.Position), lim)
		if err != nil {
			return fmt.Errorf("%s, position %d: %w", f.epd, i+1, err)
		}
		if ctx.Err() != nil {
			return ctx.Err()
		}
		ok := e.Solves(r.Move)
		if ok {
			solved++
		}
		if err := printSolved(o, e, r.Move, ok); err != nil {
			return err
		}
	}
	if o.json {
		return o.object(struct {
			Solved int `json:"solved"`
			Total  int `json:"total"`
		}{solved, len(suite)})
	}
	o.printf("%d of %d solved\n", solved, len(suite))
	return nil
}

func printSolved(o *out, e chess.EPD, m chess.Move, ok bool) error {
	san := e.Position.SAN(m)
	if o.json {
		return o.object(struct {
			ID   string `json:"id"`
			Move string `json:"move"`
			SAN  string `json:"san"`
			OK   bool   `json:"ok"`
		}{e.ID, m.String(), san, ok})
	}
	mark := "missed"
	if ok {
		mark = "found"
	}
	o.printf("%-10s %-7s %s\n", e.ID, san, mark)
	return nil
}

func readSuite(path string) ([]chess.EPD, error) {
	file, err := os.Open(path)
	if err != nil {
		return nil, fmt.Errorf("cannot read the suite: %w", err)
	}
	defer func() { _ = file.Close() }()
	var out []chess.EPD
	s := bufio.NewScanner(file)
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
	if len(out) == 0 && s.Err() == nil {
		return nil, fmt.Errorf("%s: no positions in this file", path)
	}
	return out, s.Err()
}
