// SPDX-License-Identifier: Apache-2.0

package twin

import (
	"encoding/json"
	"fmt"
	"os"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/twin/lens"
	"boardhand/internal/twin/mechanics"
	"boardhand/internal/twin/person"
	"boardhand/internal/twin/physics"
)

// keptVersion is the version of the file that a world is kept in.
const keptVersion = 1

// kept is a world as it is written to its file: what truly is where, without
// what the machine knew of it. Board frame, SI units.
type kept struct {
	Version    int                    `json:"twin_world"`
	Square     float64                `json:"square"` // of the rig, m: another rig is another world
	Seed       int64                  `json:"seed"`
	Deviations Deviations             `json:"quirks"`
	Magnets    [2]float64             `json:"magnets"` // remanence of the drive and the base magnets, T: in Deviations rounded as text
	Now        float64                `json:"now"`
	Lift       float64                `json:"lift"`
	Raises     int                    `json:"raises"` // of a lift that will stay down
	Axes       [2]mechanics.AxisState `json:"axes"`
	Counters   Counters               `json:"counters"`
	Pieces     []keptPiece            `json:"pieces"`
	Guest      person.Memory          `json:"guest"`
	Camera     lens.State             `json:"camera"`
	Chance     map[uint64][]byte      `json:"chance"` // the streams' positions
}

// keptPiece is one piece; what follows from its kind is not kept.
type keptPiece struct {
	Piece    chess.Piece             `json:"piece"`
	Place    physics.Place           `json:"place"`
	At       frame.Spot[frame.Board] `json:"at"`
	Z        float64                 `json:"z"`
	Yaw      float64                 `json:"yaw"`
	Fallen   bool                    `json:"fallen,omitempty"`
	Heading  frame.Spot[frame.Board] `json:"heading"`
	Lean     frame.Spot[frame.Board] `json:"lean"`
	Shade    float64                 `json:"shade"`
	Static   float64                 `json:"static"`
	Kinetic  float64                 `json:"kinetic"`
	Strength float64                 `json:"strength"`
	Magnet   bool                    `json:"magnet"`
	Astray   float64                 `json:"astray,omitempty"`
	Ill      Fault                   `json:"ill,omitempty"`
	Origin   chess.Square            `json:"origin"`
	Shelf    int                     `json:"shelf"` // place beside the board; −1: none
}

// keep writes the world to its file, if it is to be kept: beside it first, so
// that a program killed meanwhile leaves the last one whole.
func (w *World) keep() {
	if w.opts.Keep == "" || w.unkept != nil {
		return
	}
	text, err := json.Marshal(w.record())
	if err == nil {
		err = os.WriteFile(w.opts.Keep+".part", text, 0o644)
	}
	if err == nil {
		err = os.Rename(w.opts.Keep+".part", w.opts.Keep)
	}
	if err != nil {
		w.unkept = fmt.Errorf("the twin's world cannot be kept: %w", err)
	}
}

// record copies the world for its file.
func (w *World) record() kept {
	c := w.carriage.State()
	k := kept{Version: keptVersion, Square: float64(w.rig.Board.Square), Seed: w.opts.Seed, Deviations: w.deviations,
		Magnets: [2]float64{float64(w.deviations.DriveBr), float64(w.deviations.BaseBr)}, Now: w.now, Lift: c.Lift, Raises: c.Raises, Axes: c.Axes, Counters: w.count, Chance: map[uint64][]byte{}}
	k.Guest = w.person.Memory()
	for _, b := range w.table.Pieces {
		shelf := w.person.ShelfOf(b)
		k.Pieces = append(k.Pieces, keptPiece{b.Piece, b.Place, b.At, b.Z, b.Yaw, b.Fallen, b.Heading, b.Lean, b.Shade,
			b.Static, b.Kinetic, b.Strength, b.Magnet, b.Astray, w.ills[b], b.Origin, shelf})
	}
	k.Camera = w.studio.State()
	for part, source := range w.sources {
		k.Chance[part], _ = source.MarshalBinary() // it has no error to give
	}
	return k
}
