// SPDX-License-Identifier: Apache-2.0

package carry

import (
	"context"
	"encoding/xml"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"boardhand/internal/rig"
)

// The drawing is well-formed and says what the plan does. With
// BOARDHAND_DRAWINGS=DIR the drawings are kept to be looked at.
func TestDrawing(t *testing.T) {
	rnd := seeded(t, 9)
	for _, c := range []struct{ name, fen, move, want string }{
		{"knight", "r1bqkbnr/pppp1ppp/2n5/4p3/4P3/5N2/PPPP1PPP/RNBQKB1R b KQkq - 0 3", "g8f6", "carry black knight g8–f6"},
		{"castle", "r3k2r/pppq1ppp/2npbn2/2b1p3/4P3/2NPBN2/PPPQ1PPP/R3KB1R b KQkq - 0 8", "e8c8", "carry black rook a8–d8"},
		{"capture", "r1bqkbnr/pppp1ppp/2n5/4p3/3PP3/5N2/PPP2PPP/RNBQKB1R b KQkq - 0 3", "e5d4", "Please take the white pawn off d4."},
	} {
		p := planner(t, func(r *rig.Rig) {})
		pos := position(t, c.fen)
		m, err := pos.ParseUCI(c.move)
		if err != nil {
			t.Fatal(err)
		}
		s := p.scene(&pos, rnd, 0.10)
		plan, err := p.Move(context.Background(), s, pos, m)
		if err != nil {
			t.Fatal(err)
		}
		svg := p.SVG(s, plan)
		dec := xml.NewDecoder(strings.NewReader(string(svg)))
		for {
			if _, err := dec.Token(); err == io.EOF {
				break
			} else if err != nil {
				t.Fatalf("%s: %v", c.name, err)
			}
		}
		flat := strings.ReplaceAll(string(svg), "</text>", " ")
		if !strings.Contains(flat, c.want) {
			t.Errorf("%s: the drawing does not say %q", c.name, c.want)
		}
		if dir := os.Getenv("BOARDHAND_DRAWINGS"); dir != "" {
			if err := os.WriteFile(filepath.Join(dir, c.name+".svg"), svg, 0o644); err != nil {
				t.Fatal(err)
			}
		}
	}
}

// A list too long for the sheet is cut: what a person is asked for stands at its head, and
// slots have their names.
func TestDrawingListsRequestsFirst(t *testing.T) {
	p := planner(t, withTrays)
	pos := position(t, "rnbqkbnr/pppppppp/3Q4/3Q4/8/8/PPPPPPP1/RNB1KBNR w KQkq - 0 1")
	s := p.scene(&pos, nil, 0)
	made, _, err := p.SetUp(context.Background(), s)
	if err != nil {
		t.Fatal(err)
	}
	svg := string(p.SVG(s, made))
	ask, first := strings.Index(svg, "Please put the white pawn on h2."), strings.Index(svg, "1 travel")
	if ask < 0 || first < ask || !strings.Contains(svg, ">L16<") || !strings.Contains(svg, "white queen d6–L") {
		t.Errorf("asked at %d, the first step at %d, in\n%s", ask, first, svg)
	}
}
