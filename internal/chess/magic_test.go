// SPDX-License-Identifier: Apache-2.0

package chess

import (
	"flag"
	"fmt"
	"os"
	"strings"
	"testing"
)

var update = flag.Bool("update", false, "write generated and golden files anew")

// magicSeed, plus a number for the square, starts the search for a magic number;
// the numbers in the repository are what it finds.
const magicSeed = 0x73717561726573

// findMagic tries sparse random numbers until one sends every set of blocking
// pieces to a slot of its own, or to one with the same attacks.
func findMagic(dirs []direction, s Square) uint64 {
	state := magicSeed + uint64(dirs[0].file)<<16 + uint64(s)
	seed := &state
	m := magic{mask: sliderMask(dirs, s)}
	m.shift = uint8(64 - m.mask.Count())
	var sets, attacks []Bitboard
	for pieces := Bitboard(0); ; {
		sets, attacks = append(sets, pieces), append(attacks, walk(dirs, s, pieces))
		if pieces = (pieces - m.mask) & m.mask; pieces == 0 {
			break
		}
	}
	seen, trial := make([]Bitboard, len(sets)), make([]int, len(sets))
	for try := 1; ; try++ {
		m.number = splitMix(seed)
		for range 2 { // few bits set make good magic numbers
			m.number &= splitMix(seed)
		}
		good := true
		for i := 0; good && i < len(sets); i++ {
			k := m.slot(sets[i])
			if trial[k] != try {
				trial[k], seen[k] = try, attacks[i]
			}
			good = seen[k] == attacks[i]
		}
		if good {
			return m.number
		}
	}
}

// magicSource is the text of magic_numbers.go.
func magicSource() string {
	var b strings.Builder
	b.WriteString("package chess\n\n// The magic numbers were found by the search in magic_test.go from its fixed\n// seed; the test finds them again. go test -run MagicNumbers -update writes them.\n\n")
	for _, k := range []struct {
		name string
		dirs []direction
	}{{"rookNumbers", rookDirections}, {"bishopNumbers", bishopDirections}} {
		fmt.Fprintf(&b, "var %s = [64]uint64{\n", k.name)
		for s := range Square(64) {
			b.WriteString(map[bool]string{true: "\t", false: " "}[s%4 == 0])
			fmt.Fprintf(&b, "0x%016x,", findMagic(k.dirs, s))
			if s%4 == 3 {
				b.WriteString("\n")
			}
		}
		b.WriteString("}\n\n")
	}
	return strings.TrimRight(b.String(), "\n") + "\n"
}

func TestMagicNumbersAreOurs(t *testing.T) {
	if *update {
		if err := os.WriteFile("magic_numbers.go", []byte(magicSource()), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	step := Square(1)
	if underRace {
		step = 9
	}
	for s := Square(0); s < 64; s += step {
		if findMagic(rookDirections, s) != rookNumbers[s] || findMagic(bishopDirections, s) != bishopNumbers[s] {
			t.Errorf("%s: not the number that the search finds: go test -run MagicNumbers -update", s)
		}
	}
}

// Every set of blocking pieces, and pieces beyond the mask, against the walk.
func TestMagicAttacksEqualTheWalk(t *testing.T) {
	seed := uint64(1)
	for s := range Square(64) {
		for _, k := range []struct {
			dirs   []direction
			attack func(Square, Bitboard) Bitboard
		}{{rookDirections, rookAttacks}, {bishopDirections, bishopAttacks}} {
			mask := sliderMask(k.dirs, s)
			for pieces := Bitboard(0); ; {
				all := pieces | Bitboard(splitMix(&seed))&^mask
				if got, want := k.attack(s, all), walk(k.dirs, s, all); got != want {
					t.Fatalf("%s, pieces %016x: %016x, want %016x", s, uint64(all), uint64(got), uint64(want))
				}
				if pieces = (pieces - mask) & mask; pieces == 0 {
					break
				}
			}
		}
	}
}
