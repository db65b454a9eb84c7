// SPDX-License-Identifier: Apache-2.0

package session

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	"boardhand/internal/chess"
	"boardhand/internal/table/journal"
)

// typedHelp says what may be typed while a game is played.
const typedHelp = `what may be typed:
  back, back 1                    take back the last two moves, or the last one
  new [white|black] [5s]          set the pieces up for a new game; the machine's side and thinking time;
                                  then odds queen (or rook, knight, pawn): the machine plays without it,
                                  or position FEN: the game begins there
  resign, draw                    resign, offer a draw
  hint                            which piece to move; typed again, where to
  strength NAME                   play so strongly from the next move on; the weakest first: chalk,
                                  charcoal, crayon, pencil, quill, pen, needle
  played e2e4, played Nf3         say what was played
  nothing                         say that nothing was played
  right                           what was asked for is done; the board is right as it stands
  position FEN                    say which position stands on the board
  afresh                          look at camera, light and board afresh
  stop, resume                    stop the motors, let the machine go on
  help                            this list`

// errHelp answers "help".
var errHelp = errors.New(typedHelp)

// plainWords are what is typed without anything behind it.
var plainWords = map[string]journal.Request{
	"back":    {Kind: journal.RequestBack, Plies: 2},
	"resign":  {Kind: journal.RequestResign},
	"draw":    {Kind: journal.RequestDraw},
	"hint":    {Kind: journal.RequestHint},
	"nothing": {Kind: journal.RequestPlayed},
	"right":   {Kind: journal.RequestRight},
	"afresh":  {Kind: journal.RequestAfresh},
	"resume":  {Kind: journal.RequestResume},
}

// parseTyped reads a line that was typed while a game is played, with pos on
// the board. It is a request to the table, or the word to stop the motors.
func parseTyped(line string, pos chess.Position) (r journal.Request, stop bool, err error) {
	words := strings.Fields(line)
	if len(words) == 0 {
		return r, false, errors.New("type help for what may be typed")
	}
	word, rest := strings.ToLower(words[0]), words[1:]
	switch plain, ok := plainWords[word]; {
	case word == "stop" && len(rest) == 0:
		return r, true, nil
	case word == "help":
		return r, false, errHelp
	case ok && len(rest) == 0:
		return plain, false, nil
	case word == "back" && len(rest) == 1 && (rest[0] == "1" || rest[0] == "2"):
		return journal.Request{Kind: journal.RequestBack, Plies: int(rest[0][0] - '0')}, false, nil
	case word == "new" || word == "again":
		r, err = parseNew(rest)
	case word == "strength" && len(rest) == 1:
		r = journal.Request{Kind: journal.RequestStrength, Strength: strings.ToLower(rest[0])}
	case word == "played" && len(rest) == 1:
		r, err = parsePlayed(rest[0], pos)
	case word == "position" && len(rest) > 0:
		r, err = parsePosition(strings.Join(rest, " "))
	default:
		err = fmt.Errorf("%q is nothing to type here; type help for what is", strings.Join(words, " "))
	}
	return r, false, err
}

// parseNew reads the machine's side, its thinking time, and where the game begins.
func parseNew(words []string) (r journal.Request, err error) {
	r.Kind = journal.RequestNew
	if i := slices.Index(words, "position"); i >= 0 && i+1 < len(words) {
		at, err := parsePosition(strings.Join(words[i+1:], " "))
		if err != nil {
			return r, err
		}
		r.FEN, words = at.FEN, words[:i]
	}
	if i := slices.Index(words, "odds"); i >= 0 && i+2 == len(words) {
		r.Odds, words = words[i+1], words[:i]
	}
	if len(words) > 0 && (words[0] == "white" || words[0] == "black") {
		r.Side, words = words[0], words[1:]
	}
	if len(words) == 0 {
		return r, r.Check()
	}
	d, err := time.ParseDuration(strings.Join(words, ""))
	if err != nil || d <= 0 {
		return r, fmt.Errorf(`a new game takes the machine's side and its thinking time, like "new white 5s", and "odds queen" or "position FEN"; got %q`, strings.Join(words, " "))
	}
	r.Time = d
	return r, r.Check()
}

// parsePlayed reads a move in either notation.
func parsePlayed(text string, pos chess.Position) (journal.Request, error) {
	m, err := pos.ParseUCI(text)
	if err != nil {
		var sanErr error
		if m, sanErr = pos.ParseSAN(text); sanErr != nil {
			return journal.Request{}, fmt.Errorf("%q is no legal move now; type it like e2e4, e7e8q or Nf3", text)
		}
	}
	return journal.Request{Kind: journal.RequestPlayed, Move: m}, nil
}

// parsePosition reads a FEN, which may lack its counters.
func parsePosition(text string) (journal.Request, error) {
	pos, err := chess.ParseFEN(text)
	if err != nil {
		return journal.Request{}, err
	}
	return journal.Request{Kind: journal.RequestPosition, FEN: pos.FEN()}, nil
}
