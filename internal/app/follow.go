package app

import (
	"fmt"
	"slices"
	"strings"

	"boardhand/internal/chess"
	"boardhand/internal/sight"
)

// before brings the position up to what the person said had happened when a
// picture was taken.
func (w *watcher) before(name string) error {
	a := w.answers[name]
	for _, e := range append(a.earlier, answer{back: a.back, set: a.set}) {
		if err := w.happened(name, e); err != nil {
			return err
		}
	}
	return nil
}

// happened takes back, sets up and plays what the person said, whatever a
// picture shows.
func (w *watcher) happened(name string, a answer) error {
	if n := len(w.past) - a.back; a.back > 0 && n < 0 {
		return fmt.Errorf("the answer for %s: %d moves cannot be taken back, only %d have been read", name, a.back, len(w.past))
	} else if a.back > 0 {
		w.eye.Begin(w.past[n].before)
		w.past = w.past[:n]
	}
	if a.set != "" {
		pos, err := chess.ParseFEN(a.set)
		if err != nil {
			return err
		}
		w.eye.Begin(pos)
		w.past = nil
	}
	moves, err := w.unread(name, a.move)
	if err != nil {
		return err
	}
	return w.accept(moves)
}

// unread is the part of the moves that the person named for a picture that was
// not read before it.
func (w *watcher) unread(name, text string) ([]played, error) {
	words := strings.Fields(text)
	if text == nothing {
		words = nil
	}
	for n := min(len(words), len(w.past)); n > 0; n-- {
		if w.endsWith(words[:n]) {
			words = words[n:]
			break
		}
	}
	var out []played
	pos := w.eye.Position()
	for _, word := range words {
		m, err := pos.ParseUCI(word)
		if err != nil {
			return nil, fmt.Errorf("the answer for %s: %w in %s; `%s position FEN` says what stands there", name, err, pos.FEN(), name)
		}
		out = append(out, played{pos, m})
		pos = pos.After(m)
	}
	return out, nil
}

// endsWith says whether these moves were the last ones.
func (w *watcher) endsWith(words []string) bool {
	last := w.past[len(w.past)-len(words):]
	return slices.EqualFunc(words, last, func(s string, p played) bool { return s == p.move.String() })
}

// accept makes moves on the position; they were read, or no picture shows them.
func (w *watcher) accept(moves []played) error {
	for _, p := range moves {
		if err := w.eye.Accept(p.move); err != nil {
			return err
		}
		w.past = append(w.past, p)
	}
	return nil
}

// follow advances the position where the picture shows a finished move, or the
// person said what was played. It says whether the person's word was needed.
func (w *watcher) follow(name string, r sight.Reading) (told bool, err error) {
	text := w.answers[name].move
	moves, err := w.unread(name, text)
	if err != nil {
		return false, err
	}
	if r.State == sight.Moved && isConfirmed(text, moves, r.Move) {
		if err := w.accept([]played{{w.eye.Position(), r.Move}}); err != nil {
			return false, err
		}
		if len(moves) < 2 {
			return false, nil
		}
		return true, w.agree(r, moves[1:])
	}
	if len(moves) == 0 && (text != nothing || r.State == sight.Same || r.State == sight.Hand) {
		return false, nil
	}
	return true, w.agree(r, moves)
}

// isConfirmed says whether the person says nothing against a move that was
// read: nothing at all, what was read before, or that move.
func isConfirmed(text string, moves []played, read chess.Move) bool {
	if len(moves) == 0 {
		return text != nothing
	}
	return moves[0].move == read
}

// agree takes the person's word for a picture: these moves were played, or
// nothing was, whatever it was read as.
func (w *watcher) agree(r sight.Reading, moves []played) error {
	m, after := chess.Move(0), w.eye.Position()
	if n := len(moves); n > 0 {
		m, after = moves[n-1].move, moves[n-1].before.After(moves[n-1].move)
	}
	switch {
	case r.State == sight.Hand: // it hides the board: there is nothing to learn
		return w.accept(moves)
	case r.State == sight.Unsure && len(moves) < 2 && slices.ContainsFunc(r.Candidates, func(c sight.Candidate) bool { return c.Move == m }):
		w.past = append(w.past, moves...)
		return w.eye.Resolve(m)
	}
	w.past = append(w.past, moves...)
	w.eye.Agree(after)
	return nil
}
