// SPDX-License-Identifier: Apache-2.0

package table

import (
	"context"
	"errors"
	"fmt"

	"boardhand/internal/notice"
)

// ask puts a question to the guest. It ends without an answer when a person
// stops the machine or asks for something else.
func (d *Desk) ask(ctx context.Context, q notice.Question) (int, error) {
	for {
		i, err := d.askOnce(ctx, &q)
		if !errors.Is(err, errRoused) {
			return i, err
		}
		if d.isHalted() {
			return 0, errHalted
		}
		if err := d.attend(ctx); err != nil {
			return 0, err
		}
	}
}

// errRoused says that a wait was ended by a request or a stop.
var errRoused = errors.New("something else was asked for")

func (d *Desk) askOnce(ctx context.Context, q *notice.Question) (int, error) {
	d.asked++
	q.Number = d.asked
	if err := d.record(ctx, Record{State: d.state, What: Questioned, Said: q.Text, Choices: q.Choices}); err != nil {
		return 0, err
	}
	d.Observe(Event{Question: q})
	defer d.Observe(Event{Answered: true})
	var i int
	err := d.while(ctx, func(ctx context.Context) (err error) {
		i, err = d.guest.Ask(ctx, *q)
		return err
	})
	if err == nil && (i < 0 || i >= len(q.Choices)) {
		err = fmt.Errorf("the answer %d is none of the %d choices", i, len(q.Choices))
	}
	if err != nil {
		return 0, err
	}
	return i, d.record(ctx, Record{State: d.state, What: Answered, Choices: q.Choices, Choice: i})
}

// while does something that waits; it is called off, with errRoused, when a
// request comes or a person stops the machine.
func (d *Desk) while(ctx context.Context, do func(context.Context) error) error {
	if d.isWanted() || d.isHalted() {
		return errRoused
	}
	inner, cancel := context.WithCancel(ctx)
	defer cancel()
	done := make(chan error, 1)
	go func() { done <- do(inner) }()
	for {
		select {
		case err := <-done:
			return err
		case <-d.wake:
			if !d.isWanted() && !d.isHalted() {
				continue
			}
			cancel()
			<-done
			return errRoused
		}
	}
}
