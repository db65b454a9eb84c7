// SPDX-License-Identifier: Apache-2.0

package app

import (
	"strconv"
	"time"

	"github.com/spf13/cobra"

	"boardhand/internal/judging"
	"boardhand/internal/office"
	"boardhand/internal/terminal"
)

func assessCommand(o *terminal.Out) *cobra.Command {
	q := judging.Question{}
	c := &cobra.Command{
		Use:   "assess RIG [OTHER]",
		Short: "Tell before a part is bought whether the machine will work, by how much, and what to change",
		Long: `Computes every check of a rig: magnets, drag, neighbours, lanes, tipping, lift,
drives, reach, cables, camera, materials, cautions. The summary first, then the worst
line; each line that does not pass says what to change, tried on the rig itself.

Two rigs are set side by side, differences first. --set tries a change without
touching the file, --sweep a whole row of values.`,
		Example: `  boardhand assess rig.toml --set board.square=45mm --set lift.drop=22mm
  boardhand assess rig.toml --sweep board.square=38:50:2mm
  boardhand assess rig.toml other.toml`,
		Args: cobra.RangeArgs(1, 2),
		RunE: func(c *cobra.Command, args []string) error {
			q.Program, q.Date = "boardhand "+versionOf(buildInfo()).Version, time.Now().Format(time.DateOnly)
			return breakOff(c.Context(), func() error { return q.Answer(c.Context(), o, args) })
		},
	}
	c.Flags().StringVar(&q.Explain, "explain", "", "tell the physics of one check, by its name")
	c.Flags().BoolVar(&q.IsMeasured, "measured", false, "judge the machine as it was built: with what bringup measured")
	c.Flags().StringVar(&q.Report, "report", "", "write a report with plots: a file that ends in .html or .pdf")
	c.Flags().StringVar(&q.Stock, "stock", "", "file of the parts owned or to be bought: the cheapest changes come first")
	c.Flags().StringArrayVar(&q.Set, "set", nil, "judge as if the file said so, and tell what changes: key=value, as often as wanted")
	c.Flags().StringVar(&q.Sweep, "sweep", "", "judge at many values of a key: key=first:last:step")
	c.Flags().BoolVar(&q.IsCSV, "csv", false, "with --sweep: a table for a spreadsheet, a row a value")
	c.Flags().IntVar(&q.Builds.Builds, "yield", 0, "draw so many builds from the rig's tolerances and tell how many of them work")
	c.Flags().Lookup("yield").NoOptDefVal = strconv.Itoa(judging.Builds)
	c.Flags().Uint64Var(&q.Builds.Seed, "seed", judging.Seed, "of the builds drawn by --yield")
	offerFrom(c, "explain", func(string) []string { return judging.Names() })
	return c
}

func officeCommand(o *terminal.Out) *cobra.Command {
	f := office.Options{Addr: "127.0.0.1:8640"}
	c := &cobra.Command{
		Use:   "office RIG",
		Short: "Show a rig on a page: checks, plots, sheets, and what if; judged anew whenever the file is saved",
		Long: `Serves the Drawing office of a rig file on this machine, without a game: every check
with its reserve and what to change, the plots, the sheets to be looked at and kept,
and knobs to try other values. The file is read anew when it was saved, and never written.`,
		Args: cobra.ExactArgs(1),
		RunE: func(c *cobra.Command, args []string) error {
			f.Program, f.Date = "boardhand "+versionOf(buildInfo()).Version, time.Now().Format(time.DateOnly)
			return office.Run(c.Context(), o, args[0], f)
		},
	}
	c.Flags().StringVar(&f.Addr, "addr", f.Addr, "where the page is served; this machine only; port 0 picks a free one")
	return c
}
