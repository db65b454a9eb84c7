package app

import (
	"context"
	"errors"
	"fmt"
	"os"
	"os/signal"
	"syscall"
)

// signalled is why a context ended: the program was told to stop.
type signalled struct{ signal syscall.Signal }

func (s signalled) Error() string { return fmt.Sprintf("stopped by %v", s.signal) }

// untilStopped gives a context that ends when the program is told to stop, by
// Ctrl-C or by SIGTERM. A second one ends the program at once.
func untilStopped(parent context.Context) (context.Context, context.CancelFunc) {
	ctx, cancel := context.WithCancelCause(parent)
	told := make(chan os.Signal, 1)
	signal.Notify(told, os.Interrupt, syscall.SIGTERM)
	go func() {
		select {
		case s := <-told:
			signal.Stop(told)
			n, _ := s.(syscall.Signal)
			cancel(signalled{n})
		case <-ctx.Done():
			signal.Stop(told)
		}
	}()
	return ctx, func() { cancel(context.Canceled) }
}

// stoppedCode is the exit code of a program that was told to stop, as a shell
// counts: 130 for Ctrl-C, 143 for SIGTERM.
func stoppedCode(ctx context.Context) int {
	var s signalled
	if errors.As(context.Cause(ctx), &s) {
		return 128 + int(s.signal)
	}
	return badInput
}

// outliveTerminal lets a game go on when its terminal is closed (SIGHUP) or
// nobody reads what it prints any longer (SIGPIPE).
func outliveTerminal() { signal.Ignore(syscall.SIGHUP, syscall.SIGPIPE) }
