// SPDX-License-Identifier: Apache-2.0

package office

import (
	"context"
	"fmt"

	"boardhand/internal/office/edition"
	"boardhand/internal/rig"
	"boardhand/internal/terminal"
	"boardhand/internal/web"
)

// Options are where the page is served, and what is said on papers to have made them, and when.
type Options struct{ Addr, Program, Date string }

// Run serves the Drawing office of a rig file until ctx ends. Only this machine sees it.
func Run(ctx context.Context, t *terminal.Out, path string, f Options) error {
	if _, err := rig.ReadText(path); err != nil {
		return err
	}
	s := web.New(nil)
	o := Watching(path, edition.Made{Program: f.Program, Date: f.Date}, s.Publish)
	s.Office = o.Handler()
	ln, err := s.Listen(f.Addr)
	if err != nil {
		return fmt.Errorf("--addr: %w", err)
	}
	o.Look()
	if _, broken := o.newest(); broken != "" {
		t.Complain("%s; the page says so until the file is right", broken)
	}
	ctx, stop := context.WithCancel(ctx)
	defer stop()
	go o.Watch(ctx)
	t.Printf("the Drawing office of %s:  http://%s/office   (Ctrl-C ends it; save the file and it is judged anew)\n", path, ln.Addr())
	return s.ServeOn(ctx, ln)
}
