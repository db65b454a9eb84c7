package twin

import (
	"math"
	"math/rand/v2"
)

// jam is a lift that does not always do what it is told. Nothing reports it:
// its time passes as if it had moved.
type jam struct {
	up     bool // it catches on the way down now and then
	caught bool // it did so the last time
	chance *rand.Rand
	raises int // how often it still goes up
}

func (w *World) newJam() jam {
	j := jam{raises: math.MaxInt}
	if w.faults[LiftStaysUp] {
		j.up, j.chance = true, w.dice(LiftStaysUp)
	}
	if w.faults[LiftStaysDown] {
		j.raises = jamFirst + w.dice(LiftStaysDown).IntN(jamLast-jamFirst+1)
	}
	return j
}

// catches says whether the lift stays where it is this time.
func (w *World) catches(raised bool) bool {
	if raised {
		if w.lift > 0 {
			return false
		}
		w.jam.raises--
		if w.jam.raises >= 0 {
			return false
		}
		w.acts(LiftStaysDown)
		return true
	}
	w.jam.caught = w.jam.up && w.lift > 0 && w.jam.chance.Float64() < jamShare
	return w.jam.caught
}
