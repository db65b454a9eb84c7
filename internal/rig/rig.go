// SPDX-License-Identifier: Apache-2.0

// Package rig is the description of one machine: what a maker writes in
// rig.toml. All lengths are inside typed units; nothing here knows where the
// numbers are used.
package rig

import (
	"fmt"
	"math"

	"boardhand/internal/frame"
	"boardhand/internal/game"
	"boardhand/internal/optics"
	"boardhand/internal/unit"
)

// Rig is one machine.
type Rig struct {
	Path  string       `toml:"-"` // the file it came from, for messages
	Built *Built       `toml:"-"` // what was measured at the machine; nil: nothing
	Seen  *optics.View `toml:"-"` // the camera's lens as measured, and where it hung; nil: by the picture of the board
	Hung  bool         `toml:"-"` // where it hung was measured too

	Board      Board      `toml:"board"`
	Pieces     Pieces     `toml:"pieces"`
	Lift       Lift       `toml:"lift"`
	Axis       Axes       `toml:"axis"`
	Carriage   Carriage   `toml:"carriage"`
	Walls      Walls      `toml:"walls"`
	Camera     Camera     `toml:"camera"`
	Controller Controller `toml:"controller"`
	Cables     []Cable    `toml:"cable"`
	Power      Power      `toml:"power"`
	Removal    Removal    `toml:"removal"`
	Play       Play       `toml:"play"`
	Tolerance  Tolerance  `toml:"tolerance"`
	Accept     Accepted   `toml:"accept"`
}

// Accepted are the checks whose warnings the maker lives with, by name, each with the
// reason; of a caution, how it is seen to.
type Accepted map[string]any

// Reason is why a check's warning is accepted; "" when it is not.
func (a Accepted) Reason(check string) string {
	text, _ := a[check].(string)
	return text
}

// flat are the same with the tables that the dots of names made taken apart.
func (a Accepted) flat() Accepted {
	out := Accepted{}
	for name, v := range a {
		table, ok := v.(map[string]any)
		if !ok {
			out[name] = v
			continue
		}
		for rest, v := range Accepted(table).flat() {
			out[name+"."+rest] = v
		}
	}
	if len(out) == 0 {
		return nil
	}
	return out
}

// Built is what carries need of a machine as it was measured.
type Built struct {
	MachineFromBoard frame.Affine[frame.Machine, frame.Board] // to the counts of the axes
	Backlash         [2]float64                               // of the x and y axis, m
	Inside           frame.Rect[frame.Board]                  // what the axes reach from either side
}

// Board is the playing field and the sheet it is printed on.
type Board struct {
	Square    unit.Length `toml:"square"`    // side of a square
	Files     int         `toml:"files"`     // squares from left to right; 8 when not given
	Ranks     int         `toml:"ranks"`     // squares from front to back; 8 when not given
	Border    unit.Length `toml:"border"`    // margin around the field
	Rim       unit.Length `toml:"rim"`       // plain sheet beyond the border, all around; 0 when not given
	Held      string      `toml:"held"`      // what it lies on: "walls", "ledge" inside them, or "fastened"; walls when not given
	Mass      unit.Mass   `toml:"mass"`      // of the sheet; as plywood when not given
	Steel     unit.Length `toml:"steel"`     // nearest screw, nail or rod to the base of a standing piece
	Thickness unit.Length `toml:"thickness"` // surface to underside
	Warp      unit.Length `toml:"warp"`      // peak to valley over the field
	Friction  float64     `toml:"friction"`  // static, base on surface
	Kinetic   float64     `toml:"kinetic"`   // sliding; 0.75 × static when not given (CTU Code, Annex 7, App. 2)
}

// Piece is the shape of one kind of piece.
type Piece struct {
	Height unit.Length `toml:"height"`
	Base   unit.Length `toml:"base"` // diameter of the base that stands on the board
	Mass   unit.Mass   `toml:"mass"` // with its magnet
	Top    unit.Length `toml:"top"`  // widest part above the base, turned any way; when wider than it
	// Balance is the height of the centre of mass as a share of the height;
	// 0.35 when not given (a turned piece with its magnet in the base).
	Balance float64 `toml:"balance"`
}

// Across is the width of the room that a piece takes: its base, or what is wider above.
func (p *Piece) Across() unit.Length { return max(p.Base, p.Top) }

// Pieces are the pieces and the magnets in their bases.
type Pieces struct {
	Carried string     `toml:"carried"` // whose bases hold magnets: "black", "white", "both"
	Shapes  Shapes     `toml:"-"`       // a table for each kind, by its name
	Magnet  FootMagnet `toml:"magnet"`
	Names   []string   `toml:"kinds"` // of the kinds; those of chess when not given
	Count   int        `toml:"count"` // pieces of one side; 16 when not given
}

// FootMagnet is the disc in a piece's base.
type FootMagnet struct {
	Diameter  unit.Length `toml:"diameter"`
	Thickness unit.Length `toml:"thickness"`
	Grade     string      `toml:"grade"`  // "N42", or a remanence "1.29 T"
	Recess    unit.Length `toml:"recess"` // magnet face to the surface the base stands on
}

// Lift is the z axis with the drive magnet on top.
type Lift struct {
	Diameter  unit.Length    `toml:"diameter"`
	Thickness unit.Length    `toml:"thickness"`
	Grade     string         `toml:"grade"`
	Air       unit.Length    `toml:"air"`      // raised: magnet face to the board's underside
	Drop      unit.Length    `toml:"drop"`     // lowered by
	Spring    unit.Stiffness `toml:"spring"`   // what lets the magnet follow the warp; 0: none
	Preload   unit.Force     `toml:"preload"`  // spring force at the nominal underside
	Speed     unit.Speed     `toml:"speed"`    // 20 mm/s when not given
	Steel     unit.Length    `toml:"steel"`    // nearest steel to the raised magnet's lower face
	Force     unit.Force     `toml:"force"`    // what its motor can raise and draw down with
	Current   unit.Current   `toml:"current"`  // what its motor draws, holding or at stall
	Friction  float64        `toml:"friction"` // magnet (or its cap) on the underside; 0.20 when not given
	Switches  *int           `toml:"switches"` // end switches; when not given, 1 on an axis of a gcode controller, else 0
	Motor     Seat           `toml:"motor"`
}

// Axes are the two horizontal axes.
type Axes struct {
	X Axis `toml:"x"`
	Y Axis `toml:"y"`
}

// Axis is one horizontal drive.
type Axis struct {
	Drive        string            `toml:"drive"`      // "rack", "belt", "screw"
	Module       unit.Length       `toml:"module"`     // rack
	Pitch        unit.Length       `toml:"pitch"`      // belt
	Lead         unit.Length       `toml:"lead"`       // screw
	Teeth        int               `toml:"teeth"`      // rack pinion or belt pulley
	Efficiency   float64           `toml:"efficiency"` // of the drive; 0.9 rack and belt, computed for a screw
	Travel       unit.Length       `toml:"travel"`
	Origin       unit.Length       `toml:"origin"` // field's centre on this axis after homing; half the travel when not given
	Speed        unit.Speed        `toml:"speed"`
	Acceleration unit.Acceleration `toml:"acceleration"`
	Jerk         unit.Jerk         `toml:"jerk"` // 10 × acceleration a second when not given
	Backlash     unit.Length       `toml:"backlash"`
	Moved        unit.Mass         `toml:"moved"`     // mass this axis carries
	Friction     unit.Force        `toml:"friction"`  // of its guides
	Guide        unit.Length       `toml:"guide"`     // how far apart its outer bearings are, along the axis
	Clearance    unit.Length       `toml:"clearance"` // their play, across it
	Motor        Motor             `toml:"motor"`
	Rails        Rails             `toml:"rails"`
	Rows         int               `toml:"rows"`     // racks, belts or screws side by side; 1 when not given
	Switches     *int              `toml:"switches"` // end switches; when not given, 1 with a gcode controller, which homes on them, else 0
}

// Rails are the two guides that an axis runs on, and what drives it along them: where they lie
// while the magnet stands under the field's centre. What is 0 or empty is not given.
type Rails struct {
	At          [2]unit.Length `toml:"at"`           // the guides' middles, across the axis, from the field's centre
	Length      unit.Length    `toml:"length"`       // of each guide; it lies around the middle of the travel
	Diameter    unit.Length    `toml:"diameter"`     // of each guide
	Height      unit.Length    `toml:"height"`       // of their middles over the floor
	DriveAt     []unit.Length  `toml:"drive_at"`     // racks, belts or screws, across the axis, as many as rows
	DriveLength unit.Length    `toml:"drive_length"` // of a rack or screw; of a belt the distance of its pulleys' axes
	DriveHeight unit.Length    `toml:"drive_height"` // of their middles over the floor
}

// Seat is where a motor sits while the magnet stands under the field's centre.
type Seat struct {
	At   [3]unit.Length `toml:"at"`   // its middle: to the right and back from the field's centre, over the floor
	Body [3]unit.Length `toml:"body"` // how wide, deep and high it is
}

// Motor drives one axis.
type Motor struct {
	Kind        string          `toml:"kind"` // "dc" or "stepper"
	StallTorque unit.Torque     `toml:"stall_torque"`
	FreeSpeed   unit.Turning    `toml:"free_speed"`
	Counts      int             `toml:"counts"`  // counts or (micro)steps a motor turn
	Gearing     float64         `toml:"gearing"` // motor turns per pinion turn
	Voltage     unit.Voltage    `toml:"voltage"`
	Current     unit.Current    `toml:"current"`    // stall (dc) or rated phase current (stepper)
	Inductance  unit.Inductance `toml:"inductance"` // stepper phase
	FullSteps   int             `toml:"full_steps"` // stepper: a turn
	Resistance  unit.Resistance `toml:"resistance"` // stepper phase; rated voltage over current when not given
	Inertia     unit.Inertia    `toml:"inertia"`    // of the rotor; left out when not given
	Gearbox     float64         `toml:"gearbox"`    // rotor turns per turn of the shaft that torque and speed are of; 1 when not given
	At          [3]unit.Length  `toml:"at"`         // as a Seat's
	Body        [3]unit.Length  `toml:"body"`
}

// Carriage is the moving body; the extents go from the magnet's axis.
type Carriage struct {
	Mass   unit.Mass   `toml:"mass"`
	Left   unit.Length `toml:"left"`
	Right  unit.Length `toml:"right"`
	Front  unit.Length `toml:"front"` // towards rank 1
	Back   unit.Length `toml:"back"`  // towards rank 8
	Height unit.Length `toml:"height"`
}

// Walls are the inside faces, measured from the field's centre.
type Walls struct {
	Left     unit.Length `toml:"left"`
	Right    unit.Length `toml:"right"`
	Front    unit.Length `toml:"front"`
	Back     unit.Length `toml:"back"`
	Height   unit.Length `toml:"height"`
	Material string      `toml:"material"` // "brick" (modular, 8 mm grid) or "panel"
	Thick    unit.Length `toml:"thick"`    // of a panel; bricks: 8 mm (one unit), else two units
	Owned    int         `toml:"owned"`    // bricks or panels owned, 0: buy all
}

// Camera is the one camera above the board, with nominal values.
type Camera struct {
	Image     [2]int      `toml:"image"`      // pixels, width and height
	HFOV      unit.Angle  `toml:"hfov"`       // across the picture's width
	DFOV      unit.Angle  `toml:"dfov"`       // across its diagonal, instead of hfov
	Focal     unit.Length `toml:"focal"`      // of the lens
	Stop      float64     `toml:"stop"`       // focal length over the lens's opening: 2.0 for F/2
	Focus     unit.Length `toml:"focus"`      // distance to which it is set; of a lens with a fixed focus
	Height    unit.Length `toml:"height"`     // over the surface
	WhiteSide string      `toml:"white_side"` // picture side where White sits: bottom, left, top, right
	Source    string      `toml:"source"`
}

// Controller is what turns text into motion.
type Controller struct {
	Kind  string            `toml:"kind"` // "twin", "gcode", "tacho"
	Port  string            `toml:"port"`
	Baud  int               `toml:"baud"`
	Ports int               `toml:"ports"` // motor and sensor sockets it has
	Motor map[string]string `toml:"motor"` // tacho: axis → motor
	// Lift is what raises the magnet under a gcode controller: "axis" (z), "spindle"
	// (a servo or relay on M3 and M5), "coolant" (a relay on M8 and M9); axis when not given.
	Lift     string        `toml:"lift"`
	LiftUp   int           `toml:"lift_up"`   // spindle: S that raises
	LiftDown int           `toml:"lift_down"` // spindle: S that lowers; 0: M5
	Settle   unit.Duration `toml:"settle"`    // after raising or lowering; 0.2 s when not given
}

// Cable is one lead, with the lengths the maker owns.
type Cable struct {
	Name  string        `toml:"name"`
	From  string        `toml:"from"`  // "controller" or "wall": where it stands still
	To    string        `toml:"to"`    // a motor ("x", "y", "lift", "chute"), a switch ("x switch", …), "magnet", "camera", "supply"
	Route unit.Length   `toml:"route"` // fixed part of the way, before the moving loop
	Slack unit.Length   `toml:"slack"` // for connectors and strain relief
	Owned []unit.Length `toml:"owned"`
}

// Power is the supply.
type Power struct {
	Voltage unit.Voltage `toml:"voltage"`
	Current unit.Current `toml:"current"` // the supply's rating
	Logic   unit.Current `toml:"logic"`   // controller and camera together
	Motors  unit.Voltage `toml:"motors"`  // what the drivers hold dc motors to; the supply's when not given
}

// Driven is the voltage that a motor gets: the supply's, or less where the drivers of dc
// motors hold them to it; 0 when the rig names neither.
func (p Power) Driven(m Motor) unit.Voltage {
	if m.Kind != "stepper" && p.Motors > 0 && (p.Voltage == 0 || p.Motors < p.Voltage) {
		return p.Motors
	}
	return p.Voltage
}

// Removal says what happens to a captured piece.
type Removal struct {
	Mode  string         `toml:"mode"`  // "hand", "tray", "chute"
	Slots int            `toml:"slots"` // tray: how many beside each long edge
	Gap   unit.Length    `toml:"gap"`   // tray: field edge to slot centre
	Chute [2]unit.Length `toml:"chute"` // trapdoor centre in the board frame
}

// Play holds the machine's habits.
type Play struct {
	Side string        `toml:"side"` // the machine's: "black" or "white"
	Time unit.Duration `toml:"time"` // thinking time a move; 1 s when not given
	// Strength is how strongly the built-in player plays until a guest chooses
	// otherwise, by the names of search.Ladder; "needle", all that it can, when not given.
	Strength string `toml:"strength"`
}

// Field is the longer side of the playing field.
func (b Board) Field() unit.Length { return unit.Length(max(b.Files, b.Ranks)) * b.Square }

// Half is how far the playing field reaches from its centre: to left and right,
// to front and back.
func (b Board) Half() (x, y unit.Length) {
	return unit.Length(b.Files) * b.Square / 2, unit.Length(b.Ranks) * b.Square / 2
}

// Outermost is how many squares from the centre the outermost middles are: one number, or
// one to the sides and one to front and back.
func (b Board) Outermost() string {
	x, y := float64(b.Files-1)/2, float64(b.Ranks-1)/2
	if x == y {
		return fmt.Sprint(x)
	}
	return fmt.Sprintf("%g (sides) and %g (front and back)", x, y)
}

// Sheet is how far the sheet reaches from the field's centre: to left and right, to
// front and back.
func (b Board) Sheet() (x, y unit.Length) {
	x, y = b.Half()
	return x + b.Border + b.Rim, y + b.Border + b.Rim
}

// SetSquare gives the field squares of another size. A sheet that lies on the walls keeps
// its own size as far as it can: its rim gives way.
func (b *Board) SetSquare(to unit.Length) {
	was := b.Field()
	b.Square = to
	if b.Held == "walls" {
		b.Rim = max(0, unit.MM(math.Round((b.Rim+(was-b.Field())/2).MM()*1e6)/1e6))
	}
}

// Squares is the field as games see it.
func (b Board) Squares() game.Board {
	return game.Board{Files: b.Files, Ranks: b.Ranks, Square: float64(b.Square)}
}

// Holds says why a game cannot be played on the field: it has too few squares.
func (b Board) Holds(g game.Board) error {
	if g.Files <= b.Files && g.Ranks <= b.Ranks {
		return nil
	}
	return fmt.Errorf("the game takes %d × %d squares and the rig's board has %d × %d: set board.files to %d and board.ranks to %d",
		g.Files, g.Ranks, b.Files, b.Ranks, g.Files, g.Ranks)
}

// Centre is the centre of the square in file f (0 = a) and rank r (0 = 1), board frame.
func (b Board) Centre(f, r int) frame.Spot[frame.Board] {
	return b.Squares().Centre(game.SquareAt(f, r))
}

// Widest is the diameter of the room that the widest piece takes.
func (p *Pieces) Widest() unit.Length {
	w := unit.Length(0)
	for _, k := range p.Kinds().All() {
		w = max(w, p.Of(k).Across())
	}
	return w
}

// Gap is the nominal distance between the facing magnet faces when raised.
func (r *Rig) Gap() unit.Length {
	return r.Board.Thickness + r.Lift.Air + r.Pieces.Magnet.Recess
}

// FocalPixels is the nominal focal length in pixels of the ideal lens.
func (c Camera) FocalPixels() float64 {
	return float64(c.Image[0]) / 2 / math.Tan(float64(c.HFOV)/2)
}

// Carries says whether the pieces of side ("white" or "black") have magnets.
func (p Pieces) Carries(side string) bool { return p.Carried == "both" || p.Carried == side }

// MachineFromBoard is the nominal pose: axes parallel to the board's, the
// field's centre at each axis' origin. The lift is not part of it.
func (r *Rig) MachineFromBoard() frame.Pose[frame.Machine, frame.Board] {
	return frame.Pose[frame.Machine, frame.Board]{
		R: frame.Identity,
		T: frame.Point[frame.Machine]{X: float64(r.Axis.X.Origin), Y: float64(r.Axis.Y.Origin)},
	}
}
