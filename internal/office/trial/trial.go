// SPDX-License-Identifier: Apache-2.0

// Package trial tries a rig file with other values: what may be turned, and what that does to the
// judgement. Nothing is written to the file.
package trial

import (
	"fmt"
	"slices"
	"strings"

	"boardhand/internal/assess"
	"boardhand/internal/assess/whatif"
	"boardhand/internal/office/edition"
	"boardhand/internal/rig"
)

// Result is a rig with other values beside itself.
type Result struct {
	Verdicts [2]assess.Verdict `json:"verdicts"` // before and with the values
	Headline string            `json:"headline"` // of what it is with them
	Keys     []whatif.Key      `json:"keys"`     // that differ
	Lines    []Turned          `json:"lines"`    // that read otherwise, other verdicts first
	Same     int               `json:"same"`     // lines that do not
	Left     []edition.Row     `json:"left"`     // lines that do not pass with the values
	Text     string            `json:"text"`     // what to write into the rig file
}

// Turned is a line before and with the values; nil where the rig has no such line.
type Turned struct {
	ID     string       `json:"id"`
	Before *edition.Row `json:"before"`
	After  *edition.Row `json:"after"`
}

// Of judges the rig of an edition with other values.
func Of(e *edition.Edition, set []rig.Setting) (Result, error) {
	r := e.Rig
	changed, err := rig.Set(r.Path, e.Text, set, rig.Machine)
	if err != nil {
		return Result{}, err
	}
	c := whatif.After(e.Report(), r, changed)
	out := Result{Verdicts: [2]assess.Verdict{c.A.Verdict, c.B.Verdict}, Headline: edition.Headline(c.B.Verdict, c.B.Tally()), Keys: c.Keys, Same: c.Same, Text: lines(r, set)}
	for _, l := range c.Lines {
		out.Lines = append(out.Lines, Turned{l.ID, rowOf(l.A), rowOf(l.B)})
	}
	for _, l := range c.B.Checks {
		if l.Counts() != assess.Pass {
			out.Left = append(out.Left, edition.RowOf(l))
		}
	}
	return out, nil
}

func rowOf(c *assess.Check) *edition.Row {
	if c == nil {
		return nil
	}
	r := edition.RowOf(*c)
	return &r
}

// lines are the settings as a rig file has them, table by table, each with what stands there now.
func lines(r *rig.Rig, set []rig.Setting) string {
	now := map[string]string{}
	for _, s := range r.Settings() {
		now[s.Key] = s.Value
	}
	var b strings.Builder
	set = slices.Clone(set)
	slices.SortStableFunc(set, func(x, y rig.Setting) int { return strings.Compare(table(x.Key), table(y.Key)) })
	last := ""
	for _, s := range set {
		if t := table(s.Key); t != last {
			fmt.Fprintf(&b, "[%s]\n", t)
			last = t
		}
		was := "is not given now"
		if v := now[s.Key]; v != "" {
			was = "now " + v
		}
		name, value := strings.TrimPrefix(s.Key, table(s.Key)+"."), s.Value
		if piece, what, ok := strings.Cut(name, "."); ok {
			name, value = piece, "{ … "+what+" = "+value+" … }"
		}
		fmt.Fprintf(&b, "%s = %s    # %s\n", name, value, was)
	}
	return b.String()
}

// table is that of a key: "axis.x.motor" of "axis.x.motor.gearing". A piece is a line of [pieces].
func table(key string) string {
	at := strings.LastIndex(key, ".")
	if at < 0 {
		return ""
	}
	if p := strings.Split(key, "."); p[0] == "pieces" && len(p) == 3 && p[1] != "magnet" {
		return "pieces"
	}
	return key[:at]
}
