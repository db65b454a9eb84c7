// SPDX-License-Identifier: Apache-2.0

package materials

import (
	"fmt"

	"boardhand/internal/axes"
	"boardhand/internal/bond"
	"boardhand/internal/nest"
	"boardhand/internal/unit"
)

// Layout is parts laid on stock sheets.
type Layout = nest.Layout

// Walls are how the walls and the floor are made.
type Walls struct {
	Material string
	Ring     bond.Ring   // of modular elements; without courses for panels
	OffGrid  unit.Length // by how much an inside length is longer than in the rig
	Parts    []nest.Part // what is cut from panels: walls, floor
	Panels   nest.Layout // the parts on stock sheets
	Thick    unit.Length // of the panels
}

// Drive is what one axis runs on.
type Drive struct {
	Axis   string
	Kind   string      // "rack", "belt", "screw"
	Rows   int         // side by side
	Need   unit.Length // of rack, belt or screw in one row
	Piece  unit.Length // as sold
	Pieces int         // of all rows
	Teeth  int         // rack: of one row, and of one piece
	Each   int
	Loop   axes.Loop   // belt
	Guide  unit.Length // each of two
}

// Disc is a magnet.
type Disc struct {
	Diameter, Thickness unit.Length
	Grade               string
}

// String is what it is called.
func (d Disc) String() string {
	return fmt.Sprintf("disc %s × %s, %s", d.Diameter, d.Thickness, d.Grade)
}

// Group is pieces of one kind and side.
type Group struct {
	Side  string // "white", "black"
	Kind  string
	Count int // of pieces; the most there can be where the file does not say
	Base  unit.Length
}

// Magnets are which magnets go where, and how their poles lie.
type Magnets struct {
	Drive, Foot Disc
	Groups      []Group // whose bases hold one
	Count       int     // in bases
	Spare       int     // for bases
	// Polarity is how the poles lie: the drive magnet's upper face and the lower face of
	// every magnet in a base attract each other.
	DriveUp, FootDown string
	Polarity          string
}

// Ring is the foot under pieces of one kind and side: discs of card, with a pocket for
// a magnet where the side is carried.
type Ring struct {
	Group
	Outer  unit.Length
	Pocket unit.Length // diameter; 0: a full disc
	Layers int         // of card, glued upon each other
	Spare  int         // feet
}

// Discs is how many are cut: all layers of all feet and spare ones.
func (r Ring) Discs() int { return r.Layers * (r.Count + r.Spare) }

// Feet are what is glued under the pieces.
type Feet struct {
	Rings  []Ring
	Card   unit.Length // thickness of a layer
	Layout nest.Layout // the rings as squares, outer by outer
	// Cover closes pockets from below: full discs as thick as the magnets' recess, one a
	// foot with a pocket, in the same sizes; CoverLayout has them.
	Cover       unit.Length
	CoverLayout nest.Layout
}

// Boom is what holds the camera: an upright on the outside of the back wall, from the floor, and
// an arm from there over the field's middle.
type Boom struct{ Upright, Arm unit.Length }

// Lead is one lead with its way.
type Lead struct {
	Name     string
	Use      string // "motor", "switch", "camera", "supply": what it is a lead of
	From, To string
	Moves    []string    // the axes that it follows
	Fixed    unit.Length // fixed way and slack
	Need     unit.Length // the least length: fixed, and a loop for each axis followed
	Assumed  bool        // the rig file does not name it
	Takes    unit.Length // the lead that serves
	Source   string      // "owned" (in the rig), "stock", "buy", "make", "own" (the supply's own)
}

// Ports are the controller's sockets.
type Ports struct {
	Motors   int // taken by motors
	Switches int // inputs taken by end switches
	Has      int // motor sockets there are; 0: the rig does not say
}

// Supply is what feeds everything.
type Supply struct {
	Voltage unit.Voltage
	Rated   unit.Current // 0: the rig names none
	Draws   []axes.Draw
	Load    unit.Current // their sum
	Least   unit.Current // the load with its reserve
	Size    unit.Current // the next common rating
}

// Wiring is every lead, socket and draw.
type Wiring struct {
	Leads  []Lead
	Ports  Ports
	Supply Supply
}
