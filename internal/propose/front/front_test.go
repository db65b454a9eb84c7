// SPDX-License-Identifier: Apache-2.0

package front

import (
	"encoding/csv"
	"encoding/xml"
	"errors"
	"io"
	"math"
	"strconv"
	"strings"
	"testing"

	"boardhand/internal/assess"
	"boardhand/internal/propose"
	"boardhand/internal/propose/ranking"
)

func sample() *ranking.Ranking {
	part := func(name string) []propose.Part { return []propose.Part{{Place: "sheet", Name: name}} }
	sure := ranking.Rig{Candidate: 7, Parts: part(`ply "birch", 4 mm`), Works: 1, Builds: 2000, Cost: 31.5, Time: 4.2, Limit: "drag.settle", Reserve: 3.1,
		Set: []assess.Setting{{Key: "board.square", Value: `"44 mm"`}}}
	cheap := ranking.Rig{Candidate: 3, Parts: part("card"), Works: 0.985, Builds: 300, Cost: 4, Time: 5.8}
	beaten := ranking.Rig{Candidate: 9, Parts: part("card"), Works: 0.97, Builds: 300, Cost: 18, Time: 5}
	return &ranking.Ranking{Rigs: []ranking.Rig{sure, cheap, beaten}, Front: []ranking.Rig{cheap, sure}}
}

// The table reads back by the standard library's reader (RFC 4180): a line for each rig, with
// its place in list and front.
func TestCSV(t *testing.T) {
	rows, err := csv.NewReader(strings.NewReader(CSV(sample(), "EUR"))).ReadAll()
	if err != nil || len(rows) != 4 {
		t.Fatalf("%d rows: %v", len(rows), err)
	}
	at := map[string]int{}
	for i, name := range rows[0] {
		at[name] = i
	}
	for name, want := range map[string]string{"rank": "1", "front": "p2", "candidate": "7", "works_share": "1", "cost": "31.50", "currency": "EUR", "longest_carry_s": "4.2",
		"limit": "drag.settle", "sheet": `ply "birch", 4 mm`, "set": `board.square = "44 mm"`} {
		if got := rows[1][at[name]]; got != want {
			t.Errorf("%s is %q, want %q", name, got, want)
		}
	}
	if rows[2][at["front"]] != "p1" || rows[3][at["front"]] != "" {
		t.Errorf("the front is %q and %q", rows[2][at["front"]], rows[3][at["front"]])
	}
}

// The picture is XML; surer rigs lie higher, dearer ones farther right, slower ones are larger.
func TestSVG(t *testing.T) {
	f := plot(sample(), "EUR")
	if len(f.Dots) != 4 { // the first has a ring around it
		t.Fatalf("%d marks", len(f.Dots))
	}
	mark := map[string]int{}
	for i, d := range f.Dots {
		if d.Label != "" {
			mark[d.Label] = i
		}
	}
	sure, cheap := f.Dots[mark["1 = p2"]], f.Dots[mark["p1"]]
	if !(sure.Y > cheap.Y && sure.X > cheap.X && sure.Radius < cheap.Radius && sure.IsFull && !cheap.IsFull) {
		t.Errorf("first %+v, cheapest %+v", sure, cheap)
	}
	text := SVG(sample(), "EUR")
	d := xml.NewDecoder(strings.NewReader(text))
	for {
		if _, err := d.Token(); errors.Is(err, io.EOF) {
			break
		} else if err != nil {
			t.Fatal(err)
		}
	}
	for _, want := range []string{">p1<", ">1 = p2<", ">cost (EUR)<", ">99<", "longest carry 5.8 s"} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is not written", want)
		}
	}
	if got := SVG(&ranking.Ranking{}, ""); !strings.Contains(got, "</svg>") {
		t.Error("nothing found makes no picture")
	}
}

// Heights are those of the table of the normal distribution: 0.9772 lies two standard
// deviations up (NIST/SEMATECH e-Handbook, 1.3.6.7.1).
func TestHeights(t *testing.T) {
	for share, want := range map[float64]float64{0.5: 0, 0.84134: 1, 0.97725: 2, 0.99865: 3} {
		if got := height(ranking.Rig{Works: share}); math.Abs(got-want) > 1e-4 {
			t.Errorf("%g lies at %g, want %g", share, got, want)
		}
	}
	last := math.Inf(-1)
	for _, share := range []float64{0, 0.3, 0.9, 0.99, 0.9995, 1} {
		if got := height(ranking.Rig{Works: share}); got <= last {
			t.Errorf("%s lies no higher than less", strconv.FormatFloat(share, 'g', -1, 64))
		} else {
			last = got
		}
	}
}
