// SPDX-License-Identifier: Apache-2.0

package guide

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	"boardhand/internal/bringup"
	"boardhand/internal/web"
)

// question is what the page is asked.
type question struct {
	text    string
	choices []string
	leave   bool // the step may be left for later
	isSeen  bool // pictures are taken while it waits, for who holds or sets something
}

// asked is a question that waits.
type asked struct {
	n       uint64
	leave   bool
	reply   chan reply // with room for one
	settled context.CancelFunc
}

// reply is what came from a page.
type reply struct {
	choice  int
	instead *instead
}

// instead is what the maker wants done in place of a step. It breaks off the step as a no does.
type instead struct{ do, step string }

// Error names it.
func (i *instead) Error() string { return strings.TrimSpace(i.do + " " + i.step) }

// Unwrap is a no.
func (i *instead) Unwrap() error { return bringup.ErrRefused }

// Tell writes into the log what is said.
func (g *Guide) Tell(text string) {
	for line := range strings.SplitSeq(text, "\n") {
		g.note(strings.TrimSpace(line))
	}
}

// note writes a line into the log, and at the terminal.
func (g *Guide) note(text string) {
	g.Say(text)
	g.Publish(web.Event{Log: []web.Line{{Text: text}}})
}

// Count shows how far the step is.
func (g *Guide) Count(done, of int, what string) {
	g.page.Count.Done, g.page.Count.Of, g.page.Count.What = done, of, what
	g.publish()
}

// choices are the answers to a request, yes first.
var choices = map[bringup.Asking][]string{
	bringup.Confirm:   {"All clear: go on"},
	bringup.Clear:     {"The board is bare"},
	bringup.Put:       {"It stands there"},
	bringup.Watch:     {"Yes", "No"},
	bringup.HoldSheet: {"I hold it so"},
	bringup.Agree:     {"I have read it and will keep to it"},
	bringup.Choose:    {"Yes", "No"},
}

// Ask puts a request to whoever is at a page.
func (g *Guide) Ask(ctx context.Context, r bringup.Request) (bool, error) {
	g.page.Hold = nil
	if r.Asking == bringup.HoldSheet {
		for _, c := range r.Hold.Outline(g.parts.Rig) {
			g.page.Hold = append(g.page.Hold, web.Place(c))
		}
	}
	choice, err := g.ask(ctx, question{text: r.Text, choices: choices[r.Asking], leave: r.Asking != bringup.Agree,
		isSeen: slices.Contains([]bringup.Asking{bringup.HoldSheet, bringup.Clear, bringup.Put}, r.Asking)})
	g.page.Hold = nil
	if err != nil || choice != 0 {
		return false, err
	}
	if g.Obey != nil {
		err = g.Obey(r)
	}
	return true, err
}

// ask waits for the choice that somebody at a page makes.
func (g *Guide) ask(ctx context.Context, q question) (int, error) {
	waits, settled := context.WithCancel(ctx)
	defer settled()
	g.mu.Lock()
	g.number++
	a := &asked{n: g.number, leave: q.leave, reply: make(chan reply, 1), settled: settled}
	g.asked = a
	g.mu.Unlock()
	g.page.Leave = q.leave
	g.publish()
	g.Publish(web.Event{Question: &web.Question{N: a.n, Text: q.text, Choices: q.choices}})
	g.watch(waits, q.isSeen)
	g.mu.Lock()
	g.asked = nil
	g.mu.Unlock()
	g.page.Leave = false
	g.Publish(web.Event{Question: &web.Question{}})
	select {
	case got := <-a.reply:
		if got.instead != nil {
			return 0, got.instead
		}
		return got.choice, nil
	default:
		return 0, ctx.Err()
	}
}

// watch takes pictures until ctx ends, or only waits.
func (g *Guide) watch(ctx context.Context, isSeen bool) {
	tick := time.NewTicker(lookEvery)
	defer tick.Stop()
	for {
		select {
		case <-ctx.Done():
			return
		case <-tick.C:
			if isSeen {
				_, _ = g.parts.Camera.Look(ctx) // one that does not come is told by the step that needs it
			}
		}
	}
}

var errSettled = errors.New("that question has been settled already")

// settle hands a reply to the question with that number.
func (g *Guide) settle(number uint64, with reply) error {
	g.mu.Lock()
	defer g.mu.Unlock()
	a := g.asked
	switch {
	case a == nil || a.n != number:
		return errSettled
	case with.instead != nil && with.instead.do == web.Later && !a.leave:
		return errors.New("this cannot be left for later: answer it")
	}
	g.asked = nil
	a.reply <- with
	a.settled()
	return nil
}

// Answer takes a choice.
func (g *Guide) Answer(_ context.Context, number uint64, choice int) error {
	return g.settle(number, reply{choice: choice})
}

// Instead leaves the step that waits, or does another one. Before the cautions are agreed to
// nothing else is done.
func (g *Guide) Instead(_ context.Context, number uint64, do, step string) error {
	if do == web.Again && !slices.ContainsFunc(bringup.Steps, func(s bringup.Step) bool { return s.Name == step }) {
		return fmt.Errorf("%q is no step of a bring-up", step)
	}
	g.mu.Lock()
	agreed := g.file.Cautions != nil
	g.mu.Unlock()
	if !agreed {
		return errors.New("read the cautions and agree to them first")
	}
	return g.settle(number, reply{instead: &instead{do, step}})
}

// Halt stops the motors now, and the step with them.
func (g *Guide) Halt(context.Context) error {
	yes := true
	g.mu.Lock()
	g.halted = true
	g.mu.Unlock()
	err := g.parts.Gantry.Halt()
	g.mu.Lock()
	if g.stop != nil {
		g.stop()
	}
	g.mu.Unlock()
	g.Publish(web.Event{Halted: &yes})
	return err
}

// Resume is by the question that follows on a stop.
func (g *Guide) Resume(context.Context) error {
	return errors.New("answer the question on the page: the step begins anew")
}

// Hand is refused: hands are real here, or do what is asked.
func (g *Guide) Hand(context.Context, web.HandAct) error {
	return errors.New("no game is played here")
}
