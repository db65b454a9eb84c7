// SPDX-License-Identifier: Apache-2.0

package diagnosis_test

import (
	"context"
	"fmt"
	"maps"
	"os"
	"slices"
	"strings"
	"testing"

	"boardhand/internal/chess"
	"boardhand/internal/diagnosis"
	"boardhand/internal/twin"
)

// retry brings a piece on that did not come to the end of its move, as the table does:
// once more from where it stands.
func (b *bench) retry(who diagnosis.Piece, to chess.Square) {
	b.t.Helper()
	before := b.look()
	is, seen := before[who]
	if !seen || is.Fallen || is.At.Distance(b.planner.Centre(to)) < 0.25*float64(b.rig.Board.Square) {
		return
	}
	sc := b.scene(before)
	i := slices.IndexFunc(b.pieces, func(p diagnosis.Piece) bool { return p == who })
	made, err := b.planner.Straighten(context.Background(), sc, i, to)
	if err != nil || made.Asks() > 0 {
		return
	}
	var did []diagnosis.Motion
	for _, s := range made.Steps {
		m := b.motion(s)
		if m.Act == diagnosis.Carry {
			m.Piece = who
		}
		did = append(did, m)
	}
	for _, s := range made.Steps {
		b.do(s)
	}
	for _, s := range b.watch.Observe(nil, did, before, b.look()) {
		b.file.Add(s)
	}
}

// evening plays so many moves of the machine as the table does, and lists all that was
// named on the way, with the carry at which it was.
func (b *bench) evening(carries int) map[string]int {
	b.t.Helper()
	said := map[string]int{}
	pos := chess.Start()
	for n := 0; b.carries < carries && n < 3*carries; n++ {
		m, ok := b.quiet(&pos, diagnosis.Piece{})
		if !ok || n%60 == 59 {
			pos = chess.Start()
			must(b.t, b.world.SetUp(""))
			b.know()
			continue
		}
		if pos.SideToMove() == chess.White {
			must(b.t, b.world.Visitor().MovePiece(m.From(), m.To()))
			b.world.Visitor().Finish()
			pos = pos.After(m)
			continue
		}
		who := b.on(m.From())
		if !b.move(&pos, m) {
			continue
		}
		for range 2 {
			if !b.file.Hopeless(who.ID) {
				b.retry(who, m.To())
			}
		}
		pos = pos.After(m)
		b.mend(&pos)
		for _, f := range b.file.Named() {
			key := strings.TrimSpace(fmt.Sprint(f.Cause, " ", f.Piece, f.Axis))
			if _, is := said[key]; !is {
				said[key] = b.carries
			}
		}
	}
	return said
}

// isRight says whether what was said names the fault of the bench's world.
func (b *bench) isRight(said string, cause diagnosis.Cause) bool {
	is, of, _ := strings.Cut(said, " ")
	f := diagnosis.Finding{Cause: diagnosis.Cause(is), Piece: of}
	if of == "x" || of == "y" {
		f.Piece, f.Axis = "", of
	}
	return b.matches(f, cause) || cause == diagnosis.StickyBoard && f.Cause == diagnosis.StickyPlace
}

// Where one part is at fault, it is named within an evening, and nothing else beside it. A weak
// magnet may be told as a lift: carries do not tell which.
func TestAccusesNothingBeside(t *testing.T) {
	for _, tr := range truths {
		switch tr.fault {
		case twin.Fast, twin.WideFoot, twin.LiftStaysUp, twin.LiftStaysDown, twin.MagnetMissing:
		default:
			if os.Getenv("BOARDHAND_LONG") != "1" {
				continue
			}
		}
		right, wrong := int64(0), 0
		for seed := int64(1); seed <= seeds(); seed++ {
			b := newBench(t, 40+seed, tr.fault)
			isNamed := false
			said := b.evening(tr.carries)
			for _, key := range slices.Sorted(maps.Keys(said)) {
				if b.isRight(key, tr.cause) {
					isNamed = true
					continue
				}
				wrong++
				t.Logf("%s, seed %d: %s is named at carry %d", tr.fault, 40+seed, key, said[key])
			}
			if isNamed {
				right++
			}
		}
		t.Logf("%-18s named rightly in %d of %d evenings, %d wrong ones beside", tr.fault, right, seeds(), wrong)
		if 3*right < 2*seeds() || int64(20*wrong) > seeds() {
			t.Errorf("%s: named in %d of %d, and %d wrong ones", tr.fault, right, seeds(), wrong)
		}
	}
}
