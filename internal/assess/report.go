// SPDX-License-Identifier: Apache-2.0

package assess

import (
	"boardhand/internal/assess/line"
	"boardhand/internal/rig"
)

// Report is a rig's whole judgement, as it is printed or sent.
type Report struct {
	Rig      string    `json:"rig"`
	Verdict  Verdict   `json:"verdict"`
	Checks   []Check   `json:"checks"`
	Cautions []Caution `json:"cautions"`
	Remarks  []string  `json:"remarks,omitempty"` // on what the maker accepts
}

// ReportOn judges a rig in full.
func ReportOn(r *rig.Rig) Report { return ReportAt(r, nil) }

// ReportAt is ReportOn with the cheapest changes first.
func ReportAt(r *rig.Rig, price Pricing) Report {
	c := Run(r, price)
	return Report{Rig: r.Path, Verdict: Worst(c), Checks: c, Cautions: Cautions(r), Remarks: remarks(r, c)}
}

// Tally counts the lines by verdict.
type Tally = line.Tally

// Tally counts the lines of a report.
func (r Report) Tally() (n Tally) {
	for _, c := range r.Checks {
		switch isAccepted := c.Accepted != "" && c.Verdict == Warn; {
		case isAccepted && c.Cautions():
			n.Seen++
		case isAccepted:
			n.Accepted++
		case c.Cautions() && c.Verdict == Warn:
			n.Cautions++
		case c.Verdict == Fail:
			n.Fail++
		case c.Verdict == Warn:
			n.Warn++
		default:
			n.Pass++
		}
	}
	return n
}
