// SPDX-License-Identifier: Apache-2.0

package table

import (
	"slices"
	"strings"
	"testing"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/table/journal"
	"boardhand/internal/table/places"
	"boardhand/internal/table/wording"
)

// startPlaces are the pieces of the start after White's first move.
func startPlaces() map[string]string {
	out, pos := map[string]string{}, chess.Start()
	for q := chess.Square(0); q < 64; q++ {
		if piece := pos.At(q); piece != chess.NoPiece {
			out[q.String()] = string(piece.Letter())
		}
	}
	out["e4"] = out["e2"]
	delete(out, "e2")
	return out
}

// Who was pushed over the line of their square is asked for at once, and once:
// what a person calls right is not asked about again.
func TestWhoWasPushedOverTheLineIsAskedFor(t *testing.T) {
	said := "The white rook was pushed over the line: please set it in the middle of a1."
	for name, c := range map[string]struct {
		shoved map[string]int
		right  int // the picture at which a person says that it is right
		want   int
	}{
		"pushed":        {map[string]int{"a1": 5}, 7, 1},
		"always so":     {map[string]int{"a1": 1}, 0, 0},
		"nobody pushed": {nil, 0, 0},
	} {
		t.Run(name, func(t *testing.T) {
			p := &paper{places: startPlaces(), shoved: c.shoved, player: []string{"e7e5"}, requests: map[int]journal.Request{}, script: slices.Concat(
				[]string{"same", "same", "move e2e4", "move e2e4"}, slices.Repeat([]string{"move e7e5"}, 2+3*min(c.right, 1)), []string{"same", "same"})}
			if c.right > 0 {
				p.requests[c.right] = journal.Request{Kind: journal.RequestRight}
			}
			_ = p.run(t, "", "")
			asked := 0
			for _, text := range p.said {
				if text == said {
					asked++
				}
			}
			if asked != c.want {
				t.Errorf("asked %d times, want %d: %q", asked, c.want, p.said)
			}
			if len(p.table.Game().Moves) < 2 {
				t.Errorf("the machine's move was not made: %q", p.said)
			}
		})
	}
}

// A piece that was pushed half out of its slot is asked back; one that there is
// no room for in the middle stays with the person who says so.
func TestPushedOutOfItsSlot(t *testing.T) {
	s, err := places.ParseStanding("4k3/8/8/3p4/4P3/8/8/4K3 p@slot1")
	if err != nil {
		t.Fatal(err)
	}
	at := trayPlaces("e4")
	at["slot1"] = "p"
	for name, c := range map[string]struct {
		aside float64
		want  string
		asked bool
	}{"in it": {0.002, "p@slot1", false}, "half out of it": {0.012, "p@person", true}} {
		p := &paper{slots: slot, past: journal.Past{Standing: &s}, player: []string{"d5d4"}, places: at, aside: c.aside,
			requests: map[int]journal.Request{9: {Kind: journal.RequestRight}},
			script:   slices.Concat([]string{"same", "same", "move e1d1", "move e1d1", "move d5d4", "move d5d4"}, slices.Repeat([]string{"same"}, 6))}
		_ = p.run(t, "4k3/8/8/3p4/4P3/8/8/4K3 w - - 0 1", "")
		if got := slices.Contains(p.said, "Please put the black pawn back into slot R1."); got != c.asked {
			t.Errorf("%s: asked back %v: %q", name, got, p.said)
		}
		if got := p.table.Standing(); !strings.Contains(got.String(), c.want) {
			t.Errorf("%s: the pieces are kept at %s", name, got.String())
		}
	}
}

// A piece that was taken out of its slot, into which another has come since, is asked
// for to stand in one that is free; where there is none it stays with the person.
func TestTakenFromASlotThatIsHeldSince(t *testing.T) {
	s, err := places.ParseStanding("4k3/8/8/3p4/4P3/8/8/4K3 p@slot2 n@person")
	if err != nil {
		t.Fatal(err)
	}
	row := []frame.Spot[frame.Board]{slot[0], slot[0].Add(frame.Spot[frame.Board]{Y: 0.1})}
	at := trayPlaces("e4")
	at["slot2"] = "p"
	for name, carried := range map[string][2]bool{"another is free": {false, true}, "none is for it": {true, false}} {
		p := &paper{slots: row, past: journal.Past{Standing: &s}, places: at, carried: carried, script: []string{"same", "same", "same"}}
		p.before = func() {
			p.table.kit.m.Taken = []places.Beside{{Piece: chess.MakePiece(chess.Black, chess.Knight), Place: places.Slot + 1}}
		}
		_ = p.run(t, "4k3/8/8/3p4/4P3/8/8/4K3 w - - 0 1", "")
		isAsked := slices.ContainsFunc(p.said, func(text string) bool { return strings.HasPrefix(text, "Please put the black knight") })
		if isAsked != carried[chess.Black] || isAsked && !slices.Contains(p.said, "Please put the black knight back into slot L1.") {
			t.Errorf("%s: %q", name, p.said)
		}
		if got := p.table.Standing(); !strings.Contains(got.String(), "p@slot2") {
			t.Errorf("%s: the pieces are kept at %s", name, got.String())
		}
	}
}

// Pieces side by side that push one another out are not asked back, since they have
// no room there: it is said once, and no slot beside them is offered any more.
func TestTrayTooNarrow(t *testing.T) {
	s, err := places.ParseStanding("4k3/8/8/3p4/4P3/8/8/4K3 p@slot1 p@slot2")
	if err != nil {
		t.Fatal(err)
	}
	at := trayPlaces("e4")
	at["slot1"], at["slot2"] = "p", "p"
	row := []frame.Spot[frame.Board]{slot[0], slot[0].Add(frame.Spot[frame.Board]{Y: 0.021}), slot[0].Add(frame.Spot[frame.Board]{Y: 0.042}), slot[0].Add(frame.Spot[frame.Board]{Y: 0.063})}
	p := &paper{slots: row, past: journal.Past{Standing: &s}, player: []string{"d5d4"}, places: at, aside: 0.009,
		script: slices.Concat([]string{"same", "same", "move e1d1", "move e1d1", "move d5d4", "move d5d4"}, slices.Repeat([]string{"same"}, 6))}
	_ = p.run(t, "4k3/8/8/3p4/4P3/8/8/4K3 w - - 0 1", "")
	told := 0
	for _, text := range p.said {
		if strings.HasPrefix(text, wording.NarrowTray) {
			told++
		}
		if strings.HasPrefix(text, "Please put") {
			t.Errorf("asked for what no hand can do: %q", text)
		}
	}
	if told != 1 {
		t.Errorf("told %d times: %q", told, p.said)
	}
	if got := p.table.Standing(); !strings.HasSuffix(got.String(), "p@person p@person") {
		t.Errorf("the pieces are kept at %s", got.String())
	}
}

// The piece has come to its goal and somebody beside the way was pushed, which no
// move explains: that one is asked for, and nobody is fetched.
func TestWhoWasPushedIsNotFetched(t *testing.T) {
	at := startPlaces()
	at["e5"] = at["e7"]
	delete(at, "e7")
	p := &paper{places: at, shoved: map[string]int{"a1": 5}, player: []string{"e7e5"}, requests: map[int]journal.Request{8: {Kind: journal.RequestRight}}, script: slices.Concat(
		[]string{"same", "same", "move e2e4", "move e2e4", "slipped a1,e5,e7", "slipped a1,e5,e7"}, slices.Repeat([]string{"move e7e5"}, 4), []string{"same", "same"})}
	_ = p.run(t, "", "")
	p.says(t, "The white rook was pushed over the line: please set it in the middle of a1.")
	if got := p.did(); got != "home move up move down" {
		t.Errorf("the machine did %q", got)
	}
	if len(p.table.Game().Moves) < 2 {
		t.Errorf("the machine's move was not made: %q", p.said)
	}
}
