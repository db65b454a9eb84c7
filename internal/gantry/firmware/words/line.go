// SPDX-License-Identifier: Apache-2.0

// Package words reads lines of G-code as the simulated firmware does: words,
// modal groups, and the errors of bad lines. Sources: NISTIR 6556 (RS-274/NGC),
// sections 3.3, 3.5, 3.6 and table 4; repository gnea/grbl, doc/markdown and doc/csv.
package words

import (
	"math"
	"strings"
)

// Group is a modal group of table 4: one word of each may stand on a line.
type Group int

// The groups of G words, and those of M words.
const (
	NonModal Group = iota
	Motion
	Plane
	Distance
	ArcDistance
	FeedMode
	Units
	Radius
	Length
	System
	PathMode
	Stop
	Spindle
	Coolant
)

// gWords are the supported G words in tenths: 92.1 is 921.
var gWords = map[int]Group{
	40: NonModal, 100: NonModal, 280: NonModal, 281: NonModal, 300: NonModal, 301: NonModal, 530: NonModal, 920: NonModal, 921: NonModal,
	0: Motion, 10: Motion, 20: Motion, 30: Motion, 800: Motion,
	170: Plane, 180: Plane, 190: Plane,
	900: Distance, 910: Distance, 911: ArcDistance,
	930: FeedMode, 940: FeedMode, 200: Units, 210: Units,
	400: Radius, 490: Length, 610: PathMode,
	540: System, 550: System, 560: System, 570: System, 580: System, 590: System,
}

// mWords are the supported M words; M7 is not compiled in.
var mWords = map[int]Group{0: Stop, 1: Stop, 2: Stop, 30: Stop, 3: Spindle, 4: Spindle, 5: Spindle, 8: Coolant, 9: Coolant}

// Line is a line of G-code by its words.
type Line struct {
	Code  map[Group]int    // G words in tenths, M words as they are
	Value map[byte]float64 // all other words
}

// Parse reads a stripped line; an error is a Fault.
func Parse(text string) (Line, error) {
	l := Line{Code: map[Group]int{}, Value: map[byte]float64{}}
	list, err := scan(text)
	if err != nil {
		return l, err
	}
	for _, w := range list {
		if err := l.put(w); err != nil {
			return l, err
		}
	}
	return l, l.check()
}

// put takes one word into the line.
func (l *Line) put(w word) error {
	switch w.letter {
	case 'G':
		return l.code(gWords, math.Round(10*w.value), math.Abs(10*w.value-math.Round(10*w.value)) > 1e-6, Unsupported)
	case 'M':
		return l.code(mWords, math.Round(w.value), w.value != math.Trunc(w.value), NotInteger)
	}
	if !strings.ContainsRune("FIJKLNPRSTXYZ", rune(w.letter)) {
		return Unsupported
	}
	if _, twice := l.Value[w.letter]; twice {
		return WordTwice
	}
	if w.value < 0 && strings.ContainsRune("FNPST", rune(w.letter)) {
		return Negative
	}
	if w.letter == 'N' && (w.value != math.Trunc(w.value) || w.value > lastLine) {
		return BadLineNumber
	}
	l.Value[w.letter] = w.value
	return nil
}

// code takes a G or M word into its group.
func (l *Line) code(known map[int]Group, n float64, isBroken bool, broken Fault) error {
	if isBroken {
		return broken
	}
	group, ok := known[int(n)]
	if !ok {
		return Unsupported
	}
	if _, twice := l.Code[group]; twice {
		return GroupTwice
	}
	l.Code[group] = int(n)
	return nil
}

// Has says whether a word with the letter stands on the line.
func (l *Line) Has(letter byte) bool { _, ok := l.Value[letter]; return ok }

// HasAxes says whether an axis is named.
func (l *Line) HasAxes() bool { return l.Has('X') || l.Has('Y') || l.Has('Z') }

// Is says whether a group has this word on the line.
func (l *Line) Is(g Group, n int) bool { v, ok := l.Code[g]; return ok && v == n }

// check looks at the line as a whole, without the state of the machine.
func (l *Line) check() error {
	free, isFree := l.Code[NonModal]
	motion, moves := l.Code[Motion]
	needsAxes := moves && motion != 800 || isFree && (free == 100 || free == 920)
	switch {
	case isFree && free != 40 && free != 530 && free != 921 && moves && motion != 800:
		return TwoAxisUsers
	case isFree && free == 530 && moves && motion > 10:
		return OnlyStraight
	case isFree && free == 40 && !l.Has('P'):
		return ValueMissing
	case isFree && free == 100 && !(l.Has('P') && l.Has('L')):
		return ValueMissing
	case isFree && free == 100 && l.Value['L'] != 2 && l.Value['L'] != 20:
		return Unsupported
	case needsAxes && !l.HasAxes():
		return NoAxisWords
	case moves && motion == 800 && l.HasAxes() && !l.UsesAxes():
		return UnusedAxisWords
	}
	return l.unused()
}

// UsesAxes says whether a word of group 0 takes the axis words.
func (l *Line) UsesAxes() bool {
	free, ok := l.Code[NonModal]
	return ok && (free == 100 || free == 280 || free == 300 || free == 920)
}

// unused is the fault of value words that nothing on the line can use.
func (l *Line) unused() error {
	used := map[byte]bool{}
	if free, ok := l.Code[NonModal]; ok {
		used['P'] = free == 40 || free == 100
		used['L'] = free == 100
	}
	for _, c := range []byte("PL") {
		if l.Has(c) && !used[c] {
			return UnusedValueWords
		}
	}
	return nil
}
