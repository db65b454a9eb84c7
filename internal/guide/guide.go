// SPDX-License-Identifier: Apache-2.0

// Package guide is between a bring-up and its page: it shows the steps with what they
// measured, and is the maker whom the bring-up asks, answered from the page. Each question has
// a number, which an answer must bear: what comes late, or from a second page, does nothing.
package guide

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"sync"

	"boardhand/internal/bringup"
	"boardhand/internal/measured"
	"boardhand/internal/web"
)

// Options are what a guide needs besides the machine.
type Options struct {
	Publish func(web.Event)
	Say     func(text string)           // a line for whoever reads the terminal
	Obey    func(bringup.Request) error // does on the twin's table what was asked; nil: a person does
	Record  func(*measured.File) error  // writes the record of the bring-up
}

// Guide leads through one bring-up.
type Guide struct {
	Options
	parts   bringup.Parts
	session *bringup.Session
	page    web.BringUp     // as shown; of the goroutine that runs
	later   map[string]bool // steps that were left
	again   string          // the step to be done next; "": the first that is to come

	mu     sync.Mutex
	number uint64             // of the newest question
	asked  *asked             // waits; nil: none does
	stop   context.CancelFunc // of the step that is on; nil: none is
	halted bool               // since the last step began
	file   measured.File      // as it was kept last
}

// New prepares a bring-up by page that goes on from what was measured before.
func New(p bringup.Parts, file *measured.File, o Options) (*Guide, error) {
	// Numbers go on beyond those of a program that was killed: its pages may still be open.
	g := &Guide{Options: o, parts: p, later: map[string]bool{}, number: uint64(p.Now().UnixMilli())}
	g.parts.Maker, g.parts.Camera = g, seen{p.Camera, g}
	var err error
	if g.session, err = bringup.New(g.parts, file); err != nil {
		return nil, err
	}
	g.keep()
	return g, nil
}

// errStopped is why a step was broken off from the page.
var errStopped = errors.New("stopped from the page")

// Run does step after step until ctx ends.
func (g *Guide) Run(ctx context.Context) error {
	for ctx.Err() == nil {
		step, isLeft := g.next()
		if !isLeft {
			if err := g.rest(ctx); err != nil {
				return err
			}
			continue
		}
		if err := g.do(ctx, step); err != nil && ctx.Err() == nil {
			if err := g.mend(ctx, step, err); err != nil {
				return err
			}
		}
	}
	return ctx.Err()
}

// next is the step to be done now.
func (g *Guide) next() (bringup.Step, bool) {
	at := slices.IndexFunc(bringup.Steps, func(s bringup.Step) bool {
		if g.again != "" {
			return s.Name == g.again
		}
		return !s.IsDone(g.session.File) && !g.later[s.Name]
	})
	g.again = ""
	if at < 0 {
		return bringup.Step{}, false
	}
	return bringup.Steps[at], true
}

// do does one step; Halt breaks it off.
func (g *Guide) do(ctx context.Context, step bringup.Step) error {
	ctx, stop := context.WithCancel(ctx)
	defer stop()
	g.mu.Lock()
	g.stop = stop
	if g.halted {
		g.session.Unsettle()
	}
	g.halted = false
	g.mu.Unlock()
	delete(g.later, step.Name)
	g.show(step.Name)
	size := g.parts.Rig.Camera.Image
	g.Publish(web.Event{State: web.Carrying, Sentence: step.Title, Halted: new(bool), View: &web.View{Width: size[0], Height: size[1]}})
	g.note(step.Title)
	err := g.session.Do(ctx, step)
	g.mu.Lock()
	g.stop = nil
	if err != nil && g.halted {
		err = errStopped
	}
	g.mu.Unlock()
	if err == nil {
		g.keep()
	}
	return err
}

// mend does what the maker wants instead of a step, or asks what to do about one that failed.
func (g *Guide) mend(ctx context.Context, step bringup.Step, err error) error {
	g.show(step.Name)
	var other *instead
	if errors.As(err, &other) {
		g.turn(step.Name, other)
		return nil
	}
	text := fmt.Sprintf("%s did not work: %v.", step.Title, err)
	switch {
	case errors.Is(err, errStopped):
		text = "Stopped: nothing moves. When all is clear the step begins anew, and the axes look for their zeros first."
	case errors.Is(err, bringup.ErrRefused):
		text = "You said no. Put right what is wrong, then do the step anew, or leave it for later."
	}
	g.note(text)
	g.Publish(web.Event{State: web.Trouble, Sentence: step.Title})
	if _, err = g.ask(ctx, question{text: text, choices: []string{"Do the step anew"}, leave: true}); errors.As(err, &other) {
		g.turn(step.Name, other)
		return nil
	}
	g.again = step.Name
	return err
}

// turn goes to what the maker wants instead of a step.
func (g *Guide) turn(from string, to *instead) {
	if to.do == web.Later {
		g.later[from] = true
		return
	}
	g.again = to.step
}

// rest is at the end, or where only steps are open that were left: it writes the record, and
// waits until the maker wants something done again.
func (g *Guide) rest(ctx context.Context) error {
	if err := g.Record(g.session.File); err != nil {
		return err
	}
	g.show("")
	q := question{text: "The machine is brought up. Play takes what was measured. Anything can be measured again below; Ctrl-C at the terminal ends the program."}
	if slices.ContainsFunc(bringup.Steps, func(s bringup.Step) bool { return !s.IsDone(g.session.File) }) {
		q = question{text: "All is done but what was left for later; the record has what there is.", choices: []string{"Do what was left"}}
	}
	g.Publish(web.Event{State: web.Over, Sentence: "Brought up"})
	_, err := g.ask(ctx, q)
	var other *instead
	switch {
	case errors.As(err, &other):
		g.turn("", other)
		return nil
	case err == nil:
		clear(g.later)
	}
	return err
}

// keep remembers what was measured, for the papers.
func (g *Guide) keep() {
	g.mu.Lock()
	defer g.mu.Unlock()
	g.file = *g.session.File
}
