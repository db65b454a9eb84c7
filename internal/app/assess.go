// SPDX-License-Identifier: Apache-2.0

package app

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"boardhand/internal/assess"
	"boardhand/internal/assess/paper"
	"boardhand/internal/measured"
	"boardhand/internal/propose"
	"boardhand/internal/rig"
	"boardhand/internal/terminal"
	yield "boardhand/internal/yield/report"
)

func assessCommand(o *terminal.Out) *cobra.Command {
	var explain, report, stock string
	var isMeasured bool
	builds := yield.Options{}
	c := &cobra.Command{
		Use:   "assess RIG",
		Short: "Tell before a part is bought whether the machine will work, by how much, and what to change",
		Long: `Computes every check of a rig: magnets, drag, neighbours, lanes, tipping, lift,
drives, reach, cables, camera, materials, cautions. Worst line first; each line
that does not pass says what to change, tried on the rig itself.`,
		Args: cobra.ExactArgs(1),
		RunE: func(c *cobra.Command, args []string) error {
			return breakOff(c.Context(), func() error {
				r, err := assessed(o, args[0], isMeasured)
				if err != nil {
					return err
				}
				if builds.Builds != 0 {
					return yieldOf(c.Context(), o, r, builds, report)
				}
				return assessRig(o, r, explain, report, stock)
			})
		},
	}
	c.Flags().StringVar(&explain, "explain", "", "tell the physics of one check, by its name")
	c.Flags().BoolVar(&isMeasured, "measured", false, "judge the machine as it was built: with what bringup measured")
	c.Flags().StringVar(&stock, "stock", "", "file of the parts owned or to be bought: the cheapest changes come first")
	c.Flags().StringVar(&report, "report", "", "write a report with plots: a file that ends in .html or .pdf")
	c.Flags().IntVar(&builds.Builds, "yield", 0, "draw so many builds from the rig's tolerances and tell how many of them work")
	c.Flags().Lookup("yield").NoOptDefVal = strconv.Itoa(yield.Builds)
	c.Flags().Uint64Var(&builds.Seed, "seed", yield.Seed, "of the builds drawn by --yield")
	return c
}

// assessed is the rig as its file has it, or as it was measured.
func assessed(o *terminal.Out, path string, isMeasured bool) (*rig.Rig, error) {
	r, err := rig.Load(path, rig.Machine)
	if err != nil || !isMeasured {
		return r, err
	}
	f, err := measured.Load(path)
	if err != nil {
		return nil, err
	}
	changed, err := f.AsBuilt(r)
	if err != nil {
		return nil, fmt.Errorf("--measured: %w", err)
	}
	_, _ = fmt.Fprintf(o.Err, "as measured at %s: %s\n", f.Machine, strings.Join(changed, "; "))
	return r, nil
}

// yieldOf tells how many builds of a rig work; the answer is "no" when most do not.
func yieldOf(ctx context.Context, o *terminal.Out, r *rig.Rig, builds yield.Options, report string) error {
	y, err := yield.Of(ctx, r, builds)
	if err != nil {
		return err
	}
	if report != "" {
		if err := writeReport(report, r, assess.ReportOn(r), yield.Document(y)); err != nil {
			return err
		}
		_, _ = fmt.Fprintf(o.Err, "wrote %s\n", report)
	}
	if o.JSON {
		err = o.Object(y)
	} else {
		o.Printf("%s", y.Text())
	}
	if err == nil && y.Works < 0.5 {
		err = terminal.ErrNo
	}
	return err
}

// assessRig explains one check of a rig, or runs them all.
func assessRig(o *terminal.Out, r *rig.Rig, explain, report, stock string) error {
	if explain != "" {
		return explainCheck(o, r, explain)
	}
	var price assess.Pricing
	if stock != "" {
		parts, err := propose.LoadStock(stock)
		if err != nil {
			return err
		}
		price = parts.Price
	}
	rep := assess.ReportAt(r, price)
	if report != "" {
		if err := writeReport(report, r, rep); err != nil {
			return err
		}
		_, _ = fmt.Fprintf(o.Err, "wrote %s\n", report)
	}
	return printReport(o, rep)
}

// writeReport writes the report in the format that the file's ending names.
func writeReport(path string, r *rig.Rig, rep assess.Report, more ...paper.Document) error {
	write := paper.HTML
	switch strings.ToLower(filepath.Ext(path)) {
	case ".html":
	case ".pdf":
		write = paper.PDF
	default:
		return fmt.Errorf("--report: %s must end in .html or .pdf", path)
	}
	f, err := os.Create(path)
	if err != nil {
		return fmt.Errorf("--report: %w", err)
	}
	if err := write(f, r, rep, more...); err != nil {
		_ = f.Close()
		return fmt.Errorf("--report: %w", err)
	}
	return f.Close()
}

func explainCheck(o *terminal.Out, r *rig.Rig, id string) error {
	text, err := assess.Explain(r, id)
	if err != nil {
		return fmt.Errorf("--explain: %w", err)
	}
	if o.JSON {
		return o.Object(map[string]string{"id": id, "text": text})
	}
	o.Printf("%s\n", text)
	return nil
}

// printReport prints the table; the answer is "no" when a line fails.
func printReport(o *terminal.Out, r assess.Report) error {
	if o.JSON {
		if err := o.Object(r); err != nil {
			return err
		}
	} else {
		o.Printf("%s", r.Text())
	}
	if r.Verdict == assess.Fail {
		return terminal.ErrNo
	}
	return nil
}
