// SPDX-License-Identifier: Apache-2.0

package desk

import (
	"boardhand/internal/carry/plan"
	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/notice"
	"boardhand/internal/photo"
	"boardhand/internal/sight"
	"boardhand/internal/table/journal"
	"boardhand/internal/table/model"
	"boardhand/internal/table/places"
)

// Event is something an onlooker may show. Only the fields that changed are set.
type Event struct {
	State     journal.State
	Text      string // log line
	Record    *journal.Record
	Notice    *notice.Notice
	Question  *notice.Question
	Answered  bool
	Picture   *photo.Picture
	Reading   *sight.Reading
	Slow      bool // the reading of a picture takes long
	Plan      *plan.Plan
	Scene     *plan.Scene // that Plan was made for
	Step      *plan.Step  // that begins now
	Carriage  *frame.Spot[frame.Board]
	Lift      model.Lift // with Carriage
	Game      *chess.Game
	Standing  *places.Standing      // where the pieces are now
	Ways      []journal.RequestKind // what a person may ask for now, when it has changed
	Suspicion string                // the part to look at, for the maker
}
