package table

import (
	"context"

	"boardhand/internal/chess"
	"boardhand/internal/sight"
)

// suspects collects what goes wrong, to name the part at fault.
type suspects struct{}

func newSuspects() *suspects { return &suspects{} }

func (s *suspects) camera(error)                                     {}
func (s *suspects) arrived(*Table, Way)                              {}
func (s *suspects) missed(*Table, Way, sighting, sight.Stray)        {}
func (s *suspects) isHopeless(*Table, Way) bool                      { return false }
func (s *suspects) failed(*Table, sight.Reading)                     {}
func (s *suspects) isHopelessMove(*Table) bool                       { return false }
func (s *suspects) arrivedMove(*Table)                               {}
func (s *suspects) drive(_ *Table, err error) error                  { return err }
func (s *suspects) isGivenUp(*Table, chess.Piece, chess.Square) bool { return false }

// suspect tells the maker which part to look at, when that has become clear.
func (t *Table) suspect(context.Context) error { return nil }
