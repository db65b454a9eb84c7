// SPDX-License-Identifier: Apache-2.0

package diagnosis

// hypothesis is one cause with what it concerns, one of its variants, and the
// stretch of the record in which it is there.
type hypothesis struct {
	cause       Cause
	piece       Piece
	axis        string
	place       Spot
	variant     int
	from, until int     // symptoms from … until−1
	prior       float64 // logarithm of the odds for it
	terms       []term  // one for each symptom
	isOver      bool    // it ended before the last symptom
}

// term is what a hypothesis says of one symptom.
type term struct {
	share    float64 // of carries it acts on
	ending   float64 // density of the ending when it acts
	exposure float64 // expected events in the act
	event    float64 // rate × density of the event seen
}

// isGeometry says whether the hypothesis tells where carried pieces arrive.
func (h hypothesis) isGeometry() bool {
	switch h.cause {
	case AxesOutOfSquare, AxesScaleWrong, PlaceShifted, MagnetOffCentre:
		return true
	}
	return false
}

// isFitted says whether the hypothesis has part in the fit of the arrivals.
func (h hypothesis) isFitted() bool {
	return h.isGeometry() || h.cause == BaseTooWide && h.piece == Piece{}
}

// concerns says whether a base that is too wide has part in a symptom: a
// hypothesis without a piece concerns all.
func (h hypothesis) concerns(s Symptom) bool {
	return h.piece == Piece{} || h.piece == s.Piece || h.piece == s.Carrier
}

// isSame says whether two hypotheses exclude one another: variants of one cause
// of one thing.
func (h hypothesis) isSame(g hypothesis) bool {
	return h.cause == g.cause && h.piece == g.piece && h.axis == g.axis && h.place == g.place
}

// termOf works out what a hypothesis says of one symptom.
func (h hypothesis) termOf(s Symptom, p physics) (t term) {
	if s.judgesCarry() && !s.isTaken {
		if e, ok := h.acts(s, p); ok {
			t.share, t.ending = e.share, e.chance(s, p.noise(s))
			if s.isRepeat && h.cause == MagnetFlipped { // it may lie: then it does what any piece does
				t.ending = effect{1, lostAgain, soundWander, 1, soundAside}.chance(s, p.noise(s))
			}
		}
	}
	if s.isEvent() {
		for _, one := range s.apart() {
			if e, ok := eventOf(one); ok {
				t.event += h.rate(e, one) * h.density(one, p)
			}
		}
		return t
	}
	for _, e := range exposes(s) {
		t.exposure += h.rate(e, s)
	}
	return t
}

// density of the circumstances of an event.
func (h hypothesis) density(s Symptom, p physics) float64 {
	if s.Outcome == Pushed {
		return h.pushDensity(s, p)
	}
	return 1
}

// sound is what a sound machine says of one symptom.
func sound(s Symptom, p physics) (t term) {
	if s.judgesCarry() && !s.isTaken {
		ends := soundEndings
		if s.isRepeat {
			ends = lostAgain
		}
		t.ending = effect{1, ends, soundWander, 1, soundAside}.chance(s, p.noise(s))
	}
	if s.isEvent() {
		for _, one := range s.apart() {
			if e, ok := eventOf(one); ok {
				t.event += soundRates[e] * hypothesis{}.density(one, p)
			}
		}
		return t
	}
	for _, e := range exposes(s) {
		t.exposure += soundRates[e]
	}
	return t
}

// noise of where a piece was found, m per coordinate: of both pictures.
func (p physics) noise(s Symptom) float64 {
	const least = 0.05e-3
	return 1.5 * max(s.Sigma, least)
}
