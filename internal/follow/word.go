// SPDX-License-Identifier: Apache-2.0

package follow

import (
	"fmt"
	"slices"

	"boardhand/internal/chess"
	"boardhand/internal/sight"
)

// before brings the position up to what the person said had happened when a
// picture was taken.
func (f *Follower) before(name string) error {
	a := f.answers[name]
	for _, e := range append(a.earlier, Answer{Back: a.Back, Set: a.Set}) {
		if err := f.happened(name, e); err != nil {
			return err
		}
	}
	return nil
}

// happened takes back, sets up and plays what the person said, whatever a
// picture shows.
func (f *Follower) happened(name string, a Answer) error {
	if n := len(f.past) - a.Back; a.Back > 0 && n < 0 {
		return fmt.Errorf("the answer for %s: %d moves cannot be taken back, only %d have been read", name, a.Back, len(f.past))
	} else if a.Back > 0 {
		f.eye.Begin(f.past[n].before)
		f.past = f.past[:n]
	}
	if a.Set != "" {
		pos, err := chess.ParseSetUp(a.Set)
		if err != nil {
			return err
		}
		f.eye.Begin(pos)
		f.past = nil
	}
	moves, err := f.unread(name, a.Moves)
	if err != nil {
		return err
	}
	return f.accept(moves)
}

// unread is the part of the moves that the person named for a picture that was
// not read before it.
func (f *Follower) unread(name string, words []string) ([]played, error) {
	for n := min(len(words), len(f.past)); n > 0; n-- {
		if f.endsWith(words[:n]) {
			words = words[n:]
			break
		}
	}
	var out []played
	pos := f.eye.Position()
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
func (f *Follower) endsWith(words []string) bool {
	last := f.past[len(f.past)-len(words):]
	return slices.EqualFunc(words, last, func(s string, p played) bool { return s == p.move.String() })
}

// accept makes moves on the position; they were read, or no picture shows them.
func (f *Follower) accept(moves []played) error {
	for _, p := range moves {
		if err := f.eye.Accept(p.move); err != nil {
			return err
		}
		f.past = append(f.past, p)
	}
	return nil
}

// follow advances the position where the picture shows a finished move, or the
// person said what was played. It says whether the person's word was needed.
func (f *Follower) follow(name string, r sight.Reading) (told bool, err error) {
	a := f.answers[name]
	moves, err := f.unread(name, a.Moves)
	if err != nil {
		return false, err
	}
	if r.State == sight.Moved && isConfirmed(a, moves, r.Move) {
		if err := f.accept([]played{{f.eye.Position(), r.Move}}); err != nil {
			return false, err
		}
		if len(moves) < 2 {
			return false, nil
		}
		return true, f.agree(r, moves[1:])
	}
	if r.State == sight.Several && isConfirmed(a, moves, r.Plies[0].Move) && len(moves) <= 1 {
		return false, f.catchUp(r.Plies)
	}
	if len(moves) == 0 && (!a.IsNothing || r.State == sight.Same || r.State == sight.Hand) {
		return false, nil
	}
	return true, f.agree(r, moves)
}

// catchUp makes moves that were missed, as one picture shows them.
func (f *Follower) catchUp(plies []sight.Ply) error {
	pos := f.eye.Position()
	for _, p := range plies {
		f.past = append(f.past, played{pos, p.Move})
		pos = pos.After(p.Move)
	}
	return f.eye.AcceptAll(plies)
}

// isConfirmed says whether the person says nothing against a move that was
// read: nothing at all, what was read before, or that move.
func isConfirmed(a Answer, moves []played, read chess.Move) bool {
	if len(moves) == 0 {
		return !a.IsNothing
	}
	return moves[0].move == read
}

// agree takes the person's word for a picture: these moves were played, or
// nothing was, whatever it was read as.
func (f *Follower) agree(r sight.Reading, moves []played) error {
	m, after := chess.Move(0), f.eye.Position()
	if n := len(moves); n > 0 {
		m, after = moves[n-1].move, moves[n-1].before.After(moves[n-1].move)
	}
	switch {
	case r.State == sight.Hand: // it hides the board: there is nothing to learn
		return f.accept(moves)
	case r.State == sight.Unsure && len(moves) < 2 && slices.ContainsFunc(r.Candidates, func(c sight.Candidate) bool { return c.Move == m }):
		f.past = append(f.past, moves...)
		return f.eye.Resolve(m)
	}
	f.past = append(f.past, moves...)
	f.eye.Agree(after)
	return nil
}
