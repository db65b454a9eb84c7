// SPDX-License-Identifier: Apache-2.0

package desk

import (
	"context"
	"errors"
	"fmt"

	"boardhand/internal/notice"
	"boardhand/internal/table/journal"
)

// Ask puts a question to the guest. It ends without an answer when a person
// stops the machine or asks for something else.
func (d *Desk) Ask(ctx context.Context, q notice.Question) (int, error) {
	for {
		i, err := d.askOnce(ctx, &q)
		if !errors.Is(err, ErrRoused) {
			return i, err
		}
		if d.IsHalted() {
			return 0, ErrHalted
		}
		if err := d.Attend(ctx); err != nil {
			return 0, err
		}
	}
}

// ErrRoused says that a wait was ended by a request or a stop.
var ErrRoused = errors.New("something else was asked for")

func (d *Desk) askOnce(ctx context.Context, q *notice.Question) (int, error) {
	d.asked++
	q.Number = d.asked
	if err := d.Record(ctx, journal.Record{State: d.State, What: journal.Questioned, Said: q.Text, Choices: q.Choices}); err != nil {
		return 0, err
	}
	d.Observe(Event{Question: q})
	defer d.Observe(Event{Answered: true})
	var i int
	err := d.While(ctx, func(ctx context.Context) (err error) {
		i, err = d.guest.Ask(ctx, *q)
		return err
	})
	if err == nil && (i < 0 || i >= len(q.Choices)) {
		err = fmt.Errorf("the answer %d is none of the %d choices", i, len(q.Choices))
	}
	if err != nil {
		return 0, err
	}
	return i, d.Record(ctx, journal.Record{State: d.State, What: journal.Answered, Choices: q.Choices, Choice: i})
}

// While does something that waits; it is called off, with errRoused, when a
// request comes or a person stops the machine.
func (d *Desk) While(ctx context.Context, do func(context.Context) error) error {
	if d.IsWanted() || d.IsHalted() {
		return ErrRoused
	}
	inner, cancel := context.WithCancel(ctx)
	defer cancel()
	done := make(chan error, 1)
	go func() { done <- do(inner) }()
	for {
		select {
		case err := <-done:
			return err
		case <-d.Wake:
			if !d.IsWanted() && !d.IsHalted() {
				continue
			}
			cancel()
			<-done
			return ErrRoused
		}
	}
}
