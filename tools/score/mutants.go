// SPDX-License-Identifier: Apache-2.0

package main

import (
	"context"
	"fmt"
	"path/filepath"
)

// mostSensitive is how many numbers are doubled in the check of the gate.
const mostSensitive = 10

// mutants doubles the most sensitive numbers, one at a time, and demands that
// the gate's card turns red each time. Shapes of what is stored, with which nothing
// runs when they are changed, are not among them: they need no card. Where only some
// games are read, red there is red in the gate: it holds the same rows.
func (o options) mutants(ctx context.Context) error {
	numbers, err := allNumbers(o.literals)
	if err != nil {
		return err
	}
	found, err := o.book()
	if err != nil {
		return err
	}
	var jobs []job
	for _, l := range linesOf(numbers, found) {
		if len(jobs) < mostSensitive && l.tried(2) && !l.stops() {
			jobs = append(jobs, job{l.number, 2})
		}
	}
	if len(jobs) < mostSensitive {
		return fmt.Errorf("only %d numbers have been doubled on these sources: run score vary first", len(jobs))
	}
	into, err := o.mutantBook()
	if err != nil {
		return err
	}
	if err := o.work(ctx, "mutants", jobs, into); err != nil {
		return err
	}
	alive := 0
	for _, j := range jobs {
		f := into.all[finding{File: j.number.File, Name: j.number.Name, Factor: 2}.key()]
		fmt.Printf("%s %s doubled: gate red: %v\n", j.number.key(), j.number.Value, f.Red)
		if !f.Red {
			alive++
		}
	}
	if err := o.writeTable(numbers); err != nil {
		return err
	}
	if alive > 0 {
		fmt.Printf("%d of %d doubled numbers leave the gate green: add a game that needs them\n", alive, len(jobs))
		return errWorse
	}
	return nil
}

// mutantBook holds the runs of the check.
func (o options) mutantBook() (*book, error) {
	sum, err := sources()
	if err != nil {
		return nil, err
	}
	return openBook(filepath.Join(workDir, fmt.Sprintf("mutants-%s%s.jsonl", sum, suffix(o.games))))
}
