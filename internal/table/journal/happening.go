// SPDX-License-Identifier: Apache-2.0

package journal

// Happening is what a record tells, kept on disk by its name. The prose of a
// log line is made from it and from the record's other fields; no program reads
// prose back.
type Happening string

// The happenings.
const (
	TableSet      Happening = "table_set"       // a session begins
	Homed         Happening = "homed"           // the axes have found their zeros
	PositionSeen  Happening = "position_seen"   // pictures prove that the board shows the game's position
	PositionOdd   Happening = "position_odd"    // the board does not show it: Squares, and what was said
	GuestToMove   Happening = "guest_to_move"   //
	MachineToMove Happening = "machine_to_move" //
	ChangeSeen    Happening = "change_seen"     // something has moved; Squares
	NothingPlayed Happening = "nothing_played"  // set back, or only adjusted
	GuestMoved    Happening = "guest_moved"     // Move, as read from pictures with Belief
	GuestNamed    Happening = "guest_named"     // Move, as a person said
	Agreed        Happening = "agreed"          // a person said which position stands there: FEN
	Chosen        Happening = "chosen"          // the machine's move: Decided
	PlayerChanged Happening = "player_changed"  // another program chooses from now on
	StrengthSet   Happening = "strength_set"    // Strength: how strongly the machine plays from its next move on
	CarryBegun    Happening = "carry_begun"     // Piece is on its way From, To
	CarryEnded    Happening = "carry_ended"     // the stroke has ended; not seen yet
	CarrySeen     Happening = "carry_seen"      // a picture shows Piece at To
	CarryLost     Happening = "carry_lost"      // a picture shows it elsewhere, or not at all
	Carried       Happening = "carried"         // all steps of the move are done; looking
	NotFollowed   Happening = "not_followed"    // Piece did not come along; once more
	Fetched       Happening = "fetched"         // Piece slipped and is fetched
	Adjusted      Happening = "adjusted"        // Piece stood off centre and is adjusted
	MachineMoved  Happening = "machine_moved"   // Move stands on the board
	Requested     Happening = "requested"       // a person was asked to do something: Said
	RequestDone   Happening = "request_done"    // it is seen to be done
	RequestTrust  Happening = "request_trusted" // a person says that it is done
	Told          Happening = "told"            // Said to the guest
	Questioned    Happening = "questioned"      // Said, Choices
	Answered      Happening = "answered"        // Choice
	BackWanted    Happening = "back_wanted"     // moves are to be taken back
	TakenBack     Happening = "taken_back"      // Back
	SetUpWanted   Happening = "set_up_wanted"   //
	SetUpDone     Happening = "set_up_done"     // the pieces stand where the next game begins
	Replanned     Happening = "replanned"       // measured again and planned anew
	HandSeen      Happening = "hand_seen"       // a hand over the board while the carriage moved
	CarryPutOff   Happening = "carry_put_off"   // a carry was given up because something stayed in its way
	Failed        Happening = "failed"          // a part of the machine failed: Said
	Suspected     Happening = "suspected"       // Cause: the part to look at
	CameraSilent  Happening = "camera_silent"   //
	CameraBack    Happening = "camera_back"     //
	PictureLost   Happening = "picture_lost"    // a picture could not be kept; the game goes on
	Stopped       Happening = "stopped"         // by a person
	Resumed       Happening = "resumed"         // by a person
	Hinted        Happening = "hinted"          // Squares: the piece that the guest was told to look at, or SAN: the move
	DrawOffered   Happening = "draw_offered"    // by the guest
	DrawRefused   Happening = "draw_refused"    // by the machine
	Added         Happening = "added"           // of a file: Said which game, or Move
	GameEnded     Happening = "game_ended"      // Said says how
)
