// SPDX-License-Identifier: Apache-2.0

package session

import (
	"cmp"
	"context"
	"errors"
	"fmt"

	"boardhand/internal/bringup"
	"boardhand/internal/guide"
	"boardhand/internal/measured"
	"boardhand/internal/terminal"
	"boardhand/internal/web"
)

// check refuses what makes no sense together.
func (f BringUpOptions) check() error {
	switch {
	case f.Page && f.Yes:
		return errors.New("--page and --yes: either somebody answers at the page, or everything is answered with yes")
	case !(f.Pace >= 0 && f.Pace <= 100):
		return fmt.Errorf("--pace must be 0 (as fast as it computes) to 100; got %g", f.Pace)
	case f.Page:
		return checkAddress(f.Addr, false)
	}
	return nil
}

// byPage brings a machine up by the page, until ctx ends.
func (f BringUpOptions) byPage(ctx context.Context, o *terminal.Out, p bringup.Parts, file *measured.File) error {
	maker := p.Maker.(*atTerminal)
	set := guide.Options{Say: maker.Tell, Record: func(m *measured.File) error { return writeRecord(o, p.Rig, m, p.Rig.Path) }}
	if maker.world != nil {
		set.Obey = func(r bringup.Request) error { return obey(maker.world, maker.rig, r) }
	}
	var s *web.Server
	set.Publish = func(e web.Event) { s.Publish(e) }
	g, err := guide.New(p, file, set)
	if err != nil {
		return err
	}
	s = web.New(g)
	s.Guide = g
	ln, err := s.Listen(f.Addr)
	if err != nil {
		return fmt.Errorf("--addr: %w", err)
	}
	outliveTerminal()
	ctx, stop := context.WithCancel(ctx)
	defer stop()
	served := make(chan error, 1)
	go func() { served <- s.ServeOn(ctx, ln) }()
	o.Printf("the page:  http://%s/bringup   (Ctrl-C stops all motion and ends; bringup --page goes on from there)\n", ln.Addr())
	ran := make(chan error, 1)
	go func() { ran <- g.Run(ctx) }()
	select {
	case err = <-ran:
	case err = <-served:
		stop()
		err = cmp.Or(err, <-ran)
	}
	stop()
	return err
}
