// SPDX-License-Identifier: Apache-2.0

package diagnosis

import (
	"strings"
	"testing"
)

// Every cause has one thing to say, with the part and what to do.
func TestEveryCauseHasASentence(t *testing.T) {
	c, p := newCase(t), Piece{"g8", "knight", "black"}
	seen := map[string]Cause{}
	for _, cause := range Causes() {
		f := Finding{Cause: cause, Value: 0.009, Sigma: 0.001}
		switch cause {
		case MagnetFlipped, MagnetMissing, MagnetOffCentre:
			f.Piece = p.ID
		case AxisOverdriven, AxesScaleWrong:
			f.Axis = "y"
		case StickyPlace:
			f.Place = Spot{X: 0.021, Y: -0.018}
		}
		text := c.sentence(f, p)
		if text == "" || !strings.HasSuffix(text, ".") || strings.Contains(text, "%!") || seen[text] != "" {
			t.Errorf("%s: %q", cause, text)
		}
		seen[text] = cause
		for _, word := range map[Cause][]string{MagnetMissing: {"black knight of g8"}, AxesScaleWrong: {"Axis y", "0.90 %", "farther"},
			AxesOutOfSquare: {"89.48° ± 0.06°"}, StickyPlace: {"near e4"}, MagnetOffCentre: {"9.0 mm"}, AxisOverdriven: {"axis.y.speed"}}[cause] {
			if !strings.Contains(text, word) {
				t.Errorf("%s: %q does not say %q", cause, text, word)
			}
		}
	}
}

func TestNames(t *testing.T) {
	for _, c := range []struct {
		piece Piece
		want  string
	}{{Piece{"g8", "knight", "black"}, "black knight of g8"}, {Piece{"g8 knight", "knight", "black"}, "black knight of g8"}, {Piece{Kind: "pawn", Side: "white"}, "white pawn"}} {
		if got := c.piece.Name(); got != c.want {
			t.Errorf("%+v is called %q", c.piece, got)
		}
	}
}
