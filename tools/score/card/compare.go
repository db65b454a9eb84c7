// SPDX-License-Identifier: Apache-2.0

package card

import (
	"fmt"
	"math"
	"strings"
)

// Verdict says what a change of a figure means.
type Verdict string

// The verdicts.
const (
	Worse  Verdict = "worse"
	Better Verdict = "better"
	Other  Verdict = "changed" // neither, as when the pictures are others
)

// Change is one figure that differs between two cards.
type Change struct {
	Row     string
	Figure  string
	Was, Is string
	Verdict Verdict
	Counted bool // a count, not a measure: no rounding, no chance
}

// String is a line for a person.
func (c Change) String() string {
	return fmt.Sprintf("%s: %s was %s, is %s: %s", c.Row, c.Figure, c.Was, c.Is, c.Verdict)
}

// Changes are the figures that differ.
type Changes []Change

// Of keeps the changes of a verdict.
func (c Changes) Of(v Verdict) Changes {
	var out Changes
	for _, x := range c {
		if x.Verdict == v {
			out = append(out, x)
		}
	}
	return out
}

// String is a line a change.
func (c Changes) String() string {
	var b strings.Builder
	for _, x := range c {
		b.WriteString("  " + x.String() + "\n")
	}
	return b.String()
}

// Tolerances of figures that are not counted. Processors round differently
// (some multiply and add in one step), so the last digits are nobody's doing:
// 2 % is far more than that, and far less than what halving any number of the
// reader that matters brings about (docs/sensitivity.md).
const (
	loose   = 0.02   // share
	nats    = 0.0005 // surprise
	length  = 0.002  // mm
	ratio   = 0.02   // of 95 % over σ
	pixels  = 0.001  // of the view
	inner   = 0.02   // of lead, unexplained and hand, in their units
	slower  = 2.0    // factor of processor time that is worth a word
	nominal = 1.96   // 95 % of errors over σ when σ is true: the normal distribution
)

// Compare tells what differs from the card that was, row by row.
func Compare(was, is Card) Changes {
	var out Changes
	for _, a := range was {
		b := is.Row(a.Name)
		if b == nil {
			out = append(out, Change{a.Name, "the row", "there", "missing", Worse, true})
			continue
		}
		out = append(out, a.compare(*b)...)
	}
	for _, b := range is {
		if was.Row(b.Name) == nil {
			out = append(out, Change{b.Name, "the row", "missing", "there", Other, true})
		}
	}
	return out
}

// compare tells what differs between two runs over one set. Figures of other
// pictures are no better and no worse.
func (a Row) compare(b Row) Changes {
	d := diff{row: a.Name}
	if a.Pictures != b.Pictures {
		d.other("pictures", a.Pictures, b.Pictures)
		return d.out
	}
	d.count("moves right", a.Moves, b.Moves, 1)
	d.number("wrong moves", a.Wrong, b.Wrong, -1)
	d.count("asked", a.Asked, b.Asked, -1)
	d.count("nothing happened, told so", a.Still, b.Still, 1)
	d.count("hands told", a.Hands, b.Hands, 1)
	d.count("odd states told", a.Odd, b.Odd, 1)
	d.number("errors", a.Failed, b.Failed, -1)
	d.real("surprise, nats", a.Surprise, b.Surprise, nats)
	d.real("offset in the median, mm", a.Median, b.Median, length)
	d.real("offset, 95 %, mm", a.Most, b.Most, length)
	d.honest(a.Sigmas, b.Sigmas)
	d.real("view, px", a.View, b.View, pixels)
	d.neither("lead, nats", a.Lead, b.Lead)
	d.neither("unexplained, mm²", a.Left, b.Left)
	d.neither("hand, mm²", a.Cover, b.Cover)
	for k := range Bins {
		d.other(fmt.Sprintf("beliefs from %g", Edges[k]), a.Beliefs[k], b.Beliefs[k])
	}
	if a.CPU > 0 && b.CPU > slower*a.CPU {
		d.add("processor time, ms a picture", fmt.Sprintf("%.0f", a.CPU), fmt.Sprintf("%.0f", b.CPU), Worse)
	}
	return d.out
}

// diff gathers the changes of one row.
type diff struct {
	row string
	out Changes
}

func (d *diff) add(figure, was, is string, v Verdict) {
	d.out = append(d.out, Change{Row: d.row, Figure: figure, Was: was, Is: is, Verdict: v})
}

// judge books a change of a figure; up is 1 when more is better, else -1.
func (d *diff) judge(figure, was, is string, up bool) {
	v := Worse
	if up {
		v = Better
	}
	d.add(figure, was, is, v)
}

func (d *diff) other(figure string, was, is any) {
	if was != is {
		d.add(figure, text(was), text(is), Other)
	}
}

// text writes a count as "3 of 4".
func text(v any) string {
	if c, ok := v.(Count); ok {
		return fmt.Sprintf("%d of %d", c.Is, c.Of)
	}
	return fmt.Sprint(v)
}

func (d *diff) number(figure string, was, is, sign int) {
	if was != is {
		d.judge(figure, text(was), text(is), (is-was)*sign > 0)
		d.out[len(d.out)-1].Counted = true
	}
}

func (d *diff) count(figure string, was, is Count, sign int) {
	switch {
	case was.Of != is.Of:
		d.other(figure, was, is)
	case was.Is != is.Is:
		d.judge(figure, text(was), text(is), (is.Is-was.Is)*sign > 0)
		d.out[len(d.out)-1].Counted = true
	}
}

// real books a figure of which less is better.
func (d *diff) real(figure string, was, is, least float64) {
	if math.Abs(is-was) > math.Max(least, loose*math.Abs(was)) {
		d.judge(figure, fmt.Sprintf("%.4f", was), fmt.Sprintf("%.4f", is), is < was)
	}
}

// neither books a figure from inside the reader, of which neither more nor
// less is better.
func (d *diff) neither(figure string, was, is float64) {
	if math.Abs(is-was) > math.Max(inner, loose*math.Abs(was)) {
		d.add(figure, fmt.Sprintf("%.2f", was), fmt.Sprintf("%.2f", is), Other)
	}
}

// honest books how well the stated standard deviations fit: better is nearer
// to the normal distribution's.
func (d *diff) honest(was, is float64) {
	if was == is || math.Abs(is-was) <= math.Max(ratio, loose*was) {
		return
	}
	off := func(x float64) float64 { return math.Abs(math.Log(math.Max(x, 1e-6) / nominal)) }
	d.judge("offset over its standard deviation, 95 % (1.96 would be true)", fmt.Sprintf("%.2f", was), fmt.Sprintf("%.2f", is), off(is) < off(was))
}
