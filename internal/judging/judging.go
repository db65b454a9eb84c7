// SPDX-License-Identifier: Apache-2.0

// Package judging answers what a maker asks of a rig file: will it work, what if a key were
// otherwise, how does another rig differ; in print, as JSON or as a report.
package judging

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"boardhand/internal/assess"
	"boardhand/internal/assess/console"
	"boardhand/internal/assess/paper"
	"boardhand/internal/assess/whatif"
	"boardhand/internal/measured"
	"boardhand/internal/propose"
	"boardhand/internal/rig"
	"boardhand/internal/terminal"
	yield "boardhand/internal/yield/report"
)

// Question is what is asked beside the rigs.
type Question struct {
	Explain    string        // the name of one check
	Report     string        // a file to write
	Stock      string        // a file of parts: the cheapest changes first
	IsMeasured bool          // of the machine as bring-up measured it
	Set        []string      // key=value
	Sweep      string        // key=first:last:step
	IsCSV      bool          // of the sweep
	Builds     yield.Options // to draw; no builds: the checks alone
	Program    string        // for a report: what made it,
	Date       string        // and when
}

// Names are the checks that --explain knows: those of the built-in rig, as of any other.
func Names() (out []string) {
	for _, c := range assess.Run(rig.Default(), nil) {
		out = append(out, c.ID)
	}
	return out
}

// Builds and Seed are those of a --yield that says nothing else.
const (
	Builds = yield.Builds
	Seed   = yield.Seed
)

// Answer does what was asked of one rig or two.
func (q Question) Answer(ctx context.Context, o *terminal.Out, args []string) error {
	if err := q.contradicts(args); err != nil {
		return err
	}
	if q.Sweep != "" {
		return q.sweeping(ctx, o, args[0])
	}
	r, err := q.rigOf(o, args[0])
	if err != nil {
		return err
	}
	switch {
	case len(args) == 2:
		other, err := q.rigOf(o, args[1])
		if err != nil {
			return err
		}
		return comparing(o, r, other)
	case q.Builds.Builds != 0:
		return q.yieldOf(ctx, o, r)
	case len(q.Set) > 0 && q.Explain == "" && q.Report == "":
		was, err := assessed(o, args[0], q.IsMeasured)
		if err != nil {
			return err
		}
		return comparing(o, was, r)
	}
	return q.judge(ctx, o, r)
}

// contradicts is an error where two things asked do not go together.
func (q Question) contradicts(args []string) error {
	alone := q.Explain != "" || q.Report != "" || q.Builds.Builds != 0
	end := strings.ToLower(filepath.Ext(q.Report))
	switch {
	case q.Report != "" && end != ".html" && end != ".pdf":
		return fmt.Errorf("--report: %s must end in .html or .pdf", q.Report)
	case q.Stock != "" && (len(args) == 2 || q.Sweep != "" || len(q.Set) > 0 && q.Report == ""):
		return fmt.Errorf("--stock says what changes to one rig cost; take it without --set, --sweep and a second rig")
	case q.IsCSV && q.Sweep == "":
		return fmt.Errorf("--csv is the table of a --sweep: say which key, like --sweep board.square=38:50:2mm")
	case len(args) == 2 && (alone || q.Sweep != ""):
		return fmt.Errorf("two rigs are compared line by line; --explain, --report, --yield and --sweep take one")
	case q.Sweep != "" && (alone || q.IsMeasured):
		return fmt.Errorf("--sweep goes with --set, --csv and --json only")
	case len(q.Set) > 0 && q.IsMeasured:
		return fmt.Errorf("--measured judges the machine as it is; --set tries what it is not: take one of them")
	}
	return nil
}

// rigOf is the rig of a file with what --set says.
func (q Question) rigOf(o *terminal.Out, path string) (*rig.Rig, error) {
	if len(q.Set) == 0 {
		return assessed(o, path, q.IsMeasured)
	}
	data, set, err := q.settings(path)
	if err != nil {
		return nil, err
	}
	r, err := rig.Set(path, data, set, rig.Machine)
	if err == nil {
		err = known(r)
	}
	if err != nil {
		return nil, fmt.Errorf("--set: %w", err)
	}
	return r, nil
}

// known is an error where a rig accepts what is no check.
func known(r *rig.Rig) error { return assess.Unknown(r, assess.JudgeAccepted(r)) }

// settings are the file's text and what --set says; the file must be right without it.
func (q Question) settings(path string) (data []byte, set []rig.Setting, err error) {
	r, err := rig.Load(path, rig.Machine)
	if err == nil {
		err = known(r)
	}
	if err != nil {
		return nil, nil, err
	}
	if data, err = os.ReadFile(path); err != nil {
		return nil, nil, err
	}
	for _, text := range q.Set {
		s, err := rig.ParseSetting(text)
		if err != nil {
			return nil, nil, fmt.Errorf("--set: %w", err)
		}
		set = append(set, s)
	}
	return data, set, nil
}

// sweeping judges a rig at each value of a key.
func (q Question) sweeping(ctx context.Context, o *terminal.Out, path string) error {
	by, err := rig.ParseSweep(q.Sweep)
	if err != nil {
		return fmt.Errorf("--sweep: %w", err)
	}
	data, set, err := q.settings(path)
	if err != nil {
		return err
	}
	points, err := whatif.Sweep(ctx, path, data, set, by)
	switch {
	case err != nil:
		return fmt.Errorf("--sweep: %w", err)
	case !whatif.AnyJudged(points):
		return fmt.Errorf("--sweep: %s", points[0].Refused)
	case q.IsCSV:
		return whatif.CSV(o.W, by, points)
	case o.JSON:
		return o.Object(points)
	}
	o.Printf("%s", shape(o).Sweep(by.Key, points))
	return nil
}

// comparing tells what differs between two rigs; the answer is "no" when the second fails.
func comparing(o *terminal.Out, a, b *rig.Rig) error {
	c := whatif.Compare(a, b)
	if o.JSON {
		if err := o.Object(c); err != nil {
			return err
		}
	} else {
		o.Printf("%s", shape(o).Comparison(c))
	}
	if c.B.Verdict == assess.Fail {
		return terminal.ErrNo
	}
	return nil
}

// shape is what the terminal can show.
func shape(o *terminal.Out) console.Page {
	columns, colours := o.Shape()
	return console.Page{Width: columns, Colours: colours}
}

// assessed is the rig as its file has it, or as it was measured.
func assessed(o *terminal.Out, path string, isMeasured bool) (*rig.Rig, error) {
	r, err := rig.Load(path, rig.Machine)
	if err == nil {
		err = known(r)
	}
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
func (q Question) yieldOf(ctx context.Context, o *terminal.Out, r *rig.Rig) error {
	y, err := yield.Of(ctx, r, q.Builds)
	if err != nil {
		return err
	}
	if q.Report != "" {
		if err := q.writeReport(q.Report, r, assess.ReportOn(r), yield.Document(y)); err != nil {
			return err
		}
		_, _ = fmt.Fprintf(o.Err, "wrote %s\n", q.Report)
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

// judge explains one check of a rig, or runs them all.
func (q Question) judge(ctx context.Context, o *terminal.Out, r *rig.Rig) error {
	if q.Explain != "" {
		return explainCheck(o, r, q.Explain)
	}
	var price assess.Pricing
	if q.Stock != "" {
		parts, err := propose.LoadStock(q.Stock)
		if err != nil {
			return err
		}
		price = parts.Price
	}
	rep := assess.ReportAt(r, price)
	if q.Report != "" {
		if err := q.wholeReport(ctx, o, r, rep); err != nil {
			return err
		}
	}
	return printReport(o, rep)
}

// wholeReport writes the report with how many builds work, where that can be said.
func (q Question) wholeReport(ctx context.Context, o *terminal.Out, r *rig.Rig, rep assess.Report) error {
	var more []paper.Document
	y, err := yield.Of(ctx, r, yield.Options{Builds: Builds, Seed: Seed})
	switch {
	case ctx.Err() != nil:
		return err
	case err != nil:
		_, _ = fmt.Fprintf(o.Err, "the report does not say how many builds work: %v\n", err)
	default:
		more = append(more, yield.Document(y))
	}
	if err := q.writeReport(q.Report, r, rep, more...); err != nil {
		return err
	}
	_, _ = fmt.Fprintf(o.Err, "wrote %s\n", q.Report)
	return nil
}

// writeReport writes the report in the format that the file's ending names.
func (q Question) writeReport(path string, r *rig.Rig, rep assess.Report, more ...paper.Document) error {
	write := paper.HTML
	if strings.EqualFold(filepath.Ext(path), ".pdf") {
		write = paper.PDF
	}
	f, err := os.Create(path)
	if err != nil {
		return fmt.Errorf("--report: %w", err)
	}
	if err := write(f, r, rep, paper.Made{Program: q.Program, Date: q.Date}, more...); err != nil {
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
		o.Printf("%s", shape(o).Report(r))
	}
	if r.Verdict == assess.Fail {
		return terminal.ErrNo
	}
	return nil
}
