// SPDX-License-Identifier: Apache-2.0

// Package front shows the rigs of a ranking: as a plot of builds that work over cost, with
// the longest carry as the size of a mark, and as a table.
package front

import (
	"encoding/csv"
	"fmt"
	"math"
	"strconv"
	"strings"

	"boardhand/internal/assess/figure"
	"boardhand/internal/assess/paper"
	"boardhand/internal/propose/ranking"
)

// SVG is the plot as a picture.
func SVG(r *ranking.Ranking, currency string) string { return paper.SVG(plot(r, currency)) }

// plot has a mark for each rig of which builds were drawn.
func plot(r *ranking.Ranking, currency string) figure.Figure {
	f := figure.Figure{ID: "front", Title: "Share of builds that work over what is to be bought", XLabel: strings.TrimSpace("cost " + bracketed(currency)), YLabel: "builds that play a whole game, %"}
	if len(r.Rigs) == 0 {
		return f
	}
	f.X, f.Y = extents(r)
	f.Rungs = rungs(f.Y)
	f.Lines = []figure.Line{stair(r, f.X.To)}
	quick, slow := times(r)
	radius := func(s float64) float64 { return least + (most-least)*(s-quick)/max(slow-quick, 1e-9) }
	names := map[int]string{}
	for i, p := range r.Front {
		names[p.Candidate] = fmt.Sprintf("p%d", i+1)
	}
	var back, fore []figure.Dot
	for i, p := range r.Rigs {
		d := figure.Dot{X: p.Cost, Y: height(p), Radius: radius(p.Time), Label: names[p.Candidate], Stroke: figure.Thin}
		if d.Label != "" {
			d.Stroke = figure.Bold
		}
		if d.IsFull = i == 0; d.IsFull {
			d.Label = strings.TrimSuffix("1 = "+d.Label, " = ")
			back = append(back, figure.Dot{X: d.X, Y: d.Y, Radius: d.Radius + around, Stroke: figure.Thin})
		}
		if d.Label == "" {
			back = append(back, d)
		} else {
			fore = append(fore, d)
		}
	}
	f.Dots = append(back, fore...)
	f.Keys = []figure.Dot{{Label: "first of the list", Radius: least, IsFull: true}, {Label: "p: nowhere beaten in share, cost and time together", Radius: most, Stroke: figure.Bold},
		{Label: "beaten by another", Radius: most, Stroke: figure.Thin}, {Label: fmt.Sprintf("longest carry %.1f s", quick), Radius: least, Stroke: figure.Bold}}
	if slow > quick {
		f.Keys = append(f.Keys, figure.Dot{Label: fmt.Sprintf("longest carry %.1f s", slow), Radius: most, Stroke: figure.Bold})
	}
	return f
}

func bracketed(currency string) string {
	if currency == "" {
		return ""
	}
	return "(" + currency + ")"
}

// height is where a share of builds lies on the scale upwards: that of a normal
// distribution, on which even steps are standard deviations, so that 98, 99 and 99.9 in 100
// are told apart. A share of which all builds work lies on the topmost rung. Source: normal
// probability paper, NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.3.21 (from memory).
func height(p ranking.Rig) float64 {
	if p.Works >= 1 {
		return allWork
	}
	return max(lowest, min(probit(p.Works), allWork-1/mostLeft))
}

func probit(share float64) float64 { return math.Sqrt2 * math.Erfinv(2*share-1) }

// rungs are shares of builds that people name, within an extent.
func rungs(y figure.Extent) []figure.Rung {
	out := []figure.Rung{{Y: allWork, Name: "all"}}
	for _, share := range []float64{0.01, 0.1, 0.5, 0.8, 0.9, 0.95, 0.99, 0.995, 0.999} {
		if v := probit(share); v >= y.From {
			out = append(out, figure.Rung{Y: v, Name: strconv.FormatFloat(100*share, 'g', 3, 64)})
		}
	}
	return out
}

// extents leave room around all marks.
func extents(r *ranking.Ranking) (x, y figure.Extent) {
	x = figure.Extent{From: math.Inf(1), To: math.Inf(-1)}
	low := probit(highestFloor)
	for _, p := range r.Rigs {
		x.From, x.To = min(x.From, p.Cost), max(x.To, p.Cost)
		low = min(low, height(p))
	}
	wide := max(x.To-x.From, 1)
	x.From, x.To = x.From-room*wide, x.To+room*wide
	high := allWork - low
	return x, figure.Extent{From: low - room*high, To: allWork + room*high}
}

func times(r *ranking.Ranking) (quick, slow float64) {
	quick, slow = math.Inf(1), math.Inf(-1)
	for _, p := range r.Rigs {
		quick, slow = min(quick, p.Time), max(slow, p.Time)
	}
	return quick, slow
}

// stair is what share can be had for what cost.
func stair(r *ranking.Ranking, to float64) figure.Line {
	l := figure.Line{Name: "the most that can be had for that cost", Stroke: figure.Dashed}
	best := math.Inf(-1)
	for _, p := range r.Front {
		if v := height(p); v > best {
			if len(l.X) > 0 {
				l.X, l.Y = append(l.X, p.Cost), append(l.Y, best)
			}
			l.X, l.Y = append(l.X, p.Cost), append(l.Y, v)
			best = v
		}
	}
	l.X, l.Y = append(l.X, to), append(l.Y, best)
	return l
}

// CSV is a table of all rigs of which builds were drawn, best first.
func CSV(r *ranking.Ranking, currency string) string {
	var b strings.Builder
	w := csv.NewWriter(&b)
	head := []string{"rank", "front", "candidate", "works_share", "works_error", "builds", "reserve_sigmas", "limit", "cost", "currency", "longest_carry_s", "warns"}
	if len(r.Rigs) > 0 {
		for _, p := range r.Rigs[0].Parts {
			head = append(head, p.Place)
		}
	}
	_ = w.Write(append(head, "set"))
	number := func(v float64) string { return strconv.FormatFloat(v, 'g', 6, 64) }
	for i, p := range r.Rigs {
		row := []string{strconv.Itoa(i + 1), nameOf(r, p), strconv.Itoa(p.Candidate), number(p.Works), number(p.Error), strconv.Itoa(p.Builds), number(p.Reserve), p.Limit,
			strconv.FormatFloat(p.Cost, 'f', 2, 64), currency, number(p.Time), strings.Join(p.Warns, " ")}
		for _, part := range p.Parts {
			row = append(row, part.Name)
		}
		var set []string
		for _, s := range p.Set {
			set = append(set, s.Key+" = "+s.Value)
		}
		_ = w.Write(append(row, strings.Join(set, "; ")))
	}
	w.Flush()
	return b.String()
}

// nameOf is the name that a rig has in the front, or nothing.
func nameOf(r *ranking.Ranking, a ranking.Rig) string {
	for i, p := range r.Front {
		if p.Candidate == a.Candidate {
			return fmt.Sprintf("p%d", i+1)
		}
	}
	return ""
}
