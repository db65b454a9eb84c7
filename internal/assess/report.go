// SPDX-License-Identifier: Apache-2.0

package assess

import (
	"fmt"
	"strings"

	"boardhand/internal/assess/line"
	"boardhand/internal/rig"
	"boardhand/internal/unit"
)

// Report is a rig's whole judgement, as it is printed or sent.
type Report struct {
	Rig      string    `json:"rig"`
	Verdict  Verdict   `json:"verdict"`
	Checks   []Check   `json:"checks"`
	Cautions []Caution `json:"cautions"`
}

// ReportOn judges a rig in full.
func ReportOn(r *rig.Rig) Report { return ReportAt(r, nil) }

// ReportAt is ReportOn with the cheapest changes first.
func ReportAt(r *rig.Rig, price Pricing) Report {
	c := RunAt(r, price)
	return Report{Rig: r.Path, Verdict: Worst(c), Checks: c, Cautions: Cautions(r)}
}

// Text is the report as a table for a terminal, worst line first.
func (r Report) Text() string {
	var b strings.Builder
	for _, c := range r.Checks {
		value, limit := line.Figure(c.Value), c.Sign()+" "+line.Figure(c.Missed())
		if c.Value == 0 && c.Limit == 0 && !c.Applies() {
			value, limit = "–", "" // no number: it does not apply, or cannot be judged
		}
		verdict := string(c.Verdict)
		if c.Cautions() && c.Verdict == Warn {
			verdict = "note"
		}
		fmt.Fprintf(&b, "%-4s  %-20s %10s  %-10s  %s\n", verdict, c.ID, value+" ", limit, c.Unit)
		fmt.Fprintf(&b, "      %s\n", c.Why)
		if c.Change != "" {
			fmt.Fprintf(&b, "      change: %s\n", c.Change)
		}
	}
	n := map[Verdict]int{}
	notes := 0
	for _, c := range r.Checks {
		if c.Cautions() && c.Verdict == Warn {
			notes++
			continue
		}
		n[c.Verdict]++
	}
	fmt.Fprintf(&b, "\n%d pass, %d warn, %d fail", n[Pass], n[Warn], n[Fail])
	if notes > 0 {
		fmt.Fprintf(&b, ", %s", unit.Count(notes, "caution"))
	}
	b.WriteString(".\n\n")
	for _, c := range r.Cautions {
		fmt.Fprintf(&b, "! %s\n", c.Text)
	}
	return b.String()
}
