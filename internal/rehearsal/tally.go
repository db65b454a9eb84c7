// SPDX-License-Identifier: Apache-2.0

package rehearsal

import (
	"fmt"

	"boardhand/internal/unit"
)

// Tally is what a rehearsal counts.
type Tally struct {
	Games      int            `json:"games"`
	Plies      int            `json:"plies"`
	Misread    int            `json:"misread"`     // guest's moves taken for another
	Asked      int            `json:"asked"`       // questions and requests to mend, captures not counted
	Removals   int            `json:"removals"`    // captured pieces the guest was asked to take off
	Collisions int            `json:"collisions"`  // pieces touched by another on the way
	Touches    int            `json:"touches"`     // times a carried piece ran into a person's hand
	Held       int            `json:"held"`        // times the carriage waited for a hand
	PutOff     int            `json:"put_off"`     // carries given up because something stayed in the way
	Watched    int            `json:"watched"`     // pictures looked at while a piece was carried, or waited with
	Hands      int            `json:"hands"`       // times a hand truly reached half a square over the field meanwhile, and a picture was taken
	FalseHolds int            `json:"false_holds"` // times the carriage waited and nobody's hand was there
	Missed     int            `json:"missed"`      // of the hands, those that no picture was read to show
	Slips      int            `json:"slips"`       // pieces the magnet lost
	Drags      int            `json:"drags"`       // pieces moved that should have stayed
	Stalls     int            `json:"stalls"`
	Toppled    int            `json:"toppled"`
	Recovered  int            `json:"recovered"`  // pieces fetched or set straight by the machine itself
	LostState  int            `json:"lost_state"` // times the game and the board differed after a finished move
	Stuck      int            `json:"stuck"`      // games that did not come to an end
	PowerCuts  int            `json:"power_cuts"` // times the power went, and the program with it
	TakenBack  int            `json:"taken_back"` // plies taken back
	SetUps     int            `json:"set_ups"`    // times the machine set the pieces up for a next game
	Said       int            `json:"said"`       // times the guest named the move, or called the board right
	AtFault    int            `json:"at_fault"`   // parts that truly were at fault, and showed it often enough to be named
	Unshown    int            `json:"unshown"`    // parts at fault that showed it less often
	Named      int            `json:"named"`      // of those at fault, named rightly
	Misnamed   int            `json:"misnamed"`   // parts named though they were not at fault
	Causes     map[string]int `json:"causes"`     // what was named, how often
	Results    map[string]int `json:"results"`
	Pictures   int            `json:"pictures"`
	Seconds    float64        `json:"seconds"`
	Run        Run            `json:"run"`
	Through    Through        `json:"through,omitzero"` // a simulated controller
	Shard      string         `json:"shard,omitempty"`  // of the run, K/N
}

// Run says which rehearsal a count is of: shards of one may be added up.
type Run struct {
	Seed   int64  `json:"seed"`
	Games  int    `json:"games"` // of all shards
	Faults string `json:"faults"`
	Every  bool   `json:"every_picture,omitempty"` // of a carry was looked at
	Motors string `json:"through,omitempty"`       // the driver that was played through, and the ills of its wire
	Twin   string `json:"twin,omitempty"`          // the one machine that all games were played at; "": another one each
}

func (r Run) String() string {
	return fmt.Sprintf("seed %d, %s, faults %q, through %q, every picture %v, at %q", r.Seed, unit.Count(r.Games, "game"), r.Faults, r.Motors, r.Every, r.Twin)
}

// Add adds what another game or shard counted.
func (t *Tally) Add(u Tally) {
	t.Games += u.Games
	t.Plies += u.Plies
	t.Misread += u.Misread
	t.Asked += u.Asked
	t.Removals += u.Removals
	t.Collisions += u.Collisions
	t.Touches += u.Touches
	t.Held += u.Held
	t.PutOff += u.PutOff
	t.Watched += u.Watched
	t.Hands += u.Hands
	t.FalseHolds += u.FalseHolds
	t.Missed += u.Missed
	t.Slips += u.Slips
	t.Drags += u.Drags
	t.Stalls += u.Stalls
	t.Toppled += u.Toppled
	t.Recovered += u.Recovered
	t.LostState += u.LostState
	t.Stuck += u.Stuck
	t.PowerCuts += u.PowerCuts
	t.TakenBack += u.TakenBack
	t.SetUps += u.SetUps
	t.Said += u.Said
	t.AtFault += u.AtFault
	t.Unshown += u.Unshown
	t.Named += u.Named
	t.Misnamed += u.Misnamed
	t.Pictures += u.Pictures
	t.Seconds += u.Seconds
	t.Through.add(u.Through)
	if t.Results == nil {
		t.Results = map[string]int{}
	}
	for k, v := range u.Results {
		t.Results[k] += v
	}
	if t.Causes == nil {
		t.Causes = map[string]int{}
	}
	for k, v := range u.Causes {
		t.Causes[k] += v
	}
}

// IsBad says whether the machine failed: the state of a game was lost, a move
// was misread, a game was stuck or, with no faults put in, pieces collided.
func (t *Tally) IsBad(isFaultless bool) bool {
	return t.Misread > 0 || t.LostState > 0 || t.Stuck > 0 || t.Through.Guessed > 0 || isFaultless && t.Collisions > 0
}

// isNegative says whether any count is below nothing.
func (t Tally) isNegative() bool {
	return min(t.Games, t.Plies, t.Misread, t.Asked, t.Removals, t.Collisions, t.Touches, t.Held, t.PutOff, t.Watched, t.Hands, t.FalseHolds, t.Missed, t.Slips, t.Drags, t.Stalls, t.Toppled,
		t.Recovered, t.LostState, t.Stuck, t.PowerCuts, t.TakenBack, t.SetUps, t.Said, t.AtFault, t.Unshown, t.Named, t.Misnamed, t.Pictures) < 0
}
