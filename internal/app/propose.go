// SPDX-License-Identifier: Apache-2.0

package app

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"strings"
	"time"

	"github.com/schollz/progressbar/v3"
	"github.com/spf13/cobra"

	"boardhand/internal/assess"
	"boardhand/internal/propose"
	"boardhand/internal/propose/front"
	"boardhand/internal/propose/ranking"
	"boardhand/internal/rehearsal"
	"boardhand/internal/rig"
	"boardhand/internal/terminal"
	"boardhand/internal/unit"
)

type proposeFlags struct {
	stock, example, shard, write, to, plot, table string
	top, builds                                   int
	merge                                         bool
}

func proposeCommand(o *terminal.Out) *cobra.Command {
	f := proposeFlags{top: 5, builds: ranking.Builds}
	c := &cobra.Command{
		Use:   "propose RIG --stock STOCK",
		Short: "Search the parts you own or can buy for rigs that pass every check, and say what to buy",
		Long: `Tries every combination of the parts in a stock file around a rig: magnets,
sheets, ballast, feet, gears, motors, supplies, lenses, and the squares, speeds,
accelerations, drops and camera heights to try, in a box as large as they need.
Of the best rigs that pass every check builds are drawn: first comes the one of
which most work, then the cheaper, then the faster. What is free is then set
finer. Near misses say what fails and what would mend them. --write 1 writes the
first rig as a rig file with the notes of yours; --plot and --csv show all rigs
of which builds were drawn. A large search can be spread: --shard 2/5 --json
looks at the second fifth, and --merge puts together the JSON files that the
shards printed and draws the builds.`,
		Example: `  boardhand propose --example stock.toml
  boardhand propose rig.toml --stock stock.toml
  boardhand propose rig.toml --stock stock.toml --write 1 -o new.toml
  boardhand propose --merge a.json b.json`,
		Args: cobra.ArbitraryArgs,
		RunE: func(c *cobra.Command, args []string) error { return f.run(c.Context(), o, args) },
	}
	c.Flags().StringVar(&f.stock, "stock", "", "file of the parts owned or to be bought")
	c.Flags().StringVar(&f.example, "example", "", "write a commented stock file to start from")
	c.Flags().StringVar(&f.write, "write", "", "write this rig of the list, like 1, or p1 of the Pareto set")
	c.Flags().StringVarP(&f.to, "output", "o", "", "file to write it to; rig-1.toml and so on when not given")
	c.Flags().StringVar(&f.plot, "plot", "", "SVG file to draw share of builds over cost in")
	c.Flags().StringVar(&f.table, "csv", "", "CSV file for a table of all rigs of which builds were drawn")
	c.Flags().StringVar(&f.shard, "shard", "", "K/N: look only at the K-th of N parts")
	c.Flags().BoolVar(&f.merge, "merge", false, "put together the JSON files given")
	c.Flags().IntVar(&f.top, "top", f.top, "how many rigs to print in full")
	c.Flags().IntVar(&f.builds, "builds", f.builds, "how many builds to draw of each of the best rigs; 0: rank by margins")
	return c
}

func (f proposeFlags) run(ctx context.Context, o *terminal.Out, args []string) error {
	if f.example != "" {
		return writeStock(o, f.example)
	}
	if f.top < 1 || f.builds < 0 || f.builds > ranking.MostBuilds {
		return fmt.Errorf("--top must be at least 1, and --builds 0 to %d; got %d and %d", ranking.MostBuilds, f.top, f.builds)
	}
	for _, path := range f.files() { // a long search is not to end with that
		if _, err := os.Lstat(path); err == nil {
			return isThere(path)
		}
	}
	switch {
	case f.merge:
		return f.join(ctx, o, args)
	case len(args) != 1:
		return fmt.Errorf("propose needs one rig file: boardhand propose rig.toml --stock stock.toml; got %s", unit.Count(len(args), "word"))
	case f.stock == "":
		return fmt.Errorf("give the parts with --stock FILE; `boardhand propose --example stock.toml` writes one to start from")
	}
	return f.search(ctx, o, args[0])
}

// files are those that will be written.
func (f proposeFlags) files() (out []string) {
	for _, path := range []string{f.plot, f.table} {
		if path != "" {
			out = append(out, path)
		}
	}
	if f.write != "" {
		out = append(out, f.rigFile())
	}
	return out
}

// proposal is what propose prints for programs.
type proposal struct {
	*propose.Result
	Ranking *ranking.Ranking `json:"ranking,omitempty"` // not of a part of a search
	Rig     string           `json:"rig_text"`          // the file that the settings change
	Shard   string           `json:"shard,omitempty"`   // K/N, of a part of a search
	Seconds float64          `json:"seconds"`
	Wrote   []string         `json:"wrote,omitempty"`
}

func (f proposeFlags) search(ctx context.Context, o *terminal.Out, path string) error {
	r, err := rig.Load(path, rig.Machine)
	if err != nil {
		return err
	}
	text, err := os.ReadFile(path)
	if err != nil {
		return fmt.Errorf("cannot read the rig file: %w", err)
	}
	stock, err := propose.LoadStock(f.stock)
	if err != nil {
		return err
	}
	space, err := propose.NewSpace(r, stock)
	if err != nil {
		return err
	}
	k, n, err := rehearsal.PartOf(f.shard)
	if err != nil {
		return err
	}
	if n > 1 && f.plot+f.table != "" {
		return fmt.Errorf("a shard draws no builds: give --plot and --csv to the --merge of all of them")
	}
	began := time.Now()
	part := space.Shard(k, n)
	bar := progressbar.NewOptions(part.To-part.From, progressbar.OptionSetWriter(o.Err), progressbar.OptionSetVisibility(isTerminal(o.Err)),
		progressbar.OptionSetDescription("rigs"), progressbar.OptionClearOnFinish(), progressbar.OptionShowCount())
	found := space.Search(ctx, part, func(more int) { _ = bar.Add(more) })
	_ = bar.Finish()
	found.Explain(ctx)
	p := proposal{Result: found, Rig: string(text), Shard: f.shard}
	if n == 1 {
		if err := p.rank(ctx, f.builds); err != nil {
			return err
		}
	}
	p.Seconds = time.Since(began).Seconds()
	return f.finish(ctx, o, p)
}

// rank draws builds of what was found; a search that is stopped goes without.
func (p *proposal) rank(ctx context.Context, builds int) (err error) {
	if p.Passed == 0 || builds == 0 || ctx.Err() != nil {
		return nil
	}
	if p.Ranking, err = ranking.Of(ctx, p.Result, p.Rig, builds); err != nil && ctx.Err() != nil {
		return nil
	}
	return err
}

// finish writes what was asked for and prints what was found; the answer is "no" when
// nothing passes. A search that was stopped and found nothing has no answer.
func (f proposeFlags) finish(ctx context.Context, o *terminal.Out, p proposal) error {
	unwritten := f.writeAll(&p) // what was found is printed all the same
	if o.JSON {
		if err := o.Object(p); err != nil {
			return err
		}
	} else {
		ranked := ""
		if p.Ranking != nil {
			ranked = p.Ranking.Text(p.Currency, f.top)
		}
		o.Printf("%s", p.Text(f.top, ranked))
		if len(p.Wrote) > 0 {
			o.Printf("\nWrote %s.\n", strings.Join(p.Wrote, ", "))
		}
	}
	switch {
	case unwritten != nil || p.Passed > 0:
		return unwritten
	case ctx.Err() != nil:
		return ctx.Err()
	}
	return terminal.ErrNo
}

// writeAll writes the files asked for, beside nothing that is there already.
func (f proposeFlags) writeAll(p *proposal) error {
	if p.Passed == 0 {
		return nil
	}
	if p.Ranking == nil && (f.plot != "" || f.table != "") {
		return fmt.Errorf("--plot and --csv show builds, and none were drawn: the search was stopped, or has --builds 0")
	}
	var out [][2]string
	if f.plot != "" {
		out = append(out, [2]string{f.plot, front.SVG(p.Ranking, p.Currency)})
	}
	if f.table != "" {
		out = append(out, [2]string{f.table, front.CSV(p.Ranking, p.Currency)})
	}
	if f.write != "" {
		text, err := f.rigText(p)
		if err != nil {
			return fmt.Errorf("--write: %w", err)
		}
		out = append(out, [2]string{f.rigFile(), text})
	}
	for _, file := range out {
		if err := writeNew(file[0], file[1]); err != nil {
			return err
		}
		p.Wrote = append(p.Wrote, file[0])
	}
	return nil
}

// rigText is the file of the rig to be written.
func (f proposeFlags) rigText(p *proposal) (string, error) {
	var list interface {
		Pick(string) ([]assess.Setting, error)
	} = p.Result
	if p.Ranking != nil {
		list = p.Ranking
	}
	set, err := list.Pick(f.write)
	if err != nil {
		return "", err
	}
	text, err := propose.Write(p.Rig, set)
	if err != nil {
		return "", err
	}
	if _, err := rig.Parse(f.rigFile(), []byte(text), rig.Machine); err != nil {
		return "", fmt.Errorf("the rig would not be read back: %w", err)
	}
	return text, nil
}

// rigFile is where a found rig is to be written.
func (f proposeFlags) rigFile() string {
	if f.to != "" {
		return f.to
	}
	return "rig-" + f.write + ".toml"
}

func isThere(path string) error {
	return fmt.Errorf("%s is there already; give another name, or move it away first", path)
}

// writeNew writes a file that is not there yet.
func writeNew(path, text string) error {
	file, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
	if errors.Is(err, os.ErrExist) {
		return isThere(path)
	}
	if err != nil {
		return fmt.Errorf("cannot write the file: %w", err)
	}
	if _, err := file.WriteString(text); err != nil {
		_ = file.Close()
		_ = os.Remove(path)
		return fmt.Errorf("cannot write %s: %w", path, err)
	}
	return file.Close()
}

func writeStock(o *terminal.Out, path string) error {
	if err := writeNew(path, propose.ExampleText); err != nil {
		return err
	}
	if o.JSON {
		return o.Object(map[string]string{"stock": path})
	}
	o.Printf("wrote %s\nPut in what you own and the prices of your shop, then:\n\n  boardhand propose rig.toml --stock %s\n", path, path)
	return nil
}

// join merges the files of shards.
func (f proposeFlags) join(ctx context.Context, o *terminal.Out, files []string) error {
	if len(files) == 0 {
		return fmt.Errorf("--merge needs the JSON files that the shards printed")
	}
	var all []*propose.Result
	var sum proposal
	var parts rehearsal.Parts
	for _, name := range files {
		data, err := os.ReadFile(name)
		if err != nil {
			return fmt.Errorf("cannot read a shard: %w", err)
		}
		p := proposal{Result: &propose.Result{}}
		if err := json.Unmarshal(data, &p); err != nil || p.Search == "" || len(p.Shards) == 0 {
			parts.Refuse(fmt.Errorf("%s is not what `boardhand propose --json` prints", name))
			continue
		}
		if s := p.Shards[0]; p.Judged+p.NotToHave < s.To-s.From && len(p.Shards) == 1 {
			parts.Refuse(fmt.Errorf("%s was broken off after %d of %d rigs", name, p.Judged+p.NotToHave, s.To-s.From))
		}
		parts.Add(p.Shard, name)
		all = append(all, p.Result)
		sum.Rig, sum.Seconds = p.Rig, sum.Seconds+p.Seconds
	}
	if err := parts.Whole(); err != nil {
		return err
	}
	var err error
	if sum.Result, err = propose.Merge(all); err != nil {
		return fmt.Errorf("%s: %w", strings.Join(files, ", "), err)
	}
	if err := sum.rank(ctx, f.builds); err != nil {
		return err
	}
	return f.finish(ctx, o, sum)
}
