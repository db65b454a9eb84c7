package main

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"time"

	"boardhand/tools/score/card"
)

// outcome is what became of a variant's run.
type outcome string

// The outcomes.
const (
	ran       outcome = "ran"
	noBuild   outcome = "does not build"
	crashed   outcome = "stops with an error"
	neverEnds outcome = "does not end"
)

// finding is what one variant did.
type finding struct {
	File, Name, Value string
	Factor            float64
	Games             string
	Outcome           outcome
	Red               bool     // the gate's card
	Total             card.Row // of the card
	Read              int      // pictures read otherwise than without a change
	Shifts            []string // figures of the total row that the card would report
}

// bench builds and runs the gate's card with one file exchanged.
type bench struct {
	root  string // of the repository
	dir   string // for this bench's own files
	games string
	limit time.Duration
	base  card.Result // without a change
}

// newBench makes a bench and measures the reader as it is: the gate must be
// green without a change.
func newBench(ctx context.Context, name, games string) (*bench, error) {
	root, err := os.Getwd()
	if err != nil {
		return nil, err
	}
	b := &bench{root: root, dir: filepath.Join(root, workDir, name), games: games, limit: time.Hour}
	if err := os.MkdirAll(b.dir, 0o755); err != nil {
		return nil, err
	}
	began := time.Now()
	said, err := b.build(ctx, nil)
	if err != nil {
		return nil, fmt.Errorf("the reader's tests do not build: %w\n%s", err, said)
	}
	result, said, err := b.read(ctx)
	if err != nil {
		return nil, fmt.Errorf("the gate is red without any change; make it green first (%w)\n%s", err, said)
	}
	b.base = result
	b.limit = 10*time.Since(began) + time.Minute // other work on the machine included
	return b, nil
}

// build makes the test program, files exchanged as given: path from the root
// to text.
func (b *bench) build(ctx context.Context, exchanged map[string][]byte) (string, error) {
	replace := map[string]string{}
	for path, text := range exchanged {
		own := filepath.Join(b.dir, filepath.Base(path))
		if err := os.WriteFile(own, text, 0o644); err != nil {
			return "", err
		}
		replace[filepath.Join(b.root, path)] = own
	}
	overlay, err := json.Marshal(map[string]any{"Replace": replace})
	if err != nil {
		return "", err
	}
	file := filepath.Join(b.dir, "overlay.json")
	if err := os.WriteFile(file, overlay, 0o644); err != nil {
		return "", err
	}
	said, err := exec.CommandContext(ctx, "go", "test", "-c", "-overlay", file, "-o", filepath.Join(b.dir, "variant.test"), "./"+readerDir).CombinedOutput()
	return string(said), err
}

// read runs the gate's card; an error says that it is red.
func (b *bench) read(ctx context.Context) (card.Result, string, error) {
	ctx, stop := context.WithTimeout(ctx, b.limit)
	defer stop()
	out := filepath.Join(b.dir, "card.json")
	if err := os.RemoveAll(out); err != nil {
		return card.Result{}, "", err
	}
	c := exec.CommandContext(ctx, filepath.Join(b.dir, "variant.test"), "-test.run", "^TestScorecard$")
	c.Dir = filepath.Join(b.root, readerDir)
	c.Env = append(os.Environ(), "BOARDHAND_CARD="+out, "BOARDHAND_ONLY="+b.games, "BOARDHAND_ACCEPT=")
	said, red := c.CombinedOutput()
	if ctx.Err() != nil {
		return card.Result{}, string(said), ctx.Err()
	}
	result, err := card.Load(out)
	if err != nil {
		return result, string(said), errors.Join(red, err)
	}
	return result, string(said), red
}

// try tells what a number halved or doubled does.
func (b *bench) try(ctx context.Context, n number, factor float64) (finding, error) {
	f := finding{File: n.File, Name: n.Name, Value: n.Value, Factor: factor, Games: b.games, Red: true}
	path := filepath.Join(readerDir, n.File)
	text, err := os.ReadFile(path)
	if err != nil {
		return f, err
	}
	if _, err = b.build(ctx, map[string][]byte{path: n.times(text, factor, false)}); err != nil && factor < 1 {
		_, err = b.build(ctx, map[string][]byte{path: n.times(text, factor, true)})
	}
	if ctx.Err() != nil {
		return f, ctx.Err()
	}
	if err != nil {
		f.Outcome = noBuild
		return f, nil
	}
	got, _, red := b.read(ctx)
	switch {
	case ctx.Err() != nil:
		return f, ctx.Err()
	case errors.Is(red, context.DeadlineExceeded):
		f.Outcome = neverEnds
	case len(got.Card) == 0:
		f.Outcome = crashed
	default:
		f.Outcome, f.Red = ran, red != nil
		f.Total = got.Card[len(got.Card)-1]
		if r := got.Card.Row("total"); r != nil {
			f.Total = *r
		}
		f.Read = len(card.Differences(b.base.Readings, got.Readings))
		f.Shifts = b.shifts(f.Total)
	}
	return f, nil
}

// shifts says in short what changed in the total, "moves right −2".
func (b *bench) shifts(is card.Row) []string {
	was := b.base.Card.Row("total")
	if was == nil {
		return nil
	}
	var out []string
	count := func(what string, was, is int) {
		if was != is {
			out = append(out, fmt.Sprintf("%s %s", what, signed(is-was)))
		}
	}
	count("moves right", was.Moves.Is, is.Moves.Is)
	count("wrong", was.Wrong, is.Wrong)
	count("asked", was.Asked.Is, is.Asked.Is)
	count("same", was.Still.Is, is.Still.Is)
	count("hands", was.Hands.Is, is.Hands.Is)
	count("odd", was.Odd.Is, is.Odd.Is)
	count("errors", was.Failed, is.Failed)
	share := func(what string, was, is float64) {
		if p := 100 * (is/was - 1); was > 0 && (p >= 2 || p <= -2) {
			out = append(out, fmt.Sprintf("%s %s %%", what, signed(int(p))))
		}
	}
	share("surprise", was.Surprise, is.Surprise)
	share("offset", was.Median, is.Median)
	share("offset 95 %", was.Most, is.Most)
	share("over σ", was.Sigmas, is.Sigmas)
	return out
}

// signed writes a number with its sign.
func signed(n int) string {
	return strings.Replace(fmt.Sprintf("%+d", n), "-", "−", 1)
}
