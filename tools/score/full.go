// SPDX-License-Identifier: Apache-2.0

package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"strings"

	"boardhand/tools/score/card"
)

// usual are how many sessions of each set are read when no card says which.
var usual = [len(sets)]int{12, 20, 0, 0}

// fullHead stands over the card of the ray-traced sessions.
const fullHead = `# What the reader makes of ray-traced pictures

Written by ` + "`make score`" + `, which draws the sessions (tools/scenes, wants povray), reads them, compares with this card and fails when a figure is
worse (a count in any row, a measure in the rows of the sets and the total); ` + "`make score-accept`" + ` writes a new card. The gate has a card of its own for eight short games (internal/sight/testdata/gate).

- *asked*: pictures without a hand that were left in doubt; a person is asked, and here answers the truth. *same*, *hands*, *odd*: pictures on
  which nothing happened, with a hand, half-done or against the rules, told as what they are.
- *surprise*: mean −ln of the belief given to what came true. The columns of beliefs: answers that came true of those given with such a belief.
- *offset*: error of a piece's place along one side of the board, median and 95 %; *over σ*: the error over the stated standard deviation, of
  which 95 % would lie under 1.96 if the statement were exact.
- *CPU*: processor time a picture, mean; another machine has another; only twice the time counts as worse.

`

// run reads the sessions and compares.
func (o options) run(ctx context.Context) error {
	was, err := readCard(cardFile)
	if err != nil {
		return err
	}
	names := o.sessions(was)
	if err := draw(ctx, names); err != nil {
		return err
	}
	got, err := readSessions(ctx, names)
	if err != nil {
		return err
	}
	text := fullHead + got.Card.String()
	if err := savePending(text); err != nil {
		return err
	}
	fmt.Print(got.Card.String())
	if was == nil {
		return acceptRun(os.Stdout)
	}
	return judge(os.Stdout, card.Compare(was, got.Card))
}

// judge tells w what changed and accepts the run when nothing is worse. The
// measures of a single session, of some dozen pictures, are told but do not
// decide: those of its set and the total do, and every count.
func judge(w io.Writer, changes card.Changes) error {
	var decides, single card.Changes
	for _, c := range changes {
		if c.Counted || setOf(c.Row) == c.Row {
			decides = append(decides, c)
		} else {
			single = append(single, c)
		}
	}
	for _, part := range []struct {
		head string
		some card.Changes
	}{
		{"worse", decides.Of(card.Worse)}, {"better", decides.Of(card.Better)},
		{"neither worse nor better", decides.Of(card.Other)}, {"measures of single sessions, which do not decide", single},
	} {
		if len(part.some) > 0 {
			_, _ = fmt.Fprintf(w, "\n%s, against %s:\n%s", part.head, cardFile, part.some)
		}
	}
	switch {
	case len(decides.Of(card.Worse)) > 0:
		_, _ = fmt.Fprintln(w, "\nthe reader has become worse than its scorecard: undo what made it so or, if the loss is meant, say why in the commit and write the new card with make score-accept")
		return errWorse
	case len(changes) > 0:
		_, _ = fmt.Fprintln(w, "\nnothing is worse: the new card is written")
		return acceptRun(w)
	}
	_, _ = fmt.Fprintln(w, "\nas the scorecard says")
	return nil
}

// setOf is the set of a session: its name without the number. That of a set
// is itself.
func setOf(row string) string { return strings.TrimRight(row, "0123456789") }

// readCard reads a committed card; nil when there is none yet.
func readCard(path string) (card.Card, error) {
	text, err := os.ReadFile(path)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	c, err := card.Parse(string(text))
	if err != nil {
		return nil, fmt.Errorf("%s: %w", path, err)
	}
	return c, nil
}

// sessions are the names of the sessions to read: those asked for, else those
// of the card, else the default.
func (o options) sessions(was card.Card) []string {
	var out []string
	asked := o.asked
	if asked == [len(sets)]int{} {
		for _, r := range was {
			if setOf(r.Name) != r.Name {
				out = append(out, r.Name)
			}
		}
		if len(out) > 0 {
			return out
		}
		asked = usual
	}
	for i, set := range sets {
		for n := range asked[i] {
			out = append(out, fmt.Sprintf("%s%02d", set, n+1))
		}
	}
	return out
}

// draw draws the sessions that are not there.
func draw(ctx context.Context, names []string) error {
	missing := map[string][]string{}
	for _, n := range names {
		if _, err := os.Stat(filepath.Join(scenesDir, n, "truth.jsonl")); err != nil {
			set := setOf(n)
			missing[set] = append(missing[set], strings.TrimPrefix(n, set))
		}
	}
	for set, numbers := range missing {
		fmt.Printf("drawing %d sessions of %s, some minutes each\n", len(numbers), set)
		c := exec.CommandContext(ctx, "go", "run", "./tools/scenes", "-o", scenesDir, "-set", set, "-only", strings.Join(numbers, ","))
		c.Stdout, c.Stderr = os.Stdout, os.Stderr
		if err := c.Run(); err != nil {
			return fmt.Errorf("the sessions could not be drawn: %w", err)
		}
	}
	return nil
}

// readSessions measures them by the reader's own test.
func readSessions(ctx context.Context, names []string) (card.Result, error) {
	out := filepath.Join(workDir, "run.json")
	if err := os.RemoveAll(out); err != nil {
		return card.Result{}, err
	}
	var patterns []string
	for _, n := range names {
		patterns = append(patterns, scenesDir+"/"+n)
	}
	c := exec.CommandContext(ctx, "go", "test", "-count=1", "-timeout", "240m", "-run", "^TestScenes$", "./"+readerDir)
	c.Env = append(os.Environ(), "BOARDHAND_SCENES="+strings.Join(patterns, ":"), "BOARDHAND_CARD="+out)
	said, err := c.CombinedOutput()
	if err != nil && ctx.Err() == nil {
		if _, stat := os.Stat(out); stat != nil {
			return card.Result{}, fmt.Errorf("the sessions could not be read: %w\n%s", err, said)
		}
	}
	return card.Load(out)
}

// savePending keeps a run's card and what the sources were, until it is
// accepted.
func savePending(text string) error {
	sum, err := sources()
	if err != nil {
		return err
	}
	if err := os.WriteFile(filepath.Join(workDir, "scorecard.md"), []byte(text), 0o644); err != nil {
		return err
	}
	return os.WriteFile(filepath.Join(workDir, "scorecard.of"), []byte(sum), 0o644)
}

// acceptRun makes the last run the card, if the reader is still the same; w is told.
func acceptRun(w io.Writer) error {
	text, err := os.ReadFile(filepath.Join(workDir, "scorecard.md"))
	if errors.Is(err, fs.ErrNotExist) {
		_, _ = fmt.Fprintf(w, "%s stays: no run of make score is there to accept\n", cardFile)
		return nil
	}
	if err != nil {
		return err
	}
	of, err := os.ReadFile(filepath.Join(workDir, "scorecard.of"))
	if err != nil {
		return err
	}
	sum, err := sources()
	if err != nil {
		return err
	}
	if string(of) != sum {
		_, _ = fmt.Fprintf(w, "%s stays: the reader has changed since make score ran; run it again\n", cardFile)
		return nil
	}
	_, _ = fmt.Fprintln(w, "written:", cardFile)
	return os.WriteFile(cardFile, text, 0o644)
}
