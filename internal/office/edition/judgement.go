// SPDX-License-Identifier: Apache-2.0

package edition

import (
	"cmp"
	"fmt"
	"math"
	"strings"

	"boardhand/internal/assess"
	"boardhand/internal/assess/paper"
	"boardhand/internal/rig"
	"boardhand/internal/unit"
)

// Judgement is a report as the page shows it.
type Judgement struct {
	Rig      string           `json:"rig"`
	Verdict  assess.Verdict   `json:"verdict"`
	Headline string           `json:"headline"`
	Tally    string           `json:"tally"`
	Remarks  []string         `json:"remarks,omitempty"`
	Checks   []Row            `json:"checks"`
	Cautions []assess.Caution `json:"cautions"`
	Values   []rig.Setting    `json:"values"`
	Made     string           `json:"made"`
}

// Row is one line of the judgement: the check, and what of it is written.
type Row struct {
	assess.Check
	Counts  assess.Verdict `json:"counts"`  // the verdict as it counts in the whole
	Word    string         `json:"word"`    // the verdict in a word
	Is      string         `json:"is"`      // the value; "" where the line has none
	Should  string         `json:"should"`  // its limit: "at most 4.2"
	Spare   string         `json:"spare"`   // the margin to it
	Left    float64        `json:"left"`    // that margin as a share of the limit; of a warning negative, as the margin
	Sigma   string         `json:"sigma"`   // the reserve in standard deviations; "" where none is known
	Ways    []Way          `json:"ways"`    // changes that make it pass
	Besides string         `json:"besides"` // what to do where no number of the rig helps
}

// Way is a change that makes a line pass.
type Way struct {
	Text string        `json:"text"`
	Set  []rig.Setting `json:"set"`
}

// RowOf is a line as it is written.
func RowOf(c assess.Check) Row {
	r := Row{Check: c, Counts: c.Counts(), Word: word(c)}
	if c.HasNumber() {
		r.Is, r.Should, r.Spare, r.Left = paper.Figure(c.Value), c.Bound()+" "+paper.Figure(c.Missed()), paper.Figure(c.Spare()), left(c)
	}
	if c.Sigmas != 0 {
		r.Sigma = strings.Replace(fmt.Sprintf("%.1f", c.Sigmas), "-0.0", "0.0", 1)
	}
	for _, f := range c.Fixes {
		r.Ways = append(r.Ways, Way{f.String(), f.Set})
	}
	if c.Counts() != assess.Pass || c.Cautions() {
		r.Besides = c.Advice
	}
	return r
}

// left is the margin to the limit that is shown, as a share of it, or of the value where it is 0.
func left(c assess.Check) float64 {
	of := math.Abs(c.Missed())
	switch {
	case c.Reserve == nil:
		return c.Share
	case of == 0:
		of = math.Abs(c.Value)
	}
	return c.Spare() / of
}

// word is a verdict in a word.
func word(c assess.Check) string {
	w := c.Word()
	return cmp.Or(map[string]string{"pass": "passes", "warn": "warns", "fail": "fails"}[w], w)
}

// Judgement is the report for the page.
func (e *Edition) Judgement() Judgement {
	rep := e.Report()
	n := rep.Tally()
	out := Judgement{Rig: rep.Rig, Verdict: rep.Verdict, Headline: Headline(rep.Verdict, n), Remarks: rep.Remarks, Cautions: rep.Cautions, Values: e.Rig.Settings(), Made: e.made.String()}
	out.Tally = strings.Join(append([]string{fmt.Sprintf("%d pass, %d warn, %d fail", n.Pass, n.Warn, n.Fail)}, n.Apart()...), ", ")
	for _, c := range rep.Checks {
		out.Checks = append(out.Checks, RowOf(c))
	}
	return out
}

// Headline says in a sentence whether a machine will work.
func Headline(v assess.Verdict, n assess.Tally) string {
	switch v {
	case assess.Fail:
		verb := "fail"
		if n.Fail == 1 {
			verb = "fails"
		}
		return fmt.Sprintf("It will not work yet: %s %s.", unit.Count(n.Fail, "line"), verb)
	case assess.Warn:
		verb := "have"
		if n.Warn == 1 {
			verb = "has"
		}
		return fmt.Sprintf("It works on paper; %s %s no reserve.", unit.Count(n.Warn, "line"), verb)
	}
	return "It works on paper, with reserve."
}
