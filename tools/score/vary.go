// SPDX-License-Identifier: Apache-2.0

package main

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"sync"
)

// job is one variant to run.
type job struct {
	number number
	factor float64
}

// vary halves and doubles each number and writes what that does. What has
// been run on these very sources is not run again.
func (o options) vary(ctx context.Context) error {
	b, err := o.book()
	if err != nil {
		return err
	}
	numbers, err := allNumbers(o.literals)
	if err != nil {
		return err
	}
	jobs, err := o.open(b, numbers)
	if err != nil {
		return err
	}
	fmt.Printf("%d numbers, %d variants to run\n", len(numbers), len(jobs))
	if len(jobs) > 0 {
		if err := o.work(ctx, "vary", jobs, b); err != nil && ctx.Err() == nil {
			return err
		}
	}
	fmt.Println("written:", sensitiveFile)
	return o.writeTable(numbers)
}

// open lists the variants that are still to run, those without a name last.
func (o options) open(b *book, numbers []number) ([]job, error) {
	match, err := regexp.Compile(o.match)
	if err != nil {
		return nil, fmt.Errorf("-match: %w", err)
	}
	var jobs []job
	for _, n := range numbers {
		for _, factor := range []float64{2, 0.5} {
			if match.MatchString(n.key()) && !b.has(n, factor) && (o.most == 0 || len(jobs) < o.most) {
				jobs = append(jobs, job{n, factor})
			}
		}
	}
	return jobs, nil
}

// work runs variants on several benches and books what they did.
func (o options) work(ctx context.Context, name string, jobs []job, into *book) error {
	todo := make(chan job)
	var wait sync.WaitGroup
	errs := make([]error, o.jobs)
	ctx, stop := context.WithCancel(ctx)
	defer stop()
	for k := range o.jobs {
		wait.Go(func() {
			errs[k] = workOn(ctx, fmt.Sprintf("%s%d", name, k), o.games, todo, into)
			if errs[k] != nil {
				stop()
			}
		})
	}
	for i, j := range jobs {
		select {
		case todo <- j:
			fmt.Printf("%d/%d %s %s x %g\n", i+1, len(jobs), j.number.key(), j.number.Value, j.factor)
		case <-ctx.Done():
		}
	}
	close(todo)
	wait.Wait()
	return errors.Join(errs...)
}

// workOn runs variants on one bench until there are no more.
func workOn(ctx context.Context, name, games string, todo <-chan job, into *book) error {
	b, err := newBench(ctx, name, games)
	if err != nil {
		return err
	}
	for j := range todo {
		f, err := b.try(ctx, j.number, j.factor)
		if err != nil {
			return err
		}
		if err := into.add(f); err != nil {
			return err
		}
	}
	return nil
}

// book keeps findings on disk, a line each, for one state of the sources and
// one choice of games.
type book struct {
	mu   sync.Mutex
	path string
	all  map[string]finding
}

// book opens the findings on the sources as they are.
func (o options) book() (*book, error) {
	sum, err := sources()
	if err != nil {
		return nil, err
	}
	return openBook(filepath.Join(workDir, fmt.Sprintf("vary-%s%s.jsonl", sum, suffix(o.games))))
}

// suffix is the games as part of a file's name.
func suffix(games string) string {
	if games == "" {
		return ""
	}
	return "-" + games
}

// openBook reads what is there.
func openBook(path string) (*book, error) {
	b := &book{path: path, all: map[string]finding{}}
	text, err := os.ReadFile(path)
	if errors.Is(err, fs.ErrNotExist) {
		return b, nil
	}
	if err != nil {
		return nil, err
	}
	whole := bytes.LastIndexByte(text, '\n') + 1
	for line := range bytes.Lines(text[:whole]) {
		var x finding
		if err := json.Unmarshal(line, &x); err != nil {
			return nil, fmt.Errorf("%s: %w: delete it to run all variants anew", path, err)
		}
		b.all[x.key()] = x
	}
	if whole < len(text) { // cut off in the middle of a line: that variant is run again
		return b, os.Truncate(path, int64(whole))
	}
	return b, nil
}

// key names a variant.
func (f finding) key() string { return fmt.Sprintf("%s:%s x %g", f.File, f.Name, f.Factor) }

func (b *book) has(n number, factor float64) bool {
	_, ok := b.all[finding{File: n.File, Name: n.Name, Factor: factor}.key()]
	return ok
}

// add books a finding, on disk first.
func (b *book) add(x finding) error {
	b.mu.Lock()
	defer b.mu.Unlock()
	line, err := json.Marshal(x)
	if err != nil {
		return err
	}
	f, err := os.OpenFile(b.path, os.O_CREATE|os.O_APPEND|os.O_WRONLY, 0o644)
	if err != nil {
		return err
	}
	if _, err := f.Write(append(line, '\n')); err != nil {
		return errors.Join(err, f.Close())
	}
	b.all[x.key()] = x
	return f.Close()
}
