// SPDX-License-Identifier: Apache-2.0

package diagnosis

import (
	"cmp"
	"math"
	"slices"
)

// Motion is one thing that the machine did between two looks at the board.
type Motion struct {
	Act    Act
	Piece  Piece  // Carry: the one to come along
	To     Spot   // Carry: where it was to go
	Path   []Spot // Carry, Travel: the carriage's, corner by corner
	Raised bool   // Lift: it was to rise
	Handed Piece  // a person moved this piece meanwhile: it is not looked at
}

// Sighting is one piece as a picture shows it. Metres, frame Board.
type Sighting struct {
	At     Spot
	Sigma  float64 // standard deviation per coordinate
	Fallen bool    // it lies
}

// Scene is where all pieces stand that were seen; one that is not in it was not
// seen.
type Scene map[Piece]Sighting

// Observe turns what the machine did, and where the pieces stood before and
// after, into symptoms. square is the side of a square, m. What the machine
// itself reports (Lagged, Stalled, LiftFailed, pictures) is added by whoever
// hears it. Of several carries of one piece only the last is judged: nobody
// looked in between.
func Observe(square float64, did []Motion, before, after Scene) (out []Symptom) {
	touched := map[Piece]int{}
	for i, m := range did {
		if m.Act == Carry {
			touched[m.Piece] = i
		}
		if (m.Handed != Piece{}) {
			touched[m.Handed] = -1
		}
	}
	for i, m := range did {
		s := Symptom{Act: m.Act, Outcome: Done, Piece: m.Piece, To: m.To, Path: m.Path, Raised: m.Raised}
		if last, ok := touched[m.Piece]; m.Act == Carry && ok && last == i {
			s.judge(square, before, after)
		}
		if m.Act != "" {
			out = append(out, s)
		}
	}
	return append(out, pushes(did, touched, before, after)...)
}

// judge says how a carry ended.
func (s *Symptom) judge(square float64, before, after Scene) {
	old, known := before[s.Piece]
	now, seen := after[s.Piece]
	s.From, s.Found, s.Sigma = old.At, now.At, now.Sigma
	if !known { // it came from where no picture reaches
		s.From = s.To
	}
	switch {
	case !seen:
		s.Outcome = Unseen
	case now.Fallen:
		s.Outcome = Toppled
	case s.From.Distance(s.To) < near*square && now.At.Distance(s.To) < near*square:
		s.Outcome = Done // set straight: it stood where a piece that arrives may stand
	case now.At.Distance(s.To) < near*square && now.At.Distance(s.To) <= now.At.Distance(s.From) || !known:
		s.Outcome = Arrived
	case now.At.Distance(s.From) < still*square:
		s.Outcome = Stayed
	default:
		s.Outcome = Short
	}
}

// pushes lists the pieces that moved and were not carried, each with the motions
// that came near it.
func pushes(did []Motion, touched map[Piece]int, before, after Scene) (out []Symptom) {
	for p, old := range before {
		now, seen := after[p]
		if _, is := touched[p]; is || !seen {
			continue
		}
		if now.At.Distance(old.At) < max(leastPush, noticeable*math.Hypot(old.Sigma, now.Sigma)) {
			continue
		}
		if push, ok := pushOf(p, old, now, did); ok {
			out = append(out, push)
		}
	}
	slices.SortFunc(out, func(a, b Symptom) int { return cmp.Compare(a.Piece.Name(), b.Piece.Name()) })
	return out
}

// pushOf is the symptom of one piece that moved; false: no way came near it.
func pushOf(p Piece, old, now Sighting, did []Motion) (Symptom, bool) {
	s := Symptom{Outcome: Pushed, Piece: p, From: old.At, To: now.At, Sigma: now.Sigma}
	closest := farthestPush
	for _, m := range did {
		if len(m.Path) > 0 {
			s.End = m.Path[len(m.Path)-1]
		}
		_, d := nearest(m.Path, old.At)
		if m.Act != Carry && m.Act != Travel || d > farthestPush {
			continue
		}
		s.Ways = append(s.Ways, Way{m.Act, m.Piece, m.Path})
		if d <= closest {
			closest, s.Act, s.Carrier, s.Path = d, m.Act, m.Piece, m.Path
		}
	}
	return s, len(s.Ways) > 0
}
