// SPDX-License-Identifier: Apache-2.0

package app

import (
	"context"
	"fmt"
	"os"
	"os/signal"
	"syscall"
)

// interrupted is why a command was broken off.
type interrupted struct{ by syscall.Signal }

// Error says by what.
func (i interrupted) Error() string { return fmt.Sprintf("stopped by %v", i.by) }

// code is the exit code that a shell expects: 130 for Ctrl-C.
func (i interrupted) code() int { return 128 + int(i.by) }

// untilInterrupted is a context that ends with the first interrupt, whose cause
// it names. The second one finds the system's own handling and ends the program.
func untilInterrupted() (context.Context, context.CancelFunc) {
	ctx, cancel := context.WithCancelCause(context.Background())
	c := make(chan os.Signal, 1)
	signal.Notify(c, os.Interrupt, syscall.SIGTERM)
	go func() {
		defer signal.Stop(c)
		select {
		case s := <-c:
			cancel(interrupted{s.(syscall.Signal)})
		case <-ctx.Done():
		}
	}()
	return ctx, func() { cancel(nil) }
}

// breakOff runs work that knows no context: when ctx ends it is left behind.
func breakOff(ctx context.Context, work func() error) error {
	ended := make(chan error, 1)
	go func() { ended <- work() }()
	select {
	case err := <-ended:
		return err
	case <-ctx.Done():
		return ctx.Err()
	}
}
