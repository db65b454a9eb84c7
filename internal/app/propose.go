// SPDX-License-Identifier: Apache-2.0

package app

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"regexp"
	"strconv"
	"strings"
	"time"

	"github.com/schollz/progressbar/v3"
	"github.com/spf13/cobra"

	"boardhand/internal/propose"
	"boardhand/internal/rehearsal"
	"boardhand/internal/rig"
	"boardhand/internal/terminal"
	"boardhand/internal/unit"
)

type proposeFlags struct {
	stock, example, shard, write, to string
	top                              int
	merge                            bool
}

func proposeCommand(o *terminal.Out) *cobra.Command {
	f := proposeFlags{top: 5}
	c := &cobra.Command{
		Use:   "propose RIG --stock STOCK",
		Short: "Search the parts you own or can buy for rigs that pass every check, and say what to buy",
		Long: `Tries every combination of the parts in a stock file around a rig: magnets,
sheets, feet, gears, motors, and the squares, speeds and camera heights to try.
Rigs that pass every check are ranked by their worst margin, then cost, then
move time; near misses say what fails and what would mend it. --write 1 writes
the first rig as a rig file with the notes of yours. A large search can be
spread: --shard 2/5 --json looks at the second fifth, and --merge puts together
the JSON files that the shards printed.`,
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
	c.Flags().StringVar(&f.shard, "shard", "", "K/N: look only at the K-th of N parts")
	c.Flags().BoolVar(&f.merge, "merge", false, "put together the JSON files given")
	c.Flags().IntVar(&f.top, "top", f.top, "how many rigs to print in full")
	return c
}

func (f proposeFlags) run(ctx context.Context, o *terminal.Out, args []string) error {
	switch {
	case f.example != "":
		return writeStock(o, f.example)
	case f.top < 1:
		return fmt.Errorf("--top must be at least 1; got %d", f.top)
	case f.merge:
		return f.join(o, args)
	case len(args) != 1:
		return fmt.Errorf("propose needs one rig file: boardhand propose rig.toml --stock stock.toml; got %s", unit.Count(len(args), "word"))
	case f.stock == "":
		return fmt.Errorf("give the parts with --stock FILE; `boardhand propose --example stock.toml` writes one to start from")
	}
	if f.write != "" { // a long search is not to end with that
		if _, err := os.Lstat(f.rigFile()); err == nil {
			return isThere(f.rigFile())
		}
	}
	return f.search(ctx, o, args[0])
}

// proposal is what propose prints for programs.
type proposal struct {
	*propose.Result
	Rig     string  `json:"rig_text"`        // the file that the settings change
	Shard   string  `json:"shard,omitempty"` // K/N, of a part of a search
	Seconds float64 `json:"seconds"`
	Wrote   string  `json:"wrote,omitempty"`
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
	k, n, err := partOf(f.shard)
	if err != nil {
		return err
	}
	began := time.Now()
	part := space.Shard(k, n)
	bar := progressbar.NewOptions(part.To-part.From, progressbar.OptionSetWriter(o.Err), progressbar.OptionSetVisibility(isTerminal(o.Err)),
		progressbar.OptionSetDescription("rigs"), progressbar.OptionClearOnFinish(), progressbar.OptionShowCount())
	found := space.Search(ctx, part, func(more int) { _ = bar.Add(more) })
	_ = bar.Finish()
	found.Explain(ctx)
	return f.finish(ctx, o, proposal{Result: found, Rig: string(text), Shard: f.shard, Seconds: time.Since(began).Seconds()})
}

// shardForm is how a part is written: at most a million of them.
var shardForm = regexp.MustCompile(`^(\d{1,6})/(\d{1,6})$`)

// partOf reads K/N; nothing given is the whole.
func partOf(shard string) (k, n int, err error) {
	if shard == "" {
		return 1, 1, nil
	}
	if m := shardForm.FindStringSubmatch(shard); m != nil {
		k, _ = strconv.Atoi(m[1])
		n, _ = strconv.Atoi(m[2])
	}
	if k < 1 || k > n {
		return 0, 0, fmt.Errorf("--shard must be K/N with 1 ≤ K ≤ N, like 2/5; got %q", shard)
	}
	return k, n, nil
}

// finish writes the rig asked for and prints what was found; the answer is
// "no" when nothing passes. A search that was stopped and found nothing has no
// answer.
func (f proposeFlags) finish(ctx context.Context, o *terminal.Out, p proposal) error {
	if f.write != "" && p.Passed > 0 {
		wrote, err := f.writeRig(p)
		if err != nil {
			return err
		}
		p.Wrote = wrote
	}
	if o.JSON {
		if err := o.Object(p); err != nil {
			return err
		}
	} else {
		o.Printf("%s", p.Text(f.top))
		if p.Wrote != "" {
			o.Printf("\nWrote rig %s to %s\n", f.write, p.Wrote)
		}
	}
	switch {
	case p.Passed > 0:
		return nil
	case ctx.Err() != nil:
		return ctx.Err()
	}
	return terminal.ErrNo
}

// writeRig writes a found rig beside nothing that is there already.
func (f proposeFlags) writeRig(p proposal) (string, error) {
	found, err := p.Pick(f.write)
	if err != nil {
		return "", fmt.Errorf("--write: %w", err)
	}
	text, err := propose.Write(p.Rig, found.Set)
	if err != nil {
		return "", fmt.Errorf("--write: %w", err)
	}
	path := f.rigFile()
	if _, err := rig.Parse(path, []byte(text), rig.Machine); err != nil {
		return "", fmt.Errorf("the rig would not be read back: %w", err)
	}
	return path, writeNew(path, text)
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
func (f proposeFlags) join(o *terminal.Out, files []string) error {
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
	return f.finish(context.Background(), o, sum)
}
