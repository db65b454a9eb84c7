// SPDX-License-Identifier: Apache-2.0

package web

import "time"

// State is what the machine is doing, as the pages name it.
type State string

// The states.
const (
	Starting  State = "starting"  // homing the axes, learning the light
	Guest     State = "guest"     // the guest is to move
	Reading   State = "reading"   // something moved; working out what
	Thinking  State = "thinking"  // choosing an answer
	Removal   State = "removal"   // waiting for the guest to take or put a piece
	Carrying  State = "carrying"  // the carriage is at work
	Verifying State = "verifying" // looking whether the piece arrived
	Undoing   State = "undoing"   // taking moves back
	Arranging State = "arranging" // setting the pieces up for the next game
	Trouble   State = "trouble"   // needs a person
	Over      State = "over"      // the game has ended
)

// Event is what changed, or in a snapshot everything. A part that is absent
// (zero string, nil pointer, nil slice) is unchanged. To clear a part publish
// an empty one: &Question{}, &Motion{}, []Lane{}, &Read{}.
type Event struct {
	Sentence string `json:"sentence,omitzero"` // the one sentence for the guest
	State    State  `json:"state,omitzero"`
	FEN      string `json:"fen,omitzero"` // the position of the game
	// Wanted are the acts the sentence asks of the guest: take this piece off, put
	// that one on. They are marked on the plan, and a visitor gets a button for
	// each. They go with the sentence: a new one without Wanted clears them.
	Wanted []Asked `json:"wanted,omitzero"`
	// Hint are the squares of a hint: the piece to move and, perhaps, where to.
	Hint []string `json:"hint,omitzero"`
	// Phantoms are pieces as the game has them where they do not stand: moved by
	// the visitor's hand and not yet seen, or not legally.
	Phantoms []Phantom `json:"phantoms,omitzero"`
	// Running are the squares of the carries under way; they are marked on the plan.
	Running []Span `json:"running,omitzero"`
	// Hands says whether the visitor's hand may go over the board now.
	Hands *bool `json:"hands,omitzero"`
	// Slow says that reading the newest picture takes unusually long.
	Slow *bool `json:"slow,omitzero"`
	// Suspicion tells the maker which part to look at; empty: none.
	Suspicion *string `json:"suspicion,omitzero"`
	// Legal are the moves that may be named: those of the game's position.
	Legal []Legal `json:"legal,omitzero"`
	// Pieces are all pieces with their measured places; those beside the board have
	// no Square. When an event has an FEN but no Pieces, the server keeps the pieces
	// that agree with it and puts the others on their squares' centres. When no
	// piece is given beside the board, the server keeps there those that it has seen on it.
	Pieces   []Piece   `json:"pieces,omitzero"`
	Carriage *Carriage `json:"carriage,omitzero"` // where it is; ends a Motion unless one comes with it
	Motion   *Motion   `json:"motion,omitzero"`   // what it begins to do now
	Lanes    []Lane    `json:"lanes,omitzero"`    // the planned paths
	Reading  *Read     `json:"reading,omitzero"`  // what the newest picture was understood to show
	Question *Question `json:"question,omitzero"`
	Offers   []Offer   `json:"offers,omitzero"`    // what may be asked for now: a button each
	Moves    []string  `json:"moves,omitzero"`     // SAN from the start; an empty list starts a new game; it, and a shorter one, clears LastMove and Result
	LastMove string    `json:"last_move,omitzero"` // UCI form
	Result   string    `json:"result,omitzero"`    // "1-0", "0-1", "1/2-1/2"
	Log      []Line    `json:"log,omitzero"`       // new lines; the server keeps the newest 300
	Visitor  *Visitor  `json:"visitor,omitzero"`
	Machine  *Machine  `json:"machine,omitzero"`  // for the drawing and its title block
	Strength *Strength `json:"strength,omitzero"` // how strongly the machine plays, if that can be chosen
	Halted   *bool     `json:"halted,omitzero"`   // the motors were stopped by a person
	Camera   *Camera   `json:"camera,omitzero"`   // where it hangs: the lean is computed from it
	View     *View     `json:"view,omitzero"`     // how the board lies in the picture

	BringUp *BringUp `json:"bringup,omitzero"` // of a machine that is brought up, not played at
	Office  *Office  `json:"office,omitzero"`  // there is a Drawing office: its page shows this

	// Picture counts the pictures; the server sets it when JPEG is given.
	Picture uint64 `json:"picture,omitzero"`
	JPEG    []byte `json:"-"` // the newest picture
	// Lean is set by the server from Pieces and Camera unless given.
	Lean []Lean `json:"lean,omitzero"`
}

// Office is the state of the Drawing office, whose page asks for the rest.
type Office struct {
	Edition   uint64 `json:"edition"`             // counts the readings of the rig that were right; 0: there was none
	Broken    string `json:"broken,omitzero"`     // what is wrong with the rig file as it stands
	IsWatched bool   `json:"is_watched,omitzero"` // the file is read anew when it was saved, and its values may be tried otherwise
}

// Piece is one piece as it stands now.
type Piece struct {
	ID     string  `json:"id"`              // stays the same as the piece moves
	Piece  string  `json:"piece"`           // FEN letter: upper case White
	Square string  `json:"square,omitzero"` // absent: beside the board
	Slot   string  `json:"slot,omitzero"`   // of the tray, in which it stands; absent: a person has it
	X      float64 `json:"x_mm"`
	Y      float64 `json:"y_mm"`
	Sigma  float64 `json:"sigma_mm,omitzero"` // standard deviation of each coordinate
	Base   float64 `json:"base_mm,omitzero"`  // diameter of the base; from Machine.Shapes when absent
	Height float64 `json:"height_mm,omitzero"`
}

// Phantom is a piece where the game has it.
type Phantom struct {
	Piece  string `json:"piece"` // FEN letter
	Square string `json:"square"`
}

// Span is where one carry begins and ends; a place beside the board is "off".
type Span struct {
	From string `json:"from"`
	To   string `json:"to"`
}

// Legal is a move that the rules allow.
type Legal struct {
	Move  string `json:"move"` // UCI form
	SAN   string `json:"san"`
	Piece string `json:"piece"` // FEN letter
}

// Carriage is where the magnet's axis is.
type Carriage struct {
	X      float64 `json:"x_mm"`
	Y      float64 `json:"y_mm"`
	Raised bool    `json:"raised"`
}

// Motion is one stretch of carriage motion that begins now.
type Motion struct {
	Path      []Place `json:"path_mm,omitzero"`       // the carriage's
	PiecePath []Place `json:"piece_path_mm,omitzero"` // the carried piece's own, if it differs
	Duration  float64 `json:"duration_s,omitzero"`
	Elapsed   float64 `json:"elapsed_s,omitzero"` // set by the server for those who join late
	Carrying  string  `json:"carrying,omitzero"`  // a piece's ID or its square; empty: nothing
	Raised    bool    `json:"raised,omitzero"`
}

// Lane is one planned stretch.
type Lane struct {
	Do         string      `json:"do,omitzero"` // "travel", "carry"
	Path       []Place     `json:"path_mm"`
	Clearances []Clearance `json:"clearances,omitzero"`
	Done       bool        `json:"done,omitzero"`
}

// Clearance is one measured free distance, drawn as a dimension line.
type Clearance struct {
	From  Place   `json:"from_mm"`
	To    Place   `json:"to_mm"`
	Free  float64 `json:"free_mm"`
	Tight bool    `json:"tight,omitzero"` // less than the plan would like
}

// Read is what one picture was understood to show.
type Read struct {
	State      string      `json:"state,omitzero"` // same, move, hand, partial, illegal, unsure
	Move       string      `json:"move,omitzero"`  // UCI form
	SAN        string      `json:"san,omitzero"`
	Belief     float64     `json:"belief,omitzero"`  // 0–1
	Squares    []string    `json:"squares,omitzero"` // those that differ from the position
	Candidates []Candidate `json:"candidates,omitzero"`
}

// Candidate is one explanation of a picture.
type Candidate struct {
	Move   string  `json:"move"` // UCI form; "" for "nothing happened"
	SAN    string  `json:"san,omitzero"`
	Belief float64 `json:"belief"`
}

// Lean is the outline a piece covers on the board plane, seen from the camera.
type Lean struct {
	ID     string  `json:"id"`
	Points []Place `json:"points_mm"`
}

// Question is a choice put to the guest.
type Question struct {
	N       uint64   `json:"n,omitzero"` // set by the server unless given; goes back with the answer
	Text    string   `json:"text,omitzero"`
	Choices []string `json:"choices,omitzero"`
	Moves   []string `json:"moves,omitzero"` // UCI form beside Choices; "" for none
}

// Line is one line of the log.
type Line struct {
	N    uint64    `json:"n"`  // set by the server
	At   time.Time `json:"at"` // set by the server when zero
	Kind string    `json:"kind,omitzero"`
	Text string    `json:"text"`
}

// Kinds of log line; any other kind is shown as plain text.
const (
	Note   = ""      // what happened
	Change = "state" // the machine went from one state to another
	Warn   = "warn"  // something a maker should see
)

// Visitor says whether the person at the page is the guest.
type Visitor struct {
	Plays bool   `json:"plays"` // may move pieces on the plan
	Side  string `json:"side"`  // "white" or "black": drawn nearest
	// Sides are those that the guest may take: the machine must be able to carry
	// the other one's pieces.
	Sides []string `json:"sides,omitzero"`
	// Why says why not, if not, and how one could.
	Why string `json:"why,omitzero"`
}

// Machine is what the drawing needs to know of the rig.
type Machine struct {
	Name   string           `json:"name"`
	Square float64          `json:"square_mm"`
	Border float64          `json:"border_mm"`
	Shapes map[string]Shape `json:"feet,omitzero"`     // by upper-case letter
	Reach  []Place          `json:"reach_mm,omitzero"` // two corners of what the magnet reaches
	Slots  []Slot           `json:"slots,omitzero"`    // of the tray
	Rows   []Row            `json:"rows,omitzero"`     // of the title block
}

// Slot is one slot of the tray.
type Slot struct {
	Name string `json:"name"`
	At   Place  `json:"at_mm"`
}

// Offer is something that may be asked for now. The page asks for what the
// request leaves open: which move, which position, which side.
type Offer struct {
	Request Request `json:"request"`
	Text    string  `json:"text"` // on the button
}

// Strength is how strongly the machine plays, and what there is to choose from.
type Strength struct {
	Now    string `json:"now"`
	Ladder []Rung `json:"ladder"` // the weakest first
}

// Rung is one strength.
type Rung struct {
	Name string `json:"name"`
	For  string `json:"for"` // whom it suits
}

// Shape is the shape of one kind of piece.
type Shape struct {
	Base   float64 `json:"base_mm"`
	Height float64 `json:"height_mm"`
}

// Row is one line of the title block.
type Row struct {
	Name  string `json:"name"`
	Value string `json:"value"`
}

// Camera is the centre of projection in the board frame.
type Camera struct {
	X float64 `json:"x_mm"`
	Y float64 `json:"y_mm"`
	Z float64 `json:"z_mm"`
}

// View is how the board lies in the picture.
type View struct {
	Width  int `json:"width_px"`
	Height int `json:"height_px"`
	// Corners are the 81 corners of the squares, a1's outer corner first, along
	// the rank, then the next rank: index 9·rank + file.
	Corners []Place `json:"corners_px,omitzero"`
}
