// SPDX-License-Identifier: Apache-2.0

// Package line is one line of a rig's judgement: verdict, value, limit, margin, why, and what
// to change. It knows no formula.
package line

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"boardhand/internal/rig"
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
	ID      string   `json:"id"`
	Title   string   `json:"title"`
	Verdict Verdict  `json:"verdict"`
	Value   float64  `json:"value"`
	Limit   float64  `json:"limit"`
	Reserve *float64 `json:"reserve,omitempty"` // of a warning: the value that would have the reserve, which may be 0
	Margin  float64  `json:"margin"`            // positive: on the good side of the limit
	Unit    string   `json:"unit"`
	Sigmas  float64  `json:"sigmas,omitempty"` // the reserve in standard deviations of what builds differ by
	Drawn   float64  `json:"drawn,omitempty"`  // the margin of the machine as drawn, where that is not Margin
	Share   float64  `json:"margin_share"`     // the margin over the limit, for ranking
	Why     string   `json:"why"`
	Change  string   `json:"change"` // what to change; empty when it passes
	Fixes   []Fix    `json:"fixes,omitempty"`
	Formula string   `json:"formula"`
	Source  string   `json:"source"`
	Range   string   `json:"range"` // where the formula holds
	Explain string   `json:"explain"`
	Advice  string   `json:"-"` // what to do where no number of the rig helps
	// Accepted is the maker's reason to live with a warning, or how a caution is seen to.
	Accepted string `json:"accepted,omitempty"`
	isLeast  bool   // the limit is a least one
}

// Setting is one key of the rig file with a value as a maker writes it.
type Setting = rig.Setting

// Fix is a change that turns a check to pass.
type Fix struct {
	Set    []Setting `json:"set"`
	Effect string    `json:"effect"`           // the check's value then
	Breaks []string  `json:"breaks,omitempty"` // checks that would fail instead
	Costs  []Cost    `json:"costs,omitempty"`  // what it takes from lines that do not fail
	Price  *float64  `json:"price,omitempty"`  // of its parts, where a stock says it
}

// Cost is what a change takes from another line.
type Cost struct {
	ID     string  `json:"id"`
	Was    float64 `json:"was"` // in Unit, as Value and Margin
	Value  float64 `json:"value"`
	Margin float64 `json:"margin"`
	Unit   string  `json:"unit"`
	Warns  bool    `json:"warns,omitempty"` // it passed and is a warning then
}

// String says it as a maker would.
func (c Cost) String() string {
	text := fmt.Sprintf("leaves %s a margin of %s %s", c.ID, Figure(c.Margin), c.Unit)
	switch was, now := Figure(c.Was), Figure(c.Value); {
	case was == now:
	case c.Value > c.Was:
		text = fmt.Sprintf("raises %s to %s %s", c.ID, now, c.Unit)
	default:
		text = fmt.Sprintf("lowers %s to %s %s", c.ID, now, c.Unit)
	}
	if c.Warns {
		text += ", then a warning"
	}
	return text
}

// AtMost judges a value that must not exceed limit; above comfort it warns.
func (c Check) AtMost(value, limit, comfort float64) Check {
	return c.judged(value, limit, limit-value).Warned(value > comfort, comfort)
}

// AtLeast judges a value that must reach limit; below comfort it warns.
func (c Check) AtLeast(value, limit, comfort float64) Check {
	c.isLeast = true
	return c.judged(value, limit, value-limit).Warned(value < comfort, comfort)
}

// Warned is a line that passes without its reserve.
func (c Check) Warned(isTight bool, reserve float64) Check {
	if isTight && c.Verdict == Pass {
		c.Verdict, c.Reserve = Warn, &reserve
	}
	return c
}

// Spread re-judges a line whose margin is less in built machines, by mean on the average
// and by sigma more at one standard deviation: below least of those it fails, below well of
// them it warns. What fails as drawn fails.
func (c Check) Spread(mean, sigma, least, well float64) Check {
	if bad(mean) || bad(sigma) || sigma <= 0 || !c.Applies() {
		return c
	}
	if c.Verdict == Fail {
		c.Sigmas, c.Drawn = (c.Margin-mean)/sigma, c.Margin
		return c
	}
	sign := 1.0 // of a value that must reach its limit
	if (c.Value > c.Limit) != (c.Margin > 0) {
		sign = -1
	}
	drawn, limit := c.Margin, c.Limit
	allowed := func(z float64) float64 { return math.Max(0, mean+z*sigma) }
	out := c.judged(c.Value, limit+sign*allowed(least), drawn-allowed(least))
	out = out.Warned(drawn < allowed(well), limit+sign*allowed(well))
	out.Sigmas, out.Drawn = (drawn-mean)/sigma, drawn
	if out.Verdict != Pass {
		out.Why += fmt.Sprintf("; of builds that differ as their parts do, %s have enough", share(out.Sigmas))
	}
	return out
}

// AsDrawn is the margin of the machine as its file has it: to the limit at which it just
// works, whatever its builds lack.
func (c Check) AsDrawn() float64 {
	if c.Drawn != 0 {
		return c.Drawn
	}
	return c.Margin
}

// share is how many of a hundred lie below so many standard deviations.
func share(sigmas float64) string {
	return fmt.Sprintf("%.0f of 100", math.Max(0, math.Min(99, 100*(1+math.Erf(sigmas/math.Sqrt2))/2)))
}

func (c Check) judged(value, limit, margin float64) Check {
	if bad(value) || bad(limit) {
		return c.Failed(fmt.Errorf("the numbers of this rig give no answer here"))
	}
	c.Value, c.Limit, c.Margin = value, limit, margin
	c.Reserve, c.Sigmas, c.Drawn = nil, 0, 0
	c.Share = margin / math.Max(math.Abs(limit), 1e-9)
	if math.Abs(limit) < 1e-9 {
		c.Share = margin / math.Max(math.Abs(value), 1e-9)
	}
	c.Share = math.Max(-Idle, math.Min(Idle, c.Share))
	if c.Verdict = Pass; margin < 0 {
		c.Verdict = Fail
	}
	return c
}

func bad(v float64) bool { return math.IsNaN(v) || math.IsInf(v, 0) }

// Failed is a check whose formula refuses the rig.
func (c Check) Failed(err error) Check {
	c.Verdict, c.Share, c.Why = Fail, -1, err.Error()
	return c
}

// Passed is a line that does not apply to this rig.
func (c Check) Passed(why string) Check {
	c.Verdict, c.Share, c.Why = Pass, Idle, why
	return c
}

// Open is a check that waits for another one to be mended.
func (c Check) Open(on string) Check {
	c.Verdict, c.Why = Warn, "cannot be judged before "+on+" is mended"
	c.Advice = "mend " + on + " first"
	return c
}

// Rank orders fail before warn before pass.
func (v Verdict) Rank() int {
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

// Word is the verdict as it is told: accepted or a caution where a warning is that.
func (c Check) Word() string {
	switch {
	case c.Verdict == Warn && c.Accepted != "":
		return "accepted"
	case c.Verdict == Warn && c.Cautions():
		return "caution"
	}
	return string(c.Verdict)
}

// Bound says on which side of the limit a value should be.
func (c Check) Bound() string {
	if c.Above() {
		return "at least"
	}
	return "at most"
}

// Worst is the worst verdict of all lines that count: fail means the machine as
// described will not work.
func Worst(checks []Check) Verdict {
	out := Pass
	for _, c := range checks {
		if c.Counts().Rank() < out.Rank() {
			out = c.Counts()
		}
	}
	return out
}

// Sealed turns a line with a number that is none into a failed one.
func (c Check) Sealed() Check {
	if c.Verdict == "" || bad(c.Value) || bad(c.Limit) || bad(c.Margin) || bad(c.Share) || strings.Contains(c.Why+c.Explain, "NaN") || strings.Contains(c.Why+c.Explain, "Inf") {
		c.Value, c.Limit, c.Margin, c.Explain = 0, 0, 0, ""
		return c.Failed(errors.New("a number that this line needs is missing from the rig or out of all range"))
	}
	return c
}

// Waits says whether a check could not be judged because of another.
func Waits(c Check) bool { return strings.HasPrefix(c.Why, "cannot be judged") }

// Told is the sentence of the change.
func (c Check) Told() string {
	var parts []string
	for _, f := range c.Fixes {
		parts = append(parts, f.String())
	}
	text := strings.Join(parts, "; or ")
	switch {
	case text == "":
		return c.Advice
	case c.Advice == "":
		return text
	}
	return text + "; or " + c.Advice
}

// Advised gives a line that does not pass its advice as the change.
func (c Check) Advised() Check {
	if c.Verdict == Pass {
		c.Advice = ""
	}
	c.Change = c.Told()
	return c
}

// String writes a fix as a maker would type it.
func (f Fix) String() string {
	text := "set " + strings.Join(f.short(), ", ") + " (" + f.Effect
	if f.Price != nil {
		text += fmt.Sprintf("; parts for %.2f", *f.Price)
	}
	text += ")"
	for _, c := range f.Costs {
		text += ", and " + c.String()
	}
	if len(f.Breaks) > 0 {
		text += fmt.Sprintf(", though then this fails: %s", strings.Join(f.Breaks, ", "))
	}
	return text
}

// short lists the settings; pieces with the same value share one.
func (f Fix) short() (out []string) {
	same := map[string]int{}
	for _, s := range f.Set {
		part := strings.Split(s.Key, ".")
		if len(part) != 3 || part[0] != "pieces" || part[1] == "magnet" {
			out = append(out, s.Key+" = "+s.Value)
			continue
		}
		key := part[2] + " = " + s.Value
		if at, ok := same[key]; ok {
			out[at] = strings.Replace(out[at], "'s ", " and "+part[1]+"'s ", 1)
			continue
		}
		same[key] = len(out)
		out = append(out, "the "+part[1]+"'s "+key)
	}
	return out
}

// Applies says whether a check has a number for this rig: a line that does not
// apply, or waits for another one, has no margin.
func (c Check) Applies() bool { return c.Verdict != "" && !Waits(c) && math.Abs(c.Share) < Idle }

// HasNumber says whether value and limit were worked out, 0 or not: not where a line does
// not apply, waits, or has a formula that refuses the rig.
func (c Check) HasNumber() bool {
	return c.Value != 0 || c.Limit != 0 || c.Applies() && c.Verdict != Fail
}

// Missed is the limit to show: of a warning the one that it missed.
func (c Check) Missed() float64 {
	if c.Reserve != nil {
		return *c.Reserve
	}
	return c.Limit
}

// Spare is the margin to the limit that is shown: of a warning negative, what it misses.
func (c Check) Spare() float64 {
	switch {
	case c.Reserve == nil:
		return c.Margin
	case c.isLeast:
		return c.Value - *c.Reserve
	}
	return *c.Reserve - c.Value
}

// Above says whether the value should be above the limit, not below it.
func (c Check) Above() bool { return c.isLeast }

// Figure writes a number with three digits.
func Figure(v float64) string {
	if math.Abs(v) >= 1000 {
		return fmt.Sprintf("%.0f", v)
	}
	s := fmt.Sprintf("%.3g", v)
	if strings.Contains(s, "e") {
		s = fmt.Sprintf("%.4f", v)
	}
	return s
}
