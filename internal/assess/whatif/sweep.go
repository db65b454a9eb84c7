// SPDX-License-Identifier: Apache-2.0

package whatif

import (
	"context"
	"encoding/csv"
	"io"
	"slices"
	"strconv"

	"boardhand/internal/assess"
	"boardhand/internal/rig"
)

// Point is the judgement of a rig at one value of the swept key.
type Point struct {
	Value   string         `json:"value"`
	Refused string         `json:"refused,omitempty"` // why the rig cannot be so; then there are no checks
	Verdict assess.Verdict `json:"verdict,omitempty"`
	Checks  []assess.Check `json:"checks,omitempty"` // in the machine's own order
}

// AnyJudged says whether any value of a sweep made a rig.
func AnyJudged(points []Point) bool {
	return slices.ContainsFunc(points, func(p Point) bool { return p.Refused == "" })
}

// Tightest is the line that has the least of its limit left; nil of a refused rig.
func (p Point) Tightest() *assess.Check {
	var out *assess.Check
	for i, c := range p.Checks {
		if c.Applies() && !c.Cautions() && (out == nil || c.Share < out.Share) {
			out = &p.Checks[i]
		}
	}
	return out
}

// Off are the lines that do not pass, without cautions and what is accepted.
func (p Point) Off(v assess.Verdict) (ids []string) {
	for _, c := range p.Checks {
		if c.Counts() == v {
			ids = append(ids, c.ID)
		}
	}
	return ids
}

// Sweep judges the rig of a file's text at each value of a key, other settings
// made before.
func Sweep(ctx context.Context, path string, data []byte, set []rig.Setting, by rig.Sweep) ([]Point, error) {
	var out []Point
	for i := range by.Values {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		s := by.Setting(i)
		p := Point{Value: s.Value}
		if r, err := rig.Set(path, data, append(set[:len(set):len(set)], s), rig.Machine); err != nil {
			p.Refused = err.Error()
		} else {
			p.Checks = assess.JudgeAccepted(r)
			p.Verdict = assess.Worst(p.Checks)
		}
		out = append(out, p)
	}
	return out, nil
}

// CSV writes a row a value: the verdict, the tightest line, then of each line its
// value in the unit of the head, its margin as a share of the limit, its verdict.
func CSV(w io.Writer, by rig.Sweep, points []Point) error {
	c := csv.NewWriter(w)
	var lines []assess.Check
	for _, p := range points {
		if len(p.Checks) > 0 {
			lines = p.Checks
			break
		}
	}
	key := by.Key
	if by.Unit != "" {
		key += " [" + by.Unit + "]"
	}
	head := []string{key, "verdict", "tightest", "its margin share", "refused"}
	for _, l := range lines {
		head = append(head, l.ID+" ["+l.Unit+"]", l.ID+" margin share", l.ID+" verdict")
	}
	_ = c.Write(head) // Error below tells
	for i, p := range points {
		row := []string{decimal(by.Values[i]), string(p.Verdict), "", "", p.Refused}
		if t := p.Tightest(); t != nil {
			row[2], row[3] = t.ID, decimal(t.Share)
		}
		if p.Refused != "" {
			row = append(row, make([]string, len(head)-len(row))...)
		}
		for _, l := range p.Checks {
			if !l.Applies() {
				row = append(row, "", "", string(l.Verdict))
				continue
			}
			row = append(row, decimal(l.Value), decimal(l.Share), string(l.Verdict))
		}
		_ = c.Write(row)
	}
	c.Flush()
	return c.Error()
}

func decimal(v float64) string { return strconv.FormatFloat(v, 'g', 6, 64) }
