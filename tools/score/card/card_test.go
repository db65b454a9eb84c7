// SPDX-License-Identifier: Apache-2.0

package card

import (
	"path/filepath"
	"reflect"
	"strings"
	"testing"
)

// some is a card with all figures set.
func some() Card {
	r := Row{Name: "gate06", Pictures: 14, Moves: Count{5, 6}, Wrong: 1, Asked: Count{2, 11}, Still: Count{3, 3},
		Hands: Count{2, 2}, Odd: Count{3, 3}, Surprise: 0.0512, Median: 0.25, Most: 1.125, Sigmas: 1.5, CPU: 212, Lead: 40, Left: 12.5, Cover: 5000, View: 0.125}
	r.Beliefs[6], r.Beliefs[2] = Count{10, 10}, Count{1, 2}
	s := r
	s.Name = "total"
	return Card{r, s}
}

// TestTableThereAndBack: what is written is read again, among other text.
func TestTableThereAndBack(t *testing.T) {
	got, err := Parse("# Head\n\nsome | words\n\n" + some().String() + "\nmore\n")
	if err != nil || !reflect.DeepEqual(got, some()) {
		t.Errorf("%v\nread as %+v, %v", some(), got, err)
	}
	for _, bad := range []string{"| a | b |", strings.Replace(some().String(), "5/6", "five", 1)} {
		if _, err := Parse(bad); err == nil || !strings.Contains(err.Error(), "make score-accept") {
			t.Errorf("%q: %v", bad, err)
		}
	}
}

// TestFileThereAndBack: what Save writes, Load reads.
func TestFileThereAndBack(t *testing.T) {
	r, path := Result{some(), []string{"a: hand"}}, filepath.Join(t.TempDir(), "card.json")
	if err := r.Save(path); err != nil {
		t.Fatal(err)
	}
	if got, err := Load(path); err != nil || !reflect.DeepEqual(got, r) {
		t.Errorf("%+v, %v", got, err)
	}
}

// TestCompare: each figure moved one way is worse, the other way better.
func TestCompare(t *testing.T) {
	cases := []struct {
		figure string
		change func(r *Row, by int)
		up     Verdict // what more means
	}{
		{"moves right", func(r *Row, by int) { r.Moves.Is += by }, Better},
		{"wrong", func(r *Row, by int) { r.Wrong += by }, Worse},
		{"asked", func(r *Row, by int) { r.Asked.Is += by }, Worse},
		{"nothing happened", func(r *Row, by int) { r.Still.Is += by }, Better},
		{"hands", func(r *Row, by int) { r.Hands.Is += by }, Better},
		{"odd states", func(r *Row, by int) { r.Odd.Is += by }, Better},
		{"errors", func(r *Row, by int) { r.Failed += by }, Worse},
		{"surprise", func(r *Row, by int) { r.Surprise *= 1 + 0.1*float64(by) }, Worse},
		{"median", func(r *Row, by int) { r.Median *= 1 + 0.1*float64(by) }, Worse},
		{"95 %, mm", func(r *Row, by int) { r.Most *= 1 + 0.1*float64(by) }, Worse},
		{"standard deviation", func(r *Row, by int) { r.Sigmas *= 1 + 0.1*float64(by) }, Better}, // 1.5 stays under 1.96
		{"view", func(r *Row, by int) { r.View *= 1 + 0.1*float64(by) }, Worse},
		{"lead", func(r *Row, by int) { r.Lead *= 1 + 0.1*float64(by) }, Other},
		{"unexplained", func(r *Row, by int) { r.Left *= 1 + 0.1*float64(by) }, Other},
		{"hand, mm²", func(r *Row, by int) { r.Cover *= 1 + 0.1*float64(by) }, Other},
		{"beliefs from 0.8", func(r *Row, by int) { r.Beliefs[2].Is += by }, Other},
		{"pictures", func(r *Row, by int) { r.Pictures += by }, Other},
	}
	opposite := map[Verdict]Verdict{Better: Worse, Worse: Better, Other: Other}
	for _, c := range cases {
		for by, want := range map[int]Verdict{1: c.up, -1: opposite[c.up]} {
			is := some()
			c.change(&is[0], by)
			got := Compare(some(), is)
			if counted := strings.Contains("moves right wrong asked hands odd states nothing happened errors", c.figure); len(got) == 1 && got[0].Counted != counted {
				t.Errorf("%s: counted is %v", c.figure, got[0].Counted)
			}
			if len(got) != 1 || got[0].Verdict != want || got[0].Row != "gate06" || !strings.Contains(got[0].Figure, c.figure) {
				t.Errorf("%s by %d: %v, want %s", c.figure, by, got, want)
			}
		}
	}
}

// TestCompareTolerates: rounding is no change, twice the time is none either,
// more is.
func TestCompareTolerates(t *testing.T) {
	is := some()
	is[0].Median, is[0].Most, is[0].Surprise, is[0].Sigmas, is[0].CPU = 0.252, 1.14, 0.0516, 1.52, 420
	if got := Compare(some(), is); len(got) > 0 {
		t.Errorf("%v", got)
	}
	is[0].CPU = 430
	if got := Compare(some(), is); len(got) != 1 || got[0].Verdict != Worse {
		t.Errorf("%v", got)
	}
}

// TestCompareRows: a row that is gone is worse, a new one is neither.
func TestCompareRows(t *testing.T) {
	if got := Compare(some(), some()[:1]); len(got) != 1 || got[0].Verdict != Worse {
		t.Errorf("%v", got)
	}
	if got := Compare(some()[:1], some()); len(got) != 1 || got[0].Verdict != Other {
		t.Errorf("%v", got)
	}
	more := some()
	more[1].Pictures, more[1].Moves, more[1].Median = 20, Count{7, 9}, 3
	if got := Compare(some(), more); len(got) != 1 || got[0].Verdict != Other || got[0].Row != "total" {
		t.Errorf("other pictures: %v", got)
	}
	if got := some().Only([]string{"total", "none"}); len(got) != 1 || got[0].Name != "total" {
		t.Errorf("%v", got)
	}
}

// TestJudge: the sentence says what to do, and names picture and figure.
func TestJudge(t *testing.T) {
	was := Result{some(), []string{"g/1 start: same", "g/2 quiet e2e4: move e2e4", "g/3 hand: hand"}}
	if got := Judge(was, was); got != "" {
		t.Errorf("nothing changed: %q", got)
	}
	is := Result{some(), []string{"g/1 start: same", "g/2 quiet e2e4: unsure", "g/4 hand: hand"}}
	is.Card[0].Moves.Is--
	got := Judge(was, is)
	for _, want := range []string{"worse than its scorecard", "gate06: moves right was 5 of 6, is 4 of 6: worse",
		"g/2 quiet e2e4: move e2e4, now unsure", "g/4 hand: new, hand", "g/3 hand: no longer there", "make score-accept"} {
		if !strings.Contains(got, want) {
			t.Errorf("%q is not in\n%s", want, got)
		}
	}
	if got := Judge(is, was); !strings.HasPrefix(got, "the reader has become better") {
		t.Errorf("%s", got)
	}
	if got := Judge(was, Result{was.Card, is.Readings}); !strings.HasPrefix(got, "the reader reads otherwise") {
		t.Errorf("%s", got)
	}
}
