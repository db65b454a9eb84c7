// SPDX-License-Identifier: Apache-2.0

package diagnosis

import (
	"boardhand/internal/frame"
	"cmp"
	"math"
	"slices"
)

// Motion is one thing that the machine did between two looks at the board, or that a
// piece was seen in between.
type Motion struct {
	Act    Act
	Piece  Piece  // Carry: the one to come along; Look: the one that was seen
	To     Spot   // Carry: where it was to go
	Path   []Spot // Carry, Travel: the carriage's, corner by corner
	Raised bool   // Lift: it was to rise
	Handed Piece  // a person moved this piece meanwhile: it is not looked at
	Hidden bool   // Carry: it went where no picture reaches
	Beside bool   // Carry: it went beside the field, where pictures measure less well
}

// Sighting is one piece as a picture shows it. Metres, frame Board.
type Sighting struct {
	At     Spot
	Sigma  float64 // standard deviation per coordinate
	Fallen bool    // it lies
	// IsGuess says that nobody has measured it: Sigma is how carelessly it may stand.
	IsGuess bool
}

// Scene is where all pieces stand that were seen; one that is not in it was not
// seen.
type Scene map[Piece]Sighting

// Watch compares looks at the board. It learns how well pictures tell where a
// piece is from those that nothing has come near.
type Watch struct {
	square  float64 // side, m
	squares float64 // sum of squared motions of such pieces, per coordinate, in stated standard deviations
	count   float64 // how many
}

// NewWatch begins to watch a board with squares of so many metres. At first
// pictures are taken to be as wrong as they say.
func NewWatch(square float64) Watch {
	return Watch{square: square, squares: statedMotions, count: statedMotions}
}

// noise is the standard deviation, m per coordinate, of where a piece is seen now
// against where it was seen before, if nothing has moved it: what pictures get
// wrong in the same way each time cancels.
func (w Watch) noise(old, now Sighting) float64 {
	share := math.Sqrt(w.squares / w.count)
	if old.IsGuess {
		return math.Hypot(old.Sigma, now.Sigma)
	}
	return share * math.Hypot(old.Sigma, now.Sigma)
}

// learn takes in how those seem to have moved that nothing came near.
func (w *Watch) learn(did []Motion, touched map[Piece]int, before, after Scene) {
	for p, old := range before {
		now, isSeen := after[p]
		if _, is := touched[p]; is || !isSeen || old.IsGuess || old.Sigma+now.Sigma == 0 {
			continue
		}
		isFar := !slices.ContainsFunc(did, func(m Motion) bool {
			_, d := frame.Nearest(m.Path, old.At)
			return d < farthestPush
		})
		if d := now.At.Distance(old.At) / math.Hypot(old.Sigma, now.Sigma); isFar && d < misseen {
			w.squares += d * d / 2
			w.count++
		}
	}
}

// Observe turns what the machine did, and where the pieces stood before and
// after, into symptoms. What the machine itself reports (Lagged, Stalled,
// LiftFailed, pictures) is added by whoever hears it. Of several carries of one
// piece only the last is judged: nobody looked in between. earlier is what it did
// before, how its carries ended being judged already: it may have pushed whoever was
// not seen since, and before says where each piece was seen last.
func (w *Watch) Observe(earlier, did []Motion, before, after Scene) (out []Symptom) {
	touched, since := map[Piece]int{}, map[Piece]int{}
	for i, m := range earlier {
		if m.Act == Look {
			delete(touched, m.Piece)
			since[m.Piece] = i + 1
			continue
		}
		touched[cmp.Or(m.Piece, m.Handed)] = -1
	}
	for i, m := range did {
		if m.Act == Carry {
			touched[m.Piece] = i
		}
		if (m.Handed != Piece{}) {
			touched[m.Handed] = -1
		}
	}
	for i, m := range did {
		s := Symptom{Act: m.Act, Outcome: Done, Piece: m.Piece, To: m.To, Path: m.Path, Raised: m.Raised, Beside: m.Beside}
		if last, ok := touched[m.Piece]; m.Act == Carry && ok && last == i {
			s.judge(w.square, before, after)
		}
		if m.Hidden && s.Outcome == Unseen {
			s.Outcome = Done // nobody can tell
		}
		if m.Act != "" {
			out = append(out, s)
		}
	}
	all := slices.Concat(earlier, did)
	w.learn(all, touched, before, after)
	return append(out, w.pushes(all, touched, since, before, after)...)
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
// that came near it since it was seen.
func (w Watch) pushes(did []Motion, touched, since map[Piece]int, before, after Scene) (out []Symptom) {
	for p, old := range before {
		now, seen := after[p]
		if _, is := touched[p]; is || !seen {
			continue
		}
		if now.At.Distance(old.At) < max(leastPush, noticeable*w.noise(old, now)) {
			continue
		}
		if push, ok := pushOf(p, old, now, did[since[p]:]); ok {
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
		_, d := frame.Nearest(m.Path, old.At)
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
