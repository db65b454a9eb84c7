// SPDX-License-Identifier: Apache-2.0

package table

import (
	"boardhand/internal/carry"
	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/notice"
	"boardhand/internal/sight"
)

// Event is something an onlooker may show. Only the fields that changed are set.
type Event struct {
	State     State
	Text      string // log line
	Record    *Record
	Notice    *notice.Notice
	Question  *notice.Question
	Answered  bool
	Picture   *sight.Picture
	Reading   *sight.Reading
	Slow      bool // the reading of a picture takes long
	Plan      *carry.Plan
	Scene     *carry.Scene // that Plan was made for
	Step      *carry.Step  // that begins now
	Carriage  *frame.Spot[frame.Board]
	Lift      Lift // with Carriage
	Game      *chess.Game
	Standing  *Standing     // where the pieces are now
	Ways      []RequestKind // what a person may ask for now, when it has changed
	Suspicion string        // the part to look at, for the maker
}
