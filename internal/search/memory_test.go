// SPDX-License-Identifier: Apache-2.0

package search

import (
	"strings"
	"testing"

	"boardhand/internal/chess"
)

func TestMemoryKeepsAndFinds(t *testing.T) {
	m, err := newMemory(1)
	if err != nil {
		t.Fatal(err)
	}
	m.begin(false)
	e := memo{key: 77, move: chess.MakeMove(12, 28, chess.NoKind), score: -31000, depth: 9, bound: exact}
	m.keep(e)
	if got, ok := m.find(77); !ok || got.move != e.move || got.score != e.score || got.depth != 9 {
		t.Errorf("found %+v, %v", got, ok)
	}
	if _, ok := m.find(77 + m.mask + 1); ok {
		t.Error("a key of the same place was taken for it")
	}
	// Four more keys of the same place: the shallowest goes, the deep one stays.
	for i := range uint64(4) {
		m.keep(memo{key: 77 + (i+1)*(m.mask+1), depth: int8(i), bound: atLeast})
	}
	if _, ok := m.find(77); !ok {
		t.Error("the deepest result was given up")
	}
	if _, ok := m.find(77 + m.mask + 1); ok {
		t.Error("the shallowest result was kept")
	}
	m.begin(true)
	if _, ok := m.find(77); ok {
		t.Error("a fresh search sees an earlier one")
	}
	m.begin(false)
	if _, ok := m.find(77); !ok {
		t.Error("a search that may look back does not")
	}
}

func TestMemoryAgesRunOver(t *testing.T) {
	m, _ := newMemory(1)
	m.keep(memo{key: 5, bound: exact})
	for range 1 << 16 {
		m.begin(true)
	}
	if _, ok := m.find(5); ok || m.age == 0 {
		t.Errorf("after all ages: found %v, age %d", ok, m.age)
	}
}

func TestMemorySize(t *testing.T) {
	for _, mb := range []int{0, -1, 1 << 20} {
		if _, err := NewPlayer(mb); err == nil || !strings.Contains(err.Error(), "1 to 4096 MB") {
			t.Errorf("%d MB: %v", mb, err)
		}
	}
	m, _ := newMemory(3)
	if n := len(m.places) * 64; n > 3<<20 || n < 3<<19 {
		t.Errorf("3 MB asked, %d bytes taken", n)
	}
}

// Mate scores are kept from the position, not from the root.
func TestMateScoresMoveWithTheRoot(t *testing.T) {
	for _, score := range []int{0, 250, -250, mated - 7, 7 - mated} {
		if back := fromMemory(toMemory(score, 3), 3); back != score {
			t.Errorf("%d comes back as %d", score, back)
		}
	}
	if got := fromMemory(toMemory(mated-7, 3), 5); got != mated-9 {
		t.Errorf("a mate 4 plies below ply 5 scores %d", got)
	}
}
