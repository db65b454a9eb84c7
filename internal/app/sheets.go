// SPDX-License-Identifier: Apache-2.0

package app

import (
	"fmt"
	"os"
	"path/filepath"
	"runtime/debug"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"boardhand/internal/assess"
	"boardhand/internal/materials"
	"boardhand/internal/propose"
	"boardhand/internal/rig"
	"boardhand/internal/sheets"
	"boardhand/internal/terminal"
)

// sheetsFlags are those of the command sheets.
type sheetsFlags struct {
	dir, paper, stock string
	only              []string
}

func sheetsCommand(o *terminal.Out) *cobra.Command {
	var f sheetsFlags
	c := &cobra.Command{
		Use:   "sheets RIG -o DIR",
		Short: "Draw what is to be ordered, cut, printed and set: templates at 1:1 and views with their dimensions",
		Long: `Draws the sheets of a rig into a folder, as PDF and SVG, what is cut as DXF too, with
all.pdf and index.html to look at: ` + strings.Join(sheets.Names(), ", ") + `.
Print at 100 %, not fitted to the page, and check the ruler of each page at 1:1.
A rig that fails its checks is drawn all the same, and each sheet says so.`,
		Example: `  boardhand sheets myrig/rig.toml -o myrig/sheets --paper a3`,
		Args:    cobra.ExactArgs(1),
		RunE: func(c *cobra.Command, args []string) error {
			return breakOff(c.Context(), func() error { return drawSheets(o, f, args[0]) })
		},
	}
	c.Flags().StringVarP(&f.dir, "output", "o", "", "folder for the files; made when it is not there")
	c.Flags().StringVar(&f.paper, "paper", "a4", "a4, a3 or letter")
	c.Flags().StringVar(&f.stock, "stock", "", "stock file: lengths, prices and masses of parts, and what is owned (propose --example writes one)")
	c.Flags().StringSliceVar(&f.only, "only", nil, "names of the sheets to draw, separated by commas; empty: all")
	_ = c.MarkFlagRequired("output")
	return c
}

// drawSheets draws the sheets of a rig into a folder.
func drawSheets(o *terminal.Out, f sheetsFlags, path string) error {
	r, err := rig.Load(path, rig.Machine)
	if err != nil {
		return err
	}
	paper, err := sheets.PaperNamed(f.paper)
	if err != nil {
		return err
	}
	var stock *propose.Stock
	if f.stock != "" {
		if stock, err = propose.LoadStock(f.stock); err != nil {
			return err
		}
	}
	info, _ := debug.ReadBuildInfo()
	order := sheets.Order{Rig: r, Report: assess.ReportOn(r), Parts: materials.Of(r, stock), Paper: paper, Only: f.only,
		Date: time.Now().Format(time.DateOnly), Maker: "boardhand " + versionOf(info).Version}
	all, err := sheets.Draw(order)
	if err != nil {
		return err
	}
	files, err := sheets.Files(order, all)
	if err != nil {
		return err
	}
	if err := writeAll(f.dir, files); err != nil {
		return fmt.Errorf("--output: %w", err)
	}
	return tellSheets(o, f.dir, order.Report, all)
}

// writeAll writes files into a folder, each whole or not at all.
func writeAll(dir string, files []sheets.File) error {
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return err
	}
	for _, f := range files {
		path := filepath.Join(dir, f.Name)
		if err := os.WriteFile(path+".part", f.Data, 0o644); err != nil {
			return err
		}
		if err := os.Rename(path+".part", path); err != nil {
			return err
		}
	}
	return nil
}

// tellSheets lists what was drawn; the answer is "no" for a rig that is not to be built.
func tellSheets(o *terminal.Out, dir string, rep assess.Report, all []sheets.Sheet) error {
	type told struct {
		Name  string `json:"name"`
		Title string `json:"title"`
		Scale string `json:"scale"`
		Pages int    `json:"pages"`
	}
	var list []told
	for _, s := range all {
		list = append(list, told{s.Name, s.Title, s.Scale, len(s.Pages)})
	}
	if o.JSON {
		if err := o.Object(map[string]any{"dir": dir, "verdict": rep.Verdict, "sheets": list}); err != nil {
			return err
		}
	} else {
		for _, t := range list {
			o.Printf("%-8s  %-5s  %3d p.  %s\n", t.Name, t.Scale, t.Pages, t.Title)
		}
		o.Printf("\nwrote %s: open index.html; print all.pdf at 100 %%\n", dir)
	}
	if rep.Verdict != assess.Fail {
		return nil
	}
	if !o.JSON {
		o.Printf("The rig fails its checks, and each sheet says so: boardhand assess %s tells what to change.\n", rep.Rig)
	}
	return terminal.ErrNo
}
