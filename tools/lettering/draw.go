// SPDX-License-Identifier: Apache-2.0

package main

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strconv"
	"strings"
)

const (
	lineUnits  = 64.0        // font units a line width of the stroke table
	bearing    = 1.1         // line widths beside the ink's centre line, each side
	wordSpace  = 4.4         // advance of a space, line widths
	figure     = 5.2         // digits all share this width, so that columns line up
	mostTurned = 360.0       // degrees of an arc
	arcStep    = 12.0        // degrees a chord: 0.5 % of the radius inside the arc
	kink       = math.Pi / 6 // a sharper corner than 30° is joined round, not mitred
)

// vertex is a point of a centre line or outline, in line widths.
type vertex struct{ x, y float64 }

// letter is one drawn letter.
type letter struct {
	char    rune
	advance float64
	rings   [][]vertex // outlines, all turning the same way: filled by winding number
}

// letters draws every letter of the table with a pen that many line widths wide.
func letters(pen float64) ([]letter, error) {
	out := []letter{{char: ' ', advance: wordSpace}, {char: '\u00a0', advance: wordSpace}}
	for _, table := range []map[rune]string{capitals, digits, smalls, signs} {
		for _, c := range slices.Sorted(maps.Keys(table)) {
			lines, err := centreLines(table[c])
			if err != nil {
				return nil, fmt.Errorf("letter %q: %w", c, err)
			}
			out = append(out, draw(c, lines, pen))
		}
	}
	slices.SortFunc(out, func(a, b letter) int { return int(a.char) - int(b.char) })
	return out, nil
}

// draw sets the centre lines between their bearings and inks them.
func draw(c rune, lines [][]vertex, pen float64) letter {
	left, right := math.Inf(1), math.Inf(-1)
	for _, l := range lines {
		for _, v := range l {
			left, right = min(left, v.x), max(right, v.x)
		}
	}
	if c >= '0' && c <= '9' {
		left, right = 0, figure
	}
	out := letter{char: c, advance: right - left + 2*bearing}
	for _, l := range lines {
		for i := range l {
			l[i].x += bearing - left
		}
		for _, smooth := range splitAtKinks(l) {
			out.rings = append(out.rings, ink(smooth, pen/2))
		}
	}
	return out
}

// centreLines reads one entry of the stroke table.
func centreLines(text string) ([][]vertex, error) {
	var out [][]vertex
	for stroke := range strings.SplitSeq(text, ";") {
		var line []vertex
		for _, word := range strings.Fields(stroke) {
			numbers, err := floats(strings.Trim(word, "()"))
			if err != nil {
				return nil, err
			}
			line = append(line, along(numbers)...)
		}
		if len(line) < 2 {
			return nil, fmt.Errorf("stroke %q has fewer than two points", stroke)
		}
		out = append(out, line)
	}
	return out, nil
}

func floats(text string) ([]float64, error) {
	var out []float64
	for f := range strings.SplitSeq(text, ",") {
		v, err := strconv.ParseFloat(f, 64)
		if err != nil {
			return nil, err
		}
		out = append(out, v)
	}
	if n := len(out); n != 2 && n != 5 && n != 6 {
		return nil, fmt.Errorf("%q is neither x,y nor an arc", text)
	} else if n > 2 && !(math.Abs(out[n-1]-out[n-2]) <= mostTurned) {
		return nil, fmt.Errorf("%q is an arc of more than a turn", text)
	}
	return out, nil
}

// along returns a point, or the chords of an arc.
func along(n []float64) []vertex {
	if len(n) == 2 {
		return []vertex{{n[0], n[1]}}
	}
	if len(n) == 5 {
		n = []float64{n[0], n[1], n[2], n[2], n[3], n[4]}
	}
	count := int(math.Ceil(math.Abs(n[5]-n[4]) / arcStep))
	out := make([]vertex, count+1)
	for i := range out {
		a := (n[4] + (n[5]-n[4])*float64(i)/float64(count)) * math.Pi / 180
		out[i] = vertex{n[0] + n[2]*math.Cos(a), n[1] + n[3]*math.Sin(a)}
	}
	return out
}

// splitAtKinks cuts a centre line where it turns sharply and drops points
// that coincide.
func splitAtKinks(line []vertex) [][]vertex {
	run := []vertex{line[0]}
	var out [][]vertex
	for _, v := range line[1:] {
		last := run[len(run)-1]
		if math.Hypot(v.x-last.x, v.y-last.y) < 1e-6 { // rounding of arc ends
			continue
		}
		if n := len(run); n > 1 && bend(run[n-2], last, v) > kink {
			out = append(out, run)
			run = []vertex{last}
		}
		run = append(run, v)
	}
	return append(out, run)
}

// bend is the angle by which the way a-b-c turns, radians, 0 to π.
func bend(a, b, c vertex) float64 {
	ux, uy, vx, vy := b.x-a.x, b.y-a.y, c.x-b.x, c.y-b.y
	return math.Abs(math.Atan2(ux*vy-uy*vx, ux*vx+uy*vy))
}

// ink is the outline that a round pen of radius r leaves along the line.
func ink(line []vertex, r float64) []vertex {
	var ring []vertex
	n := len(line)
	for i := range line {
		a := heading(line, i)
		ring = append(ring, vertex{line[i].x + r*math.Sin(a), line[i].y - r*math.Cos(a)})
	}
	ring = append(ring, turnAround(line[n-1], heading(line, n-1)-math.Pi/2, r)...)
	for i := n - 1; i >= 0; i-- {
		a := heading(line, i)
		ring = append(ring, vertex{line[i].x - r*math.Sin(a), line[i].y + r*math.Cos(a)})
	}
	return append(ring, turnAround(line[0], heading(line, 0)+math.Pi/2, r)...)
}

// heading is the direction of the line at point i, radians.
func heading(line []vertex, i int) float64 {
	from, to := line[max(i-1, 0)], line[min(i+1, len(line)-1)]
	return math.Atan2(to.y-from.y, to.x-from.x)
}

// turnAround is the inside of a half circle about c that starts at angle a.
func turnAround(c vertex, a, r float64) []vertex {
	const chords = 8 // of a round end: 2 % of half a line's width
	var out []vertex
	for i := 1; i < chords; i++ {
		t := a + math.Pi*float64(i)/chords
		out = append(out, vertex{c.x + r*math.Cos(t), c.y + r*math.Sin(t)})
	}
	return out
}
