// SPDX-License-Identifier: Apache-2.0

package rehearsal

import (
	"math"
	"testing"

	"boardhand/internal/chess"
	"boardhand/internal/diagnosis"
	"boardhand/internal/table/journal"
	"boardhand/internal/twin"
)

// Without anything known beforehand the standard error of a slope is that of every textbook
// on linear regression: scatter over the root of the summed squares of the places. The axis
// that leans moves x in proportion to y; places in a cross leave the other coefficients
// nothing to do with it. What is known beforehand of shift and turn can only narrow it.
func TestErrorOfIsThatOfALine(t *testing.T) {
	was := usual
	defer func() { usual = was }()
	for k := range usual {
		usual[k] = 1e3 // nothing is known
	}
	var cross []goal
	sum := 0.0
	for _, v := range []float64{-0.12, -0.04, 0.04, 0.12} {
		cross = append(cross, goal{at: diagnosis.Spot{Y: v}})
		sum += v * v
	}
	if got, want := errorOf(cross, scaleY), scatter/math.Sqrt(sum); math.Abs(got/want-1) > 1e-6 {
		t.Errorf("a scale is known to %.3g, by the textbook to %.3g", got, want)
	}
	if got := errorOf(cross, leans); got < 1 {
		t.Errorf("places in one line do not tell leaning from turning: known to %.3g", got)
	}
	for _, v := range []float64{-0.12, -0.04, 0.04, 0.12} {
		cross = append(cross, goal{at: diagnosis.Spot{X: v}})
	}
	free := errorOf(cross, leans)
	if want := scatter * math.Sqrt(2/sum); math.Abs(free/want-1) > 1e-6 { // the turn is known from one arm of the cross, and leaning less it
		t.Errorf("leaning is known to %.3g, by the textbook to %.3g", free, want)
	}
	usual = was
	if known := errorOf(cross, leans); known >= free {
		t.Errorf("leaning is known to %.3g, and to %.3g where nothing else is known", known, free)
	}
}

// A fault counts when an observer could have told it, whether the machine has or not.
func TestOnlyWhatHasShownItselfCounts(t *testing.T) {
	skewed := twin.AtFault{Fault: twin.AxesSkewed, Skew: 8.7e-3, Origin: chess.NoSquare, Shown: 99}
	var row, board []goal
	for i := range 40 {
		x, y := 0.04*(float64(i%8)-3.5), 0.04*(float64(i/8)-2)
		row = append(row, goal{at: diagnosis.Spot{X: x, Y: 0.06}})
		board = append(board, goal{at: diagnosis.Spot{X: x, Y: y}})
	}
	flipped := twin.AtFault{Fault: twin.MagnetFlipped, Origin: chess.SquareAt(1, 7), Shown: 1}
	for name, c := range map[string]struct {
		fault twin.AtFault
		goals []goal
		want  bool
	}{
		"one rank tells no angle": {skewed, row, false},
		"a board full does":       {skewed, board, true},
		"one throw is chance":     {flipped, nil, false},
		"one piece left behind":   {twin.AtFault{Fault: twin.LiftStaysDown, Shown: 5, Pieces: 1}, nil, false},
		"two pieces left behind":  {twin.AtFault{Fault: twin.LiftStaysDown, Shown: 3, Pieces: 2}, nil, true},
	} {
		var tally Tally
		tally.count([]twin.AtFault{c.fault}, c.goals, []journal.Record{})
		if got := tally.AtFault == 1 && tally.Unshown == 0; got != c.want {
			t.Errorf("%s: at fault %d, unshown %d", name, tally.AtFault, tally.Unshown)
		}
	}
	flipped.Shown = shownByOne
	var tally Tally
	tally.count([]twin.AtFault{flipped}, nil, []journal.Record{{Cause: string(diagnosis.MagnetFlipped), Origin: "b8"}})
	if tally.AtFault != 1 || tally.Named != 1 {
		t.Errorf("two throws, and the piece is named: %+v", tally)
	}
}
