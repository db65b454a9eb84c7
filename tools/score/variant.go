// SPDX-License-Identifier: Apache-2.0

package main

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"time"

	"golang.org/x/sys/unix"

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
	Red               bool     // the gate's card, were the reader without the change the one accepted
	Base, Total       card.Row // of the card, without the change and with it
	Read              int      // pictures read otherwise than without a change
}

// bench builds and runs the gate's card with one file exchanged.
type bench struct {
	root  string // of the repository
	dir   string // for this bench's own files
	games string
	limit time.Duration          // of processor time: a machine may be busy, or hold a process for a while
	can   map[string]bool        // numbers that the switched program varies, by key
	index map[string]int         // and their places in it
	base  map[string]card.Result // by program, without a change: a factor of one may round otherwise than a constant
}

// The programs of a bench: one that holds the factors of most numbers, and one
// that is built for a single variant.
const switchedTest, variantTest = "switched.test", "variant.test"

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
	if said, err := b.build(ctx, variantTest, nil); err != nil {
		return nil, fmt.Errorf("the reader's tests do not build: %w\n%s", err, said)
	}
	plain, took, err := b.read(ctx, variantTest)
	if err != nil {
		return nil, fmt.Errorf("the gate is red without any change; make it green first: %w", err)
	}
	if err := b.buildSwitched(ctx); err != nil {
		return nil, err
	}
	factored, _, err := b.read(ctx, switchedTest)
	if len(factored.Card) == 0 {
		return nil, fmt.Errorf("the program with factors does not run: %w", err)
	}
	b.base = map[string]card.Result{variantTest: plain, switchedTest: factored}
	b.limit = 10*took + time.Minute
	return b, nil
}

// buildSwitched makes the program that holds the factors.
func (b *bench) buildSwitched(ctx context.Context) error {
	numbers, err := allNumbers(false)
	if err != nil {
		return err
	}
	files, can, err := switched(numbers)
	if err != nil {
		return err
	}
	b.can, b.index = map[string]bool{}, map[string]int{}
	for i, n := range numbers {
		b.can[n.key()], b.index[n.key()] = can[i], i
	}
	if said, err := b.build(ctx, switchedTest, files); err != nil {
		return fmt.Errorf("the reader's tests do not build with factors: %w\n%s", err, said)
	}
	return nil
}

// build makes the test program, files exchanged as given: path from the root
// to text.
func (b *bench) build(ctx context.Context, program string, exchanged map[string][]byte) (string, error) {
	replace := map[string]string{}
	for path, text := range exchanged {
		own := filepath.Join(b.dir, strings.ReplaceAll(filepath.ToSlash(path), "/", "_")+".txt") // no package for go build ./...
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
	said, err := exec.CommandContext(ctx, "go", "test", "-c", "-overlay", file, "-o", filepath.Join(b.dir, program), "./"+readerDir).CombinedOutput()
	return string(said), err
}

// errEndless says that a program used up its processor time.
var errEndless = errors.New("does not end")

// read runs the gate's card with a program and tells what processor time that
// took; an error says that it is red, and why.
func (b *bench) read(ctx context.Context, program string, env ...string) (card.Result, time.Duration, error) {
	out := filepath.Join(b.dir, "card.json")
	if err := os.RemoveAll(out); err != nil {
		return card.Result{}, 0, err
	}
	c := exec.CommandContext(ctx, filepath.Join(b.dir, program), "-test.run", "^TestScorecard$")
	c.Dir = filepath.Join(b.root, readerDir)
	c.Env = append(os.Environ(), "BOARDHAND_CARD="+out, "BOARDHAND_ONLY="+b.games, "BOARDHAND_ACCEPT=")
	c.Env = append(c.Env, env...)
	said, took, red := runLimited(c, b.limit)
	if ctx.Err() != nil || errors.Is(red, errEndless) {
		return card.Result{}, took, errors.Join(ctx.Err(), red)
	}
	if red != nil {
		red = fmt.Errorf("%w\n%s", red, said)
	}
	result, err := card.Load(out)
	return result, took, errors.Join(red, err)
}

// runLimited runs a program that may use so much processor time and no more.
func runLimited(c *exec.Cmd, limit time.Duration) (said string, took time.Duration, err error) {
	var b bytes.Buffer
	c.Stdout, c.Stderr = &b, &b
	if err := c.Start(); err != nil {
		return "", 0, err
	}
	seconds := uint64(math.Ceil(limit.Seconds()))
	if err := unix.Prlimit(c.Process.Pid, unix.RLIMIT_CPU, &unix.Rlimit{Cur: seconds, Max: seconds}, nil); err != nil {
		return "", 0, errors.Join(err, c.Process.Kill(), c.Wait())
	}
	err = c.Wait()
	took = c.ProcessState.UserTime() + c.ProcessState.SystemTime()
	// The kernel counts in ticks for the limit and finer for the time told: they
	// were seen to differ by a tenth.
	if status, ok := c.ProcessState.Sys().(syscall.WaitStatus); ok && status.Signaled() && took >= limit/2 {
		err = errEndless
	}
	return b.String(), took, err
}

// try tells what a number halved or doubled does.
func (b *bench) try(ctx context.Context, n number, factor float64) (finding, error) {
	f := finding{File: n.File, Name: n.Name, Value: n.Value, Factor: factor, Games: b.games, Red: true}
	program, env, err := b.prepare(ctx, n, factor)
	if ctx.Err() != nil {
		return f, ctx.Err()
	}
	if err != nil {
		f.Outcome = noBuild
		return f, nil
	}
	got, _, red := b.read(ctx, program, env...)
	switch {
	case ctx.Err() != nil:
		return f, ctx.Err()
	case errors.Is(red, errEndless):
		f.Outcome = neverEnds
	case len(got.Card) == 0:
		f.Outcome = crashed
	default:
		base := b.base[program]
		f.Outcome, f.Red = ran, card.Judge(base, got) != ""
		f.Base, f.Total = total(base.Card), total(got.Card)
		f.Read = len(card.Differences(base.Readings, got.Readings))
	}
	return f, nil
}

// prepare chooses or builds the program of a variant; an error says that it
// does not build.
func (b *bench) prepare(ctx context.Context, n number, factor float64) (program string, env []string, err error) {
	if b.can[n.key()] {
		return switchedTest, []string{fmt.Sprintf("BOARDHAND_NUMBER=%d", b.index[n.key()]), fmt.Sprintf("BOARDHAND_FACTOR=%g", factor)}, nil
	}
	path := filepath.Join(readerDir, n.File)
	text, err := os.ReadFile(path)
	if err != nil {
		return "", nil, err
	}
	_, err = b.build(ctx, variantTest, map[string][]byte{path: n.times(text, factor, false)})
	if err != nil && factor < 1 {
		_, err = b.build(ctx, variantTest, map[string][]byte{path: n.times(text, factor, true)})
	}
	return variantTest, nil, err
}

// total is the row of all games.
func total(c card.Card) card.Row {
	if r := c.Row("total"); r != nil {
		return *r
	}
	return card.Row{}
}
