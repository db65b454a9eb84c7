// SPDX-License-Identifier: Apache-2.0

// Package app is the wiring: flags, construction, printing. Nothing else.
package app

import (
	"context"
	"errors"
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"boardhand/internal/terminal"
)

// Exit codes.
const (
	fine     = 0
	no       = 1 // the answer is "no": a check failed
	badInput = 2
)

// Main runs the program and returns its exit code.
func Main(args []string, stdout, stderr io.Writer) int {
	ctx, stop := untilInterrupted()
	defer stop()
	o := &terminal.Out{W: stdout, Err: stderr}
	root := commands(o)
	root.SetArgs(args)
	root.SetOut(stdout)
	root.SetErr(stderr)
	return exitCode(ctx, stderr, root.ExecuteContext(ctx))
}

// exitCode tells the error, if there is one that is more than "no", and says
// what the program ends with.
func exitCode(ctx context.Context, stderr io.Writer, err error) int {
	var by interrupted
	isStopped := errors.As(context.Cause(ctx), &by)
	switch {
	case isStopped && (err == nil || errors.Is(err, context.Canceled)):
		_, _ = fmt.Fprintln(stderr, "boardhand: stopped")
		return by.code()
	case err == nil:
		return fine
	case errors.Is(err, terminal.ErrNo):
		return no
	}
	_, _ = fmt.Fprintln(stderr, "boardhand:", err)
	if isStopped {
		return by.code()
	}
	return badInput
}

// commands builds the command tree.
func commands(o *terminal.Out) *cobra.Command {
	root := &cobra.Command{
		Use:   "boardhand",
		Short: "Plan, build, bring up and play a table-top board game that moves its own pieces",
		Long: `boardhand serves one machine from the first idea to the hundredth game: a hidden
three-axis carriage under a small board drags the pieces by magnet, and one camera
above reads what the guest does. Everything works from one file, rig.toml.

  think          assess, office, propose, magnet, fit
  buy and build  sheets
  bring up       camera, lens, bringup
  play           play, route, think
  trust          watch, rehearse, games

Start with:  boardhand new myrig   then   boardhand play myrig/rig.toml`,
		SilenceErrors: true,
		SilenceUsage:  true,
		Args: func(c *cobra.Command, args []string) error {
			if len(args) > 0 {
				return unknownCommand(c, args[0])
			}
			return nil
		},
		RunE: func(c *cobra.Command, _ []string) error { return c.Help() },
	}
	root.PersistentFlags().BoolVar(&o.JSON, "json", false, "print JSON for programs")
	root.AddCommand(newCommand(o), assessCommand(o), officeCommand(o), proposeCommand(o), watchCommand(o), routeCommand(o), thinkCommand(o),
		magnetCommand(o), fitCommand(o), sheetsCommand(o), bringUpCommand(o), playCommand(o), rehearseCommand(o), gamesCommand(o),
		cameraCommand(o), lensCommand(o), versionCommand(o), licencesCommand(o), manualCommand(o))
	versionFlag(root, o)
	speakPlainly(root)
	return root
}
