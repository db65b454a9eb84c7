// SPDX-License-Identifier: Apache-2.0

package rig

import (
	"fmt"

	"boardhand/internal/frame"
)

// Slots are the centres of the tray's slots, board frame, none without trays: evenly
// along the edges beside the a and h files, first the a side from rank 1 up,
// then the h side.
func (r *Rig) Slots() []frame.Spot[frame.Board] {
	if r.Removal.Mode != "tray" {
		return nil
	}
	n := r.Removal.Slots
	across, _ := r.Board.Half()
	field := float64(r.Board.Ranks) * float64(r.Board.Square)
	x := float64(across) + float64(r.Removal.Gap)
	var out []frame.Spot[frame.Board]
	for _, side := range [2]float64{-1, 1} {
		for k := range n {
			y := (float64(k)+0.5)/float64(n)*field - field/2
			out = append(out, frame.Spot[frame.Board]{X: side * x, Y: y})
		}
	}
	return out
}

// TakenTo are the places where captured pieces are carried: all slots, or the middle of the
// trapdoor; none where a person takes them off.
func (r *Rig) TakenTo() []frame.Spot[frame.Board] {
	if r.Removal.Mode == "chute" {
		return []frame.Spot[frame.Board]{{X: float64(r.Removal.Chute[0]), Y: float64(r.Removal.Chute[1])}}
	}
	return r.Slots()
}

// Beside is what a place beside the board is called: a slot's name, "chute", or "beside".
func (r *Rig) Beside(at frame.Spot[frame.Board]) string {
	places := r.TakenTo()
	for k, p := range places {
		if p.Distance(at) > float64(r.Pieces.Widest())/2 {
			continue
		}
		if r.Removal.Mode == "chute" {
			return "chute"
		}
		return SlotName(k, len(places))
	}
	return "beside"
}

// SlotName is what slot k of n is called: from rank 1 up, L1, L2, … beside the
// a file and R1, R2, … beside the h file.
func SlotName(k, n int) string {
	if k < n/2 {
		return fmt.Sprintf("L%d", k+1)
	}
	return fmt.Sprintf("R%d", k-n/2+1)
}

// MayLose is how many pieces a machine may have to carry off: all that hold magnets but a
// king of each side.
func (r *Rig) MayLose() int {
	n := r.Pieces.Count - 1
	if r.Pieces.Carried == "both" {
		n *= 2
	}
	return n
}
