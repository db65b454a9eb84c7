// SPDX-License-Identifier: Apache-2.0

// Package assess judges a rig before a part is bought: will the machine work,
// by how much, and what to change. It takes a rig and returns lines; it opens
// no files.
package assess

import (
	"fmt"
	"math"
	"strings"
)

// Verdict is the outcome of one check.
type Verdict string

// The three verdicts. A warning works on paper but without the reserve that
// the models' own errors ask for.
const (
	Pass Verdict = "pass"
	Warn Verdict = "warn"
	Fail Verdict = "fail"
)

// Check is one line of the judgement. Value, Limit and Margin are in Unit.
type Check struct {
	ID      string  `json:"id"`
	Title   string  `json:"title"`
	Verdict Verdict `json:"verdict"`
	Value   float64 `json:"value"`
	Limit   float64 `json:"limit"`
	Reserve float64 `json:"reserve,omitempty"` // of a warning: the value that would have the reserve
	Margin  float64 `json:"margin"`            // positive: on the good side of the limit
	Unit    string  `json:"unit"`
	Share   float64 `json:"margin_share"` // the margin over the limit, for ranking
	Why     string  `json:"why"`
	Change  string  `json:"change"` // what to change; empty when it passes
	Fixes   []Fix   `json:"fixes,omitempty"`
	Formula string  `json:"formula"`
	Source  string  `json:"source"`
	Range   string  `json:"range"` // where the formula holds
	Explain string  `json:"explain"`
	Advice  string  `json:"-"` // what to do where no number of the rig helps
	// Accepted is the maker's reason to live with a warning, or how a caution is seen to.
	Accepted string `json:"accepted,omitempty"`
}

// Setting is one key of the rig file with a value as a maker writes it.
type Setting struct {
	Key   string `json:"key"`
	Value string `json:"value"`
}

// Fix is a change that turns a check to pass.
type Fix struct {
	Set    []Setting `json:"set"`
	Effect string    `json:"effect"`           // the check's value then
	Breaks []string  `json:"breaks,omitempty"` // checks that would fail instead
}

// atMost judges a value that must not exceed limit; above comfort it warns.
func (c Check) atMost(value, limit, comfort float64) Check {
	return c.judged(value, limit, limit-value).warned(value > comfort, comfort)
}

// atLeast judges a value that must reach limit; below comfort it warns.
func (c Check) atLeast(value, limit, comfort float64) Check {
	return c.judged(value, limit, value-limit).warned(value < comfort, comfort)
}

// warned is a line that passes without its reserve.
func (c Check) warned(isTight bool, reserve float64) Check {
	if isTight && c.Verdict == Pass {
		c.Verdict, c.Reserve = Warn, reserve
	}
	return c
}

func (c Check) judged(value, limit, margin float64) Check {
	if bad(value) || bad(limit) {
		return c.failed(fmt.Errorf("the numbers of this rig give no answer here"))
	}
	c.Value, c.Limit, c.Margin = value, limit, margin
	c.Share = margin / math.Max(math.Abs(limit), 1e-9)
	if math.Abs(limit) < 1e-9 {
		c.Share = margin / math.Max(math.Abs(value), 1e-9)
	}
	c.Share = math.Max(-idle, math.Min(idle, c.Share))
	if c.Verdict = Pass; margin < 0 {
		c.Verdict = Fail
	}
	return c
}

func bad(v float64) bool { return math.IsNaN(v) || math.IsInf(v, 0) }

// failed is a check whose formula refuses the rig.
func (c Check) failed(err error) Check {
	c.Verdict, c.Share, c.Why = Fail, -1, err.Error()
	return c
}

// passed is a line that does not apply to this rig.
func (c Check) passed(why string) Check {
	c.Verdict, c.Share, c.Why = Pass, idle, why
	return c
}

// open is a check that waits for another one to be mended.
func (c Check) open(on string) Check {
	c.Verdict, c.Why = Warn, "cannot be judged before "+on+" is mended"
	c.Advice = "mend " + on + " first"
	return c
}

// rank orders fail before warn before pass.
func (v Verdict) rank() int {
	switch v {
	case Fail:
		return 0
	case Warn:
		return 1
	}
	return 2
}

// Cautions says whether a line is about what can hurt, not about what works: nearly
// every machine has such a warning, and it does not count in the verdict.
func (c Check) Cautions() bool { return strings.HasPrefix(c.ID, "caution.") }

// Counts is the verdict as it counts in the whole: what the maker accepted does
// not, and a caution never.
func (c Check) Counts() Verdict {
	if c.Cautions() || c.Accepted != "" && c.Verdict == Warn {
		return Pass
	}
	return c.Verdict
}

// Worst is the worst verdict of all lines that count: fail means the machine as
// described will not work.
func Worst(checks []Check) Verdict {
	out := Pass
	for _, c := range checks {
		if c.Counts().rank() < out.rank() {
			out = c.Counts()
		}
	}
	return out
}
