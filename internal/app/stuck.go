package app

import (
	"fmt"
	"strings"

	"boardhand/internal/sight"
)

// stuck counts the pictures in a row that the position does not explain. They
// are told of once, with the ways out.
type stuck struct {
	hint     string // what a person can do, with the picture's name for %s; "": nothing is said
	pictures int
	told     bool
}

// stuckPictures is how many pictures without a hand may differ before the ways
// out are told: the guest puts right in between what was only half done.
const stuckPictures = 3

// What a person can do when the position does not fit any more.
const (
	answersHint = "write into a file for --answers what was played, `%[1]s e2e4`, or two moves, `%[1]s e2e4 e7e5`, or that nothing was, `%[1]s nothing`, or what stands there, `%[1]s position FEN`"
	streamHint  = "end this with Ctrl-C and begin again with --fen and what stands there now; pictures kept in a folder can be read with --answers"
)

// count notes one more picture.
func (w *watcher) count(name string, r sight.Reading, told bool) {
	s := &w.stuck
	switch {
	case told || r.State == sight.Same || r.State == sight.Moved:
		s.pictures, s.told = 0, false
		return
	case r.State == sight.Hand:
		return
	}
	if s.pictures++; s.pictures < stuckPictures || s.told || s.hint == "" {
		return
	}
	s.told = true
	hint := s.hint
	if strings.Contains(hint, "%") {
		hint = fmt.Sprintf(hint, name)
	}
	squares := ""
	if len(r.Squares) > 0 {
		squares = ": see " + strings.Join(squareNames(r.Squares), ", ")
	}
	_, _ = fmt.Fprintf(w.o.err, "%s: %d pictures in a row do not fit the position%s. If this stays, %s\n", name, s.pictures, squares, hint)
}
